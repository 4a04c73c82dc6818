package ebbstead.sample.ui

import androidx.compose.foundation.layout.BoxWithConstraints
import androidx.compose.material3.*
import androidx.compose.runtime.*
import androidx.compose.ui.Modifier
import androidx.compose.ui.graphics.Color
import androidx.compose.ui.text.TextStyle
import androidx.compose.ui.text.font.*
import androidx.compose.ui.text.rememberTextMeasurer
import androidx.compose.ui.text.style.*
import androidx.compose.ui.unit.sp

/** Sand and water by day, the tide at night. Colours please the eye; every meaning is also a word, a weight or a shape. */
class Palette(
    val dark: Boolean,
    val ground: Color,
    val raised: Color,
    val ink: Color,
    val quiet: Color,
    val water: Color,
    val onWater: Color,
    val tint: Color,
    val edge: Color,
    val shore: Color,
) {
    companion object {
        val DAY = Palette(
            dark = false, ground = Color(0xFFF6F2E8), raised = Color(0xFFFCFAF4), ink = Color(0xFF14222A), quiet = Color(0xFF4B5A61),
            water = Color(0xFF1F5566), onWater = Color(0xFFFFFFFF), tint = Color(0xFFD8E6E8), edge = Color(0xFF5B828B),
            shore = Color(0xFF6B5B3E),
        )
        val DARK = Palette(
            dark = true, ground = Color(0xFF0D161B), raised = Color(0xFF152229), ink = Color(0xFFE9E3D6), quiet = Color(0xFFAAB5B7),
            water = Color(0xFF94C8D4), onWater = Color(0xFF0D161B), tint = Color(0xFF1B323A), edge = Color(0xFF6F9DA8),
            shore = Color(0xFFC2AE86),
        )

        /** For eyes that were shut a moment ago: nothing on it is bright. */
        val NIGHT = Palette(
            dark = true, ground = Color(0xFF05090B), raised = Color(0xFF0C1417), ink = Color(0xFFB9AE9A), quiet = Color(0xFF8A8677),
            water = Color(0xFF7FA5AB), onWater = Color(0xFF05090B), tint = Color(0xFF13211F), edge = Color(0xFF5E7F80),
            shore = Color(0xFF94835F),
        )
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
