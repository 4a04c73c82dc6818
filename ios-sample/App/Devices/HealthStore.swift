import Ebbstead
import Foundation
@preconcurrency import HealthKit
import Presenters

/// Glucose that other apps keep in the phone's health records. It reads; it never writes.
struct HealthStore: ReadingSource {
    /// iOS never says whether reading was allowed: refused, there is simply nothing.
    func values(since: Moment) -> AsyncThrowingStream<HealthBatch, any Error> {
        let (stream, batches) = AsyncThrowingStream<HealthBatch, any Error>.makeStream()
        guard HKHealthStore.isHealthDataAvailable() else {
            batches.finish(throwing: SourceTrouble(.healthMissing))
            return stream
        }
        let (store, glucose) = (HKHealthStore(), HKQuantityType(.bloodGlucose))
        let reads = Reads(store: store, type: glucose, since: since, batches: batches)
        // It has the system wake the app for new values. Only once the app says that it has them may the system suspend it again, and
        // it wakes one that never says so less and less.
        let waking = HKObserverQuery(sampleType: glucose, predicate: nil) { _, done, error in
            nonisolated(unsafe) let done = done
            if let error { reads.failed(error, done) } else { reads.next { done() } }
        }
        batches.onTermination = { _ in store.stop(waking) }
        store.requestAuthorization(toShare: [], read: [glucose]) { _, error in
            // On a locked phone it fails though it was answered long ago: then what is new is waited for.
            if let error, reads.failed(error, {}) { return }
            store.execute(waking)
            store.enableBackgroundDelivery(for: glucose, frequency: .immediate) { _, _ in }
            reads.next {}
        }
        return stream
    }

    fileprivate static func value(_ sample: HKQuantitySample) -> HealthValue {
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

/// Asks for what came since the last time.
private final class Reads: @unchecked Sendable {
    private let store: HKHealthStore
    private let type: HKQuantityType
    private let since: NSPredicate
    private let batches: AsyncThrowingStream<HealthBatch, any Error>.Continuation
    private let lock = NSLock()
    private var anchor: HKQueryAnchor?

    init(store: HKHealthStore, type: HKQuantityType, since: Moment, batches: AsyncThrowingStream<HealthBatch, any Error>.Continuation) {
        (self.store, self.type, self.batches) = (store, type, batches)
        self.since = HKQuery.predicateForSamples(withStart: Date(timeIntervalSince1970: Double(since.unixMs) / 1000), end: nil)
    }

    /// Two at once may find the same values; the log keeps them once.
    func next(_ done: @escaping @Sendable () -> Void) {
        let from = lock.withLock { anchor }
        store.execute(
            HKAnchoredObjectQuery(type: type, predicate: since, anchor: from, limit: HKObjectQueryNoLimit) { [self] _, samples, _, upTo, error in
                if let error { return failed(error, done) }
                lock.withLock { anchor = upTo }
                let values = (samples ?? []).compactMap { ($0 as? HKQuantitySample).map(HealthStore.value) }
                if case .terminated = batches.yield(HealthBatch(values: values, done: done)) { done() }
            })
    }

    /// While the phone is locked nothing can be read, and nothing is wrong with that: the next time is waited for. Says whether it ended.
    @discardableResult
    func failed(_ error: any Error, _ done: () -> Void) -> Bool {
        done()
        if (error as? HKError)?.code == .errorDatabaseInaccessible { return false }
        batches.finish(throwing: error)
        return true
    }
}
