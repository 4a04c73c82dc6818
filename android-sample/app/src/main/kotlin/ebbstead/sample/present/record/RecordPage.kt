package ebbstead.sample.present.record

import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.sample.present.Clock
import ebbstead.sample.present.Field
import ebbstead.sample.present.Typing
import ebbstead.sample.present.advice
import java.io.File
import java.io.IOException
import java.time.Instant
import java.time.LocalDate
import java.time.ZoneOffset

/** What the pages share: what is filled in, what was refused beside its field, what was just done, and files on their way. */
abstract class RecordPage(
    protected val companion: EbbsteadCompanion,
    private val clock: Clock,
    private val passing: File,
    /** What is filled in; at first, what usually is. A secret never stays in it. */
    private var filled: Filled = emptyMap(),
) {
    private val refused = mutableMapOf<Ask, String>()
    private var message: String? = null
    private var document: Document? = null

    /** What is filled in of core's own form, if the page has one. */
    protected var form = emptyMap<String, String>()

    protected val now get() = clock.now()
    protected val words get() = companion.words()

    /** What the page holds now. */
    abstract fun parts(): List<Part>

    /** Does what was pressed; `filled` has the secrets too. */
    protected abstract fun done(act: Act, filled: Filled)

    /** The wearer turns away. */
    open fun leave() = Unit

    fun act(act: Act, typed: Filled, touched: Map<String, String>) {
        message = null
        refused.clear()
        form += touched
        filled = filled + typed.filterKeys { it.typing != Typing.SECRET }
        done(act, filled + typed)
    }

    fun say(lines: List<String>) {
        message = lines.joinToString("\n").ifBlank { null }
    }

    /** A document is handed on once. */
    fun takeDocument(): Document? = document.also { document = null }

    protected fun typed(ask: Ask): String = filled[ask].orEmpty()

    /** Empties fields whose content was taken. */
    protected fun empty(vararg asks: Ask) {
        filled = filled - asks.toSet()
    }

    /** A number of days. One that no page can be of is left to core to refuse. */
    protected fun days(ask: Ask): UShort {
        val days = words.readNumber(typed(ask))
        return if (days in 0.0..3660.0 && days == Math.rint(days)) days.toInt().toUShort() else 0u
    }

    protected fun refuse(ask: Ask, why: String) {
        refused[ask] = why
    }

    /** What core refuses is said beside the field it came from; what is no matter of a field, above all. */
    protected fun <T> attempt(ask: (refusedField: String) -> Ask?, work: () -> T): T? = try {
        work()
    } catch (error: ApiException) {
        val field = if (error is ApiException.InvalidInput) ask(error.field) else null
        if (field != null) refuse(field, error.advice()) else message = error.advice()
        null
    }

    protected fun <T> attempt(ask: Ask?, work: () -> T): T? = attempt({ ask }, work)

    /** Makes a file for the wearer to keep. `write` returns what to say once it is where they want it. */
    protected fun make(name: String, type: String, ask: Ask?, write: (File) -> List<String>) {
        val file = File(passing, name)
        try {
            passing.mkdirs()
            attempt(ask) { document = Document(name, type, file, write(file)) }
        } catch (refused: IOException) {
            message = refused.localizedMessage
        }
        if (document == null) file.delete()
    }

    /** A name for a file, with the day on the wearer's calendar. */
    protected fun named(what: String, ending: String): String {
        val today = Instant.ofEpochMilli(now.unixMs).atOffset(ZoneOffset.ofTotalSeconds(now.offsetMinutes * 60))
        return "$what-${LocalDate.from(today)}.$ending"
    }

    // What the parts are made of. A page is asked for before the fields, so that what core refuses stands beside them.

    protected fun said(): List<Part> = listOfNotNull(message?.let { Part.Said(it) })

    protected fun field(ask: Ask): Part {
        return Part.Typed(ask, Field(words.label(ask.label), typed(ask), refused[ask]))
    }

    protected fun choice(ask: Ask, options: List<Pair<String, String>>): Part =
        Part.Chosen(ask, words.label(ask.label), options, typed(ask))

    protected fun press(vararg acts: Act): List<Part> = acts.map { Part.Press(it, words.label(it.label)) }

    protected fun text(label: Label): Part = Part.Text(words.label(label))
}
