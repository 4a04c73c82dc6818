package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.Form
import ebbstead.Label
import ebbstead.LogDay
import ebbstead.Noted
import ebbstead.OffsetChange

data class LogScreen(
    val days: List<LogDay>,
    /** What was just done. */
    val done: Noted?,
    /** Core's form, while something is being added or put right. */
    val form: Form?,
)

/** The screen with the log: what was noted by hand in the last days, and core's form for what comes to it. */
class LogPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var done: Noted? = null
    private var form: Form? = null
    private var filled = emptyMap<String, String>()

    /** The entry that is being put right; nothing while something is added. */
    private var wrong: String? = null

    /** The list alone. */
    fun list(): Shown<LogScreen> = acted { null }

    /** Lists again because something changed, not because of a tap: what was said stays, and what is being filled in. */
    fun refresh(): Shown<LogScreen> = shown { screen() }

    /** Begins to add something, or to put an entry right. */
    fun open(id: String? = null): Shown<LogScreen> = acted {
        form = companion.log().form(emptyMap(), id, clock.now())
        wrong = id
        null
    }

    /** Lays the form out for what was chosen. What was filled in for another kind comes back with it. */
    fun fill(filled: Map<String, String>): Shown<LogScreen> = shown {
        this.filled += filled
        form = companion.log().form(this.filled, wrong, clock.now())
        screen()
    }

    /** Keeps what is filled in; what cannot be taken stays, with what is wrong with it. */
    fun keep(filled: Map<String, String>): Shown<LogScreen> = shown {
        this.filled += filled
        val kept = companion.log().keep(this.filled, wrong, clock.now())
        if (kept.message == null) form = kept.form else begin()
        done = kept.message?.let { Noted(it, if (kept.canUndo) companion.words().label(Label.UNDO_LAST) else null) }
        screen()
    }

    fun undo(): Shown<LogScreen> = acted { companion.log().takeBackLast(clock.now()) }

    fun takeBack(id: String): Shown<LogScreen> = acted { companion.log().takeBack(id, clock.now()) }

    /** What a source of readings remarked. */
    fun received(text: List<String>): Shown<LogScreen> = shown {
        done = Noted(text.joinToString("\n"), null)
        screen()
    }

    /** Brings in a file of readings. `offsets` are those of the wearer's time zone, by time. */
    fun read(name: String, bytes: ByteArray, offsets: List<OffsetChange>): Shown<LogScreen> =
        acted { companion.log().bringIn(name, bytes, offsets, clock.now()) }

    /** A tap leaves what was being filled in. */
    private fun acted(act: () -> String?): Shown<LogScreen> = shown {
        begin()
        done = act()?.let { Noted(it, null) }
        screen()
    }

    private fun begin() {
        done = null
        form = null
        filled = emptyMap()
        wrong = null
    }

    private fun screen() = LogScreen(companion.log().days(clock.now()), done, form)
}
