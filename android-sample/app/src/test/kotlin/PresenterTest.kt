import ebbstead.Chapter
import ebbstead.Due
import ebbstead.EntryKind
import ebbstead.FormAnswer
import ebbstead.GlucoseUnit
import ebbstead.HealthValue
import ebbstead.Illness
import ebbstead.Label
import ebbstead.LogScreen
import ebbstead.LogState
import ebbstead.LogTap
import ebbstead.Moment
import ebbstead.Noted
import ebbstead.OffsetChange
import ebbstead.PromptPart
import ebbstead.PromptScreen
import ebbstead.PromptState
import ebbstead.PromptTap
import ebbstead.Purpose
import ebbstead.ReadingAt
import ebbstead.RecordPart
import ebbstead.RingChoice
import ebbstead.Specimen
import ebbstead.Symptom
import ebbstead.TreatPreference
import ebbstead.Verdict
import ebbstead.Watcher
import ebbstead.sample.present.Face
import ebbstead.sample.present.KeptState
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Place
import ebbstead.sample.present.Ringing
import ebbstead.sample.present.Shell
import ebbstead.sample.source.HealthStore
import ebbstead.sample.source.Intake
import ebbstead.sample.source.Source
import ebbstead.sample.source.offsetsOf
import java.time.Instant
import java.time.ZoneId
import java.util.concurrent.atomic.AtomicInteger
import kotlin.concurrent.thread
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test

/** The presenters with the real library; no Android in it. */
class PresenterTest {
    /** The screen with the log, as the shell asks for it. */
    private class Logging(private val world: World) {
        private val screens = world.companion.logScreens(true)
        private var state = LogState()
        private fun tap(tap: LogTap, filled: Map<String, String> = emptyMap()) =
            screens.tapped(tap, filled, state, world.now).also { state = it.state }

        fun list() = tap(LogTap.Look)
        fun refresh() = tap(LogTap.Refresh)
        fun open(id: String? = null) = tap(if (id == null) LogTap.Add else LogTap.PutRight(id))
        fun fill(filled: Map<String, String>) = tap(LogTap.Fill, filled)
        fun keep(filled: Map<String, String>) = tap(LogTap.Keep, filled)
        fun undo() = tap(LogTap.Undo)
        fun takeBack(id: String) = tap(LogTap.TakeBack(id))
        fun read(name: String, bytes: ByteArray, offsets: List<OffsetChange>) = screens.bringIn(name, bytes, offsets, state, world.now).also { state = it.state }
        fun received(remarks: List<String>): LogScreen {
            state = state.copy(unseen = remarks.joinToString("\n"))
            return refresh()
        }

        /** Opens the form, and keeps what is filled in at once. */
        fun add(kind: String, vararg fields: Pair<String, String>): LogScreen {
            open()
            return keep(mapOf("kind" to kind, *fields))
        }
    }

    private fun LogScreen.field(id: String) = form!!.fields.first { it.id == id }

    private fun LogScreen.rows() = days.flatMap { it.entries }

    /** A screen with the prompt, as the shell goes on from it. */
    private class Prompting(private val world: World, woken: Boolean = false) {
        private val screens = world.companion.promptScreens()
        private var state = PromptState(woken = if (woken) world.now else null)
        fun tap(tap: PromptTap) = screens.tapped(tap, state, world.now).also { state = it.state }
        fun metered(typed: String) = screens.metered(typed, state, world.now).also { state = it.state }
    }

    private val PromptScreen.headline get() = parts.filterIsInstance<PromptPart.Lead>().single().headline

    @Test
    fun nowShowsThePromptWithItsPicture() = World().use { world ->
        val screen = Prompting(world).tap(PromptTap.Look)
        val chart = screen.parts.filterIsInstance<PromptPart.Drawn>().single().chart
        assertTrue(screen.headline.word.isNotBlank() && screen.headline.sentence.isNotBlank())
        assertEquals(24, chart.readings.size)
        assertTrue(chart.path.isNotEmpty() && chart.text.isNotBlank())
        assertTrue(screen.headline.amount!!.contains("mg/dL") && screen.headline.accessory.size == 2)
    }

    @Test
    fun severeSignsGetHelpAndNoNightAnswers() = World(night = true).use { world ->
        val now = Prompting(world).tap(PromptTap.Feel(Symptom.SEVERE))
        assertEquals(Verdict.HELP, now.headline.verdict)
        val night = Prompting(world).tap(PromptTap.Look)
        assertEquals(listOf(PromptTap.Help, PromptTap.Feel(Symptom.FEELS_LOW)), night.pinned.map { it.tap })
    }

