import Ebbstead
import Foundation
import HealthKit
import Presenters

/// Glucose readings that a sensor's own app keeps in the phone's health records. It reads; it never writes.
struct HealthStore: ReadingSource {
    let name = "health records"

    func readings(since: Moment?) -> AsyncThrowingStream<[ReadingAt], any Error> {
        let (stream, batches) = AsyncThrowingStream<[ReadingAt], any Error>.makeStream()
        guard HKHealthStore.isHealthDataAvailable() else {
            batches.finish()
            return stream
        }
        let store = HKHealthStore()
        let glucose = HKQuantityType(.bloodGlucose)
        let from = since.map { Date(timeIntervalSince1970: Double($0.unixMs) / 1000) }
        let query = HKAnchoredObjectQuery(
            type: glucose, predicate: HKQuery.predicateForSamples(withStart: from, end: nil), anchor: nil, limit: HKObjectQueryNoLimit
        ) { _, samples, _, _, error in
            Self.pass(samples, error, to: batches)
        }
        query.updateHandler = { _, samples, _, _, error in Self.pass(samples, error, to: batches) }
        batches.onTermination = { _ in store.stop(query) }
        store.requestAuthorization(toShare: [], read: [glucose]) { _, error in
            if let error { batches.finish(throwing: error) } else { store.execute(query) }
        }
        return stream
    }

    private static func pass(
        _ samples: [HKSample]?, _ error: (any Error)?, to batches: AsyncThrowingStream<[ReadingAt], any Error>.Continuation
    ) {
        if let error { return batches.finish(throwing: error) }
        batches.yield((samples ?? []).compactMap { ($0 as? HKQuantitySample).flatMap(reading) })
    }

    /// What a person typed in is a meter's value as a rule, not a sensor's: it is left out.
    private static func reading(_ sample: HKQuantitySample) -> ReadingAt? {
        if sample.metadata?[HKMetadataKeyWasUserEntered] as? Bool == true { return nil }
        let zone = (sample.metadata?[HKMetadataKeyTimeZone] as? String).flatMap(TimeZone.init(identifier:)) ?? .current
        let at = Moment(
            unixMs: Int64((sample.startDate.timeIntervalSince1970 * 1000).rounded()),
            offsetMinutes: Int32(zone.secondsFromGMT(for: sample.startDate) / 60))
        return ReadingAt(at: at, mgDl: sample.quantity.doubleValue(for: HKUnit(from: "mg/dL")))
    }
}
