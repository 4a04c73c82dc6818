package ebbstead.sample.present

import ebbstead.Answer
import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.NightAnswer
import ebbstead.NightOffer
import ebbstead.Symptom

data class NightScreen(
    val clock: String,
    val block: Block,
    val done: Done?,
    /** What core says fits the verdict, the one it asks for first. */
    val offers: List<NightOffer>,
    val meter: MeterAsk,
    /** Whether the meter's field stands open at once: it was asked for on the notification. */
    val metering: Boolean,
    val feelLow: String,
    val severe: String,
    val cautions: List<String>,
    val before: String,
    val back: String,
)

/** The screen for whoever was woken. */
class NightPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var done: Done? = null

    fun woken(): Shown<NightScreen> = shown {
        done = null
        screen(ask())
    }

    /** As [woken], for who has the meter in hand. */
    fun metering(): Shown<NightScreen> = shown {
        done = null
        screen(ask()).copy(metering = true)
    }

    /** Asks again because something changed, not because of a tap: what was said about the last tap stays. */
    fun refresh(): Shown<NightScreen> = shown { screen(ask()) }

    /** `typed` is what the meter shows, in the wearer's unit. */
    fun checked(typed: String): Shown<NightScreen> = shown {
        done = null
        val meter = try {
            companion.words().readMeter(typed)
        } catch (refused: ApiException.InvalidInput) {
            return@shown screen(ask(), typed, refused.advice)
        }
        answered(NightAnswer.Checked(meter.mgDl, meter.beyond))
    }

    fun treated(): Shown<NightScreen> = shown { answered(NightAnswer.Treated(null)) }

    fun rolledOver(): Shown<NightScreen> = shown { answered(NightAnswer.RolledOver) }

    /** The answer comes first: it must not wait for, or fail with, a log that cannot be written. */
    fun feels(felt: Symptom): Shown<NightScreen> = shown {
        val answer = companion.night().woken(clock.now(), felt)
        done = try {
            val entry = companion.log().record(ebbstead.EntryKind.Feeling(felt), clock.now(), clock.now())
            Done(companion.confirmation(entry, Label.KEPT), companion.words().label(Label.UNDO_LAST))
        } catch (refused: ApiException) {
            Done(refused.advice(), null)
        }
        screen(answer)
    }

    /** Takes the last answer back. */
    fun undo(): Shown<NightScreen> = shown {
        done = Done(companion.undone(clock.now()), null)
        screen(ask())
    }

    private fun ask() = companion.night().woken(clock.now(), null)

    private fun answered(answer: NightAnswer): NightScreen = try {
        val answered = companion.night().done(answer, clock.now())
        done = Done(companion.confirmation(answered.kept, Label.KEPT), companion.words().label(Label.UNDO_LAST))
        screen(answered.answer)
    } catch (refused: ApiException) {
        // What could not be kept was still done: the prompt stays on the screen, and the advice says what stands.
        done = Done(refused.advice(), null)
        screen(ask())
    }

    private fun screen(answer: Answer, typed: String = "", advice: String? = null): NightScreen {
        val words = companion.words()
        return NightScreen(
            clock = words.clock(answer.prompt.at),
            block = answer.block(),
            done = done,
            offers = answer.offers,
            meter = companion.meterAsk(typed, advice),
            metering = advice != null,
            feelLow = words.label(Label.FEEL_LOW_SHORT),
            severe = words.label(Label.SEVERE_SIGNS),
            cautions = answer.said.cautions,
            before = words.label(Label.BEFORE_SLEEP_OPEN),
            back = words.label(Label.BACK),
        )
    }
}
