import ebbstead.Due
import ebbstead.GlucoseUnit
import ebbstead.Label
import ebbstead.Language
import ebbstead.PageBlock
import ebbstead.Symptom
import ebbstead.Watcher
import ebbstead.What
import ebbstead.sample.present.Chapter
import ebbstead.sample.present.Kind
import ebbstead.sample.present.LogPresenter
import ebbstead.sample.present.NightPresenter
import ebbstead.sample.present.NowPresenter
import ebbstead.sample.present.RecordPresenter
import ebbstead.sample.present.RecordScreen
import ebbstead.sample.present.SettingsPresenter
import ebbstead.sample.screen.Palette
import ebbstead.sample.screen.contrast
import ebbstead.sample.source.Intake
import ebbstead.sample.source.Source
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
        assertNull(presenter.woken().screen().told)
        assertTrue(presenter.checked("6,2").screen().told!!.contains("6.2 mmol/L"))
        val slip = presenter.checked("112").screen()
        assertEquals("112", slip.meter.typed)
        assertTrue(slip.meter.advice!!.isNotBlank() && slip.told == null && slip.verdict.isNotBlank())
        assertNotNull(presenter.treated().screen().told)
        assertNotNull(presenter.rolledOver().screen().undo)
        val list = LogPresenter(world.companion, world.clock)
        assertEquals(3, list.list().screen().days.sumOf { it.rows.size })
        assertNull(presenter.undo().screen().undo)
        assertEquals(2, list.list().screen().days.sumOf { it.rows.size })
    }

    /** The log tells of a change within the call that made it; the screen is then asked for again. */
    @Test
    fun whatWasJustKeptIsStillSaidAfterTheWatcherLooksAgain() = World().use { world ->
        val (now, night) = Pair(NowPresenter(world.companion, world.clock), NightPresenter(world.companion, world.clock))
        val log = LogPresenter(world.companion, world.clock)
        var heard = 0
        world.companion.watch(object : Watcher {
            override fun logChanged() { heard++ }
            override fun settingsChanged() = Unit
            override fun promptDue(due: Due) = Unit
        })
        val told = now.feels(Symptom.FEELS_LOW).screen().told
        assertTrue(told, told!!.contains(world.companion.words().label(Label.KEPT)))
        assertEquals(told, now.refresh().screen().told)
        assertEquals(night.treated().screen().told!!, night.refresh().screen().told)
        assertEquals(log.add(Kind.RAPID, "4,5").screen().told!!, log.refresh().screen().told)
        assertEquals(3, heard)
        assertNull(now.look().screen().told)
    }

    @Test
    fun aMeterTypedOnNowAnswersAndIsKept() = World().use { world ->
        val presenter = NowPresenter(world.companion, world.clock)
        val low = presenter.metered("61").screen()
        assertTrue(low.told!!, low.told!!.contains("61 mg/dL"))
        assertTrue(low.verdict != presenter.metered("118").screen().verdict)
        val slip = presenter.metered("6.1").screen()
        assertEquals("6.1", slip.meter.typed)
        assertTrue(slip.meter.advice!!.contains("unit"))
    }

    @Test
    fun theLogTakesWhatIsTypedAndRefusesWhatCannotBe() = World().use { world ->
        val presenter = LogPresenter(world.companion, world.clock)
        val before = presenter.list().screen().days.sumOf { it.rows.size }
        presenter.add(Kind.RAPID, "4,5").screen()
        for ((kind, typed) in listOf(Kind.RAPID to "four", Kind.MEAL to "9000")) {
            val refused = presenter.add(kind, typed).screen().kinds.first { it.kind == kind }.field
            assertEquals(typed, refused.typed)
            assertTrue(refused.advice!!.isNotBlank())
        }
        val rows = presenter.list().screen().days.flatMap { it.rows }
        assertEquals(before + 1, rows.size)
        presenter.takeBack(rows.first().id).screen()
        assertEquals(before, presenter.list().screen().days.sumOf { it.rows.size })
    }

    @Test
    fun anEntryIsPutRightAtItsOwnTime() = World(language = Language.GERMAN).use { world ->
        val presenter = LogPresenter(world.companion, world.clock)
        presenter.add(Kind.RAPID, "4,5").screen()
        world.now = world.now.copy(unixMs = world.now.unixMs + 600_000)
        fun rows() = presenter.refresh().screen().days.flatMap { it.rows }
        val (wrong, before) = Pair(rows().first(), rows().size)
        val righting = presenter.putRight(wrong.id).screen().righting!!
        assertEquals("4,5", righting.row.field.typed)
        val slip = presenter.keepRight("viel").screen().righting!!.row.field
        assertTrue(slip.typed == "viel" && slip.advice!!.isNotBlank())
        val kept = presenter.keepRight("5,5").screen()
        assertNull(kept.righting)
        assertTrue(kept.told!!, kept.told!!.contains("5,5"))
        assertEquals(before, rows().size)
        assertEquals(wrong.text.substringBefore("  "), rows().first { "5,5" in it.text }.text.substringBefore("  "))
        // Leaving it, or keeping it untouched, changes nothing.
        val again = rows().first { "5,5" in it.text }
        presenter.putRight(again.id)
        assertNull(presenter.keepRight("5,5").screen().told)
        presenter.putRight(again.id)
        assertNull(presenter.leave().screen().righting)
        assertEquals(again, rows().first { "5,5" in it.text })
    }

    @Test
    fun theRecordsPagesAreCoresInEitherLanguage() {
        for ((language, words) in listOf(
            Language.ENGLISH to listOf("Time in range", "left arm", "your lines"),
            Language.GERMAN to listOf("Zeit im Zielbereich", "left arm", "deine Linien"),
        )) World(language = language, days = 16).use { world ->
            val presenter = RecordPresenter(world.companion, world.clock)
            val pages = listOf(Chapter.REVIEW, Chapter.SENSORS, Chapter.ALERTS).map { presenter.turnTo(it).screen() }
            pages.zip(words).forEach { (screen, word) -> assertTrue(word, word in screen.page.toString()) }
            assertTrue(pages.all { it.told == null && it.chapters.size == Chapter.entries.size })
        }
    }

    @Test
    fun thePagesFollowWhatIsFilledInAndRefuseWhatCannotBe() = World(days = 16).use { world ->
        val presenter = RecordPresenter(world.companion, world.clock)
        val review = presenter.show().screen()
        assertTrue(review.page != presenter.ask(review.form.copy(days = "7")).screen().page)
        val none = presenter.ask(review.form.copy(days = "0")).screen()
        assertTrue(none.page == null && none.told!!.isNotBlank() && none.form.days == "0")
        assertTrue(review.day!!.posts.size == 24 && review.day.text.isNotBlank())
        val (name, html) = presenter.file(review.form).screen()
        assertTrue(name.endsWith(".html") && html.startsWith("<!doctype html>"))

        val sensors = presenter.turnTo(Chapter.SENSORS).screen()
        assertNull(sensors.sheet)
        assertTrue("right arm" in presenter.sheet(sensors.form.copy(ratedDays = "10", lot = "LOT-7")).screen().sheet!!)
        assertTrue("LOT-7" in presenter.sheet(sensors.form.copy(lot = "LOT-7")).screen().sheet!!)

        val alerts = presenter.turnTo(Chapter.ALERTS).screen()
        fun columns(screen: RecordScreen) = (screen.page!!.sections[0].holds[0] as PageBlock.Table).columns.size
        assertEquals(1, columns(alerts))
        assertEquals(2, columns(presenter.ask(alerts.form.copy(highLine = "220")).screen()))
        assertTrue(presenter.ask(alerts.form.copy(highLine = "90")).screen().told!!.isNotBlank())

        assertNotNull(presenter.turnTo(Chapter.LEARNT).screen().told)
        val learnt = presenter.learn().screen().page!!
        // What stays of it is the same but for the spells that were marked just now.
        val kept = presenter.show().screen().page!!
        assertEquals(learnt.heading, kept.heading)
        assertTrue(learnt.sections.containsAll(kept.sections) && kept.sections.isNotEmpty())
    }

    /** Octets as the Bluetooth SIG lays them out: a reading of 120 mg/dL at minute 5, then the session's start at 10:15. */
    @Test
    fun whatADeviceNearbySendsIsKeptAndWhatCannotBeReadIsTold() = World().use { world ->
        fun octets(vararg all: Int) = ByteArray(all.size) { all[it].toByte() }
        val source = object : Source {
            override fun begin(got: (characteristic: Int, value: ByteArray) -> Unit) {
                got(0x2AA7, octets(0x06, 0x00, 0x78, 0x00, 0x05, 0x00))
                got(0x2AAA, octets(0xEA, 0x07, 3, 1, 10, 15, 0, 4, 0))
                got(0x2AA7, octets(0x06, 0x00))
            }

            override fun end() = Unit
        }
        val offsets = offsetsOf(ZoneId.of("Europe/Berlin"), Instant.parse("2026-03-01T00:00:00Z"))
        val intake = Intake(world.companion, world.clock, offsets)
        assertEquals(listOf<Byte>(1, 1), intake.everyRecord.toList())
        val told = mutableListOf<String>()
        intake.follow(source, "sensor 9") { told.addAll(it) }
        assertTrue("$told", told.any { it.isNotBlank() })
        val from = world.now.copy(unixMs = world.now.unixMs - 6 * 3_600_000)
        val kept = world.companion.log().list(from, world.now, false, true).first()
        assertEquals("10:20", kept.clock)
        assertEquals(What.SensorReading(120.0), kept.entry.what)
        val screen = LogPresenter(world.companion, world.clock).heard(told).screen()
        assertEquals(told.joinToString("\n"), screen.told)
    }

    @Test
    fun aSensorIsNotedWithItsSiteAndWhatWasWrongWithIt() = World().use { world ->
        val presenter = LogPresenter(world.companion, world.clock)
        presenter.add(Kind.SENSOR, "left arm").screen()
        val fault = presenter.add(Kind.SENSOR_FAULT, "bled").screen()
        assertTrue(fault.told!!, "bled" in fault.told!!)
        presenter.add(Kind.SENSOR_ENDED, "").screen()
        val rows = presenter.list().screen().days.flatMap { it.rows }
        assertEquals(1, rows.count { !it.putRight }) // that it was taken off has nothing to be typed anew
        val site = presenter.putRight(rows.first { "left arm" in it.text }.id).screen().righting!!.row
        assertEquals(Kind.SENSOR to "left arm", site.kind to site.field.typed)
    }

    @Test
    fun aBundleIsReadOrRefusedWithItsLine() = World().use { world ->
        val presenter = LogPresenter(world.companion, world.clock)
        val refused = presenter.read("x.json", " {\"resourceType\": \"Bundle\", ".toByteArray(), emptyList()).screen().told!!
        assertTrue(refused, refused.startsWith("x.json, "))
        val bundle = """
            {"resourceType": "Bundle", "type": "collection", "entry": [{"resource": {
              "resourceType": "Observation", "status": "final",
              "code": {"coding": [{"system": "http://loinc.org", "code": "99504-3"}]},
              "effectiveDateTime": "2026-03-01T09:00:00+01:00",
              "valueQuantity": {"value": 111, "unit": "mg/dL", "system": "http://unitsofmeasure.org", "code": "mg/dL"}}}]}
        """
        val read = presenter.read("week.json", bundle.toByteArray(), emptyList()).screen().told!!
        assertTrue(read, read.startsWith("week.json: +1"))
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
        for (wrong in listOf(mmolL.copy(lowLine = "2,0"), mmolL.copy(nightFrom = "25:00"))) {
            val refused = presenter.save(wrong).screen()
            assertEquals(wrong, refused.form)
            assertTrue(refused.told!!.isNotBlank())
        }
        assertEquals("3,9", presenter.show().screen().form.lowLine)
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
