package ebbstead.sample.ui

import androidx.compose.foundation.*
import androidx.compose.foundation.layout.*
import androidx.compose.foundation.selection.*
import androidx.compose.foundation.shape.RoundedCornerShape
import androidx.compose.foundation.text.KeyboardOptions
import androidx.compose.material3.*
import androidx.compose.runtime.*
import androidx.compose.runtime.saveable.rememberSaveable
import androidx.compose.ui.Alignment
import androidx.compose.ui.Modifier
import androidx.compose.ui.platform.testTag
import androidx.compose.ui.semantics.*
import androidx.compose.ui.text.input.*
import androidx.compose.ui.unit.dp
import ebbstead.*
import ebbstead.sample.present.Shell

/** Under this no target for a finger goes. */
val FINGER = 56.dp
private val ROUND = RoundedCornerShape(14.dp)

/** What a thumb does. `strong` is what the verdict asks for; of those there is one at most. */
@Composable
fun Act(text: String, modifier: Modifier = Modifier, strong: Boolean = false, help: Boolean = false, enabled: Boolean = true, onClick: () -> Unit) {
    val inside = PaddingValues(horizontal = 14.dp, vertical = 10.dp)
    val shape = modifier.heightIn(min = FINGER)
    if (strong) {
        Button(onClick, shape, enabled, ROUND, contentPadding = inside) { Fitting(text, MaterialTheme.typography.labelLarge) }
    } else {
        OutlinedButton(
            onClick, shape, enabled, ROUND, contentPadding = inside, border = BorderStroke(if (help) 2.5.dp else 1.5.dp, if (help) palette.ink else palette.edge),
            colors = ButtonDefaults.outlinedButtonColors(containerColor = palette.raised, contentColor = palette.ink),
        ) {
            if (help) Sign(Verdict.HELP, palette.ink, Modifier.padding(end = 8.dp).size(20.dp))
            Fitting(text, MaterialTheme.typography.labelLarge)
        }
    }
}

/** A screen that scrolls between what stays above and what stays under the thumb. */
@Composable
fun Scrolled(below: @Composable () -> Unit, content: @Composable ColumnScope.() -> Unit) = Column(Modifier.fillMaxSize()) {
    Column(
        Modifier.weight(1f).fillMaxWidth().verticalScroll(rememberScrollState()).padding(horizontal = 16.dp, vertical = 12.dp),
        Arrangement.spacedBy(14.dp), content = content,
    )
    below()
}

@Composable
fun Heading(text: String) = Fitting(text, MaterialTheme.typography.headlineSmall, Modifier.padding(top = 6.dp), said = Modifier.semantics { heading() })

@Composable
fun Small(text: String) = Fitting(text, MaterialTheme.typography.bodyMedium, color = palette.quiet)

/** What was just kept, with what takes it back. */
@Composable
fun DoneLine(done: Noted?, undo: () -> Unit = {}) {
    if (done == null) return
    Surface(color = palette.raised, contentColor = palette.ink, shape = ROUND, border = BorderStroke(1.dp, palette.edge)) {
        Row(Modifier.fillMaxWidth().padding(start = 14.dp, end = 4.dp), verticalAlignment = Alignment.CenterVertically) {
            Fitting(
                done.text, MaterialTheme.typography.bodyMedium, Modifier.weight(1f).padding(vertical = 12.dp),
                said = Modifier.semantics { liveRegion = LiveRegionMode.Polite },
            )
            done.undo?.let { TextButton(undo, Modifier.heightIn(min = 48.dp).widthIn(max = 140.dp)) { Fitting(it, MaterialTheme.typography.labelLarge) } }
        }
    }
}

/** Lists that one tap unfolds. */
@Composable
fun Folded(folded: PromptPart.Folded) {
    var open by rememberSaveable { mutableStateOf(false) }
    Column(verticalArrangement = Arrangement.spacedBy(6.dp)) {
        if (open) folded.lists.forEach { Items(it) }
        TextButton({ open = !open }, Modifier.heightIn(min = 48.dp), contentPadding = PaddingValues(0.dp)) {
            Fitting(if (open) folded.less else folded.more, MaterialTheme.typography.labelLarge)
        }
    }
}

@Composable
fun Items(list: NamedItems) = Column(verticalArrangement = Arrangement.spacedBy(6.dp)) {
    list.name?.let { Fitting(it, MaterialTheme.typography.titleMedium, said = Modifier.semantics { heading() }) }
    for (item in list.items) Row(horizontalArrangement = Arrangement.spacedBy(10.dp)) {
        Text("–", Modifier.clearAndSetSemantics { }, color = palette.quiet, style = MaterialTheme.typography.bodyLarge)
        Fitting(item, MaterialTheme.typography.bodyLarge)
    }
}

