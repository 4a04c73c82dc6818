package ebbstead.sample.present

import ebbstead.ApiException
import ebbstead.Moment

/** The device's clock: the one thing a presenter cannot be given by core. */
fun interface Clock {
    fun now(): Moment
}

/** Something to show, or why it cannot be shown and what to do. */
sealed class Shown<out T> {
    data class Screen<T>(val content: T) : Shown<T>()
    data class Trouble(val advice: String) : Shown<Nothing>()
}

/** How something is typed. */
enum class Typing { NUMBER, WORDS, SECRET, DIALLED }

/** A field: what stands in it, and why what was typed cannot be taken. */
data class Field(val name: String, val typed: String = "", val advice: String? = null)

/** A time of day, picked from a clock: the minute of the day that is shown. */
data class TimeField(val name: String, val minute: Int)

/** A minute of the day as a clock shows it. */
fun clockText(minute: Int): String = "%02d:%02d".format(minute / 60, minute % 60)

/** The minute of the day that a clock shows. */
fun clockMinute(text: String): Int = text.split(':').let { (hour, minute) -> hour.toInt() * 60 + minute.toInt() }

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

/** Runs a call on the core; a failure becomes something to show. */
inline fun <T> shown(make: () -> T): Shown<T> =
    try {
        Shown.Screen(make())
    } catch (refused: ApiException) {
        Shown.Trouble(refused.advice())
    }
