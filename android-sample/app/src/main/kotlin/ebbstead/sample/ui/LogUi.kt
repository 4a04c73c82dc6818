package ebbstead.sample.ui

import androidx.compose.foundation.clickable
import androidx.compose.foundation.layout.*
import androidx.compose.material3.*
import androidx.compose.runtime.*
import androidx.compose.ui.*
import androidx.compose.ui.semantics.Role
import androidx.compose.ui.unit.dp
import ebbstead.*
import ebbstead.sample.present.Shell

/** What was noted, day by day. One button opens core's form; an entry opens what can be done with it. */
@Composable
fun LogUi(screen: LogScreen, shell: Shell) {
    var chosen by remember { mutableStateOf<Listed?>(null) }
    Scrolled(below = { Thumbs(listOf({ Act(shell.word(Label.ADD_ENTRY), it, strong = true) { shell.log(LogTap.Add) } }, help(shell))) }) {
        DoneLine(screen.noted) { shell.log(LogTap.Undo) }
        screen.inserted?.let { Act(it, Modifier.fillMaxWidth()) { shell.log(LogTap.Inserted) } }
        screen.empty?.let { Fitting(it, MaterialTheme.typography.titleLarge) }
        for (day in screen.days) {
            Heading(day.day)
            Surface(color = palette.raised, contentColor = palette.ink, shape = MaterialTheme.shapes.large) {
                Column {
                    for (row in day.entries) Row(
                        Modifier.fillMaxWidth().clickable(role = Role.Button) { chosen = row }.heightIn(min = FINGER).padding(14.dp),
                        Arrangement.spacedBy(14.dp), Alignment.CenterVertically,
                    ) {
                        Text(row.clock, color = palette.quiet, style = MaterialTheme.typography.titleMedium)
                        Fitting(row.entry.text, MaterialTheme.typography.bodyLarge, Modifier.weight(1f))
                    }
                }
            }
        }
        for (part in screen.sources) FirstPartUi(part, shell)
    }
    screen.form?.let { form ->
        FillSheet(form, shell)
        return
    }
    chosen?.let { row ->
        fun tap(tap: LogTap) {
            chosen = null
            shell.log(tap)
        }
        BottomSheet({ chosen = null }, shell) {
            Text("${row.clock}  ${row.entry.text}", style = MaterialTheme.typography.titleMedium)
            if (row.hasForm) Act(shell.word(Label.PUT_RIGHT), Modifier.fillMaxWidth()) { tap(LogTap.PutRight(row.entry.id)) }
            Act(shell.word(Label.TAKE_BACK), Modifier.fillMaxWidth()) { tap(LogTap.TakeBack(row.entry.id)) }
            Act(shell.word(Label.CANCEL), Modifier.fillMaxWidth()) { chosen = null }
        }
    }
}

/** Core's form: what to add, or what an entry says, to be put right. */
@Composable
private fun FillSheet(form: Form, shell: Shell) = BottomSheet({ shell.log(LogTap.Look) }, shell) {
    val filled = touched(form)
    Fitting(form.heading, MaterialTheme.typography.titleMedium)
    FormUi(form, filled) { shell.log(LogTap.Fill, filled.toMap()) }
    if (form.main.isNotEmpty()) Act(form.main, Modifier.fillMaxWidth(), strong = true) { shell.log(LogTap.Keep, filled.toMap()) }
    Act(shell.word(Label.CANCEL), Modifier.fillMaxWidth()) { shell.log(LogTap.Look) }
}
