package ebbstead.sample.present.record

import ebbstead.AlertLines
import ebbstead.AlertPlan
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.sample.present.Clock
import java.io.File

/** Alerts, replayed over the log: what the wearer's own lines were worth, and what others would have been. */
class AlertsPage(companion: EbbsteadCompanion, clock: Clock, passing: File) :
    RecordPage(companion, clock, passing, mapOf(Ask.DAYS to "90")) {

    override fun parts(): List<Part> {
        val page = attempt({ if (it == "number" || it == "period") Ask.DAYS else null }) {
            Part.Told(companion.alerts().told(days(Ask.DAYS), tried(), now))
        }
        val fields = listOf(Ask.DAYS, Ask.HIGH_LINE, Ask.HIGH_DELAY, Ask.REPEAT, Ask.LOST).map { field(it) }
        return fields + press(Act.REPLAY, Act.KEEP_PLAN) + said() + listOfNotNull(page)
    }

    override fun done(act: Act, filled: Filled) {
        if (act == Act.KEEP_PLAN) attempt(null) {
            companion.alerts().keepPlan(tried(), now)
            say(listOf(words.label(Label.KEPT)))
        }
    }

    /** The wearer's own plan with what was filled in put in its place, by day and by night. */
    private fun tried(): AlertPlan? {
        val filled = mapOf(
            Ask.HIGH_LINE to read(Ask.HIGH_LINE) { words.readGlucose(it) }, Ask.HIGH_DELAY to read(Ask.HIGH_DELAY) { words.readNumber(it) },
            Ask.REPEAT to read(Ask.REPEAT) { words.readNumber(it) }, Ask.LOST to read(Ask.LOST) { words.readNumber(it) },
        )
        if (filled.values.all { it == null }) return null
        fun lines(own: AlertLines) = own.copy(
            highMgDl = filled[Ask.HIGH_LINE] ?: own.highMgDl, highDelayMinutes = filled[Ask.HIGH_DELAY] ?: own.highDelayMinutes,
            repeatMinutes = filled[Ask.REPEAT] ?: own.repeatMinutes, lostAfterMinutes = filled[Ask.LOST] ?: own.lostAfterMinutes,
        )
        val own = companion.alerts().ownPlan()
        return AlertPlan(lines(own.day), lines(own.night))
    }

    /** What cannot be read is said beside its field, and the own line stands. */
    private fun read(ask: Ask, read: (String) -> Double): Double? =
        if (typed(ask).isBlank()) null else attempt(ask) { read(typed(ask)) }
}
