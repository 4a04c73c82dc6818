package ebbstead.sample.present

/** A clock's minute, moved on or back, round midnight. */
fun minuteMoved(minute: Int, by: Int): Int = (minute + by).mod(1440)
