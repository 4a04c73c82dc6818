//! The sensor's record in words.

use crate::log::Source;
use crate::review::metrics::Measured;
use crate::sensor::agreement::{Agreement, LIMITS, MeterRange};
use crate::sensor::calibration::{APART_MINUTES, Calibration, NotNow, OFF_LIMIT, PAIRS_HOURS, TAKEN_MINUTES};
use crate::sensor::faults::{Fault, Noted};
use crate::sensor::looked_back::LagFree;
use crate::sensor::sessions::{REST_DAYS, Session, Site, Stage, next_site};
use crate::sentences::review::{length, too_little};
use crate::statistics::{Mean, Share};
use crate::time::Moment;
use crate::words::Words;
use crate::{say, text};

/// A session on one line.
#[must_use]
pub fn session_line(session: &Session, rated_days: Option<f64>, words: Words, now: Moment) -> String {
    let stage = match session.stage(rated_days, now) {
        Stage::WarmUp => text!(words, "sensor-warming-up"),
        Stage::FirstDay => text!(words, "sensor-in-its-first-day-unreliable"),
        Stage::Worn => text!(words, "sensor-worn"),
        Stage::Overdue => text!(words, "sensor-worn-past-its-rated-length"),
        Stage::Over => text!(words, "sensor-ended"),
    };
    let from = words.date_time(session.from);
    let days = words.decimal(session.days(now), 1);
    let mut site = session.site.as_ref().map_or_else(String::new, |site| format!(", {}", site.as_str()));
    if let Some(sensor) = &session.sensor {
        site += &format!(" ({})", sensor.as_str());
    }
    if let Some(lot) = &session.lot {
        site += &format!(", {} {}", text!(words, "sensor-lot"), lot.as_str());
    }
    let faults: Vec<&str> = session.faults.iter().map(|(_, what)| noted(what, words)).collect();
    let faults = if faults.is_empty() { String::new() } else { format!("; {}", faults.join("; ")) };
    say!(words, "sensor-days", from, site, days, stage, faults)
}

/// How many of its rated days a sensor in use has left; nothing for another.
#[must_use]
pub fn days_left_line(session: &Session, rated_days: Option<f64>, words: Words, now: Moment) -> Option<String> {
    let rated = rated_days.filter(|_| !matches!(session.stage(rated_days, now), Stage::Over | Stage::Overdue))?;
    let days = (rated - session.days(now)).max(0.0).floor();
    Some(say!(words, "sensor-days-left", days, rated))
}

/// A site on one line.
#[must_use]
pub fn site_line(site: &Site, words: Words) -> String {
    let name = site.name.as_str();
    let rest = site.rested_days.map_or_else(
        || text!(words, "sensor-in-use").to_owned(),
        |days| {
            let short = if days < REST_DAYS { text!(words, "sensor-let-rest") } else { "" };
            say!(words, "sensor-rested-days", days = days.floor(), short)
        },
    );
    let (uses, failures) = (site.uses, site.failures);
    let sensors = say!(words, "sensor-sensors", uses);
    say!(words, "sensor-failed", name, rest, sensors, failures)
}

/// Which site to use next, and the caution that goes with it.
#[must_use]
pub fn rotation_text(sites: &[Site], words: Words) -> String {
    let next = match next_site(sites) {
        Some(site) => {
            let name = site.name.as_str();
            say!(words, "sensor-longest-rested", name)
        }
        None => say!(words, "sensor-none-has-rested-days-site", rest_days = format!("{REST_DAYS:.0}")),
    };
    let caution = text!(words, "sensor-sites-outside-sensors-labelling-for");
    format!("{next} {caution}")
}

/// Agreement of a sensor that was worn beside the one followed, on one line.
#[must_use]
pub fn concurrent_line(sensor: &Source, measured: &Measured<Agreement>, words: Words) -> String {
    let name = sensor.as_str();
    let agreement = agreement_text(measured, words);
    say!(words, "sensor-worn-beside", name, agreement)
}

