package ebbstead.sample.screen

import android.content.Context
import android.view.View
import ebbstead.GlucoseUnit
import ebbstead.Label
import ebbstead.Language
import ebbstead.Symptom
import ebbstead.Weighing
import ebbstead.sample.present.Chapter
import ebbstead.sample.present.Field
import ebbstead.sample.present.Kind
import ebbstead.sample.present.KindRow
import ebbstead.sample.present.LogScreen
import ebbstead.sample.present.NightScreen
import ebbstead.sample.present.NowScreen
import ebbstead.sample.present.RecordForm
import ebbstead.sample.present.RecordScreen
import ebbstead.sample.present.SettingsForm
import ebbstead.sample.present.SettingsScreen

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
    val undo: () -> Unit,
    val putRight: (String) -> Unit,
    val keepRight: (String) -> Unit,
    val leave: () -> Unit,
    val takeBack: (String) -> Unit,
    val readFile: () -> Unit,
    val findSensor: () -> Unit,
)

class RecordActs(val turnTo: (Chapter) -> Unit, val ask: (RecordForm) -> Unit, val more: (RecordForm) -> Unit)

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
    fun typed(row: KindRow) = field(row.field, number = row.kind.number)
    val righting = screen.righting
    if (righting != null) {
        heading(screen.putRight)
        text(righting.text)
        val field = typed(righting.row)
        button(screen.putRight) { acts.keepRight(field.text.toString()) }
        button(screen.leave) { acts.leave() }
    } else {
        for (kind in screen.kinds) {
            val name = kind.field.name
            if (kind.kind.typed) {
                val field = typed(kind)
                smallButtons(name, screen.add to { acts.add(kind.kind, field.text.toString()) })
            } else {
                button(name) { acts.add(kind.kind, "") }
            }
        }
        button(screen.undo) { acts.undo() }
        button(screen.readFile) { acts.readFile() }
        button(screen.findSensor) { acts.findSensor() }
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
    choice("", screen.chapters, screen.chapter) { acts.turnTo(it) }
    var form = screen.form
    val fields = screen.fields
    fields.aims?.let { aims -> choice(aims) { form = form.copy(aims = it) } }
    fields.pressed?.let { pressed -> choice(pressed) { form = form.copy(withoutPressed = it) } }
    fun typed(field: Field?) = field?.let { field(it) }
    val (days, rated) = Pair(typed(fields.days), typed(fields.ratedDays))
    val lot = fields.lot?.let { field(it, number = false) }
    val (high, delay, repeat) = Triple(typed(fields.highLine), typed(fields.highDelay), typed(fields.repeat))
    fun filled(): RecordForm {
        fun text(field: android.widget.EditText?) = field?.text?.toString() ?: ""
        return form.copy(
            days = text(days), ratedDays = text(rated), lot = text(lot), highLine = text(high), highDelay = text(delay),
            repeat = text(repeat),
        )
    }
    screen.show?.let { button(it) { acts.ask(filled()) } }
    screen.more?.let { button(it) { acts.more(filled()) } }
    told(screen.told)
    screen.sheet?.let { text(it).setTextIsSelectable(true) }
    screen.day?.let {
        add(DayView(context, it, palette), above = 16)
        text(it.legend, sp = 15f, quiet = true, above = 2)
    }
    screen.page?.let { page(it) }
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
        val from = field(Field(name(Label.NIGHT_FROM), form.nightFrom))
        val until = field(Field(name(Label.NIGHT_UNTIL), form.nightUntil))
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
        button(name(Label.SAVE)) {
            save(
                form.copy(
                    lowLine = low.text.toString(), highLine = high.text.toString(), nightFrom = from.text.toString(),
                    nightUntil = until.text.toString(), insulinFactor = insulin.text.toString(),
                    carbohydrateFactor = carbohydrate.text.toString(),
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
