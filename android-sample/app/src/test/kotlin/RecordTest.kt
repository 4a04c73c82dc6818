import ebbstead.Chapter
import ebbstead.EbbsteadCompanion
import ebbstead.EntryKind
import ebbstead.Label
import ebbstead.PageBlock
import ebbstead.Purpose
import ebbstead.RecordAct
import ebbstead.RecordPart
import ebbstead.RecordScreen
import ebbstead.sample.present.Face
import ebbstead.sample.present.Pick
import ebbstead.sample.present.Place
import ebbstead.sample.present.Shell
import java.io.File
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test

/** The record's pages with the real library, as the shell shows and does them; no Android in it. */
class RecordTest {
    private fun World.record(phone: NotedPhone = NotedPhone()) = Stage(this, phone).shell.apply { go(Place.RECORD) }

    private val Shell.screen get() = (face as Face.Record).screen
    private fun Shell.at(chapter: Chapter?): RecordScreen {
        turnTo(chapter)
        return screen
    }
    private fun Shell.did(act: RecordAct, filled: Map<String, String> = emptyMap()): RecordScreen {
        act(act, filled)
        return screen
    }
    private fun Shell.looked(file: File, name: String): RecordScreen {
        lookInto(file, name)
        return screen
    }
    private val RecordScreen.page get() = parts.filterIsInstance<RecordPart.Shown>().firstOrNull()?.page
    private val RecordScreen.said get() = parts.filterIsInstance<RecordPart.Said>().map { it.text }
    private val RecordScreen.letter get() = parts.filterIsInstance<RecordPart.Letter>().single().text
    private val RecordScreen.fields get() = parts.filterIsInstance<RecordPart.Asked>().map { it.field }
    private fun RecordScreen.field(id: String) = fields.first { it.id == id }
    private val RecordScreen.against get() = fields.filter { it.advice != null }.map { it.id }
    private fun RecordScreen.offers(act: RecordAct) = parts.any { it is RecordPart.Press && it.act == act }

    @Test
    fun thePagesAreCoresInEitherLanguage() {
        for ((language, words) in listOf(
            "en" to listOf("Time in range", "left arm", "alerts by day"),
            "de" to listOf("Zeit im Zielbereich", "left arm", "Alarme am Tag"),
        )) World(language = language, days = 16).use { world ->
            val shell = world.record()
            val pages = listOf(Chapter.REVIEW, Chapter.SENSORS, Chapter.ALERTS).map { shell.at(it) }
            pages.zip(words).forEach { (screen, word) -> assertTrue(word, word in screen.parts.toString()) }
            assertTrue(pages.all { it.said.isEmpty() })
            for (chapter in listOf(Chapter.OUTCOMES, Chapter.SUPPLIES)) {
                assertTrue("$chapter", shell.at(chapter).page!!.heading.isNotBlank())
            }
        }
    }

    @Test
    fun theReviewFollowsWhatIsFilledInAndRefusesWhatCannotBe() = World(days = 16).use { world ->
        val phone = NotedPhone()
        val shell = world.record(phone)
        val cards = shell.screen.cards
        assertEquals(Chapter.entries.toList(), cards.map { it.chapter })
        assertTrue("$cards", cards.all { it.lines.isNotEmpty() } && cards.first().chart != null)
        val review = shell.at(Chapter.REVIEW)
        assertTrue(review.page != shell.did(RecordAct.SHOW, mapOf("review_days" to "7")).page)
        for (typed in listOf("0", "7.5", "many")) {
            val none = shell.did(RecordAct.SAVE_REVIEW, mapOf("review_days" to typed))
            assertTrue(none.page == null && none.against == listOf("review_days") && none.field("review_days").value == typed)
        }
        val day = review.parts.filterIsInstance<RecordPart.Day>().single().chart
        assertTrue(day.posts.size == 24 && day.text.isNotBlank() && phone.handed.isEmpty())
        shell.did(RecordAct.SAVE_REVIEW, mapOf("review_days" to "14"))
        shell.go(Place.RECORD)
        val document = phone.handed.single()
        assertEquals("ebbstead-2026-03-01.html" to "text/html", document.name to document.mediaType)
        assertTrue(File(document.path).readText().startsWith("<!doctype html>"))
    }

    @Test
    fun aSheetAndAReplayAreOfWhatIsFilledIn() = World(days = 16).use { world ->
        val shell = world.record()
        assertTrue(shell.at(Chapter.SENSORS).parts.none { it is RecordPart.Letter })
        val sheet = shell.did(RecordAct.SENSOR_SHEET, mapOf("rated_days" to "10", "lot" to "LOT-7"))
        assertTrue("right arm" in sheet.letter && "LOT-7" in sheet.letter && sheet.offers(RecordAct.SAVE_TEXT))
        val slip = shell.did(RecordAct.SHOW, mapOf("rated_days" to "ten"))
        assertTrue(slip.page != null && slip.against == listOf("rated_days"))

        fun columns(screen: RecordScreen) = (screen.page!!.sections[1].holds[0] as PageBlock.Table).rows[0].values.size
        assertEquals(1, columns(shell.at(Chapter.ALERTS)))
        assertEquals(2, columns(shell.did(RecordAct.REPLAY, mapOf("day_high" to "220"))))
        assertEquals(listOf("day_high"), shell.did(RecordAct.REPLAY, mapOf("day_high" to "90")).against)
        // What was tried rings from now on, if the wearer says so.
        val plan = mapOf("day_high" to "220", "night_high" to "220", "lost" to "45", "delay" to "")
        assertEquals(1, shell.did(RecordAct.KEEP_PLAN, plan).said.size)
        assertEquals(220.0 to 45.0, world.companion.alerts().ownPlan().night.run { highMgDl to lostAfterMinutes })
    }

