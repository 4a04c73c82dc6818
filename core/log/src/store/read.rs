//! Asking the log: raw facts, and what holds among them.

use std::collections::{HashMap, HashSet};

use rusqlite::{Connection, OptionalExtension, params};

use crate::log::current::{Provenance, Standing};
use crate::log::{APART_MS, Entry, EntryId, EntryKind, History, Reading, SILENT_MINUTES, Source, of_resolved};
use crate::store::rows::{EntryRow, Names, ReadingRow};
use crate::store::settings;
use crate::store::source_start;
use crate::store::sqlite_error::StoreError;
use crate::time::{DAY_MS, HOUR_MS, MINUTE_MS, Moment};

/// How many facts a log holds, replaced ones included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    /// Sensor readings, those too low or too high to measure included.
    pub readings: u64,
    /// Everything else.
    pub others: u64,
}

/// A stretch of time, both ends included, in milliseconds of Unix time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    from: i64,
    until: i64,
}

impl Stretch {
    pub(super) fn new(from: Moment, until: Moment) -> Self {
        Self { from: from.unix_ms(), until: until.unix_ms() }
    }

    pub(super) const fn of_ms(from: i64, until: i64) -> Self {
        Self { from, until }
    }

    fn contains(self, at: Moment) -> bool {
        (self.from..=self.until).contains(&at.unix_ms())
    }

    /// Whether any of what the entry describes lies in the stretch.
    fn touches(self, entry: &Entry) -> bool {
        let end = match &entry.what {
            EntryKind::Sleep { until } | EntryKind::CompressionLow { until } => *until,
            EntryKind::Activity { minutes, .. } => entry.at.plus_minutes(*minutes),
            _ => entry.at,
        };
        entry.at.unix_ms() <= self.until && end.unix_ms() >= self.from
    }
}

/// How readings came, by the import their rows name and the one they came with again.
type CameBy = HashMap<(Option<i64>, Option<i64>), Provenance>;

/// Entries together with all that replaces them and all that they replace, however far away in time.
struct Web<'n, 'c> {
    connection: &'c Connection,
    names: &'n Names<'c>,
    found: HashMap<EntryId, Found>,
    seen: HashSet<EntryId>,
    waiting: Vec<EntryId>,
}

struct Found {
    entry: Entry,
    came: Provenance,
    is_reading: bool,
}

impl<'n, 'c> Web<'n, 'c> {
    fn new(connection: &'c Connection, names: &'n Names<'c>) -> Self {
        Self { connection, names, found: HashMap::new(), seen: HashSet::new(), waiting: Vec::new() }
    }

    fn add(&mut self, entry: Entry, came: Provenance, is_reading: bool) {
        self.waiting.push(entry.id);
        self.waiting.extend(entry.replaces);
        if let Provenance::With { first, last } = came {
            self.waiting.extend([first, last]);
        }
        self.found.insert(entry.id, Found { entry, came, is_reading });
    }

    /// How readings came that came with an import, by what their rows say of it; the imports are among what is to be found.
    fn came_by(&mut self, readings: &[ReadingRow]) -> Result<CameBy, StoreError> {
        let mut came_by = HashMap::new();
        for row in readings {
            if row.import.is_some() && !came_by.contains_key(&(row.import, row.again)) {
                let came = self.names.came(row.import, row.again)?;
                if let Provenance::With { first, last } = came {
                    self.waiting.extend([first, last]);
                }
                came_by.insert((row.import, row.again), came);
            }
        }
        Ok(came_by)
    }

    /// Adds the entries that a condition on `entry AS e` finds.
    fn add_where(&mut self, condition: &str, parameters: impl rusqlite::Params) -> Result<(), StoreError> {
        for row in entry_rows(self.connection, self.names, condition, parameters)? {
            self.add(row.entry, row.came, false);
        }
        Ok(())
    }

    /// Follows every thread to its ends.
    fn settle(&mut self) -> Result<(), StoreError> {
        while let Some(id) = self.waiting.pop() {
            if !self.seen.insert(id) {
                continue;
            }
            self.add_where("e.replaces = ?", [id.0.as_bytes()])?;
            if !self.found.contains_key(&id) {
                self.add_where("e.id = ?", [id.0.as_bytes()])?;
            }
            if !self.found.contains_key(&id)
                && let Some((reading, came)) = reading_by_id(self.connection, self.names, id)?
            {
                self.add(reading, came, true);
            }
        }
        Ok(())
    }

