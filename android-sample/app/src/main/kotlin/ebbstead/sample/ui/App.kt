package ebbstead.sample.ui

import androidx.compose.foundation.*
import androidx.compose.foundation.layout.*
import androidx.compose.foundation.selection.selectable
import androidx.compose.material3.*
import androidx.compose.runtime.Composable
import androidx.compose.ui.*
import androidx.compose.ui.semantics.*
import androidx.compose.ui.text.font.FontWeight
import androidx.compose.ui.unit.dp
import ebbstead.sample.present.*

/** Everything on the screen, from what the shell holds. */
@Composable
fun App(shell: Shell, dark: Boolean) = Tide(if (shell.face.isDark) Palette.NIGHT else if (dark) Palette.DARK else Palette.DAY) {
    Surface(Modifier.fillMaxSize(), color = palette.ground, contentColor = palette.ink) {
        Box(Modifier.background(palette.ground).windowInsetsPadding(WindowInsets.safeDrawing)) {
            val help = shell.help
            Column {
                shell.frame.draft?.let { Box(Modifier.padding(horizontal = 12.dp)) { Small(it) } }
                Box(Modifier.weight(1f)) {
                    // What was typed stays under it.
                    Box(if (help == null) Modifier else Modifier.clearAndSetSemantics { }) { FaceUi(shell.face, shell) }
                    help?.let { Surface(Modifier.fillMaxSize(), color = palette.ground) { HelpUi(it, shell) } }
                }
            }
        }
    }
}

@Composable
private fun FaceUi(face: Face, shell: Shell) {
    val frame = shell.frame
    when (face) {
        is Face.Now -> if (face.isDark) PromptUi(face.screen, shell) else Framed(frame, shell) { PromptUi(face.screen, shell) }
        is Face.Log -> Framed(frame, shell) { LogUi(face.screen, shell) }
        is Face.Record -> Framed(frame, shell) { RecordUi(face.screen, shell) }
        is Face.Settings -> Framed(frame, shell) { SettingsUi(face, shell) }
        is Face.Before -> BeforeUi(face, shell)
        is Face.First -> FirstUi(face, shell)
        is Face.Trouble -> TroubleUi(face.advice, face.again, shell)
        is Face.Opening -> if (face.dark) TroubleUi(null, null, shell) else Framed(frame, shell) { TroubleUi(null, null, shell) }
    }
}

/** The tabs below, a line of water over the one that is open. */
@Composable
private fun Framed(frame: Frame, shell: Shell, content: @Composable () -> Unit) = Column(Modifier.fillMaxSize()) {
    frame.damage?.let {
        Column(Modifier.padding(start = 12.dp, end = 12.dp, top = 8.dp)) { DoneLine(it) { shell.copies() } }
    }
    Box(Modifier.weight(1f)) { content() }
    HorizontalDivider(color = palette.tint)
    Row(Modifier.fillMaxWidth()) {
        for ((place, name) in frame.tabs) Tab(name, place == frame.place, Modifier.weight(1f)) { shell.go(place) }
    }
}

@Composable
private fun Tab(name: String, open: Boolean, modifier: Modifier, go: () -> Unit) = Column(
    modifier.selectable(open, role = Role.Tab, onClick = go).heightIn(min = FINGER).padding(horizontal = 4.dp), horizontalAlignment = Alignment.CenterHorizontally,
) {
    Box(Modifier.width(36.dp).height(4.dp).background(if (open) palette.ink else palette.ground))
    val style = MaterialTheme.typography.labelMedium.copy(fontWeight = if (open) FontWeight.Bold else FontWeight.Medium)
    Fitting(name, style, Modifier.padding(vertical = 14.dp), if (open) palette.ink else palette.quiet)
}
