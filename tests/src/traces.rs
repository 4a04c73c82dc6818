//! Open sensor traces: a folder of sets, each a folder of CSV files, each a person.

use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use ebbstead_core::units::{HIGHEST_MG_DL, LOWEST_MG_DL, MG_DL_PER_MMOL_L};

/// What went wrong in reading a trace, and where.
#[derive(Debug, thiserror::Error)]
pub enum Problem {
    /// A file or folder could not be read.
    #[error("{}: {source}", path.display())]
    File {
        /// The file or folder.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// A file is no table of readings.
    #[error("{}: {why}", path.display())]
    Table {
        /// The file.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// Core refused a trace.
    #[error("{}: {source}", path.display())]
    Core {
        /// The file.
        path: PathBuf,
        /// Why.
        source: Box<ebbstead_core::Error>,
    },
}

impl Problem {
    /// Core refused the trace of a file.
    #[must_use]
    pub fn of_core(path: &Path, source: ebbstead_core::Error) -> Self {
        Self::Core { path: path.to_owned(), source: Box::new(source) }
    }
}

/// One person's readings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// Local time of each reading, in minutes since 1970-01-01T00:00, rising.
    pub minutes: Vec<f64>,
    /// The readings, in mg/dL.
    pub mg_dl: Vec<f64>,
}

impl Trace {
    /// The fewest readings a person needs to be scored.
    pub const FEWEST: usize = 500;

    /// The same with times counted from the first reading.
    #[must_use]
    pub fn from_its_start(mut self) -> Self {
        let first = self.minutes.first().copied().unwrap_or_default();
        self.minutes.iter_mut().for_each(|minute| *minute -= first);
        self
    }
}

/// A set: people of one study, in the order of their files' names.
#[derive(Clone, Debug)]
pub struct Set {
    /// The folder's name.
    pub name: String,
    /// The files.
    pub files: Vec<PathBuf>,
}

/// The sets in a folder, by name. A folder with CSV files of its own is one set.
///
/// # Errors
/// [`Problem`] where the folder cannot be read or holds no CSV file.
pub fn sets(folder: &Path) -> Result<Vec<Set>, Problem> {
    let mut found: Vec<Set> = Vec::new();
    let own = csv_files(folder)?;
    if !own.is_empty() {
        found.push(Set { name: name_of(folder), files: own });
    }
    for inner in entries(folder)?.into_iter().filter(|path| path.is_dir()) {
        let files = csv_files(&inner)?;
        if !files.is_empty() {
            found.push(Set { name: name_of(&inner), files });
        }
    }
    if found.is_empty() {
        return Err(Problem::Table {
            path: folder.to_owned(),
            why: "holds no CSV file, nor a folder that does".into(),
        });
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(found)
}

/// The CSV files of a folder, sorted, without those that describe the data.
///
/// # Errors
/// [`Problem::File`] where the folder cannot be read.
pub fn csv_files(folder: &Path) -> Result<Vec<PathBuf>, Problem> {
    let is_trace = |path: &PathBuf| {
        path.is_file() && path.extension().is_some_and(|ext| ext == "csv") && !name_of(path).contains("metadata")
    };
    Ok(entries(folder)?.into_iter().filter(is_trace).collect())
}

fn entries(folder: &Path) -> Result<Vec<PathBuf>, Problem> {
    let refused = |source| Problem::File { path: folder.to_owned(), source };
    let listed: Result<Vec<_>, _> =
        std::fs::read_dir(folder).map_err(refused)?.map(|entry| entry.map(|entry| entry.path())).collect();
    let mut paths = listed.map_err(refused)?;
    paths.sort();
    Ok(paths)
}

/// A path's last part as text.
#[must_use]
pub fn name_of(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Reads a trace: a `timestamp` column (local time), and glucose in the second, in mg/dL unless its name says mmol.
///
/// Rows without a time or an amount that an instrument can report are left out; of several at one second, the first counts.
///
/// # Errors
/// [`Problem`] where the file cannot be read or has no such columns.
pub fn load(path: &Path) -> Result<Trace, Problem> {
    let table = |why: String| Problem::Table { path: path.to_owned(), why };
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).from_path(path).map_err(|error| table(error.to_string()))?;
    let header = reader.headers().map_err(|error| table(error.to_string()))?.clone();
    let time_column = header
        .iter()
        .position(|name| name.trim() == "timestamp")
        .ok_or_else(|| table("has no column named timestamp".to_owned()))?;
    let unit = if header.get(1).is_some_and(|name| name.contains("mmol")) { MG_DL_PER_MMOL_L } else { 1.0 };
    let mut rows: Vec<(i64, f64)> = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| table(error.to_string()))?;
        let time = record.get(time_column).and_then(|text| local_seconds(text.trim()));
        let amount = record.get(1).and_then(|text| text.trim().parse::<f64>().ok()).map(|amount| amount * unit);
        if let (Some(time), Some(amount)) = (time, amount)
            && (LOWEST_MG_DL..=HIGHEST_MG_DL).contains(&amount)
        {
            rows.push((time, amount));
        }
    }
    rows.sort_by_key(|row| row.0);
    rows.dedup_by_key(|row| row.0);
    // The casts fit: seconds of our time are far below 2^53.
    Ok(rows.into_iter().map(|(time, amount)| (time as f64 / 60.0, amount)).collect())
}

