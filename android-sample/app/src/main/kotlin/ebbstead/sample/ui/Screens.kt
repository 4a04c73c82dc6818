package ebbstead.sample.ui

import androidx.compose.foundation.layout.Arrangement
import androidx.compose.foundation.layout.Column
import androidx.compose.foundation.layout.Row
import androidx.compose.foundation.layout.fillMaxWidth
import androidx.compose.foundation.layout.padding
import androidx.compose.material3.MaterialTheme
import androidx.compose.material3.Text
import androidx.compose.runtime.Composable
import androidx.compose.runtime.MutableState
import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.remember
import androidx.compose.runtime.setValue
import androidx.compose.ui.Modifier
import androidx.compose.ui.unit.dp
import ebbstead.GlucoseUnit
import ebbstead.HelpPage
import ebbstead.NightChoice
import ebbstead.NightOffer
import ebbstead.Symptom
import ebbstead.Verdict
import ebbstead.sample.present.FirstScreen
import ebbstead.sample.present.NightScreen
import ebbstead.sample.present.NowScreen
import ebbstead.sample.present.Pick
import ebbstead.sample.present.Shell
import ebbstead.sample.present.Step

/** What a thumb can do, two in a row, always there. */
@Composable
private fun Thumbs(rows: List<List<@Composable (Modifier) -> Unit>>) =
    Column(Modifier.fillMaxWidth().padding(horizontal = 12.dp, vertical = 8.dp), Arrangement.spacedBy(8.dp)) {
        for (row in rows) Row(horizontalArrangement = Arrangement.spacedBy(8.dp)) { for (one in row) one(Modifier.weight(1f)) }
    }

/** Whether the meter's sheet is open. It opens again whenever there is something against what was typed. */
@Composable
private fun sheet(asked: Boolean, advice: String?): MutableState<Boolean> = remember(asked, advice) { mutableStateOf(asked || advice != null) }

@Composable
fun NowUi(screen: NowScreen, help: String, shell: Shell) {
    var metering by sheet(false, screen.meter.field.advice)
    val verdict = screen.block.verdict
    Scrolled(below = {
        Thumbs(
            listOf(
                listOf(
                    { Act(screen.treated, it, strong = verdict == Verdict.TREAT) { shell.now { now -> now.treated() } } },
                    { Act(screen.meterName, it, strong = verdict == Verdict.CHECK) { metering = true } },
                ),
                listOf(
                    { Act(screen.feelLow, it) { shell.now { now -> now.feels(Symptom.FEELS_LOW) } } },
                    { Act(help, it, help = true, strong = verdict == Verdict.HELP) { shell.help() } },
                ),
            ),
        )
    }) {
        screen.readOnly?.let { Fitting(it, MaterialTheme.typography.titleMedium) }
        VerdictBlock(screen.block)
        DoneLine(screen.done) { shell.now { it.undo() } }
        Items(screen.cautions)
        PathChart(screen.chart)
        Act(screen.before, Modifier.fillMaxWidth()) { shell.openBefore() }
        Folded(screen.why, listOf(screen.wouldChange), 3, screen.more, screen.less)
        if (screen.chart.noted.isNotEmpty()) for (one in screen.chart.noted) Small(one.text)
        for (feeling in screen.feelings) Act(feeling.text, Modifier.fillMaxWidth()) { shell.now { it.feels(feeling.felt) } }
        Small(screen.standing)
    }
    if (metering) MeterSheet(screen.meter, { metering = false }) { typed ->
        metering = false
        shell.now { it.metered(typed) }
    }
}

