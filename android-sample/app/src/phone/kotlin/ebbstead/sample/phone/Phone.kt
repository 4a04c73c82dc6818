package ebbstead.sample.phone

import android.content.Context
import ebbstead.EbbsteadCompanion
import ebbstead.Moment
import ebbstead.languages
import ebbstead.sample.present.Clock
import ebbstead.sample.present.KeptState
import java.io.File
import java.util.TimeZone

/** What the phone keeps for itself: small things that must be there even when it cannot be opened. */
class PhoneState(context: Context) : KeptState {
    private val kept = context.getSharedPreferences("phone", Context.MODE_PRIVATE)
    private fun put(name: String, text: String?) = kept.edit().putString(name, text).apply()

    override var alerts: String?
        get() = kept.getString("alerts", null)
        set(state) = put("alerts", state)

    /** The sensor that was chosen, by its address. */
    var device: String?
        get() = kept.getString("device", null)
        set(address) = put("device", address)

    /** Whether the phone's health store is read. */
    var readsHealth: Boolean
        get() = kept.getBoolean("health", false)
        set(reads) = kept.edit().putBoolean("health", reads).apply()

    /** Whether there is a source to watch while the app is closed. */
    val watches: Boolean get() = device != null || readsHealth
    var numbers: Pair<String?, String?>
        get() = kept.getString("emergency", null) to kept.getString("contact", null)
        set(numbers) {
            put("emergency", numbers.first)
            put("contact", numbers.second)
        }
}

val phoneClock = Clock {
    val now = System.currentTimeMillis()
    Moment(now, TimeZone.getDefault().getOffset(now) / 60_000)
}

fun Context.logPath(): String = File(filesDir, "log.ebb").path

/** The phone's language where it is one of those offered. A draft is not: whoever wants it asks for it. */
fun Context.spoken(): String = resources.configuration.locales[0].language.let { own -> if (languages().any { it.tag == own }) own else "en" }

fun Context.openLog(): EbbsteadCompanion = EbbsteadCompanion.open(logPath(), spoken(), phoneClock.now())
