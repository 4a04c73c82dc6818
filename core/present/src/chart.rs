//! What a drawing shows, for shells that draw. Of a prompt: the readings of the past two hours, the expected path with its
//! band, the lines, what was noted, and a scale for them. Of a review: the hours of the day. Where each thing lies is decided here, so that every shell
//! draws the same: [`Chart::on`] and [`DayChart::on`] lay a chart out on a sheet as plain marks, names included. A screen of letters goes by minutes and mg/dL.
//!
//! The same chart in words is [`crate::words::Words::chart`], which a screen reader gets.

mod drawing;
mod plot;

pub use drawing::{Drawing, LegendItem, Sheet};

use crate::forecast::Forecast;
use crate::forecast::futures::Futures;
use crate::log::{Entry, EntryKind, History, Reading};
use crate::review::Review;
use crate::review::metrics::Hour;
use crate::time::Moment;
use crate::units::{GlucoseUnit, MG_DL_PER_MMOL_L};
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};
use crate::words::{Label, NINE_IN_TEN_SDS, Words};
use crate::{say, text};

/// Minutes shown before the present.
pub const PAST_MINUTES: f64 = 120.0;
/// Minutes shown after the present.
pub const AHEAD_MINUTES: f64 = 60.0;
/// What a drawing never leaves, in mg/dL: beyond this a band shows nothing more.
const DRAWN_MG_DL: (f64, f64) = (30.0, 400.0);
/// Marks of the scale there are at most.
const MOST_TICKS: usize = 7;
/// The floor and the high line are drawn where something comes this near, in mg/dL; the low line always is.
const NEAR_MG_DL: f64 = 10.0;

/// A sensor reading or a meter check, drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Minutes from the present, negative before it.
    pub minutes: f64,
    /// Where, in mg/dL.
    pub mg_dl: f64,
}

/// A point of the expected path with its band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PathPoint {
    /// Minutes from the present.
    pub minutes: f64,
    /// The expected reading, in mg/dL.
    pub mg_dl: f64,
    /// Nine in ten lie above... or at this, in mg/dL.
    pub p5_mg_dl: f64,
    /// ... and below or at this, in mg/dL.
    pub p95_mg_dl: f64,
}

/// A line across the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Where, in mg/dL.
    pub mg_dl: f64,
    /// The line it is.
    pub which: Label,
    /// Its name and amount, in words.
    pub text: String,
}

/// A mark of a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Where: mg/dL on the upright scale, minutes from the present on the level one.
    pub value: f64,
    /// What to write there.
    pub text: String,
}

/// Something noted in the time shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    /// Minutes from the present, negative before it.
    pub minutes: f64,
    /// The time and what it was, in words.
    pub text: String,
}

/// Everything a drawing needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// The first minute shown, negative.
    pub from_minutes: f64,
    /// The last minute shown.
    pub until_minutes: f64,
    /// The lower end of the upright scale, in mg/dL.
    pub lowest_mg_dl: f64,
    /// The upper end, in mg/dL.
    pub highest_mg_dl: f64,
    /// Sensor readings, by time.
    pub readings: Vec<Point>,
    /// Meter checks, by time.
    pub meters: Vec<Point>,
    /// The expected path from the newest reading on, if nothing is done.
    pub path: Vec<PathPoint>,
    /// The expected path if the first step of carbohydrate is taken now; empty where the two futures do not matter.
    pub treated: Vec<Point>,
    /// The lines that matter here.
    pub lines: Vec<Line>,
    /// The upright scale.
    pub amounts: Vec<Tick>,
    /// The level scale.
    pub times: Vec<Tick>,
    /// What was noted, by time.
    pub noted: Vec<Noted>,
    /// What the marks stand for: sensor reading, meter check, expected path, its band, and the path if treated where it is drawn.
    pub legend: Vec<String>,
    /// The chart in words.
    pub text: String,
}

