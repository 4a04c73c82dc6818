package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import java.time.format.DateTimeFormatter
import java.time.format.FormatStyle
import java.util.Locale

/** A clock's minute, moved on or back, round midnight. */
fun minuteMoved(minute: Int, by: Int): Int = (minute + by).mod(1440)

/** Writes days as a calendar of the wearer's language does. */
fun EbbsteadCompanion.calendar(): DateTimeFormatter {
    val locale = Locale.forLanguageTag(settings().wearer().language)
    return DateTimeFormatter.ofLocalizedDate(FormatStyle.FULL).withLocale(locale)
}
