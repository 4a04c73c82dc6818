//! Lines on standard output: wrapped to the window, in signs the terminal can show.

use std::io::{self, BufWriter, IsTerminal, StdoutLock, Write};

use ebbstead_core::exchange::csv::table::guarded;
use ebbstead_core::log::turns_direction;
use ebbstead_core::page::{Block, Page, Row, Table};
use ebbstead_core::words::Words;
use serde::Serialize;

/// The version of the form of all that `--json` prints, whatever the command. It rises where a property goes, is renamed or comes to mean
/// something else; one more property does not raise it.
const SCHEMA_VERSION: u32 = 1;

/// What is printed as JSON, with the version of its form.
#[derive(Serialize)]
struct Versioned<'a, T> {
    schema_version: u32,
    #[serde(flatten)]
    value: &'a T,
}

/// What the terminal can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Signs beyond ASCII.
    pub wide_signs: bool,
    /// Bold and dim. Nothing is shown by them alone.
    pub weight: bool,
    /// Columns.
    pub width: usize,
}

impl Style {
    /// Asks the environment.
    pub fn of_terminal(plain: bool) -> Self {
        let set = |name: &str| std::env::var(name).ok().filter(|value| !value.is_empty());
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set).unwrap_or_default().to_lowercase();
        let utf_8 = cfg!(windows) || locale.contains("utf-8") || locale.contains("utf8");
        let dumb = set("TERM").is_some_and(|term| term == "dumb");
        let window = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
        let width = window.or_else(|| set("COLUMNS")?.parse().ok()).unwrap_or(80);
        Self {
            wide_signs: utf_8 && !plain && !dumb,
            weight: !plain && !dumb && set("NO_COLOR").is_none() && io::stdout().is_terminal(),
            width: width.clamp(40, 100),
        }
    }

    /// The text in signs that can be shown, and none that a terminal would obey: names of files and texts from bundles may hold
    /// some.
    pub fn shown(self, text: &str) -> String {
        let harmless: String = text.chars().map(|sign| if is_obeyed(sign) { '\u{fffd}' } else { sign }).collect();
        if self.wide_signs { harmless } else { plain(&harmless) }
    }
}

/// Whether a terminal does something other than show it.
fn is_obeyed(sign: char) -> bool {
    sign.is_control() && sign != '\n' || turns_direction(sign)
}

/// ASCII for every sign Ebbstead itself writes; a question mark for what people wrote in other scripts.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut signs = text.chars().peekable();
    let mut before = None;
    while let Some(sign) = signs.next() {
        // In a word that is all capitals, as a heading is, both letters are.
        let beside = signs.peek().copied().filter(|next| next.is_alphabetic()).or(before);
        let capitals = beside.is_some_and(char::is_uppercase);
        before = Some(sign).filter(|sign| sign.is_alphabetic());
        match sign {
            'Ä' if capitals => out.push_str("AE"),
            'Ö' if capitals => out.push_str("OE"),
            'Ü' if capitals => out.push_str("UE"),
            'ä' => out.push_str("ae"),
            'ö' => out.push_str("oe"),
            'ü' => out.push_str("ue"),
            'Ä' => out.push_str("Ae"),
            'Ö' => out.push_str("Oe"),
            'Ü' => out.push_str("Ue"),
            'ß' => out.push_str("ss"),
            'á' | 'à' | 'â' | 'ã' | 'å' => out.push('a'),
            'é' | 'è' | 'ê' | 'ë' => out.push('e'),
            'í' | 'ì' | 'î' | 'ï' => out.push('i'),
            'ó' | 'ò' | 'ô' | 'õ' | 'ø' => out.push('o'),
            'ú' | 'ù' | 'û' => out.push('u'),
            'ñ' => out.push('n'),
            'ç' => out.push('c'),
            'Á' | 'À' | 'Â' | 'Ã' | 'Å' => out.push('A'),
            'É' | 'È' | 'Ê' | 'Ë' => out.push('E'),
            'Í' | 'Ì' | 'Î' | 'Ï' => out.push('I'),
            'Ó' | 'Ò' | 'Ô' | 'Õ' | 'Ø' => out.push('O'),
            'Ú' | 'Ù' | 'Û' => out.push('U'),
            'Ñ' => out.push('N'),
            'Ç' => out.push('C'),
            sign if sign.is_ascii() => out.push(sign),
            _ => out.push('?'),
        }
    }
    out
}

/// Standard output.
pub struct Screen {
    out: BufWriter<StdoutLock<'static>>,
    pub style: Style,
    /// What a language that is a draft says of itself, until it stands there: before anything that a person reads.
    draft: Option<&'static str>,
}

