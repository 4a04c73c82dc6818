package ebbstead.sample.ui

import androidx.compose.foundation.layout.Arrangement
import androidx.compose.foundation.layout.Column
import androidx.compose.foundation.layout.Row
import androidx.compose.foundation.layout.fillMaxWidth
import androidx.compose.foundation.layout.padding
import androidx.compose.material3.HorizontalDivider
import androidx.compose.material3.MaterialTheme
import androidx.compose.runtime.Composable
import androidx.compose.runtime.mutableStateMapOf
import androidx.compose.runtime.remember
import androidx.compose.runtime.snapshots.SnapshotStateMap
import androidx.compose.ui.Modifier
import androidx.compose.ui.unit.dp
import ebbstead.FieldTakes
import ebbstead.Form
import ebbstead.FormField
import ebbstead.Label
import ebbstead.Noted
import ebbstead.Page
import ebbstead.sample.present.BeforeScreen
import ebbstead.sample.present.Field
import ebbstead.sample.present.SettingsScreen
import ebbstead.sample.present.Shell
import ebbstead.sample.present.TimeField
import ebbstead.sample.present.Typing
import ebbstead.sample.present.clockMinute
import ebbstead.sample.present.clockText

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
    val name = if (field.unit.isEmpty()) field.name else "${field.name} (${field.unit})"
    fun put(text: String) {
        filled[field.id] = text
    }
    when (val takes = field.takes) {
        is FieldTakes.Clock -> Clocked(TimeField(name, clockMinute(field.value))) { put(clockText(it)) }
        is FieldTakes.Choice -> Choice(name, takes.options.map { it.code to it.name }, value, folds = takes.folds) {
            put(it)
            chose()
        }
        is FieldTakes.Words -> Typed(Field(name, value, field.advice), value, Typing.WORDS, ::put)
        is FieldTakes.Secret -> Typed(Field(name, value, field.advice), value, Typing.SECRET, ::put)
        is FieldTakes.Phone -> Typed(Field(name, value, field.advice), value, Typing.DIALLED, ::put)
        is FieldTakes.Number -> Typed(Field(name, value, field.advice), value, Typing.NUMBER, ::put)
    }
    if (field.takes is FieldTakes.Clock || field.takes is FieldTakes.Choice) field.advice?.let { DoneLine(Noted(it, null)) }
    field.note?.let { Small(it) }
}

/** Ahead: the answer first and in full, then what it was asked for. */
@Composable
fun BeforeUi(screen: BeforeScreen, help: String, shell: Shell) {
    val filled = touched(screen.form)
    fun ask() = shell.before { it.ask(filled.toMap()) }
    Scrolled(below = {
        Row(Modifier.fillMaxWidth().padding(horizontal = 12.dp, vertical = 8.dp), Arrangement.spacedBy(8.dp)) {
            Act(shell.word(Label.BACK), Modifier.weight(1f)) { shell.back() }
            Act(help, Modifier.weight(1f), help = true) { shell.help() }
        }
    }) {
        val page: Page? = screen.page
        if (page == null) Heading(screen.form.heading) else PageUi(page, leads = true)
        FormUi(screen.form, filled, ::ask)
        Act(screen.form.main, Modifier.fillMaxWidth(), strong = true, onClick = ::ask)
    }
}

@Composable
fun SettingsUi(screen: SettingsScreen, shell: Shell) {
    val filled = touched(screen.form)
    Scrolled(below = {
        Column(Modifier.fillMaxWidth().padding(horizontal = 12.dp, vertical = 8.dp)) {
            Act(screen.form.main, Modifier.fillMaxWidth(), strong = filled.isNotEmpty()) { shell.settings { it.save(filled.toMap()) } }
        }
    }) {
        screen.message?.let { DoneLine(Noted(it, null)) }
        FormUi(screen.form, filled)
    }
}
