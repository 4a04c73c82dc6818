package ebbstead.sample.source

import ebbstead.*

/** The phone's health store, in which other apps keep glucose. Which of it is a sensor's and which a meter's is core's to say. */
fun interface HealthStore {
    /** Reads what it holds from a time on: `got` is called with each page, then `done`, with what is wrong if something is; on any thread. */
    fun read(since: Moment, got: (List<HealthValue>) -> Unit, done: (trouble: Label?) -> Unit)
}