impl Screen {
    pub fn new(style: Style, words: Words) -> Self {
        Self { out: BufWriter::with_capacity(1 << 16, io::stdout().lock()), style, draft: words.draft() }
    }

    /// Before every text: the mark of a draft, where this is the first and does not say it itself.
    fn begin(&mut self, text: &str) -> io::Result<()> {
        match self.draft.take() {
            Some(draft) if !text.contains(draft) => writeln!(self.out, "{}", self.style.shown(draft)),
            _ => Ok(()),
        }
    }

    /// One line as it is.
    pub fn line(&mut self, text: &str) -> io::Result<()> {
        self.begin(text)?;
        writeln!(self.out, "{}", self.style.shown(text).trim_end())
    }

    /// An empty line.
    pub fn gap(&mut self) -> io::Result<()> {
        writeln!(self.out)
    }

    /// A line that stands out.
    pub fn heading(&mut self, text: &str) -> io::Result<()> {
        self.begin(text)?;
        let text = self.style.shown(text);
        if self.style.weight { writeln!(self.out, "\x1b[1m{text}\x1b[0m") } else { writeln!(self.out, "{text}") }
    }

    /// A paragraph, wrapped.
    pub fn paragraph(&mut self, text: &str) -> io::Result<()> {
        self.wrapped(text, "", "")
    }

    /// One thing of a list, wrapped.
    pub fn item(&mut self, text: &str) -> io::Result<()> {
        self.wrapped(text, "  - ", "    ")
    }

    /// Wrapped, with something in front of the first line and of the others.
    pub fn wrapped(&mut self, text: &str, first: &str, rest: &str) -> io::Result<()> {
        self.begin(text)?;
        // An amount and its unit stay together.
        let mut text = self.style.shown(text);
        for unit in [" mg/dL", " mmol/L", " %", " g "] {
            text = text.replace(unit, &unit.replacen(' ', "\u{a0}", 1));
        }
        let first = self.style.shown(first);
        // At blanks alone: "mg/" on one line and "dL" on the next is read as something else.
        let options = textwrap::Options::new(self.style.width).word_separator(textwrap::WordSeparator::AsciiSpace);
        let options = options.initial_indent(&first).subsequent_indent(rest);
        for line in textwrap::wrap(&text, options) {
            writeln!(self.out, "{}", line.replace('\u{a0}', " "))?;
        }
        Ok(())
    }

    /// A page: its name, then its sections.
    pub fn page(&mut self, page: &Page) -> io::Result<()> {
        self.heading(&page.heading)?;
        self.page_sections(page)
    }

    /// The sections of a page alone, an empty line between them.
    pub fn page_sections(&mut self, page: &Page) -> io::Result<()> {
        for (place, section) in page.sections.iter().enumerate() {
            if place > 0 {
                self.gap()?;
            }
            if let Some(heading) = &section.heading {
                self.heading(heading)?;
            }
            section.holds.iter().try_for_each(|block| self.block(block))?;
        }
        Ok(())
    }

    fn block(&mut self, block: &Block) -> io::Result<()> {
        match block {
            Block::Lead(text) | Block::Sentences(text) => self.paragraph(text),
            Block::Items(items) => items.iter().try_for_each(|item| self.item(item)),
            Block::Table(table) if table.columns.is_empty() => self.named(&table.rows),
            Block::Table(table) => self.columns(table),
        }
    }

    /// Names, and a value and a note beside each.
    fn named(&mut self, rows: &[Row]) -> io::Result<()> {
        let width = rows.iter().map(|row| row.name.chars().count()).max().unwrap_or_default();
        rows.iter().try_for_each(|row| {
            let note = if row.note.is_empty() { String::new() } else { format!("; {}", row.note) };
            let first = format!("  {:<width$}  ", row.name);
            self.wrapped(&format!("{}{note}", row.values.join("  ")), &first, &" ".repeat(width + 4))
        })
    }