    @Test
    fun theNightsAnswersAreKeptAndCanBeTakenBack() = World(night = true, unit = GlucoseUnit.MMOL_L).use { world ->
        val night = Prompting(world)
        assertNull(night.tap(PromptTap.Look).state.noted)
        assertTrue(night.metered("6,2").state.noted!!.text.contains("6.2 mmol/L"))
        val slip = night.metered("112").state
        assertEquals("112", slip.meter!!.value)
        assertTrue(slip.meter!!.advice!!.isNotBlank() && slip.noted == null)
        assertEquals(slip.meter, night.tap(PromptTap.Refresh).state.meter)
        assertNull(night.tap(PromptTap.LeaveMeter).state.meter)
        assertNotNull(night.tap(PromptTap.Treated).state.noted)
        assertNotNull(night.tap(PromptTap.RolledOver).state.noted!!.undo)
        val list = Logging(world)
        assertEquals(3, list.list().rows().size)
        assertNull(night.tap(PromptTap.Undo).state.noted!!.undo)
        assertEquals(2, list.list().rows().size)
    }

    /** The log notifies of a change within the call that made it; the screen is then asked for again. */
    @Test
    fun whatWasJustKeptIsStillSaidAfterTheWatcherLooksAgain() = World().use { world ->
        val (now, night) = Prompting(world) to Prompting(world)
        val log = Logging(world)
        now.tap(PromptTap.Look)
        val count = changes(world)
        val message = now.tap(PromptTap.Feel(Symptom.FEELS_LOW)).state.noted!!.text
        assertTrue(message, message.contains(world.companion.words().label(Label.KEPT)))
        assertEquals(message, now.tap(PromptTap.Refresh).state.noted!!.text)
        assertEquals(night.tap(PromptTap.Treated).state.noted!!, night.tap(PromptTap.Refresh).state.noted)
        assertEquals(log.add("rapid", "rapid" to "4,5").noted!!, log.refresh().noted)
        assertTrue("$count", count.get() >= 3)
        assertNull(now.tap(PromptTap.Look).state.noted)
    }

    /** Showing a prompt keeps it, which changes the log, for which the screen looks again: that must come to an end. */
    @Test
    fun aPromptThatIsShownIsKeptOnceHoweverOftenTheScreenLooksAgain() = World().use { world ->
        fun kept() = world.companion.log().list(world.now.copy(unixMs = world.now.unixMs - 600_000), world.now, false, true)
            .count { it.entry.what is EntryKind.Prompted }
        val count = changes(world)
        for (night in listOf(false, true)) {
            val prompt = Prompting(world, woken = night)
            val taps = listOf(PromptTap.Look, if (night) PromptTap.RolledOver else PromptTap.Feel(Symptom.FEELS_LOW), PromptTap.Feel(Symptom.SEVERE))
            val acts = taps.map { { prompt.tap(it) } } + { prompt.metered("61") }
            fun secondLater() { world.now = world.now.copy(unixMs = world.now.unixMs + 1000) }
            for (act in acts) {
                secondLater()
                act()
                var looks = 0
                do {
                    val before = count.get()
                    secondLater()
                    prompt.tap(PromptTap.Refresh)
                    looks++
                } while (count.get() > before && looks < 10)
                assertTrue("$looks looks", looks <= 2)
            }
        }
        val before = kept()
        assertTrue("$before", before >= 4)
        assertTrue(world.companion.recordPages(world.passing.path).turnTo(Chapter.OUTCOMES, emptyMap(), world.now).parts.any { it is RecordPart.Shown })
        assertEquals(before, kept())
    }

    private fun changes(world: World): AtomicInteger {
        val count = AtomicInteger()
        world.companion.watch(object : Watcher {
            override fun logChanged() { count.incrementAndGet() }
            override fun settingsChanged() = Unit
            override fun promptDue(due: Due) = Unit
        })
        return count
    }

    @Test
    fun aMeterTypedOnNowAnswersAndIsKept() = World().use { world ->
        val prompt = Prompting(world)
        val low = prompt.metered("61")
        assertTrue("${low.state}", low.state.noted!!.text.contains("61 mg/dL"))
        assertTrue(low.headline.verdict != prompt.metered("118").headline.verdict)
        val slip = prompt.metered("6.1").state.meter!!
        assertEquals("6.1", slip.value)
        assertTrue(slip.advice!!.contains("unit"))
    }

