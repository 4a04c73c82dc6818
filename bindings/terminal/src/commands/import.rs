//! `import`: a file of readings, a table that `export` wrote, or a FHIR bundle into the log, as a whole or not at all.

use std::fs::File;
use std::io::{self, BufRead, BufReader, BufWriter, IsTerminal, Read, Write};
use std::path::Path;

use ebbstead_core::exchange::csv::table::{self, Trouble};
use ebbstead_core::exchange::csv::{self, Event, Finding, Options, Report};
use ebbstead_core::exchange::fhir;
use ebbstead_core::exchange::file::Placing;
use ebbstead_core::exchange::utf16::Utf8;
use ebbstead_core::log::{Entry, Source, Text, What};
use ebbstead_core::sentences::fhir::finding_text;
use ebbstead_core::sentences::table::finding_line;
use ebbstead_core::store::{Log, Recorded};
use ebbstead_core::time::Moment;
use ebbstead_core::words::Counted;
use ebbstead_core::{Error, Result};
use ebbstead_core::{say, text};

use crate::arguments::Import;
use crate::desk::Desk;
use crate::failure::Failure;

/// Findings shown on the screen.
const SHOWN: usize = 12;
/// The source of readings from files. One name for all, so that a reading that is in two files is one entry.
const SOURCE: &str = "sensor";

pub fn run(desk: &Desk, given: &Import) -> std::result::Result<(), Failure> {
    let now = desk.now()?;
    // What cannot be understood is refused before a log is made.
    let (input, bytes) = open(&given.file)?;
    let mut input = BufReader::new(input);
    let whole = is_table(&mut input).map_err(|source| Error::File { path: named(&given.file), source })?;
    let bundle = is_json(&mut input).map_err(|source| Error::File { path: named(&given.file), source })?;
    let (mut log, _) = desk.open_to_write(now)?;
    if bundle {
        return take_bundle(desk, given, input, &mut log, now);
    }
    if whole {
        return take_table(desk, given, input, &mut log, now);
    }
    let options = Options {
        now: Some(now),
        zone: desk.place.zone(),
        unit: given.file_unit.map(Into::into),
        time_column: given.time_column.clone(),
        glucose_column: given.glucose_column.clone(),
        time_format: given.time_format.clone(),
        separator: given.separator,
        ..Options::found(&named(&given.file), desk.words().unit())
    };
    let mut import = csv::Import::open(input, &options)?;
    let mut teller = Teller::new(desk, bytes, given.findings.as_deref())?;
    let source = Source::new(given.sensor.as_deref().unwrap_or(SOURCE))?;

    let entries = std::iter::from_fn(|| {
        let reading = import.next_reading(|event| teller.event(&event)).transpose()?;
        Some(
            reading
                .and_then(|reading| Entry::new(reading.at, now, source.clone(), What::read_by_sensor(reading.shown()))),
        )
    });
    let mut entries = entries.peekable();
    // A file that has nothing to take leaves no trace in the log.
    let recorded = if given.only_look || entries.peek().is_none() {
        entries.try_for_each(|entry| entry.map(drop)).map(|()| None)
    } else {
        log.import(short_name(&given.file)?, entries, now).map(|imported| Some(imported.recorded))
    };
    teller.end()?;
    let recorded = recorded?;
    let report = import.report();
    show(desk, &report, import.unused_columns(), recorded)?;
    if report.taken == 0 {
        return Err(Failure::Value(say!(
            desk.words(),
            "terminal-import-not-one-row-could-be",
            file = options.file.display()
        )));
    }
    Ok(())
}

/// The name by which an import is listed.
fn short_name(file: &Path) -> Result<Text> {
    let named = named(file);
    let name = named.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let named = Text::new(name.chars().filter(|c| !c.is_control()).take(200).collect::<String>());
    Ok(named.or_else(|_| Text::new(SOURCE))?)
}

/// Whether the file is a table that `export` wrote.
fn is_table(input: &mut impl BufRead) -> io::Result<bool> {
    Ok(table::is_table(input.fill_buf()?))
}

