package ebbstead.sample.phone

import android.content.BroadcastReceiver
import android.content.Context
import android.content.Intent
import ebbstead.ApiException
import ebbstead.RingChoice
import ebbstead.sample.present.Ringing

/** An answer from the lock screen: noted at once, with the app closed. The sound stops whatever becomes of the note. */
class AnswerReceiver : BroadcastReceiver() {
    override fun onReceive(context: Context, intent: Intent) {
        val state = PhoneState(context)
        if (intent.action == STEP && state.readsHealth && !intent.getBooleanExtra(WatchService.AT_LATEST, false) && WatchService.look(context)) return
        try {
            context.openLog().use { companion ->
                val ringing = Ringing(companion, phoneClock, state)
                RingChoice.entries.firstOrNull { it.name == intent.action }?.let { answer ->
                    Notices(context, ringing).quiet()
                    ringing.answer(answer)
                }
                WatchService.ask(context, companion, state)
                companion.closeLog()
            }
        } catch (_: ApiException) {
            // It could not be noted: the app says why, and asks again.
            context.startActivity(Intent(context, MainActivity::class.java).addFlags(Intent.FLAG_ACTIVITY_NEW_TASK))
        }
    }

    companion object {
        /** Core is to be asked again: no reading came meanwhile, or it is time to ring once more. */
        const val STEP = "STEP"
    }
}

/** After the phone was started, or the app updated, it watches on, if it did before. */
class StartReceiver : BroadcastReceiver() {
    override fun onReceive(context: Context, intent: Intent) {
        val known = intent.action == Intent.ACTION_BOOT_COMPLETED || intent.action == Intent.ACTION_MY_PACKAGE_REPLACED
        if (known && PhoneState(context).watches) WatchService.start(context)
    }
}
