//! Supplies in words.

use crate::log::{Item, Text};
use crate::review::Period;
use crate::review::metrics::Sufficiency;
use crate::sentences::review::{capital, lows_not_counted};
use crate::statistics::Share;
use crate::supplies::Cost;
use crate::supplies::{Basis, Usage};
use crate::supplies::{NOTICE_MINUTES, Need};
use crate::supplies::{Outlook, RunOut};
use crate::time::Moment;
use crate::words::Words;
use crate::{say, text};

/// One item as a heading and sentences: what to do first, then what is there and how long it lasts.
#[must_use]
pub fn outlook_lines(outlook: &Outlook, words: Words, now: Moment) -> (String, Vec<String>) {
    let item = outlook.item;
    let mut said = Vec::new();
    if let Some(RunOut { order_by: Some(day), .. }) = outlook.run_out {
        said.push(if day <= now.local_date() {
            text!(words, "supplies-order-now").to_owned()
        } else {
            say!(words, "supplies-order-by", day = words.date(day))
        });
    }
    match &outlook.stock {
        None => said.push(text!(words, "supplies-how-much-there-never-noted").to_owned()),
        Some(stock) => {
            let expired = stock.expired(now);
            let amount = words.stock(item, (stock.amount - expired).max(0.0));
            said.push(match stock.counted {
                _ if expired > 0.0 => {
                    say!(words, "supplies-usable-there", amount, expired = words.stock(item, expired))
                }
                Some(at) => {
                    let day = at.local_date();
                    say!(words, "supplies-there-counted", amount, day = words.date(day))
                }
                None => say!(words, "supplies-there-by-what-noted-as", amount),
            });
            if stock.short_by > 0.5 {
                let short = words.stock(item, stock.short_by);
                said.push(say!(words, "supplies-more-used-than-ever-noted", short));
            }
        }
    }
    match &outlook.usage {
        None => said.push(text!(words, "supplies-how-fast-goes-not-known").to_owned()),
        Some(usage) => said.extend(usage_line(item, usage, words)),
    }
    if outlook.silent_days > 0 && outlook.usage.is_some() {
        let days = outlook.silent_days;
        said.push(say!(words, "supplies-nothing-noted-on-days", days));
    }
    if let Some(run_out) = outlook.run_out {
        let RunOut { expected, earliest, latest, .. } = run_out;
        let is_sure = latest == Some(earliest);
        let until = latest.map_or_else(|| text!(words, "supplies-open").to_owned(), |day| words.date(day));
        let (expected, earliest) = (words.date(expected), words.date(earliest));
        said.push(if is_sure {
            say!(words, "supplies-runs-out-about", expected)
        } else {
            say!(words, "supplies-runs-out-about-nine-times", expected, earliest, until)
        });
    }
    if let Some(stock) = &outlook.stock {
        for batch in stock.expiring(now) {
            let (amount, day) = (words.stock(item, batch.amount), batch.expires);
            let lot = batch
                .lot
                .as_ref()
                .map_or_else(String::new, |lot| format!(" ({} {})", text!(words, "supplies-lot"), lot.as_str()));
            let is_over = day < now.local_date();
            let day = words.date(day);
            said.push(if is_over {
                say!(words, "supplies-expired-on-do-not-use", amount, lot, day)
            } else if batch.left_over > 0.5 {
                let left = words.stock(item, batch.left_over.round());
                say!(words, "supplies-good-until-about-will-not", amount, lot, day, left)
            } else {
                say!(words, "supplies-good-until-use-first", amount, lot, day)
            });
        }
    }
    (capital(&words.item(item)), said)
}

fn usage_line(item: Item, usage: &Usage, words: Words) -> Vec<String> {
    let a_day = match item {
        // A hundredth of a sensor a day says nothing to anybody.
        Item::Sensor => String::new(),
        _ => {
            let decimals = if usage.a_day < 1.0 { 2 } else { 1 };
            let amount = words.decimal(usage.a_day, decimals);
            let unit = words.stock(item, 1.0).trim_start_matches('1').trim().to_owned();
            let unit = if matches!(item, Item::RapidInsulin | Item::LongActingInsulin) {
                text!(words, "supplies-units").to_owned()
            } else {
                unit
            };
            let space = if unit.is_empty() { "" } else { " " };
            say!(words, "supplies-day", amount, space, unit)
        }
    };
    match usage.basis {
        Basis::Wear(wear) => {
            let (mean, sd) = (words.decimal(wear.mean_days, 1), words.decimal(wear.sd_days, 1));
            let Share { hits, of, low, high } = wear.failed;
            let (low, high) = (words.decimal(100.0 * low, 0), words.decimal(100.0 * high, 0));
            vec![
                say!(words, "supplies-sensor-lasts-days-on-average", mean, sd),
                say!(words, "supplies-ended-early-or-had-fault", hits, of, low, high),
            ]
        }
        Basis::RatedLength => {
            let days = words.decimal(1.0 / usage.a_day, 0);
            vec![say!(words, "supplies-reckoned-with-rated-days-sensor", days)]
        }
        Basis::Days(days) => vec![say!(words, "supplies-from-days-log-what-used", a_day, days)],
        Basis::Counts => {
            vec![say!(words, "supplies-from-your-counts", a_day)]
        }
    }
}

