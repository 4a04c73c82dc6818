//! Asks of folders of sensor traces how good the forecast, the chance of a low and the prompts are.

use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, ValueEnum};
use ebbstead_tests::evaluation::{
    BehindLag, Compression, Named, ReadingScores, SetScores, Split, behind_lag, compression, readings,
};
use ebbstead_tests::plot::reliability_svg;
use ebbstead_tests::replay;
use ebbstead_tests::traces::{csv_files, name_of, sets};

/// How good are forecast, chance of a low and prompts on real readings, beside simpler rules?
///
/// FOLDER holds a folder for each set with a CSV file for each person (`timestamp,glucose_mgdl`, local times). The first people
/// of each set are put aside to fit a regression on; the others are scored. No reading is ever used before its time.
///
/// People in such data treated themselves, so some lows were averted: the figures compare rules, they are no truths.
#[derive(Parser)]
#[command(name = "evaluate", max_term_width = 100)]
struct Options {
    /// Folder of sets
    folder: PathBuf,
    /// Folder of virtual wearers, whose blood glucose is known (`minute,blood_mgdl,sensor_mgdl`)
    #[arg(long, value_name = "FOLDER")]
    known: Option<PathBuf>,
    /// Put the first N people of SET aside for fitting; without this option, half of each set
    #[arg(long, value_name = "SET:N", value_delimiter = ',', value_parser = set_and_count)]
    fit: Vec<(String, usize)>,
    /// Score at most this many people of each set
    #[arg(long, value_name = "N", default_value_t = 99)]
    limit: usize,
    /// Draw this many pressed spells into each quiet night
    #[arg(long, value_name = "N", default_value_t = 8)]
    draws: usize,
    /// Ask only these
    #[arg(long, value_enum, value_delimiter = ',', default_values_t = [Question::Readings, Question::Lag, Question::Compression])]
    ask: Vec<Question>,
    /// Draw stated chances against what came
    #[arg(long, value_name = "FILE.svg")]
    plot: Option<PathBuf>,
    /// Write all figures as JSON
    #[arg(long, value_name = "FILE.json")]
    json: Option<PathBuf>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Question {
    /// Forecast, chance of a low, and what each fall would have got
    Readings,
    /// Blood glucose behind the sensor's lag (needs --known)
    Lag,
    /// Pressed sensors against true lows (needs --known)
    Compression,
}

fn set_and_count(text: &str) -> Result<(String, usize), String> {
    let (set, count) = text.split_once(':').ok_or("write a set, a colon and a number, such as mine:4")?;
    Ok((set.to_owned(), count.parse().map_err(|_| format!("{count:?} is no number"))?))
}

fn main() -> ExitCode {
    match run(&Options::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let _ = writeln!(io::stderr(), "evaluate: {why}");
            ExitCode::FAILURE
        }
    }
}

#[derive(Default, serde::Serialize)]
struct Figures {
    readings: Option<ReadingScores>,
    lag: Option<BehindLag>,
    compression: Option<Compression>,
}

fn run(options: &Options) -> Result<(), Box<dyn std::error::Error>> {
    let split = Split::of(sets(&options.folder)?, &options.fit, options.limit);
    for (set, _) in &options.fit {
        if !options.folder.join(set).is_dir() {
            return Err(format!("--fit names {set:?}, but {} has no such folder", options.folder.display()).into());
        }
    }
    let regression = split.regression()?;
    let known = options.known.as_deref().map(csv_files).transpose()?;
    let asked = |question| options.ask.contains(&question);
    let mut out = io::stdout().lock();
    let mut figures = Figures::default();
    writeln!(out, "regression fitted on {} people, not scored", split.fitted.len())?;
    if regression.is_none() {
        writeln!(out, "too few readings to fit a regression on; it is left out")?;
    }
    if asked(Question::Readings) {
        let scores = readings(&split, regression.as_ref(), &replay::through_core, |set, file| {
            progress(&format!("{set} {file}"))
        })?;
        progress("");
        write_readings(&mut out, &scores)?;
        if let Some(path) = &options.plot {
            let drawn = reliability_svg(&scores.stated, &name_of(&options.folder))?;
            std::fs::write(path, drawn).map_err(|error| format!("{}: {error}", path.display()))?;
            writeln!(out, "\nstated chances against what came: {}", path.display())?;
        }
        figures.readings = Some(scores);
    }
    if known.is_none() && (asked(Question::Lag) || asked(Question::Compression)) {
        writeln!(
            out,
            "\nlag and pressed sensors are not asked about: they need wearers whose blood glucose is known (--known)"
        )?;
    }
    if let Some(files) = known.as_deref().filter(|_| asked(Question::Lag)) {
        figures.lag = behind_lag(files, &replay::through_core, |path| progress(&name_of(path)))?;
        progress("");
        figures.lag.as_ref().map(|lag| write_lag(&mut out, lag)).transpose()?;
    }
    if let Some(files) = known.as_deref().filter(|_| asked(Question::Compression)) {
        let scores = compression(&split, files, &replay::through_core, options.draws, |path| progress(&name_of(path)))?;
        progress("");
        write_compression(&mut out, &scores)?;
        figures.compression = Some(scores);
    }
    if let Some(path) = &options.json {
        write_json(path, &figures)?;
    }
    Ok(())
}

