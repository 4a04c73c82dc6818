import ebbstead.EbbsteadCompanion
import ebbstead.Item
import ebbstead.Label
import ebbstead.OtherLog
import ebbstead.PageBlock
import ebbstead.Purpose
import ebbstead.Stocked
import ebbstead.EntryKind
import ebbstead.sample.present.Clock
import ebbstead.sample.present.record.Act
import ebbstead.sample.present.record.Ask
import ebbstead.sample.present.record.Chapter
import ebbstead.sample.present.record.Chosen
import ebbstead.sample.present.record.Part
import ebbstead.sample.present.record.RecordPresenter
import ebbstead.sample.present.record.RecordScreen
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test

/** The record's pages with the real library; no Android in it. */
class RecordTest {
    private fun World.record() = RecordPresenter(companion, clock, passing)

    private val RecordScreen.parts get() = answer + asks
    private val RecordScreen.page get() = parts.filterIsInstance<Part.Page>().firstOrNull()?.page
    private val RecordScreen.said get() = parts.filterIsInstance<Part.Said>().map { it.text }
    private val RecordScreen.letter get() = parts.filterIsInstance<Part.Letter>().single().text
    private fun RecordScreen.field(ask: Ask) = parts.filterIsInstance<Part.Typed>().first { it.ask == ask }.field
    private fun RecordScreen.offers(act: Act) = parts.any { it is Part.Press && it.act == act }

    @Test
    fun thePagesAreCoresInEitherLanguage() {
        for ((language, words) in listOf(
            "en" to listOf("Time in range", "left arm", "your lines"),
            "de" to listOf("Zeit im Zielbereich", "left arm", "deine Linien"),
        )) World(language = language, days = 16).use { world ->
            val presenter = world.record()
            val pages = listOf(Chapter.REVIEW, Chapter.SENSORS, Chapter.ALERTS).map { presenter.turnTo(it).screen() }
            pages.zip(words).forEach { (screen, word) -> assertTrue(word, word in screen.page.toString()) }
            assertTrue(pages.all { it.said.isEmpty() })
            for (chapter in listOf(Chapter.ANSWERS, Chapter.SUPPLIES)) {
                assertTrue("$chapter", presenter.turnTo(chapter).screen().page!!.heading.isNotBlank())
            }
        }
    }

    @Test
    fun theReviewFollowsWhatIsFilledInAndRefusesWhatCannotBe() = World(days = 16).use { world ->
        val presenter = world.record()
        val cards = presenter.show().screen().cards
        assertEquals(Chapter.entries.toList(), cards.map { it.chapter })
        // Copies have nothing to show before something is asked of them.
        assertTrue("$cards", cards.all { it.lines.isNotEmpty() || it.chapter == Chapter.COPIES })
        val review = presenter.turnTo(Chapter.REVIEW).screen()
        assertTrue(review.page != presenter.act(Act.SHOW, mapOf(Ask.DAYS to "7")).screen().page)
        for (typed in listOf("0", "7.5", "many")) {
            val none = presenter.act(Act.SHOW, mapOf(Ask.DAYS to typed)).screen()
            assertTrue(none.page == null && none.field(Ask.DAYS).advice!!.isNotBlank() && none.field(Ask.DAYS).typed == typed)
            assertNull(presenter.act(Act.SAVE_REVIEW, mapOf(Ask.DAYS to typed)).screen().document)
        }
        val day = review.parts.filterIsInstance<Part.Day>().single().chart
        assertTrue(day.posts.size == 24 && day.text.isNotBlank())
        val document = presenter.act(Act.SAVE_REVIEW, mapOf(Ask.DAYS to "14")).screen().document!!
        assertEquals("ebbstead-2026-03-01.html", document.name)
        assertTrue(document.file.readText().startsWith("<!doctype html>"))
        assertNull("a document is handed on once", presenter.show().screen().document)
    }

