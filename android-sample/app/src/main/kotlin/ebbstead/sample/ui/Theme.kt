package ebbstead.sample.ui

import androidx.compose.foundation.layout.BoxWithConstraints
import androidx.compose.material3.*
import androidx.compose.runtime.*
import androidx.compose.ui.Modifier
import androidx.compose.ui.graphics.Color
import androidx.compose.ui.text.*
import androidx.compose.ui.text.font.*
import androidx.compose.ui.text.style.*
import androidx.compose.ui.unit.sp
import ebbstead.Light
import ebbstead.inks

/** Core's inks. Colours please the eye; every meaning is also a word, a weight or a shape. */
class Palette(light: Light) {
    val dark = light != Light.DAY
    private val core = inks(light)
    val ground = color(core.ground)
    val raised = color(core.raised)
    val ink = color(core.ink)
    val quiet = color(core.quiet)
    val water = color(core.water)
    val onWater = color(core.onWater)
    val tint = color(core.tint)
    val edge = color(core.edge)
    val shore = color(core.shore)
    private fun color(bytes: UInt) = Color(0xFF000000 or bytes.toLong())

    companion object {
        val DAY = Palette(Light.DAY)
        val DARK = Palette(Light.DARK)
        val NIGHT = Palette(Light.NIGHT)
    }
}

val LocalPalette = staticCompositionLocalOf { Palette.DAY }

/** The typeface; the phone's own unless given. */
val LocalFace = staticCompositionLocalOf<FontFamily> { FontFamily.Default }

val palette: Palette @Composable get() = LocalPalette.current

private fun scheme(from: Palette): ColorScheme {
    val base = if (from.dark) darkColorScheme() else lightColorScheme()
    return base.copy(
        primary = from.water, onPrimary = from.onWater, primaryContainer = from.tint, onPrimaryContainer = from.ink,
        secondary = from.water, onSecondary = from.onWater, secondaryContainer = from.tint, onSecondaryContainer = from.ink,
        background = from.ground, onBackground = from.ink, surface = from.ground, onSurface = from.ink,
        surfaceVariant = from.raised, onSurfaceVariant = from.quiet, surfaceContainer = from.raised, surfaceContainerLow = from.raised,
        surfaceContainerHigh = from.raised, surfaceContainerHighest = from.tint, outline = from.edge, outlineVariant = from.tint,
        error = from.ink, onError = from.ground, inverseSurface = from.ink, inverseOnSurface = from.ground,
    )
}

private fun typography(face: FontFamily): Typography {
    fun style(size: Int, line: Int, weight: FontWeight = FontWeight.Normal) = TextStyle(
        fontFamily = face, fontSize = size.sp, lineHeight = line.sp, fontWeight = weight, hyphens = Hyphens.Auto, lineBreak = LineBreak.Paragraph,
    )
    return Typography(
        displayMedium = style(44, 48, FontWeight.Bold), displaySmall = style(34, 38, FontWeight.Bold),
        headlineMedium = style(28, 34, FontWeight.SemiBold), headlineSmall = style(22, 28, FontWeight.SemiBold),
        titleLarge = style(20, 27, FontWeight.Medium), titleMedium = style(17, 23, FontWeight.SemiBold), titleSmall = style(15, 20, FontWeight.SemiBold),
        bodyLarge = style(17, 25), bodyMedium = style(15, 22), bodySmall = style(13, 18),
        labelLarge = style(16, 20, FontWeight.SemiBold), labelMedium = style(14, 18, FontWeight.Medium), labelSmall = style(12, 16),
    )
}

@Composable
fun Tide(palette: Palette, content: @Composable () -> Unit) {
    CompositionLocalProvider(LocalPalette provides palette) {
        MaterialTheme(scheme(palette), typography = typography(LocalFace.current), content = content)
    }
}

/**
 * Text of a heading or a button: no word of it is ever cut, it rather shrinks. What a screen reader takes it for is `said` of the text
 * itself: of the box around it none is read.
 */
@Composable
fun Fitting(
    text: String, style: TextStyle = LocalTextStyle.current, modifier: Modifier = Modifier, color: Color = Color.Unspecified, said: Modifier = Modifier,
) {
    val measurer = rememberTextMeasurer()
    BoxWithConstraints(modifier) {
        val widest = text.split(' ', '\n').maxOfOrNull { measurer.measure(it, style, softWrap = false).size.width } ?: 0
        val room = constraints.maxWidth
        val shrunk = if (widest > room && room > 0) room.toFloat() / widest * 0.98f else 1f
        Text(text, said, color, style = style.copy(fontSize = style.fontSize * shrunk, lineHeight = style.lineHeight * shrunk, hyphens = Hyphens.None))
    }
}
