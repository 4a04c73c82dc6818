//! Supplies in words.

use crate::log::{Item, Text};
use crate::sensor::Share;
use crate::sentences::pick;
use crate::sentences::review::capital;
use crate::supplies::Cost;
use crate::supplies::{Basis, Usage};
use crate::supplies::{NOTICE_MINUTES, Need};
use crate::supplies::{Outlook, RunOut};
use crate::time::Moment;
use crate::words::Words;

/// One item as a heading and sentences: what to do first, then what is there and how long it lasts.
#[must_use]
pub fn outlook_lines(outlook: &Outlook, words: Words, now: Moment) -> (String, Vec<String>) {
    let item = outlook.item;
    let mut said = Vec::new();
    if let Some(RunOut { order_by: Some(day), .. }) = outlook.run_out {
        said.push(if day <= now.local_date() {
            pick(words, "Order now.".to_owned(), "Jetzt bestellen.".to_owned())
        } else {
            pick(words, format!("Order by {day}."), format!("Bis {day} bestellen."))
        });
    }
    match &outlook.stock {
        None => said.push(
            pick(
                words,
                "How much is there was never noted; count it once.",
                "Wie viel da ist, wurde nie eingetragen; zähl einmal.",
            )
            .to_owned(),
        ),
        Some(stock) => {
            let amount = words.stock(item, stock.amount);
            said.push(match stock.counted {
                Some(at) => {
                    let day = at.local_date();
                    pick(words, format!("{amount} there, counted {day}."), format!("{amount} da, gezählt {day}."))
                }
                None => pick(
                    words,
                    format!("{amount} there, by what was noted as received."),
                    format!("{amount} da, nach dem, was als erhalten eingetragen ist."),
                ),
            });
            if stock.short_by > 0.5 {
                let short = words.stock(item, stock.short_by);
                said.push(pick(
                    words,
                    format!("{short} more were used than were ever noted as there: count again."),
                    format!("{short} mehr verbraucht, als je als vorhanden eingetragen war: zähl noch einmal."),
                ));
            }
        }
    }
    match &outlook.usage {
        None => said.push(
            pick(
                words,
                "How fast it goes is not known yet: a week of entries, or two counts two weeks apart, would tell.",
                "Wie schnell es zur Neige geht, ist noch nicht bekannt: eine Woche Einträge oder zwei Zählungen im Abstand von zwei Wochen würden es sagen.",
            )
            .to_owned(),
        ),
        Some(usage) => said.extend(usage_line(item, usage, words)),
    }
    if let Some(run_out) = outlook.run_out {
        let RunOut { expected, earliest, latest, .. } = run_out;
        let until = latest.map_or_else(|| pick(words, "open", "offen").to_owned(), |day| day.to_string());
        said.push(pick(
            words,
            format!("Runs out about {expected} (nine times in ten from {earliest} to {until})."),
            format!("Reicht bis etwa {expected} (neun von zehn Malen {earliest} bis {until})."),
        ));
    }
    if let Some(stock) = &outlook.stock {
        for batch in stock.expiring(now) {
            let (amount, day) = (words.stock(item, batch.amount), batch.expires);
            let lot = batch
                .lot
                .as_ref()
                .map_or_else(String::new, |lot| format!(" ({} {})", pick(words, "lot", "Charge"), lot.as_str()));
            said.push(if day < now.local_date() {
                pick(
                    words,
                    format!("{amount}{lot} expired on {day}: do not use, and note it as thrown away."),
                    format!("{amount}{lot} abgelaufen am {day}: nicht mehr verwenden und als weggeworfen eintragen."),
                )
            } else if batch.left_over > 0.5 {
                let left = words.stock(item, batch.left_over.round());
                pick(
                    words,
                    format!("{amount}{lot} good until {day}; about {left} of it will not be used by then."),
                    format!("{amount}{lot} haltbar bis {day}; etwa {left} davon werden bis dahin nicht verbraucht."),
                )
            } else {
                pick(
                    words,
                    format!("{amount}{lot} good until {day}: use first."),
                    format!("{amount}{lot} haltbar bis {day}: zuerst verwenden."),
                )
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
                pick(words, "units", "Einheiten").to_owned()
            } else {
                unit
            };
            let space = if unit.is_empty() { "" } else { " " };
            pick(words, format!("{amount}{space}{unit} a day"), format!("{amount}{space}{unit} am Tag"))
        }
    };
    match usage.basis {
        Basis::Wear(wear) => {
            let (mean, sd) = (words.decimal(wear.mean_days, 1), words.decimal(wear.sd_days, 1));
            let Share { hits, of, low, high } = wear.failed;
            let (low, high) = (words.decimal(100.0 * low, 0), words.decimal(100.0 * high, 0));
            vec![
                pick(
                    words,
                    format!("A sensor lasts {mean} days on average, give or take {sd}."),
                    format!("Ein Sensor hält im Mittel {mean} Tage, mal {sd} mehr oder weniger."),
                ),
                pick(
                    words,
                    format!("{hits} of {of} ended early or had a fault (95 %: {low} to {high} %)."),
                    format!("{hits} von {of} endeten früh oder hatten einen Fehler (95 %: {low} bis {high} %)."),
                ),
            ]
        }
        Basis::RatedLength => {
            let days = words.decimal(1.0 / usage.a_day, 0);
            vec![pick(
                words,
                format!("Reckoned with the rated {days} days a sensor, until two have ended."),
                format!("Gerechnet mit den vorgesehenen {days} Tagen je Sensor, bis zwei beendet sind."),
            )]
        }
        Basis::Days(days) => vec![pick(
            words,
            format!("{a_day}, from {days} days of the log; what was used and not noted is not in it."),
            format!(
                "{a_day}, aus {days} Tagen des Protokolls; was verbraucht und nicht eingetragen wurde, fehlt darin."
            ),
        )],
        Basis::Counts => {
            vec![pick(words, format!("{a_day}, from your counts."), format!("{a_day}, aus deinen Zählungen."))]
        }
    }
}

/// One price on a line.
#[must_use]
pub fn cost_line(cost: &Cost, words: Words) -> String {
    let money = |amount: f64| format!("{} {}", words.decimal(amount, 2), cost.currency);
    let item = words.item(cost.item);
    let from = cost.from.as_ref().map_or_else(String::new, |from| format!(", {}", Text::as_str(from)));
    let how = if cost.offered { pick(words, "offered", "angeboten") } else { pick(words, "paid", "bezahlt") };
    let each = money(cost.each);
    let each = match cost.item {
        Item::RapidInsulin | Item::LongActingInsulin => {
            pick(words, format!("{each} a unit"), format!("{each} je Einheit"))
        }
        Item::RescueCarbohydrate => pick(words, format!("{each} a gram"), format!("{each} je Gramm")),
        _ => pick(words, format!("{each} each"), format!("{each} je Stück")),
    };
    let use_of = match (cost.a_day, cost.a_year()) {
        (Some(a_day), Some(a_year)) => {
            let (a_day, a_year) = (money(a_day), money(a_year));
            if cost.item == Item::Sensor {
                pick(
                    words,
                    format!("{a_day} a day of wear, {a_year} a year"),
                    format!("{a_day} je Tragetag, {a_year} im Jahr"),
                )
            } else {
                pick(words, format!("{a_day} a day, {a_year} a year"), format!("{a_day} am Tag, {a_year} im Jahr"))
            }
        }
        _ => pick(words, "use not known yet", "Verbrauch noch nicht bekannt").to_owned(),
    };
    format!("{item}{from}: {each} ({how} {}); {use_of}", cost.at.local_date())
}

/// The facts of a statement of need, as sentences for a letter that the wearer writes.
#[must_use]
pub fn need_lines(need: &Need, words: Words) -> Vec<String> {
    let day = |moment: Moment| moment.local_date().to_string();
    let (from, until) = (day(need.period.from()), day(need.period.until()));
    let on = &need.stands_on;
    let share = words.decimal(100.0 * on.share(), 0);
    let mut said = vec![pick(
        words,
        format!("From {from} to {until}: {} sensor readings, covering {share} % of the time.", on.readings),
        format!("Vom {from} bis {until}: {} Sensorwerte, die {share} % der Zeit abdecken.", on.readings),
    )];
    let (checks, doses) = (words.decimal(need.meter_checks_a_day, 1), words.decimal(need.doses_a_day, 1));
    said.push(pick(
        words,
        format!("As logged: {checks} meter checks and {doses} doses of insulin a day."),
        format!("Nach den Einträgen: {checks} Blutmessungen und {doses} Insulingaben am Tag."),
    ));
    let (low, floor) = (words.amount(crate::wearer::LOW_LINE_MG_DL), words.amount(crate::wearer::FLOOR_LINE_MG_DL));
    let (lows, night, serious) = (need.lows, need.lows_at_night, need.serious_lows);
    said.push(pick(
        words,
        format!("Glucose was below {low} for a quarter of an hour or longer {lows} times, {night} of them at night, and below {floor} {serious} times."),
        format!("Die Glukose lag {lows}-mal eine Viertelstunde oder länger unter {low}, {night}-mal davon nachts, und {serious}-mal unter {floor}."),
    ));
    if lows > 0 {
        let of = |share: &Share| {
            pick(words, format!("{} of {}", share.hits, share.of), format!("{} von {}", share.hits, share.of))
        };
        let (told, seen) = (of(&need.told_by_sensor), of(&need.seen_without_sensor));
        said.push(pick(
            words,
            format!("With the sensor's data, an alert at the lines set would have told of {told} of these lows."),
            format!("Mit den Sensorwerten hätte ein Alarm an den gesetzten Grenzen {told} davon gemeldet."),
        ));
        if let Some(minutes) = need.median_notice_of_serious_minutes {
            let minutes = words.decimal(minutes, 0);
            said.push(pick(
                words,
                format!("Before those that went below {floor}, the middle notice was {minutes} min (rescue carbohydrate takes about {NOTICE_MINUTES:.0} min to act)."),
                format!("Vor denen unter {floor} war der mittlere Vorlauf {minutes} min (schnelle Kohlenhydrate brauchen etwa {NOTICE_MINUTES:.0} min)."),
            ));
        }
        said.push(pick(
            words,
            format!("Without the sensor's data, the log shows a meter check below {low}, or that it was felt, for {seen} of them."),
            format!("Ohne die Sensorwerte zeigt das Protokoll bei {seen} davon eine Blutmessung unter {low} oder dass er bemerkt wurde."),
        ));
        if need.lows_at_night > 0 {
            let seen = of(&need.seen_without_sensor_at_night);
            said.push(pick(words, format!("At night that is {seen}."), format!("Nachts sind das {seen}.")));
        }
    }
    if need.severe > 0 {
        let severe = need.severe;
        said.push(pick(
            words,
            format!("Signs that need another person's help were noted {severe} times."),
            format!("Anzeichen, die Hilfe durch andere brauchen, wurden {severe}-mal eingetragen."),
        ));
    }
    said.push(
        pick(
            words,
            "What was felt or measured and not logged is not in these figures.",
            "Was gespürt oder gemessen und nicht eingetragen wurde, ist in diesen Zahlen nicht enthalten.",
        )
        .to_owned(),
    );
    said
}
