package ebbstead.sample.source

import ebbstead.*
import java.time.Duration
import java.time.Instant
import java.time.ZoneId

/** Where readings come from. A source hands on what it got; what the bytes mean is core's to say. */
interface Source {
    /** Begins; `got` is called with each characteristic's 16-bit number and value as it comes, on any thread. */
    fun begin(got: (characteristic: Int, value: ByteArray) -> Unit)

    fun end()
}

/** The phone's health store, in which other apps keep glucose. Which of it is a sensor's and which a meter's is core's to say. */
fun interface HealthStore {
    /** Reads what it holds from a time on: `got` is called with each page, then `done`, with what is wrong if something is; on any thread. */
    fun read(since: Moment, got: (List<HealthValue>) -> Unit, done: (trouble: Label?) -> Unit)
}

/** The offsets of a time zone from 2000 on: what a file's local times mean. */
fun offsetsOf(zone: ZoneId, until: Instant): List<OffsetChange> {
    val rules = zone.rules
    val from = Instant.parse("2000-01-01T00:00:00Z")
    val changes = mutableListOf(OffsetChange(from.toEpochMilli(), rules.getOffset(from).totalSeconds / 60))
    var next = rules.nextTransition(from)
    while (next != null && next.instant <= until) {
        changes.add(OffsetChange(next.instant.toEpochMilli(), next.offsetAfter.totalSeconds / 60))
        next = rules.nextTransition(next.instant)
    }
    return changes
}

/** A year ahead too: what is followed may be followed over a change of the clock. */
fun offsetsOfThisPhone(): List<OffsetChange> = offsetsOf(ZoneId.systemDefault(), Instant.now() + Duration.ofDays(366))
