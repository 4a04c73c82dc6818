package ebbstead.sample.ui

import androidx.compose.foundation.clickable
import androidx.compose.foundation.layout.Arrangement
import androidx.compose.foundation.layout.Column
import androidx.compose.foundation.layout.Row
import androidx.compose.foundation.layout.fillMaxWidth
import androidx.compose.foundation.layout.heightIn
import androidx.compose.foundation.layout.padding
import androidx.compose.material3.MaterialTheme
import androidx.compose.material3.Surface
import androidx.compose.material3.Text
import androidx.compose.runtime.Composable
import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.remember
import androidx.compose.runtime.setValue
import androidx.compose.ui.Alignment
import androidx.compose.ui.Modifier
import androidx.compose.ui.semantics.Role
import androidx.compose.ui.unit.dp
import ebbstead.sample.present.Kind
import ebbstead.sample.present.KindRow
import ebbstead.sample.present.LogRow
import ebbstead.sample.present.LogScreen
import ebbstead.sample.present.Pick
import ebbstead.sample.present.Shell
import ebbstead.sample.present.Typing

/** What was noted, day by day. One button opens the kinds; an entry opens what can be done with it. */
@Composable
fun LogUi(screen: LogScreen, shell: Shell) {
    val refused = screen.kinds.firstOrNull { it.field.advice != null }
    var adding by remember(screen.days, refused) { mutableStateOf(refused != null) }
    var chosen by remember { mutableStateOf<LogRow?>(null) }
    Scrolled(below = {
        Column(Modifier.fillMaxWidth().padding(horizontal = 12.dp, vertical = 8.dp)) {
            Act(screen.open, Modifier.fillMaxWidth(), strong = true) { adding = true }
        }
    }) {
        DoneLine(screen.done) { shell.log { it.undo() } }
        screen.empty?.let { Fitting(it, MaterialTheme.typography.titleLarge) }
        for (day in screen.days) {
            Heading(day.day)
            Surface(color = palette.raised, contentColor = palette.ink, shape = MaterialTheme.shapes.large) {
                Column {
                    for (row in day.rows) Row(
                        Modifier.fillMaxWidth().clickable(role = Role.Button) { chosen = row }.heightIn(min = FINGER).padding(14.dp),
                        Arrangement.spacedBy(14.dp), Alignment.CenterVertically,
                    ) {
                        Text(row.clock, color = palette.quiet, style = MaterialTheme.typography.titleMedium)
                        Fitting(row.text, MaterialTheme.typography.bodyLarge, Modifier.weight(1f))
                    }
                }
            }
        }
        Act(screen.readFile, Modifier.fillMaxWidth()) { shell.pickFile(Pick.READ_IN) }
        Act(screen.findSensor, Modifier.fillMaxWidth()) { shell.findSensor() }
    }
    screen.righting?.let { righting ->
        BottomSheet({ shell.log { it.leave() } }) {
            Fitting(righting.text, MaterialTheme.typography.titleMedium)
            var typed by remember(righting.row.field) { mutableStateOf(righting.row.field.typed) }
            Typed(righting.row.field, typed, righting.row.kind.typing ?: Typing.WORDS) { typed = it }
            Clocked(righting.happened) { minute -> shell.log { it.picking(minute) } }
            Act(screen.putRight, Modifier.fillMaxWidth(), strong = true) { shell.log { it.keepRight(typed) } }
            Act(screen.leave, Modifier.fillMaxWidth()) { shell.log { it.leave() } }
        }
        return
    }
    chosen?.let { row ->
        BottomSheet({ chosen = null }) {
            Text("${row.clock}  ${row.text}", style = MaterialTheme.typography.titleMedium)
            if (row.putRight) Act(screen.putRight, Modifier.fillMaxWidth()) {
                chosen = null
                shell.log { it.putRight(row.id) }
            }
            Act(screen.takeBack, Modifier.fillMaxWidth()) {
                chosen = null
                shell.log { it.takeBack(row.id) }
            }
            Act(screen.leave, Modifier.fillMaxWidth()) { chosen = null }
        }
    }
    if (adding) AddSheet(screen, refused, { adding = false }, shell)
}

/** The kinds that can be noted; then a field, and when it was. */
@Composable
private fun AddSheet(screen: LogScreen, refused: KindRow?, leave: () -> Unit, shell: Shell) = BottomSheet(leave) {
    var picked: Kind? by remember(refused) { mutableStateOf(refused?.kind) }
    val row = screen.kinds.firstOrNull { it.kind == picked }
    if (row == null) {
        for (one in screen.kinds) Act(one.field.name, Modifier.fillMaxWidth()) { picked = one.kind }
    } else {
        var typed by remember(row.field) { mutableStateOf(row.field.typed) }
        val typing = row.kind.typing
        if (typing == null) Fitting(row.field.name, MaterialTheme.typography.titleMedium) else Typed(row.field, typed, typing) { typed = it }
        Clocked(screen.happened) { minute -> shell.log { it.picking(minute) } }
        Act(screen.add, Modifier.fillMaxWidth(), strong = true) { shell.log { it.add(row.kind, typed) } }
    }
    Act(screen.leave, Modifier.fillMaxWidth(), onClick = leave)
}
