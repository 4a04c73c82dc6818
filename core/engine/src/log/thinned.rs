//! Readings that come faster than a sensor makes them.
//!
//! Sensors read every 1 to 5 minutes. A file may hold one for each second: most of them repeat the one before, so they say no more
//! about glucose, and a filter takes each for a measurement of its own with an error of its own.

use crate::log::{Beyond, Reading};

/// Readings at least this far apart are all used, in milliseconds: a minute, less what a sensor's clock may be off by.
pub const APART_MS: i64 = 45_000;

/// The readings an estimate is made of, of readings sorted by time: counted back from the newest, which is always among them, those at
/// least 45 seconds apart. Amounts, readings too low and readings too high to measure are each counted by themselves, so that one of
/// them is never left out for another.
pub(crate) fn thinned(readings: &[Reading]) -> Vec<Reading> {
    let mut next = [i64::MAX; 3];
    let mut kept: Vec<Reading> = Vec::new();
    for reading in readings.iter().rev() {
        let next = match reading.beyond {
            None => &mut next[0],
            Some(Beyond::Below) => &mut next[1],
            Some(Beyond::Above) => &mut next[2],
        };
        if next.saturating_sub(reading.at.unix_ms()) >= APART_MS {
            *next = reading.at.unix_ms();
            kept.push(*reading);
        }
    }
    kept.reverse();
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Shown;
    use crate::time::Moment;
    use crate::units::Glucose;

    fn every(seconds: i32, count: i32) -> Vec<Reading> {
        let start = Moment::parse("2026-03-01T00:00:00Z").unwrap();
        let reading = |k: i32| {
            let mg_dl = 120.0 + f64::from(k % 7);
            Reading::new(start.plus_ms(i64::from(k * seconds) * 1000), Glucose::from_mg_dl(mg_dl).unwrap())
        };
        (0..count).map(reading).collect()
    }

    #[test]
    fn what_a_sensor_sends_is_left_as_it_is() {
        for seconds in [45, 60, 300, 900] {
            let all = every(seconds, 300);
            assert_eq!(thinned(&all), all, "every {seconds} s");
        }
        // A minute's readings, each up to 7 s early or late.
        let jitter = |k: usize| i64::from(u32::try_from(k * 37 % 15).unwrap()) - 7;
        let mut all = every(60, 300);
        for (k, one) in all.iter_mut().enumerate() {
            one.at = one.at.plus_ms(1000 * jitter(k));
        }
        assert_eq!(thinned(&all), all);
        assert!(thinned(&[]).is_empty());
    }

    #[test]
    fn closer_readings_are_left_out_but_never_the_newest() {
        for seconds in [1, 5, 20, 44] {
            for count in [1, 2, 3600, 3601, 3644] {
                let all = every(seconds, count);
                let kept = thinned(&all);
                assert_eq!(kept.last(), all.last());
                let apart = kept.windows(2).map(|pair| pair[1].at.unix_ms() - pair[0].at.unix_ms());
                assert!(apart.clone().all(|ms| (APART_MS..2 * APART_MS).contains(&ms)), "every {seconds} s");
            }
        }
    }

    #[test]
    fn readings_beyond_what_is_measured_are_kept_among_amounts() {
        let mut all = every(1, 600);
        for (k, beyond) in [(100, Beyond::Below), (330, Beyond::Above), (331, Beyond::Below)] {
            all[k] = Reading::of(all[k].at, Shown { beyond: Some(beyond), ..all[k].shown() });
        }
        let kept = thinned(&all);
        for k in [100, 330, 331] {
            assert!(kept.contains(&all[k]), "{k}");
        }
        assert!(kept.len() <= 600 / 45 + 1 + 3, "{} kept", kept.len());
        // A sensor that shows nothing else for an hour is thinned too.
        for one in &mut all {
            *one = Reading::of(one.at, Shown { beyond: Some(Beyond::Below), ..one.shown() });
        }
        assert!(thinned(&all).len() <= 600 / 45 + 1);
    }
}