    @Test
    fun whatWasLearntStays() = World(days = 16).use { world ->
        val shell = world.record()
        assertTrue(shell.at(Chapter.LEARNT).page == null)
        val learnt = shell.did(RecordAct.LEARN).page!!
        shell.turnTo(null)
        // What stays of it is the same but for the spells that were marked just now.
        val kept = shell.at(Chapter.LEARNT).page!!
        assertEquals(learnt.heading, kept.heading)
        assertTrue(learnt.sections.containsAll(kept.sections) && kept.sections.isNotEmpty())
    }

    @Test
    fun theLogIsWrittenForOtherPrograms() = World().use { world ->
        val phone = NotedPhone()
        val shell = world.record(phone)
        shell.turnTo(Chapter.COPIES)
        assertTrue("said once it is where the wearer wants it", shell.did(RecordAct.WRITE_TABLE).said.isEmpty())
        val table = phone.handed.single()
        assertTrue("101" in File(table.path).readText())
        shell.say(table.said)
        assertEquals(listOf(table.said), shell.screen.said)
        shell.act(RecordAct.CHOOSE_OTHER, emptyMap())
        assertEquals(listOf(Pick.LOOK_INTO), phone.picked)
    }

    private val secret = "four words, quite long"

    private fun entries(companion: EbbsteadCompanion, world: World) =
        companion.log().list(world.now.copy(unixMs = world.now.unixMs - 7 * 86_400_000L), world.now, true, true).map { it.entry }

    @Test
    fun aSealedCopyIsTheSameLogAndItsPassphraseStaysNowhere() = World(language = "de").use { world ->
        val phone = NotedPhone()
        val here = world.record(phone)
        here.turnTo(Chapter.COPIES)
        val made = here.did(RecordAct.SEAL, mapOf("passphrase" to secret, "passphrase_again" to secret))
        assertTrue(made.fields.all { it.value.isEmpty() } && phone.handed.single().said.isNotBlank())
        val copy = File(phone.handed.single().path)

        val fresh = Stage(world, path = File(world.passing, "fresh.ebb")).shell
        assertTrue(fresh.looked(copy, "copy.age").offers(RecordAct.LOOK_INTO_OTHER))
        val wrong = fresh.did(RecordAct.LOOK_INTO_OTHER, mapOf("passphrase_of_copy" to "$secret?"))
        assertTrue(wrong.against == listOf("passphrase_of_copy") && !wrong.offers(RecordAct.MERGE))
        val met = fresh.did(RecordAct.LOOK_INTO_OTHER, mapOf("passphrase_of_copy" to secret))
        assertTrue(RecordPart.Text(world.companion.words().label(Label.COPY_RESTORES)) in met.parts || met.offers(RecordAct.MERGE))
        // It stands in its field, so that it need not be typed again; what stays has it not.
        assertEquals(secret, met.field("passphrase_of_copy").value)
        fresh.go(Place.RECORD)
        assertEquals("", fresh.screen.field("passphrase_of_copy").value)
        val taken = fresh.did(RecordAct.MERGE, mapOf("passphrase_of_copy" to secret))
        assertTrue("${taken.said}", "Einträge" in taken.said.single() && !copy.exists())
        fresh.close()
        EbbsteadCompanion.open(File(world.passing, "fresh.ebb").path, "en", world.now).use { other ->
            assertEquals(entries(world.companion, world), entries(other, world))
            other.closeLog()
        }
    }

    @Test
    fun anotherPhonesLogIsLookedIntoTakenInAndLeft() = World().use { world ->
        val other = File(world.passing, "other").apply { parentFile.mkdirs() }
        EbbsteadCompanion.open(other.path, "en", world.now).use { phone ->
            phone.log().record(EntryKind.Carbohydrate(17.0, Purpose.RESCUE), world.now.copy(unixMs = world.now.unixMs - 7_200_000), world.now)
            phone.closeLog()
        }
        val copy = other.copyTo(File(world.passing, "again"))
        val shell = world.record()
        val before = entries(world.companion, world)
        val met = shell.looked(other, "phone.ebb")
        assertTrue(RecordPart.Heading("phone.ebb") in met.parts && before == entries(world.companion, world))
        val taken = shell.did(if (met.offers(RecordAct.MERGE)) RecordAct.MERGE else RecordAct.MERGE_ANYWAY)
        assertTrue("${taken.said}", "1 new entry" in taken.said.single())
        val after = entries(world.companion, world)
        assertTrue(after.containsAll(before) && after.any { it.what == EntryKind.Carbohydrate(17.0, Purpose.RESCUE) })

        // Once more there is nothing to merge; turning away deletes the app's copy.
        val nothing = shell.looked(copy, "phone.ebb")
        assertTrue(!nothing.offers(RecordAct.MERGE) && !nothing.offers(RecordAct.MERGE_ANYWAY) && copy.exists())
        shell.turnTo(Chapter.OUTCOMES)
        assertEquals(listOf<String>(), world.passing.list().orEmpty().filter { it.startsWith("again") || it.startsWith("other") })
    }
}
