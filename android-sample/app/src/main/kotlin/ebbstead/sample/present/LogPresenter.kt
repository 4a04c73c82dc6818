package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.Form
import ebbstead.Label
import ebbstead.OffsetChange

/** `putRight` says whether it has a form to put it right in. */
data class LogRow(val id: String, val clock: String, val text: String, val putRight: Boolean)

/** `day` as a calendar of the wearer's language writes it. */
data class LogDay(val day: String, val rows: List<LogRow>)

data class LogScreen(
    val days: List<LogDay>,
    /** Said where nothing is there. */
    val empty: String?,
    /** What was just done. */
    val done: Done?,
    /** Core's form, while something is being added or put right. */
    val form: Form?,
    val open: String,
    val putRight: String,
    val leave: String,
    val takeBack: String,
    val readFile: String,
    val findSensor: String,
    val readHealth: String,
    val healthWhy: String,
)

/** The screen with the log: what was noted by hand in the last days, and core's form for what comes to it. */
class LogPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var message: String? = null

    /** Whether what was just said can be taken back. */
    private var canUndo = false
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
        message = kept.message
        canUndo = kept.canUndo
        screen()
    }

    fun undo(): Shown<LogScreen> = acted { companion.undone(clock.now()) }

    fun takeBack(row: LogRow): Shown<LogScreen> = acted {
        companion.log().retract(row.id, clock.now())
        "${row.text}: ${companion.words().label(Label.TAKEN_BACK)}"
    }

    /** What a device nearby remarked. */
    fun received(text: List<String>): Shown<LogScreen> = shown {
        message = text.joinToString("\n")
        screen()
    }

    /** Brings in a file of readings. `offsets` are those of the wearer's time zone, by time. */
    fun read(name: String, bytes: ByteArray, offsets: List<OffsetChange>): Shown<LogScreen> =
        acted { companion.broughtIn(name, bytes, offsets, clock.now()) }

    /** A tap leaves what was being filled in. */
    private fun acted(act: () -> String?): Shown<LogScreen> = shown {
        begin()
        message = act()
        screen()
    }

    private fun begin() {
        message = null
        canUndo = false
        form = null
        filled = emptyMap()
        wrong = null
    }

    private fun screen(): LogScreen {
        val (now, words) = clock.now() to companion.words()
        val listed = companion.log().list(now.copy(unixMs = now.unixMs - DAYS_MS), now, false, false)
        val days = listed.asReversed().groupBy { it.day }.map { (day, rows) ->
            LogDay(day, rows.map { LogRow(it.entry.id, it.clock, it.entry.text, it.hasForm) })
        }
        return LogScreen(
            days = days,
            empty = if (days.isEmpty()) words.label(Label.LOG_EMPTY) else null,
            done = message?.let { Done(it, if (canUndo) words.label(Label.UNDO_LAST) else null) },
            form = form,
            open = words.label(Label.ADD_ENTRY),
            putRight = words.label(Label.PUT_RIGHT),
            leave = words.label(Label.CANCEL),
            takeBack = words.label(Label.TAKE_BACK),
            readFile = words.label(Label.READ_FILE),
            findSensor = words.label(Label.FIND_SENSOR),
            readHealth = words.label(Label.READ_HEALTH),
            healthWhy = words.label(Label.HEALTH_WHY),
        )
    }

    private companion object {
        /** How far back the list goes. */
        const val DAYS_MS = 7 * 24 * 3_600_000L
    }
}