/// One price on a line.
#[must_use]
pub fn cost_line(cost: &Cost, words: Words) -> String {
    let money = |amount: f64| format!("{} {}", words.decimal(amount, 2), cost.currency);
    let item = words.item(cost.item);
    let from = cost.from.as_ref().map_or_else(String::new, |from| format!(", {}", Text::as_str(from)));
    let how = if cost.offered { text!(words, "supplies-offered") } else { text!(words, "supplies-paid") };
    let each = money(cost.each);
    let each = match cost.item {
        Item::RapidInsulin | Item::LongActingInsulin => say!(words, "supplies-unit", each),
        Item::RescueCarbohydrate => say!(words, "supplies-gram", each),
        _ => say!(words, "supplies-each", each),
    };
    let use_of = match (cost.a_day, cost.a_year()) {
        (Some(a_day), Some(a_year)) => {
            let (a_day, a_year) = (money(a_day), money(a_year));
            if cost.item == Item::Sensor {
                say!(words, "supplies-day-wear-year", a_day, a_year)
            } else {
                say!(words, "supplies-day-year", a_day, a_year)
            }
        }
        _ => text!(words, "supplies-use-not-known-yet").to_owned(),
    };
    format!("{item}{from}: {each} ({how} {}); {use_of}", words.date(cost.at.local_date()))
}

/// The days of a period, how many readings they hold and how much of the time these cover.
#[must_use]
pub(crate) fn covering(period: Period, on: &Sufficiency, words: Words) -> String {
    let day = |moment: Moment| words.date(moment.local_date());
    let (from, until) = (day(period.from()), day(period.until()));
    let share = words.decimal(100.0 * on.share(), 0);
    say!(words, "supplies-from-to-sensor-readings-covering", from, until, readings = on.readings, share)
}

/// The facts of a statement of need, as sentences for a letter that the wearer writes.
#[must_use]
pub fn need_lines(need: &Need, words: Words) -> Vec<String> {
    let mut said = vec![covering(need.period, &need.sufficiency, words)];
    let (checks, doses) = (words.decimal(need.meter_checks_a_day, 1), words.decimal(need.doses_a_day, 1));
    said.push(say!(words, "supplies-as-logged-meter-checks-and", checks, doses));
    let (low, floor) = (words.amount(crate::wearer::LOW_LINE_MG_DL), words.amount(crate::wearer::FLOOR_LINE_MG_DL));
    let (lows, night, serious) = (need.lows, need.lows_at_night, need.serious_lows);
    let told = need.sufficiency.tells_what_lasted();
    said.push(match told {
        Ok(()) => say!(words, "supplies-glucose-below-for-quarter-hour", low, lows, night, floor, serious),
        Err(missing) => lows_not_counted(missing, words),
    });
    if need.meter_lows > 0 {
        said.push(say!(words, "supplies-meter-checks-below", low, count = need.meter_lows));
    }
    if lows > 0 && told.is_ok() {
        let of = |share: &Share| say!(words, "supplies-of", hits = share.hits, of = share.of);
        let (warned, announced) = (of(&need.warned_by_sensor), of(&need.announced_by_sensor));
        let seen = of(&need.seen_without_sensor);
        let notice_minutes = format!("{NOTICE_MINUTES:.0}");
        said.push(say!(words, "supplies-with-sensors-data-alert-at", warned, announced, notice_minutes));
        if let Some(minutes) = need.median_notice_of_serious_minutes {
            let minutes = words.decimal(minutes, 0);
            said.push(say!(
                words,
                "supplies-before-those-went-below-middle",
                floor,
                minutes,
                notice_minutes = format!("{NOTICE_MINUTES:.0}")
            ));
        }
        said.push(say!(words, "supplies-without-sensors-data-log-shows", low, seen));
        if need.lows_at_night > 0 {
            let seen = of(&need.seen_without_sensor_at_night);
            said.push(say!(words, "supplies-at-night", seen));
        }
    }
    if need.severe > 0 {
        let severe = need.severe;
        said.push(say!(words, "supplies-signs-need-another-persons-help", severe));
    }
    said.push(text!(words, "supplies-what-felt-or-measured-and").to_owned());
    said
}
