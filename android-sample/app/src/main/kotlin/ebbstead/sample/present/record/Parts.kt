package ebbstead.sample.present.record

import ebbstead.DayChart
import ebbstead.Form
import ebbstead.Label
import ebbstead.sample.present.Field
import ebbstead.sample.present.Typing
import java.io.File

/** What a page can ask for. */
enum class Ask(val label: Label, val typing: Typing = Typing.NUMBER) {
    DAYS(Label.DAYS_BACK),
    NEED_DAYS(Label.DAYS_BACK),
    AIMS(Label.AIMS_NAME),
    COMPRESSION(Label.PRESSED_COUNT),
    RATED_DAYS(Label.RATED_DAYS),
    LOT(Label.LOT, Typing.WORDS),
    ITEM(Label.WHICH_SUPPLY),
    STOCKED(Label.SUPPLY_STOCKED),
    AMOUNT(Label.SUPPLY_AMOUNT),
    EXPIRES(Label.SUPPLY_EXPIRES),
    PRICE(Label.SUPPLY_PRICE),
    CURRENCY(Label.SUPPLY_CURRENCY, Typing.WORDS),
    FROM(Label.SUPPLY_FROM, Typing.WORDS),
    PASSPHRASE(Label.PASSPHRASE, Typing.SECRET),
    PASSPHRASE_AGAIN(Label.PASSPHRASE_AGAIN, Typing.SECRET),
    PASSPHRASE_OF_COPY(Label.PASSPHRASE_OF_COPY, Typing.SECRET),
}

/** What can be pressed on a page. */
enum class Act(val label: Label) {
    SHOW(Label.SHOW_THESE),
    SAVE_REVIEW(Label.PRINT_REVIEW),
    SENSOR_SHEET(Label.SENSOR_SHEET),
    REPLAY(Label.REPLAY),
    KEEP_PLAN(Label.KEEP_PLAN),
    LEARN(Label.LEARN_NOW),
    NOTE_SUPPLY(Label.ADD),
    UNDO(Label.UNDO_LAST),
    STATEMENT(Label.STATEMENT),
    SAVE_STATEMENT(Label.SAVE_TEXT),
    WRITE_TABLE(Label.WRITE_TABLE),
    WRITE_BUNDLE(Label.WRITE_BUNDLE),
    SEAL(Label.SEAL_LOG),

    /** Lets the wearer choose a file; what was chosen comes back by [RecordPresenter.chosen]. */
    CHOOSE_OTHER(Label.LOOK_INTO_OTHER),
    LOOK_INTO_OTHER(Label.LOOK_NOW),
    MERGE(Label.MERGE),
    MERGE_ANYWAY(Label.MERGE_ANYWAY),
    LEAVE(Label.CANCEL),
}

/** What is filled in: as typed, or the name of what was chosen. */
typealias Filled = Map<Ask, String>

/** A part of a page. */
sealed interface Part {
    /** What was just done, or why it could not be. */
    data class Said(val text: String) : Part

    data class Text(val text: String) : Part

    data class Heading(val text: String) : Part

    data class Typed(val ask: Ask, val field: Field) : Part

    /** A form of core's. */
    data class Asked(val form: Form) : Part

    data class Chosen(val ask: Ask, val name: String, val options: List<Pair<String, String>>, val chosen: String) : Part

    data class Press(val act: Act, val name: String) : Part

    /** The day by the hour. */
    data class Day(val chart: DayChart) : Part

    /** A page of core's. */
    data class Page(val page: ebbstead.Page) : Part

    /** A text to send or to copy. */
    data class Letter(val text: String) : Part
}

/** A file made for the wearer to keep or to give to somebody; whoever hands it over deletes it. */
data class Document(val name: String, val type: String, val file: File, val messages: List<String>)
