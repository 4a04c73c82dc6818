//! Saving what can be read of a damaged log into a new one. The damaged file is only read.
//!
//! Every row carries a checksum, so what is saved is what was written; rows that do not fit their checksum are left out and
//! counted. Names of sources and identities of imports have no checksum of their own; each stands in the file twice, and
//! where the two differ that is counted too.

mod pages;

use std::collections::{BTreeMap, HashMap, HashSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use tempfile::TempPath;
use uuid::Uuid;

use crate::error::{Error, Result};
use crate::log::{Entry, EntryId, EntryKind, Source};
use crate::store::Log;
use crate::store::open::{beside, in_memory};
use crate::store::read;
use crate::store::rows::{EntryRow, Origin, ReadingRow};
use crate::store::settings::{self, StoredSetting, Taking};
use crate::store::sqlite_error::{StoreError, of_file};
use crate::store::write::Writer;
use crate::time::Moment;
use crate::wearer::Wearer;
use pages::{Cell, Pages, Value};

/// What was saved of a damaged log.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recovered {
    /// Sensor readings saved.
    pub readings: u64,
    /// Other entries saved.
    pub others: u64,
    /// Whether the wearer's settings were found.
    pub settings: bool,
    /// Rows that could not be read. Those of a page whose own list of rows is damaged are not among them.
    pub unreadable: u64,
    /// Sources whose name could not be made out for sure; readings of theirs may come twice at a merge.
    pub unsure_sources: u64,
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> Self {
        Self::Io(error)
    }
}

/// Saves what can be read of the log at `damaged` into a new log at `into`.
pub(super) fn recover(damaged: &Path, into: &Path, now: Moment) -> Result<Recovered> {
    let mut pages = Pages::open(damaged, &beside(damaged, "-wal")).map_err(|source| of_file(damaged, source))?;
    let names = Names::of(&mut pages).map_err(|fault| fault.of(damaged))?;
    if into.symlink_metadata().is_ok() {
        return Err(of_file(into, io::ErrorKind::AlreadyExists.into()));
    }
    // Made beside its name and put there as a whole: a killed program leaves nothing that looks like a log, or is in the way.
    let part = part_of(into).map_err(|source| of_file(into, source))?;
    let take_away = || {
        for suffix in ["", "-wal", "-shm"] {
            let _ = fs::remove_file(beside(&part, suffix));
        }
    };
    take_away();
    let done = save_into(&part, &mut pages, &names, now).and_then(|recovered| {
        if recovered.readings + recovered.others == 0 && !recovered.settings {
            return Err(Error::NotALog { path: damaged.to_owned() });
        }
        let refused = |source: io::Error| of_file(into, source);
        fs::File::open(&part).and_then(|file| file.sync_all()).map_err(refused)?;
        let placed =
            TempPath::try_from_path(&part).and_then(|path| path.persist_noclobber(into).map_err(|error| error.error));
        placed.map(|()| recovered).map_err(refused)
    });
    // Of a log that was put in place, nothing is left here.
    take_away();
    done
}

/// Where the new log is made: in the folder that it is to be in, under a name of its own.
fn part_of(into: &Path) -> io::Result<PathBuf> {
    let into = std::path::absolute(into)?;
    let mut name = std::ffi::OsString::from(".recovering-");
    name.push(into.file_name().ok_or(io::ErrorKind::IsADirectory)?);
    name.push(".part");
    Ok(into.with_file_name(name))
}

/// Saves what can be read of the log at `damaged` into one in memory, for reading alone. The damaged file is only read.
pub(super) fn view(damaged: &Path, now: Moment) -> std::result::Result<Connection, StoreError> {
    // A pipe or a device would not end.
    if !fs::metadata(damaged)?.is_file() {
        return Err(Error::NotALog { path: damaged.to_owned() }.into());
    }
    let mut pages = Pages::open(damaged, &beside(damaged, "-wal"))?;
    let names = Names::of(&mut pages)?;
    let connection = in_memory(now)?;
    let saving = connection.unchecked_transaction()?;
    let recovered = save(&saving, &mut pages, &names)?;
    saving.commit()?;
    // A log with neither settings nor entries cannot be continued.
    if recovered.settings || !read::is_empty(&connection)? {
        Ok(connection)
    } else {
        Err(Error::NotALog { path: damaged.to_owned() }.into())
    }
}

fn save_into(into: &Path, pages: &mut Pages, names: &Names, now: Moment) -> Result<Recovered> {
    let mut log = Log::open(into, now)?;
    let recovered = log.write(|connection| save(connection, pages, names))?;
    log.check()?;
    let count = log.count()?;
    Ok(Recovered { readings: count.readings, others: count.others, ..recovered })
}

