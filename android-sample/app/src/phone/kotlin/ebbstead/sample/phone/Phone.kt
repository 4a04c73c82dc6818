package ebbstead.sample.phone

import android.content.*
import android.os.PowerManager
import ebbstead.*
import ebbstead.sample.present.*
import java.io.File
import java.util.TimeZone
import java.util.concurrent.*

/** What the phone keeps for itself: small things that must be there even when it cannot be opened. */
class PhoneState(context: Context) : KeptState {
    private val kept = context.getSharedPreferences("phone", Context.MODE_PRIVATE)
    private fun put(name: String, text: String?) = kept.edit().putString(name, text).apply()

    override var alerts: String?
        get() = kept.getString("alerts", null)
        set(state) = put("alerts", state)

    /** A device that was chosen: its address, and what the log calls it. Its name is kept, since a phone forgets it. */
    data class Chosen(val address: String, val name: String)

    /** One of each kind. */
    fun chosen(kind: NearbyKind): Chosen? {
        val address = kept.getString(kind.name, null) ?: return null
        return Chosen(address, kept.getString("${kind.name} name", null) ?: address)
    }

    fun choose(kind: NearbyKind, device: Chosen?) {
        put(kind.name, device?.address)
        put("${kind.name} name", device?.name)
    }

    override fun followed(ask: FirstAsk): List<Followed> = when (ask) {
        FirstAsk.FIND_SENSOR -> NearbyKind.entries.mapNotNull { kind ->
            chosen(kind)?.let { Followed(it.name, BluetoothSource.states[it.address] ?: SourceState.LOST, BluetoothSource.heard[it.address]) { choose(kind, null) } }
        }
        FirstAsk.READ_HEALTH -> if (readsHealth) listOf(Followed(null) { readsHealth = false }) else emptyList()
        else -> emptyList()
    }

    /** Whether a sensor or a meter is followed. */
    val follows: Boolean get() = NearbyKind.entries.any { chosen(it) != null }

    /** Whether the phone's health store is read. */
    var readsHealth: Boolean
        get() = kept.getBoolean("health", false)
        set(reads) = kept.edit().putBoolean("health", reads).apply()

    /** Whether there is a source to watch while the app is closed. */
    val watches: Boolean get() = follows || readsHealth

    override var unseen: String?
        get() = kept.getString("unseen", null)
        set(text) = put("unseen", text)

    fun remark(texts: List<String>) {
        unseen = remarked(unseen, texts)
    }

    override var began: Moment?
        get() = kept.getString("began", null)?.split(' ')?.let { (at, offset) -> Moment(at.toLong(), offset.toInt()) }
        set(at) {
            val text = at?.run { "$unixMs $offsetMinutes" }
            if (text != null && text == kept.getString("said to begin", null)) return
            put("began", text)
            if (text != null) put("said to begin", text)
        }

    override var numbers: Pair<String?, String?>
        get() = kept.getString("emergency", null) to kept.getString("contact", null)
        set(numbers) {
            put("emergency", numbers.first)
            put("contact", numbers.second)
        }
}

/** Whether readings are watched, where a phone that was started and is still locked can read it. */
var Context.isWatched: Boolean
    get() = createDeviceProtectedStorageContext().getSharedPreferences("watch", Context.MODE_PRIVATE).getBoolean("on", false)
    set(on) = createDeviceProtectedStorageContext().getSharedPreferences("watch", Context.MODE_PRIVATE).edit().putBoolean("on", on).apply()

val phoneClock = Clock {
    val now = System.currentTimeMillis()
    Moment(now, TimeZone.getDefault().getOffset(now) / 60_000)
}

/** One thing after the other. What is asked for once it was shut down is dropped: whoever asks may outlive it. */
fun oneByOne(): ExecutorService = ThreadPoolExecutor(1, 1, 0, TimeUnit.SECONDS, LinkedBlockingQueue(), ThreadPoolExecutor.DiscardPolicy())

/** What a broadcast asks of the log is done here, one thing after the other: opening it may wait, and a receiver may not. */
val background: ExecutorService = oneByOne()

/** The phone stays awake until it is done. */
fun BroadcastReceiver.later(work: () -> Unit) {
    val until: BroadcastReceiver.PendingResult? = goAsync()
    background.execute {
        try {
            work()
        } finally {
            until?.finish()
        }
    }
}

/** From a sensor's value to the ring, at most: no phone falls asleep in between. Released twice, it is released. */
fun Context.awake(): PowerManager.WakeLock =
    getSystemService(PowerManager::class.java).newWakeLock(PowerManager.PARTIAL_WAKE_LOCK, "ebbstead:step").apply {
        setReferenceCounted(false)
        acquire(30_000)
    }

fun Context.logPath(): String = File(filesDir, "log.ebb").path

/** The phone's language where it is one of those offered. A draft is not: whoever wants it asks for it. */
fun Context.spoken(): String = resources.configuration.locales[0].language.let { own -> if (languages().any { it.tag == own }) own else "en" }

fun Context.openLog(): EbbsteadCompanion = EbbsteadCompanion.open(logPath(), spoken(), phoneClock.now())
