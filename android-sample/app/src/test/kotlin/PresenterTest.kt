import ebbstead.GlucoseUnit
import ebbstead.Language
import ebbstead.Symptom
import ebbstead.sample.present.Kind
import ebbstead.sample.present.LogPresenter
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.present.Shown
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.contrast
import ebbstead.sample.source.offsetsOf
import java.time.Instant
import java.time.ZoneId
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test

/** The presenters with the real library; no Android in it. */
class PresenterTest {
    @Test
    fun nowShowsThePromptWithItsPicture() = World().use { world ->
        val screen = NowPresenter(world.companion, world.clock).look().screen()
        assertTrue(screen.verdict.isNotBlank() && screen.sentence.isNotBlank() && screen.lists.isNotEmpty())
        assertEquals(24, screen.picture.readings.size)
        assertTrue(screen.picture.path.isNotEmpty() && screen.picture.text.isNotBlank())
        assertTrue(screen.reading!!.contains("mg/dL"))
    }

    @Test
    fun severeSignsGetHelpAndNoNightAnswers() = World(night = true).use { world ->
        val now = NowPresenter(world.companion, world.clock).feels(Symptom.SEVERE).screen()
        assertTrue(now.verdict, now.verdict.contains("help", ignoreCase = true))
        assertTrue(!NightPresenter(world.companion, world.clock).woken().screen().answersOffered)
    }

    @Test
    fun theNightsAnswersAreKeptAndCanBeTakenBack() = World(night = true, unit = GlucoseUnit.MMOL_L).use { world ->
        val presenter = NightPresenter(world.companion, world.clock)
        assertNull(presenter.woken().screen().kept)
        assertTrue(presenter.checked("6,2").screen().kept!!.contains("6.2 mmol/L"))
        assertTrue(presenter.checked("112") is Shown.Trouble)
        assertNotNull(presenter.treated().screen().kept)
        assertNotNull(presenter.rolledOver().screen().kept)
        val list = LogPresenter(world.companion, world.clock)
        assertEquals(3, list.list().screen().days.sumOf { it.rows.size })
        presenter.undo()
        assertEquals(2, list.list().screen().days.sumOf { it.rows.size })
    }

    @Test
    fun theLogTakesWhatIsTypedAndRefusesWhatCannotBe() = World().use { world ->
        val presenter = LogPresenter(world.companion, world.clock)
        val before = presenter.list().screen().days.sumOf { it.rows.size }
        presenter.add(Kind.RAPID, "4,5").screen()
        assertTrue(presenter.add(Kind.RAPID, "four") is Shown.Trouble)
        assertTrue(presenter.add(Kind.MEAL, "9000") is Shown.Trouble)
        val rows = presenter.list().screen().days.flatMap { it.rows }
        assertEquals(before + 1, rows.size)
        presenter.takeBack(rows.first().id).screen()
        assertEquals(before, presenter.list().screen().days.sumOf { it.rows.size })
    }

    @Test
    fun aFileIsReadInTheWearersZone() = World().use { world ->
        val text = "time;glucose mg/dL\n2026-02-28 12:00;104\n2026-02-28 12:05;low\n".toByteArray()
        val offsets = offsetsOf(ZoneId.of("Europe/Berlin"), Instant.parse("2026-03-01T00:00:00Z"))
        val told = LogPresenter(world.companion, world.clock).read("week.csv", text, offsets).screen().told!!
        assertTrue(told, told.startsWith("week.csv: +1"))
        val refused = LogPresenter(world.companion, world.clock).read("x.csv", "nothing".toByteArray(), offsets).screen().told!!
        assertTrue(refused, refused.startsWith("x.csv, "))
    }

    @Test
    fun settingsShownInAnotherUnitDoNotMoveALine() = World().use { world ->
        val presenter = SettingsPresenter(world.companion, world.clock)
        val mgDl = presenter.show().screen().form
        presenter.save(mgDl.copy(unit = GlucoseUnit.MMOL_L, language = Language.GERMAN)).screen()
        val mmolL = presenter.show().screen().form
        assertEquals("3,9", mmolL.lowLine)
        presenter.save(mmolL.copy(insulinFactor = "2,2")).screen()
        assertEquals(70.0, world.companion.settings().wearer().lowLineMgDl, 0.0)
        assertEquals("2,2", presenter.show().screen().form.insulinFactor)
        assertTrue(presenter.save(mmolL.copy(lowLine = "2,0")) is Shown.Trouble)
        assertTrue(presenter.save(mmolL.copy(nightFrom = "25:00")) is Shown.Trouble)
    }

    @Test
    fun contrastIsAtLeastWhatWcagAsksAtLevelAA() {
        assertEquals(21.0, contrast(0xFF000000.toInt(), 0xFFFFFFFF.toInt()), 1e-9)
        for (palette in listOf(Palette.LIGHT, Palette.DARK)) {
            palette.texts.forEach { (one, other) -> assertTrue("${contrast(one, other)}", contrast(one, other) >= 4.5) }
            palette.shapes.forEach { (one, other) -> assertTrue("${contrast(one, other)}", contrast(one, other) >= 3.0) }
        }
    }
}
