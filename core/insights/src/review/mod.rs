//! The record reviewed: figures, the daily profile, episodes.
//!
//! [`Review::of`] looks at one period of a log. It judges nobody and gives no advice on insulin; what to make of it is for
//! the wearer and their care team.

pub mod logged;
pub mod metrics;
pub mod patterns;

use serde::Serialize;

use crate::error::{Error, Quantity, Result, Why};
use crate::log::{CompressionLow, History, Source};
use crate::time::{DAY_MS, DayHours, MINUTE_MS, Moment};
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};
use metrics::{
    Before, BloodGlucoseIndices, Episode, GlycemiaRisk, Group, Held, Hour, Lines, Measured, Need, Shares, Side, Spread,
    Sufficiency, TooLittle, episodes, held, measured, profile, swings, total_minutes,
};

/// A stretch of time, from its first instant up to but without its last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Period {
    from: Moment,
    until: Moment,
}

impl Period {
    /// From one moment up to another.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it has no length.
    pub fn new(from: Moment, until: Moment) -> Result<Self> {
        if from.is_before(until) {
            return Ok(Self { from, until });
        }
        Err(Error::Invalid { what: Quantity::Period, why: Why::NotAfter { until, from } })
    }

    /// The days of 24 hours before a moment.
    ///
    /// # Errors
    /// [`Error::Invalid`] for no days.
    pub fn days_before(until: Moment, days: u16) -> Result<Self> {
        Self::new(until.plus_ms(-i64::from(days) * DAY_MS), until)
    }

    /// The same days by the wearer's clock, as the readings of a history show it: where the clock was put on or back by an hour within
    /// them they begin at the same time of day as they end. Where it was changed by more, as on a journey, the first instant stays and
    /// shows the clock of then.
    #[must_use]
    pub fn by_the_clock(self, history: &History) -> Self {
        let first = history.readings.partition_point(|one| one.at.is_before(self.from));
        let Some(then) = history.readings.get(first).map(|one| one.at).filter(|at| at.is_before(self.until)) else {
            return self;
        };
        let change_minutes = self.from.offset_minutes() - then.offset_minutes();
        let shift_ms = if change_minutes.abs() <= 60 { i64::from(change_minutes) * MINUTE_MS } else { 0 };
        let from = Moment::new(self.from.unix_ms() + shift_ms, then.offset_minutes()).unwrap_or(self.from);
        if from.is_before(self.until) { Self { from, ..self } } else { self }
    }

    /// Its first instant.
    #[must_use]
    pub const fn from(self) -> Moment {
        self.from
    }

    /// The instant it no longer holds.
    #[must_use]
    pub const fn until(self) -> Moment {
        self.until
    }

    /// Its length in days of 24 hours.
    #[must_use]
    pub fn days(self) -> f64 {
        self.until.minutes_since(self.from) / 1440.0
    }
}

/// How to review.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ReviewOptions {
    /// Whose aims to hold the time in range against.
    pub group: Group,
    /// Leave out the spells in which the sensor was pressed.
    pub without_compression_lows: bool,
}

/// An episode and what the log holds before it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lasting {
    /// The episode.
    pub episode: Episode,
    /// What came before.
    pub before: Before,
    /// Whether it began in the wearer's night.
    pub at_night: bool,
}

/// Everything a review shows about one period.
///
/// # Example
/// ```
/// use ebbstead_log::log::{History, Reading};
/// use ebbstead_insights::review::{ReviewOptions, Period, Review};
/// use ebbstead_engine::time::Moment;
/// use ebbstead_engine::units::Glucose;
/// use ebbstead_engine::wearer::Wearer;
///
/// let until = Moment::parse("2026-03-15T00:00:00+01:00")?;
/// let period = Period::days_before(until, 14)?;
/// let mut history = History::default();
/// for k in 0..14 * 288 {
///     let glucose = Glucose::from_mg_dl(if k % 4 == 0 { 190.0 } else { 120.0 })?;
///     history.readings.push(Reading::new(period.from().plus_minutes(5.0 * f64::from(k)), glucose));
/// }
/// let review = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
/// assert!(review.sufficiency.enough());
/// assert_eq!(review.shares.map(|shares| shares.in_range.round()), Ok(75.0));
/// assert_eq!(review.spread.map(|spread| spread.mean_mg_dl.round()), Ok(138.0));
/// # Ok::<(), ebbstead_log::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Review {
    /// The period.
    pub period: Period,
    /// How it was reviewed.
    pub options: ReviewOptions,
    /// What it stands on.
    pub sufficiency: Sufficiency,
    /// Sensors that were worn beside the one followed, and how many readings of theirs are not used.
    pub concurrent: Vec<(Source, usize)>,
    /// How often the wearer's clock was put on or back between two readings: travel, or summer time.
    pub clock_changes: usize,
    /// The wearer's night.
    pub night: DayHours,
    /// Time in the consensus' ranges for the group.
    #[serde(serialize_with = "measured::one")]
    pub shares: Measured<Shares>,
    /// Time within the wearer's own lines.
    #[serde(serialize_with = "measured::one")]
    pub own_shares: Measured<Shares>,
    /// Mean and spread.
    #[serde(serialize_with = "measured::one")]
    pub spread: Measured<Spread>,
    /// The glucose management indicator, in percent; needs days as the consensus asks.
    #[serde(serialize_with = "measured::one")]
    pub gmi_percent: Measured<f64>,
    /// Low and high blood glucose index.
    #[serde(serialize_with = "measured::one")]
    pub indices: Measured<BloodGlucoseIndices>,
    /// Glycemia risk index.
    #[serde(serialize_with = "measured::one")]
    pub glycemia_risk: Measured<GlycemiaRisk>,
    /// Mean amplitude of glycemic excursions, in mg/dL.
    #[serde(serialize_with = "measured::one")]
    pub mage_mg_dl: Measured<f64>,
    /// Mean of daily differences, in mg/dL.
    #[serde(serialize_with = "measured::one")]
    pub modd_mg_dl: Measured<f64>,
    /// The 24 hours of the wearer's clock.
    #[serde(serialize_with = "measured::each")]
    pub profile: Vec<Measured<Hour>>,
    /// Episodes below the low line of the consensus.
    pub lows: Vec<Lasting>,
    /// Episodes below the floor.
    pub serious_lows: Vec<Lasting>,
    /// Episodes above the high line of the consensus.
    pub highs: Vec<Lasting>,
    /// Episodes above the very high line.
    pub very_highs: Vec<Lasting>,
}

