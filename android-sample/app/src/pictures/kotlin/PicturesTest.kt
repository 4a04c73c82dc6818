import android.app.Activity
import android.content.Context
import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Canvas
import android.text.method.PasswordTransformationMethod
import android.view.View
import android.widget.EditText
import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.Item
import ebbstead.Language
import ebbstead.Occasion
import ebbstead.Purpose
import ebbstead.Question
import ebbstead.What
import ebbstead.sample.present.LogPresenter
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.present.Shown
import ebbstead.sample.present.record.Act
import ebbstead.sample.present.record.Ask
import ebbstead.sample.present.record.Chapter
import ebbstead.sample.present.record.Chosen
import ebbstead.sample.present.record.RecordPresenter
import ebbstead.sample.present.record.RecordScreen
import ebbstead.sample.screen.DayView
import ebbstead.sample.screen.LogActs
import ebbstead.sample.screen.NightActs
import ebbstead.sample.screen.NowActs
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.PathView
import ebbstead.sample.screen.RecordActs
import ebbstead.sample.screen.Sheet
import ebbstead.sample.screen.logView
import ebbstead.sample.screen.nightView
import ebbstead.sample.screen.nowView
import ebbstead.sample.screen.recordView
import ebbstead.sample.screen.settingsView
import ebbstead.sample.screen.speaking
import java.io.File
import org.junit.AfterClass
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode

/** The real Views, drawn by the real framework code; written as pictures to be looked at. */
@RunWith(RobolectricTestRunner::class)
@Config(manifest = Config.NONE, sdk = [35], qualifiers = "w400dp-h860dp-xhdpi")
@GraphicsMode(GraphicsMode.Mode.NATIVE)
class PicturesTest {
    private val folder = File(System.getProperty("ebbstead.pictures")).apply { mkdirs() }

    private fun activity(fontScale: Float = 1f): Activity {
        RuntimeEnvironment.setFontScale(fontScale)
        return Robolectric.buildActivity(Activity::class.java).create().get()
    }

    private fun draw(name: String, view: View) {
        val wide = 800
        view.measure(
            View.MeasureSpec.makeMeasureSpec(wide, View.MeasureSpec.EXACTLY),
            View.MeasureSpec.makeMeasureSpec(0, View.MeasureSpec.UNSPECIFIED),
        )
        view.layout(0, 0, wide, view.measuredHeight)
        settle(view)
        val picture = Bitmap.createBitmap(wide, view.measuredHeight, Bitmap.Config.ARGB_8888)
        view.draw(Canvas(picture))
        if (name.isNotEmpty()) {
            File(folder, "$name.png").outputStream().use { picture.compress(Bitmap.CompressFormat.PNG, 100, it) }
            File(kept, "$name.png").takeIf { it.exists() }?.let { compare(picture, it) }
        }
        val seen = HashSet<Int>()
        for (x in 0 until wide step 3) for (y in 0 until view.measuredHeight step 3) seen.add(picture.getPixel(x, y))
        assertTrue("$name has something drawn on it", seen.size > 10)
    }

    /** Beside the picture that the README shows; what another machine draws a little differently is no difference. */
    private fun compare(drawn: Bitmap, shown: File) {
        compared.add(shown.name)
        val before = shown.readBytes().let { BitmapFactory.decodeByteArray(it, 0, it.size) }
        val (old, new) = listOf(before, drawn).map { "${it.width} x ${it.height}" }
        if (old != new) {
            different.add("${shown.name}: $new pixels instead of $old")
            return
        }
        val (one, other) = listOf(before, drawn).map { bitmap ->
            IntArray(bitmap.width * bitmap.height).also { bitmap.getPixels(it, 0, bitmap.width, 0, 0, bitmap.width, bitmap.height) }
        }
        val count = one.indices.count { n -> listOf(0, 8, 16).any { Math.abs((one[n] shr it and 255) - (other[n] shr it and 255)) > CHANNEL } }
        println("${shown.name}: $count of ${one.size} pixels differ")
        if (count > one.size * SHARE) different.add("${shown.name}: $count of ${one.size} pixels differ")
    }

    companion object {
        /** How far a channel of a pixel may be off before the pixel counts as different, of 255: kept pictures have few colours. */
        private const val CHANNEL = 48
        /** How much of a picture may differ: less than a word. */
        private const val SHARE = 0.0002

        private val kept = File(System.getProperty("ebbstead.kept"))
        private val compared = HashSet<String>()
        private val different = ArrayList<String>()

        // At the end, so that all are drawn whatever differs.
        @AfterClass
        @JvmStatic
        fun theKeptPicturesAreAsDrawn() {
            assertEquals(kept.list { _, name -> name.endsWith(".png") }!!.toSet(), compared)
            assertEquals("where that is meant: pngquant 64 drawn pictures into $kept", emptyList<String>(), different)
        }
    }

