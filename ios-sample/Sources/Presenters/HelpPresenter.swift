import Ebbstead
import Foundation

/// Whom to call. It needs no log: the numbers are kept beside it for the day it cannot be opened.
public struct HelpPresenter: Presenter {
    private let page: HelpPage?

    public init(_ companion: EbbsteadCompanion?, language: String, numbers: HelpNumbers) {
        page =
            (try? companion?.settings().help())
            ?? (try? helpPage(language: language, emergency: numbers.emergency, contact: numbers.contact))
    }

    public var screen: Screen {
        guard let page else { return Screen(title: "112", blocks: [.button(Button(name: "112", action: .call("112"), isMain: true))]) }
        let calls = page.calls.enumerated().map { Block.button(Button(name: $1.text, action: .call($1.number), isMain: $0 == 0)) }
        return Screen(
            title: page.heading, blocks: [.headline(Headline(tone: .help, word: page.heading, sentence: page.when))] + calls + [.said(page.meanwhile)],
            pinned: [Button(name: page.back, action: .leave)])
    }

    public func after(_ action: Action, at now: Moment) -> Self { self }
}

/// The numbers to dial, as a small file beside the log.
public struct HelpNumbers: Codable, Equatable, Sendable {
    var emergency: String?
    var contact: String?

    public init(emergency: String? = nil, contact: String? = nil) { (self.emergency, self.contact) = (emergency, contact) }

    static func beside(_ log: String) -> Self {
        let kept = FileManager.default.contents(atPath: log + ".numbers").flatMap { try? JSONDecoder().decode(Self.self, from: $0) }
        return kept ?? Self()
    }

    static func keep(of companion: EbbsteadCompanion, beside log: String) {
        guard let wearer = try? companion.settings().wearer() else { return }
        let numbers = Self(emergency: wearer.emergencyNumber, contact: wearer.contactNumber)
        if numbers != beside(log) { try? JSONEncoder().encode(numbers).write(to: URL(fileURLWithPath: log + ".numbers")) }
    }
}

extension Button {
    /// Leads to whom to call.
    static func help(_ label: Vocabulary, isMain: Bool = false) -> Self { Self(name: label(.getHelp), action: .help, isMain: isMain) }
}
