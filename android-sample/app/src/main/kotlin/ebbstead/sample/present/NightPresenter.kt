package ebbstead.sample.present

import ebbstead.Answer
import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.NightAnswer
import ebbstead.Symptom
import ebbstead.Verdict
import ebbstead.What

data class NightScreen(
    val clock: String,
    val verdict: String,
    val sentence: String,
    val asides: List<String>,
    val reading: String?,
    /** What was just kept, or why it could not be. */
    val told: String?,
    val treated: String,
    val rolledOver: String,
    val meter: Field,
    val checked: String,
    val severe: String,
    /** Takes the last answer back, where there was one. */
    val undo: String?,
    val cautions: List<String>,
    /** Whether the three answers are offered: not where a person is needed. */
    val answersOffered: Boolean,
)

/** The screen for whoever was woken. */
class NightPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var told: String? = null
    private var canUndo = false

    fun woken(): Shown<NightScreen> = shown {
        told = null
        screen(ask())
    }

    /** Asks again because something changed, not because of a tap: what was said about the last tap stays. */
    fun refresh(): Shown<NightScreen> = shown { screen(ask()) }

    /** `typed` is what the meter shows, in the wearer's unit. */
    fun checked(typed: String): Shown<NightScreen> = shown {
        told = null
        val meter = try {
            companion.words().readMeter(typed)
        } catch (refused: ApiException.InvalidInput) {
            return@shown screen(ask(), typed, refused.advice)
        }
        done(NightAnswer.Checked(meter.mgDl, meter.beyond))
    }

    fun treated(): Shown<NightScreen> = shown { done(NightAnswer.Treated(null)) }

    fun rolledOver(): Shown<NightScreen> = shown { done(NightAnswer.RolledOver) }

    /** The answer comes first: it must not wait for, or fail with, a log that cannot be written. */
    fun severe(): Shown<NightScreen> = shown {
        val answer = companion.night().woken(clock.now(), Symptom.SEVERE)
        told = try {
            val now = clock.now()
            companion.told(companion.log().record(What.Feeling(Symptom.SEVERE), now, now), Label.KEPT)
        } catch (refused: ApiException) {
            refused.advice()
        }
        screen(answer)
    }

    /** Takes the last answer back. */
    fun undo(): Shown<NightScreen> = shown {
        val undone = companion.log().undo(clock.now())
        canUndo = false
        told = undone?.let { companion.told(it.undone, Label.TAKEN_BACK) } ?: companion.words().label(Label.NOTHING_TO_UNDO)
        screen(ask())
    }

    private fun ask() = companion.night().woken(clock.now(), null)

    private fun done(answer: NightAnswer): NightScreen = try {
        val done = companion.night().done(answer, clock.now())
        told = companion.told(done.kept, Label.KEPT)
        canUndo = true
        screen(done.answer)
    } catch (refused: ApiException) {
        // What could not be kept was still done: the prompt stays on the screen, and the advice says what stands.
        told = refused.advice()
        screen(ask())
    }

    private fun screen(answer: Answer, typed: String = "", advice: String? = null): NightScreen {
        val words = companion.words()
        return NightScreen(
            clock = words.clock(answer.prompt.at),
            verdict = answer.said.verdict,
            sentence = answer.said.sentence,
            asides = listOfNotNull(answer.said.withoutMeter, answer.said.lookAgain),
            reading = answer.said.reading,
            told = told,
            treated = words.label(Label.I_TREATED),
            rolledOver = words.label(Label.I_ROLLED_OVER),
            meter = Field("${words.label(Label.METER_SHOWS)} (${words.unit()})", typed, advice),
            checked = words.label(Label.I_CHECKED),
            severe = words.label(Label.SEVERE_SIGNS),
            undo = if (canUndo) words.label(Label.UNDO_LAST) else null,
            cautions = answer.said.cautions,
            answersOffered = answer.prompt.verdict != Verdict.HELP,
        )
    }
}
