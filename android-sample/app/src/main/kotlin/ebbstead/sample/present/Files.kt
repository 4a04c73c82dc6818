package ebbstead.sample.present

import ebbstead.BundleAnswer
import ebbstead.EbbsteadCompanion
import ebbstead.ImportAnswer
import ebbstead.ImportOptions
import ebbstead.Moment
import ebbstead.OffsetChange

/** Brings in a file, and tells what came: a table of readings, or an HL7 FHIR bundle where it is JSON. */
fun EbbsteadCompanion.broughtIn(name: String, bytes: ByteArray, offsets: List<OffsetChange>, now: Moment): String {
    val isJson = bytes.firstOrNull { !it.toInt().toChar().isWhitespace() }?.toInt()?.toChar() == '{'
    if (isJson) return when (val answer = exchange().importBundle(name, bytes, false, now)) {
        is BundleAnswer.Refused -> "$name, ${answer.line}: ${answer.why}"
        is BundleAnswer.Read -> came(name, answer.report.recorded?.new, answer.report.findings)
    }
    return when (val answer = log().importCsv(name, bytes, ImportOptions(offsets, null, null, null, null, false), now)) {
        is ImportAnswer.Refused -> "$name, ${answer.line}: ${answer.why}"
        is ImportAnswer.Read -> came(name, answer.report.recorded?.new, answer.report.findings.map { it.text })
    }
}

private fun came(name: String, new: ULong?, findings: List<String>): String =
    (listOf("$name: +${new ?: 0uL}") + findings.take(3)).joinToString("\n")