fn agreement_text(measured: &Measured<Agreement>, words: Words) -> String {
    match measured {
        Ok(one) => {
            let bias = format!("{} {}", signed(one.bias_mg_dl.value, words), words.unit());
            format!("{} ({}); {}", bias, one.pairs, mard(one, words))
        }
        Err(missing) => too_little(*missing, words),
    }
}

/// Agreement, one line a figure, then by range.
#[must_use]
pub fn agreement_lines(
    agreement: &Agreement,
    by_range: &[(MeterRange, Measured<Agreement>)],
    words: Words,
) -> Vec<String> {
    let amount = |mean: &Mean| {
        let (low, high) = (signed(mean.low, words), signed(mean.high, words));
        say!(words, "sensor-95-to-2", value = signed(mean.value, words), unit = words.unit(), low, high)
    };
    let mut lines = vec![
        say!(words, "sensor-checks-beside-readings-differences-sensor", pairs = agreement.pairs),
        format!("{} {}", text!(words, "sensor-on-average"), amount(&agreement.bias_mg_dl)),
    ];
    if let Some(allowed) = &agreement.bias_lag_allowed_mg_dl {
        lines.push(format!("{} {}", text!(words, "sensor-with-sensors-lag-allowed-for"), amount(allowed)));
    }
    lines.push(mard(agreement, words));
    for (limit, share) in LIMITS.iter().zip(&agreement.within) {
        let share = of(share, words);
        let mg_dl = words.amount(*limit);
        lines.push(say!(words, "sensor-within-or", mg_dl, limit = format!("{limit:.0}"), share));
    }
    for (name, zones) in [("Clarke", &agreement.clarke), ("Parkes", &agreement.parkes)] {
        let counts: Vec<String> =
            "ABCDE".chars().zip(zones).map(|(zone, share)| format!("{zone} {}", share.hits)).collect();
        let name = say!(words, "sensor-error-grid", name);
        lines.push(format!("{name}: {}", counts.join(", ")));
    }
    for (range, measured) in by_range {
        let name = match range {
            MeterRange::Low => text!(words, "sensor-meter-low"),
            MeterRange::InRange => text!(words, "sensor-meter-in-range"),
            MeterRange::High => text!(words, "sensor-meter-high"),
        };
        lines.push(match measured {
            Ok(one) => format!("{name} ({}): {}; {}", one.pairs, amount(&one.bias_mg_dl), mard(one, words)),
            Err(missing) => format!("{name}: {}", too_little(*missing, words)),
        });
    }
    lines
}

/// Agreement of the newest sensor alone, on one line.
#[must_use]
pub(crate) fn newest_line(measured: &Measured<Agreement>, words: Words) -> String {
    let agreement = agreement_text(measured, words);
    say!(words, "sensor-newest-alone", agreement)
}

/// Agreement with the lag taken out by looking back, on one line.
#[must_use]
pub fn lag_free_line(agreement: &LagFree, words: Words) -> String {
    let (bias, mard) = (&agreement.bias_mg_dl, relative(agreement.mard_percent, words));
    let (value, low, high) = (signed(bias.value, words), signed(bias.low, words), signed(bias.high, words));
    let (pairs, unit) = (agreement.pairs, words.unit());
    say!(words, "sensor-looking-back-with-sensors-delay", pairs, value, unit, low, high, mard)
}

pub(crate) fn mard(agreement: &Agreement, words: Words) -> String {
    relative(agreement.mard_percent, words)
}

fn relative(Mean { value, low, high }: Mean, words: Words) -> String {
    let (value, low, high) = (words.decimal(value, 1), words.decimal(low.max(0.0), 1), words.decimal(high, 1));
    say!(words, "sensor-mean-absolute-relative-difference-95", value, low, high)
}

fn of(share: &Share, words: Words) -> String {
    let (low, high) = (words.decimal(100.0 * share.low, 0), words.decimal(100.0 * share.high, 0));
    say!(words, "sensor-95-to", hits = share.hits, of = share.of, low, high)
}

