import androidx.compose.foundation.layout.Box
import androidx.compose.foundation.layout.requiredSize
import androidx.compose.runtime.CompositionLocalProvider
import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.setValue
import androidx.compose.ui.Modifier
import androidx.compose.ui.graphics.Color
import androidx.compose.ui.graphics.luminance
import androidx.compose.ui.platform.LocalDensity
import androidx.compose.ui.semantics.SemanticsActions
import androidx.compose.ui.semantics.SemanticsNode
import androidx.compose.ui.semantics.SemanticsProperties
import androidx.compose.ui.semantics.getOrNull
import androidx.compose.ui.test.SemanticsMatcher
import androidx.compose.ui.test.hasClickAction
import androidx.compose.ui.test.hasText
import androidx.compose.ui.test.junit4.createComposeRule
import androidx.compose.ui.test.onNodeWithTag
import androidx.compose.ui.text.TextLayoutResult
import androidx.compose.ui.unit.Density
import androidx.compose.ui.unit.dp
import ebbstead.Chapter
import ebbstead.GlucoseUnit
import ebbstead.LogTap
import ebbstead.PromptTap
import ebbstead.Symptom
import ebbstead.Verdict
import ebbstead.sample.present.Face
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Place
import ebbstead.sample.present.Shell
import ebbstead.sample.ui.Palette
import ebbstead.sample.ui.weight
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test

/** Room for a finger, no cut word, contrast: on every screen, in both languages, in type of twice the size, on 360 by 780 dp. */
class FitTest {
    @get:Rule
    val compose = createComposeRule()

    /** WCAG 2.2, 1.4.3 and 1.4.11, level AA; a treat and a hold are distinguished by weight alone. */
    @Test
    fun everythingIsDistinguishedInEveryPalette() {
        for (palette in listOf(Palette.DAY, Palette.DARK, Palette.NIGHT)) {
            for ((one, other) in palette.texts) assertTrue("$one on $other", contrast(one, other) >= 4.5f)
            for ((one, other) in palette.shapes) assertTrue("$one on $other", contrast(one, other) >= 3f)
            val (treat, hold) = weight(Verdict.TREAT, palette) to weight(Verdict.HOLD, palette)
            assertTrue(contrast(treat.ground, hold.ground) >= 3f)
            for (verdict in Verdict.entries) weight(verdict, palette).run { assertTrue(contrast(ink, ground) >= 4.5f) }
        }
    }

    private val faces: Map<String, (Shell) -> Unit> = buildMap {
        for (place in Place.entries) put(place.name) { it.go(place) }
        for (chapter in Chapter.entries) put(chapter.name) { shell -> shell.turnTo(chapter) }
        put("night") { shell -> shell.open(Opens.RANG) }
        for (what in listOf("sleep", "driving", "activity")) put("before $what") { shell ->
            shell.before(mapOf("what" to what, "minutes" to "90"))
        }
        put("night help") { shell ->
            shell.open(Opens.RANG)
            shell.tap(PromptTap.Feel(Symptom.SEVERE))
         }
        put("help") { it.help() }
        put("meter") { it.tap(PromptTap.AskMeter) }
        put("alerts off") { it.alertsOff(true) }
        put("log's form") { shell ->
            shell.go(Place.LOG)
            shell.log(LogTap.Add)
        }
    }

    private fun walk(language: String, unit: GlucoseUnit) = World(days = 15, language = language, unit = unit).use { world ->
        val stage = Stage(world)
        compose.setContent {
            CompositionLocalProvider(LocalDensity provides Density(1f, fontScale = 2f)) {
                Box(Modifier.requiredSize(360.dp, 780.dp)) { Staged(stage.shell, dark = false) }
            }
        }
        val faults = mutableListOf<String>()
        for ((name, go) in faces) {
            world.night("night" in name)
            stage.shell.back()
            go(stage.shell)
            faults += faults(name)
        }
        assertEquals("", faults.distinct().joinToString("\n"))
    }

    /** What stands on the screen now. */
    private fun faults(name: String): List<String> {
        val faults = mutableListOf<String>()
        compose.waitForIdle()
        var seen = 0
        for (node in compose.onAllNodes(SemanticsMatcher("any") { true }).fetchSemanticsNodes()) {
            seen++
            if (node.config.contains(SemanticsActions.OnClick) && node.size.height < 48) faults += "$name: ${said(node)} is ${node.size.height} dp high"
            cut(node)?.let { faults += "$name: $it" }
        }
        assertTrue("$name shows nothing", seen > 3)
        return faults
    }

