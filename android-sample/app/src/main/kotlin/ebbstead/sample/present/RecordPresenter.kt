package ebbstead.sample.present

import ebbstead.Aims
import ebbstead.AlertPlan
import ebbstead.ApiException
import ebbstead.DayPicture
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.Page
import ebbstead.ReviewOptions
import ebbstead.SensorOptions

/** The pages of the record. */
enum class Chapter(val label: Label) {
    REVIEW(Label.SCREEN_REVIEW), SENSORS(Label.SCREEN_SENSORS), ALERTS(Label.SCREEN_ALERTS), LEARNT(Label.SCREEN_LEARNT)
}

/** What can be asked of a page, as typed or chosen. */
data class RecordForm(
    val days: String = "",
    val aims: Aims = Aims.ADULT,
    val withoutPressed: Boolean = false,
    val ratedDays: String = "",
    val lot: String = "",
    val highLine: String = "",
    val highDelay: String = "",
    val repeat: String = "",
)

/** The fields of a page, those it has. */
data class RecordFields(
    val days: Field? = null,
    val aims: Choice<Aims>? = null,
    val pressed: Choice<Boolean>? = null,
    val ratedDays: Field? = null,
    val lot: Field? = null,
    val highLine: Field? = null,
    val highDelay: Field? = null,
    val repeat: Field? = null,
)

data class Choice<T>(val name: String, val options: List<Pair<T, String>>, val chosen: T)

data class RecordScreen(
    val chapters: List<Pair<Chapter, String>>,
    val chapter: Chapter,
    val told: String?,
    val page: Page?,
    /** The day by the hour, where the page has one. */
    val day: DayPicture?,
    /** The sheet about a sensor, where it was asked for. */
    val sheet: String?,
    val form: RecordForm,
    val fields: RecordFields,
    /** Asks for the page again with what was filled in. */
    val show: String?,
    /** The one thing more that can be done here: a file to print, a sheet, learning. */
    val more: String?,
)

