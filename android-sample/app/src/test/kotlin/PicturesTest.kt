import android.app.Activity
import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import ebbstead.GlucoseUnit
import ebbstead.Language
import ebbstead.sample.present.LogPresenter
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.screen.LogActs
import ebbstead.sample.screen.NightActs
import ebbstead.sample.screen.NowActs
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.logView
import ebbstead.sample.screen.nightView
import ebbstead.sample.screen.nowView
import ebbstead.sample.screen.settingsView
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
        File(folder, "$name.png").outputStream().use { picture.compress(Bitmap.CompressFormat.PNG, 100, it) }
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

    private val nowActs = NowActs({}, {})

    private fun now(name: String, world: World, palette: Palette, scale: Float = 1f) = world.use {
        draw(name, nowView(activity(scale), palette, NowPresenter(it.companion, it.clock).look().screen(), nowActs))
    }

    @Test fun nowLight() = now("now-light", World(), Palette.LIGHT)

    @Test fun nowDark() = now("now-dark", World(), Palette.DARK)

    @Test fun nowGermanMmolL() = now("now-german-mmol", World(unit = GlucoseUnit.MMOL_L, language = Language.GERMAN), Palette.LIGHT)

    @Test fun nowLargest() = now("now-largest-type", World(), Palette.LIGHT, 2f)

    @Test
    fun night() = World(night = true).use { world ->
        val presenter = NightPresenter(world.companion, world.clock)
        val acts = NightActs({}, {}, {}, {})
        draw("night", nightView(activity(), presenter.woken().screen(), acts))
        draw("night-rolled-over", nightView(activity(), presenter.rolledOver().screen(), acts))
    }

    @Test
    fun log() = World().use { world ->
        draw("log", logView(activity(), Palette.LIGHT, LogPresenter(world.companion, world.clock).list().screen(), LogActs({ _, _ -> }, {}, {}, {})))
    }

    @Test
    fun settings() = World(language = Language.GERMAN).use { world ->
        val view = settingsView(activity(), Palette.DARK, SettingsPresenter(world.companion, world.clock).show().screen()) {}
        draw("settings-german-dark", view)
        assertEquals("one of each choice", 3, chosen(view))
    }
}
