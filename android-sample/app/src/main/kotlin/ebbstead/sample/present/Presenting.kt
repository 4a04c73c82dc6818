package ebbstead.sample.present

import ebbstead.ApiException
import ebbstead.Moment

/** The device's clock: the one thing that core cannot give. */
fun interface Clock {
    fun now(): Moment
}

/** A minute of the day as a clock shows it. */
fun clockText(minute: Int): String = "%02d:%02d".format(minute / 60, minute % 60)

/** The minute of the day that a clock shows. */
fun clockMinute(text: String): Int = text.split(':').let { (hour, minute) -> hour.toInt() * 60 + minute.toInt() }

/** A clock's minute, moved on or back, round midnight. */
fun minuteMoved(minute: Int, by: Int): Int = (minute + by).mod(1440)

fun ApiException.advice(): String = when (this) {
    is ApiException.InvalidInput -> advice
    is ApiException.NotFound -> advice
    is ApiException.Closed -> advice
    is ApiException.NewerLog -> advice
    is ApiException.Damaged -> advice
    is ApiException.NoRoom -> advice
    is ApiException.Busy -> advice
    is ApiException.Failed -> advice
}
