package ebbstead.sample.ui

import androidx.compose.foundation.layout.*
import androidx.compose.material3.*
import androidx.compose.runtime.*
import androidx.compose.runtime.saveable.rememberSaveable
import androidx.compose.runtime.snapshots.SnapshotStateMap
import androidx.compose.ui.Modifier
import androidx.compose.ui.unit.dp
import ebbstead.*
import ebbstead.sample.present.*

/** What a thumb can do, two in a row, always there. */
@Composable
fun Thumbs(all: List<@Composable (Modifier) -> Unit>) =
    Column(Modifier.fillMaxWidth().padding(horizontal = 12.dp, vertical = 8.dp), Arrangement.spacedBy(8.dp)) {
        for (row in all.chunked(2)) Row(horizontalArrangement = Arrangement.spacedBy(8.dp)) { for (one in row) one(Modifier.weight(1f)) }
    }

/** The way to help, on every screen. */
fun help(shell: Shell): @Composable (Modifier) -> Unit = { Act(shell.frame.help, it, help = true) { shell.help() } }

/** The screen with the prompt, as core lays it out; in the night there is a clock above it, and a way back. */
@Composable
fun PromptUi(screen: PromptScreen, shell: Shell) {
    Scrolled(below = { Thumbs(screen.pinned.map { button -> { Press(button, it, shell) } }) }) {
        if (screen.atNight) Text(screen.clock, color = palette.quiet, style = MaterialTheme.typography.displaySmall)
        for (part in screen.parts) PartUi(part, shell)
        if (screen.atNight) Act(screen.back, Modifier.fillMaxWidth()) { shell.tap(PromptTap.LeaveNight) }
    }
    if (screen.state.meter != null) MeterSheet(screen, shell)
}

@Composable
private fun Press(button: PromptButton, modifier: Modifier, shell: Shell) =
    Act(button.text, modifier, strong = button.isMain, help = button.tap is PromptTap.Help) { shell.tap(button.tap) }

@Composable
private fun PartUi(part: PromptPart, shell: Shell) = when (part) {
    is PromptPart.Lead -> VerdictBlock(part.headline)
    is PromptPart.Became -> DoneLine(part.noted) { shell.tap(PromptTap.Undo) }
    is PromptPart.Notice -> Fitting(part.text, MaterialTheme.typography.titleMedium)
    is PromptPart.Items -> Items(part.list)
    is PromptPart.Drawn -> PathChart(part.chart)
    is PromptPart.Press -> Press(part.button, Modifier.fillMaxWidth(), shell)
    is PromptPart.Folded -> Folded(part)
    is PromptPart.Text -> Small(part.text)
}

/** Asks what the meter shows; stays open while core has something to say against it. */
@Composable
private fun MeterSheet(screen: PromptScreen, shell: Shell) {
    val field = screen.state.meter ?: return
    var typed by rememberSaveable(field.value, field.advice) { mutableStateOf(field.value) }
    fun leave() = shell.tap(PromptTap.LeaveMeter)
    BottomSheet(::leave, shell) {
        Typed(field, typed) { typed = it }
        Act(screen.keep, Modifier.fillMaxWidth(), strong = true) { shell.metered(typed) }
        Act(screen.leave, Modifier.fillMaxWidth(), onClick = ::leave)
    }
}

/** Calls. It needs no log, no readings and no unit. */
@Composable
fun HelpUi(page: HelpPage, shell: Shell) {
    Scrolled(below = { Thumbs(listOf { Act(page.back, it) { shell.back() } }) }) {
        VerdictBlock(PromptHeadline(Verdict.HELP, page.heading, page.`when`, emptyList(), null, emptyList()))
        for ((n, call) in page.calls.withIndex()) Act(call.text, Modifier.fillMaxWidth(), strong = n == 0, help = n > 0) { shell.dial(call.number) }
        Fitting(page.meanwhile, MaterialTheme.typography.bodyLarge)
    }
}

@Composable
fun TroubleUi(advice: String?, again: String?, shell: Shell) = Scrolled(below = {
    Thumbs(listOfNotNull(again?.let { name -> { Act(name, it, strong = true) { shell.open() } } }, help(shell)))
}) { if (advice == null) CircularProgressIndicator(Modifier.padding(24.dp)) else Fitting(advice, MaterialTheme.typography.headlineSmall) }

/** A step of the first start, as core lays it out. */
@Composable
fun FirstUi(face: Face.First, shell: Shell) {
    val screen = face.screen
    // What was touched, choices among it, until the step is left.
    val filled = remember(screen.step) { mutableStateMapOf<String, String>().apply { putAll(face.filled) } }
    fun goOn() = if (screen.isLast) shell.go(Place.NOW) else shell.firstNext(screen.step, face.filled + filled)
    Scrolled(below = {
        Thumbs(listOf({ Act(screen.next, it, strong = true, enabled = screen.canGoOn) { goOn() } }, help(shell)))
    }) {
        Small(screen.place)
        Heading(screen.title)
        for (part in screen.parts) FirstPartUi(part, shell, filled) { shell.firstFilled(screen.step, face.filled + filled) }
        if (face.said.isNotEmpty()) DoneLine(Noted(face.said.joinToString("\n"), null))
    }
}

/** A part of the first start; where readings come from stands on the log's screen too. */
@Composable
fun FirstPartUi(part: FirstPart, shell: Shell, filled: SnapshotStateMap<String, String> = mutableStateMapOf(), chose: () -> Unit = {}) = when (part) {
    is FirstPart.Sentence -> Fitting(part.text, MaterialTheme.typography.titleLarge)
    is FirstPart.Text -> Small(part.text)
    is FirstPart.Asked -> FieldUi(part.field, filled, chose)
    is FirstPart.Press -> Column(verticalArrangement = Arrangement.spacedBy(14.dp)) {
        var followed by remember(shell.face) { mutableStateOf(shell.followed(part.ask)) }
        Act(part.name, Modifier.fillMaxWidth()) { shell.firstAsks(part.ask) }
        for ((name, leave) in followed) {
            Small(name)
            Act(shell.word(Label.LEAVE_SOURCE), Modifier.fillMaxWidth()) {
                leave()
                followed = shell.followed(part.ask)
            }
        }
    }
}
