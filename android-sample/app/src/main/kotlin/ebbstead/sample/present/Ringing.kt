package ebbstead.sample.present

import ebbstead.AlertStep
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.NightAnswer
import ebbstead.NightChoice
import ebbstead.Ring
import ebbstead.Symptom
import ebbstead.EntryKind

/** The one state record of the alerts: kept as it is, wherever the phone keeps small things. */
interface KeptState {
    var alerts: String?
}

/** What can be answered on a notification without opening the app. */
enum class RingAnswer(val label: Label) { TREATED(Label.I_TREATED), FEEL_LOW(Label.FEEL_LOW_SHORT), SNOOZE(Label.SNOOZE) }

/** Whether core offers an answer to a ring: where a call is the answer, no other is. */
fun Ring.offers(choice: NightChoice): Boolean = answer.offers.any { it.what == choice }

/** Asks core whether to ring, keeps its state, and notes what is answered. Core decides; this carries. */
class Ringing(private val companion: EbbsteadCompanion, private val clock: Clock, private val kept: KeptState) {
    fun step(): AlertStep = companion.alerts().step(kept.alerts, clock.now()).also { kept.alerts = it.state }

    fun answer(answer: RingAnswer) {
        val now = clock.now()
        when (answer) {
            RingAnswer.TREATED -> companion.night().done(NightAnswer.Treated(null), now)
            RingAnswer.FEEL_LOW -> companion.log().record(EntryKind.Feeling(Symptom.FEELS_LOW), now, now)
            RingAnswer.SNOOZE -> kept.alerts = companion.alerts().snooze(kept.alerts, SNOOZE_MINUTES, now)
        }
    }

    fun word(label: Label): String = companion.words().label(label)

    private companion object {
        /** As the button says. */
        const val SNOOZE_MINUTES = 15.0
    }
}
