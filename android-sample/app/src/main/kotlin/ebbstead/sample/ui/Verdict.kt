package ebbstead.sample.ui

import androidx.compose.foundation.*
import androidx.compose.foundation.layout.*
import androidx.compose.material3.*
import androidx.compose.runtime.Composable
import androidx.compose.ui.*
import androidx.compose.ui.geometry.Size
import androidx.compose.ui.graphics.*
import androidx.compose.ui.platform.*
import androidx.compose.ui.semantics.*
import androidx.compose.ui.unit.*
import ebbstead.*

/** How heavy a verdict lies on the screen: urgency is weight, not hue. */
data class Weight(val ground: Color, val ink: Color, val outline: Dp)

fun weight(verdict: Verdict, palette: Palette): Weight = when (verdictWeight(verdict)) {
    ebbstead.Weight.SOLID -> Weight(palette.ink, palette.ground, 0.dp)
    ebbstead.Weight.OUTLINE -> Weight(palette.ground, palette.ink, 5.dp)
    ebbstead.Weight.TINT -> Weight(palette.tint, palette.ink, 0.dp)
    ebbstead.Weight.PLAIN -> Weight(palette.ground, palette.ink, 0.dp)
}

/** A block whose lower edge is core's wave: the water stands higher or lower, the shape stays. */
private object Wave : Shape {
    override fun createOutline(size: Size, layoutDirection: LayoutDirection, density: Density): Outline {
        val scale = density.density
        return Outline.Generic(path(blockEdge(size.width / scale.toDouble(), size.height / scale.toDouble()), scale).apply { close() })
    }
}

/** The whole answer in one block: what to do, why, and the reading with its age and its rate in words. */
@OptIn(ExperimentalLayoutApi::class)
@Composable
fun VerdictBlock(block: PromptHeadline, modifier: Modifier = Modifier) {
    val weight = weight(block.verdict, palette)
    val type = MaterialTheme.typography
    // In the largest type the word is large enough, and the reading stays on the first screenful.
    val word = with(LocalDensity.current) { minOf(type.displayMedium.fontSize.toPx(), 60.dp.toPx()) / type.displayMedium.fontSize.toPx() }
    // Read out when it changes; the age beside the reading changes every minute.
    val urgent = block.verdict == Verdict.TREAT || block.verdict == Verdict.HELP
    val read = Modifier.semantics { liveRegion = if (urgent) LiveRegionMode.Assertive else LiveRegionMode.Polite }
    Surface(
        modifier.fillMaxWidth().testTag("verdict").semantics(mergeDescendants = true) { },
        shape = Wave, color = weight.ground, contentColor = weight.ink,
        border = if (weight.outline > 0.dp) BorderStroke(weight.outline, weight.ink) else null,
    ) {
        Column(Modifier.padding(start = 20.dp, end = 20.dp, top = 18.dp, bottom = 28.dp), Arrangement.spacedBy(10.dp)) {
            Row(verticalAlignment = Alignment.CenterVertically, horizontalArrangement = Arrangement.spacedBy(14.dp)) {
                Sign(block.verdict, weight.ink, Modifier.size(44.dp))
                Fitting(block.word, type.displayMedium.run { copy(fontSize = fontSize * word, lineHeight = lineHeight * word) }, Modifier.weight(1f), said = read.semantics { heading() })
            }
            Fitting(block.sentence, type.titleLarge, said = read)
            for (aside in block.asides) Fitting(aside, type.bodyLarge)
            block.amount?.let { amount ->
                FlowRow(horizontalArrangement = Arrangement.spacedBy(14.dp)) {
                    Text(amount, Modifier.alignByBaseline(), style = type.headlineMedium)
                    for (text in block.accessory) Text(text, Modifier.alignByBaseline(), style = type.bodyLarge)
                }
            }
        }
    }
}

/** A verdict's own shape: core's. Its word stands beside it. */
@Composable
fun Sign(verdict: Verdict, ink: Color, modifier: Modifier = Modifier) = Canvas(modifier) {
    for (shape in verdictSign(verdict, size.minDimension / density.toDouble())) paint(shape, ink)
}
