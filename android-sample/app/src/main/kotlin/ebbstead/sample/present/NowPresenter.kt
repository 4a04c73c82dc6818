package ebbstead.sample.present

import ebbstead.Answer
import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.MeterShown
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
    /** What was just kept, or why it could not be. */
    val told: String?,
    val verdict: String,
    val sentence: String,
    val asides: List<String>,
    val reading: String?,
    val picture: Picture,
    val lists: List<Named>,
    val feelings: List<Feeling>,
    val meter: Field,
    val add: String,
    val lookNow: String,
    val standing: String,
)

/** The screen with the prompt. */
class NowPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var told: String? = null

    fun look(): Shown<NowScreen> = shown {
        told = null
        screen(answer())
    }

    /** Looks again because something changed, not because of a tap: what was said about the last tap stays. */
    fun refresh(): Shown<NowScreen> = shown { screen(answer()) }

    /** The answer comes first: it must not wait for, or fail with, a log that cannot be written. */
    fun feels(felt: Symptom): Shown<NowScreen> = shown {
        val answer = answer(felt = felt)
        keep(What.Feeling(felt))
        screen(answer)
    }

    /** `typed` is what the meter shows, in the wearer's unit. */
    fun metered(typed: String): Shown<NowScreen> = shown {
        told = null
        val meter = try {
            companion.words().readMeter(typed)
        } catch (refused: ApiException.InvalidInput) {
            return@shown screen(answer(), typed, refused.advice)
        }
        val answer = answer(meter = meter)
        keep(meter.what)
        screen(answer)
    }

    /** The wearer reads the answer, so core keeps it: what came of it can be told one day. */
    private fun answer(felt: Symptom? = null, meter: MeterShown? = null) =
        companion.check().show(Question(clock.now(), Occasion.LOOK, felt, meter?.mgDl, meter?.beyond))

    private fun keep(what: What) {
        told = try {
            val now = clock.now()
            companion.told(companion.log().record(what, now, now), Label.KEPT)
        } catch (refused: ApiException) {
            refused.advice()
        }
    }

    private fun screen(answer: Answer, typed: String = "", advice: String? = null): NowScreen {
        val words = companion.words()
        val said = answer.said
        return NowScreen(
            told = told,
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
            meter = Field("${words.label(Label.METER_SHOWS)} (${words.unit()})", typed, advice),
            add = words.label(Label.ADD),
            lookNow = words.label(Label.LOOK_NOW),
            standing = words.label(Label.NO_MEDICAL_DEVICE),
        )
    }
}
