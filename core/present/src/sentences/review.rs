//! A review in words: each figure on a line of its own, and a few sentences on the week.

use crate::review::metrics::{Aim, Measured, Need, Part, Risk, TooLittle, gmi_mmol_mol, spread::STABLE_CV_PERCENT};
use crate::review::patterns::{Kind, Looked, MealTime, Pattern};
use crate::review::{Lasting, Review};
use crate::sentences::pick;
use crate::words::{Counted, Words};

/// A figure's name, its value, and what belongs beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// How much, with its unit; or what is missing.
    pub value: String,
    /// The aim, the formula's name or a caution; may be empty.
    pub note: String,
}

/// What is missing, with what is there and what is needed.
#[must_use]
pub fn too_little(missing: TooLittle, words: Words) -> String {
    let of = match missing.of {
        Need::HoursOfReadings => pick(words, "hours of readings", "Stunden mit Werten"),
        Need::DaysOfReadings => pick(words, "days' worth of readings", "volle Tage mit Werten"),
        Need::CoveredDays => pick(words, "days covered by 70 %", "zu 70 % abgedeckte Tage"),
        Need::HoursADayApart => pick(words, "hours with readings a day before", "Stunden mit Werten am Vortag"),
        Need::DaysAtThisHour => pick(words, "days with readings at this hour", "Tage mit Werten zu dieser Stunde"),
        Need::MeterPairs => pick(words, "meter checks beside readings", "Blutmessungen neben Sensorwerten"),
    };
    // Rounded down, so that "have" never looks like enough.
    let have = words.decimal((missing.have * 10.0).floor() / 10.0, usize::from(missing.have.fract() > 0.0));
    let need = words.decimal(missing.need, usize::from(missing.need.fract() > 0.0));
    pick(
        words,
        format!("not enough data: have {have}, need {need} {of}"),
        format!("zu wenig Daten: {have} von {need} nötigen {of}"),
    )
}

/// The value as `tell` writes it, or what is missing.
fn value<T: Copy>(measured: &Measured<T>, words: Words, tell: impl Fn(T) -> String) -> String {
    measured.map_or_else(|missing| too_little(missing, words), tell)
}

