//! A review's figures as the summary of HL7's guide for continuous glucose monitoring.

use std::io::{self, Write};

use serde_json::{Value, json};

use super::codes::{self, Named};
use super::write::{Bundle, NotCarried, concept, profile, quantity};
use crate::log::EntryId;
use crate::review::Review;
use crate::review::metrics::{Group, Shares, Spread};
use crate::units::MG_DL_PER_MMOL_L;

/// The figures the profile asks for.
struct Figures {
    shares: Shares,
    spread: Spread,
    gmi_percent: f64,
    days: f64,
    active_percent: f64,
}

impl Figures {
    /// The figures of a review; nothing where one is missing, or where the review's ranges are not those of the codes, which are made
    /// for 70 to 180 mg/dL.
    #[allow(clippy::cast_precision_loss)] // days
    fn of(review: &Review) -> Option<Self> {
        if review.manner.group == Group::Type1Pregnancy {
            return None;
        }
        Some(Self {
            shares: review.shares.ok()?,
            spread: review.spread.ok()?,
            gmi_percent: review.gmi_percent.ok()?,
            days: review.stands_on.dates as f64,
            active_percent: 100.0 * review.stands_on.share(),
        })
    }
}

/// What is summed up, one resource each: its profile, its code, and its value or its parts.
type Member = (&'static str, Named, Value);

fn rounded(amount: f64, decimals: i32) -> f64 {
    let scale = 10_f64.powi(decimals);
    (amount * scale).round() / scale
}

fn members(figures: &Figures) -> Vec<Member> {
    let value = |amount: f64, unit: &str, code: &str| json!({ "valueQuantity": quantity(amount, unit, code) });
    let shares = &figures.shares;
    // "At least two decimal places" for times in ranges: two are told.
    let bands = [
        (shares.very_low, ("104642-4", "Time below range, very low")),
        (shares.low, ("104641-6", "Time below range, low")),
        (shares.in_range, ("97510-2", "Time in range")),
        (shares.high, ("104640-8", "Time above range, high")),
        (shares.very_high, ("104639-0", "Time above range, very high")),
    ];
    let part = |(percent, named): (f64, Named)| json!({ "code": concept(codes::LOINC, named), "valueQuantity": quantity(rounded(percent, 2), "%", "%") });
    let (mean, active) = (figures.spread.mean_mg_dl, figures.active_percent);
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
            value(rounded(figures.spread.cv_percent(), 1), "%", "%"),
        ),
        ("days-of-wear", ("104636-6", "Days of wear"), value(figures.days, "days", "d")),
        ("sensor-active-percentage", ("104637-4", "Sensor active"), value(rounded(active, 1), "%", "%")),
    ]
}

impl<W: Write> Bundle<W> {
    /// Adds a review's figures: the summary and what it is made of. Where one of the figures the profile asks for is missing, none is
    /// written and [`NotCarried::Summary`] is counted.
    ///
    /// # Errors
    /// What the output fails with.
    pub fn put_review(&mut self, review: &Review) -> io::Result<()> {
        let Some(figures) = Figures::of(review) else {
            self.leave_out(NotCarried::Summary);
            return Ok(());
        };
        let mut named = Vec::new();
        for (name, code, value) in members(&figures) {
            let id = self.put_figure(review, &format!("cgm-summary-{name}"), code, &value)?;
            named.push(json!({ "reference": format!("urn:uuid:{id}") }));
        }
        let summary = ("107931-8", "Continuous glucose monitoring summary panel");
        self.put_figure(review, "cgm-summary", summary, &json!({ "hasMember": named })).map(|_| ())
    }

    fn put_figure(&mut self, review: &Review, name: &str, code: Named, value: &Value) -> io::Result<EntryId> {
        let id = EntryId::fresh(self.now);
        // The guide asks for dates; the last day is the one the period ends in.
        let (from, until) = (review.period.from().local_date(), review.period.until().plus_ms(-1).local_date());
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
