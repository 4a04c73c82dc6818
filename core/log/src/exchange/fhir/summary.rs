//! A review's figures as the summary of HL7's guide for continuous glucose monitoring.

use std::io::{self, Write};

use serde_json::{Value, json};

use super::codes::{self, Named};
use super::write::{Bundle, NotCarried, concept, profile, quantity};
use crate::log::EntryId;
use crate::time::Moment;
use crate::units::MG_DL_PER_MMOL_L;

/// The figures that the guide's summary is made of, over a period.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// The first moment of the period.
    pub from: Moment,
    /// The end of the period; not part of it.
    pub until: Moment,
    /// Time below 54, 54 to 69, 70 to 180, 181 to 250 and above 250 mg/dL, in percent.
    pub shares_percent: [f64; 5],
    /// Mean glucose, in mg/dL.
    pub mean_mg_dl: f64,
    /// Coefficient of variation, in percent.
    pub cv_percent: f64,
    /// Glucose management indicator, in percent.
    pub gmi_percent: f64,
    /// Days with readings.
    pub days: f64,
    /// Time with readings, in percent.
    pub active_percent: f64,
}

/// What is summed up, one resource each: its profile, its code, and its value or its parts.
type Member = (&'static str, Named, Value);

fn rounded(amount: f64, decimals: i32) -> f64 {
    let scale = 10_f64.powi(decimals);
    (amount * scale).round() / scale
}

fn members(figures: &Summary) -> Vec<Member> {
    let value = |amount: f64, unit: &str, code: &str| json!({ "valueQuantity": quantity(amount, unit, code) });
    let [very_low, low, in_range, high, very_high] = figures.shares_percent;
    // "At least two decimal places" for times in ranges: two are written.
    let bands = [
        (very_low, ("104642-4", "Time below range, very low")),
        (low, ("104641-6", "Time below range, low")),
        (in_range, ("97510-2", "Time in range")),
        (high, ("104640-8", "Time above range, high")),
        (very_high, ("104639-0", "Time above range, very high")),
    ];
    let part = |(percent, named): (f64, Named)| json!({ "code": concept(codes::LOINC, named), "valueQuantity": quantity(rounded(percent, 2), "%", "%") });
    let (mean, active) = (figures.mean_mg_dl, figures.active_percent);
    vec![
        (
            "times-in-ranges",
            ("106793-3", "Continuous glucose monitoring time in range panel"),
            json!({ "component": bands.map(part) }),
        ),
        ("mean-glucose-mass-per-volume", ("97507-8", "Mean glucose, mass"), value(rounded(mean, 1), "mg/dl", "mg/dL")),
        (
            "mean-glucose-moles-per-volume",
            ("105273-7", "Mean glucose, moles"),
            value(rounded(mean / MG_DL_PER_MMOL_L, 2), "mmol/l", "mmol/L"),
        ),
        ("gmi", ("97506-0", "Glucose management indicator"), value(rounded(figures.gmi_percent, 1), "%", "%")),
        (
            "coefficient-of-variation",
            ("104638-2", "Coefficient of variation of glucose"),
            value(rounded(figures.cv_percent, 1), "%", "%"),
        ),
        ("days-of-wear", ("104636-6", "Days of wear"), value(figures.days, "days", "d")),
        ("sensor-active-percentage", ("104637-4", "Sensor active"), value(rounded(active, 1), "%", "%")),
    ]
}

impl<W: Write> Bundle<W> {
    /// Adds a period's figures: the summary and what it is made of. Where there are none, [`NotCarried::Summary`] is counted.
    ///
    /// # Errors
    /// What the output fails with.
    pub fn put_summary(&mut self, summary: Option<&Summary>) -> io::Result<()> {
        let Some(figures) = summary else {
            self.leave_out(NotCarried::Summary);
            return Ok(());
        };
        let mut named = Vec::new();
        for (name, code, value) in members(figures) {
            let id = self.put_figure(figures, &format!("cgm-summary-{name}"), code, &value)?;
            named.push(json!({ "reference": format!("urn:uuid:{id}") }));
        }
        let summary = ("107931-8", "Continuous glucose monitoring summary panel");
        self.put_figure(figures, "cgm-summary", summary, &json!({ "hasMember": named })).map(|_| ())
    }

    fn put_figure(&mut self, figures: &Summary, name: &str, code: Named, value: &Value) -> io::Result<EntryId> {
        let id = EntryId::fresh(self.now);
        // The guide asks for dates; the last day is the one the period ends in.
        let (from, until) = (figures.from.local_date(), figures.until.plus_ms(-1).local_date());
        let mut resource = json!({
            "resourceType": "Observation",
            "id": id.to_string(),
            "meta": profile(name),
            "status": "final",
            "category": [{ "coding": [{ "system": codes::CATEGORY, "code": "laboratory" }] }],
            "code": concept(codes::LOINC, code),
            "subject": self.subject,
            "effectivePeriod": { "start": from.to_string(), "end": until.to_string() },
            "issued": self.now.to_rfc3339(),
        });
        for (key, part) in value.as_object().into_iter().flatten() {
            resource[key] = part.clone();
        }
        self.carried.figures += 1;
        self.add(id, &resource).map(|()| id)
    }
}
