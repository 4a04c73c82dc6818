package ebbstead.sample.phone

import android.app.Notification
import android.app.NotificationChannel
import android.app.NotificationManager
import android.app.PendingIntent
import android.content.Context
import android.content.Intent
import android.media.AudioAttributes
import android.media.RingtoneManager
import ebbstead.AlertHow
import ebbstead.Label
import ebbstead.Ring
import ebbstead.RingChoice
import ebbstead.RingOffer
import ebbstead.sample.R
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Ringing

/** Turns a ring of core's into a notification; decides nothing about it. */
class Notices(private val context: Context, private val ringing: Ringing) {
    private val manager = context.getSystemService(NotificationManager::class.java)

    /** The wearer can change each channel's sound in the phone's own settings. */
    fun makeChannels() {
        val alarm = AudioAttributes.Builder().setUsage(AudioAttributes.USAGE_ALARM).build()
        val sound = RingtoneManager.getDefaultUri(RingtoneManager.TYPE_ALARM)
        val alerts = ringing.word(Label.SCREEN_ALERTS)
        manager.createNotificationChannel(NotificationChannel(LOUD, alerts, NotificationManager.IMPORTANCE_HIGH).apply {
            setSound(sound, alarm)
            enableVibration(true)
            setBypassDnd(true)
            lockscreenVisibility = Notification.VISIBILITY_PRIVATE
        })
        manager.createNotificationChannel(NotificationChannel(QUIET, "$alerts · ${ringing.word(Label.HIGH_LINE)}", NotificationManager.IMPORTANCE_DEFAULT))
        manager.createNotificationChannel(NotificationChannel(STANDING, ringing.word(Label.STANDING_CHANNEL), NotificationManager.IMPORTANCE_LOW))
    }

    /** The quiet one that stays, with the newest reading and its age. */
    fun standing(text: String?): Notification = Notification.Builder(context, STANDING)
        .setSmallIcon(R.drawable.notice)
        .setContentTitle(text ?: ringing.word(Label.NO_READINGS))
        .setContentIntent(opens(Opens.WHERE_IT_WAS))
        .setOngoing(true).setOnlyAlertOnce(true).setShowWhen(false)
        .setVisibility(Notification.VISIBILITY_PRIVATE)
        .setForegroundServiceBehavior(Notification.FOREGROUND_SERVICE_IMMEDIATE)
        .build()

    fun stand(text: String?) = manager.notify(STANDING_ID, standing(text))

    fun ring(ring: Ring, nowMs: Long) = manager.notify(RING_ID, built(ring, nowMs))

    /** Answered: the sound stops at once. */
    fun quiet() = manager.cancel(RING_ID)

    private fun built(ring: Ring, nowMs: Long): Notification {
        val quiet = ring.how == AlertHow.QUIET
        fun builder() = Notification.Builder(context, if (quiet) QUIET else LOUD)
            .setSmallIcon(R.drawable.notice)
            .setContentTitle(ring.title)
            .setCategory(if (quiet) Notification.CATEGORY_REMINDER else Notification.CATEGORY_ALARM)
            .setContentIntent(opens(Opens.WOKEN))
            .apply {
                ring.answers.take(ROOM).forEach { addAction(action(it)) }
            }
        // What anybody may read on a locked screen: what to do, and no amount.
        val open = builder().build()
        val notice = builder().setContentText(ring.text).setStyle(Notification.BigTextStyle().bigText(ring.text))
            .setVisibility(Notification.VISIBILITY_PRIVATE).setPublicVersion(open)
            .setOnlyAlertOnce(false).setShowWhen(true)
        if (!quiet) notice.setTimeoutAfter(maxOf(1, ring.until.unixMs - nowMs))
        if (ring.how == AlertHow.FULL_SCREEN) notice.setFullScreenIntent(opens(Opens.WOKEN), true)
        return notice.build().apply { if (!quiet) flags = flags or Notification.FLAG_INSISTENT }
    }

    private fun opens(at: Opens) = opens(context, at)

    private fun action(offer: RingOffer): Notification.Action {
        val pending = if (offer.opens) opens(if (offer.what == RingChoice.CALL) Opens.HELP else Opens.METER) else answers(offer.what)
        return Notification.Action.Builder(null, offer.text, pending).build()
    }

    private fun answers(what: RingChoice): PendingIntent = PendingIntent.getBroadcast(
        context, what.ordinal, Intent(context, AnswerReceiver::class.java).setAction(what.name),
        PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT,
    )

    companion object {
        const val LOUD = "loud"
        const val QUIET = "quiet"
        const val STANDING = "standing"
        const val STANDING_ID = 1
        const val RING_ID = 2

        /** A notification shows no more buttons than these. */
        const val ROOM = 3

        /** Opens the app, at a place in it. */
        fun opens(context: Context, at: Opens): PendingIntent = PendingIntent.getActivity(
            context, at.ordinal, Intent(context, MainActivity::class.java).setAction(at.name).addFlags(Intent.FLAG_ACTIVITY_NEW_TASK),
            PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT,
        )
    }
}
