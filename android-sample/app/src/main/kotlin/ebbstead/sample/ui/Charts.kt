package ebbstead.sample.ui

import androidx.compose.foundation.Canvas
import androidx.compose.foundation.layout.fillMaxWidth
import androidx.compose.foundation.layout.height
import androidx.compose.material3.MaterialTheme
import androidx.compose.runtime.Composable
import androidx.compose.ui.Modifier
import androidx.compose.ui.geometry.Offset
import androidx.compose.ui.geometry.Rect
import androidx.compose.ui.geometry.Size
import androidx.compose.ui.graphics.Color
import androidx.compose.ui.graphics.Path
import androidx.compose.ui.graphics.PathEffect
import androidx.compose.ui.graphics.StrokeCap
import androidx.compose.ui.graphics.drawscope.DrawScope
import androidx.compose.ui.graphics.drawscope.Stroke
import androidx.compose.ui.graphics.drawscope.clipPath
import androidx.compose.ui.platform.LocalDensity
import androidx.compose.ui.platform.testTag
import androidx.compose.ui.semantics.contentDescription
import androidx.compose.ui.semantics.semantics
import androidx.compose.ui.text.TextLayoutResult
import androidx.compose.ui.text.TextMeasurer
import androidx.compose.ui.text.TextStyle
import androidx.compose.ui.text.drawText
import androidx.compose.ui.text.rememberTextMeasurer
import androidx.compose.ui.unit.Dp
import androidx.compose.ui.unit.dp
import ebbstead.DayChart
import ebbstead.DrawnLine
import ebbstead.LineKind
import ebbstead.Chart
import ebbstead.Tick

/** Draws on core's places: minutes or hours across, mg/dL upwards. There is nothing to work out but pixels. */
private class Sheet(
    private val scope: DrawScope,
    private val measurer: TextMeasurer,
    private val style: TextStyle,
    val palette: Palette,
    private val across: ClosedFloatingPointRange<Double>,
    private val upwards: ClosedFloatingPointRange<Double>,
    amounts: List<Tick>,
) {
    private val texts = mutableListOf<Rect>()
    private val inks = mutableListOf<Offset>()
    private val lead = amounts.maxOfOrNull { measure(it.text).size.width } ?: 0
    val left = lead + px(8.dp)
    val right = scope.size.width - px(2.dp)
    val top = px(10.dp)
    val bottom = scope.size.height - measure("0").size.height - px(6.dp)

    fun px(dp: Dp) = with(scope) { dp.toPx() }
    fun measure(text: String): TextLayoutResult = measurer.measure(text, style, softWrap = false)
    fun x(place: Double) = left + ((place - across.start) / (across.endInclusive - across.start) * (right - left)).toFloat()
    fun y(mgDl: Double) = bottom - ((mgDl - upwards.start) / (upwards.endInclusive - upwards.start) * (bottom - top)).toFloat()
    fun at(place: Double, mgDl: Double) = Offset(x(place), y(mgDl))

    fun path(points: List<Offset>, closed: Boolean = false) = Path().apply {
        points.forEachIndexed { n, one -> if (n == 0) moveTo(one.x, one.y) else lineTo(one.x, one.y) }
        if (closed) close()
    }

    /** What no word may touch. */
    fun keepFree(points: List<Offset>) = inks.addAll(points)

    fun scales(amounts: List<Tick>, times: List<Tick>, first: Tick?) = with(scope) {
        for (mark in amounts) {
            val text = measure(mark.text)
            drawText(text, palette.quiet, Offset(left - px(8.dp) - text.size.width, y(mark.value) - text.size.height / 2f))
        }
        // A time that would run into the one before it is left out; the present is always written.
        val taken = mutableListOf<ClosedFloatingPointRange<Float>>()
        for (mark in listOfNotNull(first) + (times - setOfNotNull(first))) {
            val text = measure(mark.text)
            val from = (x(mark.value) - text.size.width / 2).coerceIn(0f, size.width - text.size.width)
            val place = from - px(5.dp)..from + text.size.width + px(5.dp)
            if (taken.none { it.start < place.endInclusive && place.start < it.endInclusive }) {
                taken.add(place)
                drawText(text, if (mark == first) palette.ink else palette.quiet, Offset(from, bottom + px(4.dp)))
            }
        }
    }

    fun across(lines: List<DrawnLine>) = with(scope) {
        for (line in lines) {
            val (wide, on, off) = when (line.kind) {
                LineKind.LOW -> Triple(2.dp, 0f, 0f)
                LineKind.FLOOR -> Triple(2.dp, 2f, 5f)
                LineKind.HIGH -> Triple(1.5.dp, 9f, 6f)
            }
            val dashes = if (on > 0) PathEffect.dashPathEffect(floatArrayOf(px(on.dp), px(off.dp))) else null
            drawLine(palette.shore, Offset(left, y(line.mgDl)), Offset(right, y(line.mgDl)), px(wide), StrokeCap.Round, dashes)
        }
    }

    /** Writes a name where it touches nothing: at the first free place of those offered, else where it touches least. */
    fun name(text: String, places: List<Offset>, colour: Color) = with(scope) {
        val measured = measure(text)
        val (wide, high) = measured.size.width to measured.size.height
        val space = px(3.dp)
        fun rect(at: Offset) = Rect(at, Size(wide.toFloat(), high.toFloat()))
        fun touched(place: Rect) = inks.count { place.inflate(space).contains(it) } + 40 * texts.count { it.overlaps(place) }
        val inside = places.map { Offset(it.x.coerceIn(left + space, maxOf(left + space, right - wide)), it.y.coerceIn(0f, bottom - high)) }
        val best = inside.minByOrNull { touched(rect(it)) } ?: return@with
        texts.add(rect(best))
        if (touched(rect(best)) > 40) drawRect(palette.ground, best, rect(best).size, alpha = 0.8f)
        drawText(measured, colour, best)
    }

    fun names(lines: List<DrawnLine>) {
        for (line in lines) {
            val measured = measure(line.text)
            val steps = generateSequence(left + px(4.dp)) { it + px(8.dp) }.takeWhile { it + measured.size.width <= right }.toList()
            val (above, below) = y(line.mgDl) - measured.size.height - px(1.dp) to y(line.mgDl) + px(1.dp)
            val sides = if (line.kind == LineKind.FLOOR) listOf(below, above) else listOf(above, below)
            name(line.text, sides.flatMap { side -> steps.map { Offset(it, side) } }.ifEmpty { sides.map { Offset(left, it) } }, palette.shore)
        }
    }
}

