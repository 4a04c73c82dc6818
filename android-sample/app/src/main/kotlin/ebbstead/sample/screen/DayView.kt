package ebbstead.sample.screen

import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.view.View
import ebbstead.DayPicture

/**
 * The day by the hour: a post for each, its thick part the middle half of the readings, a notch at the median. Each line across
 * has dashes of its own and its amount at the scale. A screen reader gets the picture in words; the page has every number.
 */
class DayView(context: Context, private val picture: DayPicture, private val palette: Palette) : View(context) {
    private val writing = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        textSize = sp(12f)
        color = palette.text
    }

    init {
        contentDescription = picture.text
    }

    override fun onMeasure(wide: Int, high: Int) =
        setMeasuredDimension(MeasureSpec.getSize(wide), (dp(210f) + 2 * writing.fontSpacing).toInt())

    override fun onDraw(canvas: Canvas) {
        val left = writing.measureText("000,0") + dp(4f)
        val right = width - dp(8f)
        val top = writing.fontSpacing
        val bottom = height - 1.5f * writing.fontSpacing
        val reach = picture.highestMgDl - picture.lowestMgDl
        fun x(hours: Double) = left + (hours / 24 * (right - left)).toFloat()
        fun y(mgDl: Double) = bottom - ((mgDl - picture.lowestMgDl) / reach * (bottom - top)).toFloat()

        canvas.drawLine(left, bottom, right, bottom, stroke(palette.quiet, 1f))
        for (line in picture.lines) {
            canvas.drawLine(left, y(line.mgDl), right, y(line.mgDl), across(line.kind, palette))
        }
        for (mark in picture.amounts) {
            canvas.drawText(mark.text, left - writing.measureText(mark.text) - dp(6f), y(mark.place) + writing.textSize / 3, writing)
        }
        var free = 0f
        for (mark in picture.times) {
            val wide = writing.measureText(mark.text)
            val from = (x(mark.place) - wide / 2).coerceIn(0f, width - wide)
            if (from < free) continue // it would run into the one before
            canvas.drawText(mark.text, from, bottom + writing.fontSpacing, writing)
            free = from + wide + dp(8f)
        }
        for (post in picture.posts) {
            val at = x(post.hours)
            canvas.drawLine(at, y(post.leastMgDl), at, y(post.mostMgDl), stroke(palette.path, 1.5f))
            canvas.drawLine(at, y(post.lowerMgDl), at, y(post.upperMgDl), stroke(palette.path, 5f))
            canvas.drawLine(at - dp(5f), y(post.middleMgDl), at + dp(5f), y(post.middleMgDl), stroke(palette.reading, 2f))
        }
    }
}
