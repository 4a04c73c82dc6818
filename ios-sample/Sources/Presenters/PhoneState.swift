import Ebbstead
import Foundation

/// What the phone keeps for itself, in a file next to the log: small things that must be there even when the log cannot be opened.
public final class PhoneState: @unchecked Sendable {
    public struct Values: Codable, Equatable, Sendable {
        /// Whom to call, and in which language.
        public var emergency: String?
        public var contact: String?
        public var language: String?
        /// The core's state of the alerts, kept as it is.
        public var alerts: String?
        /// When the notification that was set ahead comes, in Unix milliseconds.
        public var silence: Int64?
        /// The sensor and the meter that were chosen. A meter takes no sensor's place.
        var follows: [DeviceFound]?
        /// Whether the phone's health records are read.
        public var readsHealth: Bool?

        public init() {}

        /// The devices that were chosen.
        var chosen: [DeviceFound] { follows ?? [] }

        mutating func choose(_ found: DeviceFound) { follows = chosen.filter { $0.kind != found.kind } + [found] }

        mutating func leave(_ id: String) { follows = chosen.filter { $0.id != id } }
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
