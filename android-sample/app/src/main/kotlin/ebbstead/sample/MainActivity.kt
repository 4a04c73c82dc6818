package ebbstead.sample

import android.app.Activity
import android.content.Intent
import android.content.res.Configuration
import android.os.Bundle
import android.os.Handler
import android.os.Looper
import android.provider.OpenableColumns
import android.view.View
import android.widget.Button
import android.widget.LinearLayout
import ebbstead.ApiException
import ebbstead.Due
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.Language
import ebbstead.Moment
import ebbstead.Watcher
import ebbstead.sample.present.Clock
import ebbstead.sample.present.LogPresenter
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.present.Shown
import ebbstead.sample.present.advice
import ebbstead.sample.screen.LogActs
import ebbstead.sample.screen.NightActs
import ebbstead.sample.screen.NowActs
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.logView
import ebbstead.sample.screen.nightView
import ebbstead.sample.screen.nowView
import ebbstead.sample.screen.settingsView
import ebbstead.sample.screen.troubleView
import ebbstead.sample.source.offsetsOfThisPhone
import java.io.File
import java.util.TimeZone
import java.util.concurrent.Executors

/** Owns the log, runs presenters off the drawing thread, and shows what they make. It decides nothing. */
class MainActivity : Activity() {
    private enum class Place(val label: Label) {
        NOW(Label.SCREEN_NOW), NIGHT(Label.SCREEN_NIGHT), LOG(Label.SCREEN_LOG), SETTINGS(Label.SCREEN_SETTINGS)
    }

    private val clock = Clock {
        val now = System.currentTimeMillis()
        Moment(now, TimeZone.getDefault().getOffset(now) / 60_000)
    }
    private val work = Executors.newSingleThreadExecutor()
    private val front = Handler(Looper.getMainLooper())
    private var companion: EbbsteadCompanion? = null
    private var place = Place.NOW

