//! The chance of a low by any time ahead, as one curve: the forecast of the hour, then the chances over hours.
//!
//! Between the times that chances are given for, the rate at which lows come is taken as constant, and so beyond the last of
//! them, up to half a day (assumption: the fit of the hours ends at six). The curve never falls, so that a longer time is never less likely.

use serde::Serialize;

use crate::forecast::Forecast;
use crate::forecast::long::LongChance;

/// The furthest that a chance is given for, in minutes (assumption).
pub(crate) const FURTHEST_MINUTES: f64 = 720.0;
/// Beyond the last chance given, lows come at the rate between this time and it, in minutes.
const RATE_FROM_MINUTES: f64 = 120.0;
/// A chance is held within this, so that its rate stays finite.
const MOST: f64 = 0.999;

/// The chance of a low and of a very low one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chance {
    /// Below the low line within the hour, below 70 mg/dL beyond it; 0 to 1.
    pub p_low: f64,
    /// Below 54 mg/dL; 0 to 1.
    pub p_floor: f64,
}

/// Chances ahead, from now on.
#[derive(Clone, Debug, PartialEq)]
pub struct ChanceAhead {
    /// Minutes ahead with what has come together of the rates of a low and of a very low one by then.
    points: Vec<(f64, f64, f64)>,
    near_only: bool,
}

impl ChanceAhead {
    /// Chances ahead from the forecast of the hour and, where the record is long enough, those over hours.
    #[must_use]
    pub fn of(forecast: &Forecast, long: Option<&[LongChance]>) -> Self {
        let (low, floor) = (&forecast.low, &forecast.floor);
        let near = [
            (15.0, low.within_15, floor.within_15),
            (30.0, low.within_30, floor.within_30),
            (60.0, low.within_60, floor.within_60),
        ];
        let far = long.unwrap_or_default().iter().map(|one| (f64::from(one.minutes), one.p_low, one.p_floor));
        let mut points = vec![(0.0, 0.0, 0.0)];
        let (mut before_low, mut before_floor) = (0.0_f64, 0.0_f64);
        for (minutes, p_low, p_floor) in near.into_iter().chain(far) {
            before_low = before_low.max(rate_of(p_low));
            // A very low reading is a low one.
            before_floor = before_floor.max(rate_of(p_floor)).min(before_low);
            points.push((minutes, before_low, before_floor));
        }
        Self { points, near_only: long.is_none() }
    }

    /// Whether chances are given for the hour alone.
    #[must_use]
    pub(crate) const fn is_near_only(&self) -> bool {
        self.near_only
    }

    /// The chance by so many minutes from now; nothing further ahead than chances are given for.
    #[must_use]
    pub fn by(&self, minutes: f64) -> Option<Chance> {
        let (low, floor) = self.rates_by(minutes)?;
        Some(Chance { p_low: chance_of(low), p_floor: chance_of(floor).min(chance_of(low)) })
    }

    /// Minutes by which a share of the chance of a low up to `until` has come; nothing where there is no chance to share.
    #[must_use]
    pub fn when(&self, until: f64, share: f64) -> Option<f64> {
        let wanted = share * self.by(until)?.p_low;
        if wanted <= 0.0 {
            return None;
        }
        // The curve rises, so halving finds the time; half a minute is close enough.
        let (mut from, mut to) = (0.0, until);
        while to - from > 0.5 {
            let middle = f64::midpoint(from, to);
            if self.by(middle)?.p_low < wanted { from = middle } else { to = middle }
        }
        Some(to)
    }

    fn rates_by(&self, minutes: f64) -> Option<(f64, f64)> {
        let most = if self.near_only { 60.0 } else { FURTHEST_MINUTES };
        if !(0.0..=most).contains(&minutes) {
            return None;
        }
        let between = |from: &(f64, f64, f64), to: &(f64, f64, f64)| {
            let along = (minutes - from.0) / (to.0 - from.0);
            (from.1 + along * (to.1 - from.1), from.2 + along * (to.2 - from.2))
        };
        if let Some(pair) = self.points.windows(2).find(|pair| minutes <= pair[1].0) {
            return Some(between(&pair[0], &pair[1]));
        }
        let last = self.points.last()?;
        let from = self.points.iter().find(|one| one.0 >= RATE_FROM_MINUTES).filter(|one| one.0 < last.0)?;
        Some(between(from, last))
    }
}

/// What has come together of a rate, from a chance.
fn rate_of(chance: f64) -> f64 {
    -(1.0 - chance.clamp(0.0, MOST)).ln()
}

fn chance_of(rate: f64) -> f64 {
    1.0 - (-rate).exp()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forecast::Crossing;

    fn crossing(line_mg_dl: f64, within: [f64; 3]) -> Crossing {
        let [within_15, within_30, within_60] = within;
        Crossing { line_mg_dl, within_15, within_30, within_60, expected_minutes: None }
    }

    fn forecast(low: [f64; 3], floor: [f64; 3]) -> Forecast {
        Forecast {
            path: Vec::new(),
            shift_mg_dl: 0.0,
            low: crossing(70.0, low),
            floor: crossing(54.0, floor),
            high: crossing(180.0, [0.0; 3]),
            reading_low_30: low[1],
            low_by_point: [0.0; 12],
            floor_by_point: [0.0; 12],
        }
    }

    const LONG: [LongChance; 3] = [
        LongChance { minutes: 120, p_low: 0.1, p_floor: 0.02 },
        LongChance { minutes: 240, p_low: 0.19, p_floor: 0.04 },
        LongChance { minutes: 360, p_low: 0.271, p_floor: 0.06 },
    ];

    #[test]
    fn the_chances_given_are_met_and_go_on_at_their_rate() {
        let ahead = ChanceAhead::of(&forecast([0.0, 0.01, 0.04], [0.0; 3]), Some(&LONG));
        let low = |minutes| ahead.by(minutes).unwrap().p_low;
        assert!(
            (low(60.0) - 0.04).abs() < 1e-9 && (low(120.0) - 0.1).abs() < 1e-9 && (low(360.0) - 0.271).abs() < 1e-9
        );
        // Every two hours a tenth of the rest: by eight hours 1 - 0.9^4.
        assert!((low(480.0) - (1.0 - 0.9_f64.powi(4))).abs() < 1e-6, "{}", low(480.0));
        assert_eq!(ahead.by(721.0), None);
        assert_eq!(ahead.by(-1.0), None);
    }

    #[test]
    fn a_longer_time_is_never_less_likely_and_a_very_low_one_is_a_low_one() {
        let ahead = ChanceAhead::of(&forecast([0.1, 0.3, 0.5], [0.2, 0.2, 0.6]), Some(&LONG));
        let mut before = Chance { p_low: 0.0, p_floor: 0.0 };
        for minutes in 0..=720 {
            let now = ahead.by(f64::from(minutes)).unwrap();
            assert!(now.p_low >= before.p_low && now.p_floor >= before.p_floor && now.p_floor <= now.p_low);
            before = now;
        }
        let (first, half) = (ahead.when(480.0, 0.25).unwrap(), ahead.when(480.0, 0.5).unwrap());
        assert!(first < half && half < 480.0);
    }

    #[test]
    fn without_hours_of_record_the_hour_alone_is_given() {
        let ahead = ChanceAhead::of(&forecast([0.0, 0.01, 0.04], [0.0; 3]), None);
        assert!(ahead.is_near_only() && ahead.by(60.0).is_some() && ahead.by(61.0).is_none());
        assert_eq!(ChanceAhead::of(&forecast([0.0; 3], [0.0; 3]), None).when(60.0, 0.5), None);
    }
}