    @Test
    fun theLogTakesWhatIsTypedAndRefusesWhatCannotBe() = World().use { world ->
        val presenter = Logging(world)
        val before = presenter.list().rows().size
        assertNull(presenter.add("rapid", "rapid" to "4,5").form)
        for ((kind, typed, limits) in listOf(Triple("rapid", "four", "a number"), Triple("meal", "9000", "500 g"), Triple("ketones", "21", "20 mmol/L"))) {
            val refused = presenter.add(kind, kind to typed)
            assertEquals(typed to null, refused.field(kind).value to refused.noted)
            assertTrue("$refused", refused.field(kind).run { advice!!.startsWith(name) && limits in advice!! })
        }
        val rows = presenter.list().rows()
        assertEquals(before + 1, rows.size)
        presenter.takeBack(rows.first().entry.id)
        assertEquals(before, presenter.list().rows().size)
    }

    /** What the sick-day rules of the prompt go by could once be noted on a computer alone. */
    @Test
    fun ketonesIllnessAndAlcoholAreNoted() = World().use { world ->
        val presenter = Logging(world)
        fun last() = world.companion.log().list(world.now, world.now, false, false).last().entry.what
        presenter.add("ketones", "ketones" to "1,2")
        assertEquals(EntryKind.Ketones(1.2), last())
        world.now = world.now.copy(unixMs = world.now.unixMs + 1000)
        presenter.add("illness", "illness" to "vomiting")
        assertEquals(EntryKind.Illness(Illness.VOMITING), last())
        world.now = world.now.copy(unixMs = world.now.unixMs + 1000)
        val done = presenter.add("alcohol", "alcohol" to "2").noted!!
        assertEquals(EntryKind.Alcohol(2.0), last())
        assertTrue(done.text, "2 drinks" in done.text && done.undo != null)
        assertEquals(listOf(true, true, true), presenter.refresh().rows().take(3).map { it.hasForm })
    }

    @Test
    fun aChoiceLaysTheFormOutAndKeepsWhatWasTyped() = World().use { world ->
        val presenter = Logging(world)
        val first = presenter.open().form!!
        assertEquals(listOf("kind") to "", first.fields.map { it.id } to first.main)
        assertEquals(listOf("kind", "meal", "happened"), presenter.fill(mapOf("kind" to "meal")).form!!.fields.map { it.id })
        val other = presenter.fill(mapOf("kind" to "rescue", "meal" to "60"))
        assertEquals("", other.field("rescue").value)
        // A reading that comes meanwhile takes nothing away.
        assertEquals(other.form, presenter.refresh().form)
        assertEquals("60", presenter.fill(mapOf("kind" to "meal")).field("meal").value)
        assertNull(presenter.list().form)
        assertEquals(first, presenter.open().form)
    }

    @Test
    fun aDoseThatCannotBeRightIsKeptAndAskedBack() = World().use { world ->
        val presenter = Logging(world)
        val done = presenter.add("rapid", "rapid" to "60").noted!!
        assertTrue(done.text, "60 units" in done.text && "put it right" in done.text)
        assertNotNull(done.undo)
        presenter.undo()
        world.now = world.now.copy(unixMs = world.now.unixMs + 60_000)
        assertTrue("put it right" !in presenter.add("rapid", "rapid" to "4").noted!!.text)
    }

    @Test
    fun anEntryIsPutRightAtItsOwnTime() = World(language = "de").use { world ->
        val presenter = Logging(world)
        presenter.add("rapid", "rapid" to "4,5")
        world.now = world.now.copy(unixMs = world.now.unixMs + 600_000)
        fun rows() = presenter.refresh().rows()
        val (wrong, before) = Pair(rows().first(), rows().size)
        val righting = presenter.open(wrong.entry.id)
        assertEquals("4,5" to wrong.entry.text, righting.field("rapid").value to righting.form!!.heading)
        val slip = presenter.keep(mapOf("rapid" to "viel")).field("rapid")
        assertTrue(slip.value == "viel" && slip.advice!!.startsWith("Schnelles Insulin"))
        val kept = presenter.keep(mapOf("rapid" to "5,5"))
        assertNull(kept.form)
        assertTrue(kept.noted!!.text, kept.noted!!.text.contains("5,5"))
        assertEquals(before, rows().size)
        assertEquals(wrong.clock, rows().first { "5,5" in it.entry.text }.clock)
        // Leaving it, or keeping it untouched, changes nothing.
        val again = rows().first { "5,5" in it.entry.text }
        presenter.open(again.entry.id)
        assertEquals(Noted("Es wurde nichts geändert.", undo = null), presenter.keep(mapOf("rapid" to "5,5")).noted)
        presenter.open(again.entry.id)
        assertNull(presenter.list().form)
        assertEquals(again, rows().first { "5,5" in it.entry.text })
    }

