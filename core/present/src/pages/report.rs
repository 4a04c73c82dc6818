//! The review as one HTML file: no script, nothing fetched, two printed pages, light and dark, every drawing in words too.

use std::fmt::Write;

use crate::log::History;
use crate::review::metrics::Part;
use crate::review::metrics::{Hour, Lines, Measured, Shares, ranges::whole};
use crate::review::patterns::patterns;
use crate::review::{Review, used};
use crate::sentences::review::{
    Line, basis, episode_line, figure_lines, of_a_day, own_line, part_name, pattern_lines, range_lines, summary,
};
use crate::time::Moment;
use crate::wearer::Wearer;
use crate::words::Words;
use crate::{say, text};

/// Ink on paper; the hatches carry what colour would.
const STYLE: &str = "\
:root{color-scheme:light dark;--paper:#fbfaf7;--ink:#1d2430;--soft:#5d6675;--rule:#c9c6bc;--tint:#dfe6ee;--deep:#2f4a6d}\
@media(prefers-color-scheme:dark){:root{--paper:#15181d;--ink:#e8e6df;--soft:#a3a9b4;--rule:#454a53;--tint:#2b3644;--deep:#a9c4e6}}\
@media print{:root{color-scheme:light;--paper:#fff;--ink:#000;--soft:#444;--rule:#aaa;--tint:#e3e8ee;--deep:#2f4a6d}}\
@page{size:A4;margin:14mm}\
*{box-sizing:border-box}\
body{margin:0 auto;max-width:46rem;padding:1.2rem;background:var(--paper);color:var(--ink);\
font:15px/1.45 Georgia,'Times New Roman',serif}\
h1{font-size:1.5rem;margin:0 0 .3rem}h2{font-size:1.1rem;margin:1.1rem 0 .3rem}\
p{margin:.3rem 0}table{border-collapse:collapse;width:100%;font-size:.88rem}\
td,th{text-align:left;padding:.16rem .6rem .16rem 0;border-bottom:1px solid var(--rule);vertical-align:top;font-weight:normal}\
td:nth-child(2){white-space:nowrap}.note{color:var(--soft)}svg{width:100%;height:auto;display:block}\
svg text{fill:var(--soft);font:11px Georgia,serif}svg .ink{stroke:var(--ink);fill:none}\
svg .rule{stroke:var(--rule)}svg .box{fill:var(--deep)}svg .thin{stroke:var(--deep);stroke-width:1.6}\
svg .mid{stroke:var(--paper);stroke-width:2}svg .line{stroke:var(--ink);stroke-dasharray:5 4}\
svg .solid{fill:var(--ink)}svg .tint{fill:var(--tint)}svg .hatch{stroke:var(--ink);stroke-width:1.4}\
ul{margin:.2rem 0;padding-left:1.1rem;font-size:.88rem}summary{cursor:pointer;color:var(--soft)}\
.caution{border-top:2px solid var(--ink);margin-top:1rem;padding-top:.4rem;font-size:.82rem}\
@media print{html{font-size:12.5px}details{display:none}section.second{break-before:page}body{padding:0;font-size:12px}\
h2{margin:.7rem 0 .2rem}td,th{padding-top:.08rem;padding-bottom:.08rem}section.second svg{max-height:82mm}\
ul{columns:2}}";

