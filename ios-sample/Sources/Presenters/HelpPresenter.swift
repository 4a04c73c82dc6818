import Ebbstead

/// Whom to call. It needs no log: the numbers are kept beside it for the day it cannot be opened.
public struct HelpPresenter: Presenter {
    private let page: HelpPage?

    public init(_ companion: EbbsteadCompanion?, language: String, phoneState: PhoneState.Values) {
        page =
            (try? companion?.settings().help())
            ?? (try? helpPage(language: language, emergency: phoneState.emergency, contact: phoneState.contact))
    }

    public var screen: Screen {
        guard let page else { return Screen(title: "112", blocks: [.button(Button(name: "112", action: .call("112"), isMain: true))]) }
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
