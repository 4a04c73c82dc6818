//! The sensor's record in words.

use crate::log::Source;
use crate::review::metrics::Measured;
use crate::sensor::agreement::{Agreement, LIMITS, Mean, MeterRange, Share};
use crate::sensor::calibration::{Calibration, NotNow};
use crate::sensor::faults::{Fault, Noted};
use crate::sensor::looked_back::LagFree;
use crate::sensor::sessions::{REST_DAYS, Session, Site, Stage, next_site};
use crate::sentences::pick;
use crate::sentences::review::too_little;
use crate::time::Moment;
use crate::wearer::Language;
use crate::words::Words;

/// A session on one line.
#[must_use]
pub fn session_line(session: &Session, rated_days: Option<f64>, words: Words, now: Moment) -> String {
    let stage = match session.stage(rated_days, now) {
        Stage::WarmUp => pick(words, "warming up", "läuft sich ein"),
        Stage::FirstDay => pick(
            words,
            "in its first day: unreliable, check with a meter more often",
            "am ersten Tag: unzuverlässig, öfter am Finger messen",
        ),
        Stage::Worn => pick(words, "worn", "wird getragen"),
        Stage::Overdue => pick(
            words,
            "worn past its rated length: unreliable, check with a meter more often",
            "länger getragen als vorgesehen: unzuverlässig, öfter am Finger messen",
        ),
        Stage::Over => pick(words, "ended", "beendet"),
    };
    let from = session.from.local().format("%Y-%m-%d %H:%M");
    let days = words.decimal(session.days(now), 1);
    let mut site = session.site.as_ref().map_or_else(String::new, |site| format!(", {}", site.as_str()));
    if let Some(sensor) = &session.sensor {
        site += &format!(" ({})", sensor.as_str());
    }
    if let Some(lot) = &session.lot {
        site += &format!(", {} {}", pick(words, "lot", "Charge"), lot.as_str());
    }
    let faults: Vec<&str> = session.faults.iter().map(|(_, what)| noted(what, words)).collect();
    let faults = if faults.is_empty() { String::new() } else { format!("; {}", faults.join("; ")) };
    pick(
        words,
        format!("{from}{site}: {days} days, {stage}{faults}"),
        format!("{from}{site}: {days} Tage, {stage}{faults}"),
    )
}

/// A site on one line.
#[must_use]
pub fn site_line(site: &Site, words: Words) -> String {
    let name = site.name.as_str();
    let rest = site.rested_days.map_or_else(
        || pick(words, "in use", "in Gebrauch").to_owned(),
        |days| {
            let short = if days < REST_DAYS { pick(words, ", let it rest", ", noch ruhen lassen") } else { "" };
            let days = words.decimal(days.floor(), 0);
            if days == "1" {
                return pick(words, format!("rested 1 day{short}"), format!("1 Tag ausgeruht{short}"));
            }
            pick(words, format!("rested {days} days{short}"), format!("{days} Tage ausgeruht{short}"))
        },
    );
    let (uses, failures) = (site.uses, site.failures);
    let sensors = match uses {
        1 => pick(words, "1 sensor", "1 Sensor").to_owned(),
        _ => pick(words, format!("{uses} sensors"), format!("{uses} Sensoren")),
    };
    pick(
        words,
        format!("{name}: {rest}; {sensors}, {failures} failed"),
        format!("{name}: {rest}; {sensors}, {failures} davon mit Fehler"),
    )
}

/// Which site to use next, and the caution that goes with it.
#[must_use]
pub fn rotation_text(sites: &[Site], words: Words) -> String {
    let next = match next_site(sites) {
        Some(site) => {
            let name = site.name.as_str();
            pick(words, format!("The longest rested is {name}."), format!("Am längsten ausgeruht: {name}."))
        }
        None => pick(
            words,
            format!("None has rested {REST_DAYS:.0} days; a site not used so far would be gentler on the skin."),
            format!("Keine hat {REST_DAYS:.0} Tage geruht; eine bisher nicht genutzte wäre schonender für die Haut."),
        ),
    };
    let caution = pick(
        words,
        "Sites outside the sensor's labelling are for you and your care team to decide.",
        "Über Stellen, für die der Sensor nicht zugelassen ist, entscheidest du mit deinem Behandlungsteam.",
    );
    format!("{next} {caution}")
}