@Composable
private fun Plot(text: String, tag: String, high: Dp, draw: DrawScope.(TextMeasurer, TextStyle) -> Unit) {
    val measurer = rememberTextMeasurer(64)
    val style = MaterialTheme.typography.bodySmall
    val scale = LocalDensity.current.fontScale
    // Names grow with the type; the drawing between them stays as high as it was.
    val tall = high + 64.dp * (scale - 1f)
    Canvas(Modifier.fillMaxWidth().height(tall).testTag(tag).semantics { contentDescription = text }) { draw(measurer, style) }
}

/**
 * Two hours back and one ahead. What was read is the water's surface; the low line is the shore. The expected path is broken,
 * the band around it hatched, the path if treated now dotted, meter checks are crosses; each is named where it lies.
 */
@Composable
fun PathChart(chart: Chart) {
    val palette = palette
    Plot(chart.text, "chart", 250.dp) { measurer, style ->
        val sheet = Sheet(
            this, measurer, style, palette, chart.fromMinutes..chart.untilMinutes, chart.lowestMgDl..chart.highestMgDl,
            chart.amounts,
        )
        with(sheet) {
            val read = chart.readings.map { at(it.minutes, it.mgDl) }
            val expected = chart.path.map { at(it.minutes, it.mgDl) }
            val most = chart.path.map { at(it.minutes, it.p95MgDl) }
            val least = chart.path.map { at(it.minutes, it.p5MgDl) }
            val treated = chart.treated.map { at(it.minutes, it.mgDl) }
            if (read.size > 1) {
                drawPath(path(listOf(Offset(read.first().x, bottom)) + read + Offset(read.last().x, bottom), closed = true), palette.tint)
            }
            if (expected.size > 1) {
                val outline = path(most + least.asReversed(), closed = true)
                clipPath(outline) {
                    var from = left - (bottom - top)
                    while (from < right) {
                        drawLine(palette.edge, Offset(from, bottom), Offset(from + bottom - top, top), px(0.8.dp))
                        from += px(7.dp)
                    }
                }
                drawPath(outline, palette.edge, style = Stroke(px(1.dp)))
            }
            drawLine(palette.quiet, Offset(left, bottom), Offset(right, bottom), px(1.dp))
            drawLine(palette.quiet, Offset(x(0.0), top), Offset(x(0.0), bottom), px(1.dp))
            across(chart.lines)
            val meters = chart.meters.map { at(it.minutes, it.mgDl) }
            keepFree(read + meters + expected + most + least + treated + (0..24).map { Offset(x(0.0), top + (bottom - top) * it / 24) })
            names(chart.lines)
            if (read.size > 1) drawPath(path(read), palette.ink, style = Stroke(px(2.5.dp), cap = StrokeCap.Round))
            for (one in read) drawCircle(palette.ink, px(2.6.dp), one)
            if (expected.size > 1) {
                val dashes = PathEffect.dashPathEffect(floatArrayOf(px(8.dp), px(5.dp)))
                drawPath(path(expected), palette.ink, style = Stroke(px(2.5.dp), pathEffect = dashes))
            }
            if (treated.size > 1) {
                val dots = PathEffect.dashPathEffect(floatArrayOf(px(1.dp), px(6.dp)))
                drawPath(path(treated), palette.ink, style = Stroke(px(3.dp), cap = StrokeCap.Round, pathEffect = dots))
            }
            for (one in meters) for (way in listOf(1f, -1f)) {
                val half = px(6.dp)
                drawLine(palette.ink, one + Offset(-half, -half * way), one + Offset(half, half * way), px(3.dp))
            }
            for (one in chart.noted) drawLine(palette.ink, Offset(x(one.minutes), bottom - px(8.dp)), Offset(x(one.minutes), bottom), px(3.dp))
            // In core's order: reading, meter check, expected path, band, path if treated.
            val named = chart.legend
            fun around(one: Offset) = listOf(-34f, 14f, -52f, 32f).flatMap { dy -> listOf(-1f, 0f, 1f, 2f).map { one + Offset(px(36.dp) * (it - 1.5f), px(dy.dp)) } }
            read.getOrNull(read.size / 3)?.let { name(named[0], around(it), palette.ink) }
            meters.lastOrNull()?.let { name(named[1], around(it), palette.ink) }
            if (expected.size > 1) {
                val middle = x(chart.untilMinutes / 2)
                name(named[2], around(expected[expected.size / 2]) + listOf(Offset(middle, top)), palette.ink)
                name(named[3], around(most.last()) + around(least.last()) + listOf(Offset(middle, top), Offset(middle, bottom - px(24.dp))), palette.quiet)
            }
            if (treated.size > 1) name(named[4], around(treated.last()) + around(treated[treated.size / 2]), palette.ink)
            scales(chart.amounts, chart.times, chart.times.firstOrNull { it.value == 0.0 })
        }
    }
}