    /// What holds among all that was found.
    fn weigh(&self) -> Standing {
        Standing::of_distinct(self.found.values().map(|found| (found.entry.clone(), found.came)).collect()).1
    }
}

fn entry_rows(
    connection: &Connection,
    names: &Names<'_>,
    condition: &str,
    parameters: impl rusqlite::Params,
) -> Result<Vec<EntryRow>, StoreError> {
    let sql = format!("SELECT {} FROM entry AS e WHERE {condition}", EntryRow::COLUMNS);
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query(parameters)?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(EntryRow::read(row, names)?);
    }
    Ok(found)
}

fn reading_rows(connection: &Connection, stretch: Stretch) -> Result<Vec<ReadingRow>, StoreError> {
    let sql =
        format!("SELECT {} FROM reading WHERE at BETWEEN ? AND ? ORDER BY at, source, amount", ReadingRow::COLUMNS);
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query(params![stretch.from, stretch.until])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(ReadingRow::read(row)?);
    }
    Ok(found)
}

/// Rows of one way in that are read of each stretch of [`APART_MS`] that holds nothing else.
const ALIKE: u32 = 3;

/// As [`reading_rows`], without most of what comes faster than the engine uses: of each stretch of [`APART_MS`] that holds more than
/// [`ALIKE`] rows of one source and one import, and nothing else, the newest. The engine picks from these; a row each second would take
/// many times as long to read as all that is made of it. Readings that far apart are all read.
fn spaced_rows(connection: &Connection, stretch: Stretch) -> Result<Vec<ReadingRow>, StoreError> {
    let sql = format!(
        "SELECT {} FROM reading WHERE at BETWEEN ? AND ? ORDER BY at DESC, source DESC, amount DESC",
        ReadingRow::COLUMNS
    );
    let mut statement = connection.prepare_cached(&sql)?;
    let others = "SELECT 1 FROM reading WHERE at BETWEEN ? AND ? AND (source, import, again) IS NOT (?, ?, ?)";
    let mut others = connection.prepare_cached(others)?;
    let mut found: Vec<ReadingRow> = Vec::new();
    let mut next = Some(stretch.until);
    while let Some(until) = next.take() {
        let mut rows = statement.query(params![stretch.from, until])?;
        let mut alike = 0;
        while let Some(row) = rows.next()? {
            let row = ReadingRow::read(row)?;
            let begins = row.at - row.at.rem_euclid(APART_MS);
            if let Some(newer) = found.last() {
                let is_alike = newer.at < begins + APART_MS
                    && (newer.source, newer.import, newer.again) == (row.source, row.import, row.again);
                alike = if is_alike { alike + 1 } else { 0 };
                // Of an instant all are read, since the lowest counts.
                if alike >= ALIKE && row.at < newer.at {
                    if !others.exists(params![begins, row.at, row.source, row.import, row.again])? {
                        next = Some(begins - 1);
                        break;
                    }
                    alike = 0;
                }
            }
            found.push(row);
        }
    }
    found.reverse();
    Ok(found)
}

fn reading_by_id(
    connection: &Connection,
    names: &Names<'_>,
    id: EntryId,
) -> Result<Option<(Entry, Provenance)>, StoreError> {
    let at = id.unix_ms();
    for row in reading_rows(connection, Stretch { from: at, until: at })? {
        let (entry, came) = row.entry(names)?;
        if entry.id == id {
            return Ok(Some((entry, came)));
        }
    }
    Ok(None)
}

/// What holds in a stretch.
struct Held {
    readings: Vec<ReadingRow>,
    /// Everything else, corrected readings included.
    entries: Vec<Entry>,
}

/// Finds what holds in a stretch, and what reaches into it from up to a day before.
fn held(connection: &Connection, names: &Names<'_>, stretch: Stretch) -> Result<Held, StoreError> {
    held_of(connection, names, stretch, reading_rows(connection, stretch)?)
}

