import android.app.Activity
import android.content.Context
import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import ebbstead.GlucoseUnit
import ebbstead.Language
import ebbstead.sample.present.LogPresenter
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.present.record.Act
import ebbstead.sample.present.record.Ask
import ebbstead.sample.present.record.Chapter
import ebbstead.sample.present.record.Chosen
import ebbstead.sample.present.record.RecordPresenter
import ebbstead.sample.screen.DayView
import ebbstead.sample.screen.LogActs
import ebbstead.sample.screen.NightActs
import ebbstead.sample.screen.NowActs
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.PathView
import ebbstead.sample.screen.RecordActs
import ebbstead.sample.screen.logView
import ebbstead.sample.screen.nightView
import ebbstead.sample.screen.nowView
import ebbstead.sample.screen.recordView
import ebbstead.sample.screen.settingsView
import ebbstead.sample.screen.speaking
import java.io.File
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
        if (name.isNotEmpty()) File(folder, "$name.png").outputStream().use { picture.compress(Bitmap.CompressFormat.PNG, 100, it) }
        val seen = HashSet<Int>()
        for (x in 0 until wide step 3) for (y in 0 until view.measuredHeight step 3) seen.add(picture.getPixel(x, y))
        assertTrue("$name has something drawn on it", seen.size > 10)
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
    private val logActs = LogActs({ _, _, _ -> }, {}, {}, { _, _ -> }, {}, {}, {}, {})
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

    @Test
    fun record() {
        for (chapter in Chapter.entries) each("record-${chapter.name.lowercase()}", days = 16) { world, way, context ->
            val presenter = RecordPresenter(world.companion, world.clock, world.passing)
            var screen = presenter.turnTo(chapter).screen()
            if (chapter == Chapter.LEARNT) screen = presenter.act(Act.LEARN).screen()
            if (chapter == Chapter.ALERTS) {
                val tried = if (way.unit == GlucoseUnit.MMOL_L) "12" else "220"
                screen = presenter.act(Act.REPLAY, mapOf(Ask.HIGH_LINE to tried)).screen()
            }
            recordView(context, way.palette, screen, recordActs)
        }
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
