import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.InsulinKind
import ebbstead.Moment
import ebbstead.Purpose
import ebbstead.ReadingAt
import ebbstead.SensorEvent
import ebbstead.EntryKind
import ebbstead.sample.present.Clock
import java.io.File
import java.nio.file.Files

/** An invented wearer: falls for an hour after a meal, or lies on the sensor at night; the clock stands still. */
class World(
    night: Boolean = false,
    unit: GlucoseUnit = GlucoseUnit.MG_DL,
    language: String = "en",
    /** How many days of readings, meals and meter checks there are before. */
    days: Int = 0,
    /** Whether the wearer has set anything. */
    set: Boolean = true,
    readings: Boolean = set,
) : AutoCloseable {
    private val folder: File = Files.createTempDirectory("ebbstead").toFile()
    private val start = if (night) 1_772_326_800_000 else 1_772_359_200_000
    /** Files on their way in or out. */
    val passing = File(folder, "passing")

    private fun at(minutes: Int) = Moment(start + minutes * 60_000L, 60)
    var now = at(181)
    val clock = Clock { now }
    val log = File(folder, "log.ebb")
    val companion = EbbsteadCompanion.open(log.path, "en", now)

    init {
        val settings = companion.settings()
        if (set) settings.setWearer(settings.wearer().copy(unit = unit, language = language), now)
        if (readings) read(night, days)
    }

    /** Puts the wearer's night around the day, or where it was. */
    fun night(now: Boolean) = companion.settings().run {
        val (from, until) = if (now) 0 to 1439 else 1380 to 420
        setWearer(wearer().copy(nightFromMinute = from.toUShort(), nightUntilMinute = until.toUShort()), this@World.now)
    }

    private fun read(night: Boolean, days: Int) {
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
        if (days > 0) before(days)
        if (!night) {
            companion.log().record(EntryKind.Carbohydrate(60.0, Purpose.MEAL), at(65), now)
            companion.log().record(EntryKind.Insulin(InsulinKind.RAPID, 5.0), at(62), now)
            companion.log().record(EntryKind.MeterCheck(101.0), at(150), now)
        }
    }

    /** Invented days: a swing with the hour, a low every other night, two sensors with their sites, two meter checks a day. */
    private fun before(days: Int) {
        val log = companion.log()
        log.recordReadings("sensor 7", (1..days * 288).map { n ->
            val back = n * 5
            val low = if ((back / 1440) % 2 == 0 && back % 1440 in 600..660) 70.0 else 0.0
            val swing = 45 * Math.sin(back / 1440.0 * 6.283) + 7 * Math.sin(back * 0.37)
            ReadingAt(at(-back), Math.round((138 + swing - low) * 10) / 10.0)
        }, now)
        for (day in 0 until days) {
            log.record(EntryKind.Carbohydrate(55.0, Purpose.MEAL), at(-day * 1440 - 300), now)
            log.record(EntryKind.Insulin(InsulinKind.RAPID, 5.0), at(-day * 1440 - 310), now)
            log.record(EntryKind.MeterCheck(140.0), at(-day * 1440 - 720), now)
            log.record(EntryKind.MeterCheck(118.0), at(-day * 1440 - 1380), now)
        }
        for ((day, site) in listOf(days to "left arm", days - 10 to "right arm").filter { it.first > 0 }) {
            log.record(EntryKind.Sensor(SensorEvent.Inserted(site)), at(-day * 1440), now)
        }
    }

    override fun close() {
        companion.closeLog()
        companion.close()
        folder.deleteRecursively()
    }
}
