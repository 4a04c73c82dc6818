//! What a file's beginning says about the rest: separator, columns, unit, way of writing times.

mod names;
mod unit;

use std::borrow::Cow;
use std::io::Read;

use csv::{ByteRecord, ReaderBuilder, Trim};

use super::times::Time;
use super::values::Sampled;
use super::{LONGEST_ROW, LineEnds, Options, RowFault, decoded, file_error, shortened, times, values};
use crate::error::{Error, Refusal, Result};
use crate::log::Written;
use crate::units::GlucoseUnit;
use names::{date_rank, glucose_rank, has, is_meters, is_offset, offset_in, whole_time_rank, words};
use unit::{Named, unit_in};

/// Bytes looked at before anything is decided: some weeks of readings.
const HEAD: u64 = 256 * 1024;
/// Rows among which names of columns are looked for: some files begin with remarks.
const NAMES_WITHIN: usize = 20;
/// Rows looked at for unit and time format.
const SAMPLE: usize = 4000;

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    pub(super) separator: u8,
    pub(super) line_ends: LineEnds,
    /// Rows up to and including the names of the columns.
    pub(super) rows_above: usize,
    /// Columns there are names for.
    pub(super) width: usize,
    /// The column with the time, or those with the date and the time of day.
    pub(super) time: Vec<usize>,
    pub(super) glucose: usize,
    pub(super) time_name: String,
    pub(super) glucose_name: String,
    /// The names of the columns that are passed over.
    pub(super) unused: Vec<String>,
    pub(super) times: times::Format,
    pub(super) unit: GlucoseUnit,
    /// The column that says each row's unit.
    pub(super) unit_column: Option<usize>,
    /// What says the offset of a time that has none behind it.
    pub(super) offset: Option<Beside>,
    /// The column of offsets, whether or not it is what says it: two that say different things are not to be chosen between.
    pub(super) offset_column: Option<usize>,
    /// The columns that name the sensor, and their names.
    pub(super) sensor: Vec<usize>,
    pub(super) sensor_name: String,
    /// The column that says of what kind a row is, and the kind of a reading, where the values' own column does not say.
    pub(super) kind: Option<(usize, String)>,
}

/// What says the offset from UTC of the times in their own column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// Their name, in minutes.
    Name(i32),
    /// A column of offsets.
    Offset(usize),
    /// A column with the same time in UTC.
    Utc(usize),
}

pub(super) fn builder(separator: u8) -> ReaderBuilder {
    let mut builder = ReaderBuilder::new();
    builder.delimiter(separator).has_headers(false).flexible(true).trim(Trim::None);
    builder
}

/// Reads the beginning and finds the layout from it; answers both, the beginning without a byte order mark.
pub(super) fn open(input: &mut impl Read, options: &Options<'_>) -> Result<(Vec<u8>, Layout)> {
    let mut head = Vec::new();
    let mut read_on = |head: &mut Vec<u8>, most: u64| -> Result<bool> {
        let read = input.by_ref().take(most).read_to_end(head).map_err(|source| file_error(options, source))?;
        Ok((read as u64) < most)
    };
    let whole = read_on(&mut head, HEAD)?;
    if head.starts_with(b"\xef\xbb\xbf") {
        head.drain(..3);
    }
    let found = match Layout::find(&head, whole, options) {
        // A row may be as long as this and end behind what is looked at as a rule.
        Err(Error::Import { why: Refusal::Table(RowFault::RowTooLong), .. }) => {
            let whole = read_on(&mut head, LONGEST_ROW)?;
            Layout::find(&head, whole, options)
        }
        found => found,
    };
    Ok((head, found?))
}

/// Why a file cannot be read: the line, from 1, and the column, from 0, that are to blame.
struct Refused {
    line: u64,
    column: Option<usize>,
    fault: RowFault,
}

impl Refused {
    /// At a record, or at the first line where there is none to name.
    fn at(record: Option<&ByteRecord>, column: Option<usize>, fault: RowFault) -> Self {
        Self { line: record.and_then(ByteRecord::position).map_or(1, csv::Position::line), column, fault }
    }
}

