import ebbstead.Aims
import ebbstead.ApiException
import ebbstead.Chapter
import ebbstead.EbbsteadCompanion
import ebbstead.Moment
import ebbstead.PageBlock
import ebbstead.ReadingAt
import ebbstead.ReviewOptions
import ebbstead.RecordAct
import ebbstead.RecordPart
import java.nio.file.Path
import org.junit.jupiter.api.Assertions.assertThrows
import org.junit.jupiter.api.Assertions.assertTrue
import org.junit.jupiter.api.Test
import org.junit.jupiter.api.io.TempDir

/** The record's pages, from Kotlin. */
class PagesTest {
    @TempDir lateinit var folder: Path
    private val now = Moment(1_772_359_200_000, 60)

    private fun opened(): EbbsteadCompanion {
        val companion = EbbsteadCompanion.open(folder.resolve("log.ebb").toString(), "en", now)
        val readings = (0 until 16 * 288).map { ReadingAt(Moment(now.unixMs - 300_000L * it, 60), 120.0 + 10 * (it % 5)) }
        companion.log().recordReadings("sensor 7", readings, now)
        return companion
    }

    @Test
    fun everyPageHoldsSomething() = opened().use { companion ->
        val options = ReviewOptions(14u, Aims.ADULT, false)
        val record = companion.recordPages(folder.resolve("passing").toString())
        fun shown(chapter: Chapter, act: RecordAct = RecordAct.SHOW) = record.run {
            turnTo(chapter, emptyMap(), now)
            act(act, emptyMap(), now).parts.filterIsInstance<RecordPart.Shown>().first().page
        }
        val pages = listOf(
            companion.review().page(options, now), shown(Chapter.SENSORS), shown(Chapter.ALERTS), shown(Chapter.LEARNT, RecordAct.LEARN),
        )
        for (page in pages) assertTrue(page.heading.isNotEmpty() && page.sections.all { it.holds.isNotEmpty() })
        val rows = pages[0].sections.flatMap { it.holds }.filterIsInstance<PageBlock.Table>().flatMap { it.rows }
        assertTrue(rows.size > 30 && rows.all { it.name.isNotEmpty() })
        assertTrue(companion.review().html(options, now).startsWith("<!doctype html>"))
    }

    @Test
    fun theFloorHolds() {
        opened().use { companion ->
            val own = companion.alerts().ownPlan()
            val tried = own.copy(night = own.night.copy(lowMgDl = 50.0))
            assertThrows(ApiException.InvalidInput::class.java) { companion.alerts().keepPlan(tried, now) }
        }
    }
}
