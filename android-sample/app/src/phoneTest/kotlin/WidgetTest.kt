import android.app.AlarmManager
import android.app.Application
import android.appwidget.AppWidgetManager
import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import android.widget.ImageView
import android.widget.TextView
import ebbstead.EbbsteadCompanion
import ebbstead.EntryKind
import ebbstead.Moment
import ebbstead.ReadingAt
import ebbstead.sample.R
import ebbstead.sample.phone.PhoneState
import ebbstead.sample.phone.GlanceWidget
import ebbstead.sample.phone.MainActivity
import ebbstead.sample.phone.WatchService
import ebbstead.sample.phone.background
import ebbstead.sample.phone.logPath
import ebbstead.sample.phone.openLog
import ebbstead.sample.phone.phoneClock
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode

/** A reading in, the right words on the widget; an old one, and there is no number. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [35])
class WidgetTest {
    private val context: Application = RuntimeEnvironment.getApplication()
    private val widgets = shadowOf(AppWidgetManager.getInstance(context))

    private fun <T> log(use: (EbbsteadCompanion) -> T): T = context.openLog().use { log -> use(log).also { log.closeLog() } }

    private fun ago(minutes: Int) = phoneClock.now().run { Moment(unixMs - minutes * 60_000L, offsetMinutes) }

    private fun read(vararg mgDl: Double, minutesAgo: Int = 0) = log { log ->
        val readings = mgDl.mapIndexed { n, one -> ReadingAt(ago(minutesAgo + 5 * (mgDl.size - 1 - n)), one) }
        log.log().recordReadings("sensor 7", readings, phoneClock.now())
    }

    private fun meter(mgDl: Double) = log { it.log().record(EntryKind.MeterCheck(mgDl), phoneClock.now(), phoneClock.now()) }

    /** What stands on a widget: word, amount, beside it; nothing for what is hidden. */
    private fun said(id: Int) = listOf(R.id.word, R.id.amount, R.id.beside).map { view ->
        widgets.getViewFor(id).findViewById<TextView>(view).takeIf { it.visibility == View.VISIBLE }?.text?.toString()
    }

    private fun widget(): Int = widgets.createWidget(GlanceWidget::class.java, R.layout.glance).also { background.submit { }.get() }

    @Test
    fun aReadingStandsThereWithItsAgeAndItsTime() {
        read(120.0, 119.0, 118.0)
        val (word, amount, beside) = said(widget())
        assertTrue("$word", !word.isNullOrBlank())
        assertTrue("$amount", amount!!.matches(Regex("118 mg/dL · \\d\\d:\\d\\d")))
        assertTrue("$beside", beside!!.startsWith("just now"))
    }

    @Test
    fun anOldReadingIsNoNumber() {
        read(120.0, 119.0, 118.0, minutesAgo = 50)
        val (word, amount, beside) = said(widget())
        assertEquals("Check first", word)
        assertNull(amount)
        assertEquals("Check with a meter: the newest reading is too old to act on.", beside)
        assertNull("nothing changes by itself any more", shadowOf(context.getSystemService(AlarmManager::class.java)).nextScheduledAlarm)
    }

    @Test
    fun eachVerdictHasItsShapeAndItsWeightAndATapOpensTheApp() {
        read(120.0, 119.0, 118.0)
        val view = widgets.getViewFor(widget())
        assertNotNull(view.findViewById<ImageView>(R.id.sign).drawable)
        fun inks() = view.findViewById<View>(R.id.block).backgroundTintList!!.defaultColor to view.findViewById<TextView>(R.id.word).currentTextColor
        val (ground, ink) = inks()
        meter(58.0)
        GlanceWidget.draw(context)
        // A low is the other way round: urgency is weight.
        assertEquals("Treat", view.findViewById<TextView>(R.id.word).text.toString())
        assertEquals(ink to ground, inks())
        view.findViewById<View>(R.id.outline).performClick()
        assertEquals(MainActivity::class.java.name, shadowOf(context).nextStartedActivity.component!!.className)
    }

    @Test
    fun theServiceDrawsItAndNobodyCountsAsHavingSeenIt() {
        val id = widget()
        assertNull(said(id)[1])
        read(120.0, 119.0, 118.0)
        log { WatchService.ask(context, it, PhoneState(context)) }
        assertTrue(said(id)[1]!!.startsWith("118 mg/dL"))
        val prompted = log { log -> log.log().list(ago(60), phoneClock.now(), false, true).filter { it.entry.what is EntryKind.Prompted } }
        assertEquals(emptyList<Any>(), prompted)
        // The next minute of the reading; it wakes nobody.
        val alarm = shadowOf(context.getSystemService(AlarmManager::class.java)).scheduledAlarms.first { shadowOf(it.operation).savedIntent.action == AppWidgetManager.ACTION_APPWIDGET_UPDATE }
        assertEquals(AlarmManager.RTC, alarm.type)
        assertTrue(alarm.triggerAtMs - phoneClock.now().unixMs in 0..60_000)
    }

    @Test
    fun aLogThatCannotBeOpenedLeavesNoNumberStanding() {
        read(120.0, 119.0, 118.0)
        val id = widget()
        File(context.logPath()).writeText("no log")
        GlanceWidget.draw(context)
        val (_, amount, beside) = said(id)
        assertNull(amount)
        assertTrue(!beside.isNullOrBlank())
    }

    /** Drawn by Android's own code; the pictures are there to be looked at. */
    @Test
    @GraphicsMode(GraphicsMode.Mode.NATIVE)
    fun itDrawsItsWeightsAndShapesAndCutsNoWord() {
        fun picture(name: String): Bitmap {
            val side = { dp: Int -> (dp * context.resources.displayMetrics.density).toInt() }
            val view = widgets.getViewFor(widget())
            view.measure(View.MeasureSpec.makeMeasureSpec(side(220), View.MeasureSpec.EXACTLY), View.MeasureSpec.makeMeasureSpec(side(130), View.MeasureSpec.EXACTLY))
            view.layout(0, 0, view.measuredWidth, view.measuredHeight)
            for (text in listOf(R.id.word, R.id.amount, R.id.beside).map { view.findViewById<TextView>(it) }.filter { it.visibility == View.VISIBLE }) {
                assertTrue("$name: \"${text.text}\" is cut", text.layout.height <= text.height && (0 until text.lineCount).all { text.layout.getEllipsisCount(it) == 0 })
            }
            val bitmap = Bitmap.createBitmap(view.width, view.height, Bitmap.Config.ARGB_8888)
            view.draw(Canvas(bitmap))
            val file = File(System.getProperty("ebbstead.pictures"), "widget-$name.png").apply { parentFile.mkdirs() }
            file.outputStream().use { bitmap.compress(Bitmap.CompressFormat.PNG, 100, it) }
            return bitmap
        }
        fun middle(bitmap: Bitmap) = bitmap.getPixel(bitmap.width / 2, bitmap.height - bitmap.height / 8)
        read(120.0, 119.0, 118.0, minutesAgo = 50)
        log { log -> log.settings().run { setWearer(wearer().copy(language = "de"), phoneClock.now()) } }
        RuntimeEnvironment.setFontScale(2f)
        val lost = picture("check-german-large")
        RuntimeEnvironment.setFontScale(1f)
        assertTrue("its outline is of another ink", lost.getPixel(lost.width / 2, 3) != middle(lost))
        read(120.0, 119.0, 118.0)
        val plain = picture("reading")
        meter(58.0)
        val treat = picture("treat")
        assertEquals(treat.getPixel(treat.width / 2, 3), middle(treat))
        assertTrue(middle(plain) != middle(treat))
    }
}