/** The unit is part of the name: whoever types must not guess it. */
val FormField.title: String get() = if (unit.isEmpty()) name else "$name ($unit)"

/** A field with its advice right under it, where it cannot be overlooked. */
@Composable
fun Typed(field: FormField, typed: String, change: (String) -> Unit) {
    Column(verticalArrangement = Arrangement.spacedBy(4.dp)) {
        Fitting(field.title, MaterialTheme.typography.labelMedium, said = Modifier.clearAndSetSemantics { })
        OutlinedTextField(
            typed, change,
            Modifier.fillMaxWidth().testTag(field.title).semantics {
                contentDescription = field.title
                field.advice?.let { error(it) }
            },
            textStyle = if (field.takes is FieldTakes.Number) MaterialTheme.typography.headlineSmall else MaterialTheme.typography.bodyLarge,
            isError = field.advice != null, singleLine = field.takes !is FieldTakes.Words, shape = ROUND,
            visualTransformation = if (field.takes is FieldTakes.Secret) PasswordVisualTransformation() else VisualTransformation.None,
            keyboardOptions = KeyboardOptions(
                autoCorrectEnabled = field.takes is FieldTakes.Words,
                keyboardType = when (field.takes) {
                    is FieldTakes.Number -> KeyboardType.Decimal
                    is FieldTakes.Secret -> KeyboardType.Password
                    is FieldTakes.Phone -> KeyboardType.Phone
                    else -> KeyboardType.Text
                },
            ),
        )
        field.advice?.let { Fitting(it, MaterialTheme.typography.bodyMedium, said = Modifier.semantics { liveRegion = LiveRegionMode.Polite }) }
    }
}

/** A time of day, moved by steps: no keyboard at three in the morning. */
@Composable
fun Clocked(field: FormField, steps: List<ClockStep>, change: (String) -> Unit) {
    var clock by rememberSaveable(field.id, field.value) { mutableStateOf(field.value) }
    fun move(by: Int) {
        clock = clockMoved(clock, by)
        change(clock)
    }
    Column(verticalArrangement = Arrangement.spacedBy(4.dp)) {
        Fitting(field.title, MaterialTheme.typography.labelMedium)
        Row(verticalAlignment = Alignment.CenterVertically, horizontalArrangement = Arrangement.spacedBy(6.dp)) {
            val (back, on) = steps.partition { it.minutes < 0 }
            val shown = Modifier.semantics { liveRegion = LiveRegionMode.Polite }
            for (step in back) Act(step.text, Modifier.weight(1f).semantics { contentDescription = step.spoken }) { move(step.minutes) }
            Fitting(clock, MaterialTheme.typography.headlineSmall, Modifier.weight(1.3f).padding(horizontal = 4.dp), said = shown)
            for (step in on) Act(step.text, Modifier.weight(1f).semantics { contentDescription = step.spoken }) { move(step.minutes) }
        }
    }
}

/** One of a few. Where it `folds`, the chosen one stands alone until it is touched. */
@Composable
fun <T> Choice(name: String, options: List<Pair<T, String>>, chosen: T?, folds: Boolean = false, choose: (T) -> Unit) {
    var open by remember(chosen) { mutableStateOf(false) }
    val folded = folds && !open && options.any { it.first == chosen }
    Column(Modifier.selectableGroup(), Arrangement.spacedBy(6.dp)) {
        Fitting(name, MaterialTheme.typography.labelMedium)
        for ((option, text) in options) {
            val on = option == chosen
            if (folded && !on) continue
            Surface(
                Modifier.fillMaxWidth().selectable(on, role = Role.RadioButton) {
                    open = folded
                    if (!folded) choose(option)
                }, ROUND, if (on) palette.tint else palette.raised, palette.ink,
                border = BorderStroke(if (on) 3.dp else 1.dp, if (on) palette.ink else palette.edge),
            ) {
                Row(Modifier.heightIn(min = FINGER).padding(horizontal = 14.dp), verticalAlignment = Alignment.CenterVertically) {
                    Fitting(text, if (on) MaterialTheme.typography.titleMedium else MaterialTheme.typography.bodyLarge)
                }
            }
        }
    }
}

/** It lies over everything: so it has the way to help, and steps aside for it. */
@OptIn(ExperimentalMaterial3Api::class)
@Composable
fun BottomSheet(leave: () -> Unit, shell: Shell, content: @Composable ColumnScope.() -> Unit) = if (shell.help != null) Unit else ModalBottomSheet(
    leave, sheetState = rememberModalBottomSheetState(skipPartiallyExpanded = true), containerColor = palette.ground,
) {
    Column(
        Modifier.fillMaxWidth().verticalScroll(rememberScrollState()).padding(start = 16.dp, end = 16.dp, bottom = 28.dp),
        Arrangement.spacedBy(12.dp),
    ) {
        content()
        help(shell)(Modifier.fillMaxWidth())
    }
}
