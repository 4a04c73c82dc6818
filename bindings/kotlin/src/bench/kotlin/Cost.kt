import ebbstead.EbbsteadCompanion
import ebbstead.FfiConverterTypeAnswer
import ebbstead.FfiConverterTypeQuestion
import ebbstead.Moment
import ebbstead.Occasion
import ebbstead.Question
import ebbstead.ReadingAt
import ebbstead.uniffiEnsureInitialized
import java.io.File
import java.util.Locale
import kotlin.math.sin

/*
 * What the bindings cost from Kotlin, on a log of ten years: `bench.sh` beside the pom runs it.
 *
 *   cold LOG          in a virtual machine just started: milliseconds to load the library, to open, to check
 *   run LOG PROGRAM   all of it; PROGRAM asks the same check in Rust and prints its median in microseconds
 */

private const val NOW_MS = 1_772_359_200_000
private const val READINGS = 1_000_000
private const val STEP_MS = 300_000L
private const val BATCH = 20_000
private const val COLD_STARTS = 9
private const val ROUNDS = 5
private const val WARM_UP = 2_000
private const val CALLS = 300

private val now = Moment(NOW_MS, 60)
private val question = Question(now, Occasion.LOOK, null, null)

private fun opened(path: String) = EbbsteadCompanion.open(path, "en", now)

fun main(arguments: Array<String>) {
    Locale.setDefault(Locale.ROOT)
    if (arguments[0] == "cold") cold(arguments[1]) else run(arguments[1], arguments[2])
}

private inline fun ms(what: () -> Unit): Double {
    val begun = System.nanoTime()
    what()
    return (System.nanoTime() - begun) / 1e6
}

private fun median(all: List<Double>) = all.sorted()[all.size / 2]

private fun cold(path: String) {
    val load = ms { uniffiEnsureInitialized() }
    lateinit var companion: EbbsteadCompanion
    val open = ms { companion = opened(path) }
    val check = ms { companion.check().ask(question) }
    println("$load $open $check")
}

private fun run(path: String, program: String) {
    write(path)
    println("a log of $READINGS readings, ${File(path).length() / 1_000_000} MB")

    val java = File(System.getProperty("java.home"), "bin/java").path
    val starts = (1..COLD_STARTS).map {
        said(java, "-Djna.library.path=${System.getProperty("jna.library.path")}", "-cp", System.getProperty("java.class.path"),
            "CostKt", "cold", path).trim().split(" ").map { one -> one.toDouble() }
    }
    println("cold, each in a virtual machine just started, median of $COLD_STARTS (least to most), ms:")
    listOf("load the library", "open", "check").forEachIndexed { n, name -> println(line(name, starts.map { it[n] })) }
    println(line("open and check", starts.map { it[1] + it[2] }))

    val again = (1..20).map { ms { opened(path).use { it.check().ask(question); it.closeLog() } } }
    println("open, check and close again in one that runs, ms:\n" + line("all three", again.drop(5)))

    val (kotlin, rust) = (1..ROUNDS).map { Pair(asked(path), said(program, path, "$NOW_MS").trim().toDouble()) }.unzip()
    println("the same check, medians of $CALLS calls, in turn, µs:")
    println(line("from Kotlin", kotlin))
    println(line("in Rust", rust))
    println(line("more, %", kotlin.zip(rust) { from, own -> (from - own) / from * 100 }))
    println("  (what the process around it does to it included; the bindings alone are below)")

    val parts = parts(path)
    println("what the bindings do for a check, each by itself, medians of $CALLS, µs:")
    parts.forEach { (name, took) -> println("  %-18s %8.1f".format(name, took)) }
    println("  %-18s %8.1f".format("all, % of a check", parts.sumOf { it.second } / median(kotlin) * 100))
}

/** A call across, the question on its way in, the answer on its way out and, dearer than in Rust, back in again. */
private fun parts(path: String): List<Pair<String, Double>> = opened(path).use { companion ->
    val answer = companion.check().ask(question)
    listOf(
        "an empty call" to steady { companion.due() },
        "the question" to steady { FfiConverterTypeQuestion.lift(FfiConverterTypeQuestion.lower(question)) },
        "the answer" to steady { FfiConverterTypeAnswer.lift(FfiConverterTypeAnswer.lower(answer)) },
    ).also { companion.closeLog() }
}

private fun steady(what: () -> Unit): Double {
    repeat(WARM_UP) { what() }
    return median((1..CALLS).map { ms(what) * 1000 })
}

private fun line(name: String, all: List<Double>) =
    "  %-18s %8.1f  (%.1f to %.1f)".format(name, median(all), all.min(), all.max())

private fun asked(path: String): Double = opened(path).use { companion ->
    val check = companion.check()
    steady { check.ask(question) }.also { companion.closeLog() }
}

private fun write(path: String) {
    if (File(path).exists()) return
    val unfinished = File("$path.unfinished").apply { delete() }
    opened(unfinished.path).use { companion ->
        val log = companion.log()
        for (from in 0 until READINGS step BATCH) {
            log.recordReadings("sensor", (from until from + BATCH).map { n ->
                // Invented: three swings a day about a level that wanders over the weeks.
                val level = 140 + 45 * sin(n * 6.283 / 96) + 20 * sin(n * 6.283 / 3001)
                ReadingAt(Moment(NOW_MS - (READINGS - 1 - n) * STEP_MS, 60), Math.round(level).toDouble())
            }, now)
        }
        companion.closeLog()
    }
    check(unfinished.renameTo(File(path)))
}

private fun said(vararg command: String): String {
    val process = ProcessBuilder(*command).redirectError(ProcessBuilder.Redirect.INHERIT).start()
    val text = process.inputStream.bufferedReader().readText()
    check(process.waitFor() == 0) { "${command[0]} failed" }
    return text
}
