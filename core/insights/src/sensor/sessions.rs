//! Each sensor's wear, and the sites' rest.

use serde::Serialize;

use super::faults::Noted;
use crate::log::{History, SensorEvent, Source, Text};
use crate::prompt::FIRST_DAY_HOURS;
use crate::time::Moment;

/// One sensor's wear, as logged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Session {
    /// When it was put in.
    pub from: Moment,
    /// When its warm-up was over.
    pub warmed_up: Option<Moment>,
    /// When it was taken off or expired; the next one's insertion where neither is logged. Nothing while worn.
    pub until: Option<Moment>,
    /// Whether its end is logged itself.
    pub end_noted: bool,
    /// Where on the body, in the wearer's own words.
    pub site: Option<Text>,
    /// Its name, where the wearer names more than one: the source of its readings.
    pub sensor: Option<Source>,
    /// The lot, as on the package.
    pub lot: Option<Text>,
    /// How many days it is rated for, as noted with its insertion.
    pub rated_days: Option<u16>,
    /// What was noted to be wrong, and when.
    pub faults: Vec<(Moment, Noted)>,
}

/// Where a session stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Put in, and not yet said to be warmed up.
    WarmUp,
    /// In its first day: unreliable, check with a meter more often (common practice, no source).
    FirstDay,
    /// In use.
    Worn,
    /// Worn past its rated length: unreliable, check with a meter more often.
    Overdue,
    /// Ended.
    Over,
}

impl Session {
    /// How long it has been or was worn, in days.
    #[must_use]
    pub fn days(&self, now: Moment) -> f64 {
        self.until.unwrap_or(now).minutes_since(self.from) / 1440.0
    }

    /// How many days it is rated for: as noted with its insertion, else what the wearer's sensors are rated for.
    #[must_use]
    pub fn rated(&self, usual_days: Option<f64>) -> Option<f64> {
        self.rated_days.map(f64::from).or(usual_days)
    }

    /// Where it stands, given the length the wearer's sensors are rated for in days, if known.
    #[must_use]
    pub fn stage(&self, rated_days: Option<f64>, now: Moment) -> Stage {
        let days = self.days(now);
        if self.until.is_some() {
            Stage::Over
        } else if self.rated(rated_days).is_some_and(|rated| days > rated) {
            Stage::Overdue
        } else if days * 24.0 >= FIRST_DAY_HOURS {
            Stage::Worn
        } else if self.warmed_up.is_none() && days * 24.0 < LONGEST_WARM_UP_HOURS {
            Stage::WarmUp
        } else {
            Stage::FirstDay
        }
    }

    /// Whether it failed: something was noted, or it ended over a day before the length it is rated for.
    #[must_use]
    pub fn failed(&self, rated_days: Option<f64>) -> bool {
        let early = |rated: f64| self.until.is_some_and(|until| self.days(until) < rated - 1.0);
        !self.faults.is_empty() || self.rated(rated_days).is_some_and(early)
    }
}

/// A warm-up whose end was not noted counts as over after this, in hours.
pub(crate) const LONGEST_WARM_UP_HOURS: f64 = 2.0;