/// Agreement of a sensor that was worn beside the one followed, on one line.
#[must_use]
pub fn beside_line(sensor: &Source, measured: &Measured<Agreement>, words: Words) -> String {
    let name = sensor.as_str();
    let told = match measured {
        Ok(one) => {
            let bias = format!("{} {}", signed(one.bias_mg_dl.value, words), words.unit());
            format!("{} ({}); {}", bias, one.pairs, mard(one, words))
        }
        Err(missing) => too_little(*missing, words),
    };
    pick(words, format!("{name}, worn beside it: {told}"), format!("{name}, daneben getragen: {told}"))
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
        pick(
            words,
            format!("{} {} (95 %: {low} to {high})", signed(mean.value, words), words.unit()),
            format!("{} {} (95 %: {low} bis {high})", signed(mean.value, words), words.unit()),
        )
    };
    let mut lines = vec![
        pick(
            words,
            format!("{} checks beside readings; differences are sensor minus meter", agreement.pairs),
            format!("{} Messungen neben Werten; Unterschiede sind Sensor minus Messgerät", agreement.pairs),
        ),
        format!("{} {}", pick(words, "on average", "im Mittel"), amount(&agreement.bias_mg_dl)),
    ];
    if let Some(allowed) = &agreement.bias_lag_allowed_mg_dl {
        lines.push(format!(
            "{} {}",
            pick(words, "with the sensor's lag allowed for", "den Nachlauf des Sensors eingerechnet"),
            amount(allowed)
        ));
    }
    lines.push(mard(agreement, words));
    for (limit, share) in LIMITS.iter().zip(&agreement.within) {
        let share = of(share, words);
        let mg_dl = words.amount(*limit);
        lines.push(pick(
            words,
            format!("within {mg_dl} or {limit:.0} %: {share}"),
            format!("innerhalb {mg_dl} oder {limit:.0} %: {share}"),
        ));
    }
    for (name, zones) in [("Clarke", &agreement.clarke), ("Parkes", &agreement.parkes)] {
        let told: Vec<String> =
            "ABCDE".chars().zip(zones).map(|(zone, share)| format!("{zone} {}", share.hits)).collect();
        let name = pick(words, format!("error grid of {name}"), format!("Fehlergitter nach {name}"));
        lines.push(format!("{name}: {}", told.join(", ")));
    }
    for (range, measured) in by_range {
        let name = match range {
            MeterRange::Low => pick(words, "meter low", "Messgerät niedrig"),
            MeterRange::InRange => pick(words, "meter in range", "Messgerät im Zielbereich"),
            MeterRange::High => pick(words, "meter high", "Messgerät hoch"),
        };
        lines.push(match measured {
            Ok(one) => format!("{name} ({}): {}; {}", one.pairs, amount(&one.bias_mg_dl), mard(one, words)),
            Err(missing) => format!("{name}: {}", too_little(*missing, words)),
        });
    }
    lines
}

/// Agreement with the lag taken out by looking back, on one line.
#[must_use]
pub fn lag_free_line(agreement: &LagFree, words: Words) -> String {
    let (bias, mard) = (&agreement.bias_mg_dl, relative(agreement.mard_percent, words));
    let (value, low, high) = (signed(bias.value, words), signed(bias.low, words), signed(bias.high, words));
    let (pairs, unit) = (agreement.pairs, words.unit());
    pick(
        words,
        format!(
            "looking back, with the sensor's delay taken out of its readings ({pairs} checks): {value} {unit} (95 %: {low} to \
             {high}); {mard}"
        ),
        format!(
            "im Rückblick, den Nachlauf aus den Werten herausgerechnet ({pairs} Messungen): {value} {unit} (95 %: {low} bis \
             {high}); {mard}"
        ),
    )
}

fn mard(agreement: &Agreement, words: Words) -> String {
    relative(agreement.mard_percent, words)
}

fn relative(Mean { value, low, high }: Mean, words: Words) -> String {
    let (value, low, high) = (words.decimal(value, 1), words.decimal(low.max(0.0), 1), words.decimal(high, 1));
    pick(
        words,
        format!("mean absolute relative difference {value} % (95 %: {low} to {high})"),
        format!("mittlere absolute relative Abweichung {value} % (95 %: {low} bis {high})"),
    )
}

