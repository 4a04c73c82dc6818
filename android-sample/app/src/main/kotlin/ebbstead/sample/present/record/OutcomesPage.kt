package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.sample.present.Clock
import java.io.File

/** What came of the prompts that were shown. */
class OutcomesPage(companion: EbbsteadCompanion, clock: Clock, passing: File) :
    RecordPage(companion, clock, passing, mapOf(Ask.DAYS to "90")) {

    override fun parts(): List<Part> {
        val page = attempt(Ask.DAYS) { Part.Page(companion.outcomes().page(days(Ask.DAYS), now)) }
        return listOf(field(Ask.DAYS)) + press(Act.SHOW) + said() + listOfNotNull(page)
    }

    override fun done(act: Act, filled: Filled) = Unit
}
