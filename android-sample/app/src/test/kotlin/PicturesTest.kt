import androidx.compose.ui.ImageComposeScene
import androidx.compose.ui.unit.Density
import ebbstead.Chapter
import ebbstead.GlucoseUnit
import ebbstead.PromptTap
import ebbstead.ReadingAt
import ebbstead.Symptom
import ebbstead.sample.present.Face
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Place
import java.awt.image.BufferedImage
import java.io.ByteArrayInputStream
import java.io.File
import javax.imageio.ImageIO
import org.jetbrains.skia.EncodedImageFormat
import org.junit.AfterClass
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test

/** Every screen and state as Compose draws it, written to be looked at; a few are kept and compared. The readings are invented. */
class PicturesTest {
    private fun draw(name: String, stage: Stage, dark: Boolean = false, type: Float = 1f, wide: Int = WIDE, high: Int = HIGH) {
        val scene = ImageComposeScene(wide * SCALE / 2, high * SCALE / 2, Density(SCALE / 2f, type)) { Staged(stage.shell, dark) }
        // A second frame lets what is measured settle.
        scene.render(0)
        val bytes = scene.render(100_000_000).encodeToData(EncodedImageFormat.PNG)!!.bytes
        scene.close()
        File(folder, "$name.png").writeBytes(bytes)
        val drawn = ImageIO.read(ByteArrayInputStream(bytes))
        val seen = HashSet<Int>()
        for (x in 0 until drawn.width step 3) for (y in 0 until drawn.height step 3) seen.add(drawn.getRGB(x, y))
        assertTrue("$name has something drawn on it", seen.size > 10)
        if (name !in SHOWN) return
        val shown = File(kept, "$name.png")
        if (BLESS) shown.writeBytes(bytes)
        if (shown.exists()) compare(drawn, shown)
    }

    private fun compare(drawn: BufferedImage, shown: File) {
        compared.add(shown.name)
        val before = ImageIO.read(shown)
        if (before.width != drawn.width || before.height != drawn.height) {
            different.add("${shown.name}: ${drawn.width} x ${drawn.height} pixels instead of ${before.width} x ${before.height}")
            return
        }
        var count = 0
        for (x in 0 until drawn.width) for (y in 0 until drawn.height) {
            val (one, other) = before.getRGB(x, y) to drawn.getRGB(x, y)
            if (listOf(0, 8, 16).any { Math.abs((one shr it and 255) - (other shr it and 255)) > CHANNEL }) count++
        }
        println("${shown.name}: $count of ${drawn.width * drawn.height} pixels differ")
        if (count > drawn.width * drawn.height * SHARE) different.add("${shown.name}: $count pixels differ")
    }

    /** Readings that end now, every five minutes. */
    private fun World.ending(vararg mgDl: Double) = apply {
        companion.log().recordReadings("sensor 7", mgDl.mapIndexed { n, one ->
            ReadingAt(now.copy(unixMs = now.unixMs - (mgDl.size - 1 - n) * 300_000L), one)
        }, now)
    }

    @Test
    fun now() = World().use { world ->
        val stage = Stage(world)
        // A feeling that the readings do not bear out: a meter decides.
        stage.shell.tap(PromptTap.Feel(Symptom.FEELS_LOW))
        draw("check-light", stage)
        draw("check-dark", stage, dark = true)
        draw("check-large", stage, type = 2f)
        stage.shell.tap(PromptTap.Treated)
        draw("treated-light", stage)
        stage.shell.tap(PromptTap.Feel(Symptom.SEVERE))
        draw("severe-light", stage)
    }

    @Test
    fun treat() = World(readings = false).use { world ->
        world.ending(132.0, 124.0, 117.0, 109.0, 102.0, 95.0, 88.0, 81.0, 74.0, 68.0, 62.0)
        val stage = Stage(world)
        draw("treat-light", stage)
        draw("treat-dark", stage, dark = true)
    }

    @Test
    fun hold() = World(language = "de", unit = GlucoseUnit.MMOL_L, readings = false).use { world ->
        world.ending(*DoubleArray(300) { 150 + 12 * Math.sin(it * 0.05) }, 162.0, 172.0, 183.0, 195.0, 206.0, 214.0)
        val stage = Stage(world)
        draw("hold-german-light", stage)
        draw("hold-german-large-dark", stage, dark = true, type = 2f)
    }

    @Test
    fun clear() = World(readings = false).use { world ->
        world.ending(*DoubleArray(320) { 121 + 6 * Math.sin(it * 0.07) })
        draw("clear-light", Stage(world))
    }

    @Test
    fun nothingYetAndSensorLost() {
        World(readings = false).use { world -> draw("no-readings-light", Stage(world)) }
        World().use { world ->
            world.now = world.now.copy(unixMs = world.now.unixMs + 45 * 60_000L)
            draw("lost-light", Stage(world))
        }
    }

