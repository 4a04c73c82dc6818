import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.InsulinKind
import ebbstead.Language
import ebbstead.Moment
import ebbstead.Purpose
import ebbstead.ReadingAt
import ebbstead.What
import ebbstead.sample.present.Clock
import ebbstead.sample.present.Shown
import java.io.File
import java.nio.file.Files

/** An invented wearer: falls for an hour after a meal, or lies on the sensor at night; the clock stands still. */
class World(night: Boolean = false, unit: GlucoseUnit = GlucoseUnit.MG_DL, language: Language = Language.ENGLISH) : AutoCloseable {
    private val folder: File = Files.createTempDirectory("ebbstead").toFile()
    private val start = if (night) 1_772_326_800_000 else 1_772_359_200_000
    private fun at(minutes: Int) = Moment(start + minutes * 60_000L, 60)
    var now = at(181)
    val clock = Clock { now }
    val companion = EbbsteadCompanion.open(File(folder, "log.ebb").path, Language.ENGLISH, now)

    init {
        val settings = companion.settings()
        settings.setWearer(settings.wearer().copy(unit = unit, language = language), now)
        val readings = (0..36).map { n ->
            val minute = n * 5
            val wobble = 0.8 * Math.sin(minute * 0.9)
            val level = when {
                night && minute < 165 -> 118.0
                night -> 118.0 - (minute - 160) * 3.0
                minute < 60 -> 150.0 + minute * 0.5
                else -> 180.0 - (minute - 60) * 0.75
            }
            ReadingAt(at(minute), Math.round((level + wobble) * 10) / 10.0)
        }
        companion.log().recordReadings("sensor 7", readings, now)
        if (!night) {
            companion.log().record(What.Carbohydrate(60.0, Purpose.MEAL), at(65), now)
            companion.log().record(What.Insulin(InsulinKind.RAPID, 5.0), at(62), now)
            companion.log().record(What.MeterCheck(101.0), at(150), now)
        }
    }

    override fun close() {
        companion.closeLog()
        companion.close()
        folder.deleteRecursively()
    }
}

fun <T> Shown<T>.screen(): T = (this as Shown.Screen).content