/// The columns of one reading of the head.
struct Columns {
    separator: u8,
    rows_above: usize,
    width: usize,
    time: Vec<usize>,
    glucose: usize,
    names: Option<Vec<String>>,
    records: Vec<ByteRecord>,
    /// The line of the row that goes on behind the head, if one does.
    cut_off: Option<u64>,
}

impl Layout {
    fn find(head: &[u8], whole: bool, options: &Options<'_>) -> Result<Self> {
        if head.iter().all(u8::is_ascii_whitespace) {
            return Err(options.stop(1, None, &RowFault::Empty));
        }
        if head.contains(&0) || head.starts_with(b"\xff\xfe") || head.starts_with(b"\xfe\xff") {
            return Err(options.stop(1, None, &RowFault::NotText));
        }
        if let Some(format) = options.time_format.as_ref().filter(|format| !times::is_notation(format)) {
            return Err(options.stop(1, None, &RowFault::BadTimeFormat { given: format.clone() }));
        }
        let separators: Vec<u8> = options.separator.map_or_else(|| vec![b',', b';', b'\t'], |one| vec![one]);
        let mut refusal = None;
        let mut columns: Option<Columns> = None;
        for separator in separators {
            match Columns::find(head, whole, separator, options) {
                Ok(found) if columns.as_ref().is_none_or(|best| found.width > best.width) => columns = Some(found),
                Ok(_) => {}
                // The most informative refusal is the one that split the file into the most columns.
                Err((width, line, fault)) => {
                    if refusal.as_ref().is_none_or(|(best, _, _)| width > *best) {
                        refusal = Some((width, line, fault));
                    }
                }
            }
        }
        let Some(columns) = columns else {
            let (_, line, fault) = refusal.unwrap_or((0, 1, RowFault::Empty));
            return Err(options.stop(line, None, &fault));
        };
        let line_ends =
            if head.contains(&b'\r') && !head.contains(&b'\n') { LineEnds::CarriageReturn } else { LineEnds::LineFeed };
        columns
            .complete(line_ends, options)
            .map_err(|Refused { line, column, fault }| options.stop(line, column.map(|column| column + 1), &fault))
    }

    /// Whether a row is of the kind that readings are of.
    pub(super) fn is_of_readings(&self, record: &ByteRecord) -> bool {
        self.kind.as_ref().is_none_or(|(column, kind)| kind_of(record, *column) == *kind)
    }

    /// The time of a row, with its offset from wherever the row has it.
    pub(super) fn time(&self, record: &ByteRecord) -> Option<Time> {
        let time = times::read(&self.time_text(record), &self.times)?;
        let cell = |column: usize| decoded(record.get(column).unwrap_or_default().trim_ascii());
        Some(match self.offset {
            None => time,
            Some(Beside::Name(minutes)) => time.or_placed(minutes),
            Some(Beside::Offset(column)) if cell(column).is_empty() => time,
            Some(Beside::Offset(column)) => time.or_placed(times::offset_alone(&cell(column))?),
            Some(Beside::Utc(column)) if cell(column).is_empty() => time,
            Some(Beside::Utc(column)) => {
                let utc = times::read(&cell(column), &self.times)?;
                // Where they cannot be the same, the row is left out for it.
                times::offset_between(time.local(), utc.local()).map_or(time, |offset| time.or_placed(offset))
            }
        })
    }

