//! What came of the prompts: treated, held, what a meter said, and where glucose went.
//!
//! A prompt is kept in the log when it is shown ([`crate::log::Prompted`]). Here each is held against what the log holds
//! after it. What was done and not logged is not seen, and no figure says what would have come of the other choice.

use serde::Serialize;

use crate::log::{Carbohydrate, History, Matter, MeterCheck, Prompted, Prompting, Reading, Shown, Verdict};
use crate::review::Period;
use crate::review::metrics::held::LONGEST_SPACING_MINUTES;
use crate::statistics::{Share, mean};
use crate::time::Moment;
use crate::wearer::Wearer;

/// Carbohydrate or a meter check within this time after a prompt is its answer, in minutes; ours.
pub const ANSWER_MINUTES: f64 = 20.0;
/// Where glucose went is looked at for this long after a prompt, in minutes: within it rescue carbohydrate has long acted.
pub const AFTER_MINUTES: f64 = 60.0;
/// A high that begins within this time after a treat, or after a low's end, is a rebound, in minutes.
///
/// # Source
/// Acciaroli G, et al., J Diabetes Sci Technol 2022.
pub(crate) const REBOUND_MINUTES: f64 = 120.0;
/// Prompts that say the same within this time of the one before are one decision, in minutes; ours.
const SAME_MINUTES: f64 = 20.0;
/// A prompt that stays on a screen is kept again this long after it was kept, in minutes: twice within [`SAME_MINUTES`], so that
/// however often a shell looks, it stays one decision and the log does not fill.
const KEPT_ANEW_MINUTES: f64 = 10.0;

/// Whether a prompt shown `now` is to be kept: not where one that says the same was kept a few minutes before.
#[must_use]
pub fn is_to_keep(shown: &Prompted, now: Moment, before: &[Prompting]) -> bool {
    let said = |one: &&Prompting| one.at <= now && now.minutes_since(one.at) < KEPT_ANEW_MINUTES;
    // The newest alone: a prompt that changed and changed back is news both times.
    !before.iter().rfind(said).is_some_and(|one| one.shown.says_the_same(shown))
}

/// What came of one decision: a prompt, with those after it that said the same.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Outcome {
    /// When it was shown first.
    pub at: Moment,
    /// What was shown first.
    pub shown: Prompted,
    /// How often it was shown.
    pub times: usize,
    /// The newest reading when it was shown, if no older than 15 minutes.
    pub reading: Option<Shown>,
    /// Minutes until carbohydrate was logged, if within [`ANSWER_MINUTES`] of the first or the last time it was shown.
    pub treated_after_minutes: Option<f64>,
    /// What a meter showed within [`ANSWER_MINUTES`].
    pub meter: Option<Shown>,
    /// The lowest reading in the [`AFTER_MINUTES`] after it was shown last, those while pressed left out; nothing unless
    /// readings cover that time.
    pub lowest: Option<Shown>,
    /// The highest in the two hours after, in the same way.
    pub highest: Option<Shown>,
    /// Whether the time to look at is not over yet.
    pub open: bool,
}

/// One kind of decision, counted. Only those that are seen to their end count.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Counted {
    /// Those that are counted, by time.
    pub decisions: Vec<Outcome>,
    /// Decisions whose end is not seen: readings are missing, or the time is not over.
    pub unseen: usize,
    /// How many went below the wearer's low line.
    pub went_below: Share,
    /// How many went above the wearer's high line within two hours.
    pub went_above: Share,
    /// How many carbohydrate was logged after.
    pub treated: Share,
    /// How many a meter was used after.
    pub metered: Share,
    /// In how many of these the meter was below the low line.
    pub meter_low: Share,
    /// The mean chance shown of a low within half an hour, of those that showed one.
    pub mean_chance: Option<f64>,
}

/// One of the two choices about a fall, and its outcome beside what was shown of both.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chosen {
    /// How many went below the wearer's low line within the hour.
    pub went_below: Share,
    /// How many went above the wearer's high line within two hours.
    pub went_above: Share,
    /// The mean chance shown of a low within the hour if nothing is done; nothing where none was chosen so.
    pub mean_if_waiting: Option<f64>,
    /// The mean chance shown of the same if treated at once.
    pub mean_if_treating: Option<f64>,
}

