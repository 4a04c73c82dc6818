//! The report's drawings, as SVG: 360 units wide, which is about what a phone shows of a page, so that their letters are as large there
//! as other text.

use std::fmt::Write;

use super::escaped;
use crate::chart::{DayChart, Tick};
use crate::log::History;
use crate::review::logged::{LoggedHour, logged_by_hour};
use crate::review::metrics::swings::DAY_COVERED;
use crate::review::metrics::{Held, Hour, Lines, Part, Shares, by_date};
use crate::review::{Review, used};
use crate::sentences::review::{of_a_day, part_name};
use crate::wearer::Wearer;
use crate::words::Words;
use crate::{say, text};

/// How wide a drawing is, in its own units.
const WIDTH: f64 = 360.0;
/// Where a drawing by hours begins, right of its scale.
const LEFT: f64 = 34.0;
/// How high the hours are drawn.
const HEIGHT: f64 = 170.0;
/// How high a row of logged amounts is drawn.
const ROW: f64 = 30.0;

/// The fills that distinguish bands without colour.
pub(super) const HATCHES: &str = "<svg width=\"0\" height=\"0\" style=\"position:absolute\" aria-hidden=\"true\"><defs>\
<pattern id=\"dense\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><line class=\"hatch\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"5\"/></pattern>\
<pattern id=\"wide\" width=\"9\" height=\"9\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(-45)\"><line class=\"hatch\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"9\"/></pattern>\
<pattern id=\"cross\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><line class=\"hatch\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"6\"/><line class=\"hatch\" x1=\"0\" y1=\"1\" x2=\"6\" y2=\"1\"/></pattern>\
</defs></svg>";

/// A ruler of 24 hours, shared out among the bands.
pub(super) fn shared_day(shares: &Shares, lines: Lines, words: Words) -> String {
    let parts: Vec<String> = [Part::InRange, Part::BelowLow, Part::AboveHigh]
        .map(|part| format!("{}: {}", part_name(part, lines, words), of_a_day(shares.part(part), words)))
        .to_vec();
    let mut svg = begun(56.0, &parts.join("; "));
    let (mut left, end) = (0.0, WIDTH - 0.5);
    for (share, fill) in [
        (shares.very_low, "class=\"solid\""),
        (shares.low, "fill=\"url(#dense)\""),
        (shares.in_range, "class=\"tint\""),
        (shares.high, "fill=\"url(#wide)\""),
        (shares.very_high, "fill=\"url(#cross)\""),
    ] {
        let width = WIDTH / 100.0 * share;
        let _ = write!(svg, "<rect x=\"{left:.1}\" y=\"2\" width=\"{width:.1}\" height=\"26\" {fill}/>");
        left += width;
        if share > 0.0 && left < end {
            let _ = write!(svg, "<line class=\"ink\" x1=\"{left:.1}\" x2=\"{left:.1}\" y1=\"2\" y2=\"28\"/>");
        }
    }
    let _ = write!(svg, "<rect class=\"ink\" x=\"0.5\" y=\"2\" width=\"{:.1}\" height=\"26\"/>", WIDTH - 1.0);
    for hour in 0..=24_usize {
        let x = (WIDTH / 24.0 * hour as f64).clamp(0.5, end);
        let length = if hour % 6 == 0 { 38 } else { 33 };
        let _ = write!(svg, "<line class=\"rule\" x1=\"{x}\" x2=\"{x}\" y1=\"29\" y2=\"{length}\"/>");
        if hour % 6 == 0 {
            below(&mut svg, x, 51.0, anchor(hour, 25), &format!("{hour} h"));
        }
    }
    svg.push_str("</svg>");
    let _ = write!(svg, "<p class=\"note\">{}</p>", text!(words, "page-report-from-left-filled-very-low"));
    svg
}

