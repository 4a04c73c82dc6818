import Ebbstead
import Foundation

extension RingChoice {
    private static let all: [Self] = [.call, .checked, .treated, .feelsLow, .snooze]

    /// By this a phone knows it again.
    public var id: String { "\(self)" }

    public init?(id: String) {
        guard let known = Self.all.first(where: { $0.id == id }) else { return nil }
        self = known
    }
}

/// A notification: what to do, and what can be answered.
public struct Notice: Equatable, Sendable {
    public var title: String
    public var text: String
    public var answers: [RingChoice] = []
    public var isLoud = false
    /// Seconds from the first sound to each repeat; an answer ends them.
    public var again: [Double] = []
}

/// What rings, whether or not the app is on the screen.
public protocol Bell: Sendable {
    /// Lets the system ask whether it may ring.
    func allow()
    /// The answers there are, the sets of them that a notification can have, and what a locked screen shows in place of a hidden text.
    func learn(_ offers: [RingOffer], sets: [[RingChoice]], hidden: String)
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
    private let phoneState: PhoneState
    private let bell: any Bell
    private let now: @Sendable () -> Moment
    /// One step at a time: the next one begins with the state of the last.
    private let steps = NSLock()

    public init(_ companion: EbbsteadCompanion, phoneState: PhoneState, bell: any Bell, now: @escaping @Sendable () -> Moment) {
        (self.companion, self.phoneState, self.bell, self.now) = (companion, phoneState, bell, now)
    }

    /// Call it after every batch of readings and once a minute while the app is on the screen. If it fails (a busy log), the state is
    /// not kept, so the next step rings instead.
    public func step() { steps.withLock { try? ask(at: now()) } }

    /// Keeps an answer in the log. The sound stops even if that fails.
    public func answer(_ answer: RingChoice) {
        bell.quiet()
        do {
            try note(answer, at: now())
        } catch { bell.ring(Notice(title: advice(error), text: "")) }
        step()
    }

    /// Passes the words to the bell: at the start, and after each change, since the language may have changed.
    public func name() {
        guard let alerts = try? companion.alerts(), let offers = try? alerts.everyAnswer(), let sets = try? alerts.answerSets() else { return }
        bell.learn(offers, sets: sets, hidden: Vocabulary(companion: companion)(.lookNow))
    }

    private func ask(at now: Moment) throws {
        let alerts = try companion.alerts()
        let kept = phoneState.values
        // The notification set ahead has come by itself.
        let ahead = kept.silence.map { Moment(unixMs: $0, offsetMinutes: now.offsetMinutes) }
        let step = try alerts.step(state: kept.alerts, now: now, ahead: ahead)
        if let ring = step.ring {
            let seconds = Double(ring.until.unixMs - now.unixMs) / 1000
            let again = ring.how == .quiet ? [] : Array(stride(from: Self.soundsEvery, to: seconds, by: Self.soundsEvery))
            let answers = ring.answers.map(\.what)
            bell.ring(Notice(title: ring.title, text: ring.text, answers: answers, isLoud: ring.how != .quiet, again: again))
        }
        // Not before it rang: an app that is ended in between rings twice rather than never.
        phoneState.change { ($0.alerts, $0.silence) = (step.state, step.againAt?.unixMs) }
        bell.callAgain(try step.againAt.map(silence), at: step.againAt ?? now)
        bell.stand(try Glance.ahead(companion, from: now))
    }

    /// The notification for the case that no reading comes until then.
    private func silence(at: Moment) throws -> Notice {
        let silence = try companion.alerts().silence(at: at)
        let again = (1..<Self.soundsAhead).map { Double($0) * Self.soundsEvery }
        return Notice(title: silence.title, text: silence.text, answers: silence.answers.map(\.what), isLoud: true, again: again)
    }

    /// One that opens the app keeps nothing.
    private func note(_ answer: RingChoice, at now: Moment) throws {
        try steps.withLock {
            let state = try companion.alerts().answered(what: answer, state: phoneState.values.alerts, now: now)
            phoneState.change { $0.alerts = state }
        }
    }
}
