package ebbstead.sample.screen

import android.content.Context
import android.view.View
import android.widget.EditText
import ebbstead.GlucoseUnit
import ebbstead.Label
import ebbstead.Language
import ebbstead.Symptom
import ebbstead.Weighing
import ebbstead.sample.present.Field
import ebbstead.sample.present.Kind
import ebbstead.sample.present.KindRow
import ebbstead.sample.present.LogScreen
import ebbstead.sample.present.NightScreen
import ebbstead.sample.present.NowScreen
import ebbstead.sample.present.SettingsForm
import ebbstead.sample.present.SettingsScreen
import ebbstead.sample.present.TimeField
import ebbstead.sample.present.Typing
import ebbstead.sample.present.record.Act
import ebbstead.sample.present.record.Ask
import ebbstead.sample.present.record.Chapter
import ebbstead.sample.present.record.Filled
import ebbstead.sample.present.record.Part
import ebbstead.sample.present.record.RecordScreen

/** What can be pressed; the activity hands it to the presenters. */
class NowActs(val look: () -> Unit, val feels: (Symptom) -> Unit, val metered: (String) -> Unit)

class NightActs(
    val checked: (String) -> Unit,
    val treated: () -> Unit,
    val rolledOver: () -> Unit,
    val severe: () -> Unit,
    val undo: () -> Unit,
)

class LogActs(
    val add: (Kind, String) -> Unit,
    /** A minute of the day was picked. */
    val pick: (Int) -> Unit,
    val undo: () -> Unit,
    val putRight: (String) -> Unit,
    val keepRight: (String) -> Unit,
    val leave: () -> Unit,
    val takeBack: (String) -> Unit,
    val readFile: () -> Unit,
    val findSensor: () -> Unit,
)

class RecordActs(val turnTo: (Chapter) -> Unit, val act: (Act, Filled) -> Unit)

fun nowView(context: Context, palette: Palette, screen: NowScreen, acts: NowActs): View = Sheet(context, palette).run {
    told(screen.told)
    text(screen.verdict, sp = 28f, bold = true, above = 0).isAccessibilityHeading = true
    text(screen.sentence, sp = 20f)
    screen.asides.forEach { text(it) }
    screen.reading?.let { text(it, quiet = true) }
    add(PathView(context, screen.picture, palette), above = 16)
    screen.picture.noted.forEach { text(it.text, sp = 15f, quiet = true, above = 2) }
    for (list in screen.lists) {
        heading(list.name)
        list.items.forEach { item(it) }
    }
    add(View(context), above = 12)
    screen.feelings.forEach { feeling -> button(feeling.text) { acts.feels(feeling.felt) } }
    val meter = field(screen.meter)
    button(screen.add) { acts.metered(meter.text.toString()) }.contentDescription = "${screen.add}: ${screen.meter.name}"
    button(screen.lookNow) { acts.look() }
    text(screen.standing, sp = 15f, quiet = true, above = 20)
    root
}

fun nightView(context: Context, screen: NightScreen, acts: NightActs): View = Sheet(context, Palette.DARK).run {
    text(screen.clock, sp = 22f, quiet = true, above = 0)
    told(screen.told, sp = 20f)
    text(screen.verdict, sp = 34f, bold = true, above = 4).isAccessibilityHeading = true
    text(screen.sentence, sp = 25f)
    screen.asides.forEach { text(it, sp = 22f) }
    screen.reading?.let { text(it, sp = 20f, quiet = true) }
    if (screen.answersOffered) {
        button(screen.treated, sp = 24f, high = 84) { acts.treated() }
        button(screen.rolledOver, sp = 24f, high = 84) { acts.rolledOver() }
        val meter = field(screen.meter, sp = 24f)
        button(screen.checked, sp = 24f, high = 84) { acts.checked(meter.text.toString()) }
    }
    screen.undo?.let { button(it, sp = 20f) { acts.undo() } }
    if (screen.answersOffered) button(screen.severe, sp = 20f) { acts.severe() }
    screen.cautions.forEach { text(it, sp = 20f, quiet = true) }
    root
}

fun logView(context: Context, palette: Palette, screen: LogScreen, acts: LogActs): View = Sheet(context, palette).run {
    told(screen.told)
    fun typed(row: KindRow) = field(row.field, row.kind.typing ?: Typing.WORDS)
    val righting = screen.righting
    if (righting != null) {
        heading(screen.putRight)
        text(righting.text)
        val field = typed(righting.row)
        time(righting.happened) { acts.pick(it) }
        button(screen.putRight) { acts.keepRight(field.text.toString()) }
        button(screen.leave) { acts.leave() }
    } else {
        time(screen.happened) { acts.pick(it) }
        for (kind in screen.kinds) {
            val name = kind.field.name
            if (kind.kind.typing != null) {
                val field = typed(kind)
                smallButtons(name, screen.add to { acts.add(kind.kind, field.text.toString()) })
            } else {
                button(name) { acts.add(kind.kind, "") }
            }
        }
        button(screen.undo) { acts.undo() }
        button(screen.readFile, stays = true) { acts.readFile() }
        button(screen.findSensor, stays = true) { acts.findSensor() }
    }
    screen.empty?.let { text(it) }
    for (day in screen.days) {
        heading(day.day)
        for (row in day.rows) {
            text(row.text, above = 14)
            val takeBack = screen.takeBack to { acts.takeBack(row.id) }
            if (row.putRight) smallButtons(row.text, screen.putRight to { acts.putRight(row.id) }, takeBack)
            else smallButtons(row.text, takeBack)
        }
    }
    root
}

