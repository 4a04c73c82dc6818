package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.sample.present.Clock
import java.io.File

/** Alerts, replayed over the log: what the wearer's own lines were worth, and what others would have been. */
class AlertsPage(companion: EbbsteadCompanion, clock: Clock, passing: File) : RecordPage(companion, clock, passing) {
    override fun parts(): List<Part> {
        val asked = attempt(null) { companion.alerts().asked(form, now) }
        return listOfNotNull(asked?.form?.let { Part.Asked(it) }) + press(Act.REPLAY, Act.KEEP_PLAN) + said() +
            listOfNotNull(asked?.page?.let { Part.Page(it) })
    }

    override fun done(act: Act, filled: Filled) {
        if (act == Act.KEEP_PLAN) attempt(null) {
            companion.alerts().keep(form, now).message?.let {
                form = emptyMap()
                say(listOf(it))
            }
        }
    }
}