    /** Before there is a log with settings, and where it cannot be opened. */
    @Test
    fun theFirstStartAndALogThatCannotBeOpenedFitInGerman() = World(set = false).use { world ->
        var shell by mutableStateOf(Stage(world, language = "de").shell)
        compose.setContent {
            CompositionLocalProvider(LocalDensity provides Density(1f, fontScale = 2f)) {
                Box(Modifier.requiredSize(360.dp, 780.dp)) { Staged(shell, dark = false) }
            }
        }
        val faults = mutableListOf<String>()
        do {
            val screen = (shell.face as Face.First).screen
            faults += faults("first start, ${screen.step}")
            shell.firstNext(screen.step, if (screen.canGoOn) emptyMap() else mapOf("unit" to "mmol_l"))
        } while (!screen.isLast)
        val broken = File(world.log.parentFile, "broken.ebb").apply { writeText("no log") }
        shell = Stage(world, path = broken, language = "de").shell
        assertTrue(shell.face is Face.Trouble)
        faults += faults("trouble")
        assertEquals("", faults.distinct().joinToString("\n"))
    }

    private fun said(node: SemanticsNode) = node.config.getOrNull(SemanticsProperties.Text)?.joinToString { it.text }.orEmpty()

    /** A line that ends inside a word, or runs out of its place. */
    private fun cut(node: SemanticsNode): String? {
        val action = node.config.getOrNull(SemanticsActions.GetTextLayoutResult)?.action ?: return null
        val results = mutableListOf<TextLayoutResult>()
        if (!action(results)) return null
        val laid = results.first()
        val text = laid.layoutInput.text.text
        val wide = (0 until laid.lineCount).maxOf { laid.getLineRight(it) }
        val out = wide > laid.size.width + 1 || laid.multiParagraph.height > laid.size.height + 1
        if (out) return "“$text” runs out of its place"
        return (0 until laid.lineCount - 1).map { laid.getLineEnd(it) }
            .firstOrNull { it in 1 until text.length && text[it - 1].isLetterOrDigit() && text[it].isLetterOrDigit() }
            ?.let { "“$text” is cut at $it" }
    }

    @Test
    fun everyScreenFitsInGerman() = walk("de", GlucoseUnit.MMOL_L)

    @Test
    fun everyScreenFitsInEnglish() = walk("en", GlucoseUnit.MG_DL)

    /** At 360 by 780 dp, German, type of twice the size: everything a thumb needs is on the first screenful. */
    @Test
    fun whatAThumbDoesIsOnTheFirstScreenful() = World(language = "de").use { world ->
        val stage = Stage(world)
        compose.setContent {
            CompositionLocalProvider(LocalDensity provides Density(1f, fontScale = 2f)) {
                Box(Modifier.requiredSize(360.dp, 780.dp)) { Staged(stage.shell, dark = false) }
            }
        }
        val whole = compose.onNodeWithTag("verdict").fetchSemanticsNode().root!!.semanticsOwner.unmergedRootSemanticsNode.boundsInRoot
        for (name in listOf("Unterzucker behandelt", "Messgerät", "Ich spüre Unterzucker", "Hilfe holen")) {
            val bounds = compose.onNode(hasText(name) and hasClickAction()).fetchSemanticsNode().boundsInRoot
            assertTrue("$name lies at $bounds of $whole", bounds.bottom <= 780f && bounds.height >= 48f)
        }
    }
}

/** WCAG 2.2's contrast of two opaque colours, 1 to 21. */
private fun contrast(one: Color, other: Color): Float {
    val (darker, lighter) = listOf(one.luminance(), other.luminance()).sorted()
    return (lighter + 0.05f) / (darker + 0.05f)
}

/** What must be distinguished from what it lies on: text at least 4.5 to 1, shapes at least 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11). */
private val Palette.texts: List<Pair<Color, Color>>
    get() = listOf(ink to ground, ink to raised, ink to tint, quiet to ground, quiet to raised, onWater to water, ground to ink, water to ground, water to raised)
private val Palette.shapes: List<Pair<Color, Color>>
    get() = listOf(water to ground, water to tint, edge to ground, shore to ground, ink to ground)
