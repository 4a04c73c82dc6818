package ebbstead.sample.present

import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.Label
import ebbstead.Language
import ebbstead.Weighing

/** What can be filled in, as typed. */
data class SettingsForm(
    val unit: GlucoseUnit,
    val language: Language,
    val lowLine: String,
    val highLine: String,
    /** Minutes of the day. */
    val nightFrom: Int,
    val nightUntil: Int,
    val weighing: Weighing,
    val insulinFactor: String,
    val carbohydrateFactor: String,
    val ratedDays: String,
    val leadDays: String,
    val emergency: String,
    val contact: String,
)

data class SettingsScreen(
    val form: SettingsForm,
    val names: Map<Label, String>,
    /** The floor line, which stays. */
    val floor: String,
    val unitName: String,
    val told: String?,
)

/** The screen with the wearer's own settings. */
class SettingsPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var told: String? = null

    fun show(): Shown<SettingsScreen> = shown {
        told = null
        screen()
    }

    /** Keeps the form. Amounts are read in the unit they were shown in, whatever unit is chosen. */
    fun save(form: SettingsForm): Shown<SettingsScreen> = shown {
        try {
            keep(form)
            told = companion.words().label(Label.KEPT)
            screen()
        } catch (refused: ApiException.InvalidInput) {
            // What was typed stays, to be mended.
            told = refused.advice
            screen(form)
        }
    }

    private fun keep(form: SettingsForm) {
        val words = companion.words()
        val before = companion.settings().wearer()
        // What was not touched is kept to the last bit: a line does not move by being shown in another unit.
        val shown = form(before)
        val wearer = before.copy(
            unit = form.unit,
            language = form.language,
            lowLineMgDl = if (form.lowLine == shown.lowLine) before.lowLineMgDl else words.readGlucose(form.lowLine),
            highLineMgDl = if (form.highLine == shown.highLine) before.highLineMgDl else words.readGlucose(form.highLine),
            nightFromMinute = form.nightFrom.toUShort(),
            nightUntilMinute = form.nightUntil.toUShort(),
            weighing = form.weighing,
            insulinFactorMgDlPerUnit =
                if (form.insulinFactor == shown.insulinFactor) before.insulinFactorMgDlPerUnit else factor(form.insulinFactor),
            carbohydrateFactorMgDlPerG =
                if (form.carbohydrateFactor == shown.carbohydrateFactor) before.carbohydrateFactorMgDlPerG
                else factor(form.carbohydrateFactor),
            sensorRatedDays = days(form.ratedDays),
            reorderLeadDays = days(form.leadDays),
            emergencyNumber = form.emergency.trim().ifEmpty { null },
            contactNumber = form.contact.trim().ifEmpty { null },
        )
        companion.settings().setWearer(wearer, clock.now())
    }

    private fun factor(typed: String): Double? =
        if (typed.isBlank()) null else companion.words().readDifferenceMgDl(typed)

    /** A whole number of days; what is none is left to core to refuse. */
    private fun days(typed: String): UShort? {
        if (typed.isBlank()) return null
        val days = companion.words().readNumber(typed)
        return if (days in 0.0..9999.0 && days == Math.rint(days)) days.toInt().toUShort() else UShort.MAX_VALUE
    }

    private fun form(wearer: ebbstead.Wearer): SettingsForm {
        val words = companion.words()
        return SettingsForm(
            unit = wearer.unit,
            language = wearer.language,
            lowLine = words.bareAmount(wearer.lowLineMgDl),
            highLine = words.bareAmount(wearer.highLineMgDl),
            nightFrom = wearer.nightFromMinute.toInt(),
            nightUntil = wearer.nightUntilMinute.toInt(),
            weighing = wearer.weighing,
            insulinFactor = wearer.insulinFactorMgDlPerUnit?.let { words.difference(it) } ?: "",
            carbohydrateFactor = wearer.carbohydrateFactorMgDlPerG?.let { words.difference(it) } ?: "",
            ratedDays = wearer.sensorRatedDays?.toString().orEmpty(),
            leadDays = wearer.reorderLeadDays?.toString().orEmpty(),
            emergency = wearer.emergencyNumber.orEmpty(),
            contact = wearer.contactNumber.orEmpty(),
        )
    }

    private fun screen(typed: SettingsForm? = null): SettingsScreen {
        val words = companion.words()
        return SettingsScreen(
            form = typed ?: form(companion.settings().wearer()),
            names = NAMES.associateWith { words.label(it) },
            floor = words.label(Label.FLOOR_STAYS),
            unitName = words.unit(),
            told = told,
        )
    }

    private companion object {
        val NAMES = listOf(
            Label.UNIT, Label.LANGUAGE, Label.ENGLISH_NAME, Label.GERMAN_NAME, Label.NIGHT_FROM, Label.NIGHT_UNTIL,
            Label.WEIGHING, Label.WEIGHING_SPARING, Label.WEIGHING_BALANCED, Label.WEIGHING_EARLY, Label.INSULIN_FACTOR,
            Label.CARBOHYDRATE_FACTOR, Label.FACTORS_FROM_CARE_TEAM, Label.SAVE, Label.LOW_LINE, Label.HIGH_LINE,
            Label.RATED_DAYS, Label.LEAD_DAYS, Label.EMERGENCY_NUMBER, Label.CONTACT_NUMBER,
        )
    }
}
