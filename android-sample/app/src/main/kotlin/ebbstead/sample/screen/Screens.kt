package ebbstead.sample.screen

import android.content.Context
import android.view.View
import ebbstead.GlucoseUnit
import ebbstead.Label
import ebbstead.Language
import ebbstead.Symptom
import ebbstead.Weighing
import ebbstead.sample.present.Kind
import ebbstead.sample.present.LogScreen
import ebbstead.sample.present.NightScreen
import ebbstead.sample.present.NowScreen
import ebbstead.sample.present.SettingsForm
import ebbstead.sample.present.SettingsScreen

/** What can be pressed; the activity hands it to the presenters. */
class NowActs(val look: () -> Unit, val feels: (Symptom) -> Unit)

class NightActs(val checked: (String) -> Unit, val treated: () -> Unit, val rolledOver: () -> Unit, val undo: () -> Unit)

class LogActs(val add: (Kind, String) -> Unit, val undo: () -> Unit, val takeBack: (String) -> Unit, val readFile: () -> Unit)

fun nowView(context: Context, palette: Palette, screen: NowScreen, acts: NowActs): View = Sheet(context, palette).run {
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
    heading("")
    screen.feelings.forEach { feeling -> button(feeling.text) { acts.feels(feeling.felt) } }
    button(screen.lookNow) { acts.look() }
    text(screen.standing, sp = 15f, quiet = true, above = 20)
    root
}

fun nightView(context: Context, screen: NightScreen, acts: NightActs): View = Sheet(context, Palette.DARK).run {
    text(screen.clock, sp = 22f, quiet = true, above = 0)
    text(screen.verdict, sp = 34f, bold = true, above = 4).isAccessibilityHeading = true
    text(screen.sentence, sp = 25f)
    screen.asides.forEach { text(it, sp = 22f) }
    screen.reading?.let { text(it, sp = 20f, quiet = true) }
    told(screen.kept)
    if (screen.answersOffered) {
        button(screen.treated, sp = 24f, high = 84) { acts.treated() }
        button(screen.rolledOver, sp = 24f, high = 84) { acts.rolledOver() }
        val meter = field(screen.meterShows, sp = 24f)
        button(screen.checked, sp = 24f, high = 84) { acts.checked(meter.text.toString()) }
    }
    if (screen.kept != null) button(screen.undo, sp = 20f) { acts.undo() }
    root
}

fun logView(context: Context, palette: Palette, screen: LogScreen, acts: LogActs): View = Sheet(context, palette).run {
    told(screen.told)
    screen.empty?.let { text(it) }
    for (day in screen.days) {
        heading(day.day)
        for (row in day.rows) {
            // Taking back is a long press, or an action of the screen reader's, so that no thumb does it in passing.
            val line = text(row.text)
            line.minHeight = dp(40)
            line.setOnLongClickListener { acts.takeBack(row.id); true }
            line.contentDescription = row.text
            line.setAccessibilityDelegate(object : View.AccessibilityDelegate() {
                override fun onInitializeAccessibilityNodeInfo(
                    host: View,
                    info: android.view.accessibility.AccessibilityNodeInfo,
                ) {
                    super.onInitializeAccessibilityNodeInfo(host, info)
                    info.addAction(
                        android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction(
                            android.view.accessibility.AccessibilityNodeInfo.ACTION_LONG_CLICK, screen.takeBack,
                        ),
                    )
                }
            })
        }
    }
    button(screen.undo) { acts.undo() }
    for (kind in screen.kinds) {
        if (kind.kind.typed) {
            val typed = field(kind.text, number = kind.kind != Kind.NOTE)
            button(screen.add) { acts.add(kind.kind, typed.text.toString()) }.contentDescription = "${screen.add}: ${kind.text}"
        } else {
            button(kind.text) { acts.add(kind.kind, "") }
        }
    }
    button(screen.readFile) { acts.readFile() }
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
        val low = field("${name(Label.LOW_LINE)} (${screen.unitName})", form.lowLine)
        text(screen.floor, sp = 15f, quiet = true, above = 0)
        val high = field("${name(Label.HIGH_LINE)} (${screen.unitName})", form.highLine)
        val from = field(name(Label.NIGHT_FROM), form.nightFrom)
        val until = field(name(Label.NIGHT_UNTIL), form.nightUntil)
        choice(
            name(Label.WEIGHING),
            listOf(
                Weighing.SPARING to name(Label.WEIGHING_SPARING),
                Weighing.BALANCED to name(Label.WEIGHING_BALANCED),
                Weighing.EARLY to name(Label.WEIGHING_EARLY),
            ),
            form.weighing,
        ) { form = form.copy(weighing = it) }
        val insulin = field("${name(Label.INSULIN_FACTOR)} (${screen.unitName})", form.insulinFactor)
        val carbohydrate = field("${name(Label.CARBOHYDRATE_FACTOR)} (${screen.unitName})", form.carbohydrateFactor)
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
