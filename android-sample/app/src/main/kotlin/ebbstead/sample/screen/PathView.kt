package ebbstead.sample.screen

import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Path
import android.graphics.RectF
import android.view.View
import ebbstead.LineKind
import ebbstead.Picture

/**
 * The past two hours and the hour ahead. Readings are small squares, meter checks crosses, the expected path a broken line,
 * the band around it hatched; each line across has dashes of its own and its name. A screen reader gets the picture in words.
 */
class PathView(context: Context, private val picture: Picture, private val palette: Palette) : View(context) {
    private val writing = Paint(Paint.ANTI_ALIAS_FLAG).apply { textSize = sp(12f); color = palette.text }
    private fun fill(colour: Int) = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = colour }

    private val legendRows = 4

    init {
        contentDescription = picture.text
    }

    override fun onMeasure(wide: Int, high: Int) {
        val legend = legendRows * writing.fontSpacing
        setMeasuredDimension(MeasureSpec.getSize(wide), (dp(230f) + 2 * writing.fontSpacing + legend).toInt())
    }

    override fun onDraw(canvas: Canvas) {
        val left = writing.measureText("000,0") + dp(4f)
        val right = width - dp(8f)
        val top = writing.fontSpacing
        val bottom = height - (legendRows + 1) * writing.fontSpacing - dp(10f)
        val span = picture.untilMinutes - picture.fromMinutes
        val reach = picture.highestMgDl - picture.lowestMgDl
        fun x(minutes: Double) = left + ((minutes - picture.fromMinutes) / span * (right - left)).toFloat()
        fun y(mgDl: Double) = bottom - ((mgDl - picture.lowestMgDl) / reach * (bottom - top)).toFloat()

        band(canvas, ::x, ::y)
        canvas.drawLine(x(0.0), top, x(0.0), bottom, stroke(palette.quiet, 1f, 2f, 3f))
        canvas.drawLine(left, bottom, right, bottom, stroke(palette.quiet, 1f))
        scales(canvas, left, bottom, ::x, ::y)
        for (line in picture.lines) {
            canvas.drawLine(left, y(line.mgDl), right, y(line.mgDl), across(line.kind, palette))
        }
        // Before what was measured and what is expected: a name may hide neither.
        names(canvas, left, right, marks(::x, ::y), ::y)
        val path = Path()
        picture.path.forEachIndexed { n, one ->
            if (n == 0) path.moveTo(x(one.minutes), y(one.mgDl)) else path.lineTo(x(one.minutes), y(one.mgDl))
        }
        canvas.drawPath(path, stroke(palette.path, 2.5f, 7f, 3f))
        for (one in picture.readings) square(canvas, x(one.minutes), y(one.mgDl))
        for (one in picture.meters) cross(canvas, x(one.minutes), y(one.mgDl))
        for (one in picture.noted) {
            val at = x(one.minutes)
            canvas.drawLine(at, bottom - dp(7f), at, bottom, stroke(palette.text, 2f))
        }
        legend(canvas, bottom + 2 * writing.fontSpacing)
    }

    /** Where something is drawn that no word may touch. */
    private fun marks(x: (Double) -> Float, y: (Double) -> Float): List<Pair<Float, Float>> =
        (picture.readings + picture.meters).map { Pair(x(it.minutes), y(it.mgDl)) } +
            picture.path.flatMap { one -> listOf(one.mgDl, one.leastMgDl, one.mostMgDl).map { Pair(x(one.minutes), y(it)) } } +
            (0..20).map { Pair(x(0.0), y(picture.lowestMgDl + (picture.highestMgDl - picture.lowestMgDl) * it / 20)) }

    /**
     * The names of the lines, each at the first place along its line where it touches nothing; where there is none, on a plate
     * on its own side, where it touches least.
     */
    private fun names(
        canvas: Canvas,
        left: Float,
        right: Float,
        marks: List<Pair<Float, Float>>,
        y: (Double) -> Float,
    ) {
        val space = dp(7f)
        val taken = mutableListOf<RectF>()
        for (line in picture.lines) {
            val wide = writing.measureText(line.text)
            val above = y(line.mgDl) - dp(4f)
            val below = y(line.mgDl) + writing.textSize + dp(2f)
            // Below the floor line and above the others, so that two near each other can both be read.
            val sides = if (line.kind == LineKind.FLOOR) listOf(below, above) else listOf(above, below)
            fun along(base: Float) = generateSequence(left + dp(4f)) { it + dp(6f) }.takeWhile { it + wide <= right }
                .map { from -> RectF(from, base - writing.textSize, from + wide, base + dp(2f)) }.toList()
            fun touched(place: RectF) = marks.count { (x, y) ->
                x > place.left - space && x < place.right + space && y > place.top - space && y < place.bottom + space
            } + taken.count { RectF.intersects(it, place) }
            fun free(place: RectF) = touched(place) == 0
            val place = sides.flatMap(::along).firstOrNull(::free) ?: along(sides.first()).minByOrNull(::touched) ?: continue
            if (!free(place)) canvas.drawRect(place, fill(palette.ground))
            taken.add(place)
            canvas.drawText(line.text, place.left, place.bottom - dp(2f), writing)
        }
    }

    private fun band(canvas: Canvas, x: (Double) -> Float, y: (Double) -> Float) {
        if (picture.path.isEmpty()) return
        val outline = Path()
        picture.path.forEachIndexed { n, one ->
            if (n == 0) outline.moveTo(x(one.minutes), y(one.mostMgDl)) else outline.lineTo(x(one.minutes), y(one.mostMgDl))
        }
        picture.path.asReversed().forEach { outline.lineTo(x(it.minutes), y(it.leastMgDl)) }
        outline.close()
        canvas.drawPath(outline, fill(palette.band))
        canvas.save()
        canvas.clipPath(outline)
        hatch(canvas, 0f, 0f, width.toFloat(), height.toFloat())
        canvas.restore()
        canvas.drawPath(outline, stroke(palette.bandEdge, 1f))
    }

    private fun hatch(canvas: Canvas, left: Float, top: Float, right: Float, bottom: Float) {
        val paint = stroke(palette.bandEdge, 0.6f)
        var at = left - (bottom - top)
        while (at < right) {
            canvas.drawLine(at, bottom, at + (bottom - top), top, paint)
            at += dp(8f)
        }
    }

    private fun scales(canvas: Canvas, left: Float, bottom: Float, x: (Double) -> Float, y: (Double) -> Float) {
        for (mark in picture.amounts) {
            val wide = writing.measureText(mark.text)
            canvas.drawText(mark.text, left - wide - dp(6f), y(mark.place) + writing.textSize / 3, writing)
        }
        // A time that would run into the one before it is left out; the present is always written.
        val present = picture.times.first { it.place == 0.0 }
        val taken = mutableListOf<ClosedFloatingPointRange<Float>>()
        for (mark in listOf(present) + (picture.times - present)) {
            val wide = writing.measureText(mark.text)
            val from = (x(mark.place) - wide / 2).coerceIn(0f, width - wide)
            val place = from - dp(4f)..from + wide + dp(4f)
            if (taken.none { it.start < place.endInclusive && place.start < it.endInclusive }) {
                taken.add(place)
                canvas.drawText(mark.text, from, bottom + writing.fontSpacing, writing)
            }
        }
    }

    private fun square(canvas: Canvas, x: Float, y: Float) {
        val half = dp(2.6f)
        canvas.drawRect(x - half, y - half, x + half, y + half, fill(palette.reading))
    }

    private fun cross(canvas: Canvas, x: Float, y: Float) {
        val half = dp(6f)
        val paint = stroke(palette.reading, 2.5f)
        canvas.drawLine(x - half, y - half, x + half, y + half, paint)
        canvas.drawLine(x - half, y + half, x + half, y - half, paint)
    }

    private fun legend(canvas: Canvas, from: Float) {
        val signs: List<(Float) -> Unit> = listOf(
            { y -> square(canvas, dp(14f), y) },
            { y -> cross(canvas, dp(14f), y) },
            { y -> canvas.drawLine(dp(2f), y, dp(26f), y, stroke(palette.path, 2.5f, 7f, 3f)) },
            { y ->
                canvas.drawRect(dp(2f), y - dp(6f), dp(26f), y + dp(6f), fill(palette.band))
                canvas.save()
                canvas.clipRect(dp(2f), y - dp(6f), dp(26f), y + dp(6f))
                hatch(canvas, dp(2f), y - dp(6f), dp(26f), y + dp(6f))
                canvas.restore()
                canvas.drawRect(dp(2f), y - dp(6f), dp(26f), y + dp(6f), stroke(palette.bandEdge, 1f))
            },
        )
        picture.legend.zip(signs).forEachIndexed { row, (text, sign) ->
            val base = from + row * writing.fontSpacing
            sign(base - writing.textSize / 3)
            canvas.drawText(text, dp(34f), base, writing)
        }
    }
}
