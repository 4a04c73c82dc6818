package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.Label
import ebbstead.languages

/** A step of the first start. */
sealed interface Step {
    /** What this is and is not. */
    data class Standing(val texts: List<String>, val agree: String) : Step

    /** The unit is asked for and never assumed. */
    data class Own(
        val unitName: String, val unit: GlucoseUnit?, val languageName: String, val languages: List<Pair<String, String>>, val language: String,
        val next: String,
    ) : Step

    /** Where readings come from. */
    data class Sources(
        val sensor: String, val sensorWhy: String, val health: String, val healthWhy: String, val file: String, val fileWhy: String,
        /** What came of one that was chosen. */
        val said: List<String>,
        val next: String,
    ) : Step

    /** Whether alerts may wake. */
    data class Wakes(val allow: String, val why: String, val done: String) : Step
}

data class FirstScreen(val title: String, val number: Int, val of: Int, val step: Step)

/** The first start: asks for what must not be assumed, and nothing else. */
class FirstPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var number = 0
    private var unit: GlucoseUnit? = null
    private var said = emptyList<String>()

    fun show(): Shown<FirstScreen> = shown { screen() }

    fun agree(): Shown<FirstScreen> = shown {
        number = 1
        screen()
    }

    fun choose(unit: GlucoseUnit): Shown<FirstScreen> = shown {
        this.unit = unit
        screen()
    }

    /** The language is spoken at once; nothing is kept before the unit is known. */
    fun speak(language: String): Shown<FirstScreen> = shown {
        spoken = language
        screen()
    }

    private var spoken: String = companion.settings().wearer().language

    /** Keeps the unit and the language. */
    fun keep(): Shown<FirstScreen> = shown {
        val unit = unit ?: return@shown screen()
        companion.settings().run { setWearer(wearer().copy(unit = unit, language = spoken), clock.now()) }
        number = 2
        screen()
    }

    /** What a source remarked, or why it cannot be read. */
    fun received(texts: List<String>): Shown<FirstScreen> = shown {
        said = texts
        screen()
    }

    fun sourcesSeen(): Shown<FirstScreen> = shown {
        number = 3
        screen()
    }

    private fun screen(): FirstScreen {
        val words = companion.words()
        fun word(label: Label) = words.label(label)
        val step = when (number) {
            0 -> Step.Standing(listOf(word(Label.FIRST_IS), word(Label.NO_MEDICAL_DEVICE)), word(Label.AGREE))
            1 -> Step.Own(word(Label.UNIT), unit, word(Label.LANGUAGE), languages().map { it.tag to it.name }, spoken, word(Label.NEXT))
            2 -> Step.Sources(
                word(Label.FIND_SENSOR), word(Label.SENSOR_WHY), word(Label.READ_HEALTH), word(Label.HEALTH_WHY), word(Label.READ_FILE),
                word(Label.FILE_WHY), said, word(Label.NEXT),
            )
            else -> Step.Wakes(word(Label.WAKES_ALLOWED), word(Label.WAKES_WHY), word(Label.DONE))
        }
        return FirstScreen(word(if (number == 2) Label.WHERE_FROM else Label.FIRST_TITLE), number + 1, 4, step)
    }
}
