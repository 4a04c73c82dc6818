import android.Manifest
import android.app.AlarmManager
import android.app.Application
import android.app.Notification
import android.app.NotificationChannel
import android.app.NotificationManager
import android.bluetooth.BluetoothAdapter
import android.bluetooth.BluetoothManager
import android.content.Intent
import android.content.pm.ServiceInfo
import android.media.AudioManager
import android.os.Looper
import ebbstead.AlertHow
import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.Moment
import ebbstead.NearbyKind
import ebbstead.Purpose
import ebbstead.ReadingAt
import ebbstead.RingChoice
import ebbstead.Symptom
import ebbstead.EntryKind
import ebbstead.FirstAsk
import ebbstead.sample.phone.AnswerReceiver
import ebbstead.sample.phone.PhoneState
import ebbstead.sample.phone.MainActivity
import ebbstead.sample.phone.Notices
import ebbstead.sample.phone.StartReceiver
import ebbstead.sample.phone.WatchService
import ebbstead.sample.phone.background
import ebbstead.sample.phone.isWatched
import ebbstead.sample.phone.logPath
import ebbstead.sample.phone.openLog
import ebbstead.sample.phone.phoneClock
import ebbstead.sample.present.Opens
import java.io.File
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
        val middle = LocalTime.now().plusHours(if (now) 0 else 12)
        fun minute(time: LocalTime) = (time.toSecondOfDay() / 60).toUShort()
        companion.settings().run {
            val around = wearer().copy(
                unit = GlucoseUnit.MG_DL, nightFromMinute = minute(middle.minusHours(2)), nightUntilMinute = minute(middle.plusHours(2)),
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
        Notices.makeChannels(context) { companion.words().label(it) }
        WatchService.ask(context, companion, PhoneState(context))
    }

    private fun rung(): Notification? = shadowOf(manager).getNotification(Notices.RING_ID)

    private fun noted() = companion.log().list(ago(5), phoneClock.now(), false, false).map { it.entry.what }

    private fun press(notice: Notification, which: Int) {
        val pending = shadowOf(notice.actions[which].actionIntent)
        assertTrue(pending.isBroadcastIntent && pending.isImmutable)
        assertEquals(AnswerReceiver::class.java.name, pending.savedIntent.component!!.className)
        received(pending.savedIntent)
    }

    private fun received(intent: Intent) {
        AnswerReceiver().onReceive(context, intent)
        background.submit { }.get()
    }

    private val alarms = shadowOf(context.getSystemService(AlarmManager::class.java))

    private fun damage() {
        companion.closeLog()
        listOf("", "-wal", "-shm").forEach { File(context.logPath() + it).delete() }
        File(context.logPath()).writeText("no log")
    }

    /** What a service does on its own thread comes a little later. */
    private fun soon(what: () -> Boolean) {
        repeat(200) { if (!what()) Thread.sleep(50) }
        assertTrue(what())
    }

    @Test
    fun aReadingInRangeRingsNothingAndStandsQuietly() {
        read(120.0, 119.0, 118.0)
        step()
        assertNull(rung())
        val standing = shadowOf(manager).getNotification(Notices.STANDING_ID)
        assertEquals(Notices.STANDING, standing.channelId)
        assertTrue(shadowOf(standing).contentTitle.toString(), shadowOf(standing).contentTitle.matches(Regex("118 mg/dL · \\d\\d:\\d\\d")))
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
        assertEquals(listOf("I treated a low", "Meter", "I feel low"), notice.actions.map { "${it.title}" })
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
    fun aRingThatNobodyAnsweredStaysWithoutASoundUntilItIsAnswered() {
        read(85.0, 76.0, 66.0)
        step()
        val loud = rung()!!
        fun ends() = alarms.scheduledAlarms.filter { shadowOf(it.operation).savedIntent.action == Notices.LEFT }
        val end = ends().single()
        assertTrue(Math.abs(end.triggerAtMs - phoneClock.now().unixMs - loud.timeoutAfter) < 10_000)
        fun left(): Notification? = shadowOf(manager).getNotification(Notices.LEFT_ID)
        received(shadowOf(end.operation).savedIntent)
        assertNull(rung())
        assertEquals(Notices.LEFT to 0, left()!!.channelId to (left()!!.flags and Notification.FLAG_INSISTENT))
        assertNull("it sounded already", manager.getNotificationChannel(Notices.LEFT).sound)
        // What was done earlier is not noted as of now: both open the app.
        assertEquals("${shadowOf(loud).contentTitle}" to listOf("Meter", "Get help"), "${shadowOf(left()).contentTitle}" to left()!!.actions.map { "${it.title}" })
        press(loud, 0)
        assertNull(left())
        assertEquals("what was answered is not left behind", 0, ends().size)
    }

    @Test
    fun whatRangIsTakenAwayOnceItIsOver() {
        read(85.0, 76.0, 66.0)
        step()
        assertNotNull(rung())
        companion.log().record(EntryKind.MeterCheck(104.0), phoneClock.now(), phoneClock.now())
        step()
        assertNull(rung())
    }

    @Test
    fun anAnswerToAnOldRingIsNotNotedAsOfNow() {
        read(85.0, 76.0, 66.0)
        step()
        val answer = shadowOf(rung()!!.actions[0].actionIntent).savedIntent
        received(Intent(answer).putExtra(Notices.RANG, longArrayOf(ago(240).unixMs, 60)))
        assertEquals(emptyList<EntryKind>(), noted())
        assertNull(rung())
        assertTrue(shadowOf(manager).allNotifications.any { "${shadowOf(it).contentText}".startsWith("Not noted") })
    }

    @Test
    fun aLowInTheNightFillsTheScreen() {
        night(true)
        read(85.0, 76.0, 66.0)
        step()
        val full = shadowOf(rung()!!.fullScreenIntent)
        assertEquals(MainActivity::class.java.name to Opens.RANG.name, full.savedIntent.component!!.className to full.savedIntent.action)
        // A tap on it ends the sound, and opens the same.
        assertEquals(Opens.RANG.name, shadowOf(rung()!!.contentIntent).savedIntent.action)
        assertTrue(rung()!!.flags and Notification.FLAG_AUTO_CANCEL != 0)
    }

    @Test
    fun whatWasRungIsNotRungAgainAndAnAnswerPutOffIsKept() {
        read(85.0, 76.0, 66.0)
        step()
        manager.cancel(Notices.RING_ID)
        step()
        assertNull(rung())
        val put = Regex("\"snoozed_until\":(?!null)")
        assertTrue(!put.containsMatchIn(PhoneState(context).alerts!!))
        received(Intent(context, AnswerReceiver::class.java).setAction(RingChoice.SNOOZE.name))
        assertNull(rung())
        assertTrue(put.containsMatchIn(PhoneState(context).alerts!!))
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
        PhoneState(context).choose(NearbyKind.SENSOR, sensor)
        assertEquals(WatchService::class.java.name, booted(Intent.ACTION_BOOT_COMPLETED)!!.component!!.className)
        assertEquals(WatchService::class.java.name, booted(Intent.ACTION_MY_PACKAGE_REPLACED)!!.component!!.className)
        assertNull(booted("something.else"))
        // Locked, it cannot look; it says so where it watched before.
        val notices = shadowOf(context.getSystemService(android.app.NotificationManager::class.java))
        fun said() = notices.allNotifications.any { "${it.extras.getCharSequence("android.text")}" == "Unlock this phone: until then no reading is watched and no alert can ring." }
        context.isWatched = false
        assertNull(booted(Intent.ACTION_LOCKED_BOOT_COMPLETED))
        assertTrue(!said())
        context.isWatched = true
        assertNull(booted(Intent.ACTION_LOCKED_BOOT_COMPLETED))
        assertTrue(said())
        booted(Intent.ACTION_BOOT_COMPLETED)
        assertTrue(!said())
        PhoneState(context).choose(NearbyKind.SENSOR, null)
        PhoneState(context).readsHealth = true
        assertEquals(WatchService::class.java.name, booted(Intent.ACTION_BOOT_COMPLETED)!!.component!!.className)
    }

    @Test
    fun whatIsFollowedCanBeLeft() {
        val state = PhoneState(context)
        state.choose(NearbyKind.SENSOR, sensor)
        state.readsHealth = true
        assertEquals(listOf("sensor 7"), state.followed(FirstAsk.FIND_SENSOR).map { it.name })
        for (ask in FirstAsk.entries) state.followed(ask).forEach { it.leave() }
        assertTrue(!state.watches && FirstAsk.entries.all { state.followed(it).isEmpty() })
    }

    private val sensor = PhoneState.Chosen("00:00:5E:00:53:01", "sensor 7")

    @Test
    fun anAnswerThatCannotBeNotedEndsTheSoundIsSaidAndIsNoEndOfTheCheckForSilence() {
        read(85.0, 76.0, 66.0)
        step()
        val answer = shadowOf(rung()!!.actions[0].actionIntent).savedIntent
        damage()
        for (intent in listOf(answer, Intent(context, AnswerReceiver::class.java).setAction(AnswerReceiver.STEP))) {
            manager.getActiveNotifications().filter { it.id != Notices.RING_ID }.forEach { manager.cancel(it.id) }
            context.getSystemService(AlarmManager::class.java).let { all -> alarms.scheduledAlarms.toList().forEach { all.cancel(it.operation) } }
            received(intent)
            assertNull(rung())
            if (intent == answer) {
                val told = shadowOf(manager).allNotifications.single()
                assertTrue("${shadowOf(told).contentText}".isNotBlank() && told.channelId == Notices.QUIET)
            }
            val next = alarms.scheduledAlarms.single { it.type == AlarmManager.RTC_WAKEUP }
            assertEquals(AnswerReceiver.STEP, shadowOf(next.operation).savedIntent.action)
            assertTrue(next.triggerAtMs - phoneClock.now().unixMs in 1..60_000)
        }
    }

    /** Nothing else would ring, and nobody would wake. */
    @Test
    fun thatStepsKeepFailingIsSaidLoudOnce() {
        step()
        damage()
        fun told() = shadowOf(manager).allNotifications.filter { it.channelId == Notices.LOUD }
        for (failed in 1..4) {
            received(Intent(context, AnswerReceiver::class.java).setAction(AnswerReceiver.STEP))
            assertEquals(if (failed < 3) 0 else 1, told().size)
            val next = alarms.scheduledAlarms.single { shadowOf(it.operation).savedIntent.action == AnswerReceiver.STEP }
            assertTrue(next.triggerAtMs - phoneClock.now().unixMs in 1..60_000)
        }
        assertEquals(Notification.CATEGORY_ALARM, told().single().category)
    }

    @Test
    fun theEndOfAnOldRingReplacesNoNewerOne() {
        read(85.0, 76.0, 66.0)
        step()
        fun ends() = alarms.scheduledAlarms.count { shadowOf(it.operation).savedIntent.action == Notices.LEFT }
        assertEquals(1, ends())
        val ring = companion.alerts().step(null, phoneClock.now()).ring!!
        Notices.ring(context, ring.copy(how = AlertHow.QUIET), phoneClock.now().unixMs)
        assertEquals(0, ends())
        assertEquals(Notices.QUIET, rung()!!.channelId)
    }

    @Test
    fun theServiceStandsInFrontThoughTheLogCannotBeOpenedAndIsTriedAgain() {
        damage()
        PhoneState(context).choose(NearbyKind.SENSOR, sensor)
        val service = Robolectric.buildService(WatchService::class.java).create()
        assertNotNull(shadowOf(service.get()).lastForegroundNotification)
        soon { alarms.scheduledAlarms.any { shadowOf(it.operation).savedIntent.action == AnswerReceiver.STEP } }
        service.destroy()
        // The next step starts it again: without it no connection comes back.
        received(Intent(context, AnswerReceiver::class.java).setAction(AnswerReceiver.STEP))
        assertEquals(WatchService::class.java.name, shadowOf(context).nextStartedService.component!!.className)
    }

    @Test
    fun aSensorIsFollowedWhereThatIsAllowedAndAgainOnceBluetoothIsBack() {
        PhoneState(context).choose(NearbyKind.SENSOR, sensor)
        PhoneState(context).choose(NearbyKind.METER, PhoneState.Chosen("00:00:5E:00:53:02", "meter 2"))
        Robolectric.buildService(WatchService::class.java).create().run {
            assertEquals(ServiceInfo.FOREGROUND_SERVICE_TYPE_HEALTH, get().foregroundServiceType)
            destroy()
        }
        shadowOf(context).grantPermissions(Manifest.permission.BLUETOOTH_CONNECT)
        val service = Robolectric.buildService(WatchService::class.java).create()
        assertEquals(ServiceInfo.FOREGROUND_SERVICE_TYPE_CONNECTED_DEVICE, service.get().foregroundServiceType)
        val adapter = context.getSystemService(BluetoothManager::class.java).adapter
        fun connected(address: String) = shadowOf(adapter.getRemoteDevice(address)).bluetoothGatts.size
        soon { connected(sensor.address) > 0 && connected("00:00:5E:00:53:02") > 0 }
        val before = connected(sensor.address)
        context.sendBroadcast(Intent(BluetoothAdapter.ACTION_STATE_CHANGED).putExtra(BluetoothAdapter.EXTRA_STATE, BluetoothAdapter.STATE_ON))
        shadowOf(Looper.getMainLooper()).idle()
        soon { connected(sensor.address) > before }
        service.destroy()
    }

    @Test
    fun whatASensorRemarksWaitsAndItsSessionIsOfferedOnce() {
        val state = PhoneState(context)
        state.remark(listOf("battery low", "check with a meter"))
        state.remark(listOf("battery low"))
        assertEquals("battery low\ncheck with a meter", PhoneState(context).unseen)
        val began = ago(60)
        state.began = began
        assertEquals(began, PhoneState(context).began)
        state.began = null
        // It says so again each time it comes into reach.
        state.began = began
        assertNull(PhoneState(context).began)
    }

    @Test
    fun alertsThatCannotRingAreKnown() {
        step()
        val audio = context.getSystemService(AudioManager::class.java)
        audio.setStreamVolume(AudioManager.STREAM_ALARM, 5, 0)
        assertTrue("not over a locked screen", Notices.areOff(context, fillsScreen = false))
        assertTrue(!Notices.areOff(context, fillsScreen = true))
        shadowOf(manager).setNotificationsEnabled(false)
        assertTrue(Notices.areOff(context, fillsScreen = true))
        shadowOf(manager).setNotificationsEnabled(true)
        audio.setStreamVolume(AudioManager.STREAM_ALARM, 0, 0)
        assertTrue(Notices.areOff(context, fillsScreen = true))
        audio.setStreamVolume(AudioManager.STREAM_ALARM, 5, 0)
        assertTrue(!Notices.areOff(context, fillsScreen = true))
        manager.deleteNotificationChannel(Notices.LOUD)
        manager.createNotificationChannel(NotificationChannel(Notices.LOUD, "Alerts", NotificationManager.IMPORTANCE_LOW))
        assertTrue("silenced in the phone's settings", Notices.areOff(context, fillsScreen = true))
    }
}
