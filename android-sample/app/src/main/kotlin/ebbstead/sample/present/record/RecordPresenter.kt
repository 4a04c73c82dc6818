package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.sample.present.Clock
import ebbstead.sample.present.Shown
import ebbstead.sample.present.shown
import java.io.File

/** The pages of the record. */
enum class Chapter(val label: Label) {
    REVIEW(Label.SCREEN_REVIEW), SENSORS(Label.SCREEN_SENSORS), ALERTS(Label.SCREEN_ALERTS), LEARNT(Label.SCREEN_LEARNT),
    ANSWERS(Label.SCREEN_ANSWERS), SUPPLIES(Label.SCREEN_SUPPLIES), COPIES(Label.SCREEN_COPIES)
}

data class RecordScreen(
    val chapters: List<Pair<Chapter, String>>,
    val chapter: Chapter,
    /** What the page holds, from top to bottom. */
    val parts: List<Part>,
    /** What was just made for the wearer to keep. */
    val document: Document?,
)

/** Where the wearer stands: enough to come back to after the log was closed. No secret is in it. */
data class Standing(val chapter: Chapter = Chapter.REVIEW, val other: Chosen? = null)

/** The screen with the record's pages, one at a time. `passing` is a folder of the app's own for files on their way. */
class RecordPresenter(
    private val companion: EbbsteadCompanion,
    private val clock: Clock,
    private val passing: File,
    from: Standing = Standing(),
) {
    private var chapter = from.chapter
    private var page = page(from.other)

    private fun page(other: Chosen? = null): RecordPage = when (chapter) {
        Chapter.REVIEW -> ReviewPage(companion, clock, passing)
        Chapter.SENSORS -> SensorsPage(companion, clock, passing)
        Chapter.ALERTS -> AlertsPage(companion, clock, passing)
        Chapter.LEARNT -> LearntPage(companion, clock, passing)
        Chapter.ANSWERS -> AnswersPage(companion, clock, passing)
        Chapter.SUPPLIES -> SuppliesPage(companion, clock, passing)
        Chapter.COPIES -> CopiesPage(companion, clock, passing, other)
    }

    val standing: Standing get() = Standing(chapter, (page as? CopiesPage)?.other)

    fun show(): Shown<RecordScreen> = shown { screen() }

    fun turnTo(to: Chapter): Shown<RecordScreen> = shown {
        if (to != chapter) open(to)
        screen()
    }

    /** Does what was pressed, with what is filled in. */
    fun act(act: Act, filled: Filled = emptyMap()): Shown<RecordScreen> = shown {
        page.act(act, filled)
        screen()
    }

    /** A file that the wearer chose to look into. It is deleted when they are done with it. */
    fun chosen(other: Chosen): Shown<RecordScreen> = shown {
        open(Chapter.COPIES, other)
        screen()
    }

    /** A document came to where the wearer wanted it. */
    fun handedOver(document: Document): Shown<RecordScreen> = shown {
        page.say(document.told)
        screen()
    }

    /** A file could not be read or written; the phone says why. */
    fun failed(name: String, why: String): Shown<RecordScreen> = shown {
        page.say(listOf("$name: $why"))
        screen()
    }

    private fun open(to: Chapter, other: Chosen? = null) {
        page.leave()
        chapter = to
        page = page(other)
    }

    private fun screen(): RecordScreen {
        val words = companion.words()
        val parts = page.parts()
        return RecordScreen(Chapter.entries.map { it to words.label(it.label) }, chapter, parts, page.takeDocument())
    }
}
