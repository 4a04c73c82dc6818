import Ebbstead
import Foundation

/// An answer on a notification.
public enum RingAnswer: String, CaseIterable, Sendable {
    case treated, meter, feelLow, snooze, help

    /// Opens the app. The other answers are kept in the log while it is closed.
    public var opens: Bool { self == .meter || self == .help }

    init(_ choice: RingChoice) {
        self =
            switch choice {
            case .call: .help
            case .checked: .meter
            case .treated: .treated
            case .feelsLow: .feelLow
            case .snooze: .snooze
            }
    }

    /// What core keeps of it; nothing where the app opens.
    var kept: RingChoice? {
        switch self {
        case .treated: .treated
        case .feelLow: .feelsLow
        case .snooze: .snooze
        case .meter, .help: nil
        }
    }

    /// Every set of answers that core gives a notification. A phone registers them before the first notification.
    public static let sets: [[Self]] =
        [[.treated, .meter, .feelLow], [.meter, .treated, .feelLow]].flatMap { [$0, $0 + [.snooze]] }
        + [[.meter, .snooze, .feelLow], [.help, .feelLow], []]
}

/// A notification: what to do, and what can be answered.
public struct Notice: Equatable, Sendable {
    public var title: String
    public var text: String
    public var answers: [RingAnswer] = []
    public var isLoud = false
    /// Seconds from the first sound to each repeat; an answer ends them.
    public var again: [Double] = []
}

/// What rings, whether or not the app is on the screen.
public protocol Bell: Sendable {
    /// Lets the system ask whether it may ring.
    func allow()
    /// The names of the answers, and what a locked screen shows in place of a hidden text.
    func learn(_ words: [RingAnswer: String], hidden: String)
    /// Takes the place of what rang before.
    func ring(_ notice: Notice)
    /// Shows the answer and the newest reading all the time: for now, and for the minutes to come.
    func stand(_ glances: [Glance])
    /// Answered: the sound stops at once.
    func quiet()
    /// Sets a notification ahead, because the app may not run then. It replaces the one set before; nil removes that.
    func callAgain(_ notice: Notice?, at: Moment)
}

/// Asks core whether to ring, keeps its state, and notes what is answered. Core decides; this carries.
public final class Ringing: Sendable {
    /// How often a ring sounds again until core says it ends.
    private static let soundsEvery = 60.0
    /// A ring set ahead sounds this often: core says only when it comes how long it lasts.
    private static let soundsAhead = 5

    private let companion: EbbsteadCompanion
    private let beside: Beside
    private let bell: any Bell
    private let now: @Sendable () -> Moment
    /// One step at a time: the next one begins with the state of the last.
    private let steps = NSLock()

    public init(_ companion: EbbsteadCompanion, beside: Beside, bell: any Bell, now: @escaping @Sendable () -> Moment) {
        (self.companion, self.beside, self.bell, self.now) = (companion, beside, bell, now)
    }

    /// Call it after every batch of readings and once a minute while the app is on the screen. If it fails (a busy log), the state is
    /// not kept, so the next step rings instead.
    public func step() { steps.withLock { try? ask(at: now()) } }

    /// Keeps an answer in the log. The sound stops even if that fails.
    public func answer(_ answer: RingAnswer) {
        bell.quiet()
        do {
            try note(answer, at: now())
        } catch { bell.ring(Notice(title: advice(error), text: "")) }
        step()
    }

    /// Passes the words to the bell: at the start, and after each change, since the language may have changed.
    public func name() {
        let words = (try? companion.alerts().everyAnswer()) ?? []
        let named = Dictionary(uniqueKeysWithValues: words.map { (RingAnswer($0.what), $0.text) })
        bell.learn(named, hidden: Vocabulary(companion: companion)(.lookNow))
    }

    private func ask(at now: Moment) throws {
        let alerts = try companion.alerts()
        let kept = beside.kept
        var state = kept.alerts
        // The notification set ahead has come by itself: core's state is brought up to it first, or silence would ring twice. If a
        // late reading fills that time, there was no silence, and the old state stays.
        if let silence = kept.silence, silence <= now.unixMs {
            let then = try alerts.step(state: state, now: Moment(unixMs: silence, offsetMinutes: now.offsetMinutes))
            if then.ring?.of == .lost { state = then.state }
        }
        let step = try alerts.step(state: state, now: now)
        if let ring = step.ring {
            let seconds = Double(ring.until.unixMs - now.unixMs) / 1000
            let again = ring.how == .quiet ? [] : Array(stride(from: Self.soundsEvery, to: seconds, by: Self.soundsEvery))
            let answers = ring.answers.map { RingAnswer($0.what) }
            bell.ring(Notice(title: ring.title, text: ring.text, answers: answers, isLoud: ring.how != .quiet, again: again))
        }
        // Not before it rang: an app that is ended in between rings twice rather than never.
        beside.change { ($0.alerts, $0.silence) = (step.state, step.againAt?.unixMs) }
        bell.callAgain(try step.againAt.map(silence), at: step.againAt ?? now)
        bell.stand(try Glance.ahead(companion, from: now))
    }

    /// The notification for the case that no reading comes until then. The answer is not kept as shown.
    private func silence(at: Moment) throws -> Notice {
        let answer = try companion.check().ask(question: Question(now: at, occasion: .look, feels: nil, meterMgDl: nil))
        let answers = try companion.alerts().answersToSilence(offers: answer.offers).map { RingAnswer($0.what) }
        let again = (1..<Self.soundsAhead).map { Double($0) * Self.soundsEvery }
        return Notice(title: answer.said.verdict, text: answer.said.sentence, answers: answers, isLoud: true, again: again)
    }

    private func note(_ answer: RingAnswer, at now: Moment) throws {
        guard let kept = answer.kept else { return }
        try steps.withLock {
            let state = try companion.alerts().answered(what: kept, state: beside.kept.alerts, now: now)
            beside.change { $0.alerts = state }
        }
    }
}
