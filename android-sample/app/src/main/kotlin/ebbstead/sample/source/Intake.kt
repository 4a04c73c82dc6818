package ebbstead.sample.source

import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.OffsetChange
import ebbstead.sample.present.Clock
import ebbstead.sample.present.advice

/** Carries what a source sends into the log, and tells what core has to say of it. */
class Intake(private val companion: EbbsteadCompanion, private val clock: Clock, private val offsets: List<OffsetChange>) {
    /** What asks a device for every record it keeps. */
    val everyRecord: ByteArray get() = companion.exchange().device("device", offsets).use { it.everyRecord() }

    /**
     * Follows a source until it ends; `name` is its name in the log. `kept` is called after each value, `told` gets what is worth
     * showing; both on any thread.
     */
    fun follow(source: Source, name: String, kept: () -> Unit = {}, told: (List<String>) -> Unit) {
        val device = companion.exchange().device(name, offsets)
        source.begin { characteristic, value ->
            val heard = try {
                device.hear(characteristic.toUShort(), value, clock.now()).told
            } catch (refused: ApiException) {
                listOf(refused.advice())
            }
            if (heard.isNotEmpty()) told(heard)
            kept()
        }
    }
}
