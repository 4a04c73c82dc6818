import androidx.compose.runtime.Composable
import androidx.compose.runtime.CompositionLocalProvider
import androidx.compose.ui.text.font.FontFamily
import androidx.compose.ui.text.font.FontWeight
import androidx.compose.ui.text.platform.Font
import ebbstead.Moment
import ebbstead.RecordDocument
import ebbstead.sample.present.KeptState
import ebbstead.sample.present.Opens
import ebbstead.sample.present.Phone
import ebbstead.sample.present.Pick
import ebbstead.sample.present.Shell
import ebbstead.sample.ui.App
import ebbstead.sample.ui.LocalFace
import java.io.File

/** A phone that notes what it was asked for. */
class NotedPhone : Phone, KeptState {
    val dialled = mutableListOf<String>()
    val picked = mutableListOf<Pick>()
    val handed = mutableListOf<RecordDocument>()
    var sensors = 0
    var health = 0
    var allowed = 0
    var changes = 0
    override fun dial(number: String) { dialled += number }
    override fun pickFile(why: Pick) { picked += why }
    override fun findSensor() { sensors++ }
    var sources = 0
    override fun sourcesChanged() { sources++ }
    override fun readHealth() { health++ }
    override fun allowAlerts() { allowed++ }
    override fun handOver(document: RecordDocument) { handed += document }
    override fun logChanged() { changes++ }
    var quiet = 0
    override fun quiet() { quiet++ }
    override var isMuted = false
    override var alerts: String? = null
    override var unseen: String? = null
    override var began: Moment? = null
    override var numbers: Pair<String?, String?> = null to null
}

/** A shell on a world's log. What it is asked is done at once, where it was asked. */
class Stage(val world: World, val phone: NotedPhone = NotedPhone(), at: Opens = Opens.WHERE_IT_WAS, path: File = world.log, language: String = "en") {
    val shell = Shell(path.path, language, world.clock, { it.run() }, phone, phone, world.passing)

    init {
        // What opened it rang just now.
        if (at == Opens.RANG) phone.alerts = world.companion.alerts().step(null, world.now).state
        shell.open(at)
    }
}

/** Roboto, as most phones have it, where Debian's package put it; else whatever there is, and the pictures are not compared. */
val ROBOTO: FontFamily? = File("/usr/share/fonts/truetype/roboto/unhinted/RobotoTTF").takeIf { it.isDirectory }?.let { folder ->
    FontFamily(
        Font(File(folder, "Roboto-Regular.ttf"), FontWeight.Normal), Font(File(folder, "Roboto-Medium.ttf"), FontWeight.Medium),
        Font(File(folder, "Roboto-Medium.ttf"), FontWeight.SemiBold), Font(File(folder, "Roboto-Bold.ttf"), FontWeight.Bold),
    )
}

@Composable
fun Staged(shell: Shell, dark: Boolean) = CompositionLocalProvider(LocalFace provides (ROBOTO ?: FontFamily.Default)) { App(shell, dark) }
