import Ebbstead

/// Where readings come from: a sensor by radio, the phone's health records. What it needs of the device it keeps to itself.
public protocol ReadingSource: Sendable {
    /// How the log names it.
    var name: String { get }
    /// Batches of readings as they arrive, those before `since` left out. It ends when the source does, with why if something failed.
    func readings(since: Moment?) -> AsyncThrowingStream<[ReadingAt], any Error>
}

/// Takes what a source delivers into the log, batch by batch. What the log has already changes nothing, so a source may say
/// things twice.
public struct Intake: Sendable {
    private let companion: EbbsteadCompanion
    private let now: @Sendable () -> Moment

    public init(_ companion: EbbsteadCompanion, now: @escaping @Sendable () -> Moment) {
        (self.companion, self.now) = (companion, now)
    }

    /// What came of it.
    public struct Taken: Equatable, Sendable {
        public var new: UInt64 = 0
        public var known: UInt64 = 0
        /// Readings left out because no sensor reads that, or because their time cannot be.
        public var refused: UInt64 = 0
        /// Why the source ended, if something failed.
        public var failure: String?
    }

    /// Follows a source to its end. Of a batch with a reading that cannot be, the others are still taken.
    public func follow(_ source: any ReadingSource, since: Moment?) async -> Taken {
        var taken = Taken()
        do {
            for try await batch in source.readings(since: since) where !batch.isEmpty {
                do {
                    try take(batch, from: source, into: &taken)
                } catch ApiError.InvalidInput {
                    for one in batch {
                        do { try take([one], from: source, into: &taken) } catch ApiError.InvalidInput { taken.refused += 1 }
                    }
                }
            }
        } catch {
            taken.failure = advice(error)
        }
        return taken
    }

    private func take(_ batch: [ReadingAt], from source: any ReadingSource, into taken: inout Taken) throws {
        let recorded = try companion.log().recordReadings(source: source.name, readings: batch, now: now())
        taken.new += recorded.new
        taken.known += recorded.known
    }
}