    /// The cell that says another offset of the time than what stands behind the time or in another column, and its column.
    pub(super) fn contradicts_time(&self, record: &ByteRecord) -> Option<(usize, String)> {
        let utc_column = match self.offset {
            Some(Beside::Name(_)) => return None,
            Some(Beside::Utc(column)) => Some(column),
            Some(Beside::Offset(_)) | None => None,
        };
        if utc_column.is_none() && self.offset_column.is_none() {
            return None;
        }
        let time = times::read(&self.time_text(record), &self.times)?;
        let cell = |column: Option<usize>| {
            let column = column?;
            let text = decoded(record.get(column)?.trim_ascii()).into_owned();
            (!text.is_empty()).then_some((column, text))
        };
        let mut known = time.offset();
        if let Some((column, text)) = cell(utc_column) {
            let between = times::offset_between(time.local(), times::read(&text, &self.times)?.local());
            if between.is_none() || known.is_some_and(|known| between != Some(known)) {
                return Some((column, text));
            }
            known = between;
        } else {
            // A time in UTC often has the wearer's own offset beside it.
            known = known.filter(|known| *known != 0);
        }
        let (column, text) = cell(self.offset_column)?;
        let said = times::offset_alone(&text)?;
        known.is_some_and(|known| known != said).then_some((column, text))
    }

    /// What a row says of its unit, if that is not the file's, and the column.
    pub(super) fn names_other_unit(&self, record: &ByteRecord) -> Option<(usize, String)> {
        let column = self.unit_column?;
        let cell = decoded(record.get(column)?);
        unit_in(&cell.to_lowercase())
            .is_some_and(|unit| unit != Named::Known(self.unit))
            .then(|| (column, cell.into_owned()))
    }

    /// The sensor a row names.
    pub(super) fn sensor_of(&self, record: &ByteRecord) -> String {
        time_text(record, &self.sensor).into_owned()
    }

    /// The time's text of a row.
    pub(super) fn time_text<'r>(&self, record: &'r ByteRecord) -> Cow<'r, str> {
        time_text(record, &self.time)
    }
}

/// What a row says of its kind.
fn kind_of(record: &ByteRecord, column: usize) -> String {
    decoded(record.get(column).unwrap_or_default()).trim().to_lowercase()
}

fn time_text<'r>(record: &'r ByteRecord, columns: &[usize]) -> Cow<'r, str> {
    let cell = |column: usize| record.get(column).unwrap_or_default().trim_ascii();
    match columns {
        [one] => decoded(cell(*one)),
        several => {
            let parts: Vec<Cow<'_, str>> = several.iter().map(|&column| decoded(cell(column))).collect();
            parts.join(" ").trim().to_owned().into()
        }
    }
}

impl Columns {
    fn find(
        head: &[u8],
        whole: bool,
        separator: u8,
        options: &Options<'_>,
    ) -> std::result::Result<Self, (usize, u64, RowFault)> {
        let mut records: Vec<ByteRecord> = Vec::new();
        let mut reader = builder(separator).from_reader(head);
        let mut record = ByteRecord::new();
        // Reading from a slice into bytes has no way to fail; a break is as good as its end.
        while records.len() < SAMPLE + NAMES_WITHIN && reader.read_byte_record(&mut record).unwrap_or(false) {
            records.push(record.clone());
        }
        let cut_off = if whole || !reader.is_done() { None } else { records.pop() };
        // Counted back from its end: its own position lies before empty lines that were passed over.
        let breaks = |bytes: &[u8]| bytes.iter().filter(|&&byte| byte == b'\n').count() as u64;
        let ended = u64::from(head.ends_with(b"\n"));
        let cut_off =
            cut_off.map(|record| reader.position().line().saturating_sub(breaks(record.as_slice()) + ended).max(1));
        if let (true, Some(line)) = (records.is_empty(), cut_off) {
            return Err((0, line, RowFault::RowTooLong));
        }
        let text =
            |record: &ByteRecord| -> Vec<String> { record.iter().map(|c| decoded(c).trim().to_owned()).collect() };

        let mut refusal = None;
        for (at, record) in records.iter().take(NAMES_WITHIN).enumerate() {
            let names = text(record);
            match Self::by_name(&names, options) {
                Ok((time, glucose)) => {
                    let width = names.len();
                    let records = records.split_off(at + 1);
                    return Ok(Self {
                        separator,
                        rows_above: at + 1,
                        width,
                        time,
                        glucose,
                        names: Some(names),
                        records,
                        cut_off,
                    });
                }
                Err(fault) => {
                    // The widest row is the likeliest header, and what is missing from it the most informative.
                    let line = record.position().map_or(1, csv::Position::line);
                    let closer =
                        |kept: &(usize, u64, RowFault)| (names.len(), nearness(&fault)) > (kept.0, nearness(&kept.2));
                    if refusal.as_ref().is_none_or(closer) {
                        refusal = Some((names.len(), line, fault));
                    }
                }
            }
        }
        let first = records.iter().find(|record| record.iter().any(|cell| !cell.trim_ascii().is_empty()));
        if let Some((time, glucose)) = first.and_then(|record| Self::by_content(&text(record), options)) {
            let width = first.map_or(0, ByteRecord::len);
            return Ok(Self { separator, rows_above: 0, width, time, glucose, names: None, records, cut_off });
        }
        Err(refusal.unwrap_or((0, 1, RowFault::Empty)))
    }

