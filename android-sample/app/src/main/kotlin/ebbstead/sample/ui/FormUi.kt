package ebbstead.sample.ui

import androidx.compose.foundation.layout.*
import androidx.compose.material3.HorizontalDivider
import androidx.compose.runtime.*
import androidx.compose.runtime.snapshots.SnapshotStateMap
import androidx.compose.ui.Modifier
import ebbstead.*
import ebbstead.sample.present.*

/** What was touched of a form, until core lays it out anew. */
@Composable
fun touched(form: Form): SnapshotStateMap<String, String> = remember(form) { mutableStateMapOf() }

/** The fields of a form of core's, from top to bottom. What is touched goes into `filled`; `chose` is called with a choice. */
@Composable
fun FormUi(form: Form, filled: SnapshotStateMap<String, String>, chose: () -> Unit = {}) {
    for (field in form.fields) FieldUi(field, filled, chose)
}

@Composable
fun FieldUi(field: FormField, filled: SnapshotStateMap<String, String>, chose: () -> Unit = {}) {
    field.over?.let {
        HorizontalDivider(color = palette.tint)
        Heading(it)
    }
    val value = filled[field.id] ?: field.value
    fun put(text: String) {
        filled[field.id] = text
    }
    when (val takes = field.takes) {
        is FieldTakes.Clock -> Clocked(field, takes.steps, ::put)
        is FieldTakes.Choice -> Choice(field.title, takes.options.map { it.code to it.name }, value, folds = takes.folds) {
            put(it)
            chose()
        }
        else -> Typed(field, value, ::put)
    }
    if (field.takes is FieldTakes.Clock || field.takes is FieldTakes.Choice) field.advice?.let { DoneLine(Noted(it, null)) }
    field.note?.let { Small(it) }
}

/** Ahead: the answer first and in full, then what it was asked for. */
@Composable
fun BeforeUi(face: Face.Before, shell: Shell) {
    val (form, page) = face.answer.form to face.answer.page
    val filled = touched(form)
    fun ask() = shell.before(face.filled + filled)
    Scrolled(below = {
        Thumbs(listOf({ Act(shell.word(Label.BACK), it) { shell.back() } }, help(shell)))
    }) {
        if (page == null) Heading(form.heading) else PageUi(page)
        FormUi(form, filled, ::ask)
        Act(form.main, Modifier.fillMaxWidth(), strong = true, onClick = ::ask)
    }
}

@Composable
fun SettingsUi(face: Face.Settings, shell: Shell) {
    val filled = touched(face.form)
    Scrolled(below = { Thumbs(listOf({ Act(face.form.main, it, strong = filled.isNotEmpty()) { shell.save(filled.toMap()) } }, help(shell))) }) {
        face.message?.let { DoneLine(Noted(it, null)) }
        FormUi(face.form, filled)
        Small(shell.word(Label.NO_MEDICAL_DEVICE))
    }
}