/// As [`held`], of these rows of its readings.
fn held_of(
    connection: &Connection,
    names: &Names<'_>,
    stretch: Stretch,
    mut readings: Vec<ReadingRow>,
) -> Result<Held, StoreError> {
    let mut web = Web::new(connection, names);
    web.add_where("e.at BETWEEN ? AND ?", params![stretch.from.saturating_sub(DAY_MS), stretch.until])?;
    // A reading's identity begins with its instant, so whatever replaces a reading of this stretch lies together in the
    // index over `replaces`, though it may have been recorded years later.
    let edge = |ms: i64| {
        let mut bytes = [0_u8; 16];
        bytes[..6].copy_from_slice(&ms.clamp(0, (1 << 48) - 1).to_be_bytes()[2..]);
        bytes
    };
    let (low, high) = (edge(stretch.from), edge(stretch.until.saturating_add(1)));
    web.add_where("e.replaces >= ? AND e.replaces < ?", params![low, high])?;
    let came_by = web.came_by(&readings)?;
    web.settle()?;
    let standing = web.weigh();
    let came_stands: HashMap<_, _> =
        came_by.into_iter().map(|(slots, came)| (slots, standing.came_stands(came))).collect();
    let replaced: HashSet<i64> =
        web.found.values().filter(|found| found.is_reading).map(|found| found.entry.at.unix_ms()).collect();
    let mut fault = None;
    readings.retain(|row| {
        if !came_stands.get(&(row.import, row.again)).copied().unwrap_or(true) {
            return false;
        }
        // Only here is an identity worth making.
        !replaced.contains(&row.at)
            || match row.entry(names) {
                Ok((entry, _)) => !web.found.contains_key(&entry.id) || standing.holds(entry.id),
                Err(error) => {
                    fault = Some(error);
                    true
                }
            }
    });
    if let Some(fault) = fault {
        return Err(fault);
    }
    let mut entries: Vec<Entry> = web
        .found
        .into_values()
        .filter(|found| !found.is_reading && stretch.touches(&found.entry) && standing.holds(found.entry.id))
        .map(|found| found.entry)
        .collect();
    entries.sort_unstable_by_key(Entry::order);
    Ok(Held { readings, entries })
}

pub(super) fn history(connection: &Connection, stretch: Stretch) -> Result<History, StoreError> {
    history_of(connection, stretch, reading_rows(connection, stretch)?)
}

pub(super) fn history_to_ask(connection: &Connection, stretch: Stretch) -> Result<History, StoreError> {
    history_of(connection, stretch, spaced_rows(connection, stretch)?)
}

fn history_of(connection: &Connection, stretch: Stretch, readings: Vec<ReadingRow>) -> Result<History, StoreError> {
    let names = Names::of(connection);
    let Held { readings, entries } = held_of(connection, &names, stretch, readings)?;
    let (mut history, corrected) = of_resolved(entries);
    let mut sources = by_source(&names, &readings, corrected)?;
    if sources.len() > 1 {
        // Who spoke just before decides who is followed at the beginning.
        let before = stretch.from.saturating_sub(SILENT_MINUTES * MINUTE_MS);
        let earlier = held(connection, &names, Stretch { from: before, until: stretch.from.saturating_sub(1) })?;
        let (_, earlier_corrected) = of_resolved(earlier.entries);
        for (source, more) in by_source(&names, &earlier.readings, earlier_corrected)? {
            match sources.iter_mut().find(|one| one.0 == source) {
                Some((_, known)) => known.extend(more),
                None => sources.push((source, more)),
            }
        }
        rank(connection, &mut sources)?;
        history.take_readings(sources);
        let inside = |one: &Reading| one.at.unix_ms() >= stretch.from;
        history.readings.retain(inside);
        for one in &mut history.concurrent {
            one.readings.retain(inside);
        }
        history.concurrent.retain(|one| !one.readings.is_empty());
    } else {
        history.take_readings(sources);
    }
    Ok(history)
}

