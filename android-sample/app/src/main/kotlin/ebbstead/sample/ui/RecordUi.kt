package ebbstead.sample.ui

import androidx.compose.foundation.layout.*
import androidx.compose.material3.*
import androidx.compose.runtime.*
import androidx.compose.runtime.saveable.rememberSaveable
import androidx.compose.ui.Modifier
import androidx.compose.ui.semantics.*
import androidx.compose.ui.text.font.FontWeight
import androidx.compose.ui.unit.dp
import ebbstead.*
import ebbstead.sample.present.Shell

/** The chapters as cards, each with the first of what it shows; an open one shows the rest, and what to ask of it lies below. */
@Composable
fun RecordUi(screen: RecordScreen, shell: Shell) {
    if (screen.chapter == null) {
        Scrolled(below = { Thumbs(listOf(help(shell))) }) {
            for (card in screen.cards) Surface(
                { shell.turnTo(card.chapter) }, Modifier.fillMaxWidth(), shape = MaterialTheme.shapes.large, color = palette.raised, contentColor = palette.ink,
            ) {
                Column(Modifier.padding(16.dp), Arrangement.spacedBy(6.dp)) {
                    Fitting(card.name, MaterialTheme.typography.headlineSmall)
                    for (line in card.lines) Fitting(line, MaterialTheme.typography.bodyLarge)
                    card.chart?.let { HoursChart(it) }
                }
            }
        }
        return
    }
    val (asks, shows) = screen.parts.partition { it is RecordPart.Asked || it is RecordPart.Press }
    val fields = asks.filterIsInstance<RecordPart.Asked>().map { it.field }
    // What was touched since core laid the page out.
    val filled = remember(screen.chapter, asks) { mutableStateMapOf<String, String>() }
    val refused = fields.any { it.advice != null }
    // Where there is nothing to show, what can be done stands open.
    var open by rememberSaveable(screen.chapter) { mutableStateOf(shows.none { it is RecordPart.Shown || it is RecordPart.Day }) }
    Scrolled(below = { Thumbs(listOf({ Act(screen.back, it) { shell.turnTo(null) } }, help(shell))) }) {
        for (part in shows) when (part) {
            is RecordPart.Said -> DoneLine(Noted(part.text, null))
            is RecordPart.Text -> Fitting(part.text, MaterialTheme.typography.bodyLarge)
            is RecordPart.Heading -> Heading(part.text)
            is RecordPart.Day -> HoursChart(part.chart)
            is RecordPart.Shown -> PageUi(part.page)
            is RecordPart.Letter -> Fitting(part.text, MaterialTheme.typography.bodyMedium)
            else -> Unit
        }
        if (!open && !refused && asks.isNotEmpty()) Act(screen.more, Modifier.fillMaxWidth()) { open = true }
        if (open || refused) for (part in asks) when (part) {
            is RecordPart.Asked -> FieldUi(part.field, filled)
            is RecordPart.Press -> Act(part.name, Modifier.fillMaxWidth()) {
                // A secret that stands in its field and was not touched counts as well: core keeps none.
                shell.act(part.act, fields.filter { it.takes is FieldTakes.Secret }.associate { it.id to it.value } + filled)
                // Core has it now, and what it emptied must not stand here; a file is only chosen.
                if (part.act != RecordAct.CHOOSE_OTHER) filled.clear()
            }
            else -> Unit
        }
    }
}

@OptIn(ExperimentalLayoutApi::class)
@Composable
fun PageUi(page: Page) {
    if (page.heading.isNotEmpty()) Heading(page.heading)
    for (section in page.sections) Column(verticalArrangement = Arrangement.spacedBy(8.dp)) {
        var open by rememberSaveable(section.heading) { mutableStateOf(!section.folds) }
        section.heading?.let { name ->
            if (section.folds) Act(name, Modifier.fillMaxWidth()) { open = !open }
            else Fitting(name, MaterialTheme.typography.titleMedium, said = Modifier.semantics { heading() })
        }
        if (open) for (block in section.holds) when (block) {
            // As large as a prompt's sentence.
            is PageBlock.Lead -> Fitting(block.text, MaterialTheme.typography.titleLarge)
            is PageBlock.Sentences -> Fitting(block.text, MaterialTheme.typography.bodyLarge)
            is PageBlock.Items -> Items(NamedItems(null, block.items))
            is PageBlock.Table -> Surface(color = palette.raised, contentColor = palette.ink, shape = MaterialTheme.shapes.large) {
                Column(Modifier.fillMaxWidth().padding(14.dp), Arrangement.spacedBy(12.dp)) {
                    for (row in block.rows) Column(Modifier.semantics(mergeDescendants = true) { }) {
                        Fitting(row.name, MaterialTheme.typography.bodyMedium, color = palette.quiet)
                        FlowRow(horizontalArrangement = Arrangement.spacedBy(16.dp)) {
                            for (value in row.values) Text(value, style = MaterialTheme.typography.titleMedium, fontWeight = FontWeight.SemiBold)
                        }
                        if (row.note.isNotEmpty()) Fitting(row.note, MaterialTheme.typography.bodySmall, color = palette.quiet)
                    }
                }
            }
        }
    }
}
