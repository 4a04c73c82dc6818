package ebbstead.sample.present

import ebbstead.Answer
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.NightAnswer
import ebbstead.Verdict

data class NightScreen(
    val clock: String,
    val verdict: String,
    val sentence: String,
    val asides: List<String>,
    val reading: String?,
    /** What was just kept. */
    val kept: String?,
    val checked: String,
    val meterShows: String,
    val treated: String,
    val rolledOver: String,
    val undo: String,
    /** Whether the three answers are offered: not where a person is needed. */
    val answersOffered: Boolean,
)

/** The screen for whoever was woken. */
class NightPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    fun woken(): Shown<NightScreen> = shown { screen(companion.night().woken(clock.now(), null), null) }

    /** `typed` is what the meter shows, in the wearer's unit. */
    fun checked(typed: String): Shown<NightScreen> = done { NightAnswer.Checked(companion.words().readGlucose(typed)) }

    fun treated(): Shown<NightScreen> = done { NightAnswer.Treated(null) }

    fun rolledOver(): Shown<NightScreen> = done { NightAnswer.RolledOver }

    /** Takes the last answer back. */
    fun undo(): Shown<NightScreen> = shown {
        val undone = companion.log().undo(clock.now())
        val words = companion.words()
        val told = undone?.let { "${it.undone.text}: ${words.label(Label.TAKEN_BACK)}" } ?: words.label(Label.NOTHING_TO_UNDO)
        screen(companion.night().woken(clock.now(), null), told)
    }

    private fun done(answer: () -> NightAnswer): Shown<NightScreen> = shown {
        val done = companion.night().done(answer(), clock.now())
        screen(done.answer, "${done.kept.text}: ${companion.words().label(Label.KEPT)}")
    }

    private fun screen(answer: Answer, kept: String?): NightScreen {
        val words = companion.words()
        return NightScreen(
            clock = words.clock(answer.prompt.at),
            verdict = answer.said.verdict,
            sentence = answer.said.sentence,
            asides = listOfNotNull(answer.said.withoutMeter, answer.said.lookAgain),
            reading = answer.said.reading,
            kept = kept,
            checked = words.label(Label.I_CHECKED),
            meterShows = "${words.label(Label.METER_SHOWS)} (${words.unit()})",
            treated = words.label(Label.I_TREATED),
            rolledOver = words.label(Label.I_ROLLED_OVER),
            undo = words.label(Label.UNDO_LAST),
            answersOffered = answer.prompt.verdict != Verdict.HELP,
        )
    }
}
