import Ebbstead
import Foundation

/// Where glucose values come from, besides a device nearby. What it needs of the phone it keeps to itself; which values are a sensor's and
/// which a meter's is the core's to say.
public protocol ReadingSource: Sendable {
    /// Batches as they arrive, those before `since` left out. It ends when the source does, with why if something failed.
    func values(since: Moment) -> AsyncThrowingStream<[HealthValue], any Error>
}

/// Why a source cannot be read, in the core's words.
public struct SourceTrouble: Error {
    let why: Label

    public init(_ why: Label) { self.why = why }
}

/// Brings what a source delivers into the log, batch by batch. What the log has already changes nothing, so a source may say
/// things twice.
public struct Intake: Sendable {
    private let companion: EbbsteadCompanion
    private let now: @Sendable () -> Moment

    public init(_ companion: EbbsteadCompanion, now: @escaping @Sendable () -> Moment) { (self.companion, self.now) = (companion, now) }

    /// Follows a source to its end, from the newest reading of it in the log on, and says what came of each batch.
    public func follow(_ source: any ReadingSource, received: @Sendable (Received) async -> Void) async {
        do {
            let records = try companion.exchange().healthRecords()
            for try await batch in source.values(since: try records.since(now: now())) {
                let done = try records.receive(values: batch, now: now())
                await received(Received(kept: done.recorded.new, messages: done.remarks))
            }
        } catch let error as ApiError {
            await received(Received(messages: [advice(error)]))
        } catch {
            await received(Received(messages: [Vocabulary(companion: companion)((error as? SourceTrouble)?.why ?? .healthFailed)]))
        }
    }
}