/// Readings by the source they came from.
fn by_source(
    names: &Names<'_>,
    rows: &[ReadingRow],
    mut sources: Vec<(Source, Vec<Reading>)>,
) -> Result<Vec<(Source, Vec<Reading>)>, StoreError> {
    let mut slots: Vec<(i64, usize)> = Vec::new();
    for row in rows {
        let place = match slots.iter().find(|(slot, _)| *slot == row.source) {
            Some((_, place)) => *place,
            None => {
                let source = names.source(row.source)?;
                let place = sources.iter().position(|one| one.0 == *source).unwrap_or(sources.len());
                if place == sources.len() {
                    sources.push(((*source).clone(), Vec::with_capacity(rows.len())));
                }
                slots.push((row.source, place));
                place
            }
        };
        sources[place].1.push(Reading::new(row.at()?, row.glucose()?));
    }
    Ok(sources)
}

/// When a source was read first, of the readings that hold.
fn first_read(connection: &Connection, source: &Source) -> Result<Option<i64>, StoreError> {
    let names = Names::of(connection);
    let as_it_came = first_read_as_it_came(connection, source)?;
    let condition = "e.source = (SELECT slot FROM source WHERE name = ?) AND e.what ->> 'kind' IN ('sensor_reading', \
                     'sensor_beyond') AND e.at < ? ORDER BY e.at";
    for row in entry_rows(connection, &names, condition, params![source.as_str(), as_it_came.unwrap_or(i64::MAX)])? {
        if Chain::of(connection, row.entry.id)?.standing.holds(row.entry.id) {
            return Ok(Some(row.entry.at.unix_ms()));
        }
    }
    Ok(as_it_came)
}

fn first_read_as_it_came(connection: &Connection, source: &Source) -> Result<Option<i64>, StoreError> {
    let names = Names::of(connection);
    let mut slot = connection.prepare_cached("SELECT slot FROM source WHERE name = ?")?;
    let Some(slot) = slot.query_row([source.as_str()], |row| row.get(0)).optional()? else { return Ok(None) };
    let not_before = source_start::of(connection, slot)?.unwrap_or(i64::MIN);
    let sql = format!("SELECT {} FROM reading WHERE source = ? AND at >= ? ORDER BY at, amount", ReadingRow::COLUMNS);
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([slot, not_before])?;
    // An import that was undone is passed over as a whole.
    let mut undone = HashSet::new();
    while let Some(row) = rows.next()? {
        let row = ReadingRow::read(row)?;
        if undone.contains(&(row.import, row.again)) {
            continue;
        }
        let (entry, came) = row.entry(&names)?;
        let mut web = Web::new(connection, &names);
        let id = entry.id;
        web.add(entry, came, true);
        web.settle()?;
        let standing = web.weigh();
        if standing.holds(id) {
            return Ok(Some(row.at));
        }
        if !standing.came_stands(came) {
            undone.insert((row.import, row.again));
        }
    }
    Ok(None)
}

/// Puts sources in the order they are followed in: the wearer's choice, then those that were read first of all.
fn rank(connection: &Connection, sources: &mut [(Source, Vec<Reading>)]) -> Result<(), StoreError> {
    let chosen = settings::wearer(connection)?.and_then(|wearer| wearer.followed_sensor);
    let mut first: HashMap<Source, i64> = HashMap::new();
    for (source, _) in sources.iter() {
        first.insert(source.clone(), first_read(connection, source)?.unwrap_or(i64::MAX));
    }
    sources.sort_unstable_by(|(one, _), (other, _)| {
        let key = |source: &Source| (chosen.as_ref() != Some(source), first.get(source).copied());
        key(one).cmp(&key(other)).then_with(|| one.cmp(other))
    });
    Ok(())
}

pub(super) fn current(connection: &Connection, stretch: Stretch) -> Result<Vec<Entry>, StoreError> {
    let names = Names::of(connection);
    let Held { readings, mut entries } = held(connection, &names, stretch)?;
    entries.retain(|entry| stretch.contains(entry.at));
    for row in readings {
        entries.push(row.entry(&names)?.0);
    }
    entries.sort_unstable_by_key(Entry::order);
    Ok(entries)
}

