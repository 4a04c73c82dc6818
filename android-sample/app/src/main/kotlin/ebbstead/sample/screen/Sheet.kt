package ebbstead.sample.screen

import android.content.Context
import android.graphics.Typeface
import android.graphics.drawable.GradientDrawable
import android.text.InputType
import android.util.TypedValue
import android.view.View
import android.view.ViewGroup
import android.widget.Button
import android.widget.EditText
import android.widget.LinearLayout
import android.widget.ScrollView
import android.widget.TextView

/** A page of text, buttons and fields, one under the other. Text grows with the size set on the phone. */
class Sheet(val context: Context, val palette: Palette) {
    private val column = LinearLayout(context).apply {
        orientation = LinearLayout.VERTICAL
        setPadding(dp(20), dp(20), dp(20), dp(28))
    }
    val root = ScrollView(context).apply {
        setBackgroundColor(palette.ground)
        isFillViewport = true
        addView(column, ViewGroup.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT))
    }

    fun dp(size: Int): Int =
        TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_DIP, size.toFloat(), context.resources.displayMetrics).toInt()

    fun add(view: View, above: Int = 8) {
        val place = LinearLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT)
        place.topMargin = dp(above)
        column.addView(view, place)
    }

    fun text(text: String, sp: Float = 17f, bold: Boolean = false, quiet: Boolean = false, above: Int = 8): TextView {
        val view = TextView(context)
        view.text = text
        view.setTextSize(TypedValue.COMPLEX_UNIT_SP, sp)
        view.setTextColor(if (quiet) palette.quiet else palette.text)
        if (bold) view.typeface = Typeface.DEFAULT_BOLD
        view.setLineSpacing(0f, 1.15f)
        add(view, above)
        return view
    }

    fun heading(text: String, sp: Float = 19f): TextView =
        text(text, sp, bold = true, above = 20).apply { isAccessibilityHeading = true }

    fun item(text: String) = text("\u2013 $text", above = 4)

    /** Says aloud by itself what has changed. */
    fun told(text: String?) {
        if (text != null) text(text, bold = true).accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
    }

    fun button(text: String, sp: Float = 17f, high: Int = 52, pressed: () -> Unit): Button {
        val view = Button(context)
        view.text = text
        view.isAllCaps = false
        view.setTextSize(TypedValue.COMPLEX_UNIT_SP, sp)
        view.setTextColor(palette.buttonText)
        view.background = GradientDrawable().apply {
            setColor(palette.button)
            cornerRadius = dp(6).toFloat()
        }
        view.minHeight = dp(high)
        view.setPadding(dp(16), dp(10), dp(16), dp(10))
        view.setOnClickListener { pressed() }
        add(view, above = 10)
        return view
    }

    fun field(name: String, filled: String = "", number: Boolean = true, sp: Float = 17f): EditText {
        val label = text(name, sp = 15f, quiet = true, above = 14)
        val view = EditText(context)
        view.setText(filled)
        view.setTextSize(TypedValue.COMPLEX_UNIT_SP, sp)
        view.setTextColor(palette.text)
        view.backgroundTintList = android.content.res.ColorStateList.valueOf(palette.quiet)
        // A plain text keyboard for numbers too: decimal keyboards of some languages lack the comma.
        view.inputType = if (number) InputType.TYPE_CLASS_PHONE else InputType.TYPE_CLASS_TEXT
        view.id = View.generateViewId()
        label.labelFor = view.id
        add(view, above = 0)
        return view
    }

    /** One of several; which one is said by a mark and the word, not by colour. */
    fun <T> choice(name: String, options: List<Pair<T, String>>, chosen: T, picked: (T) -> Unit) {
        text(name, sp = 15f, quiet = true, above = 14)
        val group = android.widget.RadioGroup(context)
        for ((value, text) in options) {
            val radio = android.widget.RadioButton(context)
            radio.text = text
            radio.setTextSize(TypedValue.COMPLEX_UNIT_SP, 17f)
            radio.setTextColor(palette.text)
            radio.buttonTintList = android.content.res.ColorStateList.valueOf(palette.button)
            radio.minHeight = dp(48)
            radio.id = View.generateViewId()
            group.addView(radio)
            radio.isChecked = value == chosen
            radio.setOnClickListener { picked(value) }
        }
        add(group, above = 0)
    }
}
