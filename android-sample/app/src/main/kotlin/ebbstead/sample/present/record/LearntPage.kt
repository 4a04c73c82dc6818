package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.Page
import ebbstead.sample.present.Clock
import java.io.File

/** What was learnt from the log, and learning, which takes seconds. */
class LearntPage(companion: EbbsteadCompanion, clock: Clock, passing: File) : RecordPage(companion, clock, passing) {
    /** What was just learnt names what it newly marked; what is kept of it does not. */
    private var fresh: Page? = null

    override fun parts(): List<Part> {
        val page = fresh ?: attempt(null) { companion.learn().last() }
        fresh = null
        val none = if (page == null && said().isEmpty()) listOf(Part.Said(words.label(Label.NOTHING_LEARNT))) else emptyList()
        return press(Act.LEARN) + said() + none + listOfNotNull(page?.let { Part.Page(it) })
    }

    override fun done(act: Act, filled: Filled) {
        if (act == Act.LEARN) fresh = attempt(null) { companion.learn().now(now) }
    }
}
