package ebbstead.sample.phone

import android.app.Activity
import android.os.Bundle
import android.widget.TextView
import ebbstead.ApiException
import ebbstead.Label
import ebbstead.sample.present.advice

/** Opened from the phone's settings, where it lists who may read health records: what is read, and where it goes. */
class WhyHealthActivity : Activity() {
    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        val (title, why) = try {
            openLog().use { companion ->
                val words = companion.words()
                val said = words.label(Label.READ_HEALTH) to words.label(Label.HEALTH_STAYS)
                said.also { companion.closeLog() }
            }
        } catch (refused: ApiException) {
            "" to refused.advice()
        }
        setTitle(title)
        val edge = (24 * resources.displayMetrics.density).toInt()
        setContentView(TextView(this).apply {
            text = why
            textSize = 17f
            setPadding(edge, edge, edge, edge)
        })
    }
}
