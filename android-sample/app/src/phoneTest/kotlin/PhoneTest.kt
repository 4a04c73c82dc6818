import android.app.AlarmManager
import android.app.Application
import android.app.Notification
import android.app.NotificationManager
import android.content.Intent
import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.Moment
import ebbstead.Purpose
import ebbstead.ReadingAt
import ebbstead.RingChoice
import ebbstead.Symptom
import ebbstead.EntryKind
import ebbstead.sample.phone.AnswerReceiver
import ebbstead.sample.phone.PhoneState
import ebbstead.sample.phone.MainActivity
import ebbstead.sample.phone.Notices
import ebbstead.sample.phone.StartReceiver
import ebbstead.sample.phone.WatchService
import ebbstead.sample.phone.openLog
import ebbstead.sample.phone.phoneClock
import ebbstead.sample.present.Opens
import ebbstead.sample.present.minuteMoved
import java.time.LocalTime
import org.junit.After
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Before
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config

/** A reading in, the right notification out; an answer in, the right entry in the log. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [35])
class PhoneTest {
    private val context: Application = RuntimeEnvironment.getApplication()
    private val manager = context.getSystemService(NotificationManager::class.java)
    private lateinit var companion: EbbsteadCompanion

    @Before
    fun open() {
        companion = context.openLog()
        night(false)
    }

    @After
    fun close() {
        companion.closeLog()
        companion.close()
    }

    /** Puts the wearer's night around the present, or twelve hours away from it. */
    private fun night(now: Boolean) {
        val minute = minuteMoved(LocalTime.now().toSecondOfDay() / 60, if (now) 0 else 720)
        companion.settings().run {
            val around = wearer().copy(
                unit = GlucoseUnit.MG_DL, nightFromMinute = minuteMoved(minute, -120).toUShort(), nightUntilMinute = minuteMoved(minute, 120).toUShort(),
            )
            setWearer(around, phoneClock.now())
        }
    }

    private fun ago(minutes: Int) = phoneClock.now().run { Moment(unixMs - minutes * 60_000L, offsetMinutes) }

    /** Readings every five minutes, the last one now. */
    private fun read(vararg mgDl: Double) {
        val readings = mgDl.mapIndexed { n, one -> ReadingAt(ago(5 * (mgDl.size - 1 - n)), one) }
        companion.log().recordReadings("sensor 7", readings, phoneClock.now())
    }

    private fun step() {
        Notices(context, ebbstead.sample.present.Ringing(companion, phoneClock, PhoneState(context))).makeChannels()
        WatchService.ask(context, companion, PhoneState(context))
    }

    private fun rung(): Notification? = shadowOf(manager).getNotification(Notices.RING_ID)

    private fun noted() = companion.log().list(ago(5), phoneClock.now(), false, false).map { it.entry.what }

    private fun press(notice: Notification, which: Int) {
        val pending = shadowOf(notice.actions[which].actionIntent)
        assertTrue(pending.isBroadcastIntent && pending.isImmutable)
        assertEquals(AnswerReceiver::class.java.name, pending.savedIntent.component!!.className)
        AnswerReceiver().onReceive(context, pending.savedIntent)
    }

    @Test
    fun aReadingInRangeRingsNothingAndStandsQuietly() {
        read(120.0, 119.0, 118.0)
        step()
        assertNull(rung())
        val standing = shadowOf(manager).getNotification(Notices.STANDING_ID)
        assertEquals(Notices.STANDING, standing.channelId)
        assertTrue(shadowOf(standing).contentTitle.toString(), shadowOf(standing).contentTitle.startsWith("118 mg/dL"))
        assertEquals(NotificationManager.IMPORTANCE_LOW, manager.getNotificationChannel(Notices.STANDING).importance)
        assertEquals(NotificationManager.IMPORTANCE_HIGH, manager.getNotificationChannel(Notices.LOUD).importance)
        // Silence is to be noticed though the phone sleeps: half an hour after the newest reading.
        val alarm = shadowOf(context.getSystemService(AlarmManager::class.java)).nextScheduledAlarm!!
        assertTrue(Math.abs(alarm.triggerAtMs - ago(0).unixMs - 30 * 60_000L) < 60_000L)
        assertEquals(AnswerReceiver.STEP, shadowOf(alarm.operation).savedIntent.action)
    }

    @Test
    fun aLowRingsLoudAndIsAnsweredFromTheLockScreen() {
        read(85.0, 76.0, 66.0)
        step()
        val notice = rung()!!
        assertEquals(Notices.LOUD to Notification.CATEGORY_ALARM, notice.channelId to notice.category)
        assertTrue(notice.flags and Notification.FLAG_INSISTENT != 0 && notice.timeoutAfter > 0)
        assertNull(notice.fullScreenIntent)
        assertEquals(listOf("I treated", "Meter", "I feel low"), notice.actions.map { "${it.title}" })
        assertEquals(Opens.METER.name, shadowOf(notice.actions[1].actionIntent).savedIntent.action)
        // What anybody can read says what to do and names no amount.
        val open = shadowOf(notice.publicVersion)
        assertTrue("${open.contentTitle}".isNotBlank() && open.contentText == null)
        press(notice, 0)
        assertEquals(listOf(EntryKind.Carbohydrate(15.0, Purpose.RESCUE)), noted())
        assertNull(rung())
        press(notice, 2)
        assertTrue(noted().contains(EntryKind.Feeling(Symptom.FEELS_LOW)))
    }

    @Test
    fun aLowInTheNightFillsTheScreen() {
        night(true)
        read(85.0, 76.0, 66.0)
        step()
        val full = shadowOf(rung()!!.fullScreenIntent)
        assertEquals(MainActivity::class.java.name to Opens.WOKEN.name, full.savedIntent.component!!.className to full.savedIntent.action)
    }

    @Test
    fun whatWasRungIsNotRungAgainAndAnAnswerPutOffIsKept() {
        read(85.0, 76.0, 66.0)
        step()
        manager.cancel(Notices.RING_ID)
        step()
        assertNull(rung())
        AnswerReceiver().onReceive(context, Intent(context, AnswerReceiver::class.java).setAction(RingChoice.SNOOZE.name))
        assertNull(rung())
        assertTrue(PhoneState(context).alerts!!.contains("snoozed_until"))
        // A state that cannot be read rings once more rather than never.
        PhoneState(context).alerts = "nonsense"
        step()
        assertNotNull(rung())
    }

    @Test
    fun aHighIsQuietByDay() {
        read(181.0, 185.0, 190.0)
        step()
        val notice = rung()!!
        assertEquals(Notices.QUIET, notice.channelId)
        assertEquals(listOf("Meter", "In 15 minutes", "I feel low"), notice.actions.map { "${it.title}" })
        assertEquals(0, notice.flags and Notification.FLAG_INSISTENT)
    }

    @Test
    fun theServiceStandsInFrontWithItsNotification() {
        read(120.0, 119.0, 118.0)
        val service = Robolectric.buildService(WatchService::class.java).create().startCommand(0, 0)
        val shadow = shadowOf(service.get())
        assertEquals(Notices.STANDING_ID, shadow.lastForegroundNotificationId)
        assertEquals(Notices.STANDING, shadow.lastForegroundNotification.channelId)
        service.destroy()
    }

    @Test
    fun afterAStartItWatchesOnlyWhereASourceWasChosen() {
        fun booted(action: String): Intent? {
            StartReceiver().onReceive(context, Intent(action))
            return shadowOf(context).nextStartedService
        }
        assertNull(booted(Intent.ACTION_BOOT_COMPLETED))
        PhoneState(context).device = "00:00:5E:00:53:01"
        assertEquals(WatchService::class.java.name, booted(Intent.ACTION_BOOT_COMPLETED)!!.component!!.className)
        assertEquals(WatchService::class.java.name, booted(Intent.ACTION_MY_PACKAGE_REPLACED)!!.component!!.className)
        assertNull(booted("something.else"))
        PhoneState(context).device = null
        PhoneState(context).readsHealth = true
        assertEquals(WatchService::class.java.name, booted(Intent.ACTION_BOOT_COMPLETED)!!.component!!.className)
    }
}
