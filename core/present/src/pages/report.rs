//! The review as one HTML file: no script, nothing fetched, two printed pages, light and dark, every drawing in words too.

mod drawings;

use self::drawings::{HATCHES, days, hours, shared_day};
use crate::log::History;
use crate::review::Review;
use crate::review::metrics::Lines;
use crate::review::patterns::patterns;
use crate::sentences::review::{
    Line, basis, episode_line, figure_lines, lows_unknown, own_line, pattern_lines, range_lines, summary,
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
td:nth-child(2){white-space:nowrap}.note{color:var(--soft)}svg{width:100%;max-width:34rem;height:auto;display:block}\
svg text{fill:var(--soft);font:12px Georgia,serif}svg .ink{stroke:var(--ink);fill:none}\
svg .rule{stroke:var(--rule)}svg .box,svg .bar{fill:var(--deep)}svg .thin{stroke:var(--deep);stroke-width:1.6}\
svg .mid{stroke:var(--paper);stroke-width:2}svg .line{stroke:var(--ink);stroke-dasharray:5 4}\
svg .solid{fill:var(--ink)}svg .tint{fill:var(--tint)}svg .hatch{stroke:var(--ink);stroke-width:1.4}\
ul{margin:.2rem 0;padding-left:1.1rem;font-size:.88rem}summary{cursor:pointer;color:var(--soft)}\
.caution{border-top:2px solid var(--ink);margin-top:1rem;padding-top:.4rem;font-size:.82rem}\
@media print{html{font-size:12.5px}details{display:none}section.second{break-before:page}body{padding:0;font-size:12px}\
h2{margin:.7rem 0 .2rem}td,th{padding-top:.08rem;padding-bottom:.08rem}section.second svg{max-height:82mm}\
ul{columns:2}}";

/// Writes the report of a period, beside the period before it if it is given. `name` stands on top where the wearer wants one.
#[must_use]
pub fn html(
    review: &Review,
    before: Option<&Review>,
    history: &History,
    wearer: &Wearer,
    words: Words,
    now: Moment,
    name: Option<&str>,
) -> String {
    let looked = patterns(review, history);
    let title = escaped(&words.marked(text!(words, "page-report-glucose-review")));
    let lang = words.tag();
    let mut page = Page(format!(
        "<!doctype html>\n<html lang=\"{lang}\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" \
         content=\"width=device-width,initial-scale=1\"><title>{title}</title><style>{STYLE}</style></head><body>{HATCHES}\n"
    ));
    page.put(&format!("<section><h1>{title}</h1>"));
    if let Some(name) = name {
        page.paragraph("", name);
    }
    basis(review, words).iter().for_each(|text| page.paragraph("note", text));
    page.heading(text!(words, "page-report-in-short"));
    page.paragraph("", &summary(review, before, &looked, words).join(" "));
    page.heading(text!(words, "page-report-average-day-shared-out"));
    if let Ok(shares) = review.shares {
        page.put(&shared_day(&shares, Lines::of(review.options.group), words));
    }
    let mut lines = range_lines(review, words);
    lines.push(own_line(review, Lines::own(wearer), words));
    page.table(&lines);
    page.heading(text!(words, "page-report-hour-by-hour"));
    page.put(&hours(review, history, wearer, words));
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
    // On the second of the printed pages too.
    page.paragraph("", &words.marked(text!(words, "page-report-no-medical-device-and-names")));
    let written = words.date_time(now);
    page.paragraph("note", &say!(words, "page-report-written", written));
    page.put("</div></section></body></html>\n");
    page.0
}

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
        if let Some(unknown) = lows_unknown(review, words) {
            return self.paragraph("", &unknown);
        }
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
