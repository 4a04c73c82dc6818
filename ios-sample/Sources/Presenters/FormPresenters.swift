import Ebbstead

/// The wearer's own settings: the core's form, kept as a whole or not at all.
public struct SettingsPresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    public var state = FormState()
    var said: String?

    public init(_ companion: EbbsteadCompanion) {
        self.companion = companion
        read()
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        return Screen(
            title: label(.screenSettings), blocks: notices + state.blocks(then: .save) + label.whenMuted + [.text(label(.noMedicalDevice))],
            pinned: [.help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            if action == .save {
                $0.attempt {
                    let kept = try companion.settings().keep(filledIn: $0.state.filled, now: now)
                    $0.state.show(kept.form, taken: kept.message != nil)
                    $0.said = kept.message
                }
            } else if $0.state.filled.isEmpty {
                // What is filled in stays, whatever changes elsewhere.
                $0.read()
            }
        }
    }

    private mutating func read() { attempt { $0.state.show(try $0.companion.settings().form(filledIn: [:])) } }
}

/// What is asked ahead: before sleep, a drive, movement. The answer first and in full, then what it was asked for.
public struct BeforePresenter: FormPresenter, ShowsNotice {
    private let companion: EbbsteadCompanion
    public var state = FormState()
    private var page: Page?
    var said: String?

    public init(_ companion: EbbsteadCompanion) { self.companion = companion }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        let answer = page.map { [.heading($0.heading)] + $0.blocks } ?? []
        return Screen(
            title: label(.screenBefore), blocks: notices + answer + state.blocks(then: .ask),
            pinned: [Button(name: label(.back), action: .leave), .help(label)])
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        with {
            $0.choose(action)
            ($0.page, $0.said) = (nil, nil)
            $0.attempt {
                let asked = try companion.before().asked(filledIn: $0.state.filled, now: now)
                $0.state.show(asked.form)
                $0.page = asked.page
            }
        }
    }

    /// What was asked belongs to its moment.
    public func hidden(at now: Moment) -> Self { Self(companion) }
}

/// Whom to call. It reads no log, which may not open, or may be busy: numbers and language are kept beside it.
public struct HelpPresenter: Presenter {
    private let page: HelpPage

    /// `language` is spoken until the wearer's own is known.
    public init(_ kept: PhoneState.Values, language: String) {
        page = helpPage(language: kept.language ?? language, emergency: kept.emergency, contact: kept.contact)
    }

    public var screen: Screen {
        let calls = page.calls.enumerated().map { Block.button(Button(name: $1.text, action: .call($1.number), isMain: $0 == 0)) }
        let headline = PromptHeadline(verdict: .help, word: page.heading, sentence: page.when, asides: [], amount: nil, accessory: [])
        return Screen(
            title: page.heading, blocks: [.headline(headline)] + calls + [.said(page.meanwhile)],
            pinned: [Button(name: page.back, action: .leave)])
    }
}

extension Button {
    /// Leads to whom to call.
    static func help(_ label: Vocabulary, isMain: Bool = false) -> Self { Self(name: label(.getHelp), action: .help, isMain: isMain) }
}