/// The sessions of a history up to `now`, oldest first.
///
/// An insertion ends the session before it, unless both name their sensor, differently, and the one before goes on being
/// read: then two are worn at once. What names no sensor is about the one put in last.
#[must_use]
pub fn sessions(history: &History, now: Moment) -> Vec<Session> {
    let mut all: Vec<Session> = Vec::new();
    for note in history.sensor.iter().filter(|note| note.at <= now) {
        if let SensorEvent::Inserted { site, lot, rated_days } = &note.event {
            for open in all.iter_mut().filter(|one| one.until.is_none()) {
                let both = open.sensor.as_ref().zip(note.sensor.as_ref());
                if !both.is_some_and(|(one, other)| one != other && read_after(history, one, note.at)) {
                    open.until = Some(note.at);
                }
            }
            all.push(Session {
                from: note.at,
                warmed_up: None,
                until: None,
                end_noted: false,
                site: site.clone(),
                sensor: note.sensor.clone(),
                lot: lot.clone(),
                rated_days: *rated_days,
                faults: Vec::new(),
            });
            continue;
        }
        let named = note.sensor.as_ref().and_then(|name| all.iter().rposition(|one| one.sensor.as_ref() == Some(name)));
        let place = named.unwrap_or(all.len().saturating_sub(1));
        let Some(last) = all.get_mut(place) else { continue };
        match &note.event {
            SensorEvent::WarmUpOver if last.until.is_none() => last.warmed_up = Some(note.at),
            SensorEvent::Ended if last.until.is_none() => (last.until, last.end_noted) = (Some(note.at), true),
            // What was wrong is often noted after the sensor has come off.
            SensorEvent::Fault { seen } => last.faults.push((note.at, Noted::Seen { text: seen.clone() })),
            SensorEvent::DeviceFault { code } => last.faults.push((note.at, Noted::Reported { fault: *code })),
            SensorEvent::Inserted { .. } | SensorEvent::WarmUpOver | SensorEvent::Ended | SensorEvent::RolledOff => {}
        }
    }
    all
}

/// Whether a sensor goes on being read for over half an hour after a moment.
fn read_after(history: &History, sensor: &Source, at: Moment) -> bool {
    let later = at.plus_minutes(30.0);
    let beside = history.concurrent.iter().filter(|one| one.source == *sensor);
    let beside = beside.filter_map(|one| one.readings.last()).any(|last| last.at > later);
    let until = |place: usize| history.followed.get(place + 1).map(|next| next.from);
    let followed = history.followed.iter().enumerate().filter(|(_, one)| one.source == *sensor);
    beside
        || followed.into_iter().any(|(place, _)| match until(place) {
            Some(until) => until > later,
            None => history.readings.last().is_some_and(|last| last.at > later),
        })
}

/// A site rests at least this long before it is used again, in days: about a week (common practice, no source).
pub const REST_DAYS: f64 = 7.0;

/// The site to use next, of those used so far: the longest rested, if it has rested [`REST_DAYS`]; of two as rested within a
/// day the one with fewer failures.
#[must_use]
pub fn next_site(sites: &[Site]) -> Option<&Site> {
    let longest = sites.iter().filter_map(|site| site.rested_days).max_by(f64::total_cmp)?;
    let as_rested = |site: &&Site| site.rested_days.is_some_and(|days| days >= REST_DAYS && days > longest - 1.0);
    sites.iter().filter(as_rested).min_by_key(|site| site.failures)
}

/// How a site was used.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Site {
    /// The wearer's own name for it, as written last.
    pub name: Text,
    /// How many sensors it bore.
    pub uses: usize,
    /// How many of them failed.
    pub failures: usize,
    /// How long it has rested, in days; nothing while a sensor is on it.
    pub rested_days: Option<f64>,
}

/// The sites used so far, the longest rested first. Names that differ only in case and spaces are one site.
#[must_use]
pub fn sites(sessions: &[Session], rated_days: Option<f64>, now: Moment) -> Vec<Site> {
    let plain = |name: &Text| name.as_str().split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let mut sites: Vec<Site> = Vec::new();
    for session in sessions {
        let Some(name) = &session.site else { continue };
        let rested_days = session.until.map(|until| now.minutes_since(until) / 1440.0);
        let failures = usize::from(session.failed(rated_days));
        match sites.iter_mut().find(|site| plain(&site.name) == plain(name)) {
            Some(site) => {
                site.name.clone_from(name);
                site.uses += 1;
                site.failures += failures;
                site.rested_days = rested_days;
            }
            None => sites.push(Site { name: name.clone(), uses: 1, failures, rested_days }),
        }
    }
    let rest = |site: &Site| site.rested_days.unwrap_or(f64::NEG_INFINITY);
    sites.sort_by(|a, b| rest(b).total_cmp(&rest(a)));
    sites
}
