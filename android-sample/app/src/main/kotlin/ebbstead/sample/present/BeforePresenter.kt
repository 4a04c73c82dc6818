package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.Form
import ebbstead.Page

data class BeforeScreen(
    /** What core asks for. */
    val form: Form,
    /** What it answers. */
    val page: Page?,
)

/** What is asked ahead: before sleep, a drive, movement. */
class BeforePresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    private var filled = emptyMap<String, String>()

    fun open(): Shown<BeforeScreen> {
        filled = emptyMap()
        return refresh()
    }

    /** Asks with what was chosen and typed. */
    fun ask(filled: Map<String, String>): Shown<BeforeScreen> {
        this.filled += filled
        return refresh()
    }

    fun refresh(): Shown<BeforeScreen> = shown {
        val asked = companion.before().asked(filled, clock.now())
        BeforeScreen(asked.form, asked.page)
    }
}