/// The chart of the daily profile, with what was logged by hour below it, and both in numbers.
pub(super) fn hours(review: &Review, history: &History, wearer: &Wearer, words: Words) -> String {
    let Some(day) = DayChart::of(review, wearer, words) else {
        return format!("<p class=\"note\">{}</p>", text!(words, "page-report-no-hour-has-readings-on"));
    };
    let logged = logged_by_hour(history, review.period);
    let rows: Vec<Amounts> = logged.iter().flat_map(|hours| Amounts::of(hours, words)).collect();
    let bottom = 8.0 + HEIGHT;
    let mut svg = begun(bottom + 24.0 + (ROW + 12.0) * rows.len() as f64, &day.text);
    profile(&mut svg, &day);
    for (place, row) in (0..).map(f64::from).zip(&rows) {
        row.draw(&mut svg, bottom + 24.0 + (ROW + 12.0) * place + 10.0);
    }
    svg.push_str("</svg>");
    let unit = words.unit();
    let _ = write!(svg, "<p class=\"note\">{}", say!(words, "page-report-in-by-your-own-clock", unit));
    if !rows.is_empty() {
        let _ = write!(svg, " {}", text!(words, "page-report-logged-by-hour"));
    }
    let hours: Vec<&Hour> = review.profile.iter().flatten().collect();
    let heads: String = rows.iter().map(|row| format!("<th>{}</th>", escaped(row.name))).collect();
    let _ = write!(
        svg,
        "</p><details><summary>{}</summary><table><tr><th>{}</th><th>10 %</th><th>25 %</th><th>50 %</th><th>75 %</th><th>90 %</th><th>{}</th>{heads}</tr>",
        text!(words, "page-report-same-in-numbers"),
        text!(words, "page-report-hour"),
        text!(words, "page-report-days"),
    );
    for hour in 0..24_u8 {
        let one = hours.iter().find(|one| one.hour == hour);
        let amounts: Vec<String> = rows.iter().map(|row| row.text(usize::from(hour))).collect();
        if one.is_none() && amounts.iter().all(String::is_empty) {
            continue;
        }
        let glucose = one.map_or_else(
            || "<td></td>".repeat(6),
            |one| {
                let cells = one.mg_dl.iter().map(|mg_dl| format!("<td>{}</td>", words.bare_amount(*mg_dl)));
                cells.chain([format!("<td>{}</td>", one.days)]).collect()
            },
        );
        let amounts: String = amounts.iter().map(|text| format!("<td>{text}</td>")).collect();
        let _ = write!(svg, "<tr><th scope=\"row\">{hour:02}:00</th>{glucose}{amounts}</tr>");
    }
    svg.push_str("</table></details>");
    svg
}

/// Scale, lines and a post for every hour of the clock.
fn profile(svg: &mut String, day: &DayChart) {
    let (lowest, highest) = (day.lowest_mg_dl, day.highest_mg_dl);
    let y = |mg_dl: f64| 8.0 + HEIGHT * (highest - mg_dl) / (highest - lowest);
    for Tick { value, text } in &day.amounts {
        let at = y(*value);
        let _ = write!(
            svg,
            "<line class=\"rule\" x1=\"{LEFT}\" x2=\"{WIDTH}\" y1=\"{at:.1}\" y2=\"{at:.1}\"/><text x=\"29\" y=\"{:.1}\" text-anchor=\"end\">{text}</text>",
            at + 4.0
        );
    }
    for line in &day.lines {
        let at = y(line.mg_dl);
        let _ = write!(svg, "<line class=\"line\" x1=\"{LEFT}\" x2=\"{WIDTH}\" y1=\"{at:.1}\" y2=\"{at:.1}\"/>");
    }
    for post in &day.posts {
        let x = at_hour(post.hours);
        let [least, lower, middle, upper, most] =
            [post.p10_mg_dl, post.p25_mg_dl, post.p50_mg_dl, post.p75_mg_dl, post.p90_mg_dl].map(y);
        let _ = write!(
            svg,
            "<line class=\"thin\" x1=\"{x:.1}\" x2=\"{x:.1}\" y1=\"{most:.1}\" y2=\"{least:.1}\"/>\
             <rect class=\"box\" x=\"{left:.1}\" y=\"{upper:.1}\" width=\"8\" height=\"{:.1}\"/>\
             <line class=\"mid\" x1=\"{left:.1}\" x2=\"{:.1}\" y1=\"{middle:.1}\" y2=\"{middle:.1}\"/>",
            (lower - upper).max(1.0),
            x + 4.0,
            left = x - 4.0,
        );
    }
    for (nth, Tick { value, text }) in day.times.iter().enumerate() {
        let anchor = anchor(nth, day.times.len());
        below(svg, at_hour(*value), 8.0 + HEIGHT + 18.0, anchor, text);
    }
}