fn save(connection: &Connection, pages: &mut Pages, names: &Names) -> std::result::Result<Recovered, StoreError> {
    let mut recovered = Recovered { unsure_sources: names.unsure, ..Recovered::default() };
    let mut writer = Writer::begin(connection)?;
    let mut kept: BTreeMap<i64, StoredSetting> = BTreeMap::new();
    let mut learned = Vec::new();
    pages.each_cell(|cell| -> std::result::Result<(), StoreError> {
        let Some(cell) = cell else {
            recovered.unreadable += 1;
            return Ok(());
        };
        match row(&cell, names) {
            Row::Entries(entries) => {
                for entry in entries {
                    writer.put(&entry, Origin::Brought)?;
                }
            }
            Row::Settings(seq, settings) => drop(kept.insert(seq, settings)),
            Row::Learned(document) => learned.push(document),
            Row::Unreadable => recovered.unreadable += 1,
            Row::Other => {}
        }
        Ok(())
    })?;
    recovered.settings = !kept.is_empty();
    let taking = Taking::begin(connection)?;
    for kept in kept.into_values().chain(learned) {
        taking.put(connection, &kept)?;
    }
    Ok(recovered)
}

/// The names behind small numbers, as far as they can be found.
#[derive(Default)]
struct Names {
    sources: HashMap<i64, Source>,
    imports: HashMap<i64, EntryId>,
    unsure: u64,
}

impl Names {
    fn of(pages: &mut Pages) -> std::result::Result<Self, StoreError> {
        let (mut tables, mut indexes): (HashMap<i64, String>, HashMap<i64, String>) = (HashMap::new(), HashMap::new());
        let (mut table_ids, mut index_ids): (HashMap<i64, EntryId>, Vec<(EntryId, i64)>) = (HashMap::new(), Vec::new());
        let mut import_entries: HashSet<EntryId> = HashSet::new();
        let mut slots: HashSet<i64> = HashSet::new();
        pages.each_cell(|cell| -> std::result::Result<(), StoreError> {
            let Some(Cell { key, values }) = cell else { return Ok(()) };
            match (key, values.as_slice()) {
                (Some(slot), [Value::Null, Value::Text(name)]) => drop(tables.insert(slot, name.clone())),
                (None, [Value::Text(name), Value::Number(slot)]) => drop(indexes.insert(*slot, name.clone())),
                (Some(slot), [Value::Null, Value::Bytes(id)]) => {
                    if let Some(id) = identity(id) {
                        table_ids.insert(slot, id);
                    }
                }
                (None, [Value::Bytes(id), Value::Number(slot)]) => {
                    if let Some(id) = identity(id) {
                        index_ids.push((id, *slot));
                    }
                }
                (None, [_, Value::Number(source), _, _, _, _, _, _, _]) => drop(slots.insert(*source)),
                (Some(_), values @ [_, Value::Bytes(id), .., Value::Text(what), _]) if values.len() == 14 => {
                    if let (Some(id), Ok(EntryKind::Import { .. })) = (identity(id), serde_json::from_str(what)) {
                        import_entries.insert(id);
                    }
                    if let Value::Number(source) = values[6] {
                        slots.insert(source);
                    }
                }
                _ => {}
            }
            Ok(())
        })?;
        let mut names = Self::default();
        for slot in slots {
            let (table, index) = (tables.get(&slot), indexes.get(&slot));
            names.unsure += u64::from(table != index);
            let name = table.or(index).and_then(|name| Source::new(name.as_str()).ok());
            let source = match name {
                Some(source) => source,
                None => Source::new(format!("recovered source {slot}"))?,
            };
            names.sources.insert(slot, source);
        }
        // Of the indexes over identities, the one of imports is recognised by the imports' own entries.
        for (id, slot) in index_ids {
            if import_entries.contains(&id) {
                names.imports.insert(slot, id);
            }
        }
        for (slot, id) in table_ids {
            if import_entries.contains(&id) || !names.imports.contains_key(&slot) {
                names.imports.insert(slot, id);
            }
        }
        Ok(names)
    }

    fn import(&self, slot: Option<i64>) -> Option<EntryId> {
        slot.and_then(|slot| self.imports.get(&slot).copied())
    }
}

fn identity(bytes: &[u8]) -> Option<EntryId> {
    Uuid::from_slice(bytes).ok().map(EntryId)
}

/// What a row says.
enum Row {
    /// A fact, twice where it came with two imports.
    Entries(Vec<Entry>),
    Settings(i64, StoredSetting),
    Learned(StoredSetting),
    /// It was one of these and does not fit its checksum.
    Unreadable,
    /// It is of another kind.
    Other,
}