    /// Columns by their names.
    fn by_name(names: &[String], options: &Options<'_>) -> std::result::Result<(Vec<usize>, usize), RowFault> {
        let seen = || names.iter().filter(|name| !name.is_empty()).map(|name| shortened(name)).collect::<Vec<_>>();
        let asked = |asked: &str| {
            let wanted = asked.trim().to_lowercase();
            let by_name = names.iter().position(|name| name.to_lowercase() == wanted);
            by_name
                .or_else(|| wanted.parse::<usize>().ok().filter(|n| (1..=names.len()).contains(n)).map(|n| n - 1))
                .ok_or_else(|| RowFault::NoSuchColumn { asked: asked.to_owned(), seen: seen() })
        };
        let best = |rank: &dyn Fn(&str) -> u8| -> Vec<usize> {
            let ranks: Vec<u8> = names.iter().map(|name| rank(&name.to_lowercase())).collect();
            let highest = ranks.iter().copied().max().unwrap_or(0);
            (0..ranks.len()).filter(|&at| highest > 0 && ranks[at] == highest).collect()
        };
        // A first row of data, with columns asked for by number, has no names in it.
        let is_data = names.iter().any(|cell| times::FOUND.iter().any(|format| times::read(cell, format).is_some()));
        if is_data {
            return Err(RowFault::NoTimeColumn { seen: seen() });
        }
        let time = match &options.time_column {
            Some(name) => vec![asked(name)?],
            None => {
                let whole = best(&whole_time_rank);
                let date = best(&date_rank);
                // A local time goes before the same time in UTC, which then says its offset.
                let local = whole.iter().find(|&&column| offset_in(&names[column].to_lowercase()).is_none());
                match (local.or(whole.first()), date.first()) {
                    (Some(&time), Some(&date)) if whole_time_rank(&names[time].to_lowercase()) == 1 => vec![date, time],
                    (Some(&time), _) => vec![time],
                    (None, Some(&date)) => vec![date],
                    (None, None) => return Err(RowFault::NoTimeColumn { seen: seen() }),
                }
            }
        };
        let glucose = match &options.glucose_column {
            Some(name) => asked(name)?,
            None => {
                let found = best(&glucose_rank);
                match found.as_slice() {
                    [] if names.iter().any(|name| is_meters(&name.to_lowercase())) => {
                        return Err(RowFault::OnlyMeter { seen: seen() });
                    }
                    [] => return Err(RowFault::NoGlucoseColumn { seen: seen() }),
                    [one] => *one,
                    several => {
                        let seen = several.iter().map(|&at| shortened(&names[at])).collect();
                        return Err(RowFault::SeveralGlucoseColumns { seen });
                    }
                }
            }
        };
        Ok((time, glucose))
    }