    @Test
    fun night() = World(night = true).use { world ->
        val stage = Stage(world, at = Opens.RANG)
        draw("night", stage)
        stage.shell.tap(PromptTap.Treated)
        draw("night-treated", stage)
    }

    @Test
    fun before() {
        World(days = 20).use { world ->
            val stage = Stage(world)
            stage.shell.before(emptyMap())
            draw("before-sleep-light", stage)
            stage.shell.before(mapOf("what" to "driving", "minutes" to "90"))
            draw("before-driving-light", stage, high = 1300)
            draw("before-driving-dark", stage, dark = true)
        }
        World(days = 20, language = "de", unit = GlucoseUnit.MMOL_L).use { world ->
            val stage = Stage(world)
            stage.shell.before(emptyMap())
            stage.shell.before(mapOf("what" to "activity", "minutes" to "45"))
            draw("before-activity-german-light", stage, high = 1500)
            draw("before-activity-german-large-dark", stage, dark = true, type = 2f, high = 1500)
        }
        World(night = true).use { world ->
            val stage = Stage(world, at = Opens.RANG)
            stage.shell.before(emptyMap())
            draw("before-night", stage)
            stage.shell.back()
            stage.shell.tap(PromptTap.Feel(Symptom.SEVERE))
            draw("night-help", stage)
        }
    }

    @Test
    fun helpAndTrouble() = World(language = "de").use { world ->
        world.companion.settings().run { setWearer(wearer().copy(contactNumber = "+49 30 5550100"), world.now) }
        val stage = Stage(world)
        stage.shell.help()
        draw("help-german-light", stage)
        val broken = File(world.passing.parentFile, "broken.ebb").apply { writeText("no log at all, and long enough to be looked at") }
        draw("trouble-light", Stage(world, path = broken))
    }

    @Test
    fun first() = World(set = false).use { world ->
        val stage = Stage(world)
        draw("first-1-light", stage)
        stage.shell.firstNext(0u, emptyMap())
        stage.shell.firstFilled(1u, mapOf("unit" to "mmol_l"))
        draw("first-2-light", stage)
        stage.shell.firstNext(1u, mapOf("unit" to "mmol_l"))
        draw("first-3-dark", stage, dark = true)
        stage.shell.firstNext(2u, emptyMap())
        draw("first-4-light", stage)
        stage.shell.firstNext(3u, emptyMap())
        draw("first-5-light", stage)
    }

    @Test
    fun logRecordSettings() = World(days = 20).use { world ->
        val stage = Stage(world)
        stage.shell.go(Place.LOG)
        draw("log-light", stage)
        draw("log-dark", stage, dark = true)
        stage.shell.go(Place.SETTINGS)
        draw("settings-light", stage, high = 1700)
        stage.shell.go(Place.RECORD)
        draw("record-light", stage, high = 1500)
        for (chapter in Chapter.entries) {
            stage.shell.turnTo(chapter)
            assertTrue(stage.shell.face is Face.Record)
            draw("record-${chapter.name.lowercase()}-light", stage, high = 1300)
        }
        stage.shell.turnTo(Chapter.REVIEW)
        draw("record-review-large-dark", stage, dark = true, type = 2f)
    }

    companion object {
        private const val WIDE = 390
        private const val HIGH = 844

        /** Pixels in two dp. */
        private const val SCALE = 3

        /** The pictures that are kept, and shown in the README. */
        private val SHOWN = setOf(
            "treat-light", "check-dark", "hold-german-light", "clear-light", "lost-light", "night", "hold-german-large-dark", "help-german-light",
            "first-2-light", "before-sleep-light", "log-light", "record-light", "record-review-light",
        )
        private val BLESS = System.getenv("EBBSTEAD_BLESS") == "1"

        /** How far a channel of a pixel may be off before the pixel counts as different, of 255: as the eye would see it. */
        private const val CHANNEL = 48

        /** How much of a chart may differ: less than a word. */
        private const val SHARE = 0.001
        private val folder = File(System.getProperty("ebbstead.pictures")).apply { mkdirs() }
        private val kept = File(System.getProperty("ebbstead.kept")).apply { mkdirs() }
        private val compared = HashSet<String>()
        private val different = ArrayList<String>()

        // At the end, so that all are drawn whatever differs; not compared where the typeface is another.
        @AfterClass
        @JvmStatic
        fun theKeptPicturesAreAsDrawn() {
            if (ROBOTO == null) return println("skipped: fonts-roboto-unhinted is not there, so the pictures are not compared")
            assertEquals(SHOWN.map { "$it.png" }.toSet(), compared)
            assertEquals("where that is meant, run it once with EBBSTEAD_BLESS=1, and look at them", emptyList<String>(), different)
        }
    }
}
