package ebbstead.sample.phone

import android.app.*
import android.appwidget.*
import android.content.*
import android.content.res.ColorStateList
import android.graphics.*
import android.view.View
import android.widget.RemoteViews
import androidx.compose.ui.graphics.toArgb
import ebbstead.*
import ebbstead.sample.R
import ebbstead.sample.present.*
import ebbstead.sample.ui.Palette
import ebbstead.sample.ui.Weight
import ebbstead.sample.ui.weight

/** The widget: what to do, and the newest reading with its age. What stands there at which minute is core's to say; none of it counts as shown. */
class GlanceWidget : AppWidgetProvider() {
    override fun onUpdate(context: Context, manager: AppWidgetManager, ids: IntArray) = later { draw(context) }

    companion object {
        /** Draws every widget that there is, and sets the minute to draw it anew. */
        fun draw(context: Context, open: EbbsteadCompanion? = null) {
            if (ids(context).isEmpty()) return
            val now = phoneClock.now()
            val glances = try {
                open?.check()?.glances(now, 1u) ?: context.openLog().use { log -> log.check().glances(now, 1u).also { log.closeLog() } }
            } catch (refused: ApiException) {
                // Without a log there is no number: an old one must not stay. It is tried again in a minute.
                val none = WidgetGlance(now, Verdict.CHECK, "", refused.advice(), null, emptyList(), null)
                listOf(none, none.copy(from = now.copy(unixMs = now.unixMs + 60_000)))
            }
            show(context, glances.first())
            glances.getOrNull(1)?.let { again(context, it.from.unixMs) }
        }

        private fun ids(context: Context): IntArray =
            AppWidgetManager.getInstance(context).getAppWidgetIds(ComponentName(context, GlanceWidget::class.java))

        /** Wakes no phone: whoever looks at a widget has woken it. */
        private fun again(context: Context, unixMs: Long) {
            val intent = Intent(context, GlanceWidget::class.java).setAction(AppWidgetManager.ACTION_APPWIDGET_UPDATE)
                .putExtra(AppWidgetManager.EXTRA_APPWIDGET_IDS, ids(context))
            val pending = PendingIntent.getBroadcast(context, 0, intent, PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT)
            context.getSystemService(AlarmManager::class.java).setExact(AlarmManager.RTC, unixMs, pending)
        }

        private fun show(context: Context, glance: WidgetGlance) {
            val (day, night) = listOf(Palette.DAY, Palette.DARK).map { weight(glance.verdict, it) }
            val views = RemoteViews(context.packageName, R.layout.glance)
            fun ink(view: Int, method: String) = views.setColorInt(view, method, day.ink.toArgb(), night.ink.toArgb())
            fun ground(view: Int, of: (Weight) -> androidx.compose.ui.graphics.Color) {
                val (light, dark) = listOf(day, night).map { ColorStateList.valueOf(of(it).toArgb()) }
                views.setColorStateList(view, "setBackgroundTintList", light, dark)
            }
            ground(R.id.outline) { if (it.outline.value > 0) it.ink else it.ground }
            ground(R.id.block) { it.ground }
            for (text in listOf(R.id.word, R.id.amount, R.id.beside)) ink(text, "setTextColor")
            ink(R.id.sign, "setColorFilter")
            views.setImageViewBitmap(R.id.sign, sign(glance.verdict, (28 * context.resources.displayMetrics.density).toInt()))
            views.setTextViewText(R.id.word, glance.word)
            views.setViewVisibility(R.id.amount, if (glance.amount == null) View.GONE else View.VISIBLE)
            // With the time it was read: should the phone leave the widget standing, that stays true.
            views.setTextViewText(R.id.amount, listOfNotNull(glance.amount, glance.clock).joinToString(" · "))
            views.setTextViewText(R.id.beside, if (glance.amount == null) glance.sentence else glance.accessory.joinToString("\n"))
            views.setOnClickPendingIntent(R.id.outline, Notices.opens(context, Opens.WHERE_IT_WAS))
            AppWidgetManager.getInstance(context).updateAppWidget(ids(context), views)
        }

        /** A verdict's shape, in white, to be tinted. */
        private fun sign(verdict: Verdict, side: Int): Bitmap {
            val bitmap = Bitmap.createBitmap(side, side, Bitmap.Config.ARGB_8888)
            val paint = Paint(Paint.ANTI_ALIAS_FLAG).apply {
                color = Color.WHITE
                strokeCap = Paint.Cap.ROUND
                strokeJoin = Paint.Join.ROUND
            }
            for (shape in verdictSign(verdict, side.toDouble())) {
                val points = when (shape) {
                    is MarkShape.Line -> shape.points.also { paint.strokeWidth = shape.width.toFloat() }
                    is MarkShape.Area -> shape.points
                    else -> continue
                }
                paint.style = if (shape is MarkShape.Line) Paint.Style.STROKE else Paint.Style.FILL
                val path = Path()
                points.forEachIndexed { nth, at ->
                    if (nth == 0) path.moveTo(at.x.toFloat(), at.y.toFloat()) else path.lineTo(at.x.toFloat(), at.y.toFloat())
                }
                Canvas(bitmap).drawPath(path, paint)
            }
            return bitmap
        }
    }
}
