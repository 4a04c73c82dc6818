package ebbstead.sample.ui

import androidx.compose.foundation.BorderStroke
import androidx.compose.foundation.Canvas
import androidx.compose.foundation.layout.Arrangement
import androidx.compose.foundation.layout.Column
import androidx.compose.foundation.layout.ExperimentalLayoutApi
import androidx.compose.foundation.layout.FlowRow
import androidx.compose.foundation.layout.Row
import androidx.compose.foundation.layout.fillMaxWidth
import androidx.compose.foundation.layout.padding
import androidx.compose.foundation.layout.size
import androidx.compose.material3.MaterialTheme
import androidx.compose.material3.Surface
import androidx.compose.material3.Text
import androidx.compose.runtime.Composable
import androidx.compose.ui.Alignment
import androidx.compose.ui.Modifier
import androidx.compose.ui.geometry.Offset
import androidx.compose.ui.geometry.Size
import androidx.compose.ui.graphics.Color
import androidx.compose.ui.graphics.Outline
import androidx.compose.ui.graphics.Path
import androidx.compose.ui.graphics.Shape
import androidx.compose.ui.graphics.StrokeCap
import androidx.compose.ui.graphics.StrokeJoin
import androidx.compose.ui.graphics.drawscope.DrawScope
import androidx.compose.ui.graphics.drawscope.Stroke
import androidx.compose.ui.platform.testTag
import androidx.compose.ui.semantics.LiveRegionMode
import androidx.compose.ui.semantics.heading
import androidx.compose.ui.semantics.liveRegion
import androidx.compose.ui.semantics.semantics
import androidx.compose.ui.unit.Density
import androidx.compose.ui.unit.Dp
import androidx.compose.ui.unit.LayoutDirection
import androidx.compose.ui.unit.dp
import ebbstead.Verdict
import ebbstead.sample.present.Block
import kotlin.math.PI
import kotlin.math.sin

/** How heavy a verdict lies on the screen: urgency is weight, not hue. */
data class Weight(val ground: Color, val ink: Color, val outline: Dp)

fun weight(verdict: Verdict, palette: Palette): Weight = when (verdict) {
    Verdict.TREAT, Verdict.HELP -> Weight(palette.ink, palette.ground, 0.dp)
    Verdict.CHECK -> Weight(palette.ground, palette.ink, 5.dp)
    Verdict.HOLD -> Weight(palette.tint, palette.ink, 0.dp)
    Verdict.CLEAR -> Weight(palette.ground, palette.ink, 0.dp)
}

/** A block whose lower edge is a wave: the water stands higher or lower, the shape stays. */
private class Wave(private val high: Dp, private val long: Dp) : Shape {
    override fun createOutline(size: Size, layoutDirection: LayoutDirection, density: Density): Outline {
        val (high, long) = with(density) { high.toPx() to long.toPx() }
        return Outline.Generic(Path().apply {
            val corner = 3 * high
            moveTo(corner, 0f)
            lineTo(size.width - corner, 0f)
            quadraticTo(size.width, 0f, size.width, corner)
            var x = size.width
            while (x >= 0) {
                lineTo(x, size.height - high + high * sin(x / long * 2 * PI).toFloat())
                x -= 2f
            }
            lineTo(0f, corner)
            quadraticTo(0f, 0f, corner, 0f)
            close()
        })
    }
}

/** The whole answer in one block: what to do, why, and the reading with its age and its rate in words. */
@OptIn(ExperimentalLayoutApi::class)
@Composable
fun VerdictBlock(block: Block, modifier: Modifier = Modifier) {
    val weight = weight(block.verdict, palette)
    val type = MaterialTheme.typography
    Surface(
        modifier.fillMaxWidth().testTag("verdict").semantics(mergeDescendants = true) { liveRegion = LiveRegionMode.Assertive },
        shape = Wave(7.dp, 64.dp), color = weight.ground, contentColor = weight.ink,
        border = if (weight.outline > 0.dp) BorderStroke(weight.outline, weight.ink) else null,
    ) {
        Column(Modifier.padding(start = 20.dp, end = 20.dp, top = 18.dp, bottom = 28.dp), Arrangement.spacedBy(10.dp)) {
            Row(verticalAlignment = Alignment.CenterVertically, horizontalArrangement = Arrangement.spacedBy(14.dp)) {
                Sign(block.verdict, weight.ink, Modifier.size(44.dp))
                Fitting(block.word, type.displayMedium, Modifier.weight(1f).semantics { heading() })
            }
            Fitting(block.sentence, type.titleLarge)
            for (aside in block.asides) Fitting(aside, type.bodyLarge)
            block.amount?.let { amount ->
                FlowRow(horizontalArrangement = Arrangement.spacedBy(14.dp)) {
                    Text(amount, Modifier.alignByBaseline(), style = type.headlineMedium)
                    for (text in block.beside) Text(text, Modifier.alignByBaseline(), style = type.bodyLarge)
                }
            }
        }
    }
}