impl Chart {
    /// Lays out the chart of a moment. `noted` may hold entries of any kind and time; `futures` are given where both are to be shown.
    #[must_use]
    pub fn of(
        now: Moment,
        wearer: &Wearer,
        history: &History,
        noted: &[Entry],
        forecast: Option<&Forecast>,
        futures: Option<&Futures>,
    ) -> Self {
        let words = Words::of(wearer);
        let minutes = |at: Moment| at.minutes_since(now);
        let in_time = |at: Moment| (-PAST_MINUTES..=0.0).contains(&minutes(at));
        // All times of one answer are by one clock, wherever a reading came from.
        let by_now = |one: &Reading| Reading { at: one.at.on_the_clock_of(now), ..*one };
        let shown: Vec<Reading> = history.readings.iter().filter(|one| in_time(one.at)).map(by_now).collect();
        let readings: Vec<Point> =
            shown.iter().map(|one| Point { minutes: minutes(one.at), mg_dl: one.glucose.mg_dl() }).collect();
        let meters: Vec<Point> = history
            .meter_checks
            .iter()
            .filter(|one| in_time(one.at))
            .map(|one| Point { minutes: minutes(one.at), mg_dl: one.glucose.mg_dl() })
            .collect();
        let path = path(readings.last(), forecast);
        let treated = futures.map_or_else(Vec::new, |both| treated(&path, both));

        let amounts = || {
            let past = readings.iter().chain(&meters).map(|one| one.mg_dl);
            past.chain(path.iter().flat_map(|one| [one.p5_mg_dl, one.p95_mg_dl]))
                .chain(treated.iter().map(|one| one.mg_dl))
        };
        let (low, high) = (wearer.low_line.mg_dl(), wearer.high_line.mg_dl());
        let (lowest, highest) = (amounts().fold(low, f64::min), amounts().fold(low, f64::max));
        let mut which = vec![(low, Label::LowLine)];
        if lowest < FLOOR_LINE_MG_DL + NEAR_MG_DL {
            which.push((FLOOR_LINE_MG_DL, Label::FloorLine));
        }
        if highest > high - NEAR_MG_DL {
            which.push((high, Label::HighLine));
        }
        let lines: Vec<Line> = which
            .into_iter()
            .map(|(mg_dl, which)| Line {
                mg_dl,
                which,
                text: format!("{} {}", words.label(which), words.amount(mg_dl)),
            })
            .collect();
        let ends = amounts().chain(lines.iter().map(|line| line.mg_dl));
        let amounts = scale(ends.fold((low, low), |(least, most), one| (least.min(one), most.max(one))), words);
        let end = |tick: Option<&Tick>| tick.map_or(low, |tick| tick.value);

        let noted = noted
            .iter()
            .filter(|entry| is_noted(&entry.what))
            .filter(|entry| in_time(entry.at))
            .map(|entry| Noted {
                minutes: minutes(entry.at),
                text: format!("{} {}", entry.at.on_the_clock_of(now).clock(), words.what(&entry.what)),
            })
            .collect();
        let both = !treated.is_empty();
        let expected = if both { Label::IfWaiting } else { Label::Expected };
        let legend = [Label::Reading, Label::MeterCheck, expected, Label::NineInTen];
        let legend = legend.into_iter().chain(both.then_some(Label::IfTreating));
        Self {
            from_minutes: -PAST_MINUTES,
            until_minutes: AHEAD_MINUTES,
            lowest_mg_dl: end(amounts.first()),
            highest_mg_dl: end(amounts.last()),
            lines,
            amounts,
            times: times(now, words),
            noted,
            legend: legend.map(|label| words.label(label)).collect(),
            text: words.chart(&shown, forecast, treated.last().map(|one| one.mg_dl)),
            readings,
            meters,
            path,
            treated,
        }
    }
}

/// One hour of the clock, drawn as a post: eight readings in ten, its thick part the middle half, a notch at the median.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourPercentiles {
    /// Hours from midnight to the hour's middle.
    pub hours: f64,
    /// The post's lower end, in mg/dL.
    pub p10_mg_dl: f64,
    /// The lower end of the middle half, in mg/dL.
    pub p25_mg_dl: f64,
    /// The median, in mg/dL.
    pub p50_mg_dl: f64,
    /// The upper end of the middle half, in mg/dL.
    pub p75_mg_dl: f64,
    /// The post's upper end, in mg/dL.
    pub p90_mg_dl: f64,
}

/// Everything a drawing of the daily profile needs: 24 hours of the wearer's clock from midnight.
#[derive(Clone, Debug, PartialEq)]
pub struct DayChart {
    /// The lower end of the upright scale, in mg/dL.
    pub lowest_mg_dl: f64,
    /// The upper end, in mg/dL.
    pub highest_mg_dl: f64,
    /// The hours that have enough readings, by time.
    pub posts: Vec<HourPercentiles>,
    /// The floor and the wearer's own lines.
    pub lines: Vec<Line>,
    /// The upright scale.
    pub amounts: Vec<Tick>,
    /// The level scale: hours from midnight.
    pub times: Vec<Tick>,
    /// What the posts stand for.
    pub legend: String,
    /// The chart in words.
    pub text: String,
}

