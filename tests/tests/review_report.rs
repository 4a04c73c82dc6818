//! The review's HTML file and sentences: whole, safe to open, in both languages, whatever the record.

#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::log::{Carbohydrate, Dose, History, InsulinKind, Purpose, Reading};
use ebbstead_core::pages::report::html;
use ebbstead_core::review::patterns::{Looked, patterns};
use ebbstead_core::review::{Period, Review, ReviewOptions};
use ebbstead_core::sentences::review::{basis, figure_lines, range_lines, summary};
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;

fn start() -> Moment {
    Moment::parse("2026-03-01T00:00:00+01:00").unwrap()
}

/// Readings every five minutes: a daily swing, with a low each night.
fn history(count: u32) -> History {
    let amount = |k: u32| {
        let minute = f64::from(k % 288) * 5.0;
        130.0 + 80.0 * (minute / 1440.0 * std::f64::consts::TAU - 2.0).sin()
    };
    let reading =
        |k: u32| Reading::new(start().plus_minutes(f64::from(k) * 5.0), Glucose::from_mg_dl(amount(k)).unwrap());
    History { readings: (0..count).map(reading).collect(), ..History::default() }
}

fn reviewed(history: &History) -> (Review, Review) {
    let of = |from: f64, until: f64| {
        let period = Period::new(start().plus_minutes(from * 1440.0), start().plus_minutes(until * 1440.0)).unwrap();
        Review::of(history, &Wearer::default(), period, ReviewOptions::default())
    };
    (of(14.0, 28.0), of(0.0, 14.0))
}

fn all_words() -> [Words; 4] {
    let both = |language| [GlucoseUnit::MgDl, GlucoseUnit::MmolL].map(|unit| Words::new(language, unit));
    let ([a, b], [c, d]) = (both(Language::ENGLISH), both(Language::GERMAN));
    [a, b, c, d]
}

/// Every element that opens closes, in order; what HTML leaves open by itself is let pass.
fn is_well_formed(page: &str) -> Result<(), String> {
    let mut open: Vec<&str> = Vec::new();
    for tag in page.split('<').skip(1).filter_map(|rest| rest.split('>').next()) {
        let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap();
        if tag.starts_with('!') || tag.ends_with('/') || name == "meta" {
            continue;
        }
        if tag.starts_with('/') {
            match open.pop() {
                Some(last) if last == name => {}
                last => return Err(format!("</{name}> closes {last:?}")),
            }
        } else {
            open.push(name);
        }
    }
    if open.is_empty() { Ok(()) } else { Err(format!("left open: {open:?}")) }
}

#[test]
fn the_file_is_whole_and_fetches_nothing() {
    for count in [0, 1, 288 * 3, 288 * 28] {
        let history = history(count);
        let (now, before) = reviewed(&history);
        for words in all_words() {
            let page =
                html(&now, Some(&before), &history, &Wearer::default(), words, start().plus_minutes(41_000.0), None);
            is_well_formed(&page).unwrap_or_else(|why| panic!("{count}: {why}"));
            for never in ["<script", "http:", "https:", "url(h", "@import", "NaN", "inf\"", "src="] {
                assert!(!page.contains(never), "{count}: {never}");
            }
            assert!(page.contains("prefers-color-scheme:dark") && page.contains("@page"));
            assert_eq!(page.matches("<svg viewBox").count(), page.matches("role=\"img\" aria-label=\"").count());
        }
    }
}

#[test]
fn letters_of_drawings_are_large_enough_on_a_phone_and_scales_reach_over_all() {
    let history = history(288 * 28);
    let (now, _) = reviewed(&history);
    for words in all_words() {
        let page = html(&now, None, &history, &Wearer::default(), words, start().plus_minutes(41_000.0), None);
        // A phone of 390 px, less the page's own margin of 1.2 rem at 16 px either side.
        let shown = 390.0 - 2.0 * 1.2 * 16.0;
        let number = |text: &str| -> f64 {
            text.split(|c: char| !c.is_ascii_digit() && c != '.' && c != '-').next().unwrap().parse().unwrap()
        };
        let size = number(page.split("svg text{fill:var(--soft);font:").nth(1).unwrap());
        for drawing in page.split("<svg viewBox=\"0 0 ").skip(1) {
            assert!(size * shown / number(drawing) >= 11.0, "{size} of {}", number(drawing));
        }
        // The scale's marks lie at or beyond every end of a post.
        let hours = page.split("<svg viewBox=\"0 0 ").nth(2).unwrap().split("</svg>").next().unwrap();
        let ends = |class: &str| -> Vec<f64> {
            let begin = format!("<line class=\"{class}\"");
            let lines = hours.split(&begin).skip(1);
            lines.flat_map(|line| ["y1=\"", "y2=\""].map(|end| number(line.split(end).nth(1).unwrap()))).collect()
        };
        let (marks, posts) = (ends("rule"), ends("thin"));
        let most = |of: &[f64]| of.iter().copied().fold(f64::MIN, f64::max);
        let least = |of: &[f64]| of.iter().copied().fold(f64::MAX, f64::min);
        assert!(posts.len() == 48 && marks.len() >= 8, "{} {}", posts.len(), marks.len());
        assert!(most(&marks) >= most(&posts) && least(&marks) <= least(&posts), "{marks:?} {posts:?}");
    }
}

