package ebbstead.sample.phone

import android.Manifest
import android.app.*
import android.bluetooth.*
import android.content.*
import android.content.pm.*
import android.os.IBinder
import ebbstead.*
import ebbstead.sample.R
import ebbstead.sample.present.*
import ebbstead.sample.source.*
import java.util.concurrent.*

/**
 * Keeps the sensor's connection and the log while the app is not in front, and rings when core says so: after each value that
 * comes, and when core asks to be asked again. What it knows is in the log and in one record; killed and started again, it goes on.
 */
class WatchService : Service() {
    private val work = oneByOne()
    private lateinit var state: PhoneState
    private var companion: EbbsteadCompanion? = null
    private var intake: Intake? = null
    private val followed = mutableListOf<Pair<NearbyDevice, Source>>()

    /** What a phone changes under a connection. */
    private val changes = object : BroadcastReceiver() {
        override fun onReceive(context: Context, intent: Intent) {
            if (intent.action != BluetoothAdapter.ACTION_STATE_CHANGED) later {
                followed.forEach { (device, _) -> device.setOffsets(offsetsOfThisPhone()) }
                // The alarm for silence was set by the clock as it was.
                step()
            }
            // Switched off, it ended every connection, and none comes back by itself.
            else if (intent.getIntExtra(BluetoothAdapter.EXTRA_STATE, 0) == BluetoothAdapter.STATE_ON) later(::follow)
        }
    }

    override fun onBind(intent: Intent?): IBinder? = null

    override fun onCreate() {
        super.onCreate()
        state = PhoneState(this)
        running = this
        val wanted = IntentFilter(BluetoothAdapter.ACTION_STATE_CHANGED).apply {
            addAction(Intent.ACTION_TIMEZONE_CHANGED)
            addAction(Intent.ACTION_TIME_CHANGED)
        }
        registerReceiver(changes, wanted, RECEIVER_NOT_EXPORTED)
        // Before anything that can fail: Android ends an app whose service does not stand in front at once.
        if (stand()) return later(::open)
        callAgain(this, phoneClock.now().unixMs + RETRY_MS)
        stopSelf()
    }

    override fun onStartCommand(intent: Intent?, flags: Int, id: Int): Int {
        // What is allowed to be used may be another than when it began: a connection that was refused is tried again.
        stand()
        later {
            if (NearbyKind.entries.count { state.chosen(it) != null } > followed.size) follow()
            look()
        }
        return START_STICKY
    }

    override fun onDestroy() {
        running = null
        unregisterReceiver(changes)
        later {
            leave()
            companion?.closeLog()
            companion?.close()
        }
        work.shutdown()
        super.onDestroy()
    }

    /** A value may still come when the service has ended. */
    private fun later(task: () -> Unit) {
        val awake = awake()
        work.execute {
            try {
                task()
            } finally {
                awake.release()
            }
        }
    }

    /** False where Android started it again from the background, which may not stand in front; an alarm may start it. */
    private fun stand(): Boolean {
        val notice = Notices.standing(this, getString(R.string.app_name))
        // Android lets nobody watch a device who may not use Bluetooth, or may not any more.
        val connects = state.follows && checkSelfPermission(Manifest.permission.BLUETOOTH_CONNECT) == PackageManager.PERMISSION_GRANTED
        val type = if (connects) ServiceInfo.FOREGROUND_SERVICE_TYPE_CONNECTED_DEVICE else ServiceInfo.FOREGROUND_SERVICE_TYPE_HEALTH
        return try {
            startForeground(Notices.STANDING_ID, notice, type)
            true
        } catch (_: IllegalStateException) {
            false
        }
    }

    private fun open() = try {
        val open = openLog().also { companion = it }
        intake = Intake(open, phoneClock)
        follow()
    } catch (refused: ApiException) {
        // Without a log there is nothing to watch. It is started again with the next step.
        retry(this, refused)
        stopSelf()
    }

    private fun leave() {
        followed.forEach { (_, source) -> source.end() }
        followed.clear()
    }

