package ebbstead.sample.phone

import android.Manifest
import android.annotation.SuppressLint
import android.app.AlertDialog
import android.bluetooth.BluetoothManager
import android.bluetooth.le.*
import android.content.*
import android.content.pm.PackageManager
import android.net.Uri
import android.os.*
import android.provider.*
import android.widget.ArrayAdapter
import androidx.activity.*
import androidx.activity.compose.*
import androidx.compose.foundation.isSystemInDarkTheme
import androidx.compose.runtime.*
import ebbstead.*
import ebbstead.sample.present.*
import ebbstead.sample.ui.App
import java.io.File
import java.io.IOException

/** Shows the shell's screens, and does for it what only the phone can. */
class MainActivity : ComponentActivity(), Phone {
    private val work = oneByOne()
    private val long = oneByOne()
    private val front = Handler(Looper.getMainLooper())
    private val state by lazy { PhoneState(this) }
    private lateinit var shell: Shell
    private var isOverLock by mutableStateOf(false)

    /** Files on their way in or out. They are deleted once they have arrived, and with the next start at the latest. */
    private val passing by lazy { File(cacheDir, "passing") }
    private var document: RecordDocument? = null
    private var finding: AlertDialog? = null

    private val minute = object : Runnable {
        override fun run() {
            shell.minute()
            front.postDelayed(this, 60_000)
        }
    }

    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        enableEdgeToEdge()
        if (saved == null) passing.deleteRecursively() else document = saved.getStringArray(DOCUMENT)?.let { (name, type, path, said) -> RecordDocument(name, type, path, said) }
        shell = Shell(logPath(), spoken(), phoneClock, work, this, state, passing, long)
        setContent {
            BackHandler(shell.canGoBack) { shell.back() }
            // What the wearer was woken for lies over the lock; the rest of the app lies under it.
            val inside = shell.help == null && !shell.face.isDark && shell.face.run { this is Face.Now || this is Face.Log || this is Face.Record || this is Face.Settings }
            LaunchedEffect(inside, isOverLock) { if (inside) overLock(false) }
            App(shell, isSystemInDarkTheme())
        }
        opened(intent.takeIf { saved == null })
    }

    override fun onNewIntent(intent: Intent) {
        super.onNewIntent(intent)
        setIntent(intent)
        opened(intent)
    }

    /** What was ended and comes back has done what it was opened for. */
    private fun opened(intent: Intent?) {
        val at = Opens.entries.firstOrNull { it.name == intent?.action } ?: Opens.WHERE_IT_WAS
        // An answer that opens the app was tapped.
        if (at == Opens.METER || at == Opens.HELP) quiet()
        overLock(at != Opens.WHERE_IT_WAS)
        shell.open(at)
    }

    private fun overLock(over: Boolean) {
        isOverLock = over
        setShowWhenLocked(over)
        setTurnScreenOn(over)
    }

    override fun onSaveInstanceState(out: Bundle) {
        document?.run { out.putStringArray(DOCUMENT, arrayOf(name, mediaType, path, said)) }
        super.onSaveInstanceState(out)
    }

    override fun onStart() {
        super.onStart()
        shell.toFront()
        front.post(minute)
        // Whatever ended it, opening the app has it watch again.
        if (state.watches) WatchService.start(this)
        if (state.readsHealth) health()
    }

    override fun onStop() {
        front.removeCallbacks(minute)
        // The next press of the power button shows nothing over the lock; and nobody looks for a sensor.
        overLock(false)
        finding?.dismiss()
        shell.left()
        super.onStop()
    }

    override fun onDestroy() {
        shell.close()
        work.shutdown()
        long.shutdown()
        super.onDestroy()
    }

    // What the shell asks of the phone.

    /** Opens the dialler with the number in it: Android lets no app call an emergency number by itself. */
    override fun dial(number: String) = show(Intent(Intent.ACTION_DIAL, Uri.fromParts("tel", number, null)))

    /** A tablet may have no dialler: the number stands on the button. */
    private fun show(what: Intent) = try {
        startActivity(what)
    } catch (_: ActivityNotFoundException) {
    }

    override fun allowAlerts() = requestPermissions(arrayOf(Manifest.permission.POST_NOTIFICATIONS), ALLOWED)

    override val isMuted: Boolean get() = state.watches && Notices.areOff(this)

    override fun quiet() = Notices.quiet(this)

    override fun logChanged() {
        if (state.watches) front.post { WatchService.start(this) } else GlanceWidget.draw(this)
    }

    /** Lists what is found nearby; the wearer says which is theirs. */
    @SuppressLint("MissingPermission") // asked for first
    override fun findSensor() {
        val asked = arrayOf(Manifest.permission.BLUETOOTH_SCAN, Manifest.permission.BLUETOOTH_CONNECT)
        if (asked.any { checkSelfPermission(it) != PackageManager.PERMISSION_GRANTED }) return requestPermissions(asked, FOUND)
        val adapter = getSystemService(BluetoothManager::class.java)?.adapter
        val scanner = adapter?.bluetoothLeScanner ?: return show(Intent(Settings.ACTION_BLUETOOTH_SETTINGS))
        val found = mutableListOf<Pair<NearbyKind, PhoneState.Chosen>>()
        val names = ArrayAdapter<String>(this, android.R.layout.simple_list_item_1)
        val scan = object : ScanCallback() {
            override fun onScanResult(type: Int, result: ScanResult) {
                val address = result.device.address
                if (found.any { (_, one) -> one.address == address }) return
                val offered = result.scanRecord?.serviceUuids.orEmpty().map { BluetoothSource.number(it.uuid).toUShort() }
                val kind = nearbyKind(offered) ?: return
                val name = result.device.name ?: result.scanRecord?.deviceName ?: address
                found.add(kind to PhoneState.Chosen(address, name))
                names.add(name)
            }

            override fun onScanFailed(code: Int) = shell.received(listOf(shell.word(Label.SENSOR_REFUSED)))
        }
        val wanted = BluetoothSource.SERVICES.map { ScanFilter.Builder().setServiceUuid(ParcelUuid(it)).build() }
        finding?.dismiss()
        scanner.startScan(wanted, ScanSettings.Builder().build(), scan)
        finding = AlertDialog.Builder(this).setTitle(shell.word(Label.FIND_SENSOR)).setNegativeButton(shell.word(Label.CANCEL), null).setAdapter(names) { _, which ->
            found[which].let { (kind, device) -> state.choose(kind, device) }
            sourcesChanged()
        }.setOnDismissListener { if (adapter.isEnabled) scanner.stopScan(scan) }.show()
    }

    override fun sourcesChanged() {
        stopService(Intent(this, WatchService::class.java))
        isWatched = state.watches
        if (state.watches) WatchService.start(this)
    }

    /** What is read is said beside the button; the phone asks then, once. Where there is nothing to ask for, reading says so. */
    override fun readHealth() {
        val granted = checkSelfPermission(HealthConnect.READ) == PackageManager.PERMISSION_GRANTED
        if (granted || HealthConnect.manager(this) == null) health() else requestPermissions(HealthConnect.ASKED, HEALTH)
    }

    /** Fills the gap since the app was last open. */
    private fun health() {
        val reads = checkSelfPermission(HealthConnect.READ) == PackageManager.PERMISSION_GRANTED
        if (reads && !state.readsHealth) {
            state.readsHealth = true
            WatchService.start(this)
        }
        shell.intake { it.read(HealthConnect(this, work)) { texts -> shell.received(texts) } }
    }

    override fun pickFile(why: Pick) {
        val pick = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("*/*")
        @Suppress("DEPRECATION") // results by request code need no library
        startActivityForResult(pick, why.ordinal)
    }

    override fun handOver(document: RecordDocument) {
        this.document?.let { File(it.path).delete() }
        this.document = document
        val make = Intent(Intent.ACTION_CREATE_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(document.mediaType)
        @Suppress("DEPRECATION")
        startActivityForResult(make.putExtra(Intent.EXTRA_TITLE, document.name), MADE)
    }

    @Deprecated("Deprecated in Java")
    override fun onActivityResult(request: Int, result: Int, data: Intent?) {
        @Suppress("DEPRECATION")
        super.onActivityResult(request, result, data)
        val uri = data?.data.takeIf { result == RESULT_OK }
        when (request) {
            MADE -> document?.let { keep(it, uri) }
            Pick.LOOK_INTO.ordinal -> uri?.let { choose(it) }
            Pick.READ_IN.ordinal -> uri?.let { read(it) }
        }
    }

    override fun onRequestPermissionsResult(request: Int, asked: Array<String>, granted: IntArray) {
        super.onRequestPermissionsResult(request, asked, granted)
        if (request == HEALTH) health()
        if (request == ALLOWED) {
            val allowed = granted.firstOrNull() == PackageManager.PERMISSION_GRANTED
            val asksAgain = granted.isEmpty() || shouldShowRequestPermissionRationale(Manifest.permission.POST_NOTIFICATIONS)
            when {
                // There is no question for it, only a page of the settings.
                allowed && Build.VERSION.SDK_INT >= Build.VERSION_CODES.UPSIDE_DOWN_CAKE && !Notices.fillsScreen(this) ->
                    show(Intent(Settings.ACTION_MANAGE_APP_USE_FULL_SCREEN_INTENT, Uri.fromParts("package", packageName, null)))
                !Notices.areOff(this) -> Unit
                // Refused for good, or switched off: the phone asks no more, and its settings alone can change it.
                allowed || !asksAgain -> show(Intent(Settings.ACTION_APP_NOTIFICATION_SETTINGS).putExtra(Settings.EXTRA_APP_PACKAGE, packageName))
            }
            shell.alertsOff(isMuted)
        }
        if (request == FOUND && granted.isNotEmpty()) {
            if (granted.all { it == PackageManager.PERMISSION_GRANTED }) findSensor() else shell.received(listOf(shell.word(Label.SENSOR_REFUSED)))
        }
    }

    /** Copies what was made to where the wearer wants it, if anywhere; nothing of it stays here. */
    private fun keep(made: RecordDocument, uri: Uri?) {
        document = null
        val file = File(made.path)
        long.execute {
            val trouble = if (uri == null) null else trying {
                val out = contentResolver.openOutputStream(uri, "wt") ?: throw IOException("$uri")
                out.use { to -> file.inputStream().use { it.copyTo(to) } }
            }
            file.delete()
            when {
                trouble != null -> shell.say("${made.name}: $trouble")
                uri != null && made.said.isNotEmpty() -> shell.say(made.said)
            }
        }
    }

    /** Copies a picked file to where SQLite may open it. */
    private fun choose(uri: Uri) = long.execute {
        val file = File(passing, "chosen")
        val name = name(uri)
        val trouble = trying {
            passing.mkdirs()
            val from = contentResolver.openInputStream(uri) ?: throw IOException("$uri")
            from.use { input -> file.outputStream().use { input.copyTo(it) } }
        }
        if (trouble == null) shell.lookInto(file, name) else shell.say("$name: $trouble")
    }

    private fun read(uri: Uri) = work.execute {
        var bytes = ByteArray(0)
        val trouble = trying { contentResolver.openInputStream(uri)?.use { bytes = it.readBytes() } }
        if (trouble == null) shell.read(name(uri), bytes) else shell.received(listOf("${name(uri)}: $trouble"))
    }

    private fun name(uri: Uri): String = contentResolver.query(uri, arrayOf(OpenableColumns.DISPLAY_NAME), null, null, null)?.use {
        if (it.moveToFirst()) it.getString(0) else null
    } ?: "file"

    private fun trying(work: () -> Unit): String? = try {
        work()
        null
    } catch (refused: IOException) {
        refused.localizedMessage ?: "$refused"
    } catch (refused: SecurityException) {
        refused.localizedMessage ?: "$refused"
    }

    private companion object {
        const val MADE = 10
        const val FOUND = 11
        const val ALLOWED = 12
        const val HEALTH = 13
        const val DOCUMENT = "document"
    }
}
