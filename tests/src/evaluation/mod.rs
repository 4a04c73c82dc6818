//! The questions: how good are the forecast and the chance, what would each fall have got, is blood glucose found behind
//! the lag, is a pressed sensor distinguished from a low.
//!
//! People in open data treated themselves, so some lows were averted: figures compare rules, they are no truths.

mod artifact;
mod falls;
mod forecast;
mod lag;

use std::path::PathBuf;

use serde::Serialize;

pub use artifact::{Compression, compression, inject};
pub use falls::{FallScores, FallTally};
pub use forecast::{ForecastScores, Stated};
pub use lag::{BehindLag, behind_lag};

use crate::baselines::{Regression, Rule, slope_chance, slope_mg_dl};
use crate::replay::Line;
use crate::traces::{Problem, Set, Trace, load, name_of};
use crate::windows::{falls, windows};

/// Runs core over a trace, one line a reading.
pub type Replay<'a> = dyn Fn(&Trace) -> ebbstead_core::Result<Vec<Line>> + 'a;

/// People the baselines are fitted on, and those who are scored.
#[derive(Clone, Debug)]
pub struct Split {
    /// Fitted on these.
    pub fitted: Vec<PathBuf>,
    /// These are scored, by set; sets without anybody left are not in it.
    pub scored: Vec<Set>,
}

impl Split {
    /// Puts the first people of each set aside for fitting: as many as `first` says for the set's name, and where it names
    /// no set at all, half of each, rounded down. At most `limit` people of each set are scored.
    #[must_use]
    pub fn of(sets: Vec<Set>, first: &[(String, usize)], limit: usize) -> Self {
        let mut split = Self { fitted: Vec::new(), scored: Vec::new() };
        for Set { name, files } in sets {
            let aside = if first.is_empty() {
                files.len() / 2
            } else {
                first.iter().find(|(set, _)| *set == name).map_or(0, |(_, count)| (*count).min(files.len()))
            };
            split.fitted.extend_from_slice(&files[..aside]);
            let scored: Vec<PathBuf> = files[aside..].iter().take(limit).cloned().collect();
            if !scored.is_empty() {
                split.scored.push(Set { name, files: scored });
            }
        }
        split
    }

    /// The regression fitted on those put aside; nothing where that gives no windows.
    ///
    /// # Errors
    /// [`Problem`] where a file cannot be read.
    pub fn regression(&self) -> Result<Option<Regression>, Problem> {
        let mut all = Vec::new();
        for path in &self.fitted {
            all.extend(windows(&load(path)?));
        }
        Ok(Regression::fit(&all))
    }
}

/// What one rule or program got, by name.
#[derive(Clone, Debug, Serialize)]
pub struct Named<T> {
    /// `ebbstead`, or the rule.
    pub who: &'static str,
    /// What it got.
    pub scores: T,
}

/// One set's figures.
#[derive(Clone, Debug, Serialize)]
pub struct SetScores {
    /// The set.
    pub set: String,
    /// How many people were scored.
    pub people: usize,
    /// How many readings had an unbroken hour before and half hour after.
    pub windows: usize,
    /// How many of these were falling.
    pub falling: usize,
    /// Forecast and chance.
    pub forecast: Vec<Named<ForecastScores>>,
    /// What the falls would have got.
    pub falls: Vec<Named<FallScores>>,
}

/// All sets' figures.
#[derive(Clone, Debug, Serialize)]
pub struct ReadingScores {
    /// Set by set.
    pub sets: Vec<SetScores>,
    /// What the falls of all sets together would have got.
    pub all_falls: Vec<Named<FallScores>>,
    /// Stated chances and outcomes at all falling readings, for a reliability diagram.
    #[serde(skip)]
    pub stated: Vec<Named<Stated>>,
}

