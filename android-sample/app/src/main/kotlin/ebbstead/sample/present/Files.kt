package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.ImportAnswer
import ebbstead.ImportOptions
import ebbstead.Moment
import ebbstead.OffsetChange

/** Brings in a file and says what came of it. */
fun EbbsteadCompanion.broughtIn(name: String, bytes: ByteArray, offsets: List<OffsetChange>, now: Moment): String {
    val options = ImportOptions(offsets, null, null, null, null, false)
    return when (val answer = log().importFile(name, bytes, options, now)) {
        is ImportAnswer.Refused -> answer.text
        is ImportAnswer.Read -> answer.report.lines.joinToString("\n")
    }
}
