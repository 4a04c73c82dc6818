//! Merging another log: what it would change, shown before anything is written; the merge itself; and restoring a copy.

use rusqlite::Connection;

use crate::error::{Error, Quantity, Result, Why};
use crate::log::current::Standing;
use crate::log::{Entry, EntryId, EntryKind, Reading};
use crate::store::read::{self, Stretch};
use crate::store::rows::Origin;
use crate::store::settings::{StoredSetting, Taking};
use crate::store::sqlite_error::StoreError;
use crate::store::write::{Put, Recorded, Writer};
use crate::time::{DAY_MS, MINUTE_MS, Moment};

/// A place that facts can be taken from: another log, or a sealed one.
pub trait Facts {
    /// Visits every fact. What is no sensor reading comes first; sensor readings come in the order of their times.
    ///
    /// # Errors
    /// Those of `visit`, which end the iteration, and those of reading the place.
    fn each_fact(&self, visit: &mut dyn FnMut(Entry) -> Result<()>) -> Result<()>;
}

/// A place that a whole log can be taken from, its settings and what it learned included.
pub trait Whole: Facts {
    /// Visits every setting, oldest first, and everything learned.
    ///
    /// # Errors
    /// As [`Facts::each_fact`].
    fn each_kept(&self, keep: &mut dyn FnMut(StoredSetting) -> Result<()>) -> Result<()>;
}

/// What merging another log would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MergePreview {
    /// What the log would gain.
    pub recorded: Recorded,
    /// The same by what it is.
    pub brings: Brings,
    /// What holds here now and would not any more.
    pub hidden: Hidden,
    /// How the other log's readings fit the ones here.
    pub agreement: Agreement,
    /// New entries recorded later than this device's clock says it is.
    pub ahead: u64,
    /// Entries that are here already and say something else there.
    pub rewritten: u64,
}

/// New facts of another log.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Brings {
    /// Sensor readings.
    pub readings: u64,
    /// What else was said or received.
    pub others: u64,
    /// Corrections.
    pub corrections: u64,
    /// Retractions.
    pub retractions: u64,
    /// Imports, without what came with them.
    pub imports: u64,
    /// The time of the earliest.
    pub first: Option<Moment>,
    /// The time of the latest.
    pub last: Option<Moment>,
}

/// What holds now and would not any more, because the other log corrects or takes it back.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hidden {
    /// Sensor readings.
    pub readings: u64,
    /// Everything else.
    pub others: u64,
    /// The first few of the others, by time.
    pub some: Vec<Entry>,
}

/// How readings of two logs fit where both have some.
///
/// A reading is compared with the line between the two readings around it in the log here, if those are at most
/// 20 minutes apart. It differs where the two are further apart than 40 mg/dL or, above 100 mg/dL, 40 %.
///
/// # Source
/// The bounds are those that over 99 % of an integrated sensor's readings have to keep beside a laboratory's: within
/// 40 mg/dL below 70 mg/dL, within 40 % above (21 CFR 862.1355 (b)(1)(v), special controls), from memory. Of the 240 pairs
/// of 16 people in two open sets (AZT1D, HUPA-UCM), laid over each other by whole days, 20 % of the readings or more left
/// them, 46 % in the median; the line is drawn at 15 %.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Agreement {
    /// Readings of the other log that could be compared.
    pub compared: u64,
    /// Of these, how many differ.
    pub differing: u64,
}

impl Agreement {
    /// The widest gap between two readings over which a line is drawn, in milliseconds: 20 minutes, so that one missed
    /// reading in a row of ten minutes does not matter.
    const WIDEST_GAP_MS: i64 = 20 * MINUTE_MS;
    /// Fewest compared readings that say anything: three hours of readings every five minutes.
    pub const FEWEST: u64 = 36;
    /// The share of differing readings from which two logs are taken for those of two wearers, in percent.
    const OTHER_WEARER_PERCENT: u64 = 15;

    /// Whether enough could be compared to say anything.
    #[must_use]
    pub const fn is_conclusive(self) -> bool {
        self.compared >= Self::FEWEST
    }

