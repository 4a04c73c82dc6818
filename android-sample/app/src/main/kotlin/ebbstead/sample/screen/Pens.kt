package ebbstead.sample.screen

import android.graphics.DashPathEffect
import android.graphics.Paint
import android.util.TypedValue
import android.view.View
import ebbstead.LineKind

/** Sizes and pens that every drawing shares, so that a line looks the same in each. */
internal fun View.dp(size: Float) =
    TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_DIP, size, resources.displayMetrics)

internal fun View.sp(size: Float) =
    TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_SP, size, resources.displayMetrics)

internal fun View.stroke(colour: Int, width: Float, vararg dashes: Float) = Paint(Paint.ANTI_ALIAS_FLAG).apply {
    style = Paint.Style.STROKE
    color = colour
    strokeWidth = dp(width)
    if (dashes.isNotEmpty()) pathEffect = DashPathEffect(FloatArray(dashes.size) { dp(dashes[it]) }, 0f)
}

/** Each line across has dashes of its own. */
internal fun View.across(kind: LineKind, palette: Palette) = when (kind) {
    LineKind.LOW -> stroke(palette.line, 1.5f, 8f, 4f)
    LineKind.FLOOR -> stroke(palette.line, 2f)
    LineKind.HIGH -> stroke(palette.line, 1.5f, 2f, 4f)
}
