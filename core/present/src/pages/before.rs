//! What is asked ahead, as pages: before sleep, a drive, movement. What to do comes first, then the chances, then why.

use crate::before::activity::BeforeActivity;
use crate::before::chance::Chance;
use crate::before::driving::BeforeDriving;
use crate::before::nights::NEEDED_NIGHTS;
use crate::before::sleep::{BeforeSleep, NightChance};
use crate::before::{First, Measured, NowFirst};
use crate::page::{Block, Page, Row};
use crate::sentences::before as sentences;
use crate::wearer::{FLOOR_LINE_MG_DL, LOW_LINE_MG_DL};
use crate::words::Words;
use crate::{say, text};

/// Lays out what is known before sleep.
#[must_use]
pub fn sleep(of: &BeforeSleep, words: Words) -> Page {
    let until = of.until.clock();
    let rows = of.chance.map(|chance| night_rows(&chance, words)).unwrap_or_default();
    let rests = of.chance.map(|chance| Block::sentences(rests_on(&chance, words)));
    let rings = words.amount(of.rings_at_mg_dl);
    let alarm = of.alarm.map(|alarm| {
        let (from, to) = (alarm.from.clock(), alarm.to.clock());
        Block::sentences(say!(words, "before-if-a-low-comes-half-of", from, to, rings))
    });
    Page::new(words, text!(words, "before-before-sleep"))
        .with(None, first(of.first, words).chain([Block::lead(sentences::look(of.look, words))]))
        .with(
            Some(&say!(words, "before-until", until)),
            [Block::figures(rows)].into_iter().chain(alarm).chain(rests).chain(missing(of.missing, words)),
        )
        .with(
            Some(text!(words, "before-what-makes-a-low-likelier-tonight")),
            [Block::items(of.likelier.iter().map(|one| sentences::likelier(*one, words)))],
        )
        .with(None, [careful(words)])
}

/// Lays out what is known before a drive.
#[must_use]
pub fn driving(of: &BeforeDriving, words: Words) -> Page {
    let length = length(of.minutes, words);
    let rule = of.rule.as_ref().map(|rule| sentences::rule(rule, words));
    let no_rule = rule.is_none().then(|| {
        Block::sentences(match of.country {
            Some(country) => say!(words, "before-no-rule-for-is-known-here", country = country.to_string()),
            None => text!(words, "before-no-country-is-set-so-no").to_owned(),
        })
    });
    let stops: Vec<String> = of.stops.iter().map(|stop| stop.clock()).collect();
    let stops = (!stops.is_empty()).then(|| {
        let at = stops.join(", ");
        Block::lead(say!(words, "before-stop-and-check-at-at-the", at))
    });
    Page::new(words, text!(words, "before-before-driving"))
        .with(
            None,
            [Block::lead(sentences::drive(of.drive, words))].into_iter().chain(first(of.first, words)).chain(stops),
        )
        .with(
            Some(&say!(words, "before-over-the-drive", length)),
            std::iter::once(Block::figures(
                newest(of.measured, words).into_iter().chain(chance_rows(of.chance, words)),
            ))
            .chain(missing(of.missing, words)),
        )
        .with(
            Some(text!(words, "before-the-rule")),
            rule.map(Block::items)
                .into_iter()
                .chain(no_rule)
                .chain([Block::sentences(text!(words, "before-keep-fast-carbohydrate-and-a-meter"))]),
        )
        .with(None, [careful(words)])
}

/// Lays out what is known before movement.
#[must_use]
pub fn activity(of: &BeforeActivity, words: Words) -> Page {
    let (from, to) = of.range_mg_dl;
    let range = say!(words, "before-to", from = words.bare_amount(from), to = words.amount(to));
    let range = Row {
        name: text!(words, "before-published-range-to-start-in").to_owned(),
        values: vec![range],
        note: of.risk.map_or_else(String::new, |risk| sentences::risk(risk, words).to_owned()),
    };
    let planned =
        format!("{}, {}, {}", sentences::movement(of.kind, words), words.effort(of.effort), length(of.minutes, words));
    let at_rest = of.chance_at_rest.map(|_| Block::sentences(text!(words, "before-the-chances-are-those-at-rest")));
    Page::new(words, text!(words, "before-before-movement"))
        .with(
            None,
            [Block::lead(sentences::start(of.start, words))]
                .into_iter()
                .chain(first(of.first, words))
                .chain(of.carbohydrate_g.map(|grams| Block::lead(sentences::carbohydrate(grams, words)))),
        )
        .with(
            Some(text!(words, "before-what-to-mind")),
            [Block::items(of.mind.iter().map(|one| sentences::mind(*one, words)))],
        )
        .with(
            Some(&planned),
            std::iter::once(Block::figures(
                newest(of.measured, words).into_iter().chain([range]).chain(chance_rows(of.chance_at_rest, words)),
            ))
            .chain(at_rest)
            .chain(missing(of.missing, words)),
        )
        .with(None, [Block::sentences(text!(words, "before-these-are-published-starting-points-your")), careful(words)])
}