    /// Columns of a first row that has no names: one time and one number, or the numbers of the columns asked for.
    fn by_content(cells: &[String], options: &Options<'_>) -> Option<(Vec<usize>, usize)> {
        let asked = |asked: &Option<String>| {
            asked.as_ref().map(|asked| {
                asked.trim().parse::<usize>().ok().filter(|n| (1..=cells.len()).contains(n)).map(|n| n - 1)
            })
        };
        let is_time = |cell: &str| match &options.time_format {
            Some(format) => times::read(cell, &times::Format::Given(format.clone())).is_some(),
            None => times::FOUND.iter().any(|format| times::read(cell, format).is_some()),
        };
        let time = match asked(&options.time_column) {
            Some(column) => column.filter(|&column| is_time(&cells[column]))?,
            None => cells.iter().position(|cell| is_time(cell))?,
        };
        let mut numbers = (0..cells.len())
            .filter(|&column| column != time && matches!(Written::read(&cells[column]), Written::Number(_)));
        let glucose = match asked(&options.glucose_column) {
            Some(column) => column?,
            None => numbers.next().filter(|_| numbers.next().is_none())?,
        };
        Some((vec![time], glucose))
    }

    /// Finds unit and time format in the rows below the names.
    fn complete(mut self, line_ends: LineEnds, options: &Options<'_>) -> std::result::Result<Layout, Refused> {
        if let (true, Some(line)) = (self.records.is_empty(), self.cut_off) {
            return Err(Refused { line, column: None, fault: RowFault::RowTooLong });
        }
        self.records.retain(|record| record.iter().any(|cell| !cell.trim_ascii().is_empty()));
        self.settle_time_columns()?;
        let kind = self.kind().map_err(|fault| Refused::at(self.records.first(), None, fault))?;
        if let Some((column, kind)) = &kind {
            self.records.retain(|record| kind_of(record, *column) == *kind);
        }
        let sample = self.sample();
        let times = self.time_format(&sample, options)?;
        let offset = self.offset(&sample, &times).map_err(|(record, column, given)| {
            Refused::at(Some(record), Some(column), RowFault::OffsetUnknown { column: self.name(column), given })
        })?;
        let offset_column = match offset {
            Some(Beside::Offset(column)) => Some(column),
            _ => self.others(is_offset).first().copied(),
        };
        let (unit_column, named) = self.named_unit(&sample).map_err(|(record, column, fault)| match record {
            Some(_) => Refused::at(record, Some(column), fault),
            // The name of the column says so.
            None => Refused { line: self.rows_above as u64, column: Some(column), fault },
        })?;
        let unit = self.unit(&sample, options.unit.or(named), options)?;
        let name = |column: usize| self.name(column);
        Ok(Layout {
            separator: self.separator,
            line_ends,
            rows_above: self.rows_above,
            width: self.width,
            unused: (0..self.width)
                .filter(|column| *column != self.glucose && !self.time.contains(column) && Some(*column) != unit_column)
                .filter(|column| !matches!(offset, Some(Beside::Offset(used) | Beside::Utc(used)) if used == *column))
                .filter(|column| offset_column != Some(*column))
                .map(name)
                .collect(),
            // The wearer's own word goes before the column's.
            unit_column: unit_column.filter(|_| options.unit.is_none()),
            offset,
            offset_column,
            sensor_name: self.sensor().into_iter().map(name).collect::<Vec<_>>().join(" + "),
            sensor: self.sensor(),
            time_name: self.time.iter().map(|&column| name(column)).collect::<Vec<_>>().join(" + "),
            glucose_name: name(self.glucose),
            time: self.time,
            glucose: self.glucose,
            times,
            unit,
            kind,
        })
    }

    /// A column's name as a message shows it, or its number from 1.
    fn name(&self, column: usize) -> String {
        self.names.as_ref().map_or_else(|| (column + 1).to_string(), |names| shortened(&names[column]))
    }

    /// The text of a record's reading.
    fn glucose_text(&self, record: &ByteRecord) -> String {
        record.get(self.glucose).map(|cell| decoded(cell).trim().to_owned()).unwrap_or_default()
    }