/// Hours and minutes of an average day.
pub(crate) fn of_a_day(percent: f64, words: Words) -> String {
    let minutes = (percent * 14.4).round();
    let (hours, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    let length = if hours < 1.0 { format!("{rest:.0} min") } else { format!("{hours:.0} h {rest:.0} min") };
    pick(words, format!("{length} a day"), format!("{length} am Tag"))
}

/// The name of a part of the time, with the consensus' lines in the wearer's unit.
#[must_use]
pub fn part_name(part: Part, lines: crate::review::metrics::Lines, words: Words) -> String {
    let amount = |mg_dl: f64| words.amount(mg_dl);
    match part {
        Part::InRange => pick(
            words,
            format!("In range, {} to {}", words.bare_amount(lines.low_mg_dl), amount(lines.high_mg_dl)),
            format!("Im Zielbereich, {} bis {}", words.bare_amount(lines.low_mg_dl), amount(lines.high_mg_dl)),
        ),
        Part::BelowLow => {
            pick(words, format!("Below {}", amount(lines.low_mg_dl)), format!("Unter {}", amount(lines.low_mg_dl)))
        }
        Part::BelowFloor => pick(
            words,
            format!("of it below {}", amount(lines.floor_mg_dl)),
            format!("davon unter {}", amount(lines.floor_mg_dl)),
        ),
        Part::AboveHigh => {
            pick(words, format!("Above {}", amount(lines.high_mg_dl)), format!("Über {}", amount(lines.high_mg_dl)))
        }
        Part::AboveVeryHigh => pick(
            words,
            format!("of it above {}", amount(lines.very_high_mg_dl)),
            format!("davon über {}", amount(lines.very_high_mg_dl)),
        ),
    }
}

/// The parts of the time, in the order they are told.
const PARTS: [Part; 5] = [Part::InRange, Part::BelowLow, Part::BelowFloor, Part::AboveHigh, Part::AboveVeryHigh];

/// Time in the ranges, one line a part.
#[must_use]
pub fn range_lines(review: &Review, words: Words) -> Vec<Line> {
    let lines = crate::review::metrics::Lines::of(review.manner.group);
    let line = |part: Part| {
        let name = part_name(part, lines, words);
        let value = value(&review.shares, words, |shares| {
            let percent = shares.part(part);
            format!("{} % ({})", words.decimal(percent, 1), of_a_day(percent, words))
        });
        let aim = Aim::of(review.manner.group).iter().find(|aim| aim.part == part);
        let note = aim.map_or_else(String::new, |aim| {
            let percent = words.decimal(aim.percent, 0);
            let what = if part == Part::InRange {
                pick(words, format!("consensus aim over {percent} %"), format!("Konsensziel über {percent} %"))
            } else {
                pick(words, format!("consensus aim under {percent} %"), format!("Konsensziel unter {percent} %"))
            };
            let reached = review.shares.is_ok_and(|shares| aim.reached(&shares)) && review.stands_on.enough();
            if reached { format!("{what}, {}", pick(words, "reached", "erreicht")) } else { what }
        });
        Line { name, value, note }
    };
    PARTS.map(line).to_vec()
}

/// The wearer's own lines, on one line.
#[must_use]
pub fn own_line(review: &Review, own: crate::review::metrics::Lines, words: Words) -> Line {
    let (low, high) = (words.bare_amount(own.low_mg_dl), words.amount(own.high_mg_dl));
    Line {
        name: pick(
            words,
            format!("Within your own lines, {low} to {high}"),
            format!("Zwischen deinen eigenen Linien, {low} bis {high}"),
        ),
        value: value(&review.own_shares, words, |shares| format!("{} %", words.decimal(shares.in_range, 1))),
        note: review.own_shares.map_or_else(
            |_| String::new(),
            |shares| {
                let (below, above) = (words.decimal(shares.below(), 1), words.decimal(shares.above(), 1));
                pick(
                    words,
                    format!("{below} % below, {above} % above"),
                    format!("{below} % darunter, {above} % darüber"),
                )
            },
        ),
    }
}

/// Level, spread and risk, one line a figure.
#[must_use]
pub fn figure_lines(review: &Review, words: Words) -> Vec<Line> {
    let line = |name: &str, value: String, note: String| Line { name: name.to_owned(), value, note };
    let risk = |risk: Risk| match risk {
        Risk::Low => pick(words, "small", "klein"),
        Risk::Moderate => pick(words, "moderate", "mittel"),
        Risk::High => pick(words, "high", "hoch"),
    };
    let percent = |number: f64, decimals: usize| format!("{} %", words.decimal(number, decimals));
    let spread = &review.spread;
    vec![
        line(
            pick(words, "Mean", "Mittelwert"),
            value(spread, words, |one| words.amount(one.mean_mg_dl)),
            String::new(),
        ),
        line(
            pick(words, "Glucose management indicator (GMI)", "Glukose-Management-Indikator (GMI)"),
            value(&review.gmi_percent, words, |gmi| percent(gmi, 1)),
            match (review.gmi_percent, spread) {
                (Ok(_), Ok(spread)) => pick(
                    words,
                    format!(
                        "{} mmol/mol; a laboratory's A1C can differ",
                        words.decimal(gmi_mmol_mol(spread.mean_mg_dl), 0)
                    ),
                    format!(
                        "{} mmol/mol; das HbA1c aus dem Labor kann abweichen",
                        words.decimal(gmi_mmol_mol(spread.mean_mg_dl), 0)
                    ),
                ),
                _ => String::new(),
            },
        ),
        line(
            pick(words, "Standard deviation", "Standardabweichung"),
            value(spread, words, |one| words.amount(one.sd_mg_dl)),
            String::new(),
        ),
        line(
            pick(words, "Coefficient of variation", "Variationskoeffizient"),
            value(spread, words, |one| percent(one.cv_percent(), 1)),
            pick(
                words,
                format!("stable up to {STABLE_CV_PERCENT:.0} % (consensus)"),
                format!("stabil bis {STABLE_CV_PERCENT:.0} % (Konsens)"),
            ),
        ),
        line(
            pick(words, "Low blood glucose index (LBGI)", "Index niedriger Glukose (LBGI)"),
            value(&review.indices, words, |one| format!("{} ({})", words.decimal(one.low, 1), risk(one.low_risk()))),
            pick(words, "bands made for meter checks", "Stufen für Blutmessungen gemacht").to_owned(),
        ),
        line(
            pick(words, "High blood glucose index (HBGI)", "Index hoher Glukose (HBGI)"),
            value(&review.indices, words, |one| format!("{} ({})", words.decimal(one.high, 1), risk(one.high_risk()))),
            pick(words, "bands made for meter checks", "Stufen für Blutmessungen gemacht").to_owned(),
        ),
        line(
            pick(words, "Glycemia risk index (GRI)", "Glykämie-Risiko-Index (GRI)"),
            value(&review.glycemia_risk, words, |one| format!("{} ({})", words.decimal(one.index, 0), one.zone())),
            pick(words, "0 best, 100 worst; zones A to E", "0 am besten, 100 am schlechtesten; Zonen A bis E")
                .to_owned(),
        ),
        line(
            pick(words, "Swings within a day (MAGE)", "Ausschläge am Tag (MAGE)"),
            value(&review.mage_mg_dl, words, |one| words.amount(one)),
            String::new(),
        ),
        line(
            pick(words, "Differences from day to day (MODD)", "Unterschiede von Tag zu Tag (MODD)"),
            value(&review.modd_mg_dl, words, |one| words.amount(one)),
            String::new(),
        ),
        line("J-index", value(spread, words, |one| words.decimal(one.j_index(), 1)), String::new()),
    ]
}

/// What the review stands on, as sentences.
#[must_use]
pub fn basis(review: &Review, words: Words) -> Vec<String> {
    let on = &review.stands_on;
    let day = |moment: crate::time::Moment| moment.local().format("%Y-%m-%d %H:%M").to_string();
    let (from, until) = (day(review.period.from()), day(review.period.until()));
    let (days, share) =
        (words.decimal(on.days, usize::from(on.days.fract() > 1e-6)), words.decimal(100.0 * on.share(), 0));
    let gap = words.decimal(on.longest_gap_hours, 1);
    let mut said = vec![pick(
        words,
        format!(
            "{from} to {until}: {} readings on {} dates cover {share} % of {days} days. The longest gap is {gap} h.",
            on.readings, on.dates
        ),
        format!(
            "{from} bis {until}: {} Werte an {} Tagen decken {share} % von {days} Tagen ab. Die längste Lücke ist {gap} h.",
            on.readings, on.dates
        ),
    )];
    if on.left_out_hours > 0.0 {
        let hours = words.decimal(on.left_out_hours, 1);
        said.push(pick(
            words,
            format!("{hours} h in which the sensor was pressed are left out."),
            format!("{hours} h, in denen der Sensor gedrückt war, sind ausgelassen."),
        ));
    }
    if on.beyond > 0 {
        let readings = words.counted(on.beyond as u64, Counted::Readings);
        said.push(pick(
            words,
            format!(
                "{readings} too low or too high to measure: counted below or above the range; mean, standard deviation and GMI \
                 are figured with the limit."
            ),
            format!(
                "{readings} zu tief oder zu hoch zum Messen: als unter oder über dem Bereich gezählt; Mittelwert, \
                 Standardabweichung und GMI rechnen mit der Grenze."
            ),
        ));
    }
    for (sensor, count) in &review.beside {
        let name = sensor.as_str();
        said.push(pick(
            words,
            format!("Two sensors were worn at once: {count} readings of {name} are not used here."),
            format!("Zwei Sensoren wurden zugleich getragen: {count} Werte von {name} sind hier nicht verwendet."),
        ));
    }
    if review.clock_changes > 0 {
        let changes = times(review.clock_changes, words);
        said.push(pick(
            words,
            format!("Your clock was put on or back {changes} (travel or summer time); hours are those it showed."),
            format!("Deine Uhr wurde {changes} umgestellt (Reise oder Sommerzeit); Stunden sind die, die sie zeigte."),
        ));
    }
    if !on.enough() {
        said.push(
            pick(
                words,
                "The consensus judges by 14 days with 70 % covered; this is less, so take the figures as a glimpse.",
                "Der Konsens urteilt nach 14 Tagen mit 70 % Abdeckung; das ist weniger, also nur ein Eindruck.",
            )
            .to_owned(),
        );
    }
    said
}

/// Below this, a change of the time in range from one week to the next is not worth a word, in percentage points; ours.
const WORTH_SAYING_POINTS: f64 = 3.0;

/// A few sentences on a period, beside the one before it.
#[must_use]
pub fn summary(review: &Review, before: Option<&Review>, words: Words) -> Vec<String> {
    let mut said = Vec::new();
    let shares = match review.shares {
        Ok(shares) => shares,
        Err(missing) => return vec![capital(&too_little(missing, words)) + "."],
    };
    let in_range = words.decimal(shares.in_range, 0);
    let (below, above) = (words.decimal(shares.below(), 1), words.decimal(shares.above(), 0));
    said.push(pick(
        words,
        format!("You were in range {in_range} % of the time, below it {below} %, above it {above} %."),
        format!("Du warst {in_range} % der Zeit im Zielbereich, {below} % darunter, {above} % darüber."),
    ));
    if let Some(Ok(earlier)) = before.map(|before| before.shares) {
        let points = shares.in_range - earlier.in_range;
        let size = words.decimal(points.abs(), 0);
        said.push(if points.abs() < WORTH_SAYING_POINTS {
            pick(words, "That is much like the time before.", "Das ist ähnlich wie in der Zeit davor.").to_owned()
        } else if points > 0.0 {
            pick(
                words,
                format!("That is {size} points more in range than in the time before."),
                format!("Das sind {size} Punkte mehr im Zielbereich als in der Zeit davor."),
            )
        } else {
            pick(
                words,
                format!("That is {size} points less in range than in the time before."),
                format!("Das sind {size} Punkte weniger im Zielbereich als in der Zeit davor."),
            )
        });
    }
    said.push(lows(review, words));
    if let Some(longest) = longest(&review.very_highs) {
        let (count, hours) = (review.very_highs.len(), words.decimal(longest.episode.minutes() / 60.0, 1));
        let line = words.amount(crate::review::metrics::ranges::VERY_HIGH_LINE_MG_DL);
        said.push(pick(
            words,
            format!("Above {line} you were {}; the longest lasted {hours} h.", times(count, words)),
            format!("Über {line} warst du {}; am längsten {hours} h.", times(count, words)),
        ));
    }
    if !review.stands_on.enough() {
        let share = words.decimal(100.0 * review.stands_on.share(), 0);
        said.push(pick(
            words,
            format!("Readings cover {share} % of the time."),
            format!("Werte decken {share} % der Zeit ab."),
        ));
    }
    said
}

fn lows(review: &Review, words: Words) -> String {
    let count = review.lows.len();
    let Some(longest) = longest(&review.lows) else {
        return pick(words, "No low lasted a quarter of an hour.", "Kein Unterzucker dauerte eine Viertelstunde.")
            .to_owned();
    };
    let at_night = review.lows.iter().filter(|low| low.at_night).count();
    let (serious, minutes) = (review.serious_lows.len(), words.decimal(longest.episode.minutes(), 0));
    let when = longest.episode.from.local().format("%Y-%m-%d %H:%M");
    let floor = words.amount(crate::wearer::FLOOR_LINE_MG_DL);
    pick(
        words,
        format!(
            "You were low {}, {at_night} of them at night and {serious} below {floor}; the longest lasted {minutes} min ({when}).",
            times(count, words)
        ),
        format!(
            "Du warst {} im Unterzucker, {at_night}-mal nachts und {serious}-mal unter {floor}; am längsten {minutes} min ({when}).",
            times(count, words)
        ),
    )
}

fn longest(all: &[Lasting]) -> Option<&Lasting> {
    all.iter().max_by(|a, b| a.episode.minutes().total_cmp(&b.episode.minutes()))
}

fn times(count: usize, words: Words) -> String {
    match count {
        1 => pick(words, "once", "einmal").to_owned(),
        2 => pick(words, "twice", "zweimal").to_owned(),
        count => pick(words, format!("{count} times"), format!("{count}-mal")),
    }
}

pub(crate) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + signs.as_str())
}