pub(super) fn entries(connection: &Connection, stretch: Stretch) -> Result<Vec<Entry>, StoreError> {
    let names = Names::of(connection);
    let bounds = params![stretch.from, stretch.until];
    let rows = entry_rows(connection, &names, "e.at BETWEEN ? AND ?", bounds)?;
    let mut entries: Vec<Entry> = rows.into_iter().map(|row| row.entry).collect();
    for row in reading_rows(connection, stretch)? {
        entries.push(row.entry(&names)?.0);
    }
    entries.sort_unstable_by_key(Entry::order);
    Ok(entries)
}

/// Facts of a stretch, without those that belong to an import which was taken back.
#[derive(Debug, Default)]
pub(crate) struct Carried {
    /// By time, then as they were recorded. No import is among them, nor what renames one or takes it back.
    pub(crate) entries: Vec<Entry>,
    /// How many were left out because only imports that were taken back brought them, or what they correct.
    pub(crate) taken_back: u64,
}

pub(super) fn carried(connection: &Connection, stretch: Stretch) -> Result<Carried, StoreError> {
    let names = Names::of(connection);
    let readings = reading_rows(connection, stretch)?;
    let mut web = Web::new(connection, &names);
    let came_by = web.came_by(&readings)?;
    let rows = entry_rows(connection, &names, "e.at BETWEEN ? AND ?", params![stretch.from, stretch.until])?;
    let inside: Vec<EntryId> = rows.iter().map(|row| row.entry.id).collect();
    for row in rows {
        web.add(row.entry, row.came, false);
    }
    web.settle()?;
    let standing = web.weigh();
    let mut carried = Carried::default();
    let is_import = |found: &Found| matches!(found.entry.what, EntryKind::Import { .. });
    for found in inside.iter().filter_map(|id| web.found.get(id)) {
        match standing.root(found.entry.id) {
            None => carried.taken_back += 1,
            Some(root) if web.found.get(&root).is_some_and(is_import) => {}
            Some(_) => carried.entries.push(found.entry.clone()),
        }
    }
    for row in readings {
        if came_by.get(&(row.import, row.again)).is_none_or(|came| standing.came_stands(*came)) {
            carried.entries.push(row.entry(&names)?.0);
        } else {
            carried.taken_back += 1;
        }
    }
    carried.entries.sort_unstable_by_key(Entry::order);
    Ok(carried)
}

pub(super) fn get(connection: &Connection, id: EntryId) -> Result<Option<Entry>, StoreError> {
    let names = Names::of(connection);
    if let Some(row) = entry_rows(connection, &names, "e.id = ?", [id.0.as_bytes()])?.pop() {
        return Ok(Some(row.entry));
    }
    Ok(reading_by_id(connection, &names, id)?.map(|(entry, _)| entry))
}

/// The entry with this identity, unless only this import brought it.
pub(super) fn known_otherwise(
    connection: &Connection,
    id: EntryId,
    import: EntryId,
) -> Result<Option<Entry>, StoreError> {
    let names = Names::of(connection);
    let row = entry_rows(connection, &names, "e.id = ?", [id.0.as_bytes()])?.pop().map(|row| (row.entry, row.came));
    let found = match row {
        Some(found) => Some(found),
        None => reading_by_id(connection, &names, id)?,
    };
    let by_it = Provenance::With { first: import, last: import };
    Ok(found.filter(|(_, came)| *came != by_it).map(|(entry, _)| entry))
}

/// An entry with all that replaces it and all that it replaces.
pub(super) struct Chain {
    pub(super) entries: HashMap<EntryId, Entry>,
    pub(super) standing: Standing,
}

impl Chain {
    pub(super) fn of(connection: &Connection, id: EntryId) -> Result<Self, StoreError> {
        let names = Names::of(connection);
        let mut web = Web::new(connection, &names);
        web.waiting.push(id);
        web.settle()?;
        let standing = web.weigh();
        let entries = web.found.into_iter().map(|(id, found)| (id, found.entry)).collect();
        Ok(Self { entries, standing })
    }

    /// The entry everything about `id` goes back to, as far as this log knows.
    fn root(&self, id: EntryId) -> EntryId {
        let mut root = id;
        for _ in 0..self.entries.len() {
            match self.entries.get(&root).and_then(|entry| entry.replaces) {
                Some(replaced) => root = replaced,
                None => break,
            }
        }
        root
    }

