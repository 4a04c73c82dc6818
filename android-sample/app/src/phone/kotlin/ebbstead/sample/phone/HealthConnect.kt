package ebbstead.sample.phone

import android.annotation.SuppressLint
import android.content.Context
import android.content.pm.PackageManager
import android.health.connect.*
import android.health.connect.datatypes.BloodGlucoseRecord
import android.health.connect.datatypes.BloodGlucoseRecord.RelationToMealType
import android.health.connect.datatypes.BloodGlucoseRecord.SpecimenSource
import android.health.connect.datatypes.Metadata
import android.os.Build
import android.os.OutcomeReceiver
import ebbstead.*
import ebbstead.sample.source.HealthStore
import java.time.Instant
import java.util.concurrent.Executor

/** The health store that Android has from 14 on. It is read; nothing is ever written there. */
class HealthConnect(
    private val context: Context, private val work: Executor, private val manager: HealthConnectManager? = manager(context),
) : HealthStore {
    override fun read(since: Moment, got: (List<HealthValue>) -> Unit, done: (trouble: Label?) -> Unit) {
        val manager = manager ?: return done(Label.HEALTH_MISSING)
        if (context.checkSelfPermission(READ) != PackageManager.PERMISSION_GRANTED) return done(Label.HEALTH_REFUSED)
        page(manager, Instant.ofEpochMilli(since.unixMs), null, got, done)
    }

    @SuppressLint("NewApi") // there is no manager before 14
    private fun page(manager: HealthConnectManager, since: Instant, token: Long?, got: (List<HealthValue>) -> Unit, done: (Label?) -> Unit) {
        val request = ReadRecordsRequestUsingFilters.Builder(BloodGlucoseRecord::class.java)
            .setTimeRangeFilter(TimeInstantRangeFilter.Builder().setStartTime(since).build()).setPageSize(PAGE)
            .apply { if (token == null) setAscending(true) else setPageToken(token) }
            .build()
        val answer = object : OutcomeReceiver<ReadRecordsResponse<BloodGlucoseRecord>, HealthConnectException> {
            override fun onResult(page: ReadRecordsResponse<BloodGlucoseRecord>) {
                got(page.records.map(::value))
                if (page.nextPageToken == NO_PAGE) done(null) else page(manager, since, page.nextPageToken, got, done)
            }

            override fun onError(refused: HealthConnectException) = done(trouble(refused.errorCode))
        }
        try {
            manager.readRecords(request, work, answer)
        } catch (refused: RuntimeException) {
            done(trouble((refused as? HealthConnectException)?.errorCode))
        }
    }

    @SuppressLint("NewApi")
    private fun value(record: BloodGlucoseRecord): HealthValue = HealthValue(
        at = Moment(record.time.toEpochMilli(), record.zoneOffset.totalSeconds / 60),
        amount = record.level.inMillimolesPerLiter,
        unit = GlucoseUnit.MMOL_L,
        specimen = when (record.specimenSource) {
            SpecimenSource.SPECIMEN_SOURCE_UNKNOWN -> Specimen.UNKNOWN
            SpecimenSource.SPECIMEN_SOURCE_INTERSTITIAL_FLUID -> Specimen.INTERSTITIAL_FLUID
            SpecimenSource.SPECIMEN_SOURCE_CAPILLARY_BLOOD, SpecimenSource.SPECIMEN_SOURCE_WHOLE_BLOOD,
            SpecimenSource.SPECIMEN_SOURCE_PLASMA, SpecimenSource.SPECIMEN_SOURCE_SERUM -> Specimen.BLOOD
            else -> Specimen.OTHER
        },
        typed = record.metadata.recordingMethod == Metadata.RECORDING_METHOD_MANUAL_ENTRY,
        tiedToMeal = record.relationToMeal in MEALS,
    )

    @SuppressLint("NewApi")
    private fun trouble(code: Int?): Label = when (code) {
        HealthConnectException.ERROR_SECURITY -> Label.HEALTH_REFUSED
        HealthConnectException.ERROR_UNSUPPORTED_OPERATION -> Label.HEALTH_MISSING
        HealthConnectException.ERROR_RATE_LIMIT_EXCEEDED, HealthConnectException.ERROR_DATA_SYNC_IN_PROGRESS -> Label.HEALTH_BUSY
        else -> Label.HEALTH_FAILED
    }

    companion object {
        const val READ = "android.permission.health.READ_BLOOD_GLUCOSE"

        /** What the wearer is asked for. A phone that knows no reading in the background refuses that alone. */
        val ASKED = arrayOf(READ, "android.permission.health.READ_HEALTH_DATA_IN_BACKGROUND")

        private const val PAGE = 1000
        private const val NO_PAGE = -1L
        private val MEALS = listOf(
            RelationToMealType.RELATION_TO_MEAL_FASTING, RelationToMealType.RELATION_TO_MEAL_BEFORE_MEAL, RelationToMealType.RELATION_TO_MEAL_AFTER_MEAL,
        )

        fun manager(context: Context): HealthConnectManager? =
            if (Build.VERSION.SDK_INT < Build.VERSION_CODES.UPSIDE_DOWN_CAKE) null else context.getSystemService(HealthConnectManager::class.java)
    }
}