    /** Ends the animations that marks of choices begin with. */
    private fun settle(view: View) {
        view.jumpDrawablesToCurrentState()
        if (view is android.view.ViewGroup) for (n in 0 until view.childCount) settle(view.getChildAt(n))
    }

    private fun chosen(view: View): Int = when (view) {
        is android.widget.RadioButton -> if (view.isChecked) 1 else 0
        is android.view.ViewGroup -> (0 until view.childCount).sumOf { chosen(view.getChildAt(it)) }
        else -> 0
    }

    private val nowActs = NowActs({}, {}, {})
    private val nightActs = NightActs({}, {}, {}, {}, {})
    private val logActs = LogActs({ _, _ -> }, {}, {}, {}, {}, {}, {}, {}, {})
    private val recordActs = RecordActs({}, { _, _ -> })

    /** One way to look: the ground, the unit, the language, the size of type. */
    private class Way(
        val name: String,
        val palette: Palette,
        val unit: GlucoseUnit = GlucoseUnit.MG_DL,
        val language: Language = Language.ENGLISH,
        val scale: Float = 1f,
    )

    private val ways = listOf(
        Way("light", Palette.LIGHT),
        Way("dark", Palette.DARK),
        Way("mmol", Palette.LIGHT, GlucoseUnit.MMOL_L),
        Way("german-mmol", Palette.LIGHT, GlucoseUnit.MMOL_L, Language.GERMAN),
        Way("german-dark", Palette.DARK, language = Language.GERMAN),
        Way("largest", Palette.LIGHT, scale = 2f),
        Way("german-largest", Palette.DARK, language = Language.GERMAN, scale = 2f),
    )

    private fun each(name: String, night: Boolean = false, days: Int = 0, view: (World, Way, Context) -> View) {
        for (way in ways) World(night, way.unit, way.language, days).use { world ->
            draw("$name-${way.name}", view(world, way, speaking(activity(way.scale), way.language)))
        }
    }

    @Test
    fun now() = each("now") { world, way, context ->
        nowView(context, way.palette, NowPresenter(world.companion, world.clock).look().screen(), nowActs)
    }

    // Always dark, whatever the phone is set to.
    @Test
    fun night() = each("night", night = true) { world, _, context ->
        nightView(context, NightPresenter(world.companion, world.clock).woken().screen(), nightActs)
    }

    @Test
    fun nightAnswered() = each("night-rolled-off", night = true) { world, _, context ->
        nightView(context, NightPresenter(world.companion, world.clock).rolledOver().screen(), nightActs)
    }

    @Test
    fun log() = each("log") { world, way, context ->
        logView(context, way.palette, LogPresenter(world.companion, world.clock).list().screen(), logActs)
    }

    @Test
    fun logPuttingRight() = each("log-right") { world, way, context ->
        val presenter = LogPresenter(world.companion, world.clock)
        val meter = presenter.list().screen().days.flatMap { it.rows }.first { it.putRight }
        presenter.putRight(meter.id)
        logView(context, way.palette, presenter.keepRight("0").screen(), logActs)
    }

    private fun page(name: String, chapter: Chapter, days: Int = 16, ask: (World, Way, RecordPresenter) -> Shown<RecordScreen>) =
        each("record-$name", days = days) { world, way, context ->
            val presenter = RecordPresenter(world.companion, world.clock, world.passing)
            presenter.turnTo(chapter)
            recordView(context, way.palette, ask(world, way, presenter).screen(), recordActs)
        }

    @Test
    fun review() = page("review", Chapter.REVIEW) { _, _, presenter -> presenter.show() }

    @Test
    fun sensors() = page("sensors", Chapter.SENSORS) { _, _, presenter -> presenter.show() }

    @Test
    fun alerts() = page("alerts", Chapter.ALERTS) { _, way, presenter ->
        presenter.act(Act.REPLAY, mapOf(Ask.HIGH_LINE to if (way.unit == GlucoseUnit.MMOL_L) "12" else "220"))
    }

    @Test
    fun learnt() = page("learnt", Chapter.LEARNT) { _, _, presenter -> presenter.act(Act.LEARN) }

    @Test
    fun answers() = page("answers", Chapter.ANSWERS) { world, _, presenter ->
        for (n in 1..24) {
            val then = world.now.copy(unixMs = world.now.unixMs - n * 13 * 3_600_000L)
            world.companion.check().show(Question(then, Occasion.LOOK, null, null))
        }
        presenter.show()
    }

    @Test
    fun supplies() = page("supplies", Chapter.SUPPLIES) { _, way, presenter ->
        presenter.act(Act.NOTE_SUPPLY, mapOf(Ask.AMOUNT to "3", Ask.EXPIRES to "2026-09-30"))
        val price = if (way.language == Language.GERMAN) "24,50" else "24.50"
        val strips = mapOf(Ask.ITEM to Item.TEST_STRIP.name, Ask.AMOUNT to "50", Ask.PRICE to price, Ask.CURRENCY to "EUR")
        presenter.act(Act.NOTE_SUPPLY, strips)
    }

