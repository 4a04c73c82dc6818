//! Illness and ketones: what makes the high side, and a fall, an emergency.
//!
//! # Source
//! Bands and steps: ISPAD Clinical Practice Consensus Guidelines 2022, sick day management (Phelan et al., Pediatr Diabetes
//! 2022;23:912-925, from memory): blood ketones below 0.6 mmol/L are usual; up to 1.5 raised; from 1.5 on a high risk of
//! ketoacidosis; from 3.0 on an immediate one, for emergency care. In illness they are measured every 2 to 4 hours, raised ones
//! again within 2. How long a note of illness counts is an assumption.

use crate::log::{History, Illness};
use crate::sorted::{newest, within};
use crate::time::Moment;

/// Ketones from here on are raised, in mmol/L.
pub(crate) const RAISED_MMOL_L: f64 = 0.6;
/// From here on ketoacidosis threatens, in mmol/L.
pub const HIGH_MMOL_L: f64 = 1.5;
/// From here on it is an emergency, in mmol/L.
pub(crate) const EMERGENCY_MMOL_L: f64 = 3.0;
/// The highest ketones taken, in mmol/L: meters end at about 8.
pub const MOST_KETONES_MMOL_L: f64 = 20.0;
/// For so long a ketone check says something of now, in minutes.
const KETONES_HOLD_MINUTES: f64 = 120.0;
/// A ketone check older than this is made again where there is a reason; ketones of an emergency hold for as long, in minutes.
const KETONES_AGAIN_MINUTES: f64 = 240.0;
/// Of ketone checks so close together the highest counts, in minutes: in treatment they fall by about 0.5 mmol/L in this time (Joint British
/// Diabetes Societies, management of diabetic ketoacidosis, from memory), so a much lower strip is more likely wrong.
const KETONES_TOGETHER_MINUTES: f64 = 60.0;
/// Raised ketones are measured again for as long as this, in minutes (assumption).
const KETONES_RAISED_MINUTES: f64 = 720.0;
/// For so long a note of illness counts unless another follows it, in minutes (assumption).
const ILL_MINUTES: f64 = 1440.0;

/// The newest ketone check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KetonesNow {
    /// In mmol/L.
    pub mmol_l: f64,
    /// Its age in minutes.
    pub minutes_ago: f64,
}

/// Illness that counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IllNow {
    /// Whether food and drink may not stay down.
    pub vomiting: bool,
    /// Minutes since it was noted.
    pub minutes_ago: f64,
}

/// What is known of illness and ketones at a moment.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SickDay {
    /// The newest ketone check, or the highest of those within an hour before it.
    pub ketones: Option<KetonesNow>,
    /// Illness that counts.
    pub ill: Option<IllNow>,
}

impl SickDay {
    /// What a record says up to a moment.
    #[must_use]
    pub fn at(history: &History, now: Moment) -> Self {
        let ketones = newest(&history.ketones, now, KETONES_RAISED_MINUTES, |check| check.at)
            .and_then(|(newest, _)| {
                let from = newest.at.plus_minutes(-KETONES_TOGETHER_MINUTES);
                let together = within(&history.ketones, |check| check.at, from, newest.at);
                together.iter().max_by(|one, other| one.mmol_l.total_cmp(&other.mmol_l))
            })
            .map(|check| KetonesNow { mmol_l: check.mmol_l, minutes_ago: now.minutes_since(check.at) })
            .filter(|check| check.mmol_l >= RAISED_MMOL_L || check.minutes_ago <= KETONES_AGAIN_MINUTES);
        let ill = newest(&history.illness, now, ILL_MINUTES, |note| note.at)
            .filter(|(note, _)| note.illness != Illness::Over)
            .map(|(note, minutes_ago)| IllNow { vomiting: note.illness == Illness::Vomiting, minutes_ago });
        Self { ketones, ill }
    }

    /// Ketones as they still hold, in mmol/L.
    #[must_use]
    pub(crate) fn ketones_now(&self) -> Option<f64> {
        self.ketones.filter(|check| check.minutes_ago <= KETONES_HOLD_MINUTES).map(|check| check.mmol_l)
    }

    /// Whether the newest ketone check showed raised ketones.
    #[must_use]
    pub(crate) fn are_raised(&self) -> bool {
        self.ketones.is_some_and(|check| check.mmol_l >= RAISED_MMOL_L)
    }

    /// Whether ketones were raised, and it is time to measure them again.
    #[must_use]
    pub(crate) fn again_due(&self) -> bool {
        self.are_raised() && self.ketones.is_some_and(|check| check.minutes_ago > KETONES_HOLD_MINUTES)
    }

    /// Whether food and drink may not stay down.
    #[must_use]
    pub fn vomiting(&self) -> bool {
        self.ill.is_some_and(|ill| ill.vomiting)
    }

    /// Whether ketones call for help now.
    #[must_use]
    pub(crate) fn is_emergency(&self) -> bool {
        let from = if self.vomiting() { HIGH_MMOL_L } else { EMERGENCY_MMOL_L };
        self.ketones.is_some_and(|check| check.mmol_l >= from && check.minutes_ago <= KETONES_AGAIN_MINUTES)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{IllNote, KetoneCheck};

    fn noon() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    #[test]
    fn the_newest_note_counts_until_it_is_over_or_a_day_old() {
        let note = |minutes: f64, illness| IllNote { at: noon().plus_minutes(minutes), illness };
        let history =
            History { illness: vec![note(0.0, Illness::Vomiting), note(300.0, Illness::Over)], ..History::default() };
        let at = |minutes: f64| SickDay::at(&history, noon().plus_minutes(minutes));
        assert_eq!(at(-1.0), SickDay::default(), "not before it was noted");
        assert!(at(299.0).vomiting() && !at(301.0).vomiting());
        let never_over = History { illness: vec![note(0.0, Illness::Ill)], ..History::default() };
        let after = |minutes: f64| SickDay::at(&never_over, noon().plus_minutes(minutes)).ill;
        assert!(after(1439.0).is_some() && after(1441.0).is_none());
    }

    #[test]
    fn ketones_are_an_emergency_from_three_and_earlier_where_nothing_stays_down() {
        let sick = |mmol_l: f64, vomiting| SickDay {
            ketones: Some(KetonesNow { mmol_l, minutes_ago: 30.0 }),
            ill: Some(IllNow { vomiting, minutes_ago: 60.0 }),
        };
        assert!(!sick(2.9, false).is_emergency() && sick(3.0, false).is_emergency());
        assert!(!sick(1.4, true).is_emergency() && sick(1.5, true).is_emergency());
        let measured = |mmol_l| History { ketones: vec![KetoneCheck { at: noon(), mmol_l }], ..History::default() };
        let at = |mmol_l, minutes: f64| SickDay::at(&measured(mmol_l), noon().plus_minutes(minutes));
        assert!(at(3.2, 240.0).is_emergency() && !at(3.2, 241.0).is_emergency());
        assert!(!at(0.9, 120.0).again_due() && at(0.9, 121.0).again_due() && at(3.2, 241.0).again_due());
        assert!(at(0.2, 239.0).ketones.is_some() && at(0.2, 241.0).ketones.is_none(), "too old to speak of now");
        assert!(!at(0.2, 230.0).again_due() && at(0.9, 720.0).again_due() && !at(0.9, 721.0).again_due());
    }
}