impl DayChart {
    /// Lays out the profile of a review; nothing where no hour has enough readings.
    #[must_use]
    pub fn of(review: &Review, wearer: &Wearer, words: Words) -> Option<Self> {
        let held = |mg_dl: f64| mg_dl.clamp(DRAWN_MG_DL.0, DRAWN_MG_DL.1);
        let post = |hour: &Hour| {
            let [least, lower, middle, upper, most] = hour.mg_dl.map(held);
            HourPercentiles {
                hours: f64::from(hour.hour) + 0.5,
                p10_mg_dl: least,
                p25_mg_dl: lower,
                p50_mg_dl: middle,
                p75_mg_dl: upper,
                p90_mg_dl: most,
            }
        };
        let hours: Vec<&Hour> = review.profile.iter().flatten().collect();
        let middle = |a: &&&Hour, b: &&&Hour| a.median_mg_dl().total_cmp(&b.median_mg_dl());
        let (lowest, highest) = (hours.iter().min_by(middle)?, hours.iter().max_by(middle)?);
        let at = |hour: &Hour| (format!("{:02}:00", hour.hour), words.amount(hour.median_mg_dl()));
        let ((low_at, low), (high_at, high)) = (at(lowest), at(highest));
        let count = hours.len();
        let text = say!(words, "chart-glucose-by-hour-your-clock", hours = count, low_at, low, high_at, high);
        let posts: Vec<HourPercentiles> = hours.into_iter().map(post).collect();
        let own = [
            (FLOOR_LINE_MG_DL, Label::FloorLine),
            (wearer.low_line.mg_dl(), Label::LowLine),
            (wearer.high_line.mg_dl(), Label::HighLine),
        ];
        let lines = own.map(|(mg_dl, which)| Line {
            mg_dl,
            which,
            text: format!("{} {}", words.label(which), words.amount(mg_dl)),
        });
        let ends =
            posts.iter().flat_map(|post| [post.p10_mg_dl, post.p90_mg_dl]).chain(lines.iter().map(|one| one.mg_dl));
        let (least, most) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), one| (a.min(one), b.max(one)));
        let amounts = scale((least, most), words);
        Some(Self {
            lowest_mg_dl: amounts.first().map_or(least, |tick| tick.value),
            highest_mg_dl: amounts.last().map_or(most, |tick| tick.value),
            posts,
            lines: lines.to_vec(),
            amounts,
            times: [0, 6, 12, 18, 24]
                .map(|hour| Tick { value: f64::from(hour), text: format!("{hour:02}:00") })
                .to_vec(),
            legend: text!(words, "chart-each-post-holds-eight-readings").to_owned(),
            text,
        })
    }
}

/// Whether a chart notes such an entry: what bears on glucose or on the sensor, readings aside.
#[must_use]
const fn is_noted(what: &EntryKind) -> bool {
    !matches!(
        what,
        EntryKind::SensorReading { .. }
            | EntryKind::SensorBeyond { .. }
            | EntryKind::Supply(_)
            | EntryKind::Prompted(_)
            | EntryKind::Import { .. }
            | EntryKind::Retraction
    )
}

/// The path from the newest reading on, held inside what is drawn.
fn path(newest: Option<&Point>, forecast: Option<&Forecast>) -> Vec<PathPoint> {
    let held = |mg_dl: f64| mg_dl.clamp(DRAWN_MG_DL.0, DRAWN_MG_DL.1);
    let Some(forecast) = forecast else { return Vec::new() };
    let start = newest.map(|one| PathPoint {
        minutes: one.minutes,
        mg_dl: held(one.mg_dl),
        p5_mg_dl: held(one.mg_dl),
        p95_mg_dl: held(one.mg_dl),
    });
    let ahead = forecast.corrected().filter(|one| f64::from(one.minutes) <= AHEAD_MINUTES).map(|one| {
        let reach = NINE_IN_TEN_SDS * one.reading_sd_mg_dl;
        PathPoint {
            minutes: f64::from(one.minutes),
            mg_dl: held(one.reading_mg_dl),
            p5_mg_dl: held(one.reading_mg_dl - reach),
            p95_mg_dl: held(one.reading_mg_dl + reach),
        }
    });
    start.into_iter().chain(ahead).collect()
}

