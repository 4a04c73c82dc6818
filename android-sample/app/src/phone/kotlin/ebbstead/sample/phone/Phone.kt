package ebbstead.sample.phone

import android.content.Context
import ebbstead.EbbsteadCompanion
import ebbstead.Language
import ebbstead.Moment
import ebbstead.sample.present.Clock
import ebbstead.sample.present.KeptState
import java.io.File
import java.util.TimeZone

/** What lies beside the log: small things that must be there even when it cannot be opened. */
class Beside(context: Context) : KeptState {
    private val kept = context.getSharedPreferences("beside", Context.MODE_PRIVATE)
    private fun put(name: String, text: String?) = kept.edit().putString(name, text).apply()

    override var alerts: String?
        get() = kept.getString("alerts", null)
        set(state) = put("alerts", state)

    /** The sensor that was chosen, by its address. */
    var device: String?
        get() = kept.getString("device", null)
        set(address) = put("device", address)
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

fun Context.spoken(): Language = if (resources.configuration.locales[0].language == "de") Language.GERMAN else Language.ENGLISH

fun Context.openLog(): EbbsteadCompanion = EbbsteadCompanion.open(logPath(), spoken(), phoneClock.now())
