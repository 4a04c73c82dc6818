package ebbstead.sample.present

import ebbstead.EbbsteadCompanion
import ebbstead.Form

data class SettingsScreen(val form: Form, val message: String?)

/** The screen with the wearer's own settings: core's form, and what became of it. */
class SettingsPresenter(private val companion: EbbsteadCompanion, private val clock: Clock) {
    fun show(): Shown<SettingsScreen> = shown { SettingsScreen(companion.settings().form(emptyMap()), null) }

    fun save(filled: Map<String, String>): Shown<SettingsScreen> = shown {
        val kept = companion.settings().keep(filled, clock.now())
        SettingsScreen(kept.form, kept.message)
    }
}