    /** Octets as the Bluetooth SIG lays them out: a reading of 120 mg/dL at minute 5, then the session's start at 10:15. */
    @Test
    fun whatADeviceNearbySendsIsKeptAndWhatCannotBeReadIsRemarkedOn() = World().use { world ->
        fun octets(vararg all: Int) = ByteArray(all.size) { all[it].toByte() }
        val source = object : Source {
            override fun begin(got: (characteristic: Int, value: ByteArray) -> Unit) {
                got(0x2AA7, octets(0x06, 0x00, 0x78, 0x00, 0x05, 0x00))
                got(0x2AAA, octets(0xEA, 0x07, 3, 1, 10, 15, 0, 4, 0))
                got(0x2AA7, octets(0x06, 0x00))
                got(0x2A52, octets(6, 0, 1, 1))
            }

            override fun end() = Unit
        }
        val offsets = offsetsOf(ZoneId.of("Europe/Berlin"), Instant.parse("2026-03-01T00:00:00Z"))
        val intake = Intake(world.companion, world.clock, { offsets })
        val device = intake.device("sensor 9")
        assertEquals("all of them before the session is known", listOf<Byte>(1, 1), intake.records(device).toList())
        val remarks = mutableListOf<String>()
        var kept = 0
        val began = mutableListOf<Moment>()
        intake.follow(source, device, { kept++ }, { began += it }) { remarks.addAll(it) }
        assertEquals("alerts are asked after every value", 4, kept)
        assertEquals(listOf("10:15"), began.map { world.companion.words().clock(it) })
        assertTrue("$remarks", remarks.any { it.isNotBlank() })
        val from = world.now.copy(unixMs = world.now.unixMs - 6 * 3_600_000)
        val first = world.companion.log().list(from, world.now, false, true).first()
        assertEquals("10:20", first.clock)
        // Its own newest is of minute 5; the log has later ones of another sensor. SIG's Record Access Control Point: operator 3, filter 1.
        assertEquals(listOf<Byte>(1, 3, 1, 5, 0), intake.records(device).toList())
        assertEquals(EntryKind.SensorReading(120.0), first.entry.what)
        val screen = Logging(world).received(remarks)
        assertEquals(remarks.joinToString("\n"), screen.noted!!.text)
    }

    @Test
    fun aSensorIsNotedWithItsSiteAndWhatWasWrongWithIt() = World().use { world ->
        val presenter = Logging(world)
        presenter.add("sensor", "sensor" to "inserted", "site" to "left arm", "lot" to "A7")
        val fault = presenter.add("sensor", "sensor" to "fault", "seen" to "bled")
        assertTrue(fault.noted!!.text, "bled" in fault.noted!!.text)
        presenter.add("sensor", "sensor" to "ended")
        val rows = presenter.list().rows()
        val site = presenter.open(rows.first { "left arm" in it.entry.text }.entry.id)
        assertEquals("left arm" to "A7", site.field("site").value to site.field("lot").value)
        val moved = presenter.keep(mapOf("site" to "right arm")).noted!!.text
        assertTrue(moved, "right arm" in moved && "A7" in moved)
        presenter.read("week.csv", "time;glucose mg/dL\n2026-02-28 12:00;104\n".toByteArray(), offsetsOf(ZoneId.of("Europe/Berlin"), Instant.parse("2026-03-01T00:00:00Z")))
        assertEquals("a file that came in can only be taken back", 1, presenter.list().rows().count { !it.hasForm })
    }

    @Test
    fun aBundleIsReadOrRefusedWithItsLine() = World().use { world ->
        val presenter = Logging(world)
        val refused = presenter.read("x.json", " {\"resourceType\": \"Bundle\", ".toByteArray(), emptyList()).noted!!.text
        assertTrue(refused, "x.json" in refused)
        val bundle = """
            {"resourceType": "Bundle", "type": "collection", "entry": [{"resource": {
              "resourceType": "Observation", "status": "final",
              "code": {"coding": [{"system": "http://loinc.org", "code": "99504-3"}]},
              "effectiveDateTime": "2026-03-01T09:00:00+01:00",
              "valueQuantity": {"value": 111, "unit": "mg/dL", "system": "http://unitsofmeasure.org", "code": "mg/dL"}}}]}
        """
        val read = presenter.read("week.json", bundle.toByteArray(), emptyList()).noted!!.text
        assertTrue(read, read.startsWith("1 new entry"))
    }

    @Test
    fun aFileIsReadInTheWearersZone() = World().use { world ->
        val text = "time;glucose mg/dL\n2026-02-28 12:00;104\n2026-02-28 12:05;low\n".toByteArray()
        val offsets = offsetsOf(ZoneId.of("Europe/Berlin"), Instant.parse("2026-03-01T00:00:00Z"))
        val message = Logging(world).read("week.csv", text, offsets).noted!!.text
        assertTrue(message, message.startsWith("2 new readings"))
        val refused = Logging(world).read("x.csv", "nothing".toByteArray(), offsets).noted!!.text
        assertTrue(refused, "x.csv" in refused)
    }