    /// The entries about the same thing as `id`, in the order they were recorded.
    pub(super) fn trail(self, id: EntryId) -> Vec<Entry> {
        let root = self.root(id);
        let mut trail: Vec<Entry> =
            self.entries.values().filter(|entry| self.root(entry.id) == root).cloned().collect();
        trail.sort_unstable_by_key(|entry| (entry.recorded, entry.id));
        trail
    }
}

/// The earliest and the latest time of any fact, in milliseconds of Unix time; nothing where there is none.
pub(super) fn bounds(connection: &Connection) -> Result<Option<(i64, i64)>, StoreError> {
    let edges: (Option<i64>, Option<i64>) = connection
        .prepare_cached(
            "SELECT min(low), max(high) FROM (SELECT (SELECT min(at) FROM reading) AS low, (SELECT max(at) FROM reading) \
             AS high UNION ALL SELECT (SELECT min(at) FROM entry), (SELECT max(at) FROM entry))",
        )?
        .query_row([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(edges.0.zip(edges.1))
}

/// Whether nothing was ever recorded: no reading, and no entry but prompts that were shown, which a shell keeps by itself.
pub(super) fn is_unused(connection: &Connection) -> Result<bool, StoreError> {
    let sql = "SELECT NOT EXISTS (SELECT 1 FROM reading) AND NOT EXISTS (SELECT 1 FROM entry WHERE what ->> 'kind' <> 'prompted')";
    Ok(connection.prepare_cached(sql)?.query_row([], |row| row.get(0))?)
}

/// Whether there is no fact at all.
pub(super) fn is_empty(connection: &Connection) -> Result<bool, StoreError> {
    let sql = "SELECT NOT EXISTS (SELECT 1 FROM reading) AND NOT EXISTS (SELECT 1 FROM entry)";
    Ok(connection.prepare_cached(sql)?.query_row([], |row| row.get(0))?)
}

/// The newest reading of a source since a time that came on its own and not with a file.
pub(super) fn newest_received(
    connection: &Connection,
    source: &Source,
    since: Moment,
) -> Result<Option<Moment>, StoreError> {
    let sql = format!(
        "SELECT {} FROM reading WHERE at >= ? AND source = (SELECT slot FROM source WHERE name = ?) AND import IS NULL \
         ORDER BY at DESC LIMIT 1",
        ReadingRow::COLUMNS
    );
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query(params![since.unix_ms(), source.as_str()])?;
    rows.next()?.map(|row| ReadingRow::read(row)?.at()).transpose()
}

pub(super) fn newest_reading(connection: &Connection) -> Result<Option<Reading>, StoreError> {
    // The one smallest and largest of a column alone is looked up in its index.
    let sql = "SELECT max(at) FROM reading UNION ALL SELECT max(at) FROM entry UNION ALL \
               SELECT min(at) FROM reading UNION ALL SELECT min(at) FROM entry";
    let edges: Vec<Option<i64>> =
        connection.prepare_cached(sql)?.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<_>>()?;
    let edges = edges.into_iter().flatten();
    let (Some(newest), Some(oldest)) = (edges.clone().max(), edges.min()) else { return Ok(None) };
    // Nearly always the last hour has one; a sensor's rest or an undone import makes the search go further back.
    let (mut until, mut width) = (newest, HOUR_MS);
    while until >= oldest {
        let from = until.saturating_sub(width);
        if let Some(reading) = history(connection, Stretch { from, until })?.readings.last() {
            return Ok(Some(*reading));
        }
        until = from - 1;
        width = width.saturating_mul(4);
    }
    Ok(None)
}

/// The sources of which there are readings, by name.
pub(super) fn sensors(connection: &Connection) -> Result<Vec<Source>, StoreError> {
    // A source that layout 1 brought has no beginning kept.
    let sql = "SELECT name FROM source WHERE slot IN (SELECT source FROM beginning UNION SELECT source FROM entry \
               WHERE what ->> 'kind' IN ('sensor_reading', 'sensor_beyond')) \
               OR EXISTS (SELECT 1 FROM reading WHERE reading.source = slot) ORDER BY name";
    let mut statement = connection.prepare_cached(sql)?;
    let names: Vec<String> = statement.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<_>>()?;
    names.into_iter().map(|name| Ok(Source::new(name)?)).collect()
}

pub(super) fn count(connection: &Connection) -> Result<Count, StoreError> {
    let count = |sql: &str| -> Result<u64, StoreError> {
        let counted: i64 = connection.prepare_cached(sql)?.query_row([], |row| row.get(0))?;
        Ok(u64::try_from(counted).unwrap_or_default())
    };
    let beyond = count("SELECT count(*) FROM entry WHERE what ->> 'kind' = 'sensor_beyond' AND replaces IS NULL")?;
    let others = count("SELECT count(*) FROM entry")?.saturating_sub(beyond);
    Ok(Count { readings: count("SELECT count(*) FROM reading")? + beyond, others })
}

/// Every fact of the log, so that recording them all in another log adds all that this one knows.
pub(super) fn each_fact(
    connection: &Connection,
    mut visit: impl FnMut(Entry) -> crate::error::Result<()>,
) -> Result<(), StoreError> {
    let names = Names::of(connection);
    let mut visit_both = |entry: Entry, came: Provenance| -> Result<(), StoreError> {
        if let Provenance::With { first, last } = came
            && first != last
        {
            visit(Entry { import: Some(last), ..entry.clone() })?;
        }
        Ok(visit(entry)?)
    };
    let sql = format!("SELECT {} FROM entry AS e ORDER BY e.seq", EntryRow::COLUMNS);
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let row = EntryRow::read(row, &names)?;
        visit_both(row.entry, row.came)?;
    }
    let sql = format!("SELECT {} FROM reading ORDER BY at, source, amount", ReadingRow::COLUMNS);
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (entry, came) = ReadingRow::read(row)?.entry(&names)?;
        visit_both(entry, came)?;
    }
    Ok(())
}