/// A table that `export` wrote.
fn take_table(
    desk: &Desk,
    given: &Import,
    input: impl Read,
    log: &mut Log,
    now: Moment,
) -> std::result::Result<(), Failure> {
    let words = desk.words();
    let file = named(&given.file);
    let mut rows = table::Rows::open(input, &file, now)?;
    // Another handle: what would change an entry that is here is found by asking the log while it is written to.
    let before = Log::open_to_read(log.path())?;
    let (mut taken, mut left_out) = (0_u64, 0_u64);
    let mut shown: Vec<String> = Vec::new();
    let entries = std::iter::from_fn(|| {
        loop {
            let found = match rows.next_row().transpose()? {
                Err(error) => return Some(Err(error)),
                Ok(Err(finding)) => finding,
                Ok(Ok(entry)) => match before.would_change(&entry) {
                    Err(error) => return Some(Err(error)),
                    Ok(false) => {
                        taken += 1;
                        return Some(Ok(entry));
                    }
                    Ok(true) => table::Finding { line: rows.line(), trouble: Trouble::Changed },
                },
            };
            left_out += 1;
            if shown.len() < SHOWN {
                shown.push(finding_line(&found, words));
            }
        }
    });
    let mut entries = entries.peekable();
    let recorded = if given.only_look || entries.peek().is_none() {
        entries.try_for_each(|entry| entry.map(drop)).map(|()| None)
    } else {
        log.import(short_name(&given.file)?, entries, now).map(|imported| Some(imported.recorded))
    }?;
    let mut screen = desk.screen();
    screen.paragraph(&match recorded {
        None => {
            let taken = words.counted(taken, Counted::Entries);
            say!(desk.words(), "terminal-import-table-ebbstead-wrote-could-be", taken)
        }
        Some(Recorded { new, known, .. }) => {
            let new = words.counted(new, Counted::NewEntries);
            say!(desk.words(), "terminal-import-in-log-already", new, known)
        }
    })?;
    if left_out > 0 {
        let rows = words.counted(left_out, Counted::Rows);
        screen.paragraph(&say!(desk.words(), "terminal-import-left-out-2", rows))?;
    }
    screen.finish()?;
    for line in &shown {
        desk.tell(line);
    }
    let more = left_out.saturating_sub(shown.len() as u64);
    if more > 0 {
        desk.tell(&say!(desk.words(), "terminal-import-and-more", more));
    }
    if taken == 0 {
        return Err(Failure::Value(say!(desk.words(), "terminal-import-not-one-row-could-be", file = file.display())));
    }
    Ok(())
}

/// Whether the file begins like JSON, which no table of readings does.
fn is_json(input: &mut impl BufRead) -> io::Result<bool> {
    let head = input.fill_buf()?;
    let head = head.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(head);
    Ok(head.trim_ascii_start().first() == Some(&b'{'))
}

/// A FHIR bundle.
/// What of a file could be taken, or what came of it, and from when it is.
fn came(
    desk: &Desk,
    (any, new): (Counted, Counted),
    taken: u64,
    recorded: Option<Recorded>,
    (first, last): (&str, &str),
) -> String {
    let words = desk.words();
    match recorded {
        None => {
            let taken = words.counted(taken, any);
            say!(desk.words(), "terminal-import-could-be-taken-to-nothing", taken, first, last)
        }
        Some(recorded) => {
            let (new, known) = (words.counted(recorded.new, new), recorded.known);
            say!(desk.words(), "terminal-import-to-in-log-already", new, first, last, known)
        }
    }
}

fn take_bundle(
    desk: &Desk,
    given: &Import,
    input: impl Read,
    log: &mut Log,
    now: Moment,
) -> std::result::Result<(), Failure> {
    let words = desk.words();
    let options = fhir::Options {
        source: Source::new(SOURCE)?,
        subject: given.person.clone(),
        ..fhir::Options::new(named(&given.file), now)
    };
    let outcome = fhir::import(log, input, short_name(&given.file)?, given.only_look, &options)?;
    let report = &outcome.report;
    let mut screen = desk.screen();
    let local = |moment: Moment| moment.local().format("%Y-%m-%d %H:%M").to_string();
    let (first, last) = (report.first.map(local).unwrap_or_default(), report.last.map(local).unwrap_or_default());
    if report.taken > 0 {
        let names = (Counted::Entries, Counted::NewEntries);
        let recorded = outcome.imported.map(|imported| imported.recorded);
        screen.paragraph(&came(desk, names, report.taken, recorded, (&first, &last)))?;
        let own = format!("urn:uuid:{}", log.id()?);
        let about = report.subject.as_deref().unwrap_or_else(|| text!(desk.words(), "terminal-import-nobody-named"));
        screen.paragraph(&if about == own {
            text!(desk.words(), "terminal-import-they-came-from-log").to_owned()
        } else if outcome.imported.is_some() {
            say!(desk.words(), "terminal-import-they-about-if-not-you-2", about)
        } else {
            say!(desk.words(), "terminal-import-they-about-if-not-you", about)
        })?;
    }
    for (count, text) in [
        (report.left_out, text!(desk.words(), "terminal-import-left-out")),
        (report.others, text!(desk.words(), "terminal-import-other-kinds")),
    ] {
        if count > 0 {
            screen.paragraph(&format!("{text}: {}.", words.counted(count, Counted::Resources)))?;
        }
    }
    screen.finish()?;
    for finding in report.findings.iter().take(SHOWN) {
        desk.tell(&finding_text(finding, words));
    }
    let more = report.left_out.saturating_sub(SHOWN as u64);
    if more > 0 {
        desk.tell(&say!(desk.words(), "terminal-import-and-more", more));
    }
    if report.taken == 0 {
        let file = options.file.display();
        return Err(Failure::Value(say!(desk.words(), "terminal-import-not-one-entry-could-be", file)));
    }
    Ok(())
}

/// The name used for a file in messages.
pub fn named(file: &Path) -> std::path::PathBuf {
    if file == Path::new("-") { "standard input".into() } else { file.to_owned() }
}

