import androidx.compose.ui.semantics.SemanticsProperties
import androidx.compose.ui.test.SemanticsMatcher
import androidx.compose.ui.test.assertIsEnabled
import androidx.compose.ui.test.assertIsNotEnabled
import androidx.compose.ui.test.hasClickAction
import androidx.compose.ui.test.hasSetTextAction
import androidx.compose.ui.test.hasText
import androidx.compose.ui.test.junit4.createComposeRule
import androidx.compose.ui.test.onAllNodesWithContentDescription
import androidx.compose.ui.test.onFirst
import androidx.compose.ui.test.onNodeWithTag
import androidx.compose.ui.test.performClick
import androidx.compose.ui.test.performScrollTo
import androidx.compose.ui.test.performTextInput
import androidx.compose.ui.test.performTextReplacement
import ebbstead.Illness
import ebbstead.Purpose
import ebbstead.Symptom
import ebbstead.EntryKind
import ebbstead.sample.present.Face
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Pick
import ebbstead.sample.present.Place
import ebbstead.sample.present.Shell
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test

/** What a wearer does, by what a screen reader would find, over the real library. */
class FlowTest {
    @get:Rule
    val compose = createComposeRule()

    private fun show(stage: Stage) = compose.setContent { Staged(stage.shell, dark = false) }

    private fun tap(text: String) {
        compose.onAllNodes(hasText(text) and hasClickAction()).onFirst().run { runCatching { performScrollTo() }; performClick() }
        compose.waitForIdle()
    }

    private fun type(text: String) = compose.onNode(hasSetTextAction()).performTextInput(text)

    private fun verdict(): String = compose.onNodeWithTag("verdict").fetchSemanticsNode()
        .config[SemanticsProperties.Text].joinToString(" ") { it.text }

    private fun held(world: World) = world.companion.log().list(world.now.copy(unixMs = world.now.unixMs - 600_000), world.now, false, false).map { it.entry.what }

    /** Spanish is a draft until somebody of the trade has read it. */
    @Test
    fun aDraftSaysSoAboveEveryScreen(): Unit = World(language = "es").use { world ->
        val stage = Stage(world)
        show(stage)
        for (place in Place.entries) {
            stage.shell.go(place)
            compose.waitForIdle()
            compose.onNode(hasText("borrador, sin revisar")).assertExists()
        }
        stage.shell.help()
        compose.waitForIdle()
        compose.onNode(hasText("borrador, sin revisar")).assertExists()
    }

    @Test
    fun theFirstStartAsksForTheUnitAndKeepsNothingBefore(): Unit = World(set = false).use { world ->
        val stage = Stage(world)
        show(stage)
        compose.onNode(hasText("no medical device", substring = true)).assertExists()
        tap("I understand")
        compose.onNode(hasText("Next") and hasClickAction()).assertIsNotEnabled()
        tap("mmol/L")
        compose.onNode(hasText("Next") and hasClickAction()).assertIsEnabled()
        assertTrue(!world.companion.settings().areSet())
        tap("Deutsch")
        tap("Next")
        assertTrue(world.companion.settings().areSet())
        tap("Datei mit Werten einlesen")
        tap("Sensor in der Nähe suchen")
        assertEquals(listOf(Pick.READ_IN) to 1, stage.phone.picked to stage.phone.sensors)
        // What is read there, before the phone asks.
        compose.onNode(hasText("geschrieben wird nichts", substring = true)).assertExists()
        tap("Gesundheitsdaten auf dem Gerät lesen")
        assertEquals(1, stage.phone.health)
        tap("Weiter")
        tap("Weiter")
        tap("Alarme dürfen mich wecken")
        assertEquals(1, stage.phone.allowed)
        tap("Los geht’s")
        assertTrue(stage.shell.face is Face.Now)
        assertTrue(verdict().startsWith("Erst messen"))
    }

    @Test
    fun aTreatIsOneTapAndOneTapTakesItBack(): Unit = World().use { world ->
        val stage = Stage(world)
        show(stage)
        tap("I treated a low")
        assertEquals(listOf(EntryKind.Carbohydrate(15.0, Purpose.RESCUE)), held(world))
        compose.onNode(hasText("kept in the log", substring = true)).assertExists()
        assertTrue(stage.phone.changes > 0)
        tap("Undo the last")
        assertEquals(emptyList<EntryKind>(), held(world))
        compose.onNode(hasText("taken back", substring = true)).assertExists()
    }

    @Test
    fun feelingLowIsKeptAndNeverTalkedAway(): Unit = World().use { world ->
        show(Stage(world))
        tap("I feel low")
        assertEquals(listOf(EntryKind.Feeling(Symptom.FEELS_LOW)), held(world))
        assertTrue(verdict(), listOf("Treat", "Check").any { verdict().startsWith(it) })
    }