/// Scores forecast, chance and verdicts on everybody, in one replay each. Calls `progress` before each person.
///
/// # Errors
/// [`Problem`] where a file cannot be read or core refuses it.
pub fn readings(
    split: &Split,
    regression: Option<&Regression>,
    replay: &Replay<'_>,
    mut progress: impl FnMut(&str, &str),
) -> Result<ReadingScores, Problem> {
    let rules: Vec<(&'static str, Rule<'_>)> = [("slope rule", Rule::Slope)]
        .into_iter()
        .chain(regression.map(|fitted| ("regression", Rule::Regression(fitted))))
        .chain([("below 80", Rule::Below(80.0)), ("below 70", Rule::Below(70.0))])
        .collect();
    let named = |count: usize| vec![FallTally::default(); count];
    let mut all_tallies = named(rules.len() + 1);
    let mut all_stated = [Stated::default(), Stated::default(), Stated::default()];
    let mut sets = Vec::new();
    for Set { name, files } in &split.scored {
        let mut tallies = named(rules.len() + 1);
        let mut stated = [Stated::default(), Stated::default(), Stated::default()];
        let mut people = 0;
        for path in files {
            let trace = load(path)?.from_its_start();
            let (asked, fallen) = (windows(&trace), falls(&trace));
            if trace.mg_dl.len() < Trace::FEWEST || (asked.is_empty() && fallen.is_empty()) {
                continue;
            }
            progress(name, &name_of(path));
            people += 1;
            let lines = replay(&trace).map_err(|error| Problem::of_core(path, error))?;
            for window in &asked {
                let line = &lines[window.at];
                stated[0].add(window, line.mean_30_mg_dl, line.chance_low_30);
                if let Some(fitted) = regression {
                    let mg_dl = fitted.mg_dl(&window.past);
                    stated[1].add(window, mg_dl, fitted.chance(mg_dl));
                }
                let mg_dl = slope_mg_dl(window.past[0], window.past[3]);
                stated[2].add(window, mg_dl, slope_chance(mg_dl));
            }
            let ours: Vec<bool> = lines.iter().map(|line| line.treat).collect();
            let checks: Vec<bool> = lines.iter().map(|line| line.check).collect();
            tallies[0].add(&trace, &fallen, &ours, Some(&checks));
            for (tally, (_, rule)) in tallies[1..].iter_mut().zip(&rules) {
                tally.add(&trace, &fallen, &rule.treats(&trace), None);
            }
        }
        if people == 0 {
            continue;
        }
        sets.push(SetScores {
            set: name.clone(),
            people,
            windows: stated[0].windows(),
            falling: stated[0].falling(),
            forecast: who_stated(&stated)
                .filter_map(|(who, one)| one.scores().map(|scores| Named { who, scores }))
                .collect(),
            falls: scored(&tallies, &rules),
        });
        all_tallies.iter_mut().zip(tallies).for_each(|(all, one)| all.merge(one));
        all_stated.iter_mut().zip(stated).for_each(|(all, one)| all.merge(one));
    }
    Ok(ReadingScores {
        sets,
        all_falls: scored(&all_tallies, &rules),
        stated: who_stated(&all_stated).map(|(who, one)| Named { who, scores: one.clone() }).collect(),
    })
}

fn who_stated(stated: &[Stated; 3]) -> impl Iterator<Item = (&'static str, &Stated)> {
    ["ebbstead", "regression", "slope rule"].into_iter().zip(stated).filter(|(_, one)| one.windows() > 0)
}

fn scored(tallies: &[FallTally], rules: &[(&'static str, Rule<'_>)]) -> Vec<Named<FallScores>> {
    let who = ["ebbstead"].into_iter().chain(rules.iter().map(|(who, _)| *who));
    who.zip(tallies).map(|(who, tally)| Named { who, scores: tally.scores() }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(name: &str, count: usize) -> Set {
        Set { name: name.to_owned(), files: (0..count).map(|k| PathBuf::from(format!("{name}/{k}.csv"))).collect() }
    }

    #[test]
    fn nobody_is_fitted_on_and_scored() {
        let split = Split::of(vec![set("a", 8), set("b", 1)], &[], 99);
        assert_eq!((split.fitted.len(), split.scored[0].files.len(), split.scored[1].files.len()), (4, 4, 1));
        let split = Split::of(vec![set("a", 8), set("b", 3)], &[("b".to_owned(), 3)], 2);
        assert_eq!((split.fitted.len(), split.scored.len(), split.scored[0].files.len()), (3, 1, 2));
    }
}
