import Ebbstead

/// What the phone says by itself once it is time to look again. It may be read by anybody on a locked screen: it names no
/// glucose and no verdict, and asks only to look.
public struct Reminder: Equatable, Sendable {
    public var at: Moment
    public var text: String
    /// Where to look.
    public var opens: ShellModel.Tab

    /// From what the core has due. Nothing where nothing is due, or where its time has come: then the app itself is told.
    public init?(_ companion: EbbsteadCompanion, now: Moment) {
        guard let due = try? companion.due(), due.at.unixMs > now.unixMs else { return nil }
        let label = Vocabulary(companion: companion)
        switch due.occasion {
        case .look: (opens, text) = (.now, label(.lookNow))
        case .wake: (opens, text) = (.night, label(.lookNow))
        }
        at = due.at
    }
}

/// What gives a reminder at its time, whether or not the app runs then.
public protocol Bell: Sendable {
    /// Takes the place of what was set before; nothing is given where nothing is set.
    func set(_ reminder: Reminder?)
}
