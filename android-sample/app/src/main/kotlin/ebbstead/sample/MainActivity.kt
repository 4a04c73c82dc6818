package ebbstead.sample

import android.Manifest
import android.annotation.SuppressLint
import android.app.Activity
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothManager
import android.bluetooth.le.ScanCallback
import android.bluetooth.le.ScanFilter
import android.bluetooth.le.ScanResult
import android.bluetooth.le.ScanSettings
import android.content.Context
import android.content.Intent
import android.content.pm.PackageManager
import android.content.res.Configuration
import android.net.Uri
import android.os.Bundle
import android.os.Handler
import android.os.Looper
import android.os.ParcelUuid
import android.provider.OpenableColumns
import android.view.View
import android.widget.Button
import android.widget.EditText
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
import ebbstead.sample.present.LogScreen
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NightScreen
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.NowScreen
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.present.SettingsScreen
import ebbstead.sample.present.Shown
import ebbstead.sample.present.advice
import ebbstead.sample.present.record.Act
import ebbstead.sample.present.record.Chosen
import ebbstead.sample.present.record.Document
import ebbstead.sample.present.record.RecordPresenter
import ebbstead.sample.present.record.RecordScreen
import ebbstead.sample.present.record.Standing
import ebbstead.sample.present.shown
import ebbstead.sample.screen.LogActs
import ebbstead.sample.screen.NightActs
import ebbstead.sample.screen.NowActs
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.RecordActs
import ebbstead.sample.screen.logView
import ebbstead.sample.screen.nightView
import ebbstead.sample.screen.nowView
import ebbstead.sample.screen.recordView
import ebbstead.sample.screen.settingsView
import ebbstead.sample.screen.speaking
import ebbstead.sample.screen.troubleView
import ebbstead.sample.source.BluetoothSource
import ebbstead.sample.source.Intake
import ebbstead.sample.source.Source
import ebbstead.sample.source.offsetsOfThisPhone
import java.io.File
import java.io.IOException
import java.util.TimeZone
import java.util.concurrent.Executors

/** Owns the log, runs presenters off the drawing thread, and shows what they make. It decides nothing. */
class MainActivity : Activity() {
    private enum class Place(val label: Label) {
        NOW(Label.SCREEN_NOW), NIGHT(Label.SCREEN_NIGHT), LOG(Label.SCREEN_LOG), RECORD(Label.SCREEN_RECORD),
        SETTINGS(Label.SCREEN_SETTINGS)
    }

    /** The open log and what presents it; all of it is used on the one working thread. */
    private inner class Desk(val companion: EbbsteadCompanion) {
        val now = NowPresenter(companion, clock)
        val night = NightPresenter(companion, clock)
        val log = LogPresenter(companion, clock)
        val record = RecordPresenter(companion, clock, passing, standing)
        val settings = SettingsPresenter(companion, clock)
        val intake = Intake(companion, clock, offsetsOfThisPhone())
    }

    private val clock = Clock {
        val now = System.currentTimeMillis()
        Moment(now, TimeZone.getDefault().getOffset(now) / 60_000)
    }
    private val work = Executors.newSingleThreadExecutor()
    private val front = Handler(Looper.getMainLooper())
    @Volatile private var desk: Desk? = null
    private var place = Place.NOW

    /** What was made for the wearer to keep, while they choose where. */
    private var document: Document? = null

    /** Files on their way in or out. They are deleted once they have arrived, and with the next start at the latest. */
    private val passing by lazy { File(cacheDir, "passing") }

    /** Where the wearer stood in the record when the log was closed; used on the working thread. */
    private var standing = Standing()
    @Volatile private var source: Source? = null

