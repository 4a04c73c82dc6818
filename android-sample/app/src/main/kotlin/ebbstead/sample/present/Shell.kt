package ebbstead.sample.present

import androidx.compose.runtime.getValue
import androidx.compose.runtime.mutableStateOf
import androidx.compose.runtime.setValue
import ebbstead.ApiException
import ebbstead.Chapter
import ebbstead.Due
import ebbstead.EbbsteadCompanion
import ebbstead.FirstAsk
import ebbstead.FirstScreen
import ebbstead.FirstScreens
import ebbstead.HelpPage
import ebbstead.Label
import ebbstead.Moment
import ebbstead.PromptScreen
import ebbstead.PromptScreens
import ebbstead.PromptState
import ebbstead.PromptTap
import ebbstead.RecordAct
import ebbstead.RecordDocument
import ebbstead.RecordPages
import ebbstead.RecordScreen
import ebbstead.Watcher
import ebbstead.helpPage
import ebbstead.sample.source.Intake
import ebbstead.sample.source.offsetsOfThisPhone
import java.io.File
import java.util.concurrent.Executor

/** The screens that a tab leads to. */
enum class Place(val label: Label) {
    NOW(Label.SCREEN_NOW), LOG(Label.SCREEN_LOG), RECORD(Label.SCREEN_RECORD), SETTINGS(Label.SCREEN_SETTINGS)
}

/** What an opened app begins with: where it was left, or what a notification leads to. */
enum class Opens { WHERE_IT_WAS, WOKEN, METER, HELP }

/** What a file is picked for. */
enum class Pick { READ_IN, LOOK_INTO }

/** What only the phone can do. Called on any thread. */
interface Phone {
    fun dial(number: String)
    fun pickFile(why: Pick)
    fun findSensor()

    /** Asks whether the health store may be read, and reads it from then on. */
    fun readHealth()

    /** Asks whether notifications may be shown, so that alerts can wake. */
    fun allowAlerts()

    /** Lets the wearer choose where a document goes, and deletes it once it is there. */
    fun handOver(document: RecordDocument)

    /** The log holds something else than before: whoever rings should look. */
    fun logChanged()

    /** Numbers to dial, kept beside the log for the day it cannot be opened: emergency, contact. */
    var numbers: Pair<String?, String?>
}

/** What is on the screen. */
sealed interface Face {
    data class Now(val screen: PromptScreen) : Face
    data class Night(val screen: PromptScreen) : Face
    data class Log(val screen: LogScreen) : Face
    data class Record(val screen: RecordScreen) : Face
    data class Settings(val screen: SettingsScreen) : Face

    /** What is asked ahead; in the dark where it was opened from the night. */
    data class Before(val screen: BeforeScreen, val atNight: Boolean) : Face

    /** A step of the first start, what was filled in there, and what a source remarked. */
    data class First(val screen: FirstScreen, val filled: Map<String, String>, val said: List<String>) : Face
    data class Trouble(val advice: String, val again: String) : Face
    data object Opening : Face
}

/** What is wrong with the log, and where a copy of it is made. */
data class Damage(val text: String, val copies: String)

/** The frame around every screen. */
data class Frame(
    val tabs: List<Pair<Place, String>>, val place: Place, val help: String, val damage: Damage? = null,
    /** Where the language is a draft: what it says of itself, above every screen. */
    val draft: String? = null,
)