    @Test
    fun settingsShownInAnotherUnitDoNotMoveALine() = World().use { world ->
        val settings = world.companion.settings()
        fun save(filled: Map<String, String>) = settings.keep(filled, world.now)
        fun shown(id: String) = settings.form(emptyMap()).fields.first { it.id == id }.value
        assertNotNull(save(mapOf("unit" to "mmol_l", "language" to "de")).message)
        assertEquals("3,9", shown("low_line"))
        save(mapOf("low_line" to "3,9", "insulin_factor" to "2,2"))
        assertEquals(70.0, world.companion.settings().wearer().lowLineMgDl, 0.0)
        assertEquals("2,2", shown("insulin_factor"))
        for ((id, wrong) in listOf("low_line" to "2,0", "rated_days" to "10,5", "lead_days" to "-1", "country" to "Germany", "emergency" to "help")) {
            val refused = save(mapOf(id to wrong, "high_line" to "11"))
            assertEquals(listOf(id to wrong), refused.form.fields.filter { it.advice != null }.map { it.id to it.value })
            assertNull(refused.message)
        }
        assertEquals("nothing is kept of a form with a slip", 180.0, world.companion.settings().wearer().highLineMgDl, 0.0)
        save(mapOf("rated_days" to "10", "lead_days" to "14", "night_from" to "22:30", "country" to "gb", "weighing" to "early"))
        val kept = world.companion.settings().wearer()
        assertEquals(listOf<UShort?>(10u, 14u, 1350u), listOf(kept.sensorRatedDays, kept.reorderLeadDays, kept.nightFromMinute))
        assertEquals(listOf("GB", TreatPreference.EARLY, null), listOf(kept.country, kept.weighing, kept.morningMinute))
        save(mapOf("rated_days" to "", "morning" to "06:15"))
        world.companion.settings().wearer().run { assertEquals(null to 375.toUShort(), sensorRatedDays to morningMinute) }
    }

    @Test
    fun aheadOfSleepTheAnswerIsThereAtOnceAndADriveIsAskedForItsLength() = World(language = "de", unit = GlucoseUnit.MMOL_L).use { world ->
        var filled = emptyMap<String, String>()
        fun ask(more: Map<String, String>): FormAnswer {
            filled = filled + more
            return world.companion.before().asked(filled, world.now)
        }
        fun FormAnswer.field(id: String) = form.fields.first { it.id == id }
        val sleep = ask(emptyMap())
        assertEquals(world.companion.before().sleep(world.now, null, null), sleep.page)
        assertEquals("07:00", sleep.field("until").value)
        assertNull(ask(mapOf("what" to "driving")).page)
        for (slip in listOf("0", "1441", "-5", "lange")) {
            val refused = ask(mapOf("minutes" to slip))
            assertNull(refused.page)
            assertTrue(slip, refused.field("minutes").run { value == slip && advice!!.isNotBlank() })
        }
        assertNotNull(ask(mapOf("minutes" to "90")).page)
        val moving = ask(mapOf("what" to "activity", "kind" to "strength", "ketones" to "0,4"))
        assertTrue(moving.page!!.sections.any { it.heading.orEmpty().startsWith("Kraft") && "90" in it.heading!! })
        world.now = world.now.copy(unixMs = world.now.unixMs + 90 * 60_000)
        filled = emptyMap()
        val old = ask(emptyMap()).page!!
        assertTrue("$old", "keine Wahrscheinlichkeit" in "$old")
    }

    /** The clock stands at 14:01: what happened later than now was yesterday. */
    @Test
    fun whatHappenedEarlierIsNotedAtItsTime() = World().use { world ->
        val presenter = Logging(world)
        presenter.open()
        assertEquals("14:01", presenter.fill(mapOf("kind" to "rapid")).field("happened").value)
        fun rows() = presenter.refresh().days.flatMap { day -> day.entries.map { "${day.day} ${it.clock} ${it.entry.text}" } }
        presenter.add("rapid", "rapid" to "4", "happened" to "12:30")
        assertTrue("${rows()}", rows().any { it.startsWith("Sunday, 1 Mar 2026 12:30") && "4 " in it })
        presenter.add("rapid", "rapid" to "3", "happened" to "22:00")
        assertTrue("${rows()}", rows().any { it.startsWith("Saturday, 28 Feb 2026 22:00") })
        // What could not be kept does not take back the time that was picked.
        assertEquals("10:00", presenter.add("meal", "meal" to "much", "happened" to "10:00").field("happened").value)
        presenter.keep(mapOf("meal" to "30"))
        assertTrue("${rows()}", rows().any { it.startsWith("Sunday, 1 Mar 2026 10:00") })

        val wrong = presenter.refresh().days.last().entries.last()
        assertEquals("22:00", presenter.open(wrong.entry.id).field("happened").value)
        assertNotNull(presenter.keep(mapOf("happened" to "21:45")).noted)
        assertTrue("${rows()}", rows().any { it.startsWith("Saturday, 28 Feb 2026 21:45") } && rows().none { "2026 22:00" in it })
    }

