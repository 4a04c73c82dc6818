package ebbstead.sample.ui

import androidx.compose.foundation.*
import androidx.compose.foundation.layout.*
import androidx.compose.foundation.selection.selectable
import androidx.compose.material3.*
import androidx.compose.runtime.Composable
import androidx.compose.ui.*
import androidx.compose.ui.semantics.Role
import androidx.compose.ui.text.font.FontWeight
import androidx.compose.ui.unit.dp
import ebbstead.sample.present.*

/** Everything on the screen, from what the shell holds. */
@Composable
fun App(shell: Shell, dark: Boolean) = Tide(if (dark) Palette.DARK else Palette.DAY) {
    val face = shell.face
    val ground = if (face.isDark && shell.help == null) Palette.NIGHT.ground else palette.ground
    Surface(Modifier.fillMaxSize(), color = ground, contentColor = palette.ink) {
        Box(Modifier.background(ground).windowInsetsPadding(WindowInsets.safeDrawing)) {
            val help = shell.help
            Column {
                shell.frame.draft?.let { Box(Modifier.padding(horizontal = 12.dp)) { Small(it) } }
                Box(Modifier.weight(1f)) { if (help != null) HelpUi(help, shell) else FaceUi(face, shell) }
            }
        }
    }
}

@Composable
private fun FaceUi(face: Face, shell: Shell) {
    val frame = shell.frame
    when (face) {
        is Face.Now -> if (face.isDark) InTheDark { PromptUi(face.screen, shell) } else Framed(frame, shell, helpInside = true) { PromptUi(face.screen, shell) }
        is Face.Log -> Framed(frame, shell) { LogUi(face.screen, shell) }
        is Face.Record -> Framed(frame, shell) { RecordUi(face.screen, shell) }
        is Face.Settings -> Framed(frame, shell) { SettingsUi(face, shell) }
        is Face.Before -> if (face.isDark) InTheDark { BeforeUi(face, frame.help, shell) } else BeforeUi(face, frame.help, shell)
        is Face.First -> FirstUi(face, frame.help, shell)
        is Face.Trouble -> TroubleUi(face.advice, face.again, frame.help, shell)
        is Face.Opening -> TroubleUi("", null, frame.help, shell)
    }
}

/** Nothing is bright. */
@Composable
private fun InTheDark(content: @Composable () -> Unit) = Tide(Palette.NIGHT) { Surface(color = palette.ground, contentColor = palette.ink, content = content) }

/** The tabs below, a line of water over the one that is open; and the way to help where the screen has none of its own. */
@Composable
private fun Framed(frame: Frame, shell: Shell, helpInside: Boolean = false, content: @Composable () -> Unit) = Column(Modifier.fillMaxSize()) {
    frame.damage?.let {
        Column(Modifier.padding(start = 12.dp, end = 12.dp, top = 8.dp)) { DoneLine(it) { shell.copies() } }
    }
    Box(Modifier.weight(1f)) { content() }
    HorizontalDivider(color = palette.tint)
    Row(Modifier.fillMaxWidth(), verticalAlignment = Alignment.CenterVertically) {
        Row(Modifier.weight(1f).horizontalScroll(rememberScrollState())) {
            for ((place, name) in frame.tabs) Tab(name, place == frame.place) { shell.go(place) }
        }
        if (!helpInside) Act(frame.help, Modifier.padding(end = 8.dp, top = 4.dp, bottom = 4.dp), help = true) { shell.help() }
    }
}

@Composable
private fun Tab(name: String, open: Boolean, go: () -> Unit) = Column(
    Modifier.selectable(open, role = Role.Tab, onClick = go).heightIn(min = FINGER).padding(horizontal = 10.dp), horizontalAlignment = Alignment.CenterHorizontally,
) {
    Box(Modifier.width(36.dp).height(4.dp).background(if (open) palette.ink else palette.ground))
    Text(
        name, Modifier.padding(vertical = 14.dp), style = MaterialTheme.typography.labelMedium,
        fontWeight = if (open) FontWeight.Bold else FontWeight.Medium, color = if (open) palette.ink else palette.quiet,
    )
}
