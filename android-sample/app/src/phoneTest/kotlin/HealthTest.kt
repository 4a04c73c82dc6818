import android.app.AlarmManager
import android.app.Application
import android.content.Context
import android.content.Intent
import android.content.pm.ServiceInfo
import android.health.connect.HealthConnectException
import android.health.connect.HealthConnectManager
import android.health.connect.aidl.HealthConnectExceptionParcel
import android.health.connect.aidl.IHealthConnectService
import android.health.connect.aidl.IReadRecordsResponseCallback
import android.health.connect.aidl.ReadRecordsRequestParcel
import android.health.connect.aidl.ReadRecordsResponseParcel
import android.health.connect.aidl.RecordsParcel
import android.health.connect.datatypes.BloodGlucoseRecord
import android.health.connect.datatypes.BloodGlucoseRecord.RelationToMealType
import android.health.connect.datatypes.BloodGlucoseRecord.SpecimenSource
import android.health.connect.datatypes.DataOrigin
import android.health.connect.datatypes.Metadata
import android.health.connect.datatypes.units.BloodGlucose
import android.os.Binder
import ebbstead.GlucoseUnit
import ebbstead.HealthValue
import ebbstead.Label
import ebbstead.Moment
import ebbstead.Specimen
import ebbstead.sample.phone.AnswerReceiver
import ebbstead.sample.phone.PhoneState
import ebbstead.sample.phone.HealthConnect
import ebbstead.sample.phone.WatchService
import ebbstead.sample.phone.WhyHealthActivity
import ebbstead.sample.phone.background
import ebbstead.sample.phone.phoneClock
import java.lang.reflect.Proxy
import java.time.Instant
import java.time.ZoneOffset
import java.util.UUID
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config

