package ebbstead.sample.source

import ebbstead.*
import ebbstead.sample.present.Clock
import ebbstead.sample.present.advice

/** Carries what a source sends into the log, and shows what core remarks on it. */
class Intake(private val companion: EbbsteadCompanion, private val clock: Clock, private val offsets: () -> List<OffsetChange> = ::offsetsOfThisPhone) {
    /** What reads a device's values; `name` is its name in the log. */
    fun device(name: String): NearbyDevice = companion.exchange().device(name, offsets())

    /** What asks a device for the records since the newest reading; for all of them where the log cannot be read just now. */
    fun records(device: NearbyDevice): ByteArray = try {
        device.recordsSinceNewest()
    } catch (_: ApiException) {
        device.everyRecord()
    }

    /** Follows a source until it ends. `kept` is called after each value, `began` with the start of a sensor's session, `show` with what is worth showing; all on any thread. */
    fun follow(source: Source, device: NearbyDevice, kept: () -> Unit = {}, began: (Moment) -> Unit = {}, show: (List<String>) -> Unit) {
        source.begin { characteristic, value ->
            val remarks = try {
                val received = device.receive(characteristic.toUShort(), value, clock.now())
                received.sessionBegan?.let(began)
                received.remarks
            } catch (refused: ApiException) {
                listOf(refused.advice())
            }
            if (remarks.isNotEmpty()) show(remarks)
            kept()
        }
    }

    /** It remarks each thing once, so there is one as long as the log is open. */
    private val health by lazy { companion.exchange().healthRecords() }

    /** Brings in what the phone's health store holds and the log lacks. `show` gets what is worth showing, or why it cannot be read. */
    fun read(store: HealthStore, done: () -> Unit = {}, show: (List<String>) -> Unit) {
        fun trying(work: () -> List<String>) {
            val texts = try {
                work()
            } catch (refused: ApiException) {
                listOf(refused.advice())
            }
            if (texts.isNotEmpty()) show(texts)
        }
        trying {
            val got = { values: List<HealthValue> -> trying { health.receive(values, clock.now()).remarks } }
            store.read(health.since(clock.now()), got) { trouble ->
                trying { listOfNotNull(trouble?.let { companion.words().label(it) }) }
                done()
            }
            emptyList()
        }
    }
}
