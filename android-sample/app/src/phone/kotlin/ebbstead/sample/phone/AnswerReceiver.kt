package ebbstead.sample.phone

import android.content.*
import ebbstead.*
import ebbstead.sample.present.*

/** An answer from the lock screen: noted at once, with the app closed. The sound stops whatever becomes of the note. */
class AnswerReceiver : BroadcastReceiver() {
    override fun onReceive(context: Context, intent: Intent) {
        if (intent.action == Notices.LEFT) return Notices.leave(context, intent)
        val answer = RingChoice.entries.firstOrNull { it.name == intent.action }
        if (answer != null) Notices.quiet(context)
        later { if (answer == null) step(context, intent) else noted(context, answer, Notices.rangAt(intent)) }
    }

    private fun step(context: Context, intent: Intent) {
        val state = PhoneState(context)
        if (state.readsHealth && !intent.getBooleanExtra(WatchService.AT_LATEST, false) && WatchService.look(context)) return
        // The service knows what the log had no room or no time for.
        if (WatchService.running?.stepped() == true) return
        asked(context, state) { }
        // It was ended, and its connection with it.
        if (state.follows) WatchService.start(context)
    }

    private fun noted(context: Context, answer: RingChoice, rangAt: Moment) {
        val state = PhoneState(context)
        var late: String? = null
        val refused = asked(context, state) { late = it.answer(answer, rangAt) }
        // Nothing can be opened from here: a notice says that it was not noted, and why.
        (refused?.advice() ?: late)?.let { Notices.tell(context, it) }
    }

    /** Opens the log for one step; where that fails it is tried again, for the check for silence must not stop. */
    private fun asked(context: Context, state: PhoneState, first: (Ringing) -> Unit): ApiException? = try {
        context.openLog().use { companion ->
            try {
                first(Ringing(companion, phoneClock, state))
                WatchService.ask(context, companion, state)
            } finally {
                companion.closeLog()
            }
        }
        null
    } catch (refused: ApiException) {
        WatchService.retry(context, refused)
        refused
    }

    companion object {
        /** Core is to be asked again: no reading came meanwhile, or it is time to ring once more. */
        const val STEP = "STEP"
    }
}

/** After the phone was started, or the app updated, it watches on, if it did before. */
class StartReceiver : BroadcastReceiver() {
    override fun onReceive(context: Context, intent: Intent) {
        // Until the phone is unlocked the log cannot be read.
        if (intent.action == Intent.ACTION_LOCKED_BOOT_COMPLETED && context.isWatched) Notices.tell(context, labelWithoutLog(context.spoken(), Label.LOCKED_AFTER_START), Notices.LOUD)
        if (intent.action == Intent.ACTION_BOOT_COMPLETED) Notices.untell(context)
        val known = intent.action == Intent.ACTION_BOOT_COMPLETED || intent.action == Intent.ACTION_MY_PACKAGE_REPLACED
        if (known && PhoneState(context).watches) WatchService.start(context)
    }
}