impl Review {
    /// Reviews the days up to a moment, and as many before them, by the wearer's clock. The history must reach back over all of them and
    /// a day more.
    ///
    /// # Errors
    /// [`Error::Invalid`] for no days.
    pub fn with_before(
        history: &History,
        wearer: &Wearer,
        (until, days): (Moment, u16),
        options: ReviewOptions,
    ) -> Result<(Self, Self)> {
        let period = Period::days_before(until, days)?.by_the_clock(history);
        let earlier = Period::days_before(period.from(), days)?.by_the_clock(history);
        let of = |period| Self::of(history, wearer, period, options);
        Ok((of(period), of(earlier)))
    }

    /// From when on a history is needed for [`Review::with_before`].
    ///
    /// # Errors
    /// [`Error::Invalid`] for no days.
    pub fn needed_from(until: Moment, days: u16) -> Result<Moment> {
        let earlier = Period::days_before(Period::days_before(until, days)?.from(), days)?;
        Ok(earlier.from().plus_ms(-DAY_MS))
    }

    /// Reviews a period of a history.
    #[must_use]
    pub fn of(history: &History, wearer: &Wearer, period: Period, options: ReviewOptions) -> Self {
        let held = used(history, period, options);
        Self::of_held(&held, history, wearer, period, options)
    }

    fn of_held(held: &[Held], history: &History, wearer: &Wearer, period: Period, options: ReviewOptions) -> Self {
        let left_out = if options.without_compression_lows {
            total_minutes(&metrics::held(&history.readings, period, &[])) - total_minutes(held)
        } else {
            0.0
        };
        let sufficiency = Sufficiency::of(held, period, left_out);
        let lines = Lines::of(options.group);
        let nothing = TooLittle::of(Need::HoursOfReadings, sufficiency.covered_hours, metrics::FEWEST_HOURS);
        let shares_in = |lines: Lines| sufficiency.some_hours().and_then(|()| Shares::of(held, lines).ok_or(nothing));
        let spread = sufficiency.some_hours().and_then(|()| Spread::of(held).ok_or(nothing));
        let (mage, covered_days) = swings::mean_mage(held);
        let (modd, modd_minutes) = swings::modd_mg_dl(held);
        let find = |side: Side| -> Vec<Lasting> {
            let with_before = |episode: Episode| Lasting {
                episode,
                before: Before::of(history, episode.from),
                at_night: wearer.night.contains(episode.from),
            };
            episodes(held, side).into_iter().map(with_before).collect()
        };
        Self {
            period,
            options,
            sufficiency,
            concurrent: concurrent(history, period),
            clock_changes: held
                .windows(2)
                .filter(|two| two[0].at.offset_minutes() != two[1].at.offset_minutes())
                .count(),
            night: wearer.night,
            shares: shares_in(lines),
            own_shares: shares_in(Lines::own(wearer)),
            spread,
            gmi_percent: sufficiency.enough_days().and(spread).map(|spread| metrics::gmi_percent(spread.mean_mg_dl)),
            indices: sufficiency.some_hours().and_then(|()| BloodGlucoseIndices::of(held).ok_or(nothing)),
            glycemia_risk: shares_in(Lines::of(Group::Adult)).map(|shares| GlycemiaRisk::of(&shares)),
            mage_mg_dl: mage.ok_or(match covered_days {
                0 => TooLittle::of(Need::CoveredDays, 0.0, 1.0),
                _ => TooLittle::of(Need::Swings, 0.0, 1.0),
            }),
            modd_mg_dl: modd.filter(|_| modd_minutes + 1e-6 >= metrics::FEWEST_HOURS * 60.0).ok_or(TooLittle::of(
                Need::HoursADayApart,
                modd_minutes / 60.0,
                metrics::FEWEST_HOURS,
            )),
            profile: profile(held),
            lows: find(Side::Below(lines.low_mg_dl)),
            serious_lows: find(Side::Below(FLOOR_LINE_MG_DL)),
            highs: find(Side::Above(lines.high_mg_dl)),
            very_highs: find(Side::Above(lines.very_high_mg_dl)),
        }
    }
}

fn concurrent(history: &History, period: Period) -> Vec<(Source, usize)> {
    let inside = |at: Moment| period.from() <= at && at < period.until();
    let counted = history
        .concurrent
        .iter()
        .map(|one| (one.source.clone(), one.readings.iter().filter(|reading| inside(reading.at)).count()));
    counted.filter(|(_, count)| *count > 0).collect()
}

/// The readings a review uses, with the time each stands for.
#[must_use]
pub fn used(history: &History, period: Period, options: ReviewOptions) -> Vec<Held> {
    let left_out: &[CompressionLow] = if options.without_compression_lows { &history.compression_lows } else { &[] };
    held(&history.readings, period, left_out)
}