/// An episode on one line: when, how long, how far, and what came before.
#[must_use]
pub fn episode_line(lasting: &Lasting, words: Words) -> String {
    let episode = &lasting.episode;
    let when = episode.from.local().format("%Y-%m-%d %H:%M");
    let minutes = words.decimal(episode.minutes(), 0);
    let furthest = episode.furthest_beyond.map_or_else(
        || pick(words, "to ", "bis ").to_owned() + &words.amount(episode.furthest_mg_dl),
        |beyond| words.beyond(beyond, episode.furthest_mg_dl),
    );
    let end = if episode.ended { "" } else { pick(words, ", end not seen", ", Ende nicht gesehen") };
    let ago = |what: &str, minutes: Option<f64>| {
        minutes.map(|minutes| {
            let minutes = words.decimal(minutes, 0);
            pick(words, format!("{what} {minutes} min before"), format!("{what} {minutes} min davor"))
        })
    };
    let before: Vec<String> = [
        ago(pick(words, "rapid insulin", "schnelles Insulin"), lasting.before.rapid_insulin),
        ago(pick(words, "a meal", "Mahlzeit"), lasting.before.meal),
        ago(pick(words, "rescue carbohydrate", "schnelle Kohlenhydrate"), lasting.before.rescue),
        ago(pick(words, "movement", "Bewegung"), lasting.before.activity),
    ]
    .into_iter()
    .flatten()
    .collect();
    let before = if before.is_empty() { String::new() } else { format!("; {}", before.join(", ")) };
    format!("{when}  {minutes} min, {furthest}{end}{before}")
}

