package ebbstead.sample.present

import ebbstead.Moment

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