/// Logged amounts of one kind by hour.
struct Amounts {
    name: &'static str,
    unit: &'static str,
    hours: [f64; 24],
    decimals: usize,
    words: Words,
}

impl Amounts {
    /// Those kinds of which anything was logged.
    fn of(hours: &[LoggedHour; 24], words: Words) -> Vec<Self> {
        let carbohydrate = Self {
            name: text!(words, "page-report-carbohydrate-a-day"),
            unit: text!(words, "page-report-grams"),
            hours: hours.map(|one| one.carbohydrate_g),
            decimals: 0,
            words,
        };
        let insulin = Self {
            name: text!(words, "page-report-rapid-insulin-a-day"),
            unit: text!(words, "page-report-units"),
            hours: hours.map(|one| one.rapid_units),
            decimals: 1,
            words,
        };
        [carbohydrate, insulin].into_iter().filter(|one| one.most() > 0.0).collect()
    }

    fn most(&self) -> f64 {
        self.hours.iter().copied().fold(0.0, f64::max)
    }

    fn text(&self, hour: usize) -> String {
        let amount = self.hours[hour];
        if amount > 0.0 { self.words.decimal(amount, self.decimals) } else { String::new() }
    }

    /// Bars from a height on, the highest amount beside the top of its bar.
    fn draw(&self, svg: &mut String, top: f64) {
        let most = self.most();
        let foot = top + ROW;
        let _ = write!(
            svg,
            "<text x=\"29\" y=\"{:.1}\" text-anchor=\"end\">{}</text><text x=\"29\" y=\"{foot:.1}\" text-anchor=\"end\">{}</text>\
             <line class=\"rule\" x1=\"{LEFT}\" x2=\"{WIDTH}\" y1=\"{foot:.1}\" y2=\"{foot:.1}\"/>",
            top + 5.0,
            self.words.decimal(most, self.decimals),
            escaped(self.unit),
        );
        for (hour, amount) in (0..).map(f64::from).zip(self.hours).filter(|(_, amount)| *amount > 0.0) {
            let (x, high) = (at_hour(hour + 0.5) - 4.0, (ROW * amount / most).max(1.0));
            let _ = write!(
                svg,
                "<rect class=\"bar\" x=\"{x:.1}\" y=\"{:.1}\" width=\"8\" height=\"{high:.1}\"/>",
                foot - high
            );
        }
    }
}