/// The imports, oldest first, each with whether it stands.
pub(super) fn imports(connection: &Connection) -> Result<Vec<(Entry, bool)>, StoreError> {
    let names = Names::of(connection);
    let mut web = Web::new(connection, &names);
    // Not by the table of imports: one between the first and the last that brought the same has no row there after a merge.
    web.add_where("e.what ->> 'kind' = 'import'", [])?;
    web.settle()?;
    let standing = web.weigh();
    let mut imports: Vec<(Entry, bool)> = web
        .found
        .into_values()
        .filter(|found| found.entry.replaces.is_none() && matches!(found.entry.what, EntryKind::Import { .. }))
        .map(|found| {
            let stands = standing.import_stands(found.entry.id);
            (found.entry, stands)
        })
        .collect();
    imports.sort_unstable_by_key(|(entry, _)| (entry.recorded, entry.id));
    Ok(imports)
}

/// The entry said last on this device that has not been undone. A prompt kept is nothing the wearer said.
///
/// Returns it with the row it stands in.
pub(super) fn last_said(connection: &Connection) -> Result<Option<(Entry, i64)>, StoreError> {
    let names = Names::of(connection);
    let condition = "e.said = 1 AND e.undoes IS NULL AND e.what ->> 'kind' <> 'prompted' AND NOT EXISTS \
                     (SELECT 1 FROM entry AS u WHERE u.undoes = e.seq) ORDER BY e.seq DESC LIMIT 1";
    Ok(entry_rows(connection, &names, condition, [])?.pop().map(|row| (row.entry, row.seq)))
}

/// When the newest entry was recorded that came here last.
pub(super) fn last_recorded(connection: &Connection) -> Result<Option<Moment>, StoreError> {
    let names = Names::of(connection);
    let reading = connection
        .prepare_cached(&format!("SELECT {} FROM reading ORDER BY at DESC LIMIT 1", ReadingRow::COLUMNS))?
        .query_row([], |row| Ok(ReadingRow::read(row)))
        .optional()?
        .transpose()?
        .map(|row| row.recorded())
        .transpose()?;
    let entry = entry_rows(connection, &names, "true ORDER BY e.seq DESC LIMIT 1", [])?.pop();
    Ok(reading.max(entry.map(|row| row.entry.recorded)))
}
