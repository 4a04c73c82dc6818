package ebbstead.sample.screen

import android.app.TimePickerDialog
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
import ebbstead.Page
import ebbstead.PageBlock
import ebbstead.sample.present.Field
import ebbstead.sample.present.TimeField
import ebbstead.sample.present.Typing
import ebbstead.sample.present.clockText

/** A page of text, buttons and fields, one under the other. Text grows with the size set on the phone. */
class Sheet(val context: Context, val palette: Palette) {
    val column = LinearLayout(context).apply {
        orientation = LinearLayout.VERTICAL
        setPadding(dp(20), dp(20), dp(20), dp(28))
    }
    val root = ScrollView(context).apply {
        setBackgroundColor(palette.ground)
        isFillViewport = true
        addView(column, ViewGroup.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT))
    }

    private var acted = false

    /**
     * What is pressed shows a new sheet when it is done; until then a second tap does nothing, or it would note the same twice.
     * The button pales meanwhile. `stays` is for what leaves this sheet where it is.
     */
    private fun Button.does(stays: Boolean = false, pressed: () -> Unit) = setOnClickListener {
        if (acted) return@setOnClickListener
        if (!stays) {
            acted = true
            alpha = 0.5f
        }
        pressed()
    }

    fun dp(size: Int): Int =
        TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_DIP, size.toFloat(), context.resources.displayMetrics).toInt()

    fun add(view: View, above: Int = 8) {
        val place = LinearLayout.LayoutParams(ViewGroup.LayoutParams.MATCH_PARENT, ViewGroup.LayoutParams.WRAP_CONTENT)
        place.topMargin = dp(above)
        column.addView(view, place)
    }

    fun text(text: String, sp: Float = 17f, bold: Boolean = false, quiet: Boolean = false, above: Int = 8): TextView {
        val view = if (bold) Heading(context) else TextView(context)
        view.text = inLines(text)
        view.hyphenated()
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
    fun told(text: String?, sp: Float = 17f) {
        if (text != null) text(text, sp, bold = true).accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
    }

    /** A button that is no main thing: outlined, and as wide as its words. */
    private fun smallButton(text: String, about: String, pressed: () -> Unit): Button {
        val view = WordyButton(context)
        view.text = inLines(text)
        view.isAllCaps = false
        view.setTextSize(TypedValue.COMPLEX_UNIT_SP, 15f)
        view.setTextColor(palette.text)
        view.background = GradientDrawable().apply {
            setColor(palette.ground)
            setStroke(dp(1), palette.quiet)
            cornerRadius = dp(6).toFloat()
        }
        view.minHeight = dp(48)
        view.minimumHeight = dp(48)
        view.setPadding(dp(14), dp(6), dp(14), dp(6))
        view.contentDescription = "$text: $about"
        view.does { pressed() }
        return view
    }

    /** Small buttons about one thing, side by side; one under the other where the type is large. */
    fun smallButtons(about: String, vararg buttons: Pair<String, () -> Unit>) {
        val large = context.resources.configuration.fontScale > LARGE
        val row = LinearLayout(context)
        row.orientation = if (large) LinearLayout.VERTICAL else LinearLayout.HORIZONTAL
        for ((text, pressed) in buttons) {
            val place = LinearLayout.LayoutParams(ViewGroup.LayoutParams.WRAP_CONTENT, ViewGroup.LayoutParams.WRAP_CONTENT)
            place.marginEnd = dp(8)
            if (large) place.bottomMargin = dp(8)
            row.addView(smallButton(text, about, pressed), place)
        }
        add(row, above = 2)
    }

    fun button(text: String, sp: Float = 17f, high: Int = 52, stays: Boolean = false, pressed: () -> Unit): Button {
        val view = WordyButton(context)
        view.text = inLines(text)
        view.isAllCaps = false
        view.setTextSize(TypedValue.COMPLEX_UNIT_SP, sp)
        view.setTextColor(palette.buttonText)
        view.background = GradientDrawable().apply {
            setColor(palette.button)
            cornerRadius = dp(6).toFloat()
        }
        view.minHeight = dp(high)
        view.setPadding(dp(16), dp(10), dp(16), dp(10))
        view.does(stays) { pressed() }
        add(view, above = 10)
        return view
    }

    fun field(field: Field, typing: Typing = Typing.NUMBER, sp: Float = 17f): EditText {
        val label = text(field.name, sp = 15f, quiet = true, above = 14)
        val view = EditText(context)
        view.setText(field.typed)
        view.setTextSize(TypedValue.COMPLEX_UNIT_SP, sp)
        view.setTextColor(palette.text)
        view.backgroundTintList = android.content.res.ColorStateList.valueOf(palette.quiet)
        // A plain text keyboard for numbers too: decimal keyboards of some languages lack the comma.
        view.inputType = when (typing) {
            Typing.NUMBER -> InputType.TYPE_CLASS_PHONE
            Typing.WORDS -> InputType.TYPE_CLASS_TEXT
            Typing.SECRET -> InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_VARIATION_PASSWORD
        }
        if (typing == Typing.SECRET) {
            // Neither the system nor another app keeps it.
            view.isSaveEnabled = false
            view.importantForAutofill = View.IMPORTANT_FOR_AUTOFILL_NO
        }
        view.id = View.generateViewId()
        label.labelFor = view.id
        add(view, above = 0)
        told(field.advice)
        return view
    }

    /** A time of day, picked from the system's clock. */
    fun time(field: TimeField, picked: (Int) -> Unit) {
        val label = text(field.name, sp = 15f, quiet = true, above = 14)
        var shown = field.minute
        val view = smallButton(clockText(shown), field.name) {}
        view.id = View.generateViewId()
        label.labelFor = view.id
        view.setOnClickListener {
            val set = TimePickerDialog.OnTimeSetListener { _, hour, minute ->
                shown = hour * 60 + minute
                picked(shown)
                view.text = clockText(shown)
                view.contentDescription = "${view.text}: ${field.name}"
            }
            TimePickerDialog(context, set, shown / 60, shown % 60, true).show()
        }
        val place = LinearLayout.LayoutParams(ViewGroup.LayoutParams.WRAP_CONTENT, ViewGroup.LayoutParams.WRAP_CONTENT)
        place.topMargin = dp(2)
        column.addView(view, place)
    }

    /** One of several; which one is said by a mark and the word, not by colour. Many short ones stand two by two. */
    fun <T> choice(name: String, options: List<Pair<T, String>>, chosen: T, narrow: Boolean = false, picked: (T) -> Unit) {
        if (name.isNotEmpty()) text(name, sp = 15f, quiet = true, above = 14)
        fun radio(value: T, text: String) = android.widget.RadioButton(context).apply {
            this.text = inLines(text)
            hyphenated()
            setTextSize(TypedValue.COMPLEX_UNIT_SP, 17f)
            setTextColor(palette.text)
            buttonTintList = android.content.res.ColorStateList.valueOf(palette.button)
            minHeight = dp(48)
            id = View.generateViewId()
            isChecked = value == chosen
            setOnClickListener { picked(value) }
        }
        if (narrow && context.resources.configuration.fontScale <= LARGE) {
            // What is picked here turns to another page, so that no two are ever marked.
            for (pair in options.chunked(2)) {
                val row = LinearLayout(context)
                for (n in 0..1) {
                    val view = pair.getOrNull(n)?.let { radio(it.first, it.second) } ?: View(context)
                    row.addView(view, LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.WRAP_CONTENT, 1f))
                }
                add(row, above = 0)
            }
        } else {
            val group = android.widget.RadioGroup(context)
            for ((value, text) in options) {
                val one = radio(value, text)
                val checked = one.isChecked
                group.addView(one)
                one.isChecked = checked
            }
            add(group, above = 0)
        }
    }

    /** A page of core's, from top to bottom. */
    fun page(page: Page) {
        text(page.heading, sp = 24f, bold = true, above = 16).isAccessibilityHeading = true
        for (section in page.sections) {
            section.heading?.let { heading(it) }
            for (block in section.holds) when (block) {
                is PageBlock.Sentences -> text(block.text)
                is PageBlock.Items -> block.items.forEach { item(it) }
                is PageBlock.Table -> table(block)
            }
        }
    }

    /**
     * Figures. Several columns stand side by side where the type is not large and words allow it; else each value has its
     * column's name before it. A screen reader gets a row as one text.
     */
    private fun table(table: PageBlock.Table) {
        val beside = table.columns.size > 1 && context.resources.configuration.fontScale <= LARGE
        if (beside) add(row("", table.columns, 13f, palette.quiet))
        for (row in table.rows) {
            val named = row.values.mapIndexed { n, value ->
                if (row.values.size == table.columns.size && n < table.columns.size) "${table.columns[n]}: $value" else value
            }
            val spoken = listOf(row.name, named.joinToString(", "), row.note).filter { it.isNotEmpty() }.joinToString(". ")
            if (beside && row.values.size == table.columns.size) {
                add(row(row.name, row.values, 15f, palette.text).apply { contentDescription = spoken }, above = 4)
            } else {
                val group = Sheet(context, palette)
                group.column.setPadding(0, 0, 0, 0)
                group.text(row.name, sp = 15f, quiet = true, above = 0)
                (if (table.columns.size > 1) named else row.values).forEach { group.text(it, above = 0) }
                val column = group.column
                (column.parent as ViewGroup).removeView(column)
                column.contentDescription = spoken
                column.isFocusable = true
                if (row.note.isNotEmpty()) group.text(row.note, sp = 15f, quiet = true, above = 0)
                add(column, above = 10)
            }
        }
    }

    private fun row(name: String, values: List<String>, sp: Float, colour: Int) = LinearLayout(context).apply {
        isBaselineAligned = false
        for ((n, one) in (listOf(name) + values).withIndex()) {
            val cell = TextView(context)
            cell.text = inLines(one)
            cell.hyphenated()
            cell.setTextSize(TypedValue.COMPLEX_UNIT_SP, sp)
            cell.setTextColor(if (n == 0) palette.quiet else colour)
            if (n > 0) cell.gravity = android.view.Gravity.END
            cell.setPadding(if (n > 0) dp(6) else 0, 0, 0, 0)
            // What a row is of may need more room than a value.
            val wide = if (n == 0 && values.size < 4) 1.6f else 1f
            addView(cell, LinearLayout.LayoutParams(0, ViewGroup.LayoutParams.WRAP_CONTENT, wide))
        }
        isFocusable = true
    }

    private companion object {
        /** From this size of type on, things stand one under the other. */
        const val LARGE = 1.35f
    }
}