#[test]
fn carbohydrate_and_insulin_are_shown_by_hour_where_they_were_logged() {
    let mut history = history(288 * 28);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let page = |history: &History| {
        let (now, _) = reviewed(history);
        html(&now, None, history, &Wearer::default(), words, start().plus_minutes(41_000.0), None)
    };
    let without = page(&history);
    assert!(!without.contains("class=\"bar\"") && !without.contains("Carbohydrate, g a day"));
    // 42 g at seven on each of the last fourteen days, and 7 units at eight on one of them.
    for day in 14..28 {
        let at = start().plus_minutes(f64::from(day) * 1440.0 + 425.0);
        history.carbohydrate.push(Carbohydrate { at, grams: 42.0, purpose: Purpose::Meal });
    }
    let at = start().plus_minutes(20.0 * 1440.0 + 485.0);
    history.doses.push(Dose { at, kind: InsulinKind::Rapid, units: 7.0 });
    let with = page(&history);
    assert_eq!(with.matches("class=\"bar\"").count(), 2);
    let row = |hour: &str| {
        with.split(&format!("<th scope=\"row\">{hour}</th>")).nth(1).unwrap().split("</tr>").next().unwrap()
    };
    assert!(row("07:00").ends_with("<td>42</td><td></td>"), "{}", row("07:00"));
    assert!(row("08:00").ends_with("<td></td><td>0.5</td>"), "{}", row("08:00"));
}

#[test]
fn day_by_day_says_which_days_it_shows_and_judges_none_of_which_little_is_read() {
    let words = all_words()[0];
    let page = |history: &History| {
        let (review, before) = reviewed(history);
        html(&review, Some(&before), history, &Wearer::default(), words, start(), None)
    };
    let mut cut = history(28 * 288);
    let whole = page(&cut);
    assert!(!whole.contains("<td>\u{2013}</td>"), "every day is read");
    // Of the last date six hours are left.
    let last = cut.readings.last().unwrap().at.local_date();
    cut.readings.retain(|one| one.at.local_date() != last || one.at.minute_of_day() < 360);
    let page = page(&cut);
    assert_eq!(page.matches("<td>\u{2013}</td>").count(), 3, "one day is not judged");
    assert!(page.contains("<td>25 %</td>"), "and how much of it is read is said");
}

#[test]
fn a_name_stands_on_top_as_text_only() {
    let history = history(288 * 28);
    let (now, _) = reviewed(&history);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let page = html(&now, None, &history, &Wearer::default(), words, start(), Some("A. Wearer <b>"));
    is_well_formed(&page).unwrap();
    assert!(page.contains("</h1>\n<p>A. Wearer &lt;b&gt;</p>"), "{}", &page[..400]);
}

#[test]
fn the_sentences_say_how_it_went_and_beside_what() {
    let history = history(288 * 28);
    let (now, before) = reviewed(&history);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let said = summary(&now, Some(&before), &Looked::default(), words).join(" ");
    assert!(said.starts_with("You were in range ") && said.contains("much like the time before"), "{said}");
    assert!(said.contains("You were low 14 times") || said.contains("You were low 15 times"), "{said}");
    // What was found leads.
    let looked = patterns(&now, &history);
    let led = summary(&now, Some(&before), &looked, words);
    assert!(led[0].starts_with("On 14 of 14 ") && led.join(" ").ends_with(&said), "{led:?}");
    let german = summary(&now, None, &looked, Words::new(Language::GERMAN, GlucoseUnit::MmolL)).join(" ");
    assert!(german.contains("im Zielbereich") && german.contains(','), "{german}");
    // The shares shown add up.
    assert_eq!(range_lines(&now, words).len(), 5);
}

#[test]
fn too_little_is_said_in_place_of_a_figure() {
    let history = history(3);
    let period = Period::new(start(), start().plus_minutes(14.0 * 1440.0)).unwrap();
    let review = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
    for words in all_words() {
        for line in figure_lines(&review, words).iter().chain(&range_lines(&review, words)) {
            assert!(line.value.contains("not enough data: have") || line.value.contains("zu wenig Daten"), "{line:?}");
        }
        assert_eq!(summary(&review, None, &patterns(&review, &history), words).len(), 1);
        assert_eq!(basis(&review, words).len(), 2);
    }
}
