package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.SensorOptions
import ebbstead.sample.present.Clock
import java.io.File

/** The sensors' record, and the sheet about the newest. */
class SensorsPage(companion: EbbsteadCompanion, clock: Clock, passing: File) :
    RecordPage(companion, clock, passing, usual(companion)) {
    private var sheet: String? = null

    override fun parts(): List<Part> {
        val rated = rated()
        val page = attempt(Ask.DAYS) { Part.Page(companion.sensor().page(SensorOptions(days(Ask.DAYS), rated), now)) }
        return listOf(field(Ask.DAYS), field(Ask.RATED_DAYS), field(Ask.LOT)) + press(Act.SHOW, Act.SENSOR_SHEET) + said() +
            listOfNotNull(sheet?.let { Part.Letter(it) }, page)
    }

    override fun done(act: Act, filled: Filled) {
        sheet = null
        if (act != Act.SENSOR_SHEET) return
        val rated = rated()
        sheet = attempt({ if (it == "text") Ask.LOT else Ask.DAYS }) {
            companion.sensor().sheet(SensorOptions(days(Ask.DAYS), rated), 0u, typed(Ask.LOT).ifBlank { null }, now)
        }
    }

    /** A slip in the rated length must not hide the record: it is said beside its field, and the page does without. */
    private fun rated(): UShort? =
        if (typed(Ask.RATED_DAYS).isBlank()) null else attempt(Ask.RATED_DAYS) { days(Ask.RATED_DAYS) }

    private companion object {
        /** The rated length from the settings stands in its field; another can be tried here. */
        fun usual(companion: EbbsteadCompanion): Filled =
            mapOf(Ask.DAYS to "90", Ask.RATED_DAYS to companion.settings().wearer().sensorRatedDays?.toString().orEmpty())
    }
}
