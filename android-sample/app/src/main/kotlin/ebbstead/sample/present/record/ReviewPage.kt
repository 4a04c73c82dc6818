package ebbstead.sample.present.record

import ebbstead.Aims
import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.ReviewOptions
import ebbstead.sample.present.Clock
import java.io.File

/** Days looked back on. */
class ReviewPage(companion: EbbsteadCompanion, clock: Clock, passing: File) :
    RecordPage(companion, clock, passing, mapOf(Ask.DAYS to "14", Ask.AIMS to Aims.ADULT.name, Ask.COMPRESSION to "$COUNTED")) {

    override fun parts(): List<Part> {
        val page = attempt(Ask.DAYS) {
            val day = companion.review().day(options(), now)
            listOfNotNull(day?.let { Part.Day(it) }, Part.Page(companion.review().page(options(), now)))
        }
        val aims = listOf(
            Aims.ADULT to Label.AIMS_ADULT, Aims.OLDER_OR_HIGH_RISK to Label.AIMS_OLDER, Aims.TYPE1_PREGNANCY to Label.AIMS_PREGNANCY,
        )
        val pressed = listOf(COUNTED to Label.PRESSED_IN, !COUNTED to Label.PRESSED_OUT)
        return listOf(
            choice(Ask.AIMS, aims.map { it.first.name to words.label(it.second) }),
            choice(Ask.COMPRESSION, pressed.map { "${it.first}" to words.label(it.second) }),
            field(Ask.DAYS),
        ) + press(Act.SHOW, Act.SAVE_REVIEW) + said() + page.orEmpty()
    }

    override fun done(act: Act, filled: Filled) {
        if (act == Act.SAVE_REVIEW) make(named("ebbstead", "html"), "text/html", Ask.DAYS) { file ->
            file.writeText(companion.review().html(options(), now))
            emptyList()
        }
    }

    private fun options() =
        ReviewOptions(days(Ask.DAYS), Aims.valueOf(typed(Ask.AIMS)), withoutCompressionLows = typed(Ask.COMPRESSION) != "$COUNTED")

    private companion object {
        const val COUNTED = true
    }
}
