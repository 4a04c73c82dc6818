package ebbstead.sample.present.record

import ebbstead.AlertLines
import ebbstead.AlertPlan
import ebbstead.EbbsteadCompanion
import ebbstead.sample.present.Clock
import java.io.File

/** Alerts, replayed over the log: what the wearer's own lines were worth, and what others would have been. */
class AlertsPage(companion: EbbsteadCompanion, clock: Clock, passing: File) :
    RecordPage(companion, clock, passing, mapOf(Ask.DAYS to "90")) {

    override fun parts(): List<Part> {
        val page = attempt({ if (it == "number" || it == "period") Ask.DAYS else null }) {
            Part.Told(companion.alerts().told(days(Ask.DAYS), tried(), now))
        }
        val fields = listOf(Ask.DAYS, Ask.HIGH_LINE, Ask.HIGH_DELAY, Ask.REPEAT).map { field(it) }
        return fields + press(Act.REPLAY) + said() + listOfNotNull(page)
    }

    override fun done(act: Act, filled: Filled) = Unit

    /** The wearer's own plan with what was filled in put in its place, by day and by night. */
    private fun tried(): AlertPlan? {
        val (high, delay, repeat) = Triple(
            read(Ask.HIGH_LINE) { words.readGlucose(it) }, read(Ask.HIGH_DELAY) { words.readNumber(it) },
            read(Ask.REPEAT) { words.readNumber(it) },
        )
        if (high == null && delay == null && repeat == null) return null
        fun lines(own: AlertLines) = own.copy(
            highMgDl = high ?: own.highMgDl, highDelayMinutes = delay ?: own.highDelayMinutes, repeatMinutes = repeat ?: own.repeatMinutes,
        )
        val own = companion.alerts().ownPlan()
        return AlertPlan(lines(own.day), lines(own.night))
    }

    /** What cannot be read is said beside its field, and the own line stands. */
    private fun read(ask: Ask, read: (String) -> Double): Double? =
        if (typed(ask).isBlank()) null else attempt(ask) { read(typed(ask)) }
}