/** The screen with the record's pages. What they say, and in what order, is core's. */
class RecordPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var chapter = Chapter.REVIEW
    private var form = empty(Chapter.REVIEW)

    private fun empty(chapter: Chapter) = RecordForm(days = if (chapter == Chapter.REVIEW) "14" else "90")

    fun show(): Shown<RecordScreen> = shown { screen() }

    fun turnTo(to: Chapter): Shown<RecordScreen> = shown {
        if (to != chapter) form = empty(to)
        chapter = to
        screen()
    }

    /** Shows the page for what was filled in. */
    fun ask(filled: RecordForm): Shown<RecordScreen> = shown {
        form = filled
        screen()
    }

    /** Goes through the log and learns. Takes seconds. */
    fun learn(): Shown<RecordScreen> = shown {
        chapter = Chapter.LEARNT
        screen(learnt = companion.learn().now(clock.now()))
    }

    /** The sheet about the newest sensor. */
    fun sheet(filled: RecordForm): Shown<RecordScreen> = shown {
        form = filled
        screen(withSheet = true)
    }

    /** The review as a file to print, and its name. */
    fun file(filled: RecordForm): Shown<Pair<String, String>> = shown {
        val now = clock.now()
        val label = companion.words().label(Label.SCREEN_REVIEW)
        "$label.html" to companion.review().html(reviewed(filled), now)
    }

    private fun days(typed: String): UShort {
        val days = companion.words().readNumber(typed)
        return if (days in 0.0..3660.0) days.toInt().toUShort() else 0u // core refuses what cannot be, and says so
    }

    private fun reviewed(filled: RecordForm) = ReviewOptions(days(filled.days), filled.aims, filled.withoutPressed)

    private fun sensors(filled: RecordForm) =
        SensorOptions(days(filled.days), if (filled.ratedDays.isBlank()) null else days(filled.ratedDays))

    /** The wearer's own plan with what was filled in put in its place, by day and by night. */
    private fun tried(filled: RecordForm): AlertPlan? {
        if (filled.highLine.isBlank() && filled.highDelay.isBlank() && filled.repeat.isBlank()) return null
        val words = companion.words()
        val own = companion.alerts().ownPlan()
        fun lines(from: ebbstead.AlertLines) = from.copy(
            highMgDl = if (filled.highLine.isBlank()) from.highMgDl else words.readGlucose(filled.highLine),
            highDelayMinutes = if (filled.highDelay.isBlank()) from.highDelayMinutes else words.readNumber(filled.highDelay),
            repeatMinutes = if (filled.repeat.isBlank()) from.repeatMinutes else words.readNumber(filled.repeat),
        )
        return AlertPlan(lines(own.day), lines(own.night))
    }

    private fun screen(learnt: Page? = null, withSheet: Boolean = false): RecordScreen {
        val now = clock.now()
        var told: String? = null
        var sheet: String? = null
        var day: DayPicture? = null
        val page = try {
            if (withSheet) sheet = companion.sensor().sheet(sensors(form), 0u, form.lot.ifBlank { null }, now)
            if (chapter == Chapter.REVIEW) day = companion.review().day(reviewed(form), now)
            when (chapter) {
                Chapter.REVIEW -> companion.review().told(reviewed(form), now)
                Chapter.SENSORS -> companion.sensor().told(sensors(form), now)
                Chapter.ALERTS -> companion.alerts().told(days(form.days), tried(form), now)
                Chapter.LEARNT -> learnt ?: companion.learn().last()
            }
        } catch (refused: ApiException.InvalidInput) {
            told = refused.advice
            null
        }
        val words = companion.words()
        if (chapter == Chapter.LEARNT && page == null && told == null) told = words.label(Label.NOTHING_LEARNT)
        return RecordScreen(
            chapters = Chapter.entries.map { it to words.label(it.label) },
            chapter = chapter,
            told = told,
            page = page,
            day = day,
            sheet = sheet,
            form = form,
            fields = fields(),
            show = when (chapter) {
                Chapter.REVIEW, Chapter.SENSORS -> words.label(Label.SHOW_THESE)
                Chapter.ALERTS -> words.label(Label.REPLAY)
                Chapter.LEARNT -> null
            },
            more = when (chapter) {
                Chapter.REVIEW -> words.label(Label.PRINT_REVIEW)
                Chapter.SENSORS -> words.label(Label.SENSOR_SHEET)
                Chapter.ALERTS -> null
                Chapter.LEARNT -> words.label(Label.LEARN_NOW)
            },
        )
    }

    private fun fields(): RecordFields {
        val words = companion.words()
        val days = Field(words.label(Label.DAYS_BACK), form.days)
        return when (chapter) {
            Chapter.REVIEW -> RecordFields(
                days = days,
                aims = Choice(
                    words.label(Label.AIMS_NAME),
                    listOf(
                        Aims.ADULT to words.label(Label.AIMS_ADULT),
                        Aims.OLDER_OR_HIGH_RISK to words.label(Label.AIMS_OLDER),
                        Aims.TYPE1_PREGNANCY to words.label(Label.AIMS_PREGNANCY),
                    ),
                    form.aims,
                ),
                pressed = Choice(
                    words.label(Label.PRESSED_COUNT),
                    listOf(false to words.label(Label.PRESSED_IN), true to words.label(Label.PRESSED_OUT)),
                    form.withoutPressed,
                ),
            )
            Chapter.SENSORS -> RecordFields(
                days = days,
                ratedDays = Field(words.label(Label.RATED_DAYS), form.ratedDays),
                lot = Field(words.label(Label.LOT), form.lot),
            )
            Chapter.ALERTS -> RecordFields(
                days = days,
                highLine = Field("${words.label(Label.TRY_HIGH_LINE)} (${words.unit()})", form.highLine),
                highDelay = Field(words.label(Label.TRY_DELAY), form.highDelay),
                repeat = Field(words.label(Label.TRY_REPEAT), form.repeat),
            )
            Chapter.LEARNT -> RecordFields()
        }
    }
}
