//! Every command that writes, killed at moments that differ each time: what it ended well with is there, what it did not end with is there
//! as a whole or not at all, and the log has no damage.
//!
//! `EBBSTEAD_KILL_RUNS` sets how often each command is killed (16 unless set; thousands for a long run).

#![allow(clippy::float_cmp)] // what was noted is there to the last bit, or it is not there

use std::collections::BTreeSet;
use std::fs;
use std::process::Stdio;
use std::thread;
use std::time::{Duration, Instant};

use ebbstead_core::store::Log;
use ebbstead_core::time::{MINUTE_MS, Moment};

use crate::context::{Context, objects};

/// Readings of a file that comes as a whole.
const BLOCK: usize = 288;

/// The first day of another device's log.
const OTHER: u64 = 4000;

fn runs() -> u64 {
    std::env::var("EBBSTEAD_KILL_RUNS").ok().and_then(|runs| runs.parse().ok()).unwrap_or(16)
}

/// One command under test: how long it takes when nothing disturbs it, and how often it ended before it was killed.
struct Killing {
    name: &'static str,
    takes: Duration,
    ended: u64,
}

impl Killing {
    fn new(name: &'static str) -> Self {
        Self { name, takes: Duration::from_millis(30), ended: 0 }
    }

    /// Runs the command and kills it; whether it had ended well by then. The first is killed at once and the last never, so that there
    /// is one of both.
    fn run(&mut self, context: &Context, nth: u64, arguments: &[&str]) -> bool {
        let begun = Instant::now();
        let mut child = context.command(arguments).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        // Spread over a little more than it takes, so that a few end; by a multiplier that visits the span evenly.
        let span = self.takes.as_micros() as u64 * 5 / 4;
        let until = Duration::from_micros((nth - 1).wrapping_mul(2_654_435_761) % span.max(1));
        let ended = loop {
            if let Some(status) = child.try_wait().unwrap() {
                break Some(status);
            }
            if nth < runs() && begun.elapsed() >= until {
                child.kill().unwrap();
                child.wait().unwrap();
                break None;
            }
            thread::sleep(Duration::from_micros(300));
        };
        let well = ended.is_some_and(|status| status.success());
        assert!(ended.is_none() || well, "{} {arguments:?}: {ended:?}", self.name);
        // A busy machine takes longer: where it was killed late and had not ended, the next is given more.
        if well {
            self.takes = begun.elapsed();
        } else if until > self.takes {
            self.takes = (self.takes * 3 / 2).min(Duration::from_secs(4));
        }
        self.ended += u64::from(well);
        well
    }
}

impl Drop for Killing {
    fn drop(&mut self) {
        eprintln!("{}: run {} times and killed in {} of them", self.name, runs(), runs() - self.ended);
    }
}

fn day(n: u64) -> String {
    let start = chrono::NaiveDate::from_ymd_opt(2005, 1, 1).unwrap() + chrono::Days::new(n);
    format!("{start} 00:00")
}

fn amounts(n: u64) -> Vec<f64> {
    (0..BLOCK).map(|k| 90.0 + ((k as u64 * 31 + n * 7) % 97) as f64).collect()
}

/// The log as the next program finds it, looked through for damage.
fn opened(context: &Context) -> Log {
    let log = Log::open_to_read(context.log()).unwrap();
    log.check().unwrap();
    log
}

fn readings(context: &Context) -> usize {
    let readings = opened(context).count().unwrap().readings as usize;
    assert_eq!(readings % BLOCK, 0, "{readings} readings: a part of a file is seen");
    readings
}

#[test]
fn add_correct_and_undo() {
    let context = Context::new();
    let from = Moment::parse("2024-01-01T00:00:00+01:00").unwrap();
    let at = |n: u64| from.plus_ms(n as i64 * MINUTE_MS);
    let (mut adding, mut correcting, mut undoing) =
        (Killing::new("add"), Killing::new("correct"), Killing::new("undo"));
    context.done(&["add", "carbs", "12", "--at", &at(0).to_string()]);
    // What stands for the entry of each minute.
    let grams = || -> Vec<(Moment, f64)> {
        let history = opened(&context).history(from, at(10 * runs() + 10)).unwrap();
        history.carbohydrate.iter().map(|one| (one.at, one.grams)).collect()
    };
    let mut acknowledged = BTreeSet::from([0]);
    for n in 1..=runs() {
        if adding.run(&context, n, &["add", "carbs", "12", "--at", &at(n).to_string()]) {
            acknowledged.insert(n);
        }
        let there: BTreeSet<Moment> = grams().iter().map(|(at, _)| *at).collect();
        assert!(acknowledged.iter().all(|n| there.contains(&at(*n))), "after {n} an acknowledged entry is gone");
        assert!(there.len() <= n as usize + 1);
    }
    // The first entry is put right again and again, and each correction taken back again.
    let first = objects(&context.done(&["log", "--json", "--from", "2023-12-31 00:00", "--until", "2024-01-01 00:00"]));
    let mut mark = first[0]["mark"].as_str().unwrap().to_owned();
    let mut stands = 12.0;
    for n in 1..=runs() {
        let wanted = 13.0 + (n % 40) as f64;
        let well = correcting.run(&context, n, &["correct", &mark, "carbs", &wanted.to_string()]);
        let now = grams().iter().find(|(moment, _)| *moment == at(0)).unwrap().1;
        assert!(now == wanted || !well && now == stands, "{now} stands, {wanted} was wanted, {well}");
        stands = now;
        let listed =
            objects(&context.done(&["log", "--json", "--from", "2023-12-31 00:00", "--until", "2024-01-01 00:00"]));
        let newest = listed.iter().find(|one| one["current"] == true).unwrap();
        newest["mark"].as_str().unwrap().clone_into(&mut mark);
    }
    for n in 1..=runs() {
        // Each has an entry of its own to take back: of those above, any number may have been killed before they were there.
        context.done(&["add", "carbs", "15", "--at", &at(2 * runs() + n).to_string()]);
        let before = opened(&context).entries(from, at(10 * runs() + 10)).unwrap().len();
        let well = undoing.run(&context, n, &["undo"]);
        let after = opened(&context).entries(from, at(10 * runs() + 10)).unwrap().len();
        // A retraction is an entry of its own; what it takes back stays readable.
        assert!(after == before + 1 || !well && after == before, "{before} entries, then {after}, {well}");
    }
}

