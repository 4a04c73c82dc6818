package ebbstead.sample.present

import ebbstead.ApiException
import ebbstead.BundleAnswer
import ebbstead.EbbsteadCompanion
import ebbstead.Entry
import ebbstead.ImportAnswer
import ebbstead.ImportOptions
import ebbstead.InsulinKind
import ebbstead.Label
import ebbstead.Listed
import ebbstead.Moment
import ebbstead.OffsetChange
import ebbstead.Purpose
import ebbstead.SensorEvent
import ebbstead.What
import java.time.LocalDate

/** What can be noted by hand. */
enum class Kind(val label: Label, val typing: Typing? = Typing.NUMBER) {
    METER(Label.METER_SHOWS),
    RESCUE(Label.RESCUE_GRAMS),
    MEAL(Label.MEAL_GRAMS),
    RAPID(Label.RAPID_UNITS),
    LONG_ACTING(Label.LONG_ACTING_UNITS),
    NOTE(Label.NOTE_TEXT, typing = Typing.WORDS),
    SENSOR(Label.SENSOR_INSERTED, typing = Typing.WORDS),
    SENSOR_FAULT(Label.SENSOR_FAULT, typing = Typing.WORDS),
    SENSOR_ENDED(Label.SENSOR_ENDED, typing = null),
}

data class KindRow(val kind: Kind, val field: Field)

/** `putRight` tells whether what it says can be typed anew. */
data class LogRow(val id: String, val clock: String, val text: String, val putRight: Boolean)

/** `day` as a calendar of the wearer's language writes it. */
data class LogDay(val day: String, val rows: List<LogRow>)

/** An entry that is being put right: what it says now, the field it was typed into, and when it happened. */
data class Righting(val id: String, val text: String, val row: KindRow, val happened: TimeField)

data class LogScreen(
    val days: List<LogDay>,
    /** Said where nothing is there. */
    val empty: String?,
    /** What was just done. */
    val done: Done?,
    /** While there is one, nothing else is offered to be noted. */
    val righting: Righting?,
    val kinds: List<KindRow>,
    /** When what is noted next happened: now, until a time is picked. */
    val happened: TimeField,
    /** Opens the kinds. */
    val open: String,
    val add: String,
    val putRight: String,
    val leave: String,
    val takeBack: String,
    val readFile: String,
    val findSensor: String,
)

