import com.google.gson.JsonArray
import com.google.gson.JsonElement
import com.google.gson.JsonNull
import com.google.gson.JsonObject
import com.google.gson.JsonParser
import com.google.gson.JsonPrimitive
import ebbstead.Answer
import ebbstead.EbbsteadCompanion
import ebbstead.GlucoseUnit
import ebbstead.InsulinKind
import ebbstead.Moment
import ebbstead.Occasion
import ebbstead.PromptState
import ebbstead.PromptTap
import ebbstead.Purpose
import ebbstead.Question
import ebbstead.ReadingAt
import ebbstead.SensorEvent
import ebbstead.Symptom
import ebbstead.EntryKind
import java.io.File
import java.lang.reflect.Modifier
import java.nio.file.Files
import org.junit.jupiter.api.Assertions.assertEquals
import org.junit.jupiter.api.Assertions.assertTrue
import org.junit.jupiter.api.DynamicTest
import org.junit.jupiter.api.TestFactory

/** The parity fixtures through the Kotlin bindings: equal field by field. */
class ParityTest {
    @TestFactory
    fun everyFixtureIsAnsweredAsWritten(): List<DynamicTest> {
        val files = File(System.getProperty("ebbstead.fixtures")).listFiles { _, name -> name.endsWith(".json") }!!.sorted()
        assertTrue(files.size >= 12)
        return files.map { file ->
            DynamicTest.dynamicTest(file.nameWithoutExtension) {
                val fixture = JsonParser.parseString(file.readText()).asJsonObject
                val got = canonical(answer(fixture)) as JsonObject
                assertEquals(fixture["verdict"].asString, got["prompt"].asJsonObject["verdict"].asString)
                assertSame("", fixture["expected"], got)
            }
        }
    }

    private fun answer(fixture: JsonObject): Answer {
        val folder = Files.createTempDirectory("parity").toFile()
        fun at(minutes: Long) =
            Moment(fixture["begin_unix_ms"].asLong + minutes * 60_000, fixture["offset_minutes"].asInt)
        val ask = fixture["ask"].asJsonObject
        val now = at(ask["after_minutes"].asLong)
        try {
            EbbsteadCompanion.open(File(folder, "log.ebb").path, "en", now).use { companion ->
                val settings = companion.settings()
                settings.setWearer(
                    settings.wearer().copy(
                        unit = GlucoseUnit.valueOf(fixture["unit"].asString.uppercase()),
                        language = mapOf("english" to "en", "german" to "de").getValue(fixture["language"].asString),
                        insulinFactorMgDlPerUnit = fixture["insulin_factor_mg_dl_per_unit"].number(),
                        carbohydrateFactorMgDlPerG = fixture["carbohydrate_factor_mg_dl_per_g"].number(),
                    ),
                    now,
                )
                val every = fixture["every_minutes"].asLong
                val readings = fixture["mg_dl"].asJsonArray.mapIndexed { n, one -> ReadingAt(at(n * every), one.asDouble) }
                companion.log().recordReadings("sensor 7", readings, now)
                for (one in fixture["notes"].asJsonArray) {
                    val note = one.asJsonObject
                    companion.log().record(what(note["kind"].asString, note["amount"].asDouble), at(note["minutes"].asLong), now)
                }
                val answer = when (fixture["answer"]?.takeUnless { it.isJsonNull }?.asString) {
                    null -> companion.check().ask(
                        Question(
                            now,
                            Occasion.valueOf(ask["occasion"].asString.uppercase()),
                            ask["feels"].takeUnless { it.isJsonNull }?.let { Symptom.valueOf(it.asString.uppercase()) },
                            ask["meter_mg_dl"].number(),
                        ),
                    )
                    "treated" -> companion.tapped(PromptTap.Treated, now)
                    "rolled_over" -> companion.tapped(PromptTap.RolledOver, now)
                    else -> error("unknown answer")
                }
                companion.closeLog()
                return answer
            }
        } finally {
            folder.deleteRecursively()
        }
    }

    /** What is answered once it was noted. */
    private fun EbbsteadCompanion.tapped(tap: PromptTap, now: Moment): Answer {
        promptScreens().tapped(tap, PromptState(null, null), now)
        return check().ask(Question(now, Occasion.WAKE, null, null))
    }

    private fun what(kind: String, amount: Double): EntryKind = when (kind) {
        "meter" -> EntryKind.MeterCheck(amount)
        "rapid" -> EntryKind.Insulin(InsulinKind.RAPID, amount)
        "meal" -> EntryKind.Carbohydrate(amount, Purpose.MEAL)
        "rescue" -> EntryKind.Carbohydrate(amount, Purpose.RESCUE)
        "sensor_inserted" -> EntryKind.Sensor(SensorEvent.Inserted(null))
        else -> error("unknown kind")
    }

    private fun JsonElement.number(): Double? = if (isJsonNull) null else asDouble
}

private fun plain(name: String) = name.replace("_", "").lowercase()

/** A record as an object, an enum as its name; with data, as an object with its name as the only key. */
private fun canonical(value: Any?): JsonElement = when (value) {
    null -> JsonNull.INSTANCE
    is String -> JsonPrimitive(if (value.isNotEmpty() && value.all(Char::isLetterOrDigit)) value.lowercase() else value)
    is Boolean -> JsonPrimitive(value)
    is UShort -> JsonPrimitive(value.toLong())
    is UInt -> JsonPrimitive(value.toLong())
    is ULong -> JsonPrimitive(value.toLong())
    is Number -> JsonPrimitive(value)
    is Enum<*> -> JsonPrimitive(plain(value.name))
    is List<*> -> JsonArray().apply { value.forEach { add(canonical(it)) } }
    else -> {
        val fields = JsonObject()
        for (field in value.javaClass.declaredFields.filterNot { Modifier.isStatic(it.modifiers) || it.isSynthetic }) {
            field.isAccessible = true
            fields.add(plain(field.name), canonical(field.get(value)))
        }
        val parent = value.javaClass.superclass
        when {
            parent == Any::class.java -> fields
            fields.isEmpty -> JsonPrimitive(plain(value.javaClass.simpleName))
            else -> JsonObject().apply { add(plain(value.javaClass.simpleName), fields) }
        }
    }
}

/** Numbers by value, everything else as it is; says where the first difference lies. */
private fun assertSame(where: String, expected: JsonElement, got: JsonElement) {
    when {
        expected is JsonObject && got is JsonObject -> {
            assertEquals(expected.keySet().sorted(), got.keySet().sorted(), where)
            expected.keySet().forEach { assertSame("$where.$it", expected[it], got[it]) }
        }
        expected is JsonArray && got is JsonArray -> {
            assertEquals(expected.size(), got.size(), where)
            expected.forEachIndexed { n, one -> assertSame("$where[$n]", one, got[n]) }
        }
        expected is JsonPrimitive && expected.isNumber && got is JsonPrimitive && got.isNumber ->
            assertEquals(expected.asDouble, got.asDouble, 0.0, where)
        else -> assertEquals(expected, got, where)
    }
}
