package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.Language
import ebbstead.Moment
import java.time.format.DateTimeFormatter
import java.time.format.FormatStyle
import java.util.Locale

private const val MINUTE_MS = 60_000L
private const val DAY_MS = 1440 * MINUTE_MS

/** The minute of the day on the wearer's own clock. */
val Moment.minuteOfDay: Int
    get() = (Math.floorDiv(unixMs, MINUTE_MS) + offsetMinutes).mod(1440)

/** That minute of this moment's day. What it already shows stays to the millisecond. */
fun Moment.sameDay(minute: Int): Moment =
    if (minute == minuteOfDay) this
    else copy(unixMs = unixMs - unixMs.mod(MINUTE_MS) + (minute - minuteOfDay) * MINUTE_MS)

/** The newest moment, not after this one, at which that clock showed a minute of the day: later than now was yesterday. */
fun Moment.lastTime(minute: Int): Moment {
    val today = sameDay(minute)
    return if (today.unixMs <= unixMs) today else today.copy(unixMs = today.unixMs - DAY_MS)
}

/** A clock's minute, moved on or back, round midnight. */
fun minuteMoved(minute: Int, by: Int): Int = (minute + by).mod(1440)

/** Writes days as a calendar of the wearer's language does. */
fun EbbsteadCompanion.calendar(): DateTimeFormatter {
    val locale = if (settings().wearer().language == Language.GERMAN) Locale.GERMAN else Locale.ENGLISH
    return DateTimeFormatter.ofLocalizedDate(FormatStyle.FULL).withLocale(locale)
}
