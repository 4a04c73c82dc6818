package ebbstead.sample.phone

import android.annotation.SuppressLint
import android.app.AlarmManager
import android.app.PendingIntent
import android.app.Service
import android.bluetooth.BluetoothManager
import android.content.Context
import android.content.Intent
import android.content.pm.ServiceInfo
import android.os.IBinder
import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.sample.present.Ringing
import ebbstead.sample.source.Intake
import ebbstead.sample.source.Source
import ebbstead.sample.source.offsetsOfThisPhone
import java.util.concurrent.Executors

/**
 * Keeps the sensor's connection and the log while the app is not in front, and rings when core says so: after each value that
 * comes, and when core asks to be asked again. What it knows is in the log and in one record; killed and started again, it goes on.
 */
class WatchService : Service() {
    private val work = Executors.newSingleThreadExecutor()
    private lateinit var state: PhoneState
    private var companion: EbbsteadCompanion? = null
    private var intake: Intake? = null
    private var source: Source? = null

    override fun onBind(intent: Intent?): IBinder? = null

    override fun onCreate() {
        super.onCreate()
        state = PhoneState(this)
        try {
            val open = openLog().also { companion = it }
            intake = Intake(open, phoneClock, offsetsOfThisPhone())
            val notices = Notices(this, Ringing(open, phoneClock, state))
            notices.makeChannels()
            // Android lets nobody watch a device who may not use Bluetooth.
            val kind = if (state.device != null) ServiceInfo.FOREGROUND_SERVICE_TYPE_CONNECTED_DEVICE else ServiceInfo.FOREGROUND_SERVICE_TYPE_HEALTH
            startForeground(Notices.STANDING_ID, notices.standing(null), kind)
            work.execute(::follow)
        } catch (_: ApiException) {
            // Without a log there is nothing to watch; the app says why when it is opened.
            stopSelf()
        }
    }

    override fun onStartCommand(intent: Intent?, flags: Int, id: Int): Int {
        work.execute(::look)
        return START_STICKY
    }

    override fun onDestroy() {
        work.execute {
            source?.end()
            companion?.closeLog()
            companion?.close()
        }
        work.shutdown()
        super.onDestroy()
    }

    @SuppressLint("MissingPermission") // the app asks before a sensor can be chosen
    private fun follow() {
        val open = companion ?: return
        val address = state.device ?: return
        val device = getSystemService(BluetoothManager::class.java)?.adapter?.getRemoteDevice(address) ?: return
        val intake = intake ?: return
        val near = intake.device(device.name ?: address)
        val begun = BluetoothSource(this, device) { intake.records(near) }.also { source = it }
        intake.follow(begun, near, { work.execute(::step) }) { }
    }

    /** What other apps measured comes first. Why that cannot be read is said where the app is opened. */
    private fun look() {
        if (state.readsHealth) intake?.read(HealthConnect(this, work), ::step) { } else step()
    }

    private fun step() {
        val open = companion ?: return
        try {
            ask(this, open, state)
        } catch (_: ApiException) {
            // Busy, or no room: what is not rung now is rung at the next step, for the state was not kept either.
            callAgain(this, phoneClock.now().unixMs + RETRY_MS)
        }
    }

    companion object {
        private const val RETRY_MS = 60_000L
        const val AT_LATEST = "AT_LATEST"
        private const val ASK_HEALTH_MS = 5 * 60_000L

        fun start(context: Context) {
            context.startForegroundService(Intent(context, WatchService::class.java))
        }

        /** One step: asks core, shows the standing reading, rings, and sets when to ask again. */
        fun ask(context: Context, companion: EbbsteadCompanion, state: PhoneState) {
            val ringing = Ringing(companion, phoneClock, state)
            val notices = Notices(context, ringing)
            val step = ringing.step()
            notices.stand(step.standing)
            step.ring?.let { notices.ring(it, phoneClock.now().unixMs) }
            // The health store calls nobody: it is asked as often as most sensors measure.
            val asked = if (state.readsHealth) phoneClock.now().unixMs + ASK_HEALTH_MS else null
            listOfNotNull(step.againAt?.unixMs, asked).minOrNull()?.let { callAgain(context, it) }
            GlanceWidget.draw(context, companion)
        }

        /** Has the health store read before the next step; should no answer come of it, that step is made all the same. */
        fun look(context: Context): Boolean = try {
            callAgain(context, phoneClock.now().unixMs + RETRY_MS, atLatest = true)
            start(context)
            true
        } catch (_: IllegalStateException) {
            // Not from the background, just now.
            false
        }

        /** The phone's own alarm: silence must be noticed in deep sleep too. */
        private fun callAgain(context: Context, unixMs: Long, atLatest: Boolean = false) {
            val intent = Intent(context, AnswerReceiver::class.java).setAction(AnswerReceiver.STEP).putExtra(AT_LATEST, atLatest)
            val pending = PendingIntent.getBroadcast(context, 0, intent, PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT)
            context.getSystemService(AlarmManager::class.java).setExactAndAllowWhileIdle(AlarmManager.RTC_WAKEUP, unixMs, pending)
        }
    }
}
