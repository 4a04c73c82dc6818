package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.PageBlock
import ebbstead.sample.present.Clock
import ebbstead.sample.present.Shown
import ebbstead.sample.present.shown
import java.io.File

/** The pages of the record. */
enum class Chapter(val label: Label) {
    REVIEW(Label.SCREEN_REVIEW), SENSORS(Label.SCREEN_SENSORS), ALERTS(Label.SCREEN_ALERTS), LEARNT(Label.SCREEN_LEARNT),
    ANSWERS(Label.SCREEN_OUTCOMES), SUPPLIES(Label.SCREEN_SUPPLIES), COPIES(Label.SCREEN_COPIES)
}

/** A chapter by its name, with the first of what it shows. */
data class Card(val chapter: Chapter, val name: String, val lines: List<String>)

data class RecordScreen(
    /** All chapters, where none is open. */
    val cards: List<Card>,
    val chapter: Chapter?,
    /** What the open page shows. */
    val answer: List<Part>,
    /** What can be asked of it, and done with it. */
    val asks: List<Part>,
    val asksName: String,
    val back: String,
    /** What was just made for the wearer to keep. */
    val document: Document?,
)

/** Where the wearer stands: enough to come back to after the log was closed. No secret is in it. */
data class Standing(val chapter: Chapter? = null, val other: Chosen? = null)

/** The screen with the record's pages, one at a time. `passing` is a folder of the app's own for files on their way. */
class RecordPresenter(
    private val companion: EbbsteadCompanion,
    private val clock: Clock,
    private val passing: File,
    from: Standing = Standing(),
) {
    private var chapter = from.chapter
    private var page = chapter?.let { page(it, from.other) }

    private fun page(chapter: Chapter, other: Chosen? = null): RecordPage = when (chapter) {
        Chapter.REVIEW -> ReviewPage(companion, clock, passing)
        Chapter.SENSORS -> SensorsPage(companion, clock, passing)
        Chapter.ALERTS -> AlertsPage(companion, clock, passing)
        Chapter.LEARNT -> LearntPage(companion, clock, passing)
        Chapter.ANSWERS -> OutcomesPage(companion, clock, passing)
        Chapter.SUPPLIES -> SuppliesPage(companion, clock, passing)
        Chapter.COPIES -> CopiesPage(companion, clock, passing, other)
    }

    val standing: Standing get() = Standing(chapter, (page as? CopiesPage)?.other)

    fun show(): Shown<RecordScreen> = shown { screen() }

    /** Opens a chapter, or the overview. */
    fun turnTo(to: Chapter?): Shown<RecordScreen> = shown {
        if (to != chapter) open(to)
        screen()
    }

    /** Does what was pressed, with what is filled in. */
    fun act(act: Act, filled: Filled = emptyMap(), form: Map<String, String> = emptyMap()): Shown<RecordScreen> = shown {
        page?.act(act, filled, form)
        screen()
    }

    /** A file that the wearer chose to look into. It is deleted when they are done with it. */
    fun chosen(other: Chosen): Shown<RecordScreen> = shown {
        open(Chapter.COPIES, other)
        screen()
    }

    /** A document came to where the wearer wanted it. */
    fun handedOver(document: Document): Shown<RecordScreen> = shown {
        page?.say(document.messages)
        screen()
    }

    /** A file could not be read or written; the phone says why. */
    fun failed(name: String, why: String): Shown<RecordScreen> = shown {
        page?.say(listOf("$name: $why"))
        screen()
    }

    private fun open(to: Chapter?, other: Chosen? = null) {
        page?.leave()
        chapter = to
        page = to?.let { page(it, other) }
    }

    private fun screen(): RecordScreen {
        val words = companion.words()
        val (asks, answer) = page?.parts().orEmpty().partition { it is Part.Typed || it is Part.Asked || it is Part.Chosen || it is Part.Press }
        return RecordScreen(
            if (page == null) Chapter.entries.map(::card) else emptyList(), chapter, answer, asks, words.label(Label.MORE),
            words.label(Label.BACK), page?.takeDocument(),
        )
    }

    /** What a chapter shows first: its first sentence, or its first figures. */
    private fun card(chapter: Chapter): Card {
        val parts = page(chapter).parts()
        val holds = parts.filterIsInstance<Part.Page>().flatMap { it.page.sections }.flatMap { it.holds }
        val lines = holds.firstNotNullOfOrNull { block ->
            when (block) {
                is PageBlock.Sentences -> listOf(block.text)
                is PageBlock.Items -> block.items.take(CARD_LINES)
                is PageBlock.Table -> block.rows.take(CARD_LINES).map { row -> "${row.name}: ${row.values.joinToString(", ")}" }
            }.ifEmpty { null }
        }
        val said = parts.filterIsInstance<Part.Said>().map { it.text }
        return Card(chapter, companion.words().label(chapter.label), lines ?: said)
    }

    private companion object {
        const val CARD_LINES = 2
    }
}
