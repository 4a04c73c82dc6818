package ebbstead.sample

/** Stands for what Android's build tools make of `res`: nothing here draws a resource. */
@Suppress("ClassName")
object R {
    object drawable {
        const val notice = 0x7f010000
    }
}