    /// A single column named "date" beside one named "time" may hold both. Refused where there is no row.
    fn settle_time_columns(&mut self) -> std::result::Result<(), Refused> {
        let first = self.records.first().ok_or(Refused { line: 1, column: None, fault: RowFault::NoRows })?;
        if let [date, time] = self.time[..] {
            let (whole, of_day) = (time_text(first, &[date]), time_text(first, &[time]));
            let is_time = |text: &str| times::FOUND.iter().any(|format| times::read(text, format).is_some());
            if !times::is_time_of_day(&of_day) {
                self.time = vec![if is_time(&of_day) { time } else { date }];
            } else if is_time(&whole) {
                self.time = vec![date];
            }
        }
        Ok(())
    }

    /// Rows with something in place of a reading; rows of other kinds say nothing about how readings are written. All, if none has.
    fn sample(&self) -> Vec<&ByteRecord> {
        let is_filled = |record: &&ByteRecord| Written::read(&self.glucose_text(record)) != Written::Empty;
        let sample: Vec<&ByteRecord> = self.records.iter().filter(is_filled).collect();
        if sample.is_empty() { self.records.iter().collect() } else { sample }
    }

    /// How times are written: as it was said, where that reads any, else as most of them are.
    fn time_format(
        &self,
        sample: &[&ByteRecord],
        options: &Options<'_>,
    ) -> std::result::Result<times::Format, Refused> {
        let texts: Vec<Cow<'_, str>> = sample.iter().map(|record| time_text(record, &self.time)).collect();
        let found = match &options.time_format {
            None => way_of_times(&texts),
            Some(format) => {
                let format = times::Format::Given(format.clone());
                let given = || texts.first().map(|text| shortened(text)).unwrap_or_default();
                let reads_any = texts.iter().any(|text| times::read(text, &format).is_some());
                if reads_any { Ok(format) } else { Err(RowFault::TimesUnknown { given: given() }) }
            }
        };
        found.map_err(|fault| Refused::at(sample.first().copied(), Some(self.time[0]), fault))
    }

    /// The unit of the readings: what was said, where the values fit it, else what the values fit.
    fn unit(
        &self,
        sample: &[&ByteRecord],
        said: Option<GlucoseUnit>,
        options: &Options<'_>,
    ) -> std::result::Result<GlucoseUnit, Refused> {
        let numbers = || {
            sample.iter().filter_map(|record| match Written::read(&self.glucose_text(record)) {
                Written::Number(number) => Some((*record, number)),
                _ => None,
            })
        };
        let refused = |example: Option<(&ByteRecord, f64)>, fault: &dyn Fn(String) -> RowFault| {
            let record = example.map(|(record, _)| record);
            let given = record.map(|record| shortened(&self.glucose_text(record))).unwrap_or_default();
            Err(Refused::at(record, Some(self.glucose), fault(given)))
        };
        match (said, values::sampled(numbers().map(|(_, number)| number))) {
            (Some(said), Sampled::Fits(fits)) if said != fits => {
                let example =
                    numbers().find(|&(_, number)| values::sampled([number].into_iter()) == Sampled::Fits(fits));
                refused(example, &|given| RowFault::OtherUnit { said, fits, given })
            }
            (Some(said), _) => Ok(said),
            (None, Sampled::Fits(GlucoseUnit::MmolL)) if values::may_be_grams_per_litre(numbers().map(|(_, n)| n)) => {
                refused(numbers().next(), &|given| RowFault::UnitNotNamed { given })
            }
            (None, Sampled::Fits(fits)) => Ok(fits),
            (None, Sampled::Undecided) => refused(numbers().next(), &|given| RowFault::UnitUnknown { given }),
            // Nothing here can be a reading in any unit; each row will say so.
            (None, Sampled::Nothing) => Ok(options.usual_unit),
        }
    }

    /// The columns, apart from the time's and the readings' own, with such a name in lower case.
    fn others(&self, is_meant: impl Fn(&str) -> bool) -> Vec<usize> {
        let names = self.names.as_deref().unwrap_or_default();
        let is_other = |column: &usize| *column != self.glucose && !self.time.contains(column);
        (0..names.len()).filter(is_other).filter(|&column| is_meant(&names[column].to_lowercase())).collect()
    }

