package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.ImportAnswer
import ebbstead.ImportOptions
import ebbstead.InsulinKind
import ebbstead.Label
import ebbstead.Moment
import ebbstead.OffsetChange
import ebbstead.Purpose
import ebbstead.SensorEvent
import ebbstead.What

/** What can be noted by hand. */
enum class Kind(val label: Label, val typed: Boolean = true) {
    METER(Label.METER_SHOWS),
    RESCUE(Label.RESCUE_GRAMS),
    MEAL(Label.MEAL_GRAMS),
    RAPID(Label.RAPID_UNITS),
    LONG_ACTING(Label.LONG_ACTING_UNITS),
    NOTE(Label.NOTE_TEXT),
    SENSOR(Label.SENSOR_INSERTED, typed = false),
}

data class KindRow(val kind: Kind, val text: String)

data class LogRow(val id: String, val text: String)

data class LogDay(val day: String, val rows: List<LogRow>)

data class LogScreen(
    val days: List<LogDay>,
    /** Said where nothing is there. */
    val empty: String?,
    /** What was just done. */
    val told: String?,
    val kinds: List<KindRow>,
    val add: String,
    val undo: String,
    val takeBack: String,
    val readFile: String,
)

/** The screen with the log: two days of what was noted by hand. */
class LogPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    fun list(): Shown<LogScreen> = shown { screen(null) }

    fun add(kind: Kind, typed: String): Shown<LogScreen> = shown {
        val now = clock.now()
        val kept = companion.log().record(what(kind, typed), now, now)
        screen("${kept.text}: ${companion.words().label(Label.KEPT)}")
    }

    fun undo(): Shown<LogScreen> = shown {
        val words = companion.words()
        val undone = companion.log().undo(clock.now())
        screen(undone?.let { "${it.undone.text}: ${words.label(Label.TAKEN_BACK)}" } ?: words.label(Label.NOTHING_TO_UNDO))
    }

    fun takeBack(id: String): Shown<LogScreen> = shown {
        companion.log().retract(id, clock.now())
        screen(companion.words().label(Label.TAKEN_BACK))
    }

    /** Brings in a file of readings. `offsets` are those of the wearer's time zone, by time. */
    fun read(name: String, bytes: ByteArray, offsets: List<OffsetChange>): Shown<LogScreen> = shown {
        val options = ImportOptions(offsets, null, null, null, null, false)
        when (val answer = companion.log().importCsv(name, bytes, options, clock.now())) {
            is ImportAnswer.Refused -> screen("$name, ${answer.line}: ${answer.why}")
            is ImportAnswer.Read -> {
                val new = answer.report.recorded?.new ?: 0uL
                val findings = answer.report.findings.take(3).map { it.text }
                screen((listOf("$name: +$new") + findings).joinToString("\n"))
            }
        }
    }

    private fun what(kind: Kind, typed: String): What {
        val words = companion.words()
        return when (kind) {
            Kind.METER -> What.MeterCheck(words.readGlucose(typed))
            Kind.RESCUE -> What.Carbohydrate(words.readNumber(typed), Purpose.RESCUE)
            Kind.MEAL -> What.Carbohydrate(words.readNumber(typed), Purpose.MEAL)
            Kind.RAPID -> What.Insulin(InsulinKind.RAPID, words.readNumber(typed))
            Kind.LONG_ACTING -> What.Insulin(InsulinKind.LONG_ACTING, words.readNumber(typed))
            Kind.NOTE -> What.Note(typed)
            Kind.SENSOR -> What.Sensor(SensorEvent.Inserted(null))
        }
    }

    private fun screen(told: String?): LogScreen {
        val words = companion.words()
        val now = clock.now()
        val from = Moment(now.unixMs - 2 * 24 * 60 * 60_000L, now.offsetMinutes)
        val listed = companion.log().list(from, now, false, false).asReversed()
        val days = listed.groupBy { it.day }.map { (day, rows) ->
            LogDay(day, rows.map { LogRow(it.entry.id, "${it.clock}  ${it.entry.text}") })
        }
        return LogScreen(
            days = days,
            empty = if (days.isEmpty()) words.label(Label.LOG_EMPTY) else null,
            told = told,
            kinds = Kind.entries.map { kind ->
                val unit = if (kind == Kind.METER) " (${words.unit()})" else ""
                KindRow(kind, words.label(kind.label) + unit)
            },
            add = words.label(Label.ADD),
            undo = words.label(Label.UNDO_LAST),
            takeBack = words.label(Label.TAKE_BACK),
            readFile = words.label(Label.READ_FILE),
        )
    }
}