#[test]
fn import_and_merge() {
    let (here, there) = (Context::new(), Context::new());
    let (mut importing, mut merging) = (Killing::new("import"), Killing::new("merge"));
    here.done(&["import", &here.readings("0.csv", &day(0), &amounts(0))]);
    let mut blocks = BLOCK;
    for n in 1..=runs() {
        let file = here.readings("more.csv", &day(n), &amounts(n));
        let well = importing.run(&here, n, &["import", &file]);
        let now = readings(&here);
        assert!(now == blocks + BLOCK || !well && now == blocks, "{blocks} readings, then {now}, {well}");
        blocks = now;
    }
    // Another device's log, a day longer each time.
    there.done(&["import", &there.readings("0.csv", &day(OTHER), &amounts(1))]);
    let other = there.log();
    let mut all = blocks;
    for n in 1..=runs() {
        there.done(&["import", &there.readings("more.csv", &day(OTHER + n), &amounts(n))]);
        let held = readings(&there);
        let well = merging.run(&here, n, &["merge", other.to_str().unwrap(), "--apply"]);
        let now = readings(&here);
        assert!(now == blocks + held || !well && now == all, "{all} readings, then {now} of {}, {well}", blocks + held);
        all = now;
    }
}

#[test]
fn settings_and_learn() {
    let context = Context::new();
    context.done(&["import", &context.readings("0.csv", &day(0), &amounts(0))]);
    let (mut setting, mut learning) = (Killing::new("settings"), Killing::new("learn"));
    let line = || opened(&context).wearer().unwrap().low_line.mg_dl();
    let mut stands = line();
    for n in 1..=runs() {
        let wanted = 65.0 + (n % 30) as f64;
        let well = setting.run(&context, n, &["settings", "low-line", &wanted.to_string()]);
        let now = line();
        assert!(now == wanted || !well && now == stands, "{now} stands, {wanted} was wanted, {well}");
        stands = now;
    }
    let mut learnt = false;
    for n in 1..=runs() {
        learnt |= learning.run(&context, n, &["learn"]);
        // A lesson that can't be read would fail otherwise than by not being there.
        let last = context.run(&["learn", "--last", "--json"]);
        assert!(last.code == 0 || !learnt && last.code == 66, "{}: {}", last.code, last.err);
        opened(&context);
    }
}

#[test]
fn export_review_and_recover() {
    let context = Context::new();
    for n in 0..5 {
        context.done(&["import", &context.readings("day.csv", &day(n), &amounts(n))]);
    }
    let at = |name: &str| context.folder().join(name).to_str().unwrap().to_owned();
    let (table, bundle, page) = (at("table.csv"), at("bundle.json"), at("page.html"));
    let until = day(5);
    let replaces = |name, path: &str, arguments: &[&str], is_whole: fn(&str) -> bool| {
        let mut killing = Killing::new(name);
        context.done(arguments);
        for n in 1..=runs() {
            killing.run(&context, n, arguments);
            assert!(is_whole(&fs::read_to_string(path).unwrap()), "{name}: a part of a file");
            opened(&context);
        }
    };
    replaces("export, a table", &table, &["export", &table, "--as", "table", "--replace"], |text| {
        text.ends_with('\n') && text.lines().count() > 5 * BLOCK
    });
    replaces("export, FHIR", &bundle, &["export", &bundle, "--as", "fhir", "--replace"], |text| {
        serde_json::from_str::<serde_json::Value>(text).is_ok()
    });
    replaces("review", &page, &["review", "--days", "5", "--until", &until, "--html", &page, "--replace"], |text| {
        text.trim_end().ends_with("</html>")
    });
    let mut recovering = Killing::new("recover");
    for n in 1..=runs() {
        let into = at(&format!("recovered-{n}.ebbstead"));
        let well = recovering.run(&context, n, &["recover", &into]);
        if well || fs::exists(&into).unwrap() {
            let log = Log::open_to_read(&into).unwrap();
            log.check().unwrap();
            assert_eq!(log.count().unwrap().readings as usize, 5 * BLOCK);
        }
        assert_eq!(readings(&context), 5 * BLOCK);
    }
    // Killed writers leave what they began under a name of its own, and not for long: the next ones take it away.
    let left = fs::read_dir(context.folder())
        .unwrap()
        .filter(|one| one.as_ref().unwrap().file_name().to_string_lossy().ends_with(".part"));
    assert!(left.count() as u64 <= 4 * runs());
}
