//! A place of one's own for a test: the program, run in an empty folder with a fixed environment.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// What a run came to.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// A folder for the data, and how the program is run in it.
pub struct Context {
    folder: TempDir,
    environment: Vec<(&'static str, String)>,
}

impl Context {
    /// A context in central Europe, by a rule that needs no zone files, with a UTF-8 terminal of 80 columns.
    pub fn new() -> Self {
        let environment = [("TZ", "CET-1CEST,M3.5.0,M10.5.0/3"), ("LANG", "C.UTF-8"), ("COLUMNS", "80")];
        Self {
            folder: TempDir::new().unwrap(),
            environment: environment.map(|(name, value)| (name, value.to_owned())).to_vec(),
        }
    }

    /// The same with something in the environment changed.
    pub fn with(mut self, name: &'static str, value: &str) -> Self {
        self.environment.retain(|one| one.0 != name);
        self.environment.push((name, value.to_owned()));
        self
    }

    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// The wearer's own log.
    pub fn log(&self) -> PathBuf {
        self.folder().join("ebbstead/log.ebbstead")
    }

    /// Writes a file into the folder and gives its path.
    pub fn file(&self, name: &str, content: impl AsRef<[u8]>) -> String {
        let path = self.folder().join(name);
        std::fs::write(&path, content).unwrap();
        path.to_str().unwrap().to_owned()
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ebbstead"));
        command.args(arguments).env_clear().env("XDG_DATA_HOME", self.folder()).current_dir(self.folder());
        command.envs(self.environment.iter().map(|(name, value)| (name, value)));
        command.stdin(Stdio::null());
        command
    }

    pub fn run(&self, arguments: &[&str]) -> Run {
        let Output { status, stdout, stderr } = self.command(arguments).output().unwrap();
        let text = |bytes| String::from_utf8(bytes).unwrap();
        let run = Run { code: status.code().unwrap_or(-1), out: text(stdout), err: text(stderr) };
        assert!(!run.err.contains("panicked"), "{arguments:?}: {}", run.err);
        run
    }

    /// A run that must work; gives its result.
    pub fn done(&self, arguments: &[&str]) -> String {
        let run = self.run(arguments);
        assert_eq!(run.code, 0, "{arguments:?}: {}{}", run.out, run.err);
        run.out
    }

    /// A run that must fail with a code; gives what it said.
    pub fn fails(&self, code: i32, arguments: &[&str]) -> String {
        let run = self.run(arguments);
        assert_eq!(run.code, code, "{arguments:?}: {}{}", run.out, run.err);
        run.err
    }

    /// A file with a reading every five minutes from `start`, one for each amount.
    pub fn readings(&self, name: &str, start: &str, amounts: &[f64]) -> String {
        let start = chrono::NaiveDateTime::parse_from_str(start, "%Y-%m-%d %H:%M").unwrap();
        let mut text = "timestamp,glucose_mgdl\n".to_owned();
        for (amount, step) in amounts.iter().zip(0..) {
            let at = start + chrono::TimeDelta::minutes(5 * step);
            text.push_str(&format!("{},{amount}\n", at.format("%Y-%m-%dT%H:%M:%S")));
        }
        self.file(name, text)
    }
}

/// Lines of JSON.
pub fn objects(text: &str) -> Vec<serde_json::Value> {
    text.lines().map(|line| serde_json::from_str(line).unwrap_or_else(|why| panic!("{line}: {why}"))).collect()
}