    @Test
    fun aSheetAndAReplayAreOfWhatIsFilledIn() = World(days = 16).use { world ->
        val presenter = world.record()
        val sensors = presenter.turnTo(Chapter.SENSORS).screen()
        assertTrue(sensors.parts.none { it is Part.Letter })
        val filled = mapOf(Ask.RATED_DAYS to "10", Ask.LOT to "LOT-7")
        assertTrue("right arm" in presenter.act(Act.SENSOR_SHEET, filled).screen().letter)
        assertTrue("LOT-7" in presenter.act(Act.SENSOR_SHEET, filled).screen().letter)
        val slip = presenter.act(Act.SHOW, mapOf(Ask.RATED_DAYS to "ten")).screen()
        assertTrue(slip.page != null && slip.field(Ask.RATED_DAYS).advice!!.isNotBlank())

        val alerts = presenter.turnTo(Chapter.ALERTS).screen()
        fun columns(screen: RecordScreen) = (screen.page!!.sections[0].holds[0] as PageBlock.Table).columns.size
        assertEquals(1, columns(alerts))
        assertEquals(2, columns(presenter.act(Act.REPLAY, form = mapOf("day_high" to "220")).screen()))
        fun RecordScreen.against() = parts.filterIsInstance<Part.Asked>().single().form.fields.filter { it.advice != null }.map { it.id }
        assertEquals(listOf("day_high"), presenter.act(Act.REPLAY, form = mapOf("day_high" to "90")).screen().against())
        // What was tried rings from now on, if the wearer says so.
        val plan = mapOf("day_high" to "220", "night_high" to "220", "lost" to "45", "delay" to "")
        assertEquals(1, presenter.act(Act.KEEP_PLAN, form = plan).screen().said.size)
        assertEquals(220.0 to 45.0, world.companion.alerts().ownPlan().night.run { highMgDl to lostAfterMinutes })
        assertEquals(listOf("night_high"), presenter.act(Act.REPLAY, form = mapOf("night_high" to "high")).screen().against())
        // An emptied line is none, and a delay that is emptied is none: as core says, on every shell.
        presenter.act(Act.KEEP_PLAN, form = mapOf("night_high" to "", "delay" to "")).screen()
        assertEquals(null to 0.0, world.companion.alerts().ownPlan().night.run { highMgDl to highDelayMinutes })
    }

    @Test
    fun whatWasLearntStays() = World(days = 16).use { world ->
        val presenter = world.record()
        assertEquals(1, presenter.turnTo(Chapter.LEARNT).screen().said.size)
        val learnt = presenter.act(Act.LEARN).screen().page!!
        // What stays of it is the same but for the spells that were marked just now.
        val kept = presenter.show().screen().page!!
        assertEquals(learnt.heading, kept.heading)
        assertTrue(learnt.sections.containsAll(kept.sections) && kept.sections.isNotEmpty())
    }

    @Test
    fun theRatedLengthFromTheSettingsStandsInItsField() = World().use { world ->
        val settings = world.companion.settings()
        settings.setWearer(settings.wearer().copy(sensorRatedDays = 10u), world.now)
        assertEquals("10", world.record().turnTo(Chapter.SENSORS).screen().field(Ask.RATED_DAYS).typed)
    }

