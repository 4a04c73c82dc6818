//! `import`: a file into the log, as a whole or not at all. What the file is, core finds out.

use std::fs::File;
use std::io::{self, BufReader, BufWriter, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};

use ebbstead_core::exchange::file::Placing;
use ebbstead_core::import::{self, Event, Options};
use ebbstead_core::log::Source;
use ebbstead_core::sentences::import::finding_line;
use ebbstead_core::{Error, Result, say};

use crate::arguments::Import;
use crate::context::Context;
use crate::failure::Failure;

/// Findings shown on the screen.
const SHOWN: usize = 12;

pub fn run(context: &Context, given: &Import) -> std::result::Result<(), Failure> {
    let now = context.now()?;
    // What cannot be read, or is a log itself, is refused before a log is made.
    let (input, bytes) = open(&given.file)?;
    let file = import::File::open(BufReader::new(input), named(&given.file))?;
    let sensor = given.sensor.as_deref().map(Source::new).transpose()?;
    let (mut log, _) = context.open_to_write(now)?;
    let words = context.words();
    let options = Options {
        zone: context.place.zone(),
        unit: given.file_unit.map(Into::into),
        time_column: given.time_column.clone(),
        glucose_column: given.glucose_column.clone(),
        time_format: given.time_format.clone(),
        separator: given.separator,
        sensor,
        person: given.person.clone(),
        dry_run: given.dry_run,
        ..Options::found(now, words.unit())
    };
    let mut reporter = Reporter::new(context, bytes, given.findings.as_deref())?;
    let report = file.into_log(&mut log, &options, &mut |event| reporter.event(&event));
    reporter.end()?;
    let report = report?;
    let mut screen = context.screen();
    for line in report.lines(words) {
        screen.paragraph(&line)?;
    }
    screen.finish()?;
    for line in &report.finding_lines(SHOWN, words) {
        context.report(line);
    }
    if let Some(more) = report.more_findings(SHOWN, words) {
        context.report(&say!(words, "terminal-import-and-more-findings-path-writes", more));
    }
    report
        .nothing_taken(&named(&given.file).display().to_string(), words)
        .map_or(Ok(()), |none| Err(Failure::Value(none)))
}

/// The name used for a file in messages.
pub fn named(file: &Path) -> PathBuf {
    if file == Path::new("-") { "standard input".into() } else { file.to_owned() }
}

/// Opens a file to read, with its size where it has one; `-` is standard input.
pub fn open(file: &Path) -> Result<(Box<dyn Read>, Option<u64>)> {
    if file == Path::new("-") {
        return Ok((Box::new(io::stdin().lock()), None));
    }
    let refused = |source| Error::File { path: file.to_owned(), source };
    let opened = File::open(file).map_err(refused)?;
    let about = opened.metadata().map_err(refused)?;
    if about.is_dir() {
        return Err(refused(io::ErrorKind::IsADirectory.into()));
    }
    let size = about.is_file().then_some(about.len());
    Ok((Box::new(opened), size))
}

/// Progress and findings while an import runs.
struct Reporter<'a> {
    context: &'a Context,
    bytes: Option<u64>,
    live: bool,
    findings: Option<BufWriter<Placing>>,
    path: Option<&'a Path>,
    failed: Option<io::Error>,
}

impl<'a> Reporter<'a> {
    fn new(context: &'a Context, bytes: Option<u64>, path: Option<&'a Path>) -> Result<Self> {
        let findings = path.map(|path| Placing::begin(path, false).map(BufWriter::new)).transpose()?;
        Ok(Self { context, bytes, live: io::stderr().is_terminal(), findings, path, failed: None })
    }

    fn event(&mut self, event: &Event<'_>) {
        match event {
            Event::Progress(read) => self.progress(*read),
            Event::Found(finding) => {
                if let Some(file) = &mut self.findings
                    && let Err(error) = writeln!(file, "{}", finding_line(finding, self.context.words()))
                {
                    self.failed.get_or_insert(error);
                }
            }
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