/// Writes the report of a period, beside the period before it if it is given.
#[must_use]
pub fn html(
    review: &Review,
    before: Option<&Review>,
    history: &History,
    wearer: &Wearer,
    words: Words,
    now: Moment,
) -> String {
    let looked = patterns(review, history);
    let title = text!(words, "page-report-glucose-review");
    let lang = words.tag();
    let mut page = Page(format!(
        "<!doctype html>\n<html lang=\"{lang}\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" \
         content=\"width=device-width,initial-scale=1\"><title>{title}</title><style>{STYLE}</style></head><body>{HATCHES}\n"
    ));
    page.put(&format!("<section><h1>{title}</h1>"));
    basis(review, words).iter().for_each(|text| page.paragraph("note", text));
    page.heading(text!(words, "page-report-in-short"));
    page.paragraph("", &summary(review, before, &looked, words).join(" "));
    page.heading(text!(words, "page-report-average-day-shared-out"));
    if let Ok(shares) = review.shares {
        page.put(&shared_day(&shares, Lines::of(review.manner.group), words));
    }
    let mut lines = range_lines(review, words);
    lines.push(own_line(review, Lines::own(wearer), words));
    page.table(&lines);
    page.heading(text!(words, "page-report-hour-by-hour"));
    page.put(&hours(&review.profile, Lines::own(wearer), words));
    page.put("</section>\n<section class=\"second\">");
    page.heading(text!(words, "page-report-level-spread-and-risk"));
    page.table(&figure_lines(review, words));
    page.heading(text!(words, "page-report-day-by-day"));
    page.put(&days(review, history, wearer, words));
    page.heading(text!(words, "page-report-lows-quarter-hour-and-more"));
    page.episodes(review, words);
    page.heading(text!(words, "page-report-patterns"));
    page.list(&pattern_lines(&looked, words));
    page.put("<div class=\"caution\">");
    page.paragraph("", text!(words, "page-report-no-medical-device-and-names"));
    let written = now.local().format("%Y-%m-%d %H:%M");
    page.paragraph("note", &say!(words, "page-report-written", written));
    page.put("</div></section></body></html>\n");
    page.0
}

/// The fills that tell bands apart without colour.
const HATCHES: &str = "<svg width=\"0\" height=\"0\" style=\"position:absolute\" aria-hidden=\"true\"><defs>\
<pattern id=\"dense\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><line class=\"hatch\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"5\"/></pattern>\
<pattern id=\"wide\" width=\"9\" height=\"9\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(-45)\"><line class=\"hatch\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"9\"/></pattern>\
<pattern id=\"cross\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><line class=\"hatch\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"6\"/><line class=\"hatch\" x1=\"0\" y1=\"1\" x2=\"6\" y2=\"1\"/></pattern>\
</defs></svg>";

struct Page(String);

impl Page {
    fn put(&mut self, markup: &str) {
        self.0.push_str(markup);
        self.0.push('\n');
    }

    fn heading(&mut self, text: &str) {
        self.put(&format!("<h2>{}</h2>", escaped(text)));
    }

    fn paragraph(&mut self, class: &str, text: &str) {
        let class = if class.is_empty() { String::new() } else { format!(" class=\"{class}\"") };
        self.put(&format!("<p{class}>{}</p>", escaped(text)));
    }

    fn table(&mut self, lines: &[Line]) {
        self.put("<table>");
        for Line { name, value, note } in lines {
            self.put(&format!(
                "<tr><th scope=\"row\">{}</th><td>{}</td><td class=\"note\">{}</td></tr>",
                escaped(name),
                escaped(value),
                escaped(note)
            ));
        }
        self.put("</table>");
    }

    fn list(&mut self, items: &[String]) {
        self.put("<ul>");
        items.iter().for_each(|item| self.put(&format!("<li>{}</li>", escaped(item))));
        self.put("</ul>");
    }

    /// The newest lows, as many as the page holds.
    fn episodes(&mut self, review: &Review, words: Words) {
        const MOST: usize = 12;
        if review.lows.is_empty() {
            return self.paragraph("", text!(words, "page-report-none"));
        }
        let items: Vec<String> = review.lows.iter().rev().take(MOST).map(|low| episode_line(low, words)).collect();
        self.list(&items);
        if let Some(more @ 1..) = review.lows.len().checked_sub(MOST) {
            let text = say!(words, "page-report-and-earlier-ones", more);
            self.paragraph("note", &text);
        }
    }
}

