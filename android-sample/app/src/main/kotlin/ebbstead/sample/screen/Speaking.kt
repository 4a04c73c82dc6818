package ebbstead.sample.screen

import android.content.Context
import android.content.res.Configuration
import android.view.ContextThemeWrapper
import ebbstead.Language
import java.util.Locale

/**
 * A context in the wearer's language, whatever the phone's is: words are hyphenated by its rules, and the system's own dialogs
 * speak it.
 */
fun speaking(context: Context, language: Language): Context {
    val locale = when (language) {
        Language.ENGLISH -> Locale.ENGLISH
        Language.GERMAN -> Locale.GERMAN
    }
    return ContextThemeWrapper(context, android.R.style.Theme_DeviceDefault_DayNight).apply {
        applyOverrideConfiguration(Configuration(context.resources.configuration).apply { setLocale(locale) })
    }
}
