package ebbstead.sample.present

import ebbstead.*

/** The device's clock: the one thing that core cannot give. */
fun interface Clock {
    fun now(): Moment
}

fun ApiException.advice(): String = when (this) {
    is ApiException.InvalidInput -> advice
    is ApiException.NotFound -> advice
    is ApiException.Closed -> advice
    is ApiException.NewerLog -> advice
    is ApiException.Damaged -> advice
    is ApiException.NoRoom -> advice
    is ApiException.Busy -> advice
    is ApiException.Failed -> advice
}

/** What is kept beside the log, wherever the phone keeps small things. */
interface KeptState {
    /** The one state record of the alerts, as it is. */
    var alerts: String?

    /** What sources remarked while the app was closed, and nobody has seen yet. */
    var unseen: String?

    /** When the session of the sensor nearby began, until that is noted. A sensor says it each time it comes into reach. */
    var began: Moment?

    /** What is read of a kind of source. */
    fun followed(ask: FirstAsk): List<Followed> = emptyList()

    /** Numbers to dial for the day the log cannot be opened: emergency, contact. */
    var numbers: Pair<String?, String?>
}

/** A source that is read: its name, where it has one of its own, what became of it, when it last said something; and what reads it no longer. */
class Followed(val name: String?, val state: SourceState? = null, val heard: Moment? = null, val leave: () -> Unit)

/** Asks core whether to ring, keeps its state, and passes on what is answered. Core decides; this carries. */
class Ringing(private val companion: EbbsteadCompanion, private val clock: Clock, private val kept: KeptState) {
    /** Not before `ring` did what it asks for is its state kept: an app that is ended in between rings twice rather than never. */
    fun step(ring: (AlertStep) -> Unit) = synchronized(STEPS) {
        val step = companion.alerts().step(kept.alerts, clock.now())
        ring(step)
        kept.alerts = step.state
    }

    /** What is to be said of an answer that was not noted, if it was not. */
    fun answer(answer: RingChoice, rangAt: Moment): String? = synchronized(STEPS) {
        companion.alerts().answered(answer, kept.alerts, rangAt, clock.now()).also { kept.alerts = it.state }.late
    }

    fun word(label: Label): String = companion.words().label(label)

    companion object {
        /** One at a time, whoever asks: each begins with the state that the last one left. */
        private val STEPS = Any()

        /** What to do about a step that failed, with a log or without one. */
        fun failed(kept: KeptState, now: Moment): StepFailed = synchronized(STEPS) { stepFailed(kept.alerts, now).also { kept.alerts = it.state } }
    }
}
