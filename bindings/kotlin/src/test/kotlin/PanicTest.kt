import ebbstead.ApiException
import ebbstead.EbbsteadCompanion
import ebbstead.Moment
import ebbstead.Occasion
import ebbstead.Question
import ebbstead.EntryKind
import java.nio.file.Path
import org.junit.jupiter.api.Assertions.assertEquals
import org.junit.jupiter.api.Assertions.assertThrows
import org.junit.jupiter.api.Tag
import org.junit.jupiter.api.Test
import org.junit.jupiter.api.io.TempDir

/** Run only where a library of cargo's profile `dev` is tested with EBBSTEAD_FAULTS in the environment: it panics on one note. */
@Tag("faults")
class PanicTest {
    @TempDir lateinit var folder: Path

    @Test
    fun aPanicInTheCoreIsAnErrorHereAndTheLogGoesOnBeingUsable() {
        val now = Moment(1_772_359_200_000, 60)
        val companion = EbbsteadCompanion.open(folder.resolve("log.ebb").toString(), "en", now)
        val log = companion.log()
        log.record(EntryKind.Note("before"), now, now)
        repeat(3) {
            assertThrows(ApiException.Failed::class.java) { log.record(EntryKind.Note("panic on purpose"), now, now) }
        }
        log.record(EntryKind.Note("after"), now, now)
        companion.check().ask(Question(now, Occasion.LOOK, null, null))
        assertEquals(setOf(EntryKind.Note("before"), EntryKind.Note("after")), log.list(now, now, false, false).map { it.entry.what }.toSet())
        companion.closeLog()
        EbbsteadCompanion.open(folder.resolve("log.ebb").toString(), "en", now).use {
            assertEquals(2, it.log().list(now, now, true, false).size)
        }
    }
}
