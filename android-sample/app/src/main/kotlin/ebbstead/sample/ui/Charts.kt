package ebbstead.sample.ui

import androidx.compose.foundation.Canvas
import androidx.compose.foundation.layout.*
import androidx.compose.material3.MaterialTheme
import androidx.compose.runtime.*
import androidx.compose.ui.*
import androidx.compose.ui.platform.*
import androidx.compose.ui.semantics.*
import androidx.compose.ui.text.rememberTextMeasurer
import androidx.compose.ui.unit.dp
import ebbstead.*

/** Two hours back and one ahead, as core lays it out. */
@Composable
fun PathChart(chart: Chart) {
    val texts = (chart.amounts + chart.times).map { it.text } + chart.lines.map { it.text } + chart.legend
    Plot("chart", chart, texts) { drawChart(chart, it) }
}

/** The day by the hour, as core lays it out. */
@Composable
fun HoursChart(chart: DayChart) {
    val texts = (chart.amounts + chart.times).map { it.text } + chart.lines.map { it.text }
    Plot("day", chart, texts) { drawDay(chart, it) }
}

/** A drawing of core's, with its words for a screen reader, and under it what has no room on it. */
@Composable
private fun Plot(tag: String, chart: Any, texts: List<String>, layOut: (Sheet) -> Drawing) = BoxWithConstraints(Modifier.fillMaxWidth()) {
    val (measurer, density, palette) = Triple(rememberTextMeasurer(64), LocalDensity.current, palette)
    val style = MaterialTheme.typography.bodySmall
    val drawing = remember(chart, maxWidth, density, style) {
        val widths = texts.associateWith { measurer.measure(it, style, softWrap = false).size.width / density.density.toDouble() }
        layOut(Sheet(maxWidth.value.toDouble(), null, style.fontSize.value * density.fontScale.toDouble(), widths))
    }
    Column(verticalArrangement = Arrangement.spacedBy(6.dp)) {
        Canvas(Modifier.fillMaxWidth().height(drawing.height.dp).testTag(tag).semantics { contentDescription = drawing.text }) {
            for (mark in drawing.marks) paint(mark, palette, measurer, style)
        }
        for (item in drawing.legend) if (!item.onDrawing) Row(
            horizontalArrangement = Arrangement.spacedBy(10.dp), verticalAlignment = Alignment.CenterVertically,
        ) {
            Canvas(Modifier.size(30.dp, 16.dp)) { for (mark in item.sample) paint(mark, palette, measurer, style) }
            Small(item.name)
        }
        for (text in drawing.noted) Small(text)
    }
}
