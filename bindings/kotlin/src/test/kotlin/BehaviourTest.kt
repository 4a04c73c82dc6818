import ebbstead.ApiException
import ebbstead.Due
import ebbstead.EbbsteadCompanion
import ebbstead.Moment
import ebbstead.PromptState
import ebbstead.PromptTap
import ebbstead.Occasion
import ebbstead.Question
import ebbstead.Watcher
import ebbstead.EntryKind
import java.nio.file.Path
import java.util.concurrent.Callable
import java.util.concurrent.Executors
import org.junit.jupiter.api.Assertions.assertEquals
import org.junit.jupiter.api.Assertions.assertFalse
import org.junit.jupiter.api.Assertions.assertThrows
import org.junit.jupiter.api.Test
import org.junit.jupiter.api.io.TempDir

/** What the bindings promise of every call, from Kotlin. */
class BehaviourTest {
    @TempDir lateinit var folder: Path
    private val now = Moment(1_772_359_200_000, 60)

    private fun opened() = EbbsteadCompanion.open(folder.resolve("log.ebb").toString(), "en", now)

    private fun EbbsteadCompanion.notes() = log().list(now, now, false, false)

    @Test
    fun closedAndReopened() {
        val companion = opened()
        val log = companion.log()
        log.record(EntryKind.Note("kept"), now, now)
        companion.closeLog()
        companion.closeLog()
        assertThrows(ApiException.Closed::class.java) { log.list(now, now, false, false) }
        assertThrows(ApiException.Closed::class.java) { companion.check() }
        opened().use { assertEquals(1, it.notes().size) }
    }

    @Test
    fun errorsNameTheFieldAndNothingOfTheWearers() {
        opened().use { companion ->
            val refused = assertThrows(ApiException.InvalidInput::class.java) {
                companion.log().record(EntryKind.MeterCheck(7654.0), now, now)
            }
            assertEquals("glucose", refused.field)
            assertFalse("7654" in refused.message)
            assertThrows(ApiException.NotFound::class.java) { companion.log().retract("no identity", now) }
        }
    }

    @Test
    fun threadsShareACompanion() {
        opened().use { companion ->
            val pool = Executors.newFixedThreadPool(4)
            val work = (1..4).map { number ->
                Callable {
                    repeat(5) {
                        companion.log().record(EntryKind.Note("$number $it"), now, now)
                        companion.check().ask(Question(now, Occasion.LOOK, null, null))
                    }
                }
            }
            pool.invokeAll(work).forEach { it.get() }
            pool.shutdown()
            assertEquals(20, companion.notes().size)
        }
    }

    private open class Recorder : Watcher {
        val calls = mutableListOf<Any>()
        override fun logChanged() { calls.add("log") }
        override fun settingsChanged() { calls.add("settings") }
        override fun promptDue(due: Due) { calls.add(due.at.unixMs) }
    }

    @Test
    fun theWatcherHearsOfChangesMadeElsewhereAndMayCallBack() {
        opened().use { here ->
            opened().use { there ->
                val recorder = object : Recorder() {
                    override fun logChanged() { calls.add(here.notes().size) }
                }
                here.watch(recorder)
                there.log().record(EntryKind.MeterCheck(65.0), now, now)
                here.tick(now)
                assertEquals(listOf<Any>(1), recorder.calls)
            }
        }
    }

    @Test
    fun aWatcherThatThrowsHarmsNothing() {
        opened().use { companion ->
            val called = mutableSetOf<Pair<Throwable, String>>()
            fun fail(how: Throwable, of: String): Nothing { called.add(how to of); throw how }
            for (how in listOf(IllegalStateException("the shell's own mistake"), NotImplementedError(), StackOverflowError())) {
                companion.watch(object : Watcher {
                    override fun logChanged() = fail(how, "logChanged")
                    override fun settingsChanged() = fail(how, "settingsChanged")
                    override fun promptDue(due: Due) = fail(how, "promptDue")
                })
                companion.log().record(EntryKind.Note("kept"), now, now)
                companion.settings().setWearer(companion.settings().wearer(), now)
                companion.check().ask(Question(now, Occasion.LOOK, null, 62.0))
                companion.tick(Moment(companion.due()!!.at.unixMs, 60))
            }
            assertEquals(9, called.size) // each of three ways, of each of three calls
            assertEquals(3, companion.notes().size)
        }
    }

    @Test
    fun atNightTwoTapsAreOneAnswer() {
        opened().use { companion ->
            val night = companion.promptScreens()
            repeat(2) { night.tapped(PromptTap.Treated, PromptState(null, null), now) }
            assertEquals(1, companion.notes().size)
        }
    }
}