/** The screen with the log: what was noted by hand in the last days. */
class LogPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var told: String? = null

    /** Whether what was just said can be taken back. */
    private var canUndo = false
    private var wrong: Wrong? = null

    /** The minute of the day that was picked for what is not kept yet. */
    private var picked: Int? = null

    private class Wrong(val entry: Entry, val kind: Kind, val text: String)

    fun list(): Shown<LogScreen> = shown {
        told = null
        canUndo = false
        wrong = null
        picked = null
        screen()
    }

    /** Lists again because something changed, not because of a tap: what was said about the last tap stays. */
    fun refresh(): Shown<LogScreen> = shown { screen() }

    /** The minute of the day at which what is noted next, or put right, happened. It stays though the list changes meanwhile. */
    fun pick(minute: Int) {
        picked = minute
    }

    /** As [pick], and the screen as it was. */
    fun picking(minute: Int): Shown<LogScreen> = shown {
        pick(minute)
        screen()
    }

    /** Notes something: now, or the last time a clock showed the minute that was picked. */
    fun add(kind: Kind, typed: String): Shown<LogScreen> = shown {
        told = null
        try {
            val now = clock.now()
            val at = picked?.let { now.lastTime(it) } ?: now
            told = companion.told(companion.log().record(what(kind, typed), at, now), Label.KEPT)
            picked = null
            canUndo = true
            screen()
        } catch (refused: ApiException.InvalidInput) {
            // What was typed stays, to be mended.
            screen(kind, typed, refused.advice)
        }
    }

    /** Begins to put an entry right. */
    fun putRight(id: String): Shown<LogScreen> = shown {
        told = null
        picked = null
        val entry = listed().map { it.entry }.firstOrNull { it.id == id }
        wrong = entry?.let { one -> kind(one.what)?.let { Wrong(one, it, typed(one.what)) } }
        screen()
    }

    /** Keeps what is typed in place of the entry: at the entry's own time, or at the minute of the entry's own day that was picked. */
    fun keepRight(typed: String): Shown<LogScreen> = shown {
        told = null
        val from = wrong ?: return@shown screen()
        try {
            // Shown in another unit an amount is rounded; what nobody touched must not change by that.
            val at = picked?.let { from.entry.at.sameDay(it) } ?: from.entry.at
            if (typed != from.text || at != from.entry.at) {
                val what = if (typed == from.text) from.entry.what else mended(from, typed)
                told = companion.told(companion.log().correct(from.entry.id, at, what, clock.now()), Label.KEPT)
            }
            wrong = null
            picked = null
            screen()
        } catch (refused: ApiException.InvalidInput) {
            screen(from.kind, typed, refused.advice)
        }
    }

    fun leave(): Shown<LogScreen> = list()

    fun undo(): Shown<LogScreen> = shown {
        wrong = null
        picked = null
        told = companion.undone(clock.now())
        canUndo = false
        screen()
    }

    fun takeBack(id: String): Shown<LogScreen> = shown {
        wrong = null
        picked = null
        val entry = listed().map { it.entry }.firstOrNull { it.id == id }
        companion.log().retract(id, clock.now())
        canUndo = false
        told = entry?.let { companion.told(it, Label.TAKEN_BACK) } ?: companion.words().label(Label.TAKEN_BACK)
        screen()
    }

    /** What a device nearby had to tell. */
    fun heard(text: List<String>): Shown<LogScreen> = shown {
        told = text.joinToString("\n")
        screen()
    }

    /**
     * Brings in a file: a table of readings, or an HL7 FHIR bundle where it is JSON. `offsets` are those of the wearer's time
     * zone, by time.
     */
    fun read(name: String, bytes: ByteArray, offsets: List<OffsetChange>): Shown<LogScreen> = shown {
        wrong = null
        val isJson = bytes.firstOrNull { !it.toInt().toChar().isWhitespace() }?.toInt()?.toChar() == '{'
        told = if (isJson) bundle(name, bytes) else table(name, bytes, offsets)
        screen()
    }

    private fun table(name: String, bytes: ByteArray, offsets: List<OffsetChange>): String {
        val options = ImportOptions(offsets, null, null, null, null, false)
        return when (val answer = companion.log().importCsv(name, bytes, options, clock.now())) {
            is ImportAnswer.Refused -> "$name, ${answer.line}: ${answer.why}"
            is ImportAnswer.Read -> came(name, answer.report.recorded?.new, answer.report.findings.map { it.text })
        }
    }

    private fun bundle(name: String, bytes: ByteArray): String =
        when (val answer = companion.exchange().importBundle(name, bytes, false, clock.now())) {
            is BundleAnswer.Refused -> "$name, ${answer.line}: ${answer.why}"
            is BundleAnswer.Read -> came(name, answer.report.recorded?.new, answer.report.findings)
        }

    private fun came(name: String, new: ULong?, findings: List<String>): String =
        (listOf("$name: +${new ?: 0uL}") + findings.take(3)).joinToString("\n")

    private fun what(kind: Kind, typed: String): What {
        val words = companion.words()
        return when (kind) {
            Kind.METER -> words.readMeter(typed).what
            Kind.RESCUE -> What.Carbohydrate(words.readNumber(typed), Purpose.RESCUE)
            Kind.MEAL -> What.Carbohydrate(words.readNumber(typed), Purpose.MEAL)
            Kind.RAPID -> What.Insulin(InsulinKind.RAPID, words.readNumber(typed))
            Kind.LONG_ACTING -> What.Insulin(InsulinKind.LONG_ACTING, words.readNumber(typed))
            Kind.NOTE -> What.Note(typed)
            Kind.SENSOR -> What.Sensor(SensorEvent.Inserted(typed.ifBlank { null }))
            Kind.SENSOR_FAULT -> What.Sensor(SensorEvent.Fault(typed))
            Kind.SENSOR_ENDED -> What.Sensor(SensorEvent.Ended)
        }
    }

    /** What is typed, with what the entry says beside it and nobody typed. */
    private fun mended(from: Wrong, typed: String): What {
        val (before, after) = Pair(from.entry.what, what(from.kind, typed))
        val (old, new) = Pair((before as? What.Sensor)?.event, (after as? What.Sensor)?.event)
        if (old !is SensorEvent.Inserted || new !is SensorEvent.Inserted) return after
        return What.Sensor(old.copy(site = new.site))
    }

    /** What was typed in to note this; nothing for what has no field. */
    private fun kind(what: What): Kind? = when {
        what is What.MeterCheck || what is What.MeterBeyond -> Kind.METER
        what is What.Carbohydrate && what.purpose == Purpose.RESCUE -> Kind.RESCUE
        what is What.Carbohydrate && what.purpose == Purpose.MEAL -> Kind.MEAL
        what is What.Insulin && what.insulin == InsulinKind.RAPID -> Kind.RAPID
        what is What.Insulin && what.insulin == InsulinKind.LONG_ACTING -> Kind.LONG_ACTING
        what is What.Note -> Kind.NOTE
        what is What.Sensor && what.event is SensorEvent.Inserted -> Kind.SENSOR
        what is What.Sensor && what.event is SensorEvent.Fault -> Kind.SENSOR_FAULT
        else -> null
    }

    private fun typed(what: What): String = when (what) {
        is What.MeterCheck -> companion.words().typedMeter(what.mgDl, null)
        is What.MeterBeyond -> companion.words().typedMeter(what.mgDl, what.beyond)
        is What.Insulin -> companion.words().typedNumber(what.units)
        is What.Carbohydrate -> companion.words().typedNumber(what.grams)
        is What.Note -> what.text
        is What.Sensor -> when (val event = what.event) {
            is SensorEvent.Inserted -> event.site ?: ""
            is SensorEvent.Fault -> event.seen
            else -> ""
        }
        else -> ""
    }

    private fun listed(): List<Listed> {
        val now = clock.now()
        return companion.log().list(Moment(now.unixMs - DAYS_MS, now.offsetMinutes), now, false, false)
    }

    private fun screen(refused: Kind? = null, typed: String = "", advice: String? = null): LogScreen {
        val words = companion.words()
        fun field(kind: Kind, filled: String): Field {
            val name = when (kind) {
                Kind.METER -> "${words.label(kind.label)} (${words.unit()})"
                Kind.SENSOR -> "${words.label(kind.label)}: ${words.label(Label.SENSOR_SITE)}"
                Kind.SENSOR_FAULT -> "${words.label(Label.SCREEN_SENSORS)}: ${words.label(kind.label)}"
                else -> words.label(kind.label)
            }
            return if (kind == refused) Field(name, typed, advice) else Field(name, filled)
        }
        val calendar = companion.calendar()
        fun happened(at: Moment) = TimeField(words.label(Label.HAPPENED), picked ?: at.minuteOfDay)
        val days = listed().asReversed().groupBy { it.day }.map { (day, rows) ->
            LogDay(calendar.format(LocalDate.parse(day)), rows.map { LogRow(it.entry.id, it.clock, it.entry.text, kind(it.entry.what) != null) })
        }
        return LogScreen(
            days = days,
            empty = if (days.isEmpty()) words.label(Label.LOG_EMPTY) else null,
            done = told?.let { Done(it, if (canUndo) words.label(Label.UNDO_LAST) else null) },
            righting = wrong?.let {
                Righting(it.entry.id, it.entry.text, KindRow(it.kind, field(it.kind, it.text)), happened(it.entry.at))
            },
            kinds = Kind.entries.map { KindRow(it, field(it, "")) },
            happened = happened(clock.now()),
            open = words.label(Label.ADD_ENTRY),
            add = words.label(Label.ADD),
            putRight = words.label(Label.PUT_RIGHT),
            leave = words.label(Label.CANCEL),
            takeBack = words.label(Label.TAKE_BACK),
            readFile = words.label(Label.READ_FILE),
            findSensor = words.label(Label.FIND_SENSOR),
        )
    }

    private companion object {
        /** How far back the list goes. */
        const val DAYS_MS = 7 * 24 * 3_600_000L
    }
}
