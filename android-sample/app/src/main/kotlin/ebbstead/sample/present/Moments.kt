package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.Language
import java.time.format.DateTimeFormatter
import java.time.format.FormatStyle
import java.util.Locale

/** A clock's minute, moved on or back, round midnight. */
fun minuteMoved(minute: Int, by: Int): Int = (minute + by).mod(1440)

/** Writes days as a calendar of the wearer's language does. */
fun EbbsteadCompanion.calendar(): DateTimeFormatter {
    val locale = if (settings().wearer().language == Language.GERMAN) Locale.GERMAN else Locale.ENGLISH
    return DateTimeFormatter.ofLocalizedDate(FormatStyle.FULL).withLocale(locale)
}