    /// The columns that name the sensor a reading is from.
    fn sensor(&self) -> Vec<usize> {
        const NAMES: [&str; 9] = [
            "sensor",
            "device",
            "transmitter",
            "serial",
            "ger\u{e4}t",
            "geraet",
            "seriennummer",
            "ger\u{e4}tename",
            "dispositivo",
        ];
        const BESIDE: [&str; 7] = ["id", "name", "number", "no", "nr", "sn", "num"];
        let is_meant =
            |name: &str| has(name, &NAMES) && words(name).all(|word| NAMES.contains(&word) || BESIDE.contains(&word));
        self.others(is_meant)
    }

    /// What says the offset of the times that have none behind them. Refused with a cell that is no offset.
    fn offset<'r>(
        &self,
        sample: &[&'r ByteRecord],
        format: &times::Format,
    ) -> std::result::Result<Option<Beside>, (&'r ByteRecord, usize, String)> {
        let names = self.names.as_deref().unwrap_or_default();
        let own = self.time.iter().filter_map(|&column| names.get(column));
        if let Some(minutes) = own.filter_map(|name| offset_in(&name.to_lowercase())).next() {
            return Ok(Some(Beside::Name(minutes)));
        }
        let cells = |column: usize| {
            let text = move |record: &'r ByteRecord| decoded(record.get(column).unwrap_or_default().trim_ascii());
            sample.iter().map(move |record| (*record, text(record))).filter(|(_, text)| !text.is_empty())
        };
        let same_in_utc = self.others(|name| offset_in(name) == Some(0) && whole_time_rank(name) > 0);
        let is_time =
            |column: &usize| cells(*column).next().is_some_and(|(_, cell)| times::read(&cell, format).is_some());
        if let Some(column) = same_in_utc.into_iter().find(is_time) {
            return Ok(Some(Beside::Utc(column)));
        }
        let no_offset = |column: usize| cells(column).find(|(_, cell)| times::offset_alone(cell).is_none());
        if let Some(column) = self.others(is_offset).into_iter().find(|&column| cells(column).next().is_some()) {
            return match no_offset(column) {
                Some((record, given)) => Err((record, column, shortened(&given))),
                None => Ok(Some(Beside::Offset(column))),
            };
        }
        // A column of zones may name places, of which nothing is known here.
        let zones = self.others(|name| has(name, &["zone", "timezone", "tz", "zeitzone"]));
        let is_used = |column: &usize| cells(*column).next().is_some() && no_offset(*column).is_none();
        Ok(zones.into_iter().find(is_used).map(Beside::Offset))
    }

    /// The unit that the readings' name and a column of units say, and that column. Refused where they say another unit or two.
    #[allow(clippy::type_complexity)]
    fn named_unit<'r>(
        &self,
        sample: &[&'r ByteRecord],
    ) -> std::result::Result<(Option<usize>, Option<GlucoseUnit>), (Option<&'r ByteRecord>, usize, RowFault)> {
        let column_name =
            |column: usize| self.names.as_ref().map_or_else(String::new, |names| shortened(&names[column]));
        let header = self.names.as_ref().and_then(|names| unit_in(&names[self.glucose].to_lowercase()));
        let another = |column: usize, given: String| RowFault::AnotherUnit { column: column_name(column), given };
        let mut said = match header {
            Some(Named::Another(given)) => return Err((None, self.glucose, another(self.glucose, given))),
            Some(Named::Known(unit)) => Some(unit),
            None => None,
        };
        let is_meant = |name: &str| {
            has(name, &["unit", "units", "uom", "einheit", "unidad", "unidades", "unité"])
                && !has(name, &["insulin", "bolus", "basal", "carb", "carbs", "ketone", "ketones", "weight"])
        };
        let cell = |record: &ByteRecord, column: usize| {
            record.get(column).and_then(|cell| unit_in(&decoded(cell).to_lowercase()))
        };
        let columns = self.others(is_meant);
        let column = columns.into_iter().find(|&column| sample.iter().any(|record| cell(record, column).is_some()));
        let Some(column) = column else { return Ok((None, said)) };
        for record in sample {
            match cell(record, column) {
                Some(Named::Another(given)) => return Err((Some(record), column, another(column, given))),
                Some(Named::Known(unit)) if said.is_some_and(|said| said != unit) => {
                    return Err((Some(record), column, RowFault::SeveralUnits { column: column_name(column) }));
                }
                Some(Named::Known(unit)) => said = Some(unit),
                None => {}
            }
        }
        Ok((Some(column), said))
    }

