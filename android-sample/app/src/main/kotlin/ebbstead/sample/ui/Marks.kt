package ebbstead.sample.ui

import androidx.compose.ui.geometry.*
import androidx.compose.ui.graphics.*
import androidx.compose.ui.graphics.drawscope.*
import androidx.compose.ui.text.*
import androidx.compose.ui.unit.*
import ebbstead.*

/** The ink of a mark. */
fun Palette.ink(role: MarkRole): Color = when (role) {
    MarkRole.SCALE -> quiet
    MarkRole.LOW, MarkRole.FLOOR, MarkRole.HIGH -> shore
    MarkRole.PAST -> tint
    MarkRole.BAND -> edge
    MarkRole.HOUR -> water
    MarkRole.HOUR_MEDIAN -> ground
    MarkRole.NOW, MarkRole.PATH, MarkRole.TREATED, MarkRole.READING, MarkRole.METER, MarkRole.NOTED -> ink
}

/** A mark of core's, whose lengths are dp. */
fun DrawScope.paint(mark: Mark, palette: Palette, measurer: TextMeasurer, style: TextStyle) {
    val (shape, ink) = mark.shape to palette.ink(mark.role)
    if (shape !is MarkShape.Text) return paint(shape, ink)
    val text = measurer.measure(shape.text, style.copy(fontSize = (shape.size / fontScale).sp), softWrap = false)
    val share = when (shape.anchor) {
        TextAnchor.START -> 0f
        TextAnchor.MIDDLE -> 0.5f
        TextAnchor.END -> 1f
    }
    val place = offset(shape.at) - Offset(share * text.size.width, text.firstBaseline)
    if (shape.backed) drawRect(palette.ground, place, Size(text.size.width.toFloat(), text.size.height.toFloat()), alpha = 0.8f)
    drawText(text, if (mark.role == MarkRole.BAND) palette.quiet else ink, place)
}

/** A shape of core's in one ink. A text has no ink of its own: it is a mark's. */
fun DrawScope.paint(shape: MarkShape, ink: Color) = when (shape) {
    is MarkShape.Line -> {
        val dashes = if (shape.dashes.isEmpty()) null else PathEffect.dashPathEffect(shape.dashes.map { it.dp.toPx() }.toFloatArray())
        val cap = if (shape.round) StrokeCap.Round else StrokeCap.Butt
        drawPath(path(shape.points, density), ink, style = Stroke(shape.width.dp.toPx(), cap = cap, join = StrokeJoin.Round, pathEffect = dashes))
    }
    is MarkShape.Area -> drawPath(path(shape.points, density).apply { close() }, ink)
    is MarkShape.Dot -> drawCircle(ink, shape.radius.dp.toPx(), offset(shape.at))
    is MarkShape.Text -> Unit
}

private fun DrawScope.offset(at: SheetPoint) = Offset(at.x.dp.toPx(), at.y.dp.toPx())

/** A path through points of core's; `scale` is the pixels in one of their lengths. */
fun path(points: List<SheetPoint>, scale: Float) = Path().apply {
    points.forEachIndexed { n, point ->
        val (x, y) = point.x.toFloat() * scale to point.y.toFloat() * scale
        if (n == 0) moveTo(x, y) else lineTo(x, y)
    }
}
