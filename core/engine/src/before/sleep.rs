//! Before sleep: the chance of a low until the wearer's morning, when an alarm is likely, what makes it likelier tonight, and
//! whether to look again.

use serde::Serialize;

use super::chance::{Chance, ChanceAhead};
use super::nights::{HOUR_MINUTES, LowsBegin, Nights};
use super::{FALLING_SAID, Facts, First, LONGEST_MINUTES, Missing, RECENT_MINUTES, check_length};
use crate::body::alcohol::Alcohol;
use crate::body::movement::lowers_for_hours;
use crate::body::sick::SickDay;
use crate::error::{Quantity, Result};
use crate::forecast::long::LONG_MINUTES;
use crate::log::{Activity, Dose, InsulinKind};
use crate::prompt::Sentence;
use crate::time::Moment;
use crate::wearer::{Plan, Wearer};

/// From this chance until the morning on, it is said when an alarm is likely (assumption).
const ALARM_LIKELY: f64 = 0.1;
/// If one comes, it comes in this part of the time half of the times: from the first share of the chance to the other.
const MIDDLE_HALF: (f64, f64) = (0.25, 0.75);
/// From this chance of a low in the next two hours on, one looks again before sleeping (assumption).
const STAY_UP: f64 = 0.15;
/// Then in this many minutes (assumption: what was eaten or taken last shows by then).
const STAY_UP_MINUTES: f64 = 45.0;
/// From this chance until the morning on, one look in the night is worth the sleep it costs (assumption).
const LOOK_IN_THE_NIGHT: f64 = 0.3;
/// From this chance of a very low one on, too (assumption).
const LOOK_FOR_FLOOR: f64 = 0.1;
/// Where lows are not felt or nobody is near, these shares of such chances are enough (assumption).
const WATCHFUL: f64 = 0.5;
/// In illness one looks so often in the night, in minutes.
///
/// Source: ISPAD Clinical Practice Consensus Guidelines 2022, sick day management (from memory): glucose and ketones every 2 to 4 hours.
const ILL_LOOK_MINUTES: f64 = 180.0;
/// From so many drinks on, too, whatever the readings show: alcohol lowers late (assumption).
const LOOK_FOR_DRINKS: f64 = 3.0;
/// From this share of own nights on, too, whose low began in the same hour: that of a chance.
const LOOK_FOR_OWN_LOWS: f64 = LOOK_IN_THE_NIGHT;
/// The look is so long before that hour begins, in minutes (assumption: time to see where glucose goes).
const BEFORE_OWN_LOWS_MINUTES: f64 = 15.0;
/// After alcohol the look comes after this share of the night, in its second half.
///
/// Source: Turner et al., Diabetes Care 2001;24:1888-1893: no difference overnight, lows in the morning after; the share is an assumption.
const LATE_IN_THE_NIGHT: f64 = 2.0 / 3.0;
/// Insulin that is over sooner is looked after before sleeping, not in the night, in minutes (assumption).
const NOT_YET_ASLEEP_MINUTES: f64 = 60.0;
/// Insulin of a meal or a correction acts for this long, in minutes; what is left after is little.
///
/// Source: rapid-acting analogues act for 3 to 5 hours (ADA Standards of Care, pharmacologic approaches, from memory).
const INSULIN_ACTS_MINUTES: f64 = 240.0;
/// A dose of the last minutes has most of its action ahead; up to this far above the low line, in mg/dL, one looks again before
/// sleeping (Hovorka et al., Physiol Meas 2004;25:905-920: half of a dose is absorbed after about an hour and a half; the height an assumption).
const DOSE_AHEAD: (f64, f64) = (120.0, 60.0);
/// Close to the low line, in mg/dL above it (assumption).
const NEAR_MG_DL: f64 = 30.0;
/// What is known before sleep.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BeforeSleep {
    /// When it was asked.
    pub at: Moment,
    /// The morning that chances are given until.
    pub until: Moment,
    /// What has to be done first.
    pub first: Option<First>,
    /// The chances until the morning.
    pub chance: Option<NightChance>,
    /// What is missing for them.
    pub missing: Option<Missing>,
    /// When an alarm is likely.
    pub alarm: Option<AlarmWindow>,
    /// The reading at which the wearer's plan rings at night, in mg/dL.
    pub rings_at_mg_dl: f64,
    /// What makes a low likelier tonight.
    pub likelier: Vec<Likelier>,
    /// Whether to look again, and when.
    pub look: Look,
}

