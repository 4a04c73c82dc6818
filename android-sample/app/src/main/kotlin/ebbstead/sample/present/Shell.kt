package ebbstead.sample.present

import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.setValue
import ebbstead.*
import ebbstead.sample.source.Intake
import ebbstead.sample.source.offsetsOfThisPhone
import java.io.File
import java.util.concurrent.Executor

/** The screens that a tab leads to. */
enum class Place(val label: Label) {
    NOW(Label.SCREEN_NOW), LOG(Label.SCREEN_LOG), RECORD(Label.SCREEN_RECORD), SETTINGS(Label.SCREEN_SETTINGS)
}

/** What an opened app begins with: where it was left, what rang, or what an answer on a notification leads to. */
enum class Opens { WHERE_IT_WAS, RANG, METER, HELP }

/** What a file is picked for. */
enum class Pick { READ_IN, LOOK_INTO }

/** What only the phone can do. Called on any thread. */
interface Phone {
    fun dial(number: String)
    fun pickFile(why: Pick)
    fun findSensor()

    /** A source was chosen, or is read no longer. */
    fun sourcesChanged()

    /** Asks whether the health store may be read, and reads it from then on. */
    fun readHealth()

    /** Asks whether notifications may be shown, so that alerts can wake. */
    fun allowAlerts()

    /** Lets the wearer choose where a document goes, and deletes it once it is there. */
    fun handOver(document: RecordDocument)

    /** The log holds something else than before: whoever rings should look. */
    fun logChanged()

    /** The wearer did something on the screen: what rings stops. */
    fun quiet()

    /** Whether the phone lets no alert ring. */
    val isMuted: Boolean
}

/** What is on the screen. */
sealed interface Face {
    data class Now(val screen: PromptScreen) : Face
    data class Log(val screen: LogScreen) : Face
    data class Record(val screen: RecordScreen) : Face
    data class Settings(val form: Form, val message: String?) : Face

    /** What is asked ahead, and what was filled in there; in the dark where it was opened from the night. */
    data class Before(val answer: FormAnswer, val filled: Map<String, String>, val atNight: Boolean) : Face

    /** A step of the first start, what was filled in there, and what a source remarked. */
    data class First(val screen: FirstScreen, val filled: Map<String, String>, val said: List<String>) : Face
    data class Trouble(val advice: String, val again: String, val dark: Boolean) : Face
    data class Opening(val dark: Boolean = false) : Face

    /** Whether it is drawn for the night; what comes between follows what was there. */
    val isDark: Boolean get() = this is Now && screen.atNight || this is Before && atNight || this is Trouble && dark || this is Opening && dark
}

/** The frame around every screen. */
data class Frame(
    val tabs: List<Pair<Place, String>>, val place: Place, val help: String,
    /** What is wrong with the log, and where a copy of it is made. */
    val damage: Noted? = null,
    /** Where the language is a draft: what it says of itself, above every screen. */
    val draft: String? = null,
)