    private val minute = object : Runnable {
        override fun run() {
            work.execute { try { companion?.tick(clock.now()) } catch (_: ApiException) { } }
            front.postDelayed(this, 60_000)
        }
    }

    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        saved?.getString("place")?.let { place = Place.valueOf(it) }
    }

    override fun onStart() {
        super.onStart()
        work.execute {
            try {
                val language = if (resources.configuration.locales[0].language == "de") Language.GERMAN else Language.ENGLISH
                companion = EbbsteadCompanion.open(File(filesDir, "log.ebb").path, language, clock.now()).also {
                    it.watch(object : Watcher {
                        override fun logChanged() = Unit
                        override fun settingsChanged() = Unit
                        override fun promptDue(due: Due) { front.post { if (place == Place.NOW) show(Place.NOW) } }
                    })
                }
                front.post { show(place); front.postDelayed(minute, 60_000) }
            } catch (refused: ApiException) {
                front.post { setContentView(troubleView(this, palette(), refused.advice(), "OK") { recreate() }) }
            }
        }
    }

    override fun onStop() {
        front.removeCallbacks(minute)
        work.execute {
            companion?.closeLog()
            companion?.close()
            companion = null
        }
        super.onStop()
    }

    override fun onDestroy() {
        work.shutdown()
        super.onDestroy()
    }

    override fun onSaveInstanceState(out: Bundle) {
        super.onSaveInstanceState(out)
        out.putString("place", place.name)
    }

    override fun onConfigurationChanged(changed: Configuration) {
        super.onConfigurationChanged(changed)
        show(place)
    }

    private fun palette(): Palette {
        val night = resources.configuration.uiMode and Configuration.UI_MODE_NIGHT_MASK == Configuration.UI_MODE_NIGHT_YES
        return if (night) Palette.DARK else Palette.LIGHT
    }

    private fun show(where: Place) {
        place = where
        val open = companion ?: return
        when (where) {
            Place.NOW -> now(open) { NowPresenter(open, clock).look() }
            Place.NIGHT -> night(open) { NightPresenter(open, clock).woken() }
            Place.LOG -> log(open) { LogPresenter(open, clock).list() }
            Place.SETTINGS -> settings(open) { SettingsPresenter(open, clock).show() }
        }
    }

    private fun now(open: EbbsteadCompanion, ask: () -> Shown<ebbstead.sample.present.NowScreen>): Unit = run(open, ask) { screen ->
        val presenter = NowPresenter(open, clock)
        nowView(this, palette(), screen, NowActs({ now(open) { presenter.look() } }, { now(open) { presenter.feels(it) } }))
    }

    private fun night(open: EbbsteadCompanion, ask: () -> Shown<ebbstead.sample.present.NightScreen>): Unit = run(open, ask) { screen ->
        val presenter = NightPresenter(open, clock)
        nightView(
            this, screen,
            NightActs(
                { night(open) { presenter.checked(it) } }, { night(open) { presenter.treated() } },
                { night(open) { presenter.rolledOver() } }, { night(open) { presenter.undo() } },
            ),
        )
    }

    private fun log(open: EbbsteadCompanion, ask: () -> Shown<ebbstead.sample.present.LogScreen>): Unit = run(open, ask) { screen ->
        val presenter = LogPresenter(open, clock)
        logView(
            this, palette(), screen,
            LogActs(
                { kind, typed -> log(open) { presenter.add(kind, typed) } }, { log(open) { presenter.undo() } },
                { log(open) { presenter.takeBack(it) } }, { pickFile() },
            ),
        )
    }

    private fun settings(open: EbbsteadCompanion, ask: () -> Shown<ebbstead.sample.present.SettingsScreen>): Unit = run(open, ask) { screen ->
        settingsView(this, palette(), screen) { form -> settings(open) { SettingsPresenter(open, clock).save(form) } }
    }

    /** Asks off the drawing thread, then shows the screen or what to do instead. */
    private fun <T> run(open: EbbsteadCompanion, ask: () -> Shown<T>, view: (T) -> View) {
        work.execute {
            val shown = ask()
            val again = open.words().label(Label.LOOK_NOW)
            val names = Place.entries.associateWith { open.words().label(it.label) }
            front.post {
                val page = when (shown) {
                    is Shown.Screen -> view(shown.content)
                    is Shown.Trouble -> troubleView(this, palette(), shown.advice, again) { show(place) }
                }
                setContentView(framed(page, names))
            }
        }
    }

    private fun framed(page: View, names: Map<Place, String>): View = LinearLayout(this).apply {
        orientation = LinearLayout.VERTICAL
        fitsSystemWindows = true
        addView(page, LinearLayout.LayoutParams(LinearLayout.LayoutParams.MATCH_PARENT, 0, 1f))
        addView(
            LinearLayout(context).apply {
                for ((where, name) in names) {
                    val button = Button(context, null, android.R.attr.borderlessButtonStyle)
                    button.isAllCaps = false
                    // Which one is open is said by underlining, and to a screen reader.
                    button.text = if (where == place) android.text.SpannableString(name).apply {
                        setSpan(android.text.style.UnderlineSpan(), 0, name.length, 0)
                    } else name
                    button.isSelected = where == place
                    button.setOnClickListener { show(where) }
                    addView(button, LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
                }
            },
        )
    }

    private fun pickFile() {
        val pick = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("*/*")
        startActivityForResult(pick, PICKED)
    }

    override fun onActivityResult(request: Int, result: Int, data: Intent?) {
        super.onActivityResult(request, result, data)
        val uri = data?.data ?: return
        if (request != PICKED || result != RESULT_OK) return
        work.execute {
            val bytes = contentResolver.openInputStream(uri)?.use { it.readBytes() } ?: return@execute
            val name = contentResolver.query(uri, arrayOf(OpenableColumns.DISPLAY_NAME), null, null, null)?.use {
                if (it.moveToFirst()) it.getString(0) else null
            } ?: "file"
            val open = companion ?: return@execute
            front.post { log(open) { LogPresenter(open, clock).read(name, bytes, offsetsOfThisPhone()) } }
        }
    }

    private companion object {
        const val PICKED = 1
    }
}
