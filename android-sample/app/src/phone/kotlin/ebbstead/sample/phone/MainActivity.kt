package ebbstead.sample.phone

import android.Manifest
import android.annotation.SuppressLint
import android.app.AlertDialog
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothManager
import android.bluetooth.le.ScanCallback
import android.bluetooth.le.ScanFilter
import android.bluetooth.le.ScanResult
import android.bluetooth.le.ScanSettings
import android.content.Intent
import android.content.pm.PackageManager
import android.net.Uri
import android.os.Bundle
import android.os.Handler
import android.os.Looper
import android.os.ParcelUuid
import android.provider.OpenableColumns
import android.widget.ArrayAdapter
import androidx.activity.ComponentActivity
import androidx.activity.compose.BackHandler
import androidx.activity.compose.setContent
import androidx.activity.enableEdgeToEdge
import androidx.compose.foundation.isSystemInDarkTheme
import ebbstead.RecordDocument
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Phone
import ebbstead.sample.present.Pick
import ebbstead.sample.present.Shell
import ebbstead.sample.ui.App
import java.io.File
import java.io.IOException
import java.util.concurrent.Executors

/** Shows the shell's screens, and does for it what only the phone can. */
class MainActivity : ComponentActivity(), Phone {
    private val work = Executors.newSingleThreadExecutor()
    private val front = Handler(Looper.getMainLooper())
    private val state by lazy { PhoneState(this) }
    private lateinit var shell: Shell

    /** Files on their way in or out. They are deleted once they have arrived, and with the next start at the latest. */
    private val passing by lazy { File(cacheDir, "passing") }
    private var document: RecordDocument? = null

    private val minute = object : Runnable {
        override fun run() {
            shell.minute()
            front.postDelayed(this, 60_000)
        }
    }

    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        enableEdgeToEdge()
        if (saved == null) passing.deleteRecursively()
        shell = Shell(logPath(), spoken(), phoneClock, work, this, passing)
        setContent {
            BackHandler(shell.canGoBack) { shell.back() }
            App(shell, isSystemInDarkTheme())
        }
        opened(intent)
    }

    override fun onNewIntent(intent: Intent) {
        super.onNewIntent(intent)
        opened(intent)
    }

    private fun opened(intent: Intent?) {
        val at = Opens.entries.firstOrNull { it.name == intent?.action } ?: Opens.WHERE_IT_WAS
        setShowWhenLocked(at != Opens.WHERE_IT_WAS)
        setTurnScreenOn(at != Opens.WHERE_IT_WAS)
        shell.open(at)
    }

    override fun onStart() {
        super.onStart()
        front.post(minute)
        if (state.readsHealth) health()
    }

    override fun onStop() {
        front.removeCallbacks(minute)
        super.onStop()
    }

    override fun onDestroy() {
        shell.close()
        work.shutdown()
        super.onDestroy()
    }

    // What the shell asks of the phone.

    /** Opens the dialler with the number in it: Android lets no app call an emergency number by itself. */
    override fun dial(number: String) = startActivity(Intent(Intent.ACTION_DIAL, Uri.fromParts("tel", number, null)))

    override fun allowAlerts() = requestPermissions(arrayOf(Manifest.permission.POST_NOTIFICATIONS), ALLOWED)

    override fun logChanged() {
        if (state.watches) front.post { WatchService.start(this) } else GlanceWidget.draw(this)
    }

    override var numbers: Pair<String?, String?>
        get() = state.numbers
        set(numbers) {
            state.numbers = numbers
        }

    /** Lists what is found nearby; the wearer says which is theirs. */
    @SuppressLint("MissingPermission") // asked for first
    override fun findSensor() {
        val asked = arrayOf(Manifest.permission.BLUETOOTH_SCAN, Manifest.permission.BLUETOOTH_CONNECT)
        if (asked.any { checkSelfPermission(it) != PackageManager.PERMISSION_GRANTED }) return requestPermissions(asked, FOUND)
        val adapter = getSystemService(BluetoothManager::class.java)?.adapter
        val scanner = adapter?.bluetoothLeScanner ?: return startActivity(Intent(android.provider.Settings.ACTION_BLUETOOTH_SETTINGS))
        val found = mutableListOf<BluetoothDevice>()
        val names = ArrayAdapter<String>(this, android.R.layout.simple_list_item_1)
        val scan = object : ScanCallback() {
            override fun onScanResult(kind: Int, result: ScanResult) {
                if (found.any { it.address == result.device.address }) return
                found.add(result.device)
                names.add(result.device.name ?: result.device.address)
            }
        }
        val wanted = BluetoothSource.SERVICES.map { ScanFilter.Builder().setServiceUuid(ParcelUuid(BluetoothSource.assigned(it))).build() }
        scanner.startScan(wanted, ScanSettings.Builder().build(), scan)
        AlertDialog.Builder(this).setAdapter(names) { _, which ->
            state.device = found[which].address
            stopService(Intent(this, WatchService::class.java))
            WatchService.start(this)
        }.setOnDismissListener { scanner.stopScan(scan) }.show()
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
        if (request == FOUND && granted.isNotEmpty() && granted.all { it == PackageManager.PERMISSION_GRANTED }) findSensor()
    }

    /** Copies what was made to where the wearer wants it, if anywhere; nothing of it stays here. */
    private fun keep(made: RecordDocument, uri: Uri?) {
        document = null
        val file = File(made.path)
        work.execute {
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
    private fun choose(uri: Uri) = work.execute {
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
    }
}