impl FromIterator<(f64, f64)> for Trace {
    fn from_iter<I: IntoIterator<Item = (f64, f64)>>(rows: I) -> Self {
        let (minutes, mg_dl) = rows.into_iter().unzip();
        Self { minutes, mg_dl }
    }
}

/// Seconds of a local time, in the forms open sets use.
fn local_seconds(text: &str) -> Option<i64> {
    const FORMS: [&str; 6] = [
        "%Y-%m-%dT%H:%M:%S%.f",
        "%Y-%m-%d %H:%M:%S%.f",
        "%Y-%m-%dT%H:%M",
        "%Y-%m-%d %H:%M",
        "%Y/%m/%d %H:%M:%S",
        "%Y/%m/%d %H:%M",
    ];
    let time = FORMS.iter().find_map(|form| NaiveDateTime::parse_from_str(text, form).ok())?;
    Some(time.and_utc().timestamp())
}

/// A virtual wearer, whose blood glucose is known at every reading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Virtual {
    /// Minutes since the start, and what the sensor read, in mg/dL.
    pub sensor: Trace,
    /// Blood glucose at the readings, in mg/dL.
    pub blood_mg_dl: Vec<f64>,
}

/// Reads a virtual wearer: columns `minute`, `blood_mgdl`, `sensor_mgdl`, the last empty between readings.
///
/// # Errors
/// [`Problem`] where the file cannot be read or lacks a column.
pub fn load_virtual(path: &Path) -> Result<Virtual, Problem> {
    #[derive(serde::Deserialize)]
    struct Row {
        minute: f64,
        blood_mgdl: f64,
        sensor_mgdl: Option<f64>,
    }
    let table = |error: csv::Error| Problem::Table { path: path.to_owned(), why: error.to_string() };
    let mut found = Virtual::default();
    for row in csv::Reader::from_path(path).map_err(table)?.deserialize() {
        let row: Row = row.map_err(table)?;
        if let Some(sensor) = row.sensor_mgdl {
            found.sensor.minutes.push(row.minute);
            found.sensor.mg_dl.push(sensor);
            found.blood_mg_dl.push(row.blood_mgdl);
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_is_there_and_leaves_out_what_is_none() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.csv");
        let text = "timestamp,glucose_mgdl\n2026-01-01T00:05:00,101\n2026-01-01 00:00,100\n2026-01-01T00:05:00,99\nnoon,90\n\
                    2026-01-01T00:10:00,\n2026-01-01T00:15:00,700\n2026-01-01T00:20:00,NaN\n";
        std::fs::write(&path, text).unwrap();
        let trace = load(&path).unwrap().from_its_start();
        assert_eq!(trace, Trace { minutes: vec![0.0, 5.0], mg_dl: vec![100.0, 101.0] });
        std::fs::write(&path, "time,glucose\n").unwrap();
        assert!(load(&path).unwrap_err().to_string().contains("timestamp"));
    }

    #[test]
    fn a_folder_of_files_is_a_set_and_so_is_each_folder_in_it() {
        let folder = tempfile::tempdir().unwrap();
        assert!(sets(folder.path()).is_err());
        for file in ["b/2.csv", "b/10.csv", "b/metadata.csv", "a/1.csv", "c/readme.txt"] {
            let path = folder.path().join(file);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, "timestamp,glucose_mgdl\n").unwrap();
        }
        let found = sets(folder.path()).unwrap();
        assert_eq!(found.iter().map(|set| set.name.as_str()).collect::<Vec<_>>(), ["a", "b"]);
        assert_eq!(found[1].files.iter().map(|path| name_of(path)).collect::<Vec<_>>(), ["10.csv", "2.csv"]);
    }
}