    /// Names, and values in columns. The columns' names stand over them where there is room, else in a line before.
    fn columns(&mut self, table: &Table) -> io::Result<()> {
        let signs = |text: &String| self.style.shown(text).chars().count();
        let names = table.rows.iter().map(|row| signs(&row.name)).max().unwrap_or_default();
        // A row that says why it has no values does not make a column wide.
        let full = || table.rows.iter().filter(|row| row.values.len() == table.columns.len());
        let widest = |place: usize| full().filter_map(|row| row.values.get(place).map(signs)).max().unwrap_or_default();
        let values: Vec<usize> = (0..table.columns.len()).map(widest).collect();
        let named: Vec<usize> =
            values.iter().zip(&table.columns).map(|(&value, name)| value.max(signs(name))).collect();
        let wide = |widths: &[usize]| 2 + names + widths.iter().map(|width| width + 3).sum::<usize>();
        let over = wide(&named) <= self.style.width;
        let widths = if over { named } else { values };
        if over {
            self.line(&row(&" ".repeat(names), &table.columns, names, &widths))?;
        } else {
            self.wrapped(&table.columns.join("; "), "  ", "  ")?;
        }
        for Row { name, values, note } in &table.rows {
            let note = if note.is_empty() { String::new() } else { format!("; {note}") };
            let in_columns = row(name, values, names, &widths) + &note;
            if values.len() == widths.len() && in_columns.chars().count() <= self.style.width {
                self.line(&in_columns)?;
            } else {
                let first = format!("  {name:<names$}   ");
                self.wrapped(&format!("{}{note}", values.join("; ")), &first, &" ".repeat(names + 5))?;
            }
        }
        Ok(())
    }

    /// Bytes, for output that no person reads.
    pub fn raw(&mut self) -> &mut impl Write {
        &mut self.out
    }

    /// An object as a line of JSON. It says the version of its form.
    pub fn json(&mut self, value: &impl Serialize) -> io::Result<()> {
        serde_json::to_writer(&mut self.out, &Versioned { schema_version: SCHEMA_VERSION, value })?;
        self.out.write_all(b"\n")
    }

    /// Figures as CSV: a row for each, named by its place in the JSON (`spread.mean_mg_dl`). What is not known is left empty.
    pub fn table(&mut self, value: &impl Serialize) -> io::Result<()> {
        let mut table = csv::Writer::from_writer(&mut self.out);
        table.write_record(["figure", "value"])?;
        figures(&serde_json::to_value(value)?, String::new(), &mut |name, value| table.write_record([name, value]))?;
        table.flush()
    }

    /// Writes out what is held back. A failure to write shows only here.
    pub fn finish(mut self) -> io::Result<()> {
        self.out.flush()
    }
}

/// Every figure within a value, with the names on the way to it.
fn figures(
    value: &serde_json::Value,
    name: String,
    to: &mut impl FnMut(&str, &str) -> csv::Result<()>,
) -> csv::Result<()> {
    use serde_json::Value;
    let below = |next: &str| if name.is_empty() { next.to_owned() } else { format!("{name}.{next}") };
    match value {
        Value::Object(fields) => fields.iter().try_for_each(|(field, one)| figures(one, below(field), to)),
        Value::Array(list) => {
            (1..).zip(list).try_for_each(|(nth, one): (usize, _)| figures(one, below(&nth.to_string()), to))
        }
        Value::Null => to(&name, ""),
        Value::String(text) => to(&name, &guarded(text)),
        Value::Bool(_) | Value::Number(_) => to(&name, &value.to_string()),
    }
}

/// A row of a table with columns.
fn row(name: &str, values: &[String], names: usize, widths: &[usize]) -> String {
    let values = values.iter().zip(widths).map(|(value, &width)| format!("   {value:>width$}"));
    format!("  {name:<names$}{}", values.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_sign_reaches_a_terminal_that_it_would_obey() {
        let style = Style { wide_signs: true, weight: false, width: 80 };
        // ECMA-48: escape, CSI as one sign (9B), bell and delete; UAX 9: right-to-left override and isolate.
        for sign in ['\u{1b}', '\u{9b}', '\u{7}', '\u{7f}', '\u{8}', '\r', '\u{202e}', '\u{2067}'] {
            let text = format!("log{sign}[2Jä.ebb");
            assert_eq!(style.shown(&text), "log\u{fffd}[2Jä.ebb");
            assert_eq!(Style { wide_signs: false, ..style }.shown(&text), "log?[2Jae.ebb");
        }
    }

    #[test]
    fn letters_with_marks_survive_in_ascii() {
        assert_eq!(plain("Blutmessung über Ä"), "Blutmessung ueber Ae");
        assert_eq!(plain("FÜR KÖRPER, Übung, TÜ, ÜBER, Ö"), "FUER KOERPER, Uebung, TUE, UEBER, Oe");
        assert_eq!(plain("punción, mañana, Última, façade"), "puncion, manana, Ultima, facade");
        assert_eq!(plain("a\u{4e00}b"), "a?b");
    }
}