    @Test
    fun need() = page("need", Chapter.SUPPLIES) { _, _, presenter -> presenter.act(Act.STATEMENT, mapOf(Ask.NEED_DAYS to "16")) }

    @Test
    fun copies() = page("copies", Chapter.COPIES, days = 0) { _, _, presenter ->
        presenter.act(Act.SEAL, mapOf(Ask.PASSPHRASE to "one", Ask.PASSPHRASE_AGAIN to "other"))
    }

    @Test
    fun copyLookedInto() = page("copy", Chapter.COPIES, days = 0) { world, _, presenter ->
        val other = File(world.passing, "other").apply { parentFile.mkdirs() }
        EbbsteadCompanion.open(other.path, Language.ENGLISH, world.now).use { phone ->
            phone.log().record(What.Carbohydrate(17.0, Purpose.RESCUE), world.now.copy(unixMs = world.now.unixMs - 7_200_000), world.now)
            phone.closeLog()
        }
        presenter.chosen(Chosen(other, "phone.ebb"))
        presenter.act(Act.LOOK_INTO_OTHER)
    }

    @Test
    fun settings() = each("settings") { world, way, context ->
        settingsView(context, way.palette, SettingsPresenter(world.companion, world.clock).show().screen()) {}
            .also { assertEquals("one of each choice", 3, chosen(it)) }
    }

    /** What a screen reader gets: every button and drawing says what it is, and nothing is too small for a finger (48 dp). */
    @Test
    fun everythingDrawnAndPressedHasWordsAndRoom() = World(days = 16).use { world ->
        val activity = activity()
        val views = listOf(
            nowView(activity, Palette.LIGHT, NowPresenter(world.companion, world.clock).look().screen(), nowActs),
            logView(activity, Palette.LIGHT, LogPresenter(world.companion, world.clock).list().screen(), logActs),
            recordView(activity, Palette.LIGHT, RecordPresenter(world.companion, world.clock, world.passing).show().screen(), recordActs),
        )
        val seen = views.sumOf { view ->
            draw("", view)
            wordedAndRoomy(view)
        }
        assertTrue("$seen", seen > 20)
    }

    @Test
    fun aPassphraseIsShownAsDotsAndKeptByNoOtherApp() = World().use { world ->
        val screen = RecordPresenter(world.companion, world.clock, world.passing).turnTo(Chapter.COPIES).screen()
        val fields = all(recordView(activity(), Palette.LIGHT, screen, recordActs)).filterIsInstance<EditText>()
        assertEquals(2, fields.size)
        for (field in fields) {
            assertTrue(field.transformationMethod is PasswordTransformationMethod && !field.isSaveEnabled)
            assertEquals(View.IMPORTANT_FOR_AUTOFILL_NO, field.importantForAutofill)
        }
    }

    @Test
    fun aSecondTapNotesNothingTwice() = World().use { world ->
        val added = mutableListOf<String>()
        val acts = LogActs({ _, typed -> added.add(typed) }, {}, {}, {}, {}, {}, {}, { added.add("file") }, {})
        val screen = LogPresenter(world.companion, world.clock).list().screen()
        val views = all(logView(activity(), Palette.LIGHT, screen, acts))
        fun button(text: String) = views.filterIsInstance<android.widget.Button>().first { it.text.toString() == text }
        repeat(2) { button(screen.readFile).performClick() }
        views.filterIsInstance<EditText>().first().setText("101")
        repeat(2) { button(screen.add).performClick() }
        assertEquals(listOf("file", "file", "101"), added)
    }

    @Test
    fun aHeadingShrinksRatherThanThatItsLongestWordIsBroken() {
        val sheet = Sheet(speaking(activity(2f), Language.GERMAN), Palette.LIGHT)
        val (long, short) = Pair(sheet.heading("Unterzuckerungsbehandlung"), sheet.heading("Warum"))
        draw("", sheet.root)
        assertEquals(1, long.lineCount)
        assertTrue("${long.textSize} ${short.textSize}", long.textSize < short.textSize && long.textSize > 0.6f * short.textSize)
    }

    private fun all(view: View): List<View> =
        listOf(view) + if (view is android.view.ViewGroup) (0 until view.childCount).flatMap { all(view.getChildAt(it)) } else emptyList()

    private fun wordedAndRoomy(view: View): Int = when (view) {
        is android.widget.Button, is PathView, is DayView -> {
            val words = view.contentDescription ?: (view as? android.widget.TextView)?.text
            assertTrue("$view", !words.isNullOrBlank())
            assertTrue("$words is ${view.height} high", view.height >= 96) // 48 dp at two pixels each
            1
        }
        is android.view.ViewGroup -> (0 until view.childCount).sumOf { wordedAndRoomy(view.getChildAt(it)) }
        else -> 0
    }
}
