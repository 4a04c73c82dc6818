package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.Label
import ebbstead.MergePreview
import ebbstead.OtherLog
import ebbstead.sample.present.Clock
import ebbstead.sample.present.Field
import java.io.File

/** A log from elsewhere, or a sealed copy: a file where this app may read it, and what the wearer knows it as. */
data class Chosen(val file: File, val name: String)

/** Where the log goes out, for other programs or sealed, and where another comes in. */
class CopiesPage(companion: EbbsteadCompanion, clock: Clock, passing: File, other: Chosen?) : RecordPage(companion, clock, passing) {
    /** What the wearer looks into. */
    var other = other
        private set

    /** What taking it in would do, once it was looked into. */
    private var meeting: MergePreview? = null

    /**
     * The passphrase that opened the copy stands in its field, as dots, until the copy is merged or left: it is on the screen
     * that is asked for next, and in nothing that stays here.
     */
    private var opened: String? = null

    /** Lets go of what was chosen; nothing of it stays on the phone. */
    override fun leave() {
        // SQLite may have written beside what was read.
        other?.run { listOf("", "-wal", "-shm").forEach { File(file.path + it).delete() } }
        other = null
        meeting = null
        opened = null
    }

    override fun parts(): List<Part> = said() + (other?.let { lookingInto(it) } ?: goingOut())

    private fun goingOut(): List<Part> =
        press(Act.WRITE_TABLE, Act.WRITE_BUNDLE, Act.CHOOSE_OTHER) +
            Part.Heading(words.label(Act.SEAL.label)) +
            field(Ask.PASSPHRASE) + field(Ask.PASSPHRASE_AGAIN) + text(Label.PASSPHRASE_LOST) + press(Act.SEAL)

    private fun lookingInto(other: Chosen): List<Part> {
        val met = meeting
        val field = when (val part = field(Ask.PASSPHRASE_OF_COPY)) {
            is Part.Typed -> part.copy(field = part.field.copy(typed = opened.orEmpty()))
            else -> part
        }
        opened = null
        val found = if (met == null) emptyList() else
            met.lines.map { Part.Text(it) } + met.warnings.map { Part.Said(it) } +
                listOfNotNull(Label.NOTHING_NEW.takeIf { met.changesNothing }, Label.COPY_RESTORES.takeIf { met.restores }).map { text(it) } +
                when {
                    met.changesNothing -> emptyList()
                    met.warnings.isNotEmpty() -> press(Act.MERGE_ANYWAY)
                    else -> press(Act.MERGE)
                }
        return listOf(Part.Heading(other.name), field) + press(Act.LOOK_INTO_OTHER) + found + press(Act.LEAVE)
    }

    override fun done(act: Act, filled: Filled) {
        val other = other
        when (act) {
            Act.WRITE_TABLE -> make(named("ebbstead", "csv"), "text/csv", null) {
                companion.exchange().exportTable(it.path, true, null, null)
            }
            Act.WRITE_BUNDLE -> make(named("ebbstead", "json"), "application/fhir+json", null) {
                companion.exchange().exportBundle(it.path, true, null, now)
            }
            Act.SEAL -> seal(filled)
            Act.LEAVE -> leave()
            Act.LOOK_INTO_OTHER -> other?.let { look(it, filled) }
            Act.MERGE, Act.MERGE_ANYWAY -> other?.let { merge(it, act == Act.MERGE_ANYWAY, filled) }
            else -> Unit
        }
    }

    private fun seal(filled: Filled) {
        val passphrase = filled[Ask.PASSPHRASE].orEmpty()
        if (passphrase != filled[Ask.PASSPHRASE_AGAIN].orEmpty()) {
            return refuse(Ask.PASSPHRASE_AGAIN, words.label(Label.PASSPHRASES_DIFFER))
        }
        make(named("ebbstead", "age"), "application/octet-stream", Ask.PASSPHRASE) {
            companion.exchange().seal(it.path, true, passphrase, now)
        }
    }

    /** Only a sealed copy has a passphrase. */
    private fun opening(other: Chosen, filled: Filled): OtherLog {
        val passphrase = filled[Ask.PASSPHRASE_OF_COPY].orEmpty()
        return if (passphrase.isEmpty()) OtherLog.Open(other.file.path) else OtherLog.Sealed(other.file.path, passphrase)
    }

    private fun look(other: Chosen, filled: Filled) {
        meeting = null
        attempt(::field) {
            meeting = companion.exchange().previewMerge(opening(other, filled), now)
            opened = filled[Ask.PASSPHRASE_OF_COPY]
        }
    }

    private fun merge(other: Chosen, force: Boolean, filled: Filled) {
        attempt(::field) {
            val done = companion.exchange().merge(opening(other, filled), force, now)
            leave()
            say(done.messages)
        }
    }

    private fun field(refused: String): Ask? = if (refused == "passphrase") Ask.PASSPHRASE_OF_COPY else null
}