    /// Where a column says of what kind a row is and the values' own says only that they are values: the kind that is glucose.
    /// Carbohydrate in grams taken for glucose would look like a low.
    fn kind(&self) -> std::result::Result<Option<(usize, String)>, RowFault> {
        let Some(names) = &self.names else { return Ok(None) };
        let rank = |column: usize| glucose_rank(&names[column].to_lowercase());
        let column = names.iter().position(|name| {
            let name = name.to_lowercase();
            has(
                &name,
                &["type", "kind", "category", "event", "metric", "measure", "measurement", "art", "typ", "kategorie"],
            )
        });
        let Some(column) = column.filter(|column| rank(self.glucose) < 2 && *column != self.glucose) else {
            return Ok(None);
        };
        let mut kinds: Vec<String> = self
            .records
            .iter()
            .filter(|record| {
                matches!(Written::read(&decoded(record.get(self.glucose).unwrap_or_default())), Written::Number(_))
            })
            .map(|record| kind_of(record, column))
            .collect();
        kinds.sort_unstable();
        kinds.dedup();
        let readings: Vec<&String> = kinds.iter().filter(|kind| glucose_rank(kind) >= 2).collect();
        match (kinds.as_slice(), readings.as_slice()) {
            ([], _) => Ok(None),
            ([one], _) => Ok(Some((column, one.clone()))),
            (_, [one]) => Ok(Some((column, (*one).clone()))),
            (several, _) => {
                let seen = several.iter().map(|kind| shortened(kind)).collect();
                Err(RowFault::SeveralKinds { column: shortened(&names[column]), seen })
            }
        }
    }
}

/// How near a refusal is to a file that could be read.
const fn nearness(fault: &RowFault) -> u8 {
    match fault {
        RowFault::NoTimeColumn { .. } => 0,
        RowFault::NoGlucoseColumn { .. } | RowFault::OnlyMeter { .. } => 1,
        _ => 2,
    }
}

/// The one way in which most of the times are written.
fn way_of_times(texts: &[Cow<'_, str>]) -> std::result::Result<times::Format, RowFault> {
    let count = |format: &times::Format| texts.iter().filter(|text| times::read(text, format).is_some()).count();
    let mut best: Option<(usize, times::Format)> = None;
    for format in times::FOUND {
        let read = count(&format);
        if read > best.as_ref().map_or(0, |(most, _)| *most) {
            best = Some((read, format));
        }
    }
    let given = || texts.first().map(|text| shortened(text)).unwrap_or_default();
    let Some((read, format)) = best else { return Err(RowFault::TimesUnknown { given: given() }) };
    if format != times::Format::DayFirst || count(&times::Format::MonthFirst) < read {
        return Ok(format);
    }
    // Both orders read every time: the one that keeps neighbours together is meant.
    let widest_gap = |format: &times::Format| {
        let locals: Vec<_> =
            texts.iter().filter_map(|text| times::read(text, format)).map(times::Time::local).collect();
        locals.windows(2).map(|pair| (pair[1] - pair[0]).abs()).max().unwrap_or_default()
    };
    let (day, month) = (widest_gap(&times::Format::DayFirst), widest_gap(&times::Format::MonthFirst));
    match day.cmp(&month) {
        std::cmp::Ordering::Less => Ok(times::Format::DayFirst),
        std::cmp::Ordering::Greater => Ok(times::Format::MonthFirst),
        std::cmp::Ordering::Equal => Err(RowFault::DayOrMonth { given: given() }),
    }
}