    /** An invented health store: what it holds, then what is wrong. */
    private class Script(private val trouble: Label? = null, private vararg val pages: List<HealthValue>) : HealthStore {
        val asked = mutableListOf<Moment>()
        override fun read(since: Moment, got: (List<HealthValue>) -> Unit, done: (trouble: Label?) -> Unit) {
            asked += since
            pages.forEach(got)
            done(trouble)
        }
    }

    private fun World.value(minutesAgo: Int, mmolL: Double, specimen: Specimen, typed: Boolean = false) =
        HealthValue(Moment(now.unixMs - minutesAgo * 60_000L, 60), mmolL, GlucoseUnit.MMOL_L, specimen, typed, false)

    @Test
    fun theHealthStoresValuesAreKeptOnceByTheirKindAndGapsAreFilled() = World(readings = false).use { world ->
        val intake = Intake(world.companion, world.clock)
        val store = Script(
            null, listOf(world.value(12, 6.1, Specimen.INTERSTITIAL_FLUID), world.value(11, 5.0, Specimen.BLOOD)),
            listOf(world.value(7, 5.5, Specimen.UNKNOWN, typed = true), world.value(2, 6.0, Specimen.UNKNOWN), world.value(1, 0.0, Specimen.BLOOD)),
        )
        val (shown, ends) = mutableListOf<String>() to AtomicInteger()
        repeat(2) { intake.read(store, { ends.incrementAndGet() }) { shown += it } }
        val kept = world.companion.log().list(world.now.copy(unixMs = world.now.unixMs - 3_600_000), world.now, false, true).map { it.entry }
        assertEquals(
            listOf(EntryKind.SensorReading::class, EntryKind.MeterCheck::class, EntryKind.MeterCheck::class, EntryKind.SensorReading::class),
            kept.map { it.what::class },
        )
        assertEquals(setOf("health records"), kept.map { it.source }.toSet())
        // Said once, though read twice.
        assertEquals(2, shown.size)
        assertTrue(shown.toString(), shown[0].contains("kept as a sensor's reading") && shown[1].contains("not in the log"))
        val day = 1440 * 60_000L
        assertEquals(listOf(30 * day, day + 2 * 60_000L), store.asked.map { world.now.unixMs - it.unixMs })
        assertEquals(2, ends.get())
    }

    @Test
    fun whyTheHealthStoreCannotBeReadIsSaidInCoresWords() = World(readings = false).use { world ->
        val intake = Intake(world.companion, world.clock)
        val troubles = listOf(Label.HEALTH_REFUSED, Label.HEALTH_MISSING, Label.HEALTH_BUSY, Label.HEALTH_FAILED)
        val shown = mutableListOf<String>()
        for (trouble in troubles) intake.read(Script(trouble)) { shown += it }
        assertEquals(troubles.map { world.companion.words().label(it) }, shown)
        assertEquals(4, shown.toSet().size)
        world.companion.closeLog()
        intake.read(Script(null, listOf(world.value(1, 6.0, Specimen.BLOOD)))) { shown += it }
        assertEquals(5, shown.size)
    }

    @Test
    fun whatASourceRemarksIsShownWhereTheWearerIs() = World(set = false).use { world ->
        val first = Stage(world).shell
        first.received(listOf("of the first start"))
        first.firstNext(0u, emptyMap())
        first.firstNext(1u, mapOf("unit" to "mg_dl"))
        assertEquals(2u to listOf("of the first start"), (first.face as Face.First).run { screen.step to said })
        first.go(Place.NOW)
        first.received(listOf("kept for later"))
        first.go(Place.LOG)
        assertEquals("kept for later", (first.face as Face.Log).screen.noted?.text)
        first.go(Place.LOG)
        assertNull((first.face as Face.Log).screen.noted)
    }

    @Test
    fun whatASensorSaidWhileTheAppWasClosedIsShownAndItsSessionOfferedUntilItIsNoted() = World().use { world ->
        val stage = Stage(world)
        stage.phone.unseen = "battery low"
        stage.phone.began = world.now.copy(unixMs = world.now.unixMs - 3_600_000)
        stage.shell.go(Place.LOG)
        val screen = (stage.shell.face as Face.Log).screen
        assertEquals("battery low" to null, screen.noted?.text to stage.phone.unseen)
        assertNotNull(screen.inserted)
        stage.shell.log(LogTap.Inserted)
        assertNull((stage.shell.face as Face.Log).screen.inserted)
        assertNull(stage.phone.began)
    }