/** The phone's health store: Android's own classes above a service that follows a script. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [35])
class HealthTest {
    private val context: Application = RuntimeEnvironment.getApplication()
    private val asked = mutableListOf<ReadRecordsRequestParcel>()

    /** Answers with one page after the other, or fails with a code of Android's. */
    private fun store(vararg pages: List<BloodGlucoseRecord>, fails: Int? = null): HealthConnect {
        val service = Proxy.newProxyInstance(javaClass.classLoader, arrayOf(IHealthConnectService::class.java)) { _, method, given ->
            when (method.name) {
                "asBinder" -> Binder()
                "readRecords" -> {
                    val request = given.first { it is ReadRecordsRequestParcel } as ReadRecordsRequestParcel
                    val answer = given.first { it is IReadRecordsResponseCallback } as IReadRecordsResponseCallback
                    val page = maxOf(0, request.pageToken.toInt())
                    asked += request
                    if (fails != null) answer.onError(HealthConnectExceptionParcel(HealthConnectException(fails)))
                    else answer.onResult(ReadRecordsResponseParcel(RecordsParcel(pages[page].map { it.toRecordInternal() }), if (page + 1 < pages.size) page + 1L else -1L))
                }
                else -> null
            }
        } as IHealthConnectService
        val manager = HealthConnectManager::class.java.getDeclaredConstructor(Context::class.java, IHealthConnectService::class.java)
            .apply { isAccessible = true }.newInstance(context, service)
        return HealthConnect(context, { it.run() }, manager)
    }

    private fun record(second: Long, mmolL: Double, specimen: Int, method: Int = Metadata.RECORDING_METHOD_AUTOMATICALLY_RECORDED, meal: Int = RelationToMealType.RELATION_TO_MEAL_UNKNOWN) =
        BloodGlucoseRecord.Builder(
            Metadata.Builder().setId("${UUID(0, second)}").setDataOrigin(DataOrigin.Builder().setPackageName("an.invented.app").build()).setRecordingMethod(method).build(),
            Instant.ofEpochSecond(second), specimen, BloodGlucose.fromMillimolesPerLiter(mmolL), meal, 0,
        ).setZoneOffset(ZoneOffset.ofHours(1)).build()

    /** What came, and what was wrong. */
    private fun read(store: HealthConnect): Pair<List<HealthValue>, List<Label?>> {
        val (values, ends) = mutableListOf<HealthValue>() to mutableListOf<Label?>()
        store.read(Moment(1_772_000_000_000, 60), { values += it }) { ends += it }
        return values to ends
    }

    @Test
    fun everyPageIsReadAndEachValueSaysWhatItIs() {
        shadowOf(context).grantPermissions(HealthConnect.READ)
        val first = listOf(
            record(1_772_000_060, 6.1, SpecimenSource.SPECIMEN_SOURCE_INTERSTITIAL_FLUID), record(1_772_000_120, 5.0, SpecimenSource.SPECIMEN_SOURCE_CAPILLARY_BLOOD),
            record(1_772_000_180, 5.1, SpecimenSource.SPECIMEN_SOURCE_UNKNOWN, Metadata.RECORDING_METHOD_MANUAL_ENTRY),
        )
        val second = listOf(
            record(1_772_000_240, 5.2, SpecimenSource.SPECIMEN_SOURCE_UNKNOWN, meal = RelationToMealType.RELATION_TO_MEAL_AFTER_MEAL),
            record(1_772_000_300, 5.3, SpecimenSource.SPECIMEN_SOURCE_UNKNOWN, meal = RelationToMealType.RELATION_TO_MEAL_GENERAL),
            record(1_772_000_360, 5.4, SpecimenSource.SPECIMEN_SOURCE_TEARS),
        )
        val (values, ends) = read(store(first, second))
        assertEquals(listOf(null), ends)
        assertEquals(HealthValue(Moment(1_772_000_060_000, 60), 6.1, GlucoseUnit.MMOL_L, Specimen.INTERSTITIAL_FLUID, false, false), values.first())
        assertEquals(
            listOf(Specimen.INTERSTITIAL_FLUID, Specimen.BLOOD, Specimen.UNKNOWN, Specimen.UNKNOWN, Specimen.UNKNOWN, Specimen.OTHER), values.map { it.specimen },
        )
        assertEquals(listOf(2), values.indices.filter { values[it].typed })
        assertEquals(listOf(3), values.indices.filter { values[it].tiedToMeal })
        assertEquals(listOf(1_772_000_000_000, 1_772_000_000_000), asked.map { it.startTime })
    }

    @Test
    fun whatFailsHasALabelOfCores() {
        assertEquals(listOf(Label.HEALTH_REFUSED), read(store(emptyList())).second)
        assertTrue(asked.isEmpty())
        shadowOf(context).grantPermissions(HealthConnect.READ)
        for ((code, label) in listOf(
            HealthConnectException.ERROR_SECURITY to Label.HEALTH_REFUSED, HealthConnectException.ERROR_RATE_LIMIT_EXCEEDED to Label.HEALTH_BUSY,
            HealthConnectException.ERROR_UNSUPPORTED_OPERATION to Label.HEALTH_MISSING, HealthConnectException.ERROR_IO to Label.HEALTH_FAILED,
        )) assertEquals(emptyList<HealthValue>() to listOf(label), read(store(fails = code)))
        assertEquals(listOf(Label.HEALTH_MISSING), read(HealthConnect(context, { it.run() }, null)).second)
    }

    /** The service reads first; should it not come to the step, the same alarm makes it. */
    @Test
    fun aStepThatIsDueReadsTheHealthStoreFirstAndIsMadeAllTheSame() {
        PhoneState(context).readsHealth = true
        fun step(intent: Intent): Intent? {
            AnswerReceiver().onReceive(context, intent)
            background.submit { }.get()
            return shadowOf(context).nextStartedService
        }
        assertEquals(WatchService::class.java.name, step(Intent(context, AnswerReceiver::class.java).setAction(AnswerReceiver.STEP))!!.component!!.className)
        val alarms = shadowOf(context.getSystemService(AlarmManager::class.java))
        val latest = alarms.nextScheduledAlarm!!
        assertEquals(60_000.0, (latest.triggerAtMs - phoneClock.now().unixMs).toDouble(), 5_000.0)
        assertEquals(null, step(shadowOf(latest.operation).savedIntent))
        val next = alarms.peekNextScheduledAlarm()!!
        assertEquals("asked again after five minutes", 300_000.0, (next.triggerAtMs - phoneClock.now().unixMs).toDouble(), 5_000.0)
        assertFalse(shadowOf(next.operation).savedIntent.getBooleanExtra(WatchService.AT_LATEST, false))
    }

    @Test
    fun withoutASensorTheServiceIsOfTheTypeThatHealthIsReadUnder() {
        PhoneState(context).readsHealth = true
        val service = Robolectric.buildService(WatchService::class.java).create()
        assertEquals(ServiceInfo.FOREGROUND_SERVICE_TYPE_HEALTH, service.get().foregroundServiceType)
        service.destroy()
    }

    /** Android's settings open this by what the manifest says. */
    @Test
    fun whyHealthIsReadIsSaidWhereTheSettingsAskForIt() {
        val asks = Intent(Intent.ACTION_VIEW_PERMISSION_USAGE).addCategory(HealthConnectManager.CATEGORY_HEALTH_PERMISSIONS).setPackage(context.packageName)
        assertEquals(listOf("ebbstead.sample.phone.WhyHealth"), context.packageManager.queryIntentActivities(asks, 0).map { it.activityInfo.name })
        val said = Robolectric.buildActivity(WhyHealthActivity::class.java).setup().get()
        val text = said.findViewById<android.view.ViewGroup>(android.R.id.content).getChildAt(0) as android.widget.TextView
        assertTrue("${text.text}", "cannot use a network" in text.text)
    }
}
