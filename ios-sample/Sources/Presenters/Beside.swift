import Foundation

/// Small things that must be there even when the log cannot be opened, in a file beside it.
public final class Beside: @unchecked Sendable {
    public struct Kept: Codable, Equatable, Sendable {
        /// Whom to call.
        public var emergency: String?
        public var contact: String?
        /// The core's state of the alerts, kept as it is.
        public var alerts: String?
        /// When the notification that was set ahead comes, in Unix milliseconds.
        public var silence: Int64?
        /// The sensor that was chosen: how the phone knows it, and its name.
        public var sensor: String?
        public var sensorName: String?
        /// Whether the phone's health records are read.
        public var readsHealth: Bool?

        public init() {}
    }

    private let file: URL
    private let lock = NSLock()
    private var now: Kept

    public init(log path: String) {
        file = URL(fileURLWithPath: path + ".beside")
        now = (try? Data(contentsOf: file)).flatMap { try? JSONDecoder().decode(Kept.self, from: $0) } ?? Kept()
    }

    public var kept: Kept { lock.withLock { now } }

    public func change(_ change: (inout Kept) -> Void) {
        lock.withLock {
            let before = now
            change(&now)
            if now != before { try? JSONEncoder().encode(now).write(to: file, options: .atomic) }
        }
    }
}