/// A line for each of the newest fourteen dates: drawn where there are readings, blocks above it for highs and below for lows.
pub(super) fn days(review: &Review, history: &History, wearer: &Wearer, words: Words) -> String {
    const MOST: usize = 14;
    let held = used(history, review.period, review.options);
    let dates = by_date(&held);
    let shown = &dates[dates.len().saturating_sub(MOST)..];
    if shown.is_empty() {
        return format!("<p class=\"note\">{}</p>", text!(words, "page-report-no-readings"));
    }
    let own = Lines::own(wearer);
    let x = |minute: f64| 70.0 + 248.0 * minute.min(1440.0) / 1440.0;
    let (mut rows, mut table) = (String::new(), String::new());
    for (place, (date, day)) in shown.iter().enumerate() {
        let y = 14.0 + 22.0 * place as f64;
        let date = words.day_and_month(*date);
        let shares = Shares::of(day, own).unwrap_or_default();
        let covered = day.iter().map(|one| one.minutes).sum::<f64>() / 1440.0;
        let percent = |share: f64, decimals: usize| match covered {
            covered if covered < DAY_COVERED => "\u{2013}".to_owned(),
            _ => format!("{} %", words.decimal(share, decimals)),
        };
        let share = percent(shares.in_range, 0);
        let _ = write!(
            rows,
            "<text x=\"0\" y=\"{:.1}\">{date}</text><text x=\"{WIDTH}\" y=\"{:.1}\" text-anchor=\"end\">{share}</text>",
            y + 4.0,
            y + 4.0
        );
        // Readings that show the same and follow each other are drawn as one.
        let kind =
            |one: &Held| i8::from(one.shown.is_above(own.high_mg_dl)) - i8::from(one.shown.is_below(own.low_mg_dl));
        let joined = day.chunk_by(|a, b| kind(a) == kind(b) && b.at.minutes_since(a.until()) < 0.5);
        for run in joined {
            let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
            let from = f64::from(first.at.minute_of_day());
            let (left, right) = (x(from), x(from + last.until().minutes_since(first.at)));
            let width = (right - left).max(0.8);
            let _ = match kind(first) {
                0 => write!(
                    rows,
                    "<line class=\"rule\" x1=\"{left:.1}\" x2=\"{right:.1}\" y1=\"{y:.1}\" y2=\"{y:.1}\"/>"
                ),
                1 => write!(
                    rows,
                    "<rect x=\"{left:.1}\" y=\"{:.1}\" width=\"{width:.1}\" height=\"8\" fill=\"url(#wide)\"/><line class=\"ink\" x1=\"{left:.1}\" x2=\"{right:.1}\" y1=\"{y:.1}\" y2=\"{y:.1}\"/>",
                    y - 8.0
                ),
                _ => write!(
                    rows,
                    "<rect class=\"solid\" x=\"{left:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"8\"/>"
                ),
            };
        }
        let (below, above) = (percent(shares.below(), 1), percent(shares.above(), 1));
        let covered = words.decimal(100.0 * covered.min(1.0), 0);
        let _ = write!(
            table,
            "<tr><th scope=\"row\">{date}</th><td>{share}</td><td>{below}</td><td>{above}</td><td>{covered} %</td></tr>"
        );
    }
    let last = if dates.len() > shown.len() {
        format!("<p class=\"note\">{}</p>", say!(words, "page-report-last-days", days = shown.len()))
    } else {
        String::new()
    };
    let height = 22.0 * shown.len() as f64 + 26.0;
    for hour in (0..=24).step_by(6) {
        below(&mut rows, x(60.0 * f64::from(hour)), height - 4.0, "middle", &format!("{hour:02}:00"));
    }
    format!(
        "{last}{}{rows}</svg><p class=\"note\">{} {}</p><details><summary>{}</summary><table><tr><th>{}</th><th>{}</th><th>{}</th><th>{}</th><th>{}</th></tr>{table}</table></details>",
        begun(height, text!(words, "page-report-each-dates-lows-and-highs")),
        text!(words, "page-report-line-where-there-readings-filled"),
        say!(words, "page-report-dash-where-too-little", share = words.decimal(100.0 * DAY_COVERED, 0)),
        text!(words, "page-report-same-in-numbers"),
        text!(words, "page-report-date"),
        text!(words, "page-report-between-lines"),
        text!(words, "page-report-below"),
        text!(words, "page-report-above"),
        text!(words, "page-report-covered"),
    )
}

/// The beginning of a drawing; `label` is what it shows, in words.
fn begun(height: f64, label: &str) -> String {
    format!("<svg viewBox=\"0 0 {WIDTH} {height:.0}\" role=\"img\" aria-label=\"{}\">", escaped(label))
}

/// Where an hour of the day is drawn.
fn at_hour(hours: f64) -> f64 {
    LEFT + (WIDTH - LEFT) / 24.0 * hours
}

/// How a name lies to its place below a level scale, so that it stays within the drawing: the first begins there, the last ends there.
const fn anchor(nth: usize, of: usize) -> &'static str {
    match nth {
        0 => "start",
        _ if nth + 1 == of => "end",
        _ => "middle",
    }
}

/// A name below a place of a level scale.
fn below(svg: &mut String, x: f64, y: f64, anchor: &str, name: &str) {
    let _ = write!(svg, "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\">{name}</text>");
}