/** The day by the hour: a post an hour, its thick part the middle half, a notch at the median. */
@Composable
fun HoursChart(chart: DayChart) {
    val palette = palette
    Plot(chart.text, "day", 210.dp) { measurer, style ->
        val sheet = Sheet(this, measurer, style, palette, 0.0..24.0, chart.lowestMgDl..chart.highestMgDl, chart.amounts)
        with(sheet) {
            across(chart.lines)
            val wide = px(7.dp)
            for (post in chart.posts) {
                drawLine(palette.edge, at(post.hours, post.p10MgDl), at(post.hours, post.p90MgDl), px(2.dp), StrokeCap.Round)
                drawLine(palette.water, at(post.hours, post.p25MgDl), at(post.hours, post.p75MgDl), wide, StrokeCap.Round)
                val notch = at(post.hours, post.p50MgDl)
                drawLine(palette.ground, notch - Offset(wide / 2, 0f), notch + Offset(wide / 2, 0f), px(2.dp))
            }
            keepFree(chart.posts.flatMap { post -> listOf(post.p10MgDl, post.p25MgDl, post.p50MgDl, post.p75MgDl, post.p90MgDl).map { at(post.hours, it) } })
            names(chart.lines)
            scales(chart.amounts, chart.times, null)
        }
    }
}