    /// Whether the logs look like those of two wearers.
    #[must_use]
    pub const fn looks_like_another_wearer(self) -> bool {
        self.is_conclusive() && self.differing * 100 >= self.compared * Self::OTHER_WEARER_PERCENT
    }
}

/// A reason not to merge a log without asking once more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MergeWarning {
    /// The readings are so different that the log seems to be another person's.
    AnotherWearer(Agreement),
    /// Entries were recorded ahead of this device's clock: one of two clocks is wrong, or the log was tampered with.
    AheadOfClock {
        /// How many.
        entries: u64,
    },
    /// Entries that are here say something else there: no phone does that by itself.
    Rewritten {
        /// How many.
        entries: u64,
    },
    /// Much of what holds here would be taken back.
    HidesMuch {
        /// Sensor readings.
        readings: u64,
        /// Everything else.
        others: u64,
    },
}

impl MergePreview {
    /// The most readings another log may take back without being asked about: a day of readings every five minutes.
    const MOST_HIDDEN_READINGS: u64 = 288;
    /// The most other entries another log may take back without being asked about.
    const MOST_HIDDEN_OTHERS: u64 = 25;

    /// What speaks against merging the log, gravest first.
    #[must_use]
    pub fn warnings(&self) -> Vec<MergeWarning> {
        let mut all = Vec::new();
        if self.agreement.looks_like_another_wearer() {
            all.push(MergeWarning::AnotherWearer(self.agreement));
        }
        if self.rewritten > 0 {
            all.push(MergeWarning::Rewritten { entries: self.rewritten });
        }
        let Hidden { readings, others, .. } = self.hidden;
        if readings > Self::MOST_HIDDEN_READINGS || others > Self::MOST_HIDDEN_OTHERS {
            all.push(MergeWarning::HidesMuch { readings, others });
        }
        if self.ahead > 0 {
            all.push(MergeWarning::AheadOfClock { entries: self.ahead });
        }
        all
    }

    /// Whether taking the log in would change nothing.
    #[must_use]
    pub const fn changes_nothing(&self) -> bool {
        let hidden = self.hidden.readings + self.hidden.others;
        self.recorded.new == 0 && self.rewritten == 0 && hidden == 0
    }
}

impl Brings {
    fn see(&mut self, entry: &Entry) {
        match (&entry.what, entry.replaces) {
            (EntryKind::Retraction, _) => self.retractions += 1,
            (_, Some(_)) => self.corrections += 1,
            (EntryKind::SensorReading { .. } | EntryKind::SensorBeyond { .. }, None) => self.readings += 1,
            (EntryKind::Import { .. }, None) => self.imports += 1,
            (_, None) => self.others += 1,
        }
        // An import bears the time at which it was made.
        if matches!(entry.what, EntryKind::Import { .. }) {
            return;
        }
        self.first = Some(self.first.map_or(entry.at, |first| first.min(entry.at)));
        self.last = Some(self.last.map_or(entry.at, |last| last.max(entry.at)));
    }
}

/// Puts every fact of `other` into the log, inside a transaction of the caller's, and reports what became of each; of one that came
/// with two imports also its second arrival, as one that is known.
pub(super) fn put_facts(
    connection: &Connection,
    other: &dyn Facts,
    mut see: impl FnMut(&Entry, Put),
) -> Result<Recorded, StoreError> {
    let mut writer = Writer::begin(connection)?;
    let mut fault = None;
    let mut before = None;
    let read = other.each_fact(&mut |entry| {
        // A fact that came with two imports is given twice, one after the other.
        let put = match before.replace(entry.id) == Some(entry.id) {
            true => writer.put_again(&entry, Origin::Brought).map(|_| Put::Known),
            false => writer.put(&entry, Origin::Brought),
        };
        put.map(|put| see(&entry, put)).map_err(|error| {
            fault = Some(error);
            Error::Invalid { what: Quantity::Entry, why: Why::CannotBeTaken }
        })
    });
    match fault {
        // The failure of this log's own side, not of the other's.
        Some(fault) => Err(fault),
        None => read.map(|()| writer.finish()).map_err(StoreError::Said),
    }
}

