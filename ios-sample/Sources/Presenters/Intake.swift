import Ebbstead
import Foundation

/// Where glucose values come from, besides a device nearby. What it needs of the phone it keeps to itself; which values are a sensor's and
/// which a meter's is the core's to say.
public protocol ReadingSource: Sendable {
    /// Batches as they arrive, those before `since` left out. It ends when the source does, with why if something failed.
    func values(since: Moment) -> AsyncThrowingStream<HealthBatch, any Error>
}

/// Values that arrived together.
public struct HealthBatch: Sendable {
    public var values: [HealthValue]
    /// Called once they are in the log, or were refused: until then the phone must not suspend the app.
    public var done: @Sendable () -> Void

    public init(values: [HealthValue], done: @escaping @Sendable () -> Void = {}) { (self.values, self.done) = (values, done) }
}

/// Why a source of readings gives none, in the core's words.
public struct SourceTrouble: Error {
    let why: Label

    public init(_ why: Label) { self.why = why }
}

/// Brings what a source delivers into the log, batch by batch. What the log has already changes nothing, so a source may say
/// things twice.
public struct Intake: Sendable {
    private let companion: EbbsteadCompanion
    private let now: @Sendable () -> Moment
    private let pause: @Sendable () async throws -> Void

    /// `pause` is waited for after a failure; what it throws ends the intake.
    public init(
        _ companion: EbbsteadCompanion, now: @escaping @Sendable () -> Moment,
        pause: @escaping @Sendable () async throws -> Void = { try await Task.sleep(for: .seconds(60)) }
    ) { (self.companion, self.now, self.pause) = (companion, now, pause) }

    /// Follows a source to its end, from the newest reading of it in the log on, and says what came of each batch. After a failure, of the
    /// source or of the log, it is read from there again: what was refused comes once more. A failure that lasts is said once.
    public func follow(_ source: any ReadingSource, received: @Sendable (Received) async -> Void) async {
        guard let records = try? companion.exchange().healthRecords() else { return }
        var said: String?
        while !Task.isCancelled {
            do {
                for try await batch in source.values(since: try records.since(now: now())) {
                    defer { batch.done() }
                    let done = try records.receive(values: batch.values, now: now())
                    said = nil
                    await received(Received(kept: done.recorded.new, messages: done.remarks, isFromDevice: !batch.values.isEmpty))
                }
                return
            } catch {
                let why = error is ApiError ? advice(error) : Vocabulary(companion: companion)((error as? SourceTrouble)?.why ?? .healthFailed)
                if why != said { await received(Received(messages: [why])) }
                said = why
                // This phone has no such source: waiting brings none.
                if error is SourceTrouble { return }
            }
            do { try await pause() } catch { return }
        }
    }
}