    private fun follow() {
        leave()
        val intake = intake ?: return
        val adapter = getSystemService(BluetoothManager::class.java)?.adapter ?: return
        for (kind in NearbyKind.entries) {
            val chosen = state.chosen(kind) ?: continue
            try {
                val device = intake.device(chosen.name)
                val source = BluetoothSource(this, adapter.getRemoteDevice(chosen.address)) { intake.records(device) }
                intake.follow(source, device, { later(::step) }, { state.began = it }) { state.remark(it) }
                followed += device to source
            } catch (_: SecurityException) {
                // Bluetooth is not allowed any more; the lost signal rings.
            }
        }
    }

    /** What other apps measured comes first. Why that cannot be read, as in the background alone, waits for whoever opens the app. */
    private fun look() {
        if (state.readsHealth) intake?.read(HealthConnect(this, work), ::step) { state.remark(it) } else step()
    }

    private fun step() {
        val open = companion ?: return
        try {
            ask(this, open, state)
        } catch (refused: ApiException) {
            // Busy, or no room: what is not rung now is rung at the next step, for the state was not kept either.
            retry(this, refused)
        }
    }

    /** Has the service make a step, and waits for it as long as a broadcast may; false where it cannot. */
    fun stepped(): Boolean = try {
        work.submit<Boolean> { (companion != null).also { step() } }.get(20, TimeUnit.SECONDS)
    } catch (_: TimeoutException) {
        false
    } catch (_: ExecutionException) {
        false
    }

    companion object {
        private const val RETRY_MS = 60_000L
        const val AT_LATEST = "AT_LATEST"
        private const val ASK_HEALTH_MS = 5 * 60_000L

        /** The one that runs, if any. */
        @Volatile
        var running: WatchService? = null
            private set

        /** False where Android does not let it be started, from the background, just now. */
        fun start(context: Context): Boolean = try {
            context.startForegroundService(Intent(context, WatchService::class.java))
            true
        } catch (_: IllegalStateException) {
            false
        }

        /** One step: asks core, shows the standing reading, rings, and sets when to ask again. */
        fun ask(context: Context, companion: EbbsteadCompanion, state: PhoneState) {
            val ringing = Ringing(companion, phoneClock, state)
            // By these names the phone's settings list them, in the language that is spoken now.
            Notices.makeChannels(context, ringing::word)
            ringing.step { step ->
                Notices.stand(context, step.standing ?: ringing.word(Label.NO_READINGS))
                if (step.over) Notices.quiet(context)
                step.left?.let { Notices.leave(context, it) }
                step.ring?.let { Notices.ring(context, it, phoneClock.now().unixMs) }
                // The health store calls nobody: it is asked as often as most sensors measure.
                val asked = if (state.readsHealth) phoneClock.now().unixMs + ASK_HEALTH_MS else null
                listOfNotNull(step.againAt?.unixMs, asked, step.soon?.unixMs).minOrNull()?.let { callAgain(context, it) }
            }
            GlanceWidget.draw(context, companion)
            context.isWatched = state.watches
        }

        /** Has the health store read before the next step; should no answer come of it, that step is made all the same. */
        fun look(context: Context): Boolean {
            callAgain(context, phoneClock.now().unixMs + RETRY_MS, atLatest = true)
            return start(context)
        }

        /** A step failed. Core says when to make the next one, and whether this is to be said: nothing else would ring. */
        fun retry(context: Context, refused: ApiException) {
            val failed = Ringing.failed(PhoneState(context), phoneClock.now())
            callAgain(context, failed.againAt.unixMs)
            if (failed.isSaid) Notices.tell(context, refused.advice(), Notices.LOUD)
        }

        /** The phone's own alarm: silence must be noticed in deep sleep too. */
        private fun callAgain(context: Context, unixMs: Long, atLatest: Boolean = false) {
            val intent = Intent(context, AnswerReceiver::class.java).setAction(AnswerReceiver.STEP).putExtra(AT_LATEST, atLatest)
            val pending = PendingIntent.getBroadcast(context, 0, intent, PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT)
            context.getSystemService(AlarmManager::class.java).setExactAndAllowWhileIdle(AlarmManager.RTC_WAKEUP, unixMs, pending)
        }
    }
}