/// Takes over a whole log into one that is unused, inside a transaction of the caller's.
pub(super) fn restore(connection: &Connection, whole: &dyn Whole) -> Result<Recorded, StoreError> {
    if !read::is_unused(connection)? {
        return Err(Error::Invalid { what: Quantity::Log, why: Why::HasEntries }.into());
    }
    let recorded = put_facts(connection, whole, |_, _| {})?;
    let taking = Taking::begin(connection)?;
    let mut fault = None;
    let read = whole.each_kept(&mut |kept| {
        taking.put(connection, &kept).map_err(|error| {
            fault = Some(error);
            Error::Invalid { what: Quantity::Setting, why: Why::CannotBeTaken }
        })
    });
    match fault {
        Some(fault) => Err(fault),
        None => read.map(|()| recorded).map_err(StoreError::Said),
    }
}

/// Rehearses in a transaction that the caller rolls back; the agreement is found before, by [`agreement`].
pub(super) fn rehearse(connection: &Connection, other: &dyn Facts, now: Moment) -> Result<MergePreview, StoreError> {
    let mut preview = MergePreview::default();
    let latest = now.unix_ms().saturating_add(Entry::AHEAD_OF_CLOCK_MS);
    // Only what corrects or takes back, or is forged, can silence anything; most logs that are merged bring none of that.
    let mut may_silence = false;
    let mut fault = None;
    other
        .each_fact(&mut |entry| {
            if may_silence || matches!(entry.what, EntryKind::SensorReading { .. }) && entry.replaces.is_none() {
                return Ok(());
            }
            match read::get(connection, entry.id) {
                // A correction known from an import that was undone counts again when it comes another way.
                Ok(Some(held)) => {
                    let comes_anew = held.import.is_some() && held.import != entry.import;
                    may_silence |= held.says() != entry.says() || entry.replaces.is_some() && comes_anew;
                }
                Ok(None) => may_silence |= entry.replaces.is_some(),
                Err(error) => {
                    fault = Some(error);
                    return Err(Error::Invalid { what: Quantity::Entry, why: Why::CannotBeCompared });
                }
            }
            Ok(())
        })
        .or_else(|error| fault.take().map_or(Err(StoreError::Said(error)), Err))?;
    let before = if may_silence { Some(Holding::of(connection)?) } else { None };
    preview.recorded = put_facts(connection, other, |entry, put| match put {
        Put::New => {
            preview.brings.see(entry);
            preview.ahead += u64::from(entry.recorded.unix_ms() > latest);
        }
        Put::Known => {}
        Put::Rewritten => preview.rewritten += 1,
    })?;
    if let Some(before) = before {
        preview.hidden = before.lost(connection)?;
    }
    Ok(preview)
}

/// The identities of all that holds, folded to 8 bytes each: a long log has a million readings.
struct Holding {
    readings: Vec<u64>,
    others: Vec<EntryId>,
}

impl Holding {
    /// The most entries listed.
    const SOME: usize = 10;

    fn of(connection: &Connection) -> Result<Self, StoreError> {
        let mut held = Self { readings: Vec::new(), others: Vec::new() };
        each_holding(connection, |entry| match entry.what {
            EntryKind::SensorReading { .. } | EntryKind::SensorBeyond { .. } => held.readings.push(folded(entry.id)),
            _ => held.others.push(entry.id),
        })?;
        held.readings.sort_unstable();
        held.others.sort_unstable();
        Ok(held)
    }

    fn lost(&self, connection: &Connection) -> Result<Hidden, StoreError> {
        let after = Self::of(connection)?;
        let gone = |kept: &[u64], id: &u64| kept.binary_search(id).is_err();
        let mut hidden = Hidden {
            readings: self.readings.iter().filter(|id| gone(&after.readings, id)).count() as u64,
            ..Hidden::default()
        };
        for id in self.others.iter().filter(|id| after.others.binary_search(id).is_err()) {
            hidden.others += 1;
            if hidden.some.len() < Self::SOME
                && let Some(entry) = read::get(connection, *id)?
            {
                hidden.some.push(entry);
            }
        }
        hidden.some.sort_unstable_by_key(Entry::order);
        Ok(hidden)
    }
}

impl Entry {
    /// What one identity may say only once.
    pub(super) fn says(&self) -> (i64, Option<EntryId>, String) {
        (self.at.unix_ms(), self.replaces, self.what.canonical())
    }
}