    @Test
    fun aSupplyIsNotedAndEachSlipIsSaidBesideItsField() = World(language = "de").use { world ->
        val presenter = world.record()
        val before = presenter.turnTo(Chapter.SUPPLIES).screen().page!!
        val filled = mapOf(
            Ask.ITEM to Item.SENSOR.name, Ask.STOCKED to Stocked.RECEIVED.name, Ask.AMOUNT to "6", Ask.EXPIRES to "2026-09-30",
            Ask.PRICE to "312,50", Ask.CURRENCY to "eur", Ask.FROM to "Apotheke am Markt",
        )
        for ((ask, typed) in listOf(
            Ask.AMOUNT to "", Ask.AMOUNT to "2,5", Ask.EXPIRES to "30.9.2026", Ask.PRICE to "teuer", Ask.PRICE to "-1", Ask.CURRENCY to "Euro",
        )) {
            val refused = presenter.act(Act.NOTE_SUPPLY, filled + (ask to typed)).screen()
            assertTrue("$ask $typed", refused.field(ask).advice!!.isNotBlank() && refused.field(ask).typed == typed)
            assertEquals("$ask $typed", 1, refused.parts.count { it is Part.Typed && it.field.advice != null })
        }
        val noPrice = presenter.act(Act.NOTE_SUPPLY, filled + (Ask.STOCKED to Stocked.QUOTED.name) + (Ask.PRICE to "")).screen()
        assertNotNull(noPrice.field(Ask.PRICE).advice)
        assertEquals(before, presenter.show().screen().page)

        val noted = presenter.act(Act.NOTE_SUPPLY, filled).screen()
        assertTrue("${noted.said}", "6" in noted.said.single())
        assertNotEquals(before, noted.page)
        assertEquals(listOf("", "eur"), listOf(noted.field(Ask.AMOUNT).typed, noted.field(Ask.CURRENCY).typed))
        val kept = world.companion.log().list(world.now, world.now, false, false).map { it.entry.what }.filterIsInstance<EntryKind.Supply>()
        val supply = kept.single().supply
        assertEquals(listOf("2026-09-30", "EUR", "Apotheke am Markt"), listOf(supply.expires, supply.price!!.currency, supply.from))
        assertEquals(312.5, supply.price!!.amount, 0.0)

        val undone = presenter.act(Act.UNDO).screen()
        assertTrue("${undone.said}", undone.said.single().endsWith(world.companion.words().label(Label.TAKEN_BACK)))
        assertEquals(before, undone.page)
    }

    @Test
    fun theFactsOfNeedAreShownAndSavedAsTheSameText() = World(days = 16).use { world ->
        val presenter = world.record()
        val supplies = presenter.turnTo(Chapter.SUPPLIES).screen()
        assertTrue(!supplies.offers(Act.SAVE_STATEMENT))
        val shown = presenter.act(Act.STATEMENT).screen()
        assertNotEquals(supplies.page, shown.page)
        assertEquals(world.companion.supplies().statement(90u, world.now), shown.page)
        val document = presenter.act(Act.SAVE_STATEMENT).screen().document!!
        assertEquals(world.companion.supplies().statementText(90u, world.now), document.file.readText())
        assertEquals("ebbstead-2026-03-01.txt" to "text/plain", document.name to document.type)
    }

    @Test
    fun theLogIsWrittenForOtherPrograms() = World().use { world ->
        val presenter = world.record()
        presenter.turnTo(Chapter.COPIES)
        val table = presenter.act(Act.WRITE_TABLE).screen()
        assertTrue("said once it is where the wearer wants it", table.said.isEmpty())
        assertTrue("101" in table.document!!.file.readText())
        assertTrue(presenter.handedOver(table.document!!).screen().said.single().isNotBlank())
        val bundle = presenter.act(Act.WRITE_BUNDLE).screen().document!!
        assertTrue("\"resourceType\"" in bundle.file.readText())
        assertEquals(listOf("x.csv: no room"), presenter.failed("x.csv", "no room").screen().said)
    }

    private val secret = "four words, quite long"

    private fun sealed(world: World): File {
        val presenter = world.record()
        presenter.turnTo(Chapter.COPIES)
        val made = presenter.act(Act.SEAL, mapOf(Ask.PASSPHRASE to secret, Ask.PASSPHRASE_AGAIN to secret)).screen()
        assertTrue(made.field(Ask.PASSPHRASE).typed.isEmpty() && made.field(Ask.PASSPHRASE_AGAIN).typed.isEmpty())
        assertTrue(made.document!!.messages.single().isNotBlank())
        return made.document!!.file
    }