/// Who treats looks again after so long, in minutes: as every prompt to treat says.
const TREATED_MINUTES: u16 = 15;

fn first(first: Option<First>, words: Words) -> impl Iterator<Item = Block> {
    first
        .map(|first| {
            let again = (first.what == NowFirst::Treat).then(|| words.look_again(TREATED_MINUTES));
            Block::lead([words.sentence(first.sentence)].into_iter().chain(again).collect::<Vec<_>>().join(" "))
        })
        .into_iter()
}

fn missing(missing: Option<crate::before::Missing>, words: Words) -> impl Iterator<Item = Block> {
    missing.map(|missing| Block::sentences(sentences::missing(missing, words))).into_iter()
}

fn careful(words: Words) -> Block {
    Block::sentences(text!(words, "before-feeling-low-counts-more-than-any"))
}

fn newest(measured: Option<Measured>, words: Words) -> Option<Row> {
    let name = text!(words, "before-now").to_owned();
    measured.map(|one| Row { name, values: vec![sentences::measured(one, words)], note: String::new() })
}

fn chance_rows(chance: Option<Chance>, words: Words) -> Vec<Row> {
    chance.map_or_else(Vec::new, |chance| {
        vec![
            row(LOW_LINE_MG_DL, chance.p_low, String::new(), words),
            row(FLOOR_LINE_MG_DL, chance.p_floor, String::new(), words),
        ]
    })
}

fn night_rows(chance: &NightChance, words: Words) -> Vec<Row> {
    let note = |corrected: bool, everybody: f64| {
        let everybody = words.chance(everybody);
        if corrected { say!(words, "before-for-everybody", everybody) } else { String::new() }
    };
    vec![
        row(LOW_LINE_MG_DL, chance.own.p_low, note(chance.corrected_low, chance.everybody.p_low), words),
        row(FLOOR_LINE_MG_DL, chance.own.p_floor, note(chance.corrected_floor, chance.everybody.p_floor), words),
    ]
}

fn row(line_mg_dl: f64, chance: f64, note: String, words: Words) -> Row {
    let line = words.amount(line_mg_dl);
    Row { name: say!(words, "before-chance-of-a-reading-below", line), values: vec![words.chance(chance)], note }
}

/// What the chances of a night rest on.
fn rests_on(chance: &NightChance, words: Words) -> String {
    let (nights, low, floor) = (chance.nights, chance.nights_with_low, chance.nights_with_floor);
    let (below, far_below) = (words.amount(LOW_LINE_MG_DL), words.amount(FLOOR_LINE_MG_DL));
    let mut text = if nights == 0 {
        text!(words, "before-nothing-was-learnt-of-your-own").to_owned()
    } else {
        say!(words, "before-of-your-own-last-nights-with", nights, low, below, floor, far_below)
    };
    if nights > 0 && !(chance.corrected_low || chance.corrected_floor) {
        text.push(' ');
        text.push_str(&if nights < NEEDED_NIGHTS {
            say!(words, "before-these-chances-are-everybody-s-your", nights = NEEDED_NIGHTS)
        } else {
            text!(words, "before-these-chances-are-everybody-s-correcting").to_owned()
        });
    }
    if chance.beyond_fit {
        text.push(' ');
        text.push_str(text!(words, "before-beyond-six-hours-they-are-carried"));
    }
    text
}

/// `45 minutes`, `2.5 hours`.
fn length(minutes: f64, words: Words) -> String {
    if minutes < 120.0 {
        let minutes = words.decimal(minutes, 0);
        say!(words, "before-minutes", minutes)
    } else {
        let hours = words.decimal(minutes / 60.0, 1);
        say!(words, "before-hours", hours)
    }
}
