package ebbstead.sample.screen

import android.content.Context
import android.graphics.text.LineBreaker
import android.text.Layout
import android.util.TypedValue
import android.widget.Button
import android.widget.TextView

/** The least that large type may shrink to so that a long word is not broken, as a share of its size. */
private const val LEAST = 0.6f

/** A heading. Where its longest word is wider than the screen, all of it shrinks, rather than that the word is broken. */
class Heading(context: Context) : TextView(context) {
    override fun onMeasure(wide: Int, high: Int) {
        fit(MeasureSpec.getSize(wide))
        super.onMeasure(wide, high)
    }
}

/** A button whose words are not broken either. */
class WordyButton(context: Context) : Button(context) {
    override fun onMeasure(wide: Int, high: Int) {
        if (MeasureSpec.getMode(wide) != MeasureSpec.UNSPECIFIED) fit(MeasureSpec.getSize(wide))
        super.onMeasure(wide, high)
    }
}

private fun TextView.fit(wide: Int) {
    val room = wide - compoundPaddingLeft - compoundPaddingRight
    val widest = text.split(Regex("[\\s\u200B]+")).maxOfOrNull { paint.measureText(it) } ?: return
    if (room <= 0 || widest <= room) return
    setTextSize(TypedValue.COMPLEX_UNIT_PX, textSize * maxOf(LEAST, room / widest))
}

/** Words of running text that are longer than a line are hyphenated, by the rules of the context's language; see [speaking]. */
internal fun TextView.hyphenated() {
    hyphenationFrequency = Layout.HYPHENATION_FREQUENCY_FULL
    breakStrategy = LineBreaker.BREAK_STRATEGY_SIMPLE
}

private val beforeUnit = Regex("(?<=\\d|,) (?=%|mg/dL|mmol/L|min\\b|g\\b|h\\b)")
private val withinDate = Regex("(?<=\\d)-(?=\\d)")
private val withinCompound = Regex("(?<=\\p{L})-(?=\\p{L})")

/** The same words, in lines that part no amount from its unit, no unit or date in two, and a compound at its hyphen only. */
internal fun inLines(text: CharSequence): String = text.replace(beforeUnit, "\u00A0")
    .replace("mg/dL", "mg/\u2060dL").replace("mmol/L", "mmol/\u2060L").replace("L/min", "L/\u2060min")
    .replace(withinDate, "\u2060-\u2060").replace(withinCompound, "-\u200B")