fn of(share: &Share, words: Words) -> String {
    let (low, high) = (words.decimal(100.0 * share.low, 0), words.decimal(100.0 * share.high, 0));
    pick(
        words,
        format!("{} of {} (95 %: {low} to {high} %)", share.hits, share.of),
        format!("{} von {} (95 %: {low} bis {high} %)", share.hits, share.of),
    )
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
        if off_mg_dl > 0.0 {
            pick(words, format!("{size} above"), format!("{size} über"))
        } else {
            pick(words, format!("{size} below"), format!("{size} unter"))
        }
    };
    match calibration {
        Calibration::TooFewPairs { have, need } => pick(
            words,
            format!(
                "Not to be judged: {have} steady checks of the last 24 hours, and {need} are needed, half an hour apart. One check is never enough."
            ),
            format!(
                "Nicht zu beurteilen: {have} von {need} nötigen Messungen in Ruhe aus den letzten 24 Stunden, eine halbe Stunde auseinander. Eine allein reicht nie."
            ),
        ),
        Calibration::Agrees { pairs } => pick(
            words,
            format!(
                "No need: {pairs} steady checks do not show the sensor consistently off by more than 20 mg/dL (1.1 mmol/L) or 20 %."
            ),
            format!(
                "Nicht nötig: {pairs} Messungen in Ruhe zeigen den Sensor nicht durchweg um mehr als 20 mg/dL (1,1 mmol/L) oder 20 % daneben."
            ),
        ),
        Calibration::NotNow { off_mg_dl, why } => {
            let why: Vec<&str> = why.iter().map(|one| not_now(*one, words)).collect();
            let (off, why) = (off(*off_mg_dl), why.join(", "));
            pick(
                words,
                format!("The sensor reads {off} the meter, but now is no moment to calibrate: {why}."),
                format!("Der Sensor liegt {off} dem Messgerät, aber jetzt ist kein Moment zum Kalibrieren: {why}."),
            )
        }
        Calibration::Worth { off_mg_dl, pairs } => {
            let off = off(*off_mg_dl);
            pick(
                words,
                format!(
                    "The sensor reads {off} the meter in {pairs} steady checks, and you are steady now. If your sensor takes calibrations, follow its instructions, with clean dry hands."
                ),
                format!(
                    "Der Sensor liegt bei {pairs} Messungen in Ruhe {off} dem Messgerät, und du bist jetzt in Ruhe. Wenn dein Sensor sich kalibrieren lässt, folge seiner Anleitung, mit sauberen, trockenen Händen."
                ),
            )
        }
    }
}

fn not_now(why: NotNow, words: Words) -> &'static str {
    match why {
        NotNow::FirstDay => pick(words, "the sensor is in its first day", "der Sensor ist am ersten Tag"),
        NotNow::Overdue => {
            pick(words, "the sensor is past its rated length", "der Sensor wird länger getragen als vorgesehen")
        }
        NotNow::Faulted => pick(
            words,
            "a fault is noted of this sensor, which calibrating does not mend",
            "zu diesem Sensor ist ein Fehler eingetragen, den Kalibrieren nicht behebt",
        ),
        NotNow::Pressed => pick(words, "the sensor was just pressed", "der Sensor war eben gedrückt"),
        NotNow::Moving => pick(words, "glucose is moving", "die Glukose bewegt sich"),
        NotNow::NoReadings => pick(words, "there are too few readings just now", "gerade gibt es zu wenige Werte"),
        NotNow::RecentCarbohydrate => {
            pick(words, "you ate in the last two hours", "du hast in den letzten zwei Stunden gegessen")
        }
        NotNow::RecentInsulin => pick(
            words,
            "you took rapid insulin in the last two hours",
            "du hast in den letzten zwei Stunden schnelles Insulin genommen",
        ),
    }
}

/// One thing seen, on a line.
#[must_use]
pub fn fault_line(fault: &Fault, words: Words) -> String {
    let day = |moment: Moment| moment.local().format("%Y-%m-%d %H:%M").to_string();
    let english = words.language() == Language::English;
    match fault {
        Fault::Gap { from, until } => {
            let minutes = words.decimal(until.minutes_since(*from), 0);
            let text = if english { "no readings for" } else { "keine Werte für" };
            format!("{}  {text} {minutes} min", day(*from))
        }
        Fault::Jump { at, from_mg_dl, to_mg_dl, minutes } => {
            let (from, to, minutes) =
                (words.bare_amount(*from_mg_dl), words.amount(*to_mg_dl), words.decimal(*minutes, 0));
            if english {
                format!("{}  from {from} to {to} within {minutes} min", day(*at))
            } else {
                format!("{}  von {from} auf {to} in {minutes} min", day(*at))
            }
        }
        Fault::Pressed { from, until } => {
            let minutes = words.decimal(until.minutes_since(*from), 0);
            let text = if english { "pressed for" } else { "gedrückt für" };
            format!("{}  {text} {minutes} min", day(*from))
        }
        Fault::Noted { at, what } => format!("{}  {}", day(*at), noted(what, words).replace('\n', " / ")),
    }
}

fn noted(what: &Noted, words: Words) -> &str {
    match what {
        Noted::Seen(text) => text.as_str(),
        Noted::Reported(code) => words.device_fault(*code),
    }
}