/** Owns the open log and what is on the screen; asks core one thing after the other on `work`. It decides nothing. */
class Shell(
    private val path: String,
    private val language: String,
    private val clock: Clock,
    private val work: Executor,
    private val phone: Phone,
    private val kept: KeptState,
    private val passing: File,
    /** For what goes through weeks of the log: no prompt waits for it. */
    private val long: Executor = work,
) {
    private inner class Desk(val companion: EbbsteadCompanion) {
        val now = companion.promptScreens()
        val log = companion.logScreens(true)
        val record = companion.recordPages(passing.path)
        val first = companion.firstScreens(true)
        val intake = Intake(companion, clock)
    }

    @Volatile
    private var desk: Desk? = null

    /** Whether this thread does what was asked one after the other. */
    private val atWork = ThreadLocal.withInitial { false }

    /** What the screens with the prompt and with the log go on from. */
    private var state = PromptState()
    private var logState = LogState()
    @Volatile
    private var place = Place.NOW

    /** The language of the wearer's settings, once they were read. */
    @Volatile
    private var spoken = language

    /** Over every screen while it is open: it must not wait for a log. */
    var help: HelpPage? by mutableStateOf(null)
        private set
    var face: Face by mutableStateOf(Face.Opening())
        private set
    var frame: Frame by mutableStateOf(Frame(emptyList(), Place.NOW, helpPage(language, null, null).heading))
        private set

    /** Opens the log, or says why it cannot be. */
    fun open(at: Opens = Opens.WHERE_IT_WAS) {
        if (at != Opens.WHERE_IT_WAS) {
            // Until it is answered nothing old is shown; whom to call must not wait for the log.
            face = Face.Opening(at == Opens.RANG)
            if (at == Opens.HELP) help() else help = null
        }
        later { opened(at) }
    }

    private fun opened(at: Opens) {
        try {
            val companion = desk?.companion ?: EbbsteadCompanion.open(path, language, clock.now())
            if (desk == null) {
                desk = Desk(companion)
                companion.alerts().setCanRing(!phone.isMuted)
                companion.watch(object : Watcher {
                    override fun logChanged() {
                        phone.logChanged()
                        lookAgain()
                    }
                    override fun settingsChanged() { named() }
                    override fun promptDue(due: Due) = lookAgain()
                })
            }
            named()
            when {
                !companion.settings().areSet() -> first { it.step(0u, emptyMap()) }
                at == Opens.WHERE_IT_WAS -> go(place)
                else -> {
                    state = PromptState()
                    turn(Place.NOW)
                    prompt(if (at == Opens.METER) PromptTap.AskMeter else PromptTap.Look)
                }
            }
        } catch (refused: ApiException) {
            face = trouble(refused)
        }
    }

    private fun trouble(refused: ApiException) = Face.Trouble(refused.advice(), tried { labelWithoutLog(spoken, Label.LOOK_NOW) }.orEmpty(), face.isDark)

    /** Lets go of the log; a page of the record that is being made says so, and nobody sees it. */
    fun close() = work.execute {
        desk?.companion?.closeLog()
        desk = null
    }

    /** The app is not in front any more. A prompt grows old, and is not what one comes back to: whether it is night is then decided anew. */
    fun left() = later {
        state = PromptState()
        if (face is Face.Now) face = Face.Opening(face.isDark)
    }

    /** The app came to the front. */
    fun toFront() = later {
        alertsOff(phone.isMuted)
        if (face is Face.Opening && desk != null) go(place)
    }

    /** Whether the phone lets no alert ring: the screen says so. */
    fun alertsOff(off: Boolean) = later {
        tried { desk?.companion?.alerts()?.setCanRing(!off) }
        lookAgain()
    }

    /** Once a minute while the app is in front: what is shown grows old. */
    fun minute() = later {
        tried { desk?.companion?.tick(clock.now()) }
        lookAgain()
    }

    private fun named() = tried {
        val companion = desk?.companion ?: return@tried
        val words = companion.words()
        val damage = companion.damage()?.let { Noted(it, words.label(Label.SCREEN_COPIES)) }
        frame = Frame(Place.entries.map { it to words.label(it.label) }, place, words.label(Label.GET_HELP), damage, words.draft())
        companion.settings().wearer().let {
            kept.numbers = it.emergencyNumber to it.contactNumber
            spoken = it.language
        }
    }

    /** From what lies beside the log alone: nothing of it waits or fails. */
    fun help() {
        val (emergency, contact) = kept.numbers
        help = helpPage(spoken, emergency, contact)
    }

    /** A short text of core's; none where the log is closed. */
    fun word(label: Label): String = tried { desk?.companion?.words()?.label(label) }.orEmpty()

    fun dial(number: String) = phone.dial(number)

    private fun turn(to: Place) {
        place = to
        frame = frame.copy(place = to)
    }

    fun go(to: Place) {
        turn(to)
        if (to == Place.RECORD && face !is Face.Record) face = Face.Opening()
        when (to) {
            Place.NOW -> prompt(PromptTap.Look)
            Place.LOG -> log(LogTap.Look)
            Place.RECORD -> record { pages, now -> pages.show(now) }
            Place.SETTINGS -> ask({ it.companion.settings().form(emptyMap()) }) { Face.Settings(it, message = null) }
        }
    }

    /** Something changed by itself. What is being filled in stays until it is kept. */
    private fun lookAgain() = later {
        when (val face = face) {
            is Face.Now -> prompt(PromptTap.Refresh)
            is Face.Log -> log(LogTap.Refresh)
            is Face.Before -> before(face.filled)
            is Face.Trouble -> if (desk != null && place == Place.NOW) prompt(PromptTap.Refresh)
            else -> Unit
        }
    }

    /** What was tapped on the screen with the prompt. */
    fun tap(tap: PromptTap) {
        phone.quiet()
        when (tap) {
            is PromptTap.Help -> help()
            is PromptTap.Before -> before(emptyMap())
            is PromptTap.AllowAlerts -> phone.allowAlerts()
            else -> prompt(tap)
        }
    }

    /** What the meter shows, as typed. */
    fun metered(typed: String) {
        phone.quiet()
        prompt { it.metered(typed, state, clock.now()) }
    }

    private fun prompt(tap: PromptTap) = prompt { it.tapped(tap, state, clock.now()) }

    private fun prompt(ask: (PromptScreens) -> PromptScreen) = ask({
        state = state.copy(alerts = kept.alerts)
        ask(it.now)
    }) { screen ->
        state = screen.state
        Face.Now(screen)
    }

    /** `filled` is what was touched since core laid the form out. */
    fun log(tap: LogTap, filled: Map<String, String> = emptyMap()) {
        if (tap !is LogTap.Refresh) phone.quiet()
        log {
            logState = logState.copy(unseen = remarked(logState.unseen, kept.unseen?.lines().orEmpty()), began = kept.began ?: logState.began)
            it.tapped(tap, filled, logState, clock.now()).also { screen ->
                kept.unseen = null
                kept.began = screen.state.began
            }
        }
    }

    private fun log(ask: (LogScreens) -> LogScreen) = ask({ ask(it.log) }) { screen ->
        logState = screen.state
        Face.Log(screen)
    }

    fun save(filled: Map<String, String>) =
        ask({ it.companion.settings().keep(filled, clock.now()) }) { Face.Settings(it.form, it.message) }

    /** Asks ahead with all that was filled in since it was opened. */
    fun before(filled: Map<String, String>) {
        val atNight = face.isDark
        ask({ it.companion.before().asked(filled, clock.now()) }) { Face.Before(it, filled, atNight) }
    }

    /** A step of the first start with what was filled in, once a choice was made. */
    fun firstFilled(step: UInt, filled: Map<String, String>) = first(filled) { it.step(step, filled) }

    /** Keeps what was filled in, and goes on from the step that was tapped: tapped twice, it goes on once. */
    fun firstNext(step: UInt, filled: Map<String, String>) = first(filled) { it.next(step, filled, clock.now()) }

    private fun first(filled: Map<String, String> = emptyMap(), ask: (FirstScreens) -> FirstScreen) = ask({ ask(it.first) }) { screen ->
        val before = face as? Face.First
        val stays = before?.screen?.step == screen.step
        Face.First(screen, if (stays) filled else emptyMap(), before?.said.orEmpty())
    }

    fun firstAsks(ask: FirstAsk) = when (ask) {
        FirstAsk.FIND_SENSOR -> phone.findSensor()
        FirstAsk.READ_HEALTH -> phone.readHealth()
        FirstAsk.READ_FILE -> phone.pickFile(Pick.READ_IN)
        FirstAsk.ALLOW_ALERTS -> phone.allowAlerts()
    }

    /** What is read of a kind of source, with what became of it, and what leaves it. */
    fun followed(ask: FirstAsk): List<Pair<String, () -> Unit>> = kept.followed(ask).map { one ->
        tried { desk?.companion?.words()?.source(one.name ?: word(Label.READ_HEALTH), one.state, one.heard) }.orEmpty() to {
            one.leave()
            phone.sourcesChanged()
            lookAgain()
        }
    }

    fun record(ask: (RecordPages, Moment) -> RecordScreen) = ask({ ask(it.record, clock.now()) }, Place.RECORD) { screen ->
        screen.document?.let { phone.handOver(it) }
        Face.Record(screen)
    }

    /** `filled` is what was touched, and what stands in the fields of secrets. */
    fun act(act: RecordAct, filled: Map<String, String>) =
        if (act == RecordAct.CHOOSE_OTHER) phone.pickFile(Pick.LOOK_INTO) else record { pages, now -> pages.act(act, filled, now) }

    /** Where a copy of the log is made. */
    fun copies() {
        go(Place.RECORD)
        turnTo(Chapter.COPIES)
    }

    fun turnTo(chapter: Chapter?) = record { pages, now -> pages.turnTo(chapter, emptyMap(), now) }

    /** Another log, or a sealed copy, in a file of the app's own, and what the wearer knows it as. */
    fun lookInto(file: File, name: String) {
        turn(Place.RECORD)
        record { pages, now -> pages.chosen(file.path, name, now) }
    }

    /** Says what became of a file: on the record's page, or on the log's where the wearer has turned to another meanwhile. */
    fun say(text: String) = if (place == Place.RECORD) record { pages, now -> pages.say(text, now) } else received(listOf(text))

    /** A picked file of readings: shows what came of it on the log's screen. */
    fun read(name: String, bytes: ByteArray) {
        turn(Place.LOG)
        log { it.bringIn(name, bytes, offsetsOfThisPhone(), logState, clock.now()) }
    }

    /** What a source remarked, or why it cannot be read: on the log's screen once that is open, or in the first start. */
    fun received(remarks: List<String>) {
        val face = face
        if (face is Face.First) this.face = face.copy(said = (face.said + remarks).distinct()) else later { logState = logState.copy(unseen = remarked(logState.unseen, remarks)) }
        if (face is Face.Log) lookAgain()
    }

    /** Runs `use` with what carries a device's bytes into the log. */
    fun intake(use: (Intake) -> Unit) = later { desk?.let { use(it.intake) } }

    /** Whether there is a way back from here, inside the app. */
    val canGoBack: Boolean get() = help != null || isNight || face is Face.Before || firstBack != null || frame.place != Place.NOW
    private val isNight get() = face is Face.Now && face.isDark
    private val firstBack get() = (face as? Face.First)?.screen?.takeIf { it.back != null }?.step

    fun back() {
        val face = face
        when {
            help != null -> help = null
            face is Face.Record && face.screen.chapter != null -> turnTo(null)
            face is Face.Before && face.atNight -> prompt(PromptTap.Refresh)
            isNight -> prompt(PromptTap.LeaveNight)
            firstBack != null -> firstBack?.let { firstFilled(it - 1u, emptyMap()) }
            else -> go(Place.NOW)
        }
    }

    /** What comes of it is shown, unless the wearer has turned to another place meanwhile. */
    private fun <T> ask(ask: (Desk) -> T, from: Place = place, face: (T) -> Face) {
        val task = {
            desk?.let { open ->
                val next = try {
                    face(ask(open)).also { if (frame.damage == null && tried { open.companion.damage() } != null) named() }
                } catch (refused: ApiException) {
                    trouble(refused)
                }
                if (place == from) this.face = next
            }
            Unit
        }
        if (from == Place.RECORD) long.execute(task) else now(task)
    }

    /** After everything that was asked before. */
    private fun later(task: () -> Unit) = work.execute {
        atWork.set(true)
        try {
            task()
        } finally {
            atWork.set(false)
        }
    }

    /** At once in the midst of what was asked for: nothing comes between what is decided by the screen and the screen. */
    private fun now(task: () -> Unit) = if (atWork.get()) task() else later(task)

    private fun <T> tried(work: () -> T): T? = try {
        work()
    } catch (_: ApiException) {
        null
    }
}