/// The prompts of a period and their outcomes.
///
/// # Example
/// ```
/// use ebbstead_insights::outcomes::Outcomes;
/// use ebbstead_log::log::History;
/// use ebbstead_insights::review::Period;
/// use ebbstead_engine::time::Moment;
/// use ebbstead_engine::wearer::Wearer;
///
/// let now = Moment::parse("2026-03-15T00:00:00+01:00")?;
/// let outcomes = Outcomes::of(&History::default(), &Wearer::default(), Period::days_before(now, 90)?, now);
/// assert!(outcomes.outcomes.is_empty());
/// assert_eq!(outcomes.held.went_below.of, 0);
/// # Ok::<(), ebbstead_log::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outcomes {
    /// The period.
    pub period: Period,
    /// How many prompts were shown.
    pub prompts: usize,
    /// Every decision, by time.
    pub outcomes: Vec<Outcome>,
    /// Advised to hold while above the low line and about falling, and nothing eaten: what holding came to.
    pub held: Counted,
    /// The same, but carbohydrate was logged all the same.
    pub treated_instead: Counted,
    /// Advised to treat.
    pub advised_treat: Counted,
    /// Advised to check.
    pub advised_check: Counted,
    /// Falls in which both futures were shown, and nothing was eaten.
    pub waited: Chosen,
    /// The same, and carbohydrate was logged.
    pub treated: Chosen,
}

impl Outcomes {
    /// Holds the prompts of a period against what came after, as known at `now`.
    #[must_use]
    pub fn of(history: &History, wearer: &Wearer, period: Period, now: Moment) -> Self {
        let inside = |at: Moment| at >= period.from() && at < period.until();
        let prompts = history.prompts.iter().filter(|one| inside(one.at)).count();
        let mut outcomes: Vec<Outcome> = Vec::new();
        let mut last_shown: Vec<Moment> = Vec::new();
        for prompt in history.prompts.iter().filter(|one| inside(one.at)) {
            let same = outcomes.last_mut().zip(last_shown.last_mut()).filter(|(outcome, last)| {
                outcome.shown.says_the_same(&prompt.shown) && prompt.at.minutes_since(**last) <= SAME_MINUTES
            });
            if let Some((outcome, last)) = same {
                outcome.times += 1;
                *last = prompt.at;
                continue;
            }
            outcomes.push(Outcome {
                at: prompt.at,
                shown: prompt.shown,
                times: 1,
                reading: newest(&history.readings, prompt.at),
                treated_after_minutes: None,
                meter: None,
                lowest: None,
                highest: None,
                open: false,
            });
            last_shown.push(prompt.at);
        }
        for (outcome, last) in outcomes.iter_mut().zip(last_shown) {
            outcome.look(history, last, now);
        }
        let low_line = wearer.low_line.mg_dl();
        // A hold while rescue carbohydrate works comes when glucose is low already; it does not predict a low to come.
        let still_above = |one: &&Outcome| one.reading.is_some_and(|reading| !reading.is_below(low_line));
        let about_falls = |one: &&Outcome| !matches!(one.shown.matter, Matter::Rising);
        let holds = || {
            let advised = outcomes.iter().filter(|one| one.shown.verdict == Verdict::Hold);
            advised.filter(about_falls).filter(still_above)
        };
        let advised = |verdict: Verdict| outcomes.iter().filter(move |one| one.shown.verdict == verdict);
        let chosen = |ate: bool| {
            let falls = outcomes.iter().filter(about_falls).filter(still_above);
            Chosen::of(falls.filter(move |one| one.treated_after_minutes.is_some() == ate), wearer)
        };
        Self {
            period,
            prompts,
            held: Counted::of(holds().filter(|one| one.treated_after_minutes.is_none()), wearer),
            treated_instead: Counted::of(holds().filter(|one| one.treated_after_minutes.is_some()), wearer),
            advised_treat: Counted::of(advised(Verdict::Treat), wearer),
            advised_check: Counted::of(advised(Verdict::Check), wearer),
            waited: chosen(false),
            treated: chosen(true),
            outcomes,
        }
    }
}

