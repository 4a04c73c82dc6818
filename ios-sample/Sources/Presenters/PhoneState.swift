import Foundation

/// What the phone keeps for itself, in a file next to the log: small things that must be there even when the log cannot be opened.
public final class PhoneState: @unchecked Sendable {
    public struct Values: Codable, Equatable, Sendable {
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
    private var now: Values

    public init(log path: String) {
        file = URL(fileURLWithPath: path + ".phone")
        now = (try? Data(contentsOf: file)).flatMap { try? JSONDecoder().decode(Values.self, from: $0) } ?? Values()
    }

    public var values: Values { lock.withLock { now } }

    public func change(_ change: (inout Values) -> Void) {
        lock.withLock {
            let before = now
            change(&now)
            if now != before { try? JSONEncoder().encode(now).write(to: file, options: .atomic) }
        }
    }
}
