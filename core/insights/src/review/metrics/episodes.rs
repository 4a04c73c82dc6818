//! Episodes: lows and highs that last.

use serde::Serialize;

use super::held::{Held, LONGEST_SPACING_MINUTES};
use crate::log::{Beyond, History, InsulinKind, Purpose};
use crate::time::Moment;

/// An episode begins once glucose was beyond the line for this long, and ends once it was back for as long, in minutes.
///
/// # Source
/// Danne T, et al., Diabetes Care 2017;40:1631-1640; Battelino T, et al., Lancet Diabetes Endocrinol 2023;11:42-57 (both
/// from memory).
const LASTING_MINUTES: f64 = 15.0;
/// Three readings five minutes apart are a quarter of an hour, whatever their clock's jitter, in minutes.
pub(crate) const JITTER_MINUTES: f64 = 0.5;

/// Which side of which line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// Below a line, in mg/dL.
    Below(f64),
    /// Above a line, in mg/dL.
    Above(f64),
}

impl Side {
    fn holds(self, one: &Held) -> bool {
        match self {
            Self::Below(line) => one.shown.is_below(line),
            Self::Above(line) => one.shown.is_above(line),
        }
    }

    fn further(self, a: f64, b: f64) -> bool {
        match self {
            Self::Below(_) => a < b,
            Self::Above(_) => a > b,
        }
    }
}

/// One episode.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Episode {
    /// The first reading beyond the line.
    pub from: Moment,
    /// The first reading back; where the readings end or stop first, the end of what they cover.
    pub until: Moment,
    /// Whether the end was seen.
    pub ended: bool,
    /// The furthest reading, in mg/dL.
    pub furthest_mg_dl: f64,
    /// When it was read.
    pub furthest_at: Moment,
    /// Whether that was too low or too high to measure; the amount is then the limit.
    pub furthest_beyond: Option<Beyond>,
}

impl Episode {
    /// How long it lasted, as far as seen, in minutes.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.until.minutes_since(self.from)
    }
}

/// Finds the episodes beyond a line.
///
/// A gap of more than 20 minutes ends an episode unseen, and one that might have begun.
#[must_use]
pub fn episodes(held: &[Held], side: Side) -> Vec<Episode> {
    let lasting = LASTING_MINUTES - JITTER_MINUTES;
    let mut found = Vec::new();
    let mut now: Option<Running> = None;
    let mut covered_until: Option<Moment> = None;
    for one in held {
        if covered_until.is_some_and(|until| one.at.minutes_since(until) > LONGEST_SPACING_MINUTES) {
            found.extend(now.take().and_then(|running| running.cut()));
        }
        covered_until = Some(one.until());
        if side.holds(one) {
            let running = now.get_or_insert_with(|| Running::begin(one));
            running.back = None;
            running.beyond_minutes += one.minutes;
            running.episode.until = one.until();
            running.lasted |= running.beyond_minutes >= lasting;
            let further = side.further(one.mg_dl(), running.episode.furthest_mg_dl);
            let as_far = !side.further(running.episode.furthest_mg_dl, one.mg_dl());
            if further || as_far && one.shown.beyond.is_some() && running.episode.furthest_beyond.is_none() {
                (running.episode.furthest_mg_dl, running.episode.furthest_at) = (one.mg_dl(), one.at);
                running.episode.furthest_beyond = one.shown.beyond;
            }
        } else if let Some(running) = &mut now {
            if !running.lasted {
                now = None;
                continue;
            }
            let (since, minutes) = running.back.get_or_insert((one.at, 0.0));
            *minutes += one.minutes;
            if *minutes >= lasting {
                found.push(Episode { until: *since, ended: true, ..running.episode });
                now = None;
            }
        }
    }
    found.extend(now.and_then(|running| running.cut()));
    found
}

struct Running {
    episode: Episode,
    beyond_minutes: f64,
    lasted: bool,
    back: Option<(Moment, f64)>,
}

impl Running {
    fn begin(one: &Held) -> Self {
        let episode = Episode {
            from: one.at,
            until: one.at,
            ended: false,
            furthest_mg_dl: one.mg_dl(),
            furthest_at: one.at,
            furthest_beyond: one.shown.beyond,
        };
        Self { episode, beyond_minutes: 0.0, lasted: false, back: None }
    }

    fn cut(self) -> Option<Episode> {
        self.lasted.then_some(self.episode)
    }
}

/// What the log holds before an episode: minutes from the latest of each to its first reading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Before {
    /// Rapid insulin.
    pub rapid_insulin: Option<f64>,
    /// A meal.
    pub meal: Option<f64>,
    /// Rescue carbohydrate.
    pub rescue: Option<f64>,
    /// The end of an activity; 0 if it still went on.
    pub activity: Option<f64>,
}

/// How far back what came before is looked for, in minutes: insulin and meals four hours.
pub(crate) const BEFORE_MINUTES: f64 = 240.0;
/// And movement, whose effect lasts longer, in minutes.
const BEFORE_MOVED_MINUTES: f64 = 720.0;

impl Before {
    /// Looks what came before a moment.
    #[must_use]
    pub fn of(history: &History, moment: Moment) -> Self {
        fn latest<T>(all: &[T], moment: Moment, within: f64, is: impl Fn(&T) -> Option<Moment>) -> Option<f64> {
            let ago = all.iter().filter_map(is).map(|at| moment.minutes_since(at));
            ago.filter(|ago| (0.0..=within).contains(ago)).min_by(f64::total_cmp)
        }
        let eaten = |purpose| {
            latest(&history.carbohydrate, moment, BEFORE_MINUTES, |one| (one.purpose == purpose).then_some(one.at))
        };
        Self {
            rapid_insulin: latest(&history.doses, moment, BEFORE_MINUTES, |one| {
                (one.kind == InsulinKind::Rapid).then_some(one.at)
            }),
            meal: eaten(Purpose::Meal),
            rescue: eaten(Purpose::Rescue),
            activity: latest(&history.activities, moment, BEFORE_MOVED_MINUTES, |one| {
                let end = one.at.plus_minutes(one.minutes);
                (one.at <= moment).then(|| if end < moment { end } else { moment })
            }),
        }
    }
}
