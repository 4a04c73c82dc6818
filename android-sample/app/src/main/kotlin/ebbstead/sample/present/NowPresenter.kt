package ebbstead.sample.present

import ebbstead.Answer
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.Occasion
import ebbstead.Picture
import ebbstead.Question
import ebbstead.Symptom
import ebbstead.What

/** A list with a name over it. */
data class Named(val name: String, val items: List<String>)

/** What the wearer can say they feel. */
data class Feeling(val felt: Symptom, val text: String)

data class NowScreen(
    val verdict: String,
    val sentence: String,
    val asides: List<String>,
    val reading: String?,
    val picture: Picture,
    val lists: List<Named>,
    val feelings: List<Feeling>,
    val lookNow: String,
    val standing: String,
)

/** The screen with the prompt. */
class NowPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    fun look(): Shown<NowScreen> = shown { screen(ask(null)) }

    /** Keeps what is felt, then answers with it. */
    fun feels(felt: Symptom): Shown<NowScreen> = shown {
        val now = clock.now()
        companion.log().record(What.Feeling(felt), now, now)
        screen(ask(felt))
    }

    private fun ask(felt: Symptom?) = companion.check().ask(Question(clock.now(), Occasion.LOOK, felt, null))

    private fun screen(answer: Answer): NowScreen {
        val words = companion.words()
        val said = answer.said
        return NowScreen(
            verdict = said.verdict,
            sentence = said.sentence,
            asides = listOfNotNull(said.withoutMeter, said.lookAgain),
            reading = said.reading,
            picture = answer.picture,
            lists = listOf(
                Named(said.why, said.reasons),
                Named(said.wouldChangeName, said.wouldChange),
                Named(said.careful, said.cautions),
            ).filter { it.items.isNotEmpty() },
            feelings = listOf(
                Feeling(Symptom.FEELS_LOW, words.label(Label.FEEL_LOW)),
                Feeling(Symptom.FEELS_HIGH, words.label(Label.FEEL_HIGH)),
                Feeling(Symptom.NEITHER, words.label(Label.FEEL_NEITHER)),
                Feeling(Symptom.SEVERE, words.label(Label.SEVERE_SIGNS)),
            ),
            lookNow = words.label(Label.LOOK_NOW),
            standing = words.label(Label.NO_MEDICAL_DEVICE),
        )
    }
}