    private fun entries(companion: EbbsteadCompanion, world: World) =
        companion.log().list(world.now.copy(unixMs = world.now.unixMs - 7 * 86_400_000L), world.now, true, true).map { it.entry }

    @Test
    fun aSealedCopyTakenIntoAnEmptyLogIsTheSameLog() = World(language = "de").use { world ->
        val copy = sealed(world)
        val fresh = EbbsteadCompanion.open(File(world.passing, "fresh.ebb").path, "en", world.now)
        val presenter = RecordPresenter(fresh, Clock { world.now }, world.passing)
        val name = "copy.age"
        val chosen = presenter.chosen(Chosen(copy, name)).screen()
        assertEquals(Chapter.COPIES, chosen.chapter)
        assertTrue(chosen.offers(Act.LOOK_INTO_OTHER) && !chosen.offers(Act.MERGE) && !chosen.offers(Act.SEAL))

        val wrong = presenter.act(Act.LOOK_INTO_OTHER, mapOf(Ask.PASSPHRASE_OF_COPY to "$secret?")).screen()
        assertTrue(wrong.field(Ask.PASSPHRASE_OF_COPY).advice!!.isNotBlank() && wrong.field(Ask.PASSPHRASE_OF_COPY).typed.isEmpty())
        assertTrue(!wrong.offers(Act.MERGE) && entries(fresh, world).isEmpty())
        val unsealed = presenter.act(Act.LOOK_INTO_OTHER).screen()
        assertTrue(unsealed.said.single().isNotBlank() && !unsealed.offers(Act.MERGE))

        val met = presenter.act(Act.LOOK_INTO_OTHER, mapOf(Ask.PASSPHRASE_OF_COPY to secret)).screen()
        val restores = fresh.words().label(Label.COPY_RESTORES)
        assertTrue("${met.parts}", Part.Text(restores) in met.parts && met.offers(Act.MERGE))
        // It stands in its field, so that it need not be typed again; what stays here has it not.
        assertEquals(secret, met.field(Ask.PASSPHRASE_OF_COPY).typed)
        assertEquals("", presenter.show().screen().field(Ask.PASSPHRASE_OF_COPY).typed)
        assertEquals(Chosen(copy, name), presenter.standing.other)

        val taken = presenter.act(Act.MERGE, mapOf(Ask.PASSPHRASE_OF_COPY to secret)).screen()
        assertTrue("${taken.said}", "${entries(fresh, world).size} Einträge" in taken.said.single())
        assertEquals(entries(world.companion, world), entries(fresh, world))
        assertEquals(world.companion.settings().wearer(), fresh.settings().wearer())
        assertTrue("the app's own copy is gone", !copy.exists() && presenter.standing.other == null)
        fresh.closeLog()
    }

    @Test
    fun aNewPassphraseIsTypedTwiceAndLongEnough() = World().use { world ->
        val presenter = world.record()
        presenter.turnTo(Chapter.COPIES)
        for ((ask, one, other) in listOf(
            Triple(Ask.PASSPHRASE_AGAIN, secret, "$secret!"), Triple(Ask.PASSPHRASE, "short", "short"), Triple(Ask.PASSPHRASE, "", ""),
        )) {
            val refused = presenter.act(Act.SEAL, mapOf(Ask.PASSPHRASE to one, Ask.PASSPHRASE_AGAIN to other)).screen()
            assertTrue(refused.field(ask).advice!!.isNotBlank() && refused.document == null)
        }
        assertEquals(emptyList<File>(), world.passing.listFiles().orEmpty().filter { it.extension == "age" })
    }

