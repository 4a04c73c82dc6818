package ebbstead.sample.phone

import android.app.*
import android.content.Context
import android.content.Intent
import android.media.AudioAttributes
import android.media.AudioManager
import android.media.RingtoneManager
import android.os.Build
import ebbstead.*
import ebbstead.sample.R
import ebbstead.sample.present.Opens

/** Turns a ring of core's into a notification; decides nothing about it. */
object Notices {
    const val LOUD = "loud"
    const val QUIET = "quiet"
    const val STANDING = "standing"
    const val STANDING_ID = 1
    const val RING_ID = 2
    private const val TOLD_ID = 3
    const val LEFT_ID = 4

    /** The ring that nobody answered is over. */
    const val LEFT = "LEFT"

    /** When it rang that is answered. */
    const val RANG = "RANG"

    /** A notification shows no more buttons than these. */
    private const val ROOM = 3

    private fun manager(context: Context) = context.getSystemService(NotificationManager::class.java)

    /** The wearer can change each channel's sound in the phone's own settings. */
    fun makeChannels(context: Context, word: (Label) -> String) {
        fun make(id: String, name: String, importance: Int, more: NotificationChannel.() -> Unit = {}) =
            manager(context).createNotificationChannel(NotificationChannel(id, name, importance).apply(more))
        make(LOUD, word(Label.SCREEN_ALERTS), NotificationManager.IMPORTANCE_HIGH) {
            setSound(RingtoneManager.getDefaultUri(RingtoneManager.TYPE_ALARM), AudioAttributes.Builder().setUsage(AudioAttributes.USAGE_ALARM).build())
            enableVibration(true)
            lockscreenVisibility = Notification.VISIBILITY_PRIVATE
        }
        make(QUIET, word(Label.QUIET_CHANNEL), NotificationManager.IMPORTANCE_DEFAULT)
        // For what is left of a ring, and what is put in its place: it sounded already.
        make(LEFT, word(Label.LEFT_CHANNEL), NotificationManager.IMPORTANCE_DEFAULT) { setSound(null, null) }
        make(STANDING, word(Label.STANDING_CHANNEL), NotificationManager.IMPORTANCE_LOW)
    }

    /** Without a channel nothing is shown; core's words for it come with the log. */
    private fun ensure(context: Context, channel: String) {
        if (manager(context).getNotificationChannel(channel) == null) makeChannels(context) { context.getString(R.string.app_name) }
    }

    /** The quiet one that stays, with the newest reading and its time. */
    fun standing(context: Context, text: String): Notification {
        ensure(context, STANDING)
        return Notification.Builder(context, STANDING)
            .setSmallIcon(R.drawable.notice)
            .setContentTitle(text)
            .setContentIntent(opens(context, Opens.WHERE_IT_WAS))
            .setOngoing(true).setOnlyAlertOnce(true).setShowWhen(false)
            .setVisibility(Notification.VISIBILITY_PRIVATE)
            .setForegroundServiceBehavior(Notification.FOREGROUND_SERVICE_IMMEDIATE)
            .build()
    }

    fun stand(context: Context, text: String) = manager(context).notify(STANDING_ID, standing(context, text))

    /** It takes the place of what rang before, and of that one's end. */
    fun ring(context: Context, ring: Ring, nowMs: Long) {
        quiet(context)
        manager(context).notify(RING_ID, built(context, ring, nowMs))
        if (ring.how == AlertHow.QUIET) return
        // It sounds until core says; then it stays without a sound, for whoever wakes later.
        context.getSystemService(AlarmManager::class.java).setExactAndAllowWhileIdle(AlarmManager.RTC_WAKEUP, ring.until.unixMs, leaves(context, left(context, ring)))
    }

    /** What nobody answered, as it reads now. */
    fun leave(context: Context, ring: Ring) {
        quiet(context)
        manager(context).notify(LEFT_ID, left(context, ring))
    }

    /** Answered, or over: the sound stops at once. */
    fun quiet(context: Context) {
        context.getSystemService(AlarmManager::class.java).cancel(leaves(context, null))
        manager(context).cancel(RING_ID)
        manager(context).cancel(LEFT_ID)
    }

    /** Nobody answered. */
    fun leave(context: Context, intent: Intent) {
        manager(context).cancel(RING_ID)
        intent.getParcelableExtra(LEFT, Notification::class.java)?.let { manager(context).notify(LEFT_ID, it) }
    }

    private fun leaves(context: Context, left: Notification?): PendingIntent = PendingIntent.getBroadcast(
        context, LEFT_ID, Intent(context, AnswerReceiver::class.java).setAction(LEFT).putExtra(LEFT, left),
        PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT,
    )