/// The chances until the morning.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NightChance {
    /// Corrected by the wearer's own nights, where these are enough.
    pub own: Chance,
    /// As for everybody.
    pub everybody: Chance,
    /// Whether own nights correct the chance of a low.
    pub corrected_low: bool,
    /// Whether own nights correct the chance of a very low one.
    pub corrected_floor: bool,
    /// Own nights with enough readings to judge, and how many of them had a low and a very low one.
    pub nights: u32,
    /// With a reading below 70 mg/dL.
    pub nights_with_low: u32,
    /// With a reading below 54 mg/dL.
    pub nights_with_floor: u32,
    /// Whether the morning is further ahead than the fit of the chances reaches.
    pub beyond_fit: bool,
}

/// When an alarm is likely: half of the lows that may come fall between.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AlarmWindow {
    /// From.
    pub from: Moment,
    /// To.
    pub to: Moment,
}

/// Something that makes a low likelier tonight, and that can be looked after. Nothing here is about changing insulin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Likelier {
    /// Close to the low line.
    NearLow {
        /// The newest measurement, in mg/dL.
        mg_dl: f64,
    },
    /// Falling.
    Falling {
        /// In mg/dL/min, negative.
        mg_dl_min: f64,
    },
    /// Rapid insulin that still acts.
    InsulinActs {
        /// When most of it is over.
        until: Moment,
    },
    /// Own lows of the night that begin in the same hour.
    OwnLows {
        /// Nights whose low began in it.
        nights: u32,
        /// Of so many nights.
        of_nights: u32,
        /// When that hour begins.
        from: Moment,
        /// When it ends.
        to: Moment,
    },
    /// Alcohol, which lowers late.
    Alcohol {
        /// Standard drinks.
        drinks: f64,
    },
    /// Movement of the last day.
    Moved {
        /// Minutes of it.
        minutes: f64,
    },
    /// A low of the last day.
    RecentLow {
        /// The lowest, in mg/dL.
        mg_dl: f64,
    },
    /// Signs of a severe low within the last day.
    SevereSigns,
    /// Illness, and whether what is eaten may not stay down.
    Ill {
        /// Whether the wearer vomits.
        vomiting: bool,
    },
}

/// Whether to look again.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Look {
    /// Do what comes first now, then ask again at the time.
    AfterThat {
        /// When to look.
        at: Moment,
    },
    /// Before sleeping.
    BeforeSleep {
        /// When to look.
        at: Moment,
    },
    /// Once in the night.
    InTheNight {
        /// When to look.
        at: Moment,
    },
    /// The alarm is enough.
    AlarmIsEnough,
    /// Nothing can be said: check with a meter.
    Check,
}

/// The wearer's next morning after a moment, by the clock of that moment.
#[must_use]
pub fn next_morning(wearer: &Wearer, now: Moment) -> Moment {
    next_time(wearer.morning_minute(), now)
}

/// The next moment at which the clock of a moment shows a minute of the day: a day later where it shows it now.
#[must_use]
pub fn next_time(minute: u16, now: Moment) -> Moment {
    let ahead = f64::from(minute) - f64::from(now.minute_of_day());
    let ahead = if ahead > 0.0 { ahead } else { ahead + LONGEST_MINUTES };
    // To the full minute.
    let past = now.unix_ms().rem_euclid(60_000);
    now.plus_minutes(ahead).plus_ms(-past)
}

/// What is known before sleep, until a given time or the wearer's morning.
///
/// # Errors
/// [`crate::Error::OutOfRange`] where the time is past or more than a day ahead.
pub fn sleep(facts: &Facts<'_>, until: Option<Moment>, nights: Option<&Nights>) -> Result<BeforeSleep> {
    let now = facts.now();
    let until = until.unwrap_or_else(|| next_morning(facts.wearer, now));
    let minutes = check_length(Quantity::TimeUntilTheMorning, until.minutes_since(now))?;
    let first = facts.first_before_sleep();
    let insulin = facts.insulin_reaches_low(LONGEST_MINUTES);
    let holds_for_insulin = first.is_some_and(|first| first.sentence == Sentence::HoldInsulinToCome);
    let missing = facts.missing(minutes).or_else(|| match first {
        Some(_) if !holds_for_insulin => Some(Missing::NowFirst),
        _ => insulin.then_some(Missing::InsulinToCome),
    });
    let own = own_lows(nights, now, minutes);
    let everybody = facts.ahead.filter(|_| missing.is_none()).and_then(|ahead| ahead.by(minutes));
    let chance = everybody.map(|everybody| night_chance(everybody, nights, minutes));
    let alarm = chance.filter(|chance| chance.own.p_low >= ALARM_LIKELY).and_then(|_| {
        if let Some(own) = own.filter(|own| own.times_a_look(facts)) {
            return Some(AlarmWindow { from: own.from, to: own.to });
        }
        // What the record shows of other nights is no time for a low that alcohol brings.
        let ahead = facts.ahead.filter(|_| !drunk(facts))?;
        let at = |share| ahead.when(minutes, share).map(|minutes| now.plus_minutes(minutes));
        Some(AlarmWindow { from: at(MIDDLE_HALF.0)?, to: at(MIDDLE_HALF.1)? })
    });
    Ok(BeforeSleep {
        at: now,
        until,
        first,
        chance,
        missing,
        alarm,
        rings_at_mg_dl: Plan::of(facts.wearer).night.low.mg_dl(),
        likelier: likelier(facts, own),
        look: look(facts, chance, minutes, missing, own),
    })
}

