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
import androidx.compose.runtime.remember
import androidx.compose.ui.Alignment
import androidx.compose.ui.Modifier
import androidx.compose.ui.geometry.Size
import androidx.compose.ui.graphics.Color
import androidx.compose.ui.graphics.Outline
import androidx.compose.ui.graphics.Path
import androidx.compose.ui.graphics.Shape
import androidx.compose.ui.graphics.StrokeCap
import androidx.compose.ui.graphics.StrokeJoin
import androidx.compose.ui.graphics.drawscope.Fill
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
import ebbstead.verdictSign
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

/** A verdict's own shape, as core lays it out: a filled glass, a drop, level water, a bare line, a call. */
@Composable
fun Sign(verdict: Verdict, ink: Color, modifier: Modifier = Modifier) {
    val parts = remember(verdict) { verdictSign(verdict) }
    Canvas(modifier) {
        for (part in parts) {
            val path = Path()
            part.points.forEachIndexed { nth, at ->
                val (x, y) = (at.x * size.width).toFloat() to (at.y * size.height).toFloat()
                if (nth == 0) path.moveTo(x, y) else path.lineTo(x, y)
            }
            val width = part.width?.let { (it * size.minDimension).toFloat() }
            drawPath(path, ink, style = if (width == null) Fill else Stroke(width, cap = StrokeCap.Round, join = StrokeJoin.Round))
        }
    }
}