    @Test
    fun whatRingsStopsWithAnAnswerOnTheScreenAndNotBecauseSomethingChanged() = World(night = true).use { world ->
        val stage = Stage(world, at = Opens.RANG)
        assertTrue((stage.shell.face as Face.Now).screen.atNight)
        world.companion.log().recordReadings("sensor 7", listOf(ReadingAt(world.now, 60.0)), world.now)
        stage.shell.minute()
        assertEquals(0, stage.phone.quiet)
        stage.shell.tap(PromptTap.Treated)
        assertEquals(1, stage.phone.quiet)
        stage.shell.metered("62")
        assertEquals(2, stage.phone.quiet)
    }

    /** An hour later the same reading is old, though nothing happened. */
    @Test
    fun whatIsShownGrowsOldByTheMinute() = World().use { world ->
        val stage = Stage(world)
        fun headline() = (stage.shell.face as Face.Now).screen.headline
        val before = headline()
        world.now = world.now.copy(unixMs = world.now.unixMs + 60 * 60_000L)
        stage.shell.minute()
        assertTrue("$before ${headline()}", headline().verdict == Verdict.CHECK && headline().accessory != before.accessory)
    }

    /** A ring of the night wakes for a quarter of an hour; the way back holds until the app comes to the front. */
    @Test
    fun theNightOpensByItselfAndCanBeLeft() = World(night = true).use { world ->
        val stage = Stage(world)
        fun screen() = (stage.shell.face as Face.Now).screen
        assertTrue(screen().atNight && screen().state.woken == null)
        stage.shell.back()
        stage.shell.minute()
        stage.shell.go(Place.LOG)
        stage.shell.go(Place.NOW)
        assertTrue(!screen().atNight)
        stage.shell.left()
        assertTrue(stage.shell.face is Face.Opening && !stage.shell.face.isDark)
        stage.shell.toFront()
        assertTrue(screen().atNight)
        stage.phone.alerts = world.companion.alerts().step(null, world.now).state
        stage.shell.open(Opens.RANG)
        assertEquals(world.now, screen().state.woken)
    }

    @Test
    fun whatComesLateDoesNotTakeThePlaceOfAnotherScreen() = World().use { world ->
        val waiting = ArrayDeque<Runnable>()
        val shell = Shell(world.log.path, "en", world.clock, { waiting.add(it) }, NotedPhone(), NotedPhone(), world.passing)
        fun work() { while (waiting.isNotEmpty()) waiting.removeFirst().run() }
        shell.open()
        work()
        shell.minute()
        shell.tap(PromptTap.Treated)
        shell.go(Place.SETTINGS)
        shell.minute()
        work()
        assertTrue("${shell.face}", shell.face is Face.Settings && shell.frame.place == Place.SETTINGS)
        assertEquals("what was tapped is kept", 1, world.companion.log().list(world.now, world.now, false, false).size)
        shell.close()
        work()
    }

    /** Half asleep one taps twice, and both taps wait in line. */
    @Test
    fun twoTapsInARowAreOne() = World(set = false).use { world ->
        val first = Stage(world).shell
        repeat(2) { first.firstNext(0u, emptyMap()) }
        assertEquals(1u, (first.face as Face.First).screen.step)
        repeat(2) { first.firstNext(1u, mapOf("unit" to "mg_dl")) }
        assertEquals(2u, (first.face as Face.First).screen.step)
        assertTrue(first.canGoBack)
        first.back()
        assertEquals("a wrong unit is put right where it was asked for", 1u, (first.face as Face.First).screen.step)
        first.firstNext(1u, mapOf("unit" to "mg_dl"))
        first.go(Place.NOW)
        world.companion.log().record(EntryKind.Carbohydrate(40.0, Purpose.MEAL), world.now.copy(unixMs = world.now.unixMs - 60_000), world.now)
        first.tap(PromptTap.Treated)
        repeat(2) { first.tap(PromptTap.Undo) }
        val kept = world.companion.log().list(world.now.copy(unixMs = world.now.unixMs - 120_000), world.now, false, false)
        assertEquals(listOf(EntryKind.Carbohydrate(40.0, Purpose.MEAL)), kept.map { it.entry.what })
    }