fun recordView(context: Context, palette: Palette, screen: RecordScreen, acts: RecordActs): View = Sheet(context, palette).run {
    choice("", screen.chapters, screen.chapter, narrow = true) { acts.turnTo(it) }
    val typed = mutableMapOf<Ask, EditText>()
    val chosen = mutableMapOf<Ask, String>()
    fun filled(): Filled = chosen + typed.mapValues { it.value.text.toString() }
    for (part in screen.parts) when (part) {
        is Part.Said -> told(part.text)
        is Part.Text -> text(part.text)
        is Part.Heading -> heading(part.text)
        is Part.Typed -> typed[part.ask] = field(part.field, part.ask.typing)
        is Part.Chosen -> choice(part.name, part.options, part.chosen) { chosen[part.ask] = it }
        is Part.Press -> button(part.name, stays = part.act == Act.CHOOSE_OTHER) { acts.act(part.act, filled()) }
        is Part.Letter -> text(part.text).apply {
            text = part.text // to be copied as it is
            setTextIsSelectable(true)
        }
        is Part.Told -> page(part.page)
        is Part.Day -> {
            add(DayView(context, part.picture, palette), above = 16)
            text(part.picture.legend, sp = 15f, quiet = true, above = 2)
        }
    }
    root
}

fun settingsView(context: Context, palette: Palette, screen: SettingsScreen, save: (SettingsForm) -> Unit): View =
    Sheet(context, palette).run {
        fun name(label: Label) = screen.names.getValue(label)
        var form = screen.form
        told(screen.told)
        choice(
            name(Label.UNIT), listOf(GlucoseUnit.MG_DL to "mg/dL", GlucoseUnit.MMOL_L to "mmol/L"), form.unit,
        ) { form = form.copy(unit = it) }
        choice(
            name(Label.LANGUAGE),
            listOf(Language.ENGLISH to name(Label.ENGLISH_NAME), Language.GERMAN to name(Label.GERMAN_NAME)),
            form.language,
        ) { form = form.copy(language = it) }
        val low = field(Field("${name(Label.LOW_LINE)} (${screen.unitName})", form.lowLine))
        text(screen.floor, sp = 15f, quiet = true, above = 0)
        val high = field(Field("${name(Label.HIGH_LINE)} (${screen.unitName})", form.highLine))
        time(TimeField(name(Label.NIGHT_FROM), form.nightFrom)) { form = form.copy(nightFrom = it) }
        time(TimeField(name(Label.NIGHT_UNTIL), form.nightUntil)) { form = form.copy(nightUntil = it) }
        choice(
            name(Label.WEIGHING),
            listOf(
                Weighing.SPARING to name(Label.WEIGHING_SPARING),
                Weighing.BALANCED to name(Label.WEIGHING_BALANCED),
                Weighing.EARLY to name(Label.WEIGHING_EARLY),
            ),
            form.weighing,
        ) { form = form.copy(weighing = it) }
        val insulin = field(Field("${name(Label.INSULIN_FACTOR)} (${screen.unitName})", form.insulinFactor))
        val carbohydrate = field(Field("${name(Label.CARBOHYDRATE_FACTOR)} (${screen.unitName})", form.carbohydrateFactor))
        text(name(Label.FACTORS_FROM_CARE_TEAM), sp = 15f, quiet = true, above = 0)
        val rated = field(Field(name(Label.RATED_DAYS), form.ratedDays))
        val lead = field(Field(name(Label.LEAD_DAYS), form.leadDays))
        button(name(Label.SAVE)) {
            save(
                form.copy(
                    lowLine = low.text.toString(), highLine = high.text.toString(),
                    insulinFactor = insulin.text.toString(), carbohydrateFactor = carbohydrate.text.toString(),
                    ratedDays = rated.text.toString(), leadDays = lead.text.toString(),
                ),
            )
        }
        root
    }

/** What to do where a screen cannot be shown. */
fun troubleView(context: Context, palette: Palette, advice: String, again: String, look: () -> Unit): View =
    Sheet(context, palette).run {
        text(advice, sp = 20f)
        button(again) { look() }
        root
    }
