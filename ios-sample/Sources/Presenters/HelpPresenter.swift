import Ebbstead

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