    /** What rang is not answered by what was shown in the evening, nor by whom to call, left open then. */
    @Test
    fun whatWasShownBeforeIsNotWhatARingOpens() = World(night = true).use { world ->
        val waiting = ArrayDeque<Runnable>()
        val shell = Shell(world.log.path, "en", world.clock, { waiting.add(it) }, NotedPhone(), NotedPhone(), world.passing)
        fun work() { while (waiting.isNotEmpty()) waiting.removeFirst().run() }
        shell.open()
        work()
        shell.help()
        shell.open(Opens.RANG)
        assertTrue("${shell.face}", shell.face is Face.Opening && shell.face.isDark && shell.help == null)
        work()
        assertTrue(shell.face is Face.Now)
        shell.left()
        shell.toFront()
        work()
        assertTrue(shell.face is Face.Now)
        shell.open(Opens.METER)
        shell.toFront()
        work()
        assertNotNull("what was asked stays", (shell.face as Face.Now).screen.state.meter)
        shell.close()
        work()
    }

    @Test
    fun noPromptWaitsForTheRecordAndItTakesNoOtherScreen() = World(days = 2).use { world ->
        val waiting = ArrayDeque<Runnable>()
        val phone = NotedPhone()
        val shell = Shell(world.log.path, "en", world.clock, { it.run() }, phone, phone, world.passing) { waiting.add(it) }
        fun work() { while (waiting.isNotEmpty()) waiting.removeFirst().run() }
        shell.open()
        shell.go(Place.RECORD)
        // Until the page is there no prompt stands under its tab: its buttons would act elsewhere.
        assertTrue("${shell.face}", shell.face is Face.Opening && !shell.face.isDark)
        shell.go(Place.NOW)
        shell.tap(PromptTap.Treated)
        assertNotNull((shell.face as Face.Now).screen.state.noted)
        work()
        shell.say("not written: no room")
        work()
        assertTrue("${shell.face}", shell.face is Face.Now)
        shell.go(Place.LOG)
        assertEquals("not written: no room", (shell.face as Face.Log).screen.noted?.text)
        shell.lookInto(world.log, "log.ebb")
        work()
        assertTrue("${shell.face}", shell.face is Face.Record && shell.frame.place == Place.RECORD)
        shell.close()
    }

    /** An answer asked ahead is as old as a prompt would be. */
    @Test
    fun whatWasAskedAheadGrowsOldByTheMinute() = World().use { world ->
        val stage = Stage(world)
        stage.shell.tap(PromptTap.Before)
        fun page() = (stage.shell.face as Face.Before).answer.page
        val before = page()
        world.now = world.now.copy(unixMs = world.now.unixMs + 120 * 60_000L)
        stage.shell.minute()
        assertTrue("${page()}", page() != before)
    }

    /** An app that is ended before the notification stands rings once more. */
    @Test
    fun aStateIsKeptOnceItHasRung() = World(night = true).use { world ->
        val phone = NotedPhone()
        val ringing = Ringing(world.companion, world.clock, phone)
        try {
            ringing.step { throw IllegalStateException("ended") }
        } catch (_: IllegalStateException) {
        }
        assertNull(phone.alerts)
        var rang = false
        ringing.step { rang = it.ring != null }
        assertTrue(rang && phone.alerts != null)
    }

    /** The service and an answer from the lock screen work side by side. */
    @Test
    fun oneAlertStepBeginsWhereTheLastOneEnded() = World().use { world ->
        val (inside, most) = AtomicInteger() to AtomicInteger()
        val kept = object : KeptState by NotedPhone() {
            @Volatile
            private var state: String? = null
            override var alerts: String?
                get() {
                    most.accumulateAndGet(inside.incrementAndGet(), ::maxOf)
                    Thread.sleep(10)
                    return state
                }
                set(next) {
                    state = next
                    inside.decrementAndGet()
                }
        }
        val threads = listOf<(Ringing) -> Unit>({ it.step { } }, { it.answer(RingChoice.SNOOZE, world.now) }).map { one ->
            thread { repeat(10) { one(Ringing(world.companion, world.clock, kept)) } }
        }
        threads.forEach { it.join() }
        assertEquals(1, most.get())
    }

    @Test
    fun alertsThatCannotRingAreSaidOnNow() = World().use { world ->
        fun notices(shell: Shell) = (shell.face as Face.Now).screen.parts.filterIsInstance<PromptPart.Notice>().map { it.text }
        val phone = NotedPhone().apply { isMuted = true }
        val shell = Stage(world, phone).shell
        assertEquals(listOf(world.companion.words().label(Label.ALERTS_OFF)), notices(shell))
        val allows = (shell.face as Face.Now).screen.parts.filterIsInstance<PromptPart.Press>().first().button
        shell.tap(allows.tap)
        assertEquals(1, phone.allowed)
        shell.alertsOff(false)
        assertEquals(emptyList<String>(), notices(shell))
    }
}
