package ebbstead.sample.ui

import androidx.compose.foundation.layout.Arrangement
import androidx.compose.foundation.layout.Column
import androidx.compose.foundation.layout.ExperimentalLayoutApi
import androidx.compose.foundation.layout.FlowRow
import androidx.compose.foundation.layout.fillMaxWidth
import androidx.compose.foundation.layout.padding
import androidx.compose.material3.MaterialTheme
import androidx.compose.material3.Surface
import androidx.compose.material3.Text
import androidx.compose.runtime.Composable
import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateMapOf
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.remember
import androidx.compose.runtime.saveable.rememberSaveable
import androidx.compose.runtime.setValue
import androidx.compose.ui.Modifier
import androidx.compose.ui.semantics.heading
import androidx.compose.ui.semantics.semantics
import androidx.compose.ui.text.font.FontWeight
import androidx.compose.ui.unit.dp
import ebbstead.Page
import ebbstead.PageBlock
import ebbstead.sample.present.Done
import ebbstead.sample.present.Named
import ebbstead.sample.present.Shell
import ebbstead.sample.present.record.Ask
import ebbstead.sample.present.record.Part
import ebbstead.sample.present.record.RecordScreen

/** The chapters as cards, each with the first of what it shows; an open one shows the rest, and what to ask of it lies below. */
@Composable
fun RecordUi(screen: RecordScreen, shell: Shell) {
    if (screen.chapter == null) {
        Scrolled({}) {
            for (card in screen.cards) Surface(
                { shell.turnTo(card.chapter) }, Modifier.fillMaxWidth(), shape = MaterialTheme.shapes.large, color = palette.raised, contentColor = palette.ink,
            ) {
                Column(Modifier.padding(16.dp), Arrangement.spacedBy(6.dp)) {
                    Fitting(card.name, MaterialTheme.typography.headlineSmall)
                    for (line in card.lines) Fitting(line, MaterialTheme.typography.bodyLarge)
                }
            }
        }
        return
    }
    // What is filled in belongs to this chapter's page alone.
    val filled = remember(screen.chapter, screen.asks) { mutableStateMapOf<Ask, String>() }
    val form = remember(screen.chapter, screen.asks) { mutableStateMapOf<String, String>() }
    val refused = screen.asks.any { it is Part.Typed && it.field.advice != null || it is Part.Asked && it.form.fields.any { field -> field.advice != null } }
    // Where there is nothing to show, what can be done stands open.
    var open by rememberSaveable(screen.chapter) { mutableStateOf(screen.answer.none { it is Part.Page || it is Part.Day }) }
    Scrolled(below = {
        Column(Modifier.fillMaxWidth().padding(horizontal = 12.dp, vertical = 8.dp)) { Act(screen.back, Modifier.fillMaxWidth()) { shell.turnTo(null) } }
    }) {
        for (part in screen.answer) when (part) {
            is Part.Said -> DoneLine(Done(part.text, null)) {}
            is Part.Text -> Fitting(part.text, MaterialTheme.typography.bodyLarge)
            is Part.Heading -> Heading(part.text)
            is Part.Day -> {
                HoursChart(part.chart)
                Small(part.chart.legend)
            }
            is Part.Page -> PageUi(part.page)
            is Part.Letter -> Fitting(part.text, MaterialTheme.typography.bodyMedium)
            else -> Unit
        }
        if (!open && !refused && screen.asks.isNotEmpty()) Act(screen.asksName, Modifier.fillMaxWidth()) { open = true }
        if (open || refused) for (part in screen.asks) when (part) {
            is Part.Typed -> Typed(part.field, filled[part.ask] ?: part.field.typed, part.ask.typing) { filled[part.ask] = it }
            is Part.Asked -> FormUi(part.form, form)
            is Part.Chosen -> Choice(part.name, part.options, filled[part.ask] ?: part.chosen) { filled[part.ask] = it }
            is Part.Press -> Act(part.name, Modifier.fillMaxWidth()) {
                // What stands in a field and was not touched counts as well: a passphrase that opened a copy, for one.
                val standing = screen.asks.filterIsInstance<Part.Typed>().associate { it.ask to it.field.typed }
                shell.act(part.act, standing + filled, form.toMap())
            }
            else -> Unit
        }
    }
}

@OptIn(ExperimentalLayoutApi::class)
@Composable
fun PageUi(page: Page, leads: Boolean = false) {
    Heading(page.heading)
    for ((n, section) in page.sections.withIndex()) Column(verticalArrangement = Arrangement.spacedBy(8.dp)) {
        section.heading?.let { Fitting(it, MaterialTheme.typography.titleMedium, Modifier.semantics { heading() }) }
        for (block in section.holds) when (block) {
            // What is asked ahead is answered first, and as large as a prompt's sentence.
            is PageBlock.Sentences -> Fitting(block.text, if (leads && n == 0) MaterialTheme.typography.titleLarge else MaterialTheme.typography.bodyLarge)
            is PageBlock.Items -> Items(Named("", block.items))
            is PageBlock.Table -> Surface(color = palette.raised, contentColor = palette.ink, shape = MaterialTheme.shapes.large) {
                Column(Modifier.fillMaxWidth().padding(14.dp), Arrangement.spacedBy(12.dp)) {
                    for (row in block.rows) Column(Modifier.semantics(mergeDescendants = true) { }) {
                        Fitting(row.name, MaterialTheme.typography.bodyMedium, color = palette.quiet)
                        FlowRow(horizontalArrangement = Arrangement.spacedBy(16.dp)) {
                            // An amount is never parted from what its column is.
                            row.values.forEachIndexed { n, value ->
                                val column = block.columns.getOrNull(n)?.takeIf { block.columns.size > 1 }
                                Text(if (column == null) value else "$value ($column)", style = MaterialTheme.typography.titleMedium, fontWeight = FontWeight.SemiBold)
                            }
                        }
                        if (row.note.isNotEmpty()) Fitting(row.note, MaterialTheme.typography.bodySmall, color = palette.quiet)
                    }
                }
            }
        }
    }
}
