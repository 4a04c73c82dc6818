package ebbstead.sample.present

import ebbstead.Answer
import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.MeterShown
import ebbstead.NightAnswer
import ebbstead.Occasion
import ebbstead.Chart
import ebbstead.Question
import ebbstead.Symptom
import ebbstead.Verdict
import ebbstead.EntryKind

/** A list with a name over it. */
data class Named(val name: String, val items: List<String>)

/** What the wearer can say they feel. */
data class Feeling(val felt: Symptom, val text: String)

/** The verdict block: what to do, why, and the reading it rests on. Its weight on the screen follows from [verdict] alone. */
data class Block(
    val verdict: Verdict,
    val word: String,
    val sentence: String,
    val asides: List<String>,
    val amount: String?,
    /** The reading's age and how fast it moves. */
    val beside: List<String>,
)

fun Answer.block() = Block(
    prompt.verdict, said.verdict, said.sentence, listOfNotNull(said.withoutMeter, said.lookAgain), said.amount,
    listOfNotNull(said.age, said.rate),
)

/** What was just kept, or why it could not be; and what takes it back. */
data class Done(val text: String, val undo: String?)

/** Asks for what the meter shows. */
data class MeterAsk(val field: Field, val keep: String, val leave: String)

data class NowScreen(
    val block: Block,
    val done: Done?,
    /** Said where nothing can be kept. */
    val readOnly: String?,
    val chart: Chart,
    val why: Named,
    val wouldChange: Named,
    val cautions: Named,
    val feelings: List<Feeling>,
    val meter: MeterAsk,
    val treated: String,
    val meterName: String,
    val feelLow: String,
    val more: String,
    val less: String,
    val before: String,
    val standing: String,
)

/** The screen with the prompt. */
class NowPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var done: Done? = null

    fun look(): Shown<NowScreen> = shown {
        done = null
        screen(answer())
    }

    /** Looks again because something changed, not because of a tap: what was said about the last tap stays. */
    fun refresh(): Shown<NowScreen> = shown { screen(answer()) }

    /** The answer comes first: it must not wait for, or fail with, a log that cannot be written. */
    fun feels(felt: Symptom): Shown<NowScreen> = shown {
        val answer = answer(felt = felt)
        keep { companion.log().record(EntryKind.Feeling(felt), clock.now(), clock.now()) }
        screen(answer)
    }

    /** `typed` is what the meter shows, in the wearer's unit. */
    fun metered(typed: String): Shown<NowScreen> = shown {
        done = null
        val meter = try {
            companion.words().readMeter(typed)
        } catch (refused: ApiException.InvalidInput) {
            return@shown screen(answer(), typed, refused.advice)
        }
        val answer = answer(meter = meter)
        keep { companion.log().record(meter.what, clock.now(), clock.now()) }
        screen(answer)
    }

    /** Rescue carbohydrate was taken, as much as core takes the wearer's step to be. */
    fun treated(): Shown<NowScreen> = shown {
        keep { companion.night().done(NightAnswer.Treated(null), clock.now()).kept }
        screen(answer())
    }

    /** Takes back what was said last. */
    fun undo(): Shown<NowScreen> = shown {
        done = Done(companion.undone(clock.now()), null)
        screen(answer())
    }

    /** The wearer reads the answer, so core keeps it: what came of it can be shown one day. */
    private fun answer(felt: Symptom? = null, meter: MeterShown? = null) =
        companion.check().show(Question(clock.now(), Occasion.LOOK, felt, meter?.mgDl, meter?.beyond))

    private fun keep(record: () -> ebbstead.Entry) {
        done = try {
            Done(companion.confirmation(record(), Label.KEPT), companion.words().label(Label.UNDO_LAST))
        } catch (refused: ApiException) {
            Done(refused.advice(), null)
        }
    }

    private fun screen(answer: Answer, typed: String = "", advice: String? = null): NowScreen {
        val words = companion.words()
        val said = answer.said
        return NowScreen(
            block = answer.block(),
            done = done,
            readOnly = if (companion.isReadOnly()) words.label(Label.READ_ONLY_LOG) else null,
            chart = answer.chart,
            why = Named(said.why, said.reasons),
            wouldChange = Named(said.wouldChangeName, said.wouldChange),
            // What is wrong with the log stands over every screen.
            cautions = Named(said.careful, said.cautions - setOfNotNull(companion.damage())),
            feelings = listOf(
                Feeling(Symptom.FEELS_HIGH, words.label(Label.FEEL_HIGH)),
                Feeling(Symptom.NEITHER, words.label(Label.FEEL_NEITHER)),
                Feeling(Symptom.SEVERE, words.label(Label.SEVERE_SIGNS)),
            ),
            meter = companion.meterAsk(typed, advice),
            treated = words.label(Label.I_TREATED),
            meterName = words.label(Label.METER),
            feelLow = words.label(Label.FEEL_LOW_SHORT),
            more = words.label(Label.MORE),
            less = words.label(Label.LESS),
            before = words.label(Label.BEFORE_OPEN),
            standing = words.label(Label.NO_MEDICAL_DEVICE),
        )
    }
}

/** Asks for what the meter shows, in the wearer's unit. */
fun EbbsteadCompanion.meterAsk(typed: String, advice: String?): MeterAsk = words().run {
    MeterAsk(Field("${label(Label.METER_SHOWS)} (${unit()})", typed, advice), label(Label.ADD), label(Label.CANCEL))
}

/** Takes back what was said last, and says so. */
fun EbbsteadCompanion.undone(now: ebbstead.Moment): String =
    log().undo(now)?.let { confirmation(it.undone, Label.TAKEN_BACK) } ?: words().label(Label.NOTHING_TO_UNDO)