/// What was looked for and found, as sentences, each with how often, how sure and the days to look at.
#[must_use]
pub fn pattern_lines(looked: &Looked, words: Words) -> Vec<String> {
    let looks = looked.looks;
    if looks == 0 {
        return vec![
            pick(
                words,
                "There is too little yet to look for patterns.",
                "Für die Suche nach Mustern ist noch zu wenig da.",
            )
            .to_owned(),
        ];
    }
    let mut said: Vec<String> = looked.found.iter().map(|one| pattern_line(one, words)).collect();
    said.push(match looked.found.len() {
        0 => pick(
            words,
            format!("{looks} comparisons were made; none differs by more than chance would bring."),
            format!("{looks} Vergleiche; keiner weicht mehr ab, als der Zufall brächte."),
        ),
        _ => pick(
            words,
            format!("{looks} comparisons were made, and the chances corrected for that (Fisher's exact test, Holm). A pattern is a reason to look at the days, no proof."),
            format!("{looks} Vergleiche, die Wahrscheinlichkeiten dafür berichtigt (exakter Test nach Fisher, Holm). Ein Muster ist ein Grund, die Tage anzusehen, kein Beweis."),
        ),
    });
    said
}

fn pattern_line(pattern: &Pattern, words: Words) -> String {
    let span = |hour: u8| format!("{hour:02}:00-{:02}:00", (hour + 3) % 24);
    let what = match pattern.kind {
        Kind::LowsFrom(hour) => pick(
            words,
            format!("Lows begin more often at {}", span(hour)),
            format!("Unterzucker beginnt öfter um {}", span(hour)),
        ),
        Kind::HighsFrom(hour) => pick(
            words,
            format!("Highs begin more often at {}", span(hour)),
            format!("Hohe Werte beginnen öfter um {}", span(hour)),
        ),
        Kind::LowsAtNight => {
            pick(words, "Lows begin more often in your night", "Unterzucker beginnt öfter in deiner Nacht").to_owned()
        }
        Kind::LowsAfterMovement => pick(
            words,
            "Lows begin more often within 12 h after movement",
            "Unterzucker beginnt öfter in den 12 h nach Bewegung",
        )
        .to_owned(),
        Kind::LowsOnFirstDay => pick(
            words,
            "Lows show more often on a sensor's first day; the sensor itself may be what is off",
            "Unterzucker zeigt sich öfter am ersten Tag eines Sensors; vielleicht irrt der Sensor selbst",
        )
        .to_owned(),
        Kind::HighsOnFirstDay => pick(
            words,
            "Highs show more often on a sensor's first day; the sensor itself may be what is off",
            "Hohe Werte zeigen sich öfter am ersten Tag eines Sensors; vielleicht irrt der Sensor selbst",
        )
        .to_owned(),
        Kind::LowsAtWeekends => {
            pick(words, "More dates have a low at weekends", "Am Wochenende haben mehr Tage Unterzucker").to_owned()
        }
        Kind::LowsOnWeekdays => {
            pick(words, "More dates have a low on weekdays", "Werktags haben mehr Tage Unterzucker").to_owned()
        }
        Kind::HighsAtWeekends => pick(
            words,
            "More dates are over a quarter high at weekends",
            "Am Wochenende sind mehr Tage zu über einem Viertel hoch",
        )
        .to_owned(),
        Kind::HighsOnWeekdays => pick(
            words,
            "More dates are over a quarter high on weekdays",
            "Werktags sind mehr Tage zu über einem Viertel hoch",
        )
        .to_owned(),
        Kind::HighsAfterMeals(time) => {
            let meal = match time {
                MealTime::Morning => pick(words, "morning", "morgens"),
                MealTime::Midday => pick(words, "midday", "mittags"),
                MealTime::Evening => pick(words, "evening", "abends"),
                MealTime::Night => pick(words, "night", "nachts"),
            };
            pick(
                words,
                format!("Highs begin more often within 3 h of {meal} meals"),
                format!("Hohe Werte beginnen öfter in den 3 h nach Mahlzeiten {meal}"),
            )
        }
        Kind::ReboundAfterRescue => pick(
            words,
            "Highs begin more often within 2 h of a low that was treated",
            "Hohe Werte beginnen öfter in den 2 h nach behandeltem Unterzucker",
        )
        .to_owned(),
    };
    let (hits, of, other_hits, other_of) = (pattern.hits, pattern.of, pattern.other_hits, pattern.other_of);
    let chance = words.chance(pattern.corrected_p);
    let dates: Vec<String> = pattern.dates.iter().rev().take(5).map(ToString::to_string).collect();
    let dates = dates.join(", ");
    pick(
        words,
        format!(
            "{what}: {hits} of {of} times, otherwise {other_hits} of {other_of} (by chance: {chance}). Look at {dates}."
        ),
        format!(
            "{what}: {hits} von {of} Malen, sonst {other_hits} von {other_of} (zufällig: {chance}). Sieh dir an: {dates}."
        ),
    )
}