    @Test
    fun aSlipIsSaidBesideTheFieldAndNothingIsKept(): Unit = World().use { world ->
        show(Stage(world))
        tap("Meter")
        type("5.8")
        tap("Save")
        compose.onNode(hasText("fits the other unit", substring = true)).assertExists()
        assertEquals(emptyList<EntryKind>(), held(world))
    }

    @Test
    fun aMeterCheckIsKept(): Unit = World().use { world ->
        show(Stage(world))
        tap("Meter")
        type("62")
        tap("Save")
        assertEquals(listOf(EntryKind.MeterCheck(62.0)), held(world))
        assertTrue(verdict(), verdict().startsWith("Treat"))
    }

    @Test
    fun anAlarmOpensTheNightAndIsAnswered(): Unit = World(night = true).use { world ->
        val stage = Stage(world, at = Opens.RANG)
        show(stage)
        assertTrue((stage.shell.face as Face.Now).screen.atNight)
        tap("I rolled off the sensor")
        assertEquals(1, held(world).size)
        tap("Undo the last")
        assertEquals(0, held(world).size)
        tap("I treated a low")
        assertEquals(1, held(world).size)
    }

    @Test
    fun aheadIsOneTapFromNowAndTheAnswerComesFirst(): Unit = World().use { world ->
        val stage = Stage(world)
        show(stage)
        tap("Before sleep, a drive, movement")
        assertTrue(stage.shell.face is Face.Before)
        compose.onNode(hasText("Before sleep")).assertExists()
        tap("A drive")
        type("2000")
        tap("Show")
        compose.onNode(hasText("from 1 to 1440", substring = true)).assertExists()
        compose.onNode(hasSetTextAction()).performTextReplacement("90")
        tap("Show")
        compose.onNode(hasText("Over the drive, 90 minutes")).assertExists()
        tap("Movement")
        compose.onNode(hasText("90") and hasSetTextAction()).assertExists()
        tap("Show")
        compose.onNode(hasText("What to mind")).assertExists()
        tap("Get help")
        tap("Back")
        tap("Back")
        assertTrue(stage.shell.face is Face.Now)
    }

    @Test
    fun theNightAsksAheadInTheDarkAndComesBack(): Unit = World(night = true).use { world ->
        val stage = Stage(world, at = Opens.RANG)
        show(stage)
        tap("Before you sleep")
        assertTrue((stage.shell.face as Face.Before).atNight)
        tap("Back")
        assertTrue((stage.shell.face as Face.Now).screen.atNight)
    }

    @Test
    fun withoutAReadingForAnHourNoChanceIsGiven(): Unit = World().use { world ->
        world.now = world.now.copy(unixMs = world.now.unixMs + 90 * 60_000)
        show(Stage(world))
        tap("Before sleep, a drive, movement")
        compose.onNode(hasText("No chance can be given", substring = true)).assertExists()
        assertEquals(0, compose.onAllNodes(hasText("chance of a reading below", substring = true)).fetchSemanticsNodes().size)
    }

    @Test
    fun underHelpTheFirstThingIsToCall(): Unit = World(night = true).use { world ->
        show(Stage(world, at = Opens.RANG))
        tap("Somebody is confused, cannot swallow or does not respond")
        assertTrue(verdict().startsWith("Get help"))
        for (noted in listOf("I treated a low", "Meter", "I rolled off the sensor")) {
            assertEquals(noted, 0, compose.onAllNodes(hasText(noted) and hasClickAction()).fetchSemanticsNodes().size)
        }
        tap("Get help")
        compose.onNode(hasText("Call 112")).assertExists()
    }

    @Test
    fun helpIsOneTapFromEveryScreenAndDials(): Unit = World().use { world ->
        world.companion.settings().run { setWearer(wearer().copy(emergencyNumber = "911", contactNumber = "+49 30 1234"), world.now) }
        val stage = Stage(world)
        show(stage)
        for (place in Place.entries) {
            stage.shell.go(place)
            compose.waitForIdle()
            tap("Get help")
            assertTrue(verdict().startsWith("Get help"))
            tap("Call 911")
            tap("Call your contact +49 30 1234")
            tap("Back")
        }
        stage.shell.open(Opens.RANG)
        compose.waitForIdle()
        tap("Get help")
        tap("Call 911")
        assertEquals(List(Place.entries.size) { listOf("911", "+49301234") }.flatten() + "911", stage.phone.dialled)
    }