/// A difference in the wearer's unit, without it, with its sign.
fn signed(mg_dl: f64, words: Words) -> String {
    let text = words.bare_amount(mg_dl.abs());
    let nothing = text.chars().all(|sign| matches!(sign, '0' | '.' | ','));
    let sign = if nothing {
        ""
    } else if mg_dl < 0.0 {
        "-"
    } else {
        "+"
    };
    format!("{sign}{text}")
}

/// What there is to say about calibrating.
#[must_use]
pub fn calibration_text(calibration: &Calibration, words: Words) -> String {
    let off = |off_mg_dl: f64| {
        let size = words.amount(off_mg_dl.abs());
        if off_mg_dl > 0.0 { say!(words, "sensor-above", size) } else { say!(words, "sensor-below", size) }
    };
    match calibration {
        Calibration::TooFewPairs { have, need } => {
            let (hours, minutes) = (words.decimal(PAIRS_HOURS, 0), words.decimal(APART_MINUTES, 0));
            say!(words, "sensor-not-to-be-judged-steady", have, need, hours, minutes)
        }
        Calibration::Agrees { pairs } => {
            let (mg_dl, limit) = (words.amount(OFF_LIMIT), words.decimal(OFF_LIMIT, 0));
            say!(words, "sensor-no-need-steady-checks-do", pairs, mg_dl, limit)
        }
        Calibration::NotNow { off_mg_dl, why } => {
            let why: Vec<String> = why.iter().map(|one| not_now(*one, words)).collect();
            let (off, why) = (off(*off_mg_dl), why.join(", "));
            say!(words, "sensor-sensor-reads-meter-but-now", off, why)
        }
        Calibration::Worth { off_mg_dl, pairs } => {
            let off = off(*off_mg_dl);
            say!(words, "sensor-sensor-reads-meter-in-steady", off, pairs)
        }
    }
}

fn not_now(why: NotNow, words: Words) -> String {
    let hours = || words.decimal(TAKEN_MINUTES / 60.0, 0);
    let said = match why {
        NotNow::FirstDay => text!(words, "sensor-sensor-in-its-first-day"),
        NotNow::Overdue => text!(words, "sensor-sensor-past-its-rated-length"),
        NotNow::Faulted => text!(words, "sensor-fault-noted-sensor-which-calibrating"),
        NotNow::Compression => text!(words, "sensor-sensor-just-pressed"),
        NotNow::Moving => text!(words, "sensor-glucose-moving"),
        NotNow::NoReadings => text!(words, "sensor-there-too-few-readings-just"),
        NotNow::RecentCarbohydrate => return say!(words, "sensor-you-ate-in-last-hours", hours = hours()),
        NotNow::RecentInsulin => return say!(words, "sensor-you-took-rapid-insulin-in", hours = hours()),
    };
    said.to_owned()
}

/// One thing seen, on a line.
#[must_use]
pub(crate) fn fault_line(fault: &Fault, words: Words) -> String {
    let day = |moment: Moment| words.date_time(moment);
    match fault {
        Fault::Gap { from, until } => {
            let (at, length) = (day(*from), length(until.minutes_since(*from), words));
            say!(words, "sensor-no-readings-for-min", at, length)
        }
        Fault::Silent { from, until } => {
            let (at, span) = (day(*from), words.span(until.minutes_since(*from)));
            say!(words, "sensor-no-readings-since", at, span)
        }
        Fault::Jump { at, from_mg_dl, to_mg_dl, minutes } => {
            let (from, to, minutes) =
                (words.bare_amount(*from_mg_dl), words.amount(*to_mg_dl), words.decimal(*minutes, 0));
            let at = day(*at);
            say!(words, "sensor-from-to-within-min", at, from, to, minutes)
        }
        Fault::Compression { from, until } => {
            let (at, length) = (day(*from), length(until.minutes_since(*from), words));
            say!(words, "sensor-pressed-for-min", at, length)
        }
        Fault::Noted { at, what } => format!("{}  {}", day(*at), noted(what, words).replace('\n', " / ")),
    }
}

fn noted(what: &Noted, words: Words) -> &str {
    match what {
        Noted::Seen { text } => text.as_str(),
        Noted::Reported { fault } => words.device_fault(*fault),
    }
}