/// The same path as far up as the step of carbohydrate takes it.
fn treated(path: &[PathPoint], futures: &Futures) -> Vec<Point> {
    let raised = |one: &PathPoint| Point {
        minutes: one.minutes,
        mg_dl: (one.mg_dl + futures.raises_reading_mg_dl(one.minutes)).min(DRAWN_MG_DL.1),
    };
    path.iter().map(raised).collect()
}

/// Round amounts of the wearer's unit that reach over both ends.
fn scale((least, most): (f64, f64), words: Words) -> Vec<Tick> {
    let (mg_dl_per_unit, steps): (f64, &[f64]) = match words.unit() {
        GlucoseUnit::MgDl => (1.0, &[10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0]),
        GlucoseUnit::MmolL => (MG_DL_PER_MMOL_L, &[0.5, 1.0, 2.0, 3.0, 5.0]),
    };
    let (least, most) = (least / mg_dl_per_unit, most / mg_dl_per_unit);
    let first = |step: f64| (least / step).floor();
    // A chart of one level still has two marks.
    let last = |step: f64| (most / step).ceil().max(first(step) + 1.0);
    let fits = |step: &f64| last(*step) - first(*step) < MOST_TICKS as f64;
    let step = steps.iter().copied().find(fits).unwrap_or(10.0 * steps[0]);
    std::iter::successors(Some(first(step)), |mark| Some(mark + 1.0))
        .take_while(|mark| *mark <= last(step))
        .map(|mark| {
            let value = mark * step * mg_dl_per_unit;
            Tick { value, text: words.bare_amount(value) }
        })
        .collect()
}

/// Every half hour back by the wearer's clock, and the half hours ahead.
fn times(now: Moment, words: Words) -> Vec<Tick> {
    let back = [120.0, 90.0, 60.0, 30.0].map(|m| Tick { value: -m, text: now.plus_minutes(-m).clock() });
    let ahead = [30.0, 60.0].map(|m| Tick { value: m, text: now.plus_minutes(m).clock() });
    back.into_iter().chain([Tick { value: 0.0, text: words.label(Label::Now) }]).chain(ahead).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Glucose;
    use crate::wearer::Language;

    fn history(amounts: &[f64]) -> (Moment, History) {
        let now = Moment::parse("2026-03-01T12:00:00+01:00").unwrap();
        let mut history = History::default();
        for (back, mg_dl) in (0..).zip(amounts.iter().rev()) {
            let at = now.plus_minutes(-5.0 * f64::from(back));
            history.readings.push(Reading::new(at, Glucose::from_mg_dl(*mg_dl).unwrap()));
        }
        history.settle_readings();
        (now, history)
    }

    #[test]
    fn everything_drawn_lies_inside_the_scale() {
        for amounts in [&[100.0; 40][..], &[20.0, 600.0], &[], &[54.0], &[399.0, 400.0, 401.0]] {
            for unit in [GlucoseUnit::MgDl, GlucoseUnit::MmolL] {
                let (now, history) = history(amounts);
                let wearer = Wearer { unit, language: Language::GERMAN, ..Wearer::default() };
                let chart = Chart::of(now, &wearer, &history, &[], None, None);
                let inside = chart.lowest_mg_dl - 1e-9..=chart.highest_mg_dl + 1e-9;
                assert!(chart.readings.iter().all(|one| inside.contains(&one.mg_dl)), "{amounts:?}");
                assert!(chart.lines.iter().all(|one| inside.contains(&one.mg_dl)), "{amounts:?}");
                assert!((2..=8).contains(&chart.amounts.len()), "{amounts:?}: {:?}", chart.amounts);
                assert!(chart.readings.iter().all(|one| (-120.0..=0.0).contains(&one.minutes)));
                assert!(!chart.text.is_empty());
            }
        }
    }

    #[test]
    fn all_times_are_by_the_clock_of_who_asks() {
        let (now, history) = history(&[110.0, 100.0, 90.0]);
        let abroad = now.on_the_clock_of(Moment::parse("2026-03-01T05:00:00-06:00").unwrap());
        let text = Chart::of(abroad, &Wearer::default(), &history, &[], None, None).text;
        assert!(text.contains("the newest at 05:00; lowest 90 at 05:00, highest 110 at 04:50"), "{text}");
    }
}
