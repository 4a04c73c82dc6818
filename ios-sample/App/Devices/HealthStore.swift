import Ebbstead
import Foundation
import HealthKit
import Presenters

/// Glucose that other apps keep in the phone's health records. It reads; it never writes.
struct HealthStore: ReadingSource {
    /// iOS never says whether reading was allowed: refused, there is simply nothing.
    func values(since: Moment) -> AsyncThrowingStream<[HealthValue], any Error> {
        let (stream, batches) = AsyncThrowingStream<[HealthValue], any Error>.makeStream()
        guard HKHealthStore.isHealthDataAvailable() else {
            batches.finish(throwing: SourceTrouble(.healthMissing))
            return stream
        }
        let (store, glucose) = (HKHealthStore(), HKQuantityType(.bloodGlucose))
        let start = Date(timeIntervalSince1970: Double(since.unixMs) / 1000)
        let query = HKAnchoredObjectQuery(
            type: glucose, predicate: HKQuery.predicateForSamples(withStart: start, end: nil), anchor: nil, limit: HKObjectQueryNoLimit
        ) { _, samples, _, _, error in Self.pass(samples, error, to: batches) }
        query.updateHandler = { _, samples, _, _, error in Self.pass(samples, error, to: batches) }
        // It has the system wake the app for new values; the query above hands them on.
        let waking = HKObserverQuery(sampleType: glucose, predicate: nil) { _, done, _ in done() }
        batches.onTermination = { _ in for one in [query, waking] as [HKQuery] { store.stop(one) } }
        store.requestAuthorization(toShare: [], read: [glucose]) { _, error in
            if let error { return batches.finish(throwing: error) }
            store.execute(query)
            store.execute(waking)
            store.enableBackgroundDelivery(for: glucose, frequency: .immediate) { _, _ in }
        }
        return stream
    }

    private static func pass(
        _ samples: [HKSample]?, _ error: (any Error)?, to batches: AsyncThrowingStream<[HealthValue], any Error>.Continuation
    ) {
        if let error { return batches.finish(throwing: error) }
        batches.yield((samples ?? []).compactMap { ($0 as? HKQuantitySample).map(value) })
    }

    private static func value(_ sample: HKQuantitySample) -> HealthValue {
        let zone = (sample.metadata?[HKMetadataKeyTimeZone] as? String).flatMap(TimeZone.init(identifier:)) ?? .current
        let at = Moment(
            unixMs: Int64((sample.startDate.timeIntervalSince1970 * 1000).rounded()),
            offsetMinutes: Int32(zone.secondsFromGMT(for: sample.startDate) / 60))
        // iOS does not say what was measured in.
        return HealthValue(
            at: at, amount: sample.quantity.doubleValue(for: HKUnit(from: "mg/dL")), unit: .mgDl, specimen: .unknown,
            typed: sample.metadata?[HKMetadataKeyWasUserEntered] as? Bool == true, tiedToMeal: sample.metadata?[HKMetadataKeyBloodGlucoseMealTime] != nil)
    }
}