/// Text as HTML shows it.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// A ruler of 24 hours, shared out among the bands.
fn shared_day(shares: &Shares, lines: Lines, words: Words) -> String {
    let told: Vec<String> = [Part::InRange, Part::BelowLow, Part::AboveHigh]
        .map(|part| format!("{}: {}", part_name(part, lines, words), of_a_day(shares.part(part), words)))
        .to_vec();
    let mut svg = format!("<svg viewBox=\"0 0 720 62\" role=\"img\" aria-label=\"{}\">", escaped(&told.join("; ")));
    let mut left = 0.0;
    for (share, fill) in [
        (shares.very_low, "class=\"solid\""),
        (shares.low, "fill=\"url(#dense)\""),
        (shares.in_range, "class=\"tint\""),
        (shares.high, "fill=\"url(#wide)\""),
        (shares.very_high, "fill=\"url(#cross)\""),
    ] {
        let width = 7.2 * share;
        let _ = write!(svg, "<rect x=\"{left:.1}\" y=\"2\" width=\"{width:.1}\" height=\"28\" {fill}/>");
        left += width;
        if share > 0.0 && left < 719.5 {
            let _ = write!(svg, "<line class=\"ink\" x1=\"{left:.1}\" x2=\"{left:.1}\" y1=\"2\" y2=\"30\"/>");
        }
    }
    svg.push_str("<rect class=\"ink\" x=\"0.5\" y=\"2\" width=\"719\" height=\"28\"/>");
    for hour in 0..=24 {
        let x = (f64::from(hour) * 30.0).clamp(0.5, 719.5);
        let length = if hour % 6 == 0 { 40 } else { 35 };
        let _ = write!(svg, "<line class=\"rule\" x1=\"{x}\" x2=\"{x}\" y1=\"31\" y2=\"{length}\"/>");
        if hour % 6 == 0 {
            let anchor = match hour {
                0 => "start",
                24 => "end",
                _ => "middle",
            };
            let _ = write!(svg, "<text x=\"{x}\" y=\"52\" text-anchor=\"{anchor}\">{hour} h</text>");
        }
    }
    svg.push_str("</svg>");
    let key = text!(words, "page-report-from-left-filled-very-low");
    let _ = write!(svg, "<p class=\"note\">{key}</p>");
    svg
}

/// A post for every hour of the clock: nine in ten less the outer tenths, the middle half, the median as a notch.
fn hours(profile: &[Measured<Hour>], own: Lines, words: Words) -> String {
    let told: Vec<&Hour> = profile.iter().flatten().collect();
    if told.is_empty() {
        let text = text!(words, "page-report-no-hour-has-readings-on");
        return format!("<p class=\"note\">{text}</p>");
    }
    let top = told.iter().map(|hour| hour.mg_dl[4]).fold(own.high_mg_dl + 60.0, f64::max) + 10.0;
    let y = |mg_dl: f64| 8.0 + 200.0 * (top - mg_dl) / (top - 40.0);
    let label = text!(words, "page-report-glucose-by-hour-day-numbers");
    let mut svg = format!("<svg viewBox=\"0 0 720 232\" role=\"img\" aria-label=\"{label}\">");
    for line in [own.floor_mg_dl, own.low_mg_dl, own.high_mg_dl] {
        let (at, amount) = (y(line), words.bare_amount(line));
        let _ = write!(
            svg,
            "<line class=\"line\" x1=\"34\" x2=\"720\" y1=\"{at:.1}\" y2=\"{at:.1}\"/><text x=\"28\" y=\"{:.1}\" text-anchor=\"end\">{amount}</text>",
            at + 4.0
        );
    }
    for hour in &told {
        let x = 49.0 + 28.0 * f64::from(hour.hour);
        let [p10, p25, p50, p75, p90] = hour.mg_dl.map(y);
        let _ = write!(
            svg,
            "<line class=\"thin\" x1=\"{x}\" x2=\"{x}\" y1=\"{p90:.1}\" y2=\"{p10:.1}\"/>\
             <rect class=\"box\" x=\"{}\" y=\"{p75:.1}\" width=\"14\" height=\"{:.1}\"/>\
             <line class=\"mid\" x1=\"{}\" x2=\"{}\" y1=\"{p50:.1}\" y2=\"{p50:.1}\"/>",
            x - 7.0,
            (p25 - p75).max(1.0),
            x - 7.0,
            x + 7.0,
        );
    }
    for hour in (0..24).step_by(3) {
        let _ = write!(svg, "<text x=\"{}\" y=\"226\" text-anchor=\"middle\">{hour:02}:00</text>", 35 + 28 * hour);
    }
    svg.push_str("</svg>");
    let unit = words.unit();
    let _ = write!(
        svg,
        "<p class=\"note\">{}</p><details><summary>{}</summary><table><tr><th>{}</th><th>10 %</th><th>25 %</th><th>50 %</th><th>75 %</th><th>90 %</th><th>{}</th></tr>",
        say!(words, "page-report-in-by-your-own-clock", unit),
        text!(words, "page-report-same-in-numbers"),
        text!(words, "page-report-hour"),
        text!(words, "page-report-days"),
    );
    for hour in told {
        let cells: String = hour.mg_dl.iter().map(|mg_dl| format!("<td>{}</td>", words.bare_amount(*mg_dl))).collect();
        let _ = write!(svg, "<tr><th scope=\"row\">{:02}:00</th>{cells}<td>{}</td></tr>", hour.hour, hour.days);
    }
    svg.push_str("</table></details>");
    svg
}