/** Owns the open log and what is on the screen; runs presenters one after the other on `work`. It decides nothing. */
class Shell(
    private val path: String,
    private val language: String,
    private val clock: Clock,
    private val work: Executor,
    private val phone: Phone,
    private val passing: File,
) {
    private inner class Desk(val companion: EbbsteadCompanion) {
        val now = companion.promptScreens(false)
        val night = companion.promptScreens(true)
        val log = LogPresenter(companion, clock)
        val record = companion.recordPages(passing.path)
        val settings = SettingsPresenter(companion, clock)
        val before = BeforePresenter(companion, clock)
        val first = companion.firstScreens(true)
        val intake = Intake(companion, clock, offsetsOfThisPhone())
    }

    @Volatile
    private var desk: Desk? = null

    /** What the screen with the prompt goes on from. */
    private var state = PromptState(null, null)
    private var place = Place.NOW

    /** What was remarked while another screen was open. */
    private var unshown = emptyList<String>()

    /** Over every screen while it is open: it must not wait for a log. */
    var help: HelpPage? by mutableStateOf(null)
        private set
    var face: Face by mutableStateOf(Face.Opening)
        private set
    var frame: Frame by mutableStateOf(Frame(emptyList(), Place.NOW, helpPage(language, null, null).heading))
        private set

    /** Opens the log, or says why it cannot be. */
    fun open(at: Opens = Opens.WHERE_IT_WAS) = work.execute {
        // Whom to call must not wait for the log.
        if (at == Opens.HELP) help()
        try {
            val companion = desk?.companion ?: EbbsteadCompanion.open(path, language, clock.now())
            if (desk == null) {
                desk = Desk(companion)
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
                at == Opens.WOKEN || at == Opens.HELP -> prompt(atNight = true, PromptTap.Look)
                at == Opens.METER -> prompt(atNight = true, PromptTap.AskMeter)
                else -> go(place)
            }
        } catch (refused: ApiException) {
            face = Face.Trouble(refused.advice(), helpPage(language, null, null).back)
        }
    }

    /** Lets go of the log. */
    fun close() = work.execute {
        desk?.let {
            it.companion.closeLog()
            it.companion.close()
        }
        desk = null
    }

    /** Once a minute while the app is in front. */
    fun minute() = work.execute { tried { desk?.companion?.tick(clock.now()) } }

    private fun named() = tried {
        val companion = desk?.companion ?: return@tried
        val words = companion.words()
        val damage = companion.damage()?.let { Damage(it, words.label(Label.SCREEN_COPIES)) }
        frame = Frame(Place.entries.map { it to words.label(it.label) }, place, words.label(Label.GET_HELP), damage, words.draft())
        companion.settings().wearer().let { phone.numbers = it.emergencyNumber to it.contactNumber }
    }

    fun help() {
        val (emergency, contact) = phone.numbers
        val spoken = tried { desk?.companion?.settings()?.wearer()?.language } ?: language
        help = tried { helpPage(spoken, emergency, contact) }
    }

    /** A short text of core's; none where the log is closed. */
    fun word(label: Label): String = tried { desk?.companion?.words()?.label(label) }.orEmpty()

    fun leaveHelp() {
        help = null
    }

    fun dial(number: String) = phone.dial(number)

    fun pickFile(why: Pick) = phone.pickFile(why)

    fun findSensor() = phone.findSensor()

    fun readHealth() = phone.readHealth()

    fun allowAlerts() = phone.allowAlerts()

    fun go(to: Place) {
        place = to
        frame = frame.copy(place = to)
        when (to) {
            Place.NOW -> prompt(atNight = false, PromptTap.Look)
            Place.LOG -> log { log -> if (unshown.isEmpty()) log.list() else log.received(unshown).also { unshown = emptyList() } }
            Place.RECORD -> record { pages, now -> pages.show(now) }
            Place.SETTINGS -> settings { it.show() }
        }
    }

    /** Something changed by itself. What is being filled in stays until it is kept. */
    private fun lookAgain() = when (face) {
        is Face.Now -> prompt(atNight = false, PromptTap.Refresh)
        is Face.Night -> prompt(atNight = true, PromptTap.Refresh)
        is Face.Log -> log { it.refresh() }
        is Face.Before -> before { it.refresh() }
        else -> Unit
    }

    /** What was tapped on the screen with the prompt. */
    fun tap(tap: PromptTap) = when (tap) {
        is PromptTap.Help -> help()
        is PromptTap.Before -> openBefore()
        else -> prompt(face is Face.Night, tap)
    }

    /** What the meter shows, as typed. */
    fun metered(typed: String) = prompt(face is Face.Night) { it.metered(typed, clock.now()) }

    private fun prompt(atNight: Boolean, tap: PromptTap) = prompt(atNight) { it.tapped(tap, state, clock.now()) }

    private fun prompt(atNight: Boolean, ask: (PromptScreens) -> PromptScreen) =
        ask({ shown { ask(if (atNight) it.night else it.now) } }) { screen ->
            state = screen.state
            if (atNight) Face.Night(screen) else Face.Now(screen)
        }

    fun log(ask: (LogPresenter) -> Shown<LogScreen>) = ask({ ask(it.log) }) { Face.Log(it) }
    fun settings(ask: (SettingsPresenter) -> Shown<SettingsScreen>) = ask({ ask(it.settings) }) { Face.Settings(it) }
    fun before(ask: (BeforePresenter) -> Shown<BeforeScreen>) {
        val atNight = face.let { it is Face.Night || it is Face.Before && it.atNight }
        ask({ ask(it.before) }) { Face.Before(it, atNight) }
    }
    /** A step of the first start with what was filled in, once a choice was made. */
    fun firstFilled(filled: Map<String, String>) = first(filled) { it.step(firstStep, filled) }

    /** Keeps what was filled in, and goes on. */
    fun firstNext(filled: Map<String, String>) = first(filled) { it.next(firstStep, filled, clock.now()) }

    private val firstStep: UInt get() = (face as? Face.First)?.screen?.step ?: 0u

    private fun first(filled: Map<String, String> = emptyMap(), ask: (FirstScreens) -> FirstScreen) = ask({ shown { ask(it.first) } }) { screen ->
        val before = face as? Face.First
        val stays = before?.screen?.step == screen.step
        Face.First(screen, if (stays) filled else emptyMap(), before?.said.orEmpty())
    }

    fun firstAsks(ask: FirstAsk) = when (ask) {
        FirstAsk.FIND_SENSOR -> findSensor()
        FirstAsk.READ_HEALTH -> readHealth()
        FirstAsk.READ_FILE -> pickFile(Pick.READ_IN)
        FirstAsk.ALLOW_ALERTS -> allowAlerts()
    }

    fun record(ask: (RecordPages, Moment) -> RecordScreen) = ask({ shown { ask(it.record, clock.now()) } }) { screen ->
        screen.document?.let { phone.handOver(it) }
        Face.Record(screen)
    }

    /** `filled` is what was touched, and what stands in the fields of secrets. */
    fun act(act: RecordAct, filled: Map<String, String>) =
        if (act == RecordAct.CHOOSE_OTHER) phone.pickFile(Pick.LOOK_INTO) else record { pages, now -> pages.act(act, filled, now) }

    fun openBefore() = before { it.open() }

    /** Where a copy of the log is made. */
    fun copies() {
        go(Place.RECORD)
        turnTo(Chapter.COPIES)
    }

    fun turnTo(chapter: Chapter?) = record { pages, now -> pages.turnTo(chapter, emptyMap(), now) }

    /** Another log, or a sealed copy, in a file of the app's own, and what the wearer knows it as. */
    fun lookInto(file: File, name: String) = record { pages, now -> pages.chosen(file.path, name, now) }

    /** Says on the record's page what became of a file. */
    fun say(text: String) = record { pages, now -> pages.say(text, now) }

    /** A picked file of readings: shows what came of it on the log's screen. */
    fun read(name: String, bytes: ByteArray) {
        place = Place.LOG
        frame = frame.copy(place = Place.LOG)
        log { it.read(name, bytes, offsetsOfThisPhone()) }
    }

    /** What a source remarked, or why it cannot be read: on the log's screen once that is open, or in the first start. */
    fun received(remarks: List<String>) {
        when (val face = face) {
            is Face.Log -> log { it.received(remarks) }
            is Face.First -> this.face = face.copy(said = remarks)
            else -> unshown = remarks
        }
    }

    /** Runs `use` with what carries a device's bytes into the log. */
    fun intake(use: (Intake) -> Unit) = work.execute { desk?.let { use(it.intake) } }

    /** Whether there is a way back from here, inside the app. */
    val canGoBack: Boolean get() = help != null || face is Face.Night || face is Face.Before || frame.place != Place.NOW

    fun back() {
        val face = face
        when {
            help != null -> leaveHelp()
            face is Face.Record && face.screen.chapter != null -> turnTo(null)
            face is Face.Before && face.atNight -> prompt(atNight = true, PromptTap.Refresh)
            else -> go(Place.NOW)
        }
    }

    private fun <T> ask(ask: (Desk) -> Shown<T>, face: (T) -> Face) = work.execute {
        val open = desk ?: return@execute
        this.face = when (val answer = ask(open)) {
            is Shown.Screen -> face(answer.content).also { if (frame.damage == null && tried { open.companion.damage() } != null) named() }
            is Shown.Trouble -> Face.Trouble(answer.advice, tried { open.companion.words().label(Label.LOOK_NOW) } ?: "OK")
        }
    }

    private fun <T> tried(work: () -> T): T? = try {
        work()
    } catch (_: ApiException) {
        null
    }
}