fn folded(id: EntryId) -> u64 {
    let (high, low) = id.0.as_u64_pair();
    high.rotate_left(32) ^ low
}

/// Visits everything that holds, a week at a time.
fn each_holding(connection: &Connection, mut visit: impl FnMut(&Entry)) -> Result<(), StoreError> {
    let Some((first, last)) = read::bounds(connection)? else { return Ok(()) };
    let mut from = first;
    while from <= last {
        let until = from.saturating_add(7 * DAY_MS - 1);
        for entry in read::current(connection, Stretch::of_ms(from, until))? {
            visit(&entry);
        }
        from = until + 1;
    }
    Ok(())
}

/// Compares the other log's readings, those it holds for true, with the readings that hold here.
pub(super) fn agreement(connection: &Connection, other: &dyn Facts) -> Result<Agreement, StoreError> {
    let mut agreement = Agreement::default();
    let mut near = Near { connection, week: i64::MIN, readings: Vec::new() };
    let mut replacing: Vec<Entry> = Vec::new();
    let mut theirs: Option<Theirs> = None;
    let mut fault = None;
    other
        .each_fact(&mut |entry| {
            let EntryKind::SensorReading { mg_dl } = entry.what else {
                if entry.replaces.is_some() || matches!(entry.what, EntryKind::Import { .. }) {
                    replacing.push(entry);
                }
                return Ok(());
            };
            // Everything else came before: now it is known what the other log itself took back.
            let theirs = theirs.get_or_insert_with(|| Theirs::of(std::mem::take(&mut replacing)));
            if entry.replaces.is_some() || theirs.hides(&entry) {
                return Ok(());
            }
            match near.amount(entry.at.unix_ms()) {
                Ok(Some(own)) => {
                    agreement.compared += 1;
                    let bound = (own * 0.4).max(40.0);
                    agreement.differing += u64::from((own - mg_dl.mg_dl()).abs() > bound);
                    Ok(())
                }
                Ok(None) => Ok(()),
                Err(error) => {
                    fault = Some(error);
                    Err(Error::Invalid { what: Quantity::Entry, why: Why::CannotBeCompared })
                }
            }
        })
        .or_else(|error| fault.take().map_or(Err(StoreError::Said(error)), Err))?;
    Ok(agreement)
}

/// What another log itself no longer holds for true.
struct Theirs(Standing);

impl Theirs {
    fn of(replacing: Vec<Entry>) -> Self {
        Self(Standing::weigh(replacing).1)
    }

    fn hides(&self, reading: &Entry) -> bool {
        self.0.is_replaced(reading.id) || reading.import.is_some_and(|import| !self.0.import_stands(import))
    }
}

/// The log's own readings around an instant, kept for a week.
struct Near<'c> {
    connection: &'c Connection,
    week: i64,
    readings: Vec<Reading>,
}

impl Near<'_> {
    /// What the log says of this instant, in mg/dL; nothing where it has no reading close enough on both sides.
    fn amount(&mut self, at: i64) -> Result<Option<f64>, StoreError> {
        const WEEK_MS: i64 = 7 * DAY_MS;
        let week = at.div_euclid(WEEK_MS);
        if week != self.week {
            let (from, until) = (week * WEEK_MS, (week + 1) * WEEK_MS);
            let gap = Agreement::WIDEST_GAP_MS;
            self.readings = read::history(self.connection, Stretch::of_ms(from - gap, until + gap))?.readings;
            self.week = week;
        }
        let after = self.readings.partition_point(|reading| reading.at.unix_ms() < at);
        let Some(right) = self.readings.get(after) else { return Ok(None) };
        if right.at.unix_ms() == at {
            return Ok(Some(right.glucose.mg_dl()));
        }
        let Some(left) = after.checked_sub(1).and_then(|before| self.readings.get(before)) else { return Ok(None) };
        let width = right.at.unix_ms() - left.at.unix_ms();
        if width > Agreement::WIDEST_GAP_MS {
            return Ok(None);
        }
        let (from, to) = (left.glucose.mg_dl(), right.glucose.mg_dl());
        Ok(Some(from + (to - from) * (at - left.at.unix_ms()) as f64 / width as f64))
    }
}