    private val minute = object : Runnable {
        override fun run() {
            work.execute { try { desk?.companion?.tick(clock.now()) } catch (_: ApiException) { } }
            front.postDelayed(this, 60_000)
        }
    }

    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        saved?.getString("place")?.let { place = Place.valueOf(it) }
        val kept = saved?.getStringArray("document")
        if (kept != null) document = Document(kept[0], kept[1], File(kept[2]), kept.drop(3))
        else passing.deleteRecursively()
    }

    override fun onStart() {
        super.onStart()
        work.execute {
            try {
                val language = if (resources.configuration.locales[0].language == "de") Language.GERMAN else Language.ENGLISH
                val companion = EbbsteadCompanion.open(File(filesDir, "log.ebb").path, language, clock.now())
                companion.watch(object : Watcher {
                    override fun logChanged() { front.post { lookAgain() } }
                    override fun settingsChanged() { front.post { lookAgain() } }
                    override fun promptDue(due: Due) { front.post { lookAgain() } }
                })
                desk = Desk(companion)
                front.post { show(place); front.postDelayed(minute, 60_000) }
            } catch (refused: ApiException) {
                front.post { setContentView(troubleView(this, palette(), refused.advice(), "OK") { recreate() }) }
            }
        }
    }

    override fun onStop() {
        front.removeCallbacks(minute)
        work.execute {
            source?.end()
            source = null
            desk?.let { standing = it.record.standing }
            desk?.companion?.closeLog()
            desk?.companion?.close()
            desk = null
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
        document?.let { out.putStringArray("document", arrayOf(it.name, it.type, it.file.path) + it.told) }
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
        when (where) {
            Place.NOW -> now { it.look() }
            Place.NIGHT -> night { it.woken() }
            Place.LOG -> log { it.list() }
            Place.RECORD -> record { it.show() }
            Place.SETTINGS -> settings { it.show() }
        }
    }

    /** Something changed by itself. Nobody's typing is taken away for it, nor what was said about the last tap. */
    private fun lookAgain() {
        if (currentFocus is EditText) return
        when (place) {
            Place.NOW -> now { it.refresh() }
            Place.NIGHT -> night { it.refresh() }
            Place.LOG -> log { it.refresh() }
            // A page stands until it is asked for again, and what is being filled in until it is kept.
            Place.RECORD, Place.SETTINGS -> Unit
        }
    }

    private fun now(ask: (NowPresenter) -> Shown<NowScreen>): Unit = run(Place.NOW, { ask(it.now) }) { context, screen ->
        nowView(context, palette(), screen, NowActs({ now { it.look() } }, { felt -> now { it.feels(felt) } }, { now { one -> one.metered(it) } }))
    }

    private fun night(ask: (NightPresenter) -> Shown<NightScreen>): Unit = run(Place.NIGHT, { ask(it.night) }) { context, screen ->
        nightView(
            context, screen,
            NightActs(
                { typed -> night { it.checked(typed) } }, { night { it.treated() } }, { night { it.rolledOver() } },
                { night { it.severe() } }, { night { it.undo() } },
            ),
        )
    }

    private fun log(ask: (LogPresenter) -> Shown<LogScreen>): Unit = run(Place.LOG, { ask(it.log) }) { context, screen ->
        logView(
            context, palette(), screen,
            LogActs(
                { kind, typed -> log { it.add(kind, typed) } }, { minute -> work.execute { desk?.log?.pick(minute) } },
                { log { it.undo() } }, { id -> log { it.putRight(id) } }, { typed -> log { it.keepRight(typed) } }, { log { it.leave() } },
                { id -> log { it.takeBack(id) } }, { pickFile(PICKED) }, { findSensor() },
            ),
        )
    }

    private fun record(ask: (RecordPresenter) -> Shown<RecordScreen>): Unit = run(Place.RECORD, { desk ->
        // A document is handed over even if the wearer has turned away meanwhile: it was asked for.
        ask(desk.record).also { shown -> (shown as? Shown.Screen)?.content?.document?.let { front.post { handOver(it) } } }
    }) { context, screen ->
        recordView(
            context, palette(), screen,
            RecordActs({ to -> record { it.turnTo(to) } }) { act, filled ->
                if (act == Act.CHOOSE_OTHER) pickFile(CHOSEN) else record { it.act(act, filled) }
            },
        )
    }

    private fun settings(ask: (SettingsPresenter) -> Shown<SettingsScreen>): Unit = run(Place.SETTINGS, { ask(it.settings) }) { context, screen ->
        settingsView(context, palette(), screen) { form -> settings { it.save(form) } }
    }

    /** Asks off the drawing thread, then shows the screen, unless one has turned away, or what to do instead. */
    private fun <T> run(where: Place, ask: (Desk) -> Shown<T>, view: (Context, T) -> View) {
        work.execute {
            val open = desk ?: return@execute
            val answer = ask(open)
            val language = (shown { open.companion.settings().wearer().language } as? Shown.Screen)?.content ?: Language.ENGLISH
            val words = open.companion.words()
            val again = words.label(Label.LOOK_NOW)
            val names = Place.entries.associateWith { words.label(it.label) }
            front.post {
                if (place != where) return@post
                val page = when (answer) {
                    is Shown.Screen -> view(speaking(this, language), answer.content)
                    is Shown.Trouble -> troubleView(this, palette(), answer.advice, again) { show(place) }
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

    /** Looks for a device that speaks one of the two services, connects to the first and follows it. */
    @SuppressLint("MissingPermission") // asked for first
    private fun findSensor() {
        val asked = arrayOf(Manifest.permission.BLUETOOTH_SCAN, Manifest.permission.BLUETOOTH_CONNECT)
        if (asked.any { checkSelfPermission(it) != PackageManager.PERMISSION_GRANTED }) {
            requestPermissions(asked, FOUND)
            return
        }
        val scanner = getSystemService(BluetoothManager::class.java)?.adapter?.bluetoothLeScanner ?: return
        val wanted = BluetoothSource.SERVICES.map {
            ScanFilter.Builder().setServiceUuid(ParcelUuid(BluetoothSource.assigned(it))).build()
        }
        scanner.startScan(wanted, ScanSettings.Builder().build(), object : ScanCallback() {
            override fun onScanResult(kind: Int, found: ScanResult) {
                scanner.stopScan(this)
                if (source == null) follow(found.device)
            }
        })
    }

    @SuppressLint("MissingPermission") // asked for before
    private fun follow(device: BluetoothDevice) = work.execute {
        val intake = desk?.intake ?: return@execute
        val begun = BluetoothSource(this, device, intake.everyRecord)
        source = begun
        intake.follow(begun, device.name ?: device.address) { told -> front.post { log { it.heard(told) } } }
    }

    override fun onRequestPermissionsResult(request: Int, asked: Array<String>, granted: IntArray) {
        super.onRequestPermissionsResult(request, asked, granted)
        if (request == FOUND && granted.isNotEmpty() && granted.all { it == PackageManager.PERMISSION_GRANTED }) findSensor()
    }

    private fun pickFile(why: Int) {
        val pick = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("*/*")
        startActivityForResult(pick, why)
    }

    /** Lets the wearer choose where a document goes. */
    private fun handOver(made: Document) {
        document?.file?.delete()
        document = made
        val make = Intent(Intent.ACTION_CREATE_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(made.type)
        startActivityForResult(make.putExtra(Intent.EXTRA_TITLE, made.name), MADE)
    }

    override fun onActivityResult(request: Int, result: Int, data: Intent?) {
        super.onActivityResult(request, result, data)
        val uri = data?.data.takeIf { result == RESULT_OK }
        when (request) {
            MADE -> document?.let { keep(it, uri) }
            CHOSEN -> uri?.let { choose(it) }
            PICKED -> uri?.let { read(it) }
        }
    }

    /** Copies what was made to where the wearer wants it, if anywhere; nothing of it stays here. */
    private fun keep(made: Document, uri: Uri?) {
        document = null
        work.execute {
            val trouble = if (uri == null) null else trying {
                val out = contentResolver.openOutputStream(uri, "wt") ?: throw IOException("$uri")
                out.use { to -> made.file.inputStream().use { it.copyTo(to) } }
            }
            made.file.delete()
            if (uri != null) front.post { record { if (trouble == null) it.handedOver(made) else it.failed(made.name, trouble) } }
        }
    }

    /** Copies what the wearer chose to where core may look into it. */
    private fun choose(uri: Uri) = work.execute {
        val name = nameOf(uri)
        val other = File(passing, "other")
        val trouble = trying {
            passing.mkdirs()
            val from = contentResolver.openInputStream(uri) ?: throw IOException("$uri")
            from.use { it -> other.outputStream().use { to -> it.copyTo(to) } }
        }
        if (trouble != null) other.delete()
        front.post { record { if (trouble == null) it.chosen(Chosen(other, name)) else it.failed(name, trouble) } }
    }

    private fun read(uri: Uri) = work.execute {
        val name = nameOf(uri)
        var bytes = ByteArray(0)
        val trouble = trying { contentResolver.openInputStream(uri)?.use { bytes = it.readBytes() } ?: throw IOException("$uri") }
        front.post { log { if (trouble == null) it.read(name, bytes, offsetsOfThisPhone()) else it.heard(listOf("$name: $trouble")) } }
    }

    private fun nameOf(uri: Uri): String {
        var name: String? = null
        trying {
            contentResolver.query(uri, arrayOf(OpenableColumns.DISPLAY_NAME), null, null, null)?.use {
                if (it.moveToFirst()) name = it.getString(0)
            }
        }
        return name ?: "file"
    }

    /** What hinders, in the phone's words; nothing if it is done. Another app holds the file, and may refuse or be gone. */
    private fun trying(work: () -> Unit): String? = try {
        work()
        null
    } catch (refused: IOException) {
        refused.localizedMessage ?: "$refused"
    } catch (refused: SecurityException) {
        refused.localizedMessage ?: "$refused"
    }

    private companion object {
        const val PICKED = 1
        const val MADE = 2
        const val FOUND = 3
        const val CHOSEN = 4
    }
}
