package ebbstead.sample.phone

import android.app.Activity
import android.os.Bundle
import android.widget.TextView
import ebbstead.Label
import ebbstead.labelWithoutLog

/** Opened from the phone's settings, where it lists who may read health records: what is read, and where it goes. */
class WhyHealthActivity : Activity() {
    override fun onCreate(saved: Bundle?) {
        super.onCreate(saved)
        setTitle(labelWithoutLog(spoken(), Label.READ_HEALTH))
        val edge = (24 * resources.displayMetrics.density).toInt()
        setContentView(TextView(this).apply {
            text = labelWithoutLog(spoken(), Label.HEALTH_STAYS)
            textSize = 17f
            setPadding(edge, edge, edge, edge)
        })
    }
}