/** A verdict's own shape: a filled glass, a drop, level water, a bare line, a call. */
@Composable
fun Sign(verdict: Verdict, ink: Color, modifier: Modifier = Modifier) = Canvas(modifier) {
    when (verdict) {
        Verdict.TREAT -> glass(ink)
        Verdict.CHECK -> drop(ink)
        Verdict.HOLD -> {
            water(ink, 0.38f)
            water(ink, 0.66f)
        }
        Verdict.CLEAR -> water(ink, 0.52f)
        Verdict.HELP -> call(ink)
    }
}

private fun DrawScope.at(x: Float, y: Float) = Offset(x * size.width, y * size.height)

private fun DrawScope.line(share: Float) = Stroke(share * size.minDimension, cap = StrokeCap.Round, join = StrokeJoin.Round)

private fun DrawScope.glass(ink: Color) {
    val outline = Path().apply {
        moveTo(0.16f * size.width, 0.1f * size.height)
        lineTo(0.29f * size.width, 0.92f * size.height)
        lineTo(0.71f * size.width, 0.92f * size.height)
        lineTo(0.84f * size.width, 0.1f * size.height)
    }
    val filled = Path().apply {
        moveTo(0.22f * size.width, 0.36f * size.height)
        quadraticTo(0.36f * size.width, 0.26f * size.height, 0.5f * size.width, 0.36f * size.height)
        quadraticTo(0.64f * size.width, 0.46f * size.height, 0.78f * size.width, 0.36f * size.height)
        lineTo(0.69f * size.width, 0.9f * size.height)
        lineTo(0.31f * size.width, 0.9f * size.height)
        close()
    }
    drawPath(filled, ink)
    drawPath(outline, ink, style = line(0.08f))
}

private fun DrawScope.drop(ink: Color) = drawPath(
    Path().apply {
        moveTo(0.5f * size.width, 0.06f * size.height)
        cubicTo(0.62f * size.width, 0.3f * size.height, 0.84f * size.width, 0.44f * size.height, 0.84f * size.width, 0.64f * size.height)
        cubicTo(0.84f * size.width, 0.83f * size.height, 0.69f * size.width, 0.95f * size.height, 0.5f * size.width, 0.95f * size.height)
        cubicTo(0.31f * size.width, 0.95f * size.height, 0.16f * size.width, 0.83f * size.height, 0.16f * size.width, 0.64f * size.height)
        cubicTo(0.16f * size.width, 0.44f * size.height, 0.38f * size.width, 0.3f * size.height, 0.5f * size.width, 0.06f * size.height)
        close()
    },
    ink, style = line(0.11f),
)

private fun DrawScope.water(ink: Color, level: Float) = drawPath(
    Path().apply {
        moveTo(0.04f * size.width, level * size.height)
        for (n in 0..1) {
            val from = 0.04f + n * 0.46f
            quadraticTo((from + 0.115f) * size.width, (level - 0.1f) * size.height, (from + 0.23f) * size.width, level * size.height)
            quadraticTo((from + 0.345f) * size.width, (level + 0.1f) * size.height, (from + 0.46f) * size.width, level * size.height)
        }
    },
    ink, style = line(0.09f),
)

private fun DrawScope.call(ink: Color) {
    drawLine(ink, at(0.5f, 0.14f), at(0.5f, 0.6f), 0.16f * size.width, StrokeCap.Round)
    drawCircle(ink, 0.1f * size.width, at(0.5f, 0.86f))
    for ((side, way) in listOf(0.22f to -1f, 0.78f to 1f)) {
        drawPath(
            Path().apply {
                moveTo(side * size.width, 0.2f * size.height)
                quadraticTo((side + way * 0.16f) * size.width, 0.38f * size.height, side * size.width, 0.56f * size.height)
            },
            ink, style = line(0.07f),
        )
    }
}