/// Says what is worked on, where a person watches; nothing wipes it.
fn progress(what: &str) {
    if io::stderr().is_terminal() {
        let _ = write!(io::stderr(), "\r{what:<60}\r");
    }
}

fn write_json(path: &Path, figures: &Figures) -> Result<(), Box<dyn std::error::Error>> {
    let text = serde_json::to_string_pretty(figures)?;
    std::fs::write(path, text + "\n").map_err(|error| format!("{}: {error}", path.display()).into())
}

fn write_readings(out: &mut impl Write, scores: &ReadingScores) -> io::Result<()> {
    for SetScores { set, people, windows, falling, forecast, .. } in &scores.sets {
        writeln!(
            out,
            "\n{set}: {people} people, {windows} readings with an hour before and half an hour after, {falling} falling"
        )?;
        writeln!(
            out,
            "{:<12}{:>15}{:>9}{:>9}{:>9}{:>18}{:>16}",
            "", "30-min error", "AUC", "Brier", "ECE", "(if right: 95 %)", "false at 0.90"
        )?;
        for Named { who, scores } in forecast {
            let auc = scores.auc.map_or("-".to_owned(), |auc| format!("{auc:.4}"));
            let floor =
                scores.if_right.map_or("-".to_owned(), |floor| format!("({:.4}: {:.4})", floor.ece, floor.ece_95));
            writeln!(
                out,
                "{who:<12}{:>9.2} mg/dL{auc:>9}{:>9.4}{:>9.4}{floor:>18}{:>16.3}",
                scores.rmse_30_mg_dl, scores.brier, scores.ece, scores.false_share_at_90
            )?;
        }
    }
    writeln!(
        out,
        "\n(if right: what the calibration error of these very chances would be if they were, and what it passes one time in twenty)"
    )?;
    let Some(first) = scores.all_falls.first() else { return Ok(()) };
    let counts = first.scores;
    writeln!(
        out,
        "\n{} falls of all sets, followed for 90 minutes: {} stayed at 70 mg/dL or above, {} went below 54",
        counts.falls, counts.stayed_above, counts.below_54
    )?;
    writeln!(
        out,
        "{:<12}{:>16}{:>21}{:>26}{:>16}",
        "", "needless treats", "treat before a low", "15 min before below 54", "finger checks"
    )?;
    for Named { who, scores } in &scores.all_falls {
        let [needless, before, good_time, checked] =
            [scores.needless, scores.before_70, scores.in_good_time, scores.checked].map(share);
        writeln!(out, "{who:<12}{needless:>16}{before:>21}{good_time:>26}{checked:>16}")?;
    }
    Ok(())
}

fn share(share: Option<f64>) -> String {
    share.map_or("-".to_owned(), |share| format!("{share:.3}"))
}

fn write_lag(out: &mut impl Write, lag: &BehindLag) -> io::Result<()> {
    let BehindLag { wearers, sensor_mg_dl, sensor_fast_mg_dl, estimate_mg_dl, estimate_fast_mg_dl, covered } = lag;
    writeln!(out, "\nblood glucose of {wearers} virtual wearers, error in mg/dL")?;
    writeln!(out, "{:<20}{:>8}{:>26}", "", "all", "over 1 mg/dL/min")?;
    writeln!(out, "{:<20}{sensor_mg_dl:>8.2}{sensor_fast_mg_dl:>26.2}", "sensor as read")?;
    writeln!(out, "{:<20}{estimate_mg_dl:>8.2}{estimate_fast_mg_dl:>26.2}", "estimate")?;
    let (all, fast) = (estimate_mg_dl / sensor_mg_dl, estimate_fast_mg_dl / sensor_fast_mg_dl);
    writeln!(out, "{:<20}{all:>8.3}{fast:>26.3}", "ratio")?;
    writeln!(out, "the stated 95 % interval held blood glucose in {:.1} %", covered * 100.0)
}

fn write_compression(out: &mut impl Write, scores: &Compression) -> io::Result<()> {
    let Compression { nights, spells, true_lows, auc, caught, true_lows_doubted, quiet_doubted } = *scores;
    writeln!(
        out,
        "\n{spells} pressed spells put into {nights} real quiet nights, {true_lows} true lows of virtual wearers"
    )?;
    writeln!(out, "  told apart (AUC)                          {}", share(auc))?;
    writeln!(out, "  spells doubted at their first low reading {}", share(caught))?;
    writeln!(out, "  true lows doubted                         {}", share(true_lows_doubted))?;
    let quiet = quiet_doubted.map_or("-".to_owned(), |share| format!("{share:.4}"));
    writeln!(out, "  readings of quiet nights doubted          {quiet}")
}