fn row(cell: &Cell, names: &Names) -> Row {
    match (cell.key, cell.values.as_slice()) {
        (None, values) if values.len() == 9 => reading(values, names).map_or(Row::Unreadable, Row::Entries),
        (Some(_), values) if values.len() == 14 => entry(values, names).map_or(Row::Unreadable, Row::Entries),
        (
            Some(seq),
            [Value::Null, Value::Number(at), Value::Number(offset), Value::Text(settings), Value::Number(checksum)],
        ) => {
            let read = || -> Option<StoredSetting> {
                let at = Moment::new(*at, i32::try_from(*offset).ok()?).ok()?;
                let wearer: Wearer = serde_json::from_str(settings).ok()?;
                (i64::from(settings::checksum(at, &[settings])) == *checksum)
                    .then_some(StoredSetting::Settings { at, wearer: Box::new(wearer) })
            };
            read().map_or(Row::Unreadable, |kept| Row::Settings(seq, kept))
        }
        (
            None,
            [
                Value::Text(name),
                Value::Number(at),
                Value::Number(offset),
                Value::Text(evidence),
                Value::Text(document),
                Value::Number(checksum),
            ],
        ) => {
            let read = || -> Option<StoredSetting> {
                let at = Moment::new(*at, i32::try_from(*offset).ok()?).ok()?;
                let stored = settings::checksum(at, &[name, evidence, document]);
                let document = serde_json::from_str(document).ok()?;
                let (name, evidence) = (name.clone(), evidence.clone());
                (i64::from(stored) == *checksum).then_some(StoredSetting::Learned { name, at, evidence, document })
            };
            read().map_or(Row::Unreadable, Row::Learned)
        }
        _ => Row::Other,
    }
}

fn whole(value: &Value) -> Option<i64> {
    match value {
        Value::Number(number) => Some(*number),
        _ => None,
    }
}

/// A number that may be missing.
fn maybe(value: &Value) -> Option<Option<i64>> {
    match value {
        Value::Null => Some(None),
        Value::Number(number) => Some(Some(*number)),
        _ => None,
    }
}

fn reading(values: &[Value], names: &Names) -> Option<Vec<Entry>> {
    let row = ReadingRow {
        at: whole(&values[0])?,
        source: whole(&values[1])?,
        amount: u32::try_from(whole(&values[2])?).ok()?,
        at_offset: i32::try_from(whole(&values[3])?).ok()?,
        recorded_after: whole(&values[4])?,
        recorded_offset: maybe(&values[5])?.map(i32::try_from).transpose().ok()?,
        import: maybe(&values[6])?,
        again: maybe(&values[7])?,
    };
    if i64::from(row.checksum()) != whole(&values[8])? {
        return None;
    }
    let (at, glucose) = (row.at().ok()?, row.glucose().ok()?);
    let source = names.sources.get(&row.source)?.clone();
    let reading = Entry::new(at, row.recorded().ok()?, source, EntryKind::SensorReading { mg_dl: glucose }).ok()?;
    Some(with_imports(reading, row.import, row.again, names))
}

fn entry(values: &[Value], names: &Names) -> Option<Vec<Entry>> {
    let moment = |at: usize| -> Option<Moment> {
        Moment::new(whole(&values[at])?, i32::try_from(whole(&values[at + 1])?).ok()?).ok()
    };
    let Value::Bytes(id) = &values[1] else { return None };
    let replaces = match &values[7] {
        Value::Null => None,
        Value::Bytes(id) => Some(identity(id)?),
        _ => return None,
    };
    let Value::Text(what) = &values[12] else { return None };
    let slot = whole(&values[6])?;
    let (import, again) = (maybe(&values[8])?, maybe(&values[9])?);
    let origin = Origin::of_columns(whole(&values[10])? != 0, maybe(&values[11])?);
    let entry = Entry {
        id: identity(id)?,
        at: moment(2)?,
        recorded: moment(4)?,
        source: names.sources.get(&slot)?.clone(),
        replaces,
        import: None,
        what: serde_json::from_str(what).ok()?,
    };
    if i64::from(EntryRow::checksum(&entry, slot, import, again, origin, what)) != whole(&values[13])? {
        return None;
    }
    entry.check().ok()?;
    Some(with_imports(entry, import, again, names))
}

fn with_imports(entry: Entry, import: Option<i64>, again: Option<i64>, names: &Names) -> Vec<Entry> {
    let first = names.import(import);
    let mut entries = vec![Entry { import: first, ..entry.clone() }];
    if let (Some(_), Some(last)) = (first, names.import(again)) {
        entries.push(Entry { import: Some(last), ..entry });
    }
    entries
}