    @Test
    fun whileTheLogOpensOneTapShowsHelp(): Unit = World().use { world ->
        val shell = Shell(world.log.path, "en", world.clock, { }, NotedPhone(), NotedPhone(), world.passing)
        compose.setContent { Staged(shell, dark = false) }
        tap("Get help")
        compose.onNode(hasText("Call 112")).assertExists()
    }

    /** The log cannot be opened; the number kept beside it still dials. */
    @Test
    fun helpWorksWithoutALog(): Unit = World().use { world ->
        val broken = File(world.passing.parentFile, "broken.ebb").apply { writeText("no log at all, and long enough to be looked at") }
        val stage = Stage(world, NotedPhone().apply { numbers = "999" to null }, path = broken)
        show(stage)
        assertTrue(stage.shell.face is Face.Trouble)
        tap("Get help")
        tap("Call 999")
        assertEquals(listOf("999"), stage.phone.dialled)
    }

    @Test
    fun theLogTakesAnEntryOfEachKindAndPutsItRight(): Unit = World().use { world ->
        val stage = Stage(world)
        show(stage)
        stage.shell.go(Place.LOG)
        compose.waitForIdle()
        tap("Add")
        tap("Rescue carbohydrate")
        type("20")
        tap("−5")
        tap("Save")
        val kept = held(world)
        assertEquals(listOf(EntryKind.Carbohydrate(20.0, Purpose.RESCUE)), kept)
        tap("carbohydrate 20 g, rescue")
        tap("Correct")
        compose.onNode(hasSetTextAction()).performTextReplacement("25")
        tap("Correct")
        assertEquals(1, held(world).size)
        assertEquals(listOf(EntryKind.Carbohydrate(25.0, Purpose.RESCUE)), held(world))
        tap("Undo the last")
    }

    private fun openLog(stage: Stage) {
        show(stage)
        stage.shell.go(Place.LOG)
        compose.waitForIdle()
        tap("Add")
    }

    @Test
    fun ketonesAreAddedAndStandInTheLog(): Unit = World().use { world ->
        openLog(Stage(world))
        tap("Ketones in blood")
        type("30")
        tap("Save")
        compose.onNode(hasText("from 0 to 20 mmol/L", substring = true)).assertExists()
        assertEquals(emptyList<EntryKind>(), held(world))
        compose.onNode(hasSetTextAction()).performTextReplacement("1.2")
        tap("Save")
        assertEquals(listOf(EntryKind.Ketones(1.2)), held(world))
        compose.onNode(hasText("ketones 1.2 mmol/L") and hasClickAction()).assertExists()
    }

    @Test
    fun anIllnessIsAddedAndStandsInTheLog(): Unit = World().use { world ->
        openLog(Stage(world))
        tap("Illness")
        // The kinds are folded away, and open again where one was chosen by mistake.
        assertEquals(0, compose.onAllNodes(hasText("Ketones in blood")).fetchSemanticsNodes().size)
        tap("Illness")
        tap("Ketones in blood")
        tap("Ketones in blood")
        tap("Illness")
        tap("Vomiting, or nothing stays down")
        tap("Save")
        assertEquals(listOf(EntryKind.Illness(Illness.VOMITING)), held(world))
        compose.onNode(hasText("ill and vomiting") and hasClickAction()).assertExists()
        tap("ill and vomiting")
        tap("Correct")
        tap("Well again")
        tap("Correct")
        assertEquals(listOf(EntryKind.Illness(Illness.OVER)), held(world))
    }

    @Test
    fun anEmptyLogSaysOneThing(): Unit = World(readings = false).use { world ->
        show(Stage(world))
        val said = compose.onAllNodes(SemanticsMatcher.keyIsDefined(SemanticsProperties.Text)).fetchSemanticsNodes()
            .flatMap { it.config[SemanticsProperties.Text] }.joinToString("\n") { it.text }
        assertTrue(said, said.contains("with no meter at hand, treat"))
        assertTrue(said, !said.contains("hold off", ignoreCase = true))
    }

    @Test
    fun theRecordShowsBeforeItAsks(): Unit = World(days = 20).use { world ->
        val stage = Stage(world)
        show(stage)
        stage.shell.go(Place.RECORD)
        compose.waitForIdle()
        compose.onNode(hasText("Review") and hasClickAction()).assertExists()
        tap("Review")
        compose.onNodeWithTag("day").assertExists()
        assertEquals(0, compose.onAllNodes(hasSetTextAction()).fetchSemanticsNodes().size)
        tap("Show all")
        assertTrue(compose.onAllNodes(hasSetTextAction()).fetchSemanticsNodes().isNotEmpty())
        tap("Back")
        tap("Alerts")
        tap("Show all")
        assertEquals(1, compose.onAllNodesWithContentDescription("Alert to a lost signal after (minutes)").fetchSemanticsNodes().size)
    }
}
