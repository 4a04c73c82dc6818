import Ebbstead
import Foundation

extension RingChoice {
    private static let all: [Self] = [.call, .checked, .treated, .feelsLow, .snooze]

    /// By this a phone knows it again.
    public var id: String { "\(self)" }

    /// Whether it opens the app and notes nothing by itself. An app that an answer has started may know no log yet.
    public var opensApp: Bool { (try? ringChoiceOpens(what: self)) ?? true }

    public init?(id: String) {
        guard let known = Self.all.first(where: { $0.id == id }) else { return nil }
        self = known
    }
}

/// A notification: what to do, and what can be answered.
public struct Notice: Equatable, Sendable {
    /// A sound of the system's does not go on by itself, so a loud one sounds anew this often, in seconds, until core says it ends.
    private static let soundsEvery = 60.0
    /// How often one sounds at most: more than core ever asks for.
    public static let mostSounds = 16

    public var title: String
    public var text: String
    public var answers: [RingChoice] = []
    public var isLoud = false
    /// One that is left standing makes no sound.
    public var isSilent = false
    /// When it rang or will ring; an answer is passed on with it.
    public var at: Moment
    /// Seconds from the first sound to each repeat; an answer ends them.
    public var again: [Double] = []

    /// One that says something, to which nothing is answered.
    public init(saying text: String, at: Moment) { (title, self.text, isLoud, self.at) = (text, "", true, at) }
}

extension Notice {
    init(_ ring: Ring, isSilent: Bool = false) {
        self.init(saying: ring.title, at: ring.at)
        (text, answers, isLoud, self.isSilent) = (ring.text, ring.answers.map(\.what), ring.how != .quiet && !isSilent, isSilent)
        let seconds = Double(ring.until.unixMs - ring.at.unixMs) / 1000
        if isLoud { again = Array(stride(from: Self.soundsEvery, to: seconds, by: Self.soundsEvery).prefix(Self.mostSounds - 1)) }
    }
}

/// What rings, whether or not the app is on the screen.
public protocol Bell: Sendable {
    /// Lets the system ask whether it may ring, or show where that is set. It ends with the answer.
    func allow() async
    /// Whether the system lets every alert sound, on a locked phone and at night too.
    func mayRing() async -> Bool
    /// The answers there are, the sets of them that a notification can have, and what a locked screen shows in place of a hidden text.
    func learn(_ offers: [RingOffer], sets: [[RingChoice]], hidden: String)
    /// Takes the place of what rang before.
    func ring(_ notice: Notice)
    /// Shows the answer and the newest reading all the time: for now, and for the minutes to come.
    func stand(_ glances: [Glance])
    /// Says something once, loud, beside what rings: why something was not done.
    func say(_ text: String)
    /// Answered, or over: the sound stops at once, and what is shown of it goes.
    func quiet()
    /// Sets a notification ahead, because the app may not run then. It replaces the one set before; nil removes that.
    func callAgain(_ notice: Notice?, at: Moment)
}

/// Asks core whether to ring, keeps its state, and notes what is answered. Core decides; this carries.
public final class Ringing: Sendable {
    private let companion: EbbsteadCompanion
    private let phoneState: PhoneState
    private let bell: any Bell
    private let now: @Sendable () -> Moment
    /// One step at a time: the next one begins with the state of the last.
    private let steps = NSLock()

    public init(_ companion: EbbsteadCompanion, phoneState: PhoneState, bell: any Bell, now: @escaping @Sendable () -> Moment) {
        (self.companion, self.phoneState, self.bell, self.now) = (companion, phoneState, bell, now)
    }

    /// Call it after every batch of readings and once a minute while the app is on the screen. Says when to call it again where it did not know
    /// all that devices sent, or could not do all that it had to: what it could not keep rings then. Core says which failure is to be said.
    @discardableResult
    public func step() -> Moment? {
        steps.withLock {
            let now = now()
            do { return try ask(at: now) } catch {
                guard let failed = try? stepFailed(state: phoneState.values.alerts, now: now) else { return nil }
                phoneState.change { $0.alerts = failed.state }
                if failed.isSaid { bell.say(advice(error)) }
                return failed.againAt
            }
        }
    }

    /// Keeps an answer to what rang then in the log, unless that is long past. The sound stops even if that fails.
    public func answer(_ answer: RingChoice, rangAt: Moment) {
        bell.quiet()
        do {
            if let late = try note(answer, rangAt: rangAt, at: now()) { bell.say(late) }
        } catch { bell.say(advice(error)) }
        step()
    }

    /// Passes the words to the bell: at the start, and after each change, since the language may have changed.
    public func name() {
        guard let alerts = try? companion.alerts(), let offers = try? alerts.everyAnswer(), let sets = try? alerts.answerSets() else { return }
        bell.learn(offers, sets: sets, hidden: Vocabulary(companion: companion)(.lookNow))
    }

    private func ask(at now: Moment) throws -> Moment? {
        let alerts = try companion.alerts()
        let kept = phoneState.values
        // The notification set ahead has come by itself.
        let ahead = kept.silence.map { Moment(unixMs: $0, offsetMinutes: now.offsetMinutes) }
        let step = try alerts.step(state: kept.alerts, now: now, ahead: ahead)
        if step.over { bell.quiet() }
        if let left = step.left { bell.ring(Notice(left, isSilent: true)) }
        if let ring = step.ring { bell.ring(Notice(ring)) }
        // What this moment says of silence takes the place of what was set before; where it cannot be said, that stays.
        let next = Result { try step.againAt.map { Notice(try alerts.silence(at: $0)) } }
        if case .success(let notice) = next { bell.callAgain(notice, at: step.againAt ?? now) }
        // Not before it rang and the next one is set: an app that is ended in between rings twice rather than never.
        phoneState.change {
            $0.alerts = step.state
            if case .success = next { $0.silence = step.againAt?.unixMs }
        }
        bell.stand(try Glance.ahead(companion, from: now))
        _ = try next.get()
        return step.soon
    }

    /// One that opens the app keeps nothing. Returns why nothing was noted.
    private func note(_ answer: RingChoice, rangAt: Moment, at now: Moment) throws -> String? {
        try steps.withLock {
            let answered = try companion.alerts().answered(what: answer, state: phoneState.values.alerts, rangAt: rangAt, now: now)
            phoneState.change { $0.alerts = answered.state }
            return answered.late
        }
    }
}