/** The night: one verdict, three answers, nothing bright. */
@Composable
fun NightUi(screen: NightScreen, help: String, shell: Shell) = Tide(Palette.NIGHT) {
    var metering by sheet(screen.metering, screen.meter.field.advice)
    val verdict = screen.block.verdict
    androidx.compose.material3.Surface(color = palette.ground, contentColor = palette.ink) {
        Scrolled(below = {
            val first = if (verdict == Verdict.TREAT || verdict == Verdict.CHECK) screen.offers.firstOrNull() else null
            val offers = screen.offers.filter { it.what != NightChoice.CALL }.map<NightOffer, @Composable (Modifier) -> Unit> { offer ->
                {
                    Act(offer.text, it, strong = offer == first) {
                        when (offer.what) {
                            NightChoice.CHECKED -> metering = true
                            NightChoice.TREATED -> shell.night { night -> night.treated() }
                            NightChoice.ROLLED_OVER -> shell.night { night -> night.rolledOver() }
                            NightChoice.CALL -> shell.help()
                        }
                    }
                }
            }
            val low: @Composable (Modifier) -> Unit = { Act(screen.feelLow, it) { shell.night { night -> night.feels(Symptom.FEELS_LOW) } } }
            // Where a call is the answer it goes before everything else.
            val calls = screen.offers.any { it.what == NightChoice.CALL }
            val call: @Composable (Modifier) -> Unit = { Act(help, it, help = true, strong = calls) { shell.help() } }
            Thumbs(if (calls) listOf(listOf(call), listOf(low)) else offers.chunked(2) + listOf(listOf(low, call)))
        }) {
            Text(screen.clock, color = palette.quiet, style = MaterialTheme.typography.displaySmall)
            VerdictBlock(screen.block)
            DoneLine(screen.done) { shell.night { it.undo() } }
            for (caution in screen.cautions) Fitting(caution, MaterialTheme.typography.bodyLarge)
            Act(screen.severe, Modifier.fillMaxWidth()) { shell.night { it.feels(Symptom.SEVERE) } }
            Act(screen.before, Modifier.fillMaxWidth()) { shell.openBefore() }
            Act(screen.back, Modifier.fillMaxWidth()) { shell.go(ebbstead.sample.present.Place.NOW) }
        }
        if (metering) MeterSheet(screen.meter, { metering = false }) { typed ->
            metering = false
            shell.night { it.checked(typed) }
        }
    }
}

/** Calls. It needs no log, no readings and no unit. */
@Composable
fun HelpUi(page: HelpPage, shell: Shell) {
    Scrolled(below = { Thumbs(listOf(listOf({ Act(page.back, it) { shell.leaveHelp() } }))) }) {
        VerdictBlock(ebbstead.sample.present.Block(Verdict.HELP, page.heading, page.`when`, emptyList(), null, emptyList()))
        for ((n, call) in page.calls.withIndex()) Act(call.text, Modifier.fillMaxWidth(), strong = n == 0, help = n > 0) { shell.dial(call.number) }
        Fitting(page.meanwhile, MaterialTheme.typography.bodyLarge)
    }
}

@Composable
fun TroubleUi(advice: String, again: String, help: String, shell: Shell) = Scrolled(below = {
    Thumbs(listOf(listOf({ Act(again, it, strong = true) { shell.open() } }, { Act(help, it, help = true) { shell.help() } })))
}) { Fitting(advice, MaterialTheme.typography.headlineSmall) }

private val UNITS = listOf(GlucoseUnit.MG_DL to "mg/dL", GlucoseUnit.MMOL_L to "mmol/L")

@Composable
fun FirstUi(screen: FirstScreen, help: String, shell: Shell) {
    val step = screen.step
    val (text, go) = when (step) {
        is Step.Standing -> step.agree to { shell.first { it.agree() } }
        is Step.Own -> step.next to { shell.first { it.keep() } }
        is Step.Sources -> step.next to { shell.first { it.sourcesSeen() } }
        is Step.Wakes -> step.done to { shell.go(ebbstead.sample.present.Place.NOW) }
    }
    Scrolled(below = {
        Thumbs(
            listOf(
                listOf(
                    { Act(text, it, strong = true, enabled = step !is Step.Own || step.unit != null) { go() } },
                    { Act(help, it, help = true) { shell.help() } },
                ),
            ),
        )
    }) {
        Small("${screen.number} / ${screen.of}")
        Heading(screen.title)
        when (step) {
            is Step.Standing -> for (one in step.texts) Fitting(one, MaterialTheme.typography.titleLarge)
            is Step.Own -> {
                Choice(step.unitName, UNITS, step.unit) { unit -> shell.first { it.choose(unit) } }
                Choice(step.languageName, step.languages, step.language) { language -> shell.first { it.speak(language) } }
            }
            is Step.Sources -> {
                Small(step.sensorWhy)
                Act(step.sensor, Modifier.fillMaxWidth()) { shell.findSensor() }
                Small(step.healthWhy)
                Act(step.health, Modifier.fillMaxWidth()) { shell.readHealth() }
                for (one in step.said) Fitting(one)
                Small(step.fileWhy)
                Act(step.file, Modifier.fillMaxWidth()) { shell.pickFile(Pick.READ_IN) }
            }
            is Step.Wakes -> {
                Small(step.why)
                Act(step.allow, Modifier.fillMaxWidth()) { shell.allowAlerts() }
            }
        }
    }
}