    /** What went wrong while nobody looked; loud where nothing else would ring. */
    fun tell(context: Context, text: String, channel: String = QUIET) {
        ensure(context, channel)
        val notice = Notification.Builder(context, channel).setSmallIcon(R.drawable.notice).setContentText(text).setStyle(Notification.BigTextStyle().bigText(text))
            .setCategory(if (channel == LOUD) Notification.CATEGORY_ALARM else Notification.CATEGORY_ERROR)
            .setContentIntent(opens(context, Opens.WHERE_IT_WAS)).setAutoCancel(true).setOnlyAlertOnce(channel == QUIET)
        manager(context).notify(TOLD_ID, notice.build())
    }

    fun untell(context: Context) = manager(context).cancel(TOLD_ID)

    /** Whether the phone lets what rings not be heard: held back or silenced, its alarms at no volume, or "do not disturb" without alarms. */
    fun areOff(context: Context, fillsScreen: Boolean = fillsScreen(context)): Boolean {
        val manager = manager(context)
        val silenced = manager.getNotificationChannel(LOUD)?.run { importance < NotificationManager.IMPORTANCE_HIGH || sound == null } == true
        val undisturbed = when (manager.currentInterruptionFilter) {
            NotificationManager.INTERRUPTION_FILTER_NONE -> true
            NotificationManager.INTERRUPTION_FILTER_PRIORITY ->
                manager.consolidatedNotificationPolicy.priorityCategories and NotificationManager.Policy.PRIORITY_CATEGORY_ALARMS == 0
            else -> false
        }
        val volume = context.getSystemService(AudioManager::class.java).getStreamVolume(AudioManager.STREAM_ALARM)
        return !manager.areNotificationsEnabled() || silenced || undisturbed || volume == 0 || !fillsScreen
    }

    /** Whether what rings in the night may fill a locked screen. From Android 14 on that is allowed apart, and may be withdrawn. */
    fun fillsScreen(context: Context): Boolean =
        Build.VERSION.SDK_INT < Build.VERSION_CODES.UPSIDE_DOWN_CAKE || manager(context).canUseFullScreenIntent()

    private fun builder(context: Context, ring: Ring, channel: String, answers: List<RingOffer>): Notification.Builder {
        fun bare() = Notification.Builder(context, channel)
            .setSmallIcon(R.drawable.notice)
            .setContentTitle(ring.title)
            .setCategory(if (channel == LOUD) Notification.CATEGORY_ALARM else Notification.CATEGORY_REMINDER)
            .setContentIntent(opens(context, Opens.RANG)).setAutoCancel(true)
            .apply {
                answers.take(ROOM).forEach { addAction(action(context, it, ring.at)) }
            }
        // What anybody may read on a locked screen: what to do, and no amount.
        return bare().setContentText(ring.text).setStyle(Notification.BigTextStyle().bigText(ring.text))
            .setVisibility(Notification.VISIBILITY_PRIVATE).setPublicVersion(bare().build())
            .setOnlyAlertOnce(false).setShowWhen(true)
    }

    private fun left(context: Context, ring: Ring): Notification = builder(context, ring, LEFT, ring.left).build()

    private fun built(context: Context, ring: Ring, nowMs: Long): Notification {
        val quiet = ring.how == AlertHow.QUIET
        val notice = builder(context, ring, if (quiet) QUIET else LOUD, ring.answers)
        if (!quiet) notice.setTimeoutAfter(maxOf(1, ring.until.unixMs - nowMs))
        if (ring.how == AlertHow.FULL_SCREEN) notice.setFullScreenIntent(opens(context, Opens.RANG), true)
        return notice.build().apply { if (!quiet) flags = flags or Notification.FLAG_INSISTENT }
    }

    private fun action(context: Context, offer: RingOffer, rangAt: Moment): Notification.Action {
        val pending = if (offer.opens) opens(context, if (offer.what == RingChoice.CALL) Opens.HELP else Opens.METER) else answers(context, offer.what, rangAt)
        return Notification.Action.Builder(null, offer.text, pending).build()
    }

    private fun answers(context: Context, what: RingChoice, rangAt: Moment): PendingIntent = PendingIntent.getBroadcast(
        context, what.ordinal, Intent(context, AnswerReceiver::class.java).setAction(what.name).putExtra(RANG, longArrayOf(rangAt.unixMs, rangAt.offsetMinutes.toLong())),
        PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT,
    )

    /** When it rang that an intent answers. */
    fun rangAt(intent: Intent): Moment = intent.getLongArrayExtra(RANG)?.let { (at, offset) -> Moment(at, offset.toInt()) } ?: phoneClock.now()

    /** Opens the app, at a place in it. */
    fun opens(context: Context, at: Opens): PendingIntent = PendingIntent.getActivity(
        context, at.ordinal, Intent(context, MainActivity::class.java).setAction(at.name).addFlags(Intent.FLAG_ACTIVITY_NEW_TASK),
        PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT,
    )
}