/// Opens a file to read, with its size where it has one; `-` is standard input.
pub fn open(file: &Path) -> Result<(Box<dyn Read>, Option<u64>)> {
    if file == Path::new("-") {
        let input = Utf8::of(io::stdin().lock()).map_err(|source| Error::File { path: named(file), source })?;
        return Ok((Box::new(input), None));
    }
    let refused = |source| Error::File { path: file.to_owned(), source };
    let opened = File::open(file).map_err(refused)?;
    let about = opened.metadata().map_err(refused)?;
    if about.is_dir() {
        return Err(refused(io::ErrorKind::IsADirectory.into()));
    }
    let size = about.is_file().then_some(about.len());
    Ok((Box::new(Utf8::of(opened).map_err(refused)?), size))
}

/// Progress and findings while an import runs.
struct Teller<'a> {
    desk: &'a Desk,
    bytes: Option<u64>,
    live: bool,
    findings: Option<BufWriter<Placing>>,
    path: Option<&'a Path>,
    failed: Option<io::Error>,
}

impl<'a> Teller<'a> {
    fn new(desk: &'a Desk, bytes: Option<u64>, path: Option<&'a Path>) -> Result<Self> {
        let findings = path.map(|path| Placing::begin(path, false).map(BufWriter::new)).transpose()?;
        Ok(Self { desk, bytes, live: io::stderr().is_terminal(), findings, path, failed: None })
    }

    fn event(&mut self, event: &Event<'_>) {
        match event {
            Event::Progress(read) => self.progress(*read),
            Event::Found(finding) => self.found(finding),
        }
    }

    fn progress(&self, read: u64) {
        const MEGA: u64 = 1_000_000;
        if self.live {
            let share =
                self.bytes.filter(|&bytes| bytes > 0).map(|bytes| format!(" ({} %)", (read * 100 / bytes).min(100)));
            let _ = write!(io::stderr(), "\r{} MB{}  ", read / MEGA, share.unwrap_or_default());
        }
    }

    fn found(&mut self, finding: &Finding) {
        if let Some(file) = &mut self.findings
            && let Err(error) = writeln!(file, "{}", self.desk.words().finding(finding))
        {
            self.failed.get_or_insert(error);
        }
    }

    fn end(&mut self) -> Result<()> {
        if self.live {
            let _ = write!(io::stderr(), "\r{:30}\r", "");
        }
        let Some((findings, path)) = self.findings.take().zip(self.path) else { return Ok(()) };
        let refused = |source| Error::File { path: path.to_owned(), source };
        match self.failed.take() {
            Some(source) => Err(refused(source)),
            None => findings.into_inner().map_err(|error| refused(error.into_error()))?.finish(),
        }
    }
}

fn show(
    desk: &Desk,
    report: &Report,
    unused: &[String],
    recorded: Option<Recorded>,
) -> std::result::Result<(), Failure> {
    let mut screen = desk.screen();
    let words = desk.words();
    let local = |moment: Moment| moment.local().format("%Y-%m-%d %H:%M").to_string();
    let (first, last) = (report.first.map(local).unwrap_or_default(), report.last.map(local).unwrap_or_default());
    if report.taken > 0 {
        let names = (Counted::Readings, Counted::NewReadings);
        screen.paragraph(&came(desk, names, report.taken, recorded, (&first, &last)))?;
        let spacing = report
            .spacing_minutes
            .map_or_else(String::new, |minutes| say!(desk.words(), "terminal-import-mostly-every-minutes", minutes));
        screen.paragraph(&say!(
            desk.words(),
            "terminal-import-time-from-readings-from-in",
            time_column = format!("{:?}", report.time_column),
            glucose_column = format!("{:?}", report.glucose_column),
            unit = report.unit,
            spacing
        ))?;
    }
    if !unused.is_empty() && recorded.is_none() {
        let unused = unused.join(", ");
        screen.paragraph(&say!(desk.words(), "terminal-import-not-taken-whatever-they-hold", unused))?;
    }
    let beyond = report.beyond();
    let counted = [
        (beyond, text!(desk.words(), "terminal-import-too-low-or-too-high")),
        (report.left_out, text!(desk.words(), "terminal-import-left-out")),
        (report.repeated, text!(desk.words(), "terminal-import-same-as-earlier-one")),
        (report.without_reading, text!(desk.words(), "terminal-import-without-reading")),
    ];
    for (count, text) in counted.into_iter().filter(|(count, _)| *count > 0) {
        screen.paragraph(&format!("{text}: {}.", words.counted(count, Counted::Rows)))?;
    }
    screen.finish()?;
    for finding in report.findings.iter().take(SHOWN) {
        desk.tell(&words.finding(finding));
    }
    let all: u64 = report.counts.values().sum();
    let more = all.saturating_sub(SHOWN as u64);
    if more > 0 {
        desk.tell(&say!(desk.words(), "terminal-import-and-more-findings-path-writes", more));
    }
    Ok(())
}
