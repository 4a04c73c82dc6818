package ebbstead.sample.screen

/** Colours as 0xAARRGGBB. They please the eye; every meaning is also a word or a shape. */
class Palette(
    val ground: Int,
    val text: Int,
    val quiet: Int,
    val button: Int,
    val buttonText: Int,
    val band: Int,
    val bandEdge: Int,
    val path: Int,
    val reading: Int,
    val line: Int,
) {
    /** What must be told apart from what it lies on: text at least 4.5 to 1, shapes at least 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11). */
    val texts: List<Pair<Int, Int>>
        get() = listOf(text to ground, quiet to ground, buttonText to button, text to band)
    val shapes: List<Pair<Int, Int>>
        get() = listOf(button to ground, path to ground, path to band, reading to ground, line to ground, bandEdge to ground)

    companion object {
        val LIGHT = Palette(
            ground = 0xFFF8F5EE.toInt(), text = 0xFF1C2529.toInt(), quiet = 0xFF4C5A60.toInt(),
            button = 0xFF24505A.toInt(), buttonText = 0xFFFFFFFF.toInt(), band = 0xFFD5E4E2.toInt(),
            bandEdge = 0xFF5E8587.toInt(), path = 0xFF24505A.toInt(), reading = 0xFF1C2529.toInt(), line = 0xFF6B6252.toInt(),
        )
        val DARK = Palette(
            ground = 0xFF10181C.toInt(), text = 0xFFE9E4D8.toInt(), quiet = 0xFFAEB8B8.toInt(),
            button = 0xFF8FC7C9.toInt(), buttonText = 0xFF10181C.toInt(), band = 0xFF22383D.toInt(),
            bandEdge = 0xFF6F9DA0.toInt(), path = 0xFF9AD3D5.toInt(), reading = 0xFFE9E4D8.toInt(), line = 0xFFA89C86.toInt(),
        )
    }
}

/** Contrast of two opaque colours, 1 to 21: (lighter + 0.05) / (darker + 0.05), by WCAG 2.2's relative luminance. */
fun contrast(one: Int, other: Int): Double {
    fun luminance(colour: Int): Double {
        fun part(shift: Int): Double {
            val part = ((colour shr shift) and 0xFF) / 255.0
            return if (part <= 0.04045) part / 12.92 else Math.pow((part + 0.055) / 1.055, 2.4)
        }
        return 0.2126 * part(16) + 0.7152 * part(8) + 0.0722 * part(0)
    }
    val (darker, lighter) = listOf(luminance(one), luminance(other)).sorted()
    return (lighter + 0.05) / (darker + 0.05)
}
