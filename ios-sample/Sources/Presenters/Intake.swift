import Ebbstead
import Foundation

/// A glucose value as a source has it.
public struct Measured: Equatable, Sendable {
    public enum Kind: Sendable { case sensor, meter }

    public var at: Moment
    public var mgDl: Double
    public var kind: Kind

    public init(at: Moment, mgDl: Double, kind: Kind) { (self.at, self.mgDl, self.kind) = (at, mgDl, kind) }

    /// Of the phone's health records, which hold both. What a person typed, or tied to a meal, is a finger check; of the rest a sensor's
    /// is the safe guess, for a meter's check outweighs a sensor.
    public init(at: Moment, mgDl: Double, wasTyped: Bool, isTiedToMeal: Bool) {
        self.init(at: at, mgDl: mgDl, kind: wasTyped || isTiedToMeal ? .meter : .sensor)
    }
}

/// Where glucose values come from, besides a device nearby. What it needs of the phone it keeps to itself.
public protocol ReadingSource: Sendable {
    /// How the log names it.
    var name: String { get }
    /// Batches as they arrive, those before `since` left out. It ends when the source does, with why if something failed.
    func values(since: Moment) -> AsyncThrowingStream<[Measured], any Error>
}

/// Takes what a source delivers into the log, batch by batch. What the log has already changes nothing, so a source may say
/// things twice.
public struct Intake: Sendable {
    /// How far back is looked for the newest reading, and how much is taken where there is none.
    private static let (day, month) = (Int64(86_400_000), Int64(30 * 86_400_000))

    private let companion: EbbsteadCompanion
    private let now: @Sendable () -> Moment

    public init(_ companion: EbbsteadCompanion, now: @escaping @Sendable () -> Moment) { (self.companion, self.now) = (companion, now) }

    /// Follows a source to its end, from the newest reading in the log on, and says what came of it. Of a batch with a value that no
    /// instrument reads, or of a time that cannot be, the others are still taken.
    public func follow(_ source: any ReadingSource) async -> Received {
        var received = Received()
        do {
            for try await batch in source.values(since: try since()) {
                for kind in [Measured.Kind.sensor, .meter] {
                    let values = batch.filter { $0.kind == kind }.map { ReadingAt(at: $0.at, mgDl: $0.mgDl) }
                    if values.isEmpty { continue }
                    do { received.kept += try take(values, kind, source) } catch ApiError.InvalidInput {
                        for one in values { do { received.kept += try take([one], kind, source) } catch ApiError.InvalidInput {} }
                    }
                }
            }
        } catch { received.messages = [advice(error)] }
        return received
    }

    private func since() throws -> Moment {
        let now = now()
        func back(_ ms: Int64) -> Moment { Moment(unixMs: now.unixMs - ms, offsetMinutes: now.offsetMinutes) }
        let lately = try companion.log().list(from: back(Self.day), until: now, replaced: false, readings: true)
        return lately.last { if case .sensorReading = $0.entry.what { true } else { false } }?.entry.at ?? back(Self.month)
    }

    private func take(_ values: [ReadingAt], _ kind: Measured.Kind, _ source: any ReadingSource) throws -> UInt64 {
        let log = try companion.log()
        return try kind == .sensor
            ? log.recordReadings(source: source.name, readings: values, now: now()).new : log.recordChecks(source: source.name, checks: values, now: now()).new
    }
}