impl Outcome {
    fn look(&mut self, history: &History, last: Moment, now: Moment) {
        let answers = |at: Moment| at >= self.at && at.minutes_since(last) <= ANSWER_MINUTES;
        let eaten = history.carbohydrate.iter().find(|one: &&Carbohydrate| answers(one.at));
        self.treated_after_minutes = eaten.map(|one| one.at.minutes_since(self.at));
        self.meter = history.meter_checks.iter().find(|one: &&MeterCheck| answers(one.at)).map(MeterCheck::shown);
        self.open = now.minutes_since(last) < AFTER_MINUTES;
        let after = |minutes: f64| seen(history, last, minutes);
        self.lowest = after(AFTER_MINUTES).map(|(lowest, _)| lowest);
        self.highest = after(REBOUND_MINUTES).map(|(_, highest)| highest);
    }
}

/// The newest reading at a moment, if no older than 15 minutes.
fn newest(readings: &[Reading], at: Moment) -> Option<Shown> {
    let place = readings.partition_point(|one| !one.at.is_after(at));
    let reading = readings.get(place.checked_sub(1)?)?;
    (at.minutes_since(reading.at) <= 15.0).then(|| reading.shown())
}

/// The lowest and highest reading of the minutes after a moment, if readings cover them without a long gap.
fn seen(history: &History, from: Moment, minutes: f64) -> Option<(Shown, Shown)> {
    let place = history.readings.partition_point(|one| one.at.is_before(from));
    let until = from.plus_minutes(minutes);
    let (mut last, mut range) = (from, None);
    for reading in history.readings.get(place..)?.iter().take_while(|one| one.at <= until) {
        if reading.at.minutes_since(last) > LONGEST_SPACING_MINUTES {
            return None;
        }
        last = reading.at;
        if !history.is_compression_low(reading.at) {
            let shown = reading.shown();
            let (low, high) = range.unwrap_or((shown, shown));
            range = Some((
                if shown.is_below(low.glucose.mg_dl()) { shown } else { low },
                if shown.is_above(high.glucose.mg_dl()) { shown } else { high },
            ));
        }
    }
    range.filter(|_| until.minutes_since(last) <= LONGEST_SPACING_MINUTES)
}

/// The chances of both futures, where both were shown.
fn both_shown(shown: &Prompted) -> Option<(f64, f64)> {
    shown.chance_if_waiting.zip(shown.chance_if_treating)
}

impl Chosen {
    fn of<'a>(outcomes: impl Iterator<Item = &'a Outcome>, wearer: &Wearer) -> Self {
        let counted = Counted::of(outcomes.filter(|one| both_shown(&one.shown).is_some()), wearer);
        let (waiting, treating): (Vec<f64>, Vec<f64>) =
            counted.decisions.iter().filter_map(|one| both_shown(&one.shown)).unzip();
        Self {
            went_below: counted.went_below,
            went_above: counted.went_above,
            mean_if_waiting: mean(&waiting),
            mean_if_treating: mean(&treating),
        }
    }
}

impl Counted {
    fn of<'a>(outcomes: impl Iterator<Item = &'a Outcome>, wearer: &Wearer) -> Self {
        let all: Vec<Outcome> = outcomes.copied().collect();
        let decisions: Vec<Outcome> = all.iter().filter(|one| !one.open && one.lowest.is_some()).copied().collect();
        let count = |is: &dyn Fn(&&Outcome) -> bool| decisions.iter().filter(|one| is(one)).count();
        let share = |is: &dyn Fn(&&Outcome) -> bool| Share::of(count(is), decisions.len());
        let low = |shown: Option<Shown>| shown.is_some_and(|shown| shown.is_below(wearer.low_line.mg_dl()));
        let high = |shown: Option<Shown>| shown.is_some_and(|shown| shown.is_above(wearer.high_line.mg_dl()));
        let metered = count(&|one| one.meter.is_some());
        let chances: Vec<f64> = decisions.iter().filter_map(|one| one.shown.chance_low).collect();
        let followed_on = count(&|one| one.highest.is_some());
        Self {
            unseen: all.len() - decisions.len(),
            went_below: share(&|one| low(one.lowest)),
            went_above: Share::of(count(&|one| high(one.highest)), followed_on),
            treated: share(&|one| one.treated_after_minutes.is_some()),
            metered: share(&|one| one.meter.is_some()),
            meter_low: Share::of(count(&|one| low(one.meter)), metered),
            mean_chance: mean(&chances),
            decisions,
        }
    }
}