fn night_chance(everybody: Chance, nights: Option<&Nights>, minutes: f64) -> NightChance {
    let nights = nights.copied().unwrap_or_default();
    let p_low = nights.low.correct(everybody.p_low);
    NightChance {
        own: Chance { p_low, p_floor: nights.floor.correct(everybody.p_floor).min(p_low) },
        everybody,
        corrected_low: nights.low.is_used(),
        corrected_floor: nights.floor.is_used(),
        nights: nights.nights,
        nights_with_low: nights.with_low,
        nights_with_floor: nights.with_floor,
        beyond_fit: minutes > f64::from(LONG_MINUTES[2]),
    }
}

/// The hour of the night to come in which own lows begin.
#[derive(Clone, Copy)]
struct OwnLows {
    begins: LowsBegin,
    from: Moment,
    to: Moment,
}

impl OwnLows {
    fn is_often(&self) -> bool {
        self.begins.share() >= LOOK_FOR_OWN_LOWS
    }

    /// Whether a look goes by it: after alcohol a night is like others only where most others are alike.
    fn times_a_look(&self, facts: &Facts<'_>) -> bool {
        self.is_often() || !drunk(facts)
    }
}

/// The hour in which own lows begin, where it lies ahead and begins in time.
fn own_lows(nights: Option<&Nights>, now: Moment, minutes: f64) -> Option<OwnLows> {
    let begins = nights?.lows_begin?;
    let from = next_time(begins.from_minute, now);
    let to = from.plus_minutes(HOUR_MINUTES.into());
    (from.minutes_since(now) < minutes).then_some(OwnLows { begins, from, to })
}

fn look(
    facts: &Facts<'_>,
    chance: Option<NightChance>,
    minutes: f64,
    missing: Option<Missing>,
    own: Option<OwnLows>,
) -> Look {
    let now = facts.now();
    if facts.first_before_sleep().is_some() {
        return Look::AfterThat { at: now.plus_minutes(facts.prompt.look_again_minutes.unwrap_or(15).into()) };
    }
    let before_sleep = Look::BeforeSleep { at: now.plus_minutes(STAY_UP_MINUTES.min(minutes)) };
    if missing == Some(Missing::InsulinToCome) {
        return before_sleep;
    }
    let (Some(chance), Some(ahead)) = (chance, facts.ahead) else { return Look::Check };
    let soon = ahead.by(f64::from(LONG_MINUTES[0]).min(minutes));
    let acts = insulin_acts_until(facts).is_some();
    let movable = acts || falling(facts).is_some() || near(facts).is_some();
    if dose_ahead(facts) || (movable && soon.is_some_and(|soon| soon.p_low >= STAY_UP)) {
        return before_sleep;
    }
    let often = own.is_some_and(|own| own.is_often());
    if ill(facts).is_some() {
        return Look::InTheNight { at: now.plus_minutes(ILL_LOOK_MINUTES.min(minutes)) };
    }
    let watchful = !facts.wearer.feels_lows || facts.wearer.is_alone;
    // A low that was severe, and movement or a low of the day where nobody would notice the next, are reasons by themselves.
    let lowered = moved(facts) > 0.0 || was_low(facts).is_some();
    let by_itself = often || drunk(facts) || facts.had_severe_signs() || watchful && lowered;
    let share = if watchful { WATCHFUL } else { 1.0 };
    let likely = chance.own.p_low >= share * LOOK_IN_THE_NIGHT || chance.own.p_floor >= share * LOOK_FOR_FLOOR;
    if by_itself || likely {
        return Look::InTheNight { at: look_in_the_night(facts, ahead, minutes, own, likely) };
    }
    Look::AlarmIsEnough
}