    @Test
    fun anotherPhonesLogIsLookedIntoAndTakenIn() = World().use { world ->
        val other = File(world.passing, "other").apply { parentFile.mkdirs() }
        EbbsteadCompanion.open(other.path, "en", world.now).use { phone ->
            phone.log().record(EntryKind.Carbohydrate(17.0, Purpose.RESCUE), world.now.copy(unixMs = world.now.unixMs - 7_200_000), world.now)
            phone.closeLog()
        }
        val copy = other.copyTo(File(world.passing, "again"))
        val before = entries(world.companion, world)
        val presenter = world.record()
        presenter.chosen(Chosen(other, "phone.ebb"))
        val met = presenter.act(Act.LOOK_INTO_OTHER).screen()
        assertTrue(met.parts.any { it is Part.Text } && before == entries(world.companion, world))
        val taking = if (met.offers(Act.MERGE)) Act.MERGE else Act.MERGE_ANYWAY
        assertTrue("${met.parts}", met.offers(taking))
        val taken = presenter.act(taking).screen()
        assertTrue("${taken.said}", "1 new entry" in taken.said.single())
        val after = entries(world.companion, world)
        assertEquals(before.size + 1, after.size)
        assertTrue(after.containsAll(before) && after.any { it.what == EntryKind.Carbohydrate(17.0, Purpose.RESCUE) })

        // Once more there is nothing to merge.
        presenter.chosen(Chosen(copy, "phone.ebb"))
        val nothing = presenter.act(Act.LOOK_INTO_OTHER).screen()
        assertTrue(Part.Text(world.companion.words().label(Label.NOTHING_NEW)) in nothing.parts && !nothing.offers(taking))
        presenter.act(Act.LEAVE)
        assertEquals(listOf<String>(), world.passing.list().orEmpty().filter { it.startsWith("again") || it.startsWith("other") })
        assertEquals(after, entries(world.companion, world))
    }

    /** A log that takes back much of what this one holds: it is said, and wants the other button. */
    @Test
    fun whatSpeaksAgainstItIsSaidAndAskedOnceMore() = World().use { world ->
        repeat(30) { world.companion.log().record(EntryKind.Note("note $it"), world.now, world.now) }
        val copy = sealed(world)
        val other = File(world.passing, "other").apply { parentFile.mkdirs() }
        EbbsteadCompanion.open(other.path, "en", world.now).use { phone ->
            phone.exchange().merge(OtherLog.Sealed(copy.path, secret), false, world.now)
            val week = world.now.copy(unixMs = world.now.unixMs - 7 * 86_400_000L)
            phone.log().list(week, world.now, false, false).forEach { phone.log().retract(it.entry.id, world.now) }
            phone.closeLog()
        }
        fun held() = world.companion.log().list(world.now.copy(unixMs = world.now.unixMs - 7 * 86_400_000L), world.now, false, false)
        val before = held()
        val presenter = world.record()
        presenter.chosen(Chosen(other, "phone.ebb"))
        val met = presenter.act(Act.LOOK_INTO_OTHER).screen()
        val warnings = world.companion.exchange().previewMerge(OtherLog.Open(other.path), world.now).warnings
        assertTrue(warnings.isNotEmpty() && met.said == warnings)
        assertTrue(met.offers(Act.MERGE_ANYWAY) && !met.offers(Act.MERGE))
        presenter.act(Act.MERGE)
        assertEquals("refused by the core", before, held())
        presenter.act(Act.MERGE_ANYWAY)
        assertTrue("${held()}", held().isEmpty())
    }

    @Test
    fun whatIsNoLogIsSaidAndTurningAwayDeletesTheAppsCopy() = World().use { world ->
        val file = File(world.passing, "other").apply { parentFile.mkdirs(); writeText("no log") }
        val presenter = world.record()
        presenter.chosen(Chosen(file, "notes.txt"))
        val refused = presenter.act(Act.LOOK_INTO_OTHER).screen()
        assertTrue(refused.said.single().isNotBlank() && refused.offers(Act.LOOK_INTO_OTHER) && file.exists())
        // The log is closed while the app is away; the wearer comes back to the same file.
        val back = RecordPresenter(world.companion, world.clock, world.passing, presenter.standing)
        assertTrue(Part.Heading("notes.txt") in back.show().screen().parts)
        back.turnTo(Chapter.ANSWERS)
        assertTrue(!file.exists())
    }
}