/// A line for each of the newest fourteen dates: drawn where there are readings, blocks above it for highs and below for lows.
fn days(review: &Review, history: &History, wearer: &Wearer, words: Words) -> String {
    const MOST: usize = 14;
    let held = used(history, review.period, review.manner);
    let dates: Vec<_> = held.chunk_by(|a, b| a.at.local_date() == b.at.local_date()).collect();
    let shown = &dates[dates.len().saturating_sub(MOST)..];
    if shown.is_empty() {
        return format!("<p class=\"note\">{}</p>", text!(words, "page-report-no-readings"));
    }
    let own = Lines::own(wearer);
    let mut rows = String::new();
    let mut table = String::new();
    for (place, day) in shown.iter().enumerate() {
        let y = 14.0 + 22.0 * place as f64;
        let Some(first) = day.first() else { continue };
        let date = first.at.local_date();
        let shares = Shares::of(day, own).unwrap_or_default();
        let share = words.decimal(shares.in_range, 0);
        let _ = write!(
            rows,
            "<text x=\"0\" y=\"{:.1}\">{date}</text><text x=\"720\" y=\"{:.1}\" text-anchor=\"end\">{share} %</text>",
            y + 4.0,
            y + 4.0
        );
        // Readings that tell the same and follow each other are drawn as one.
        let kind =
            |mg_dl: f64| (whole(mg_dl) > whole(own.high_mg_dl)) as i8 - (whole(mg_dl) < whole(own.low_mg_dl)) as i8;
        let joined = day.chunk_by(|a, b| kind(a.mg_dl) == kind(b.mg_dl) && b.at.minutes_since(a.until()) < 0.5);
        for run in joined {
            let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
            let x = |minute: f64| 84.0 + 590.0 * minute.min(1440.0) / 1440.0;
            let from = f64::from(first.at.minute_of_day());
            let (left, right) = (x(from), x(from + last.until().minutes_since(first.at)));
            let width = (right - left).max(0.8);
            let _ = match kind(first.mg_dl) {
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
        let (below, above) = (words.decimal(shares.below(), 1), words.decimal(shares.above(), 1));
        let _ = write!(
            table,
            "<tr><th scope=\"row\">{date}</th><td>{share} %</td><td>{below} %</td><td>{above} %</td></tr>"
        );
    }
    let height = 22.0 * shown.len() as f64 + 26.0;
    for hour in (0..=24).step_by(6) {
        let _ = write!(
            rows,
            "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{hour:02}:00</text>",
            84.0 + 590.0 * f64::from(hour) / 24.0,
            height - 4.0
        );
    }
    let label = text!(words, "page-report-each-dates-lows-and-highs");
    format!(
        "<svg viewBox=\"0 0 720 {height:.0}\" role=\"img\" aria-label=\"{label}\">{rows}</svg><p class=\"note\">{}</p>\
         <details><summary>{}</summary><table><tr><th>{}</th><th>{}</th><th>{}</th><th>{}</th></tr>{table}</table></details>",
        text!(words, "page-report-line-where-there-readings-filled"),
        text!(words, "page-report-same-in-numbers"),
        text!(words, "page-report-date"),
        text!(words, "page-report-between-lines"),
        text!(words, "page-report-below"),
        text!(words, "page-report-above"),
    )
}