/// When in the night to look: shortly before own lows begin, where they go by; else late after alcohol, and not before insulin is
/// over; else as the chance has it, or halfway where that is no reason to look.
fn look_in_the_night(
    facts: &Facts<'_>,
    ahead: &ChanceAhead,
    minutes: f64,
    own: Option<OwnLows>,
    likely: bool,
) -> Moment {
    let now = facts.now();
    if let Some(own) = own.filter(|own| own.times_a_look(facts)) {
        let before = own.from.plus_minutes(-BEFORE_OWN_LOWS_MINUTES);
        return if before.is_after(now) { before } else { own.from };
    }
    let insulin = insulin_acts_until(facts)
        .map(|until| until.minutes_since(now))
        .filter(|over| (NOT_YET_ASLEEP_MINUTES..minutes).contains(over));
    let at = match (drunk(facts), insulin) {
        (true, insulin) => insulin.unwrap_or(0.0).max(LATE_IN_THE_NIGHT * minutes),
        (false, Some(insulin)) => insulin,
        (false, None) => likely.then(|| ahead.when(minutes, MIDDLE_HALF.0)).flatten().unwrap_or(minutes / 2.0),
    };
    now.plus_minutes(at)
}

/// Whether so much alcohol counts that it is looked after in the night.
fn drunk(facts: &Facts<'_>) -> bool {
    Alcohol::at(facts.history, facts.now(), 0.0).is_some_and(|one| one.drinks >= LOOK_FOR_DRINKS)
}

fn near(facts: &Facts<'_>) -> Option<f64> {
    let line = facts.wearer.low_line.mg_dl() + NEAR_MG_DL;
    facts.measured().map(|one| facts.goes_by(&one)).filter(|mg_dl| *mg_dl < line)
}

fn falling(facts: &Facts<'_>) -> Option<f64> {
    facts.rate_mg_dl_min().filter(|rate| *rate <= FALLING_SAID)
}

/// Whether a dose with most of its action ahead meets glucose that has little room for it.
fn dose_ahead(facts: &Facts<'_>) -> bool {
    let (minutes, mg_dl) = DOSE_AHEAD;
    let lately = newest_rapid(facts).is_some_and(|at| facts.now().minutes_since(at) < minutes);
    lately && facts.measured().is_some_and(|one| facts.goes_by(&one) < facts.wearer.low_line.mg_dl() + mg_dl)
}

fn insulin_acts_until(facts: &Facts<'_>) -> Option<Moment> {
    newest_rapid(facts).map(|at| at.plus_minutes(INSULIN_ACTS_MINUTES))
}

/// When the newest dose of rapid insulin that still acts was taken.
fn newest_rapid(facts: &Facts<'_>) -> Option<Moment> {
    let acts = |one: &&Dose| {
        one.kind == InsulinKind::Rapid && (0.0..INSULIN_ACTS_MINUTES).contains(&facts.now().minutes_since(one.at))
    };
    facts.history.doses.iter().rfind(acts).map(|one| one.at)
}

fn likelier(facts: &Facts<'_>, own: Option<OwnLows>) -> Vec<Likelier> {
    let now = facts.now();
    let moved = moved(facts);
    let mut all = Vec::new();
    all.extend(facts.had_severe_signs().then_some(Likelier::SevereSigns));
    all.extend(near(facts).map(|mg_dl| Likelier::NearLow { mg_dl }));
    all.extend(falling(facts).map(|mg_dl_min| Likelier::Falling { mg_dl_min }));
    all.extend(insulin_acts_until(facts).map(|until| Likelier::InsulinActs { until }));
    all.extend(Alcohol::at(facts.history, now, 0.0).map(|one| Likelier::Alcohol { drinks: one.drinks }));
    all.extend(own.map(|OwnLows { begins: LowsBegin { nights, of_nights, .. }, from, to }| Likelier::OwnLows {
        nights,
        of_nights,
        from,
        to,
    }));
    all.extend((moved > 0.0).then_some(Likelier::Moved { minutes: moved }));
    all.extend(was_low(facts).map(|mg_dl| Likelier::RecentLow { mg_dl }));
    all.extend(ill(facts).map(|vomiting| Likelier::Ill { vomiting }));
    all
}

/// Minutes of movement of the last day that lowers for hours.
fn moved(facts: &Facts<'_>) -> f64 {
    let of_the_day = |one: &&Activity| (0.0..=RECENT_MINUTES).contains(&facts.now().minutes_since(one.at));
    let activities = facts.history.activities.iter().filter(of_the_day);
    activities.filter(|one| lowers_for_hours(one.effort, one.minutes)).map(|one| one.minutes).sum()
}

/// The lowest of the last day, where it was below the low line, in mg/dL.
fn was_low(facts: &Facts<'_>) -> Option<f64> {
    facts.lowest_of_a_day().filter(|lowest| *lowest < facts.wearer.low_line.mg_dl())
}

/// Whether the wearer vomits, where illness was noted.
fn ill(facts: &Facts<'_>) -> Option<bool> {
    SickDay::at(facts.history, facts.now()).ill.map(|ill| ill.vomiting)
}
