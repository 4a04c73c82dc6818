import Ebbstead
import Foundation

/// What a characteristic of a device nearby holds or sent, by the Bluetooth SIG's 16-bit number of it.
public struct DeviceValue: Equatable, Sendable {
    public var characteristic: UInt16
    public var bytes: Data

    public init(characteristic: UInt16, bytes: Data) { (self.characteristic, self.bytes) = (characteristic, bytes) }
}

/// A radio that finds a sensor or a meter and passes on its bytes. What they mean is the core's to say.
public protocol DeviceSource: Sendable {
    /// How the log names it.
    var name: String { get }
    /// The values of a device nearby as they come, for as long as it is heard. `asking` is to be written to a meter's Record Access
    /// Control Point once its measurements are subscribed to.
    func values(asking: Data) -> AsyncThrowingStream<DeviceValue, any Error>
}

/// Takes what a device nearby says into the log.
public struct Nearby: Sendable {
    /// What came of a value.
    public struct Heard: Equatable, Sendable {
        /// Entries the log did not have.
        public var kept: UInt64 = 0
        /// To be shown: what is not in the log, or worth telling.
        public var told: [String] = []
        /// When the sensor's session began, where it said so.
        public var sessionBegan: Moment?

        public init(kept: UInt64 = 0, told: [String] = [], sessionBegan: Moment? = nil) {
            (self.kept, self.told, self.sessionBegan) = (kept, told, sessionBegan)
        }
    }

    private let companion: EbbsteadCompanion
    private let offsets: [OffsetChange]
    private let now: @Sendable () -> Moment

    public init(_ companion: EbbsteadCompanion, offsets: [OffsetChange], now: @escaping @Sendable () -> Moment) {
        (self.companion, self.offsets, self.now) = (companion, offsets, now)
    }

    /// Follows a device to its end. Only what is new or worth telling is passed on; a value the log could not take is told and the
    /// next one is tried.
    public func follow(_ source: any DeviceSource, heard: @Sendable (Heard) async -> Void) async {
        do {
            let device = try companion.exchange().device(source: source.name, offsets: offsets)
            for try await value in source.values(asking: try device.everyRecord()) {
                let one = hear(value, device)
                if one != Heard() { await heard(one) }
            }
        } catch {
            await heard(Heard(told: [advice(error)]))
        }
    }

    private func hear(_ value: DeviceValue, _ device: NearbyDevice) -> Heard {
        do {
            let done = try device.hear(characteristic: value.characteristic, value: value.bytes, now: now())
            return Heard(kept: done.recorded.new, told: done.told, sessionBegan: done.sessionBegan)
        } catch {
            return Heard(told: [advice(error)])
        }
    }
}
