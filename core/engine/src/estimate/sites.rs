//! How often the sensor was pressed on each site of the body, as far as the record shows: some are lain on, some are not.

use serde::{Deserialize, Serialize};

use super::modes::ModeSwitching;
use crate::log::{History, SensorEvent, SensorNote, Text};
use crate::time::Moment;

/// The record of the sites, to start a prompt from: it looks back days, a site's record takes weeks.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Sites {
    /// The newest insertion, if one is logged.
    pub newest: Option<Insertion>,
    /// The sites that were named.
    pub worn: Vec<WornSite>,
}

/// A sensor put in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Insertion {
    /// When it was put in.
    pub at: Moment,
    /// Where, if it was said.
    pub site: Option<Text>,
}

/// What was seen of one site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WornSite {
    /// The wearer's own name for it.
    pub name: Text,
    /// Nights it bore a sensor.
    pub nights: f64,
    /// Pressed spells found in them.
    pub spells: u32,
}

impl Sites {
    /// Counts over the sensors of a history, the one worn at `until` included.
    #[must_use]
    pub fn of(history: &History, until: Moment) -> Self {
        let mut sites = Self::default();
        let counts =
            |note: &&SensorNote| !note.at.is_after(until) && history.speaks_of_followed(note.sensor.as_ref(), until);
        let notes: Vec<_> = history.sensor.iter().filter(counts).collect();
        for (k, note) in notes.iter().enumerate() {
            let SensorEvent::Inserted { site, .. } = &note.event else { continue };
            sites.newest = Some(Insertion { at: note.at, site: site.clone() });
            let Some(name) = site else { continue };
            let ends = |event: &SensorEvent| matches!(event, SensorEvent::Inserted { .. } | SensorEvent::Ended);
            let end = notes[k + 1..].iter().find(|later| ends(&later.event)).map_or(until, |later| later.at);
            let within = note.at.unix_ms()..end.unix_ms();
            let found = history.compression_lows.iter().filter(|spell| within.contains(&spell.from.unix_ms())).count();
            let (nights, spells) = (end.minutes_since(note.at) / 1440.0, u32::try_from(found).unwrap_or(u32::MAX));
            match sites.worn.iter_mut().find(|worn| same(&worn.name, name)) {
                Some(worn) => {
                    worn.nights += nights;
                    worn.spells = worn.spells.saturating_add(spells);
                }
                None => sites.worn.push(WornSite { name: name.clone(), nights, spells }),
            }
        }
        sites
    }

    /// Pressed spells a night on a site, with one night of the population's expectation mixed in so that a short record does
    /// not shout; nothing for a site never worn.
    #[must_use]
    pub(crate) fn compression_lows_per_night(&self, name: &Text) -> Option<f64> {
        let worn = self.worn.iter().find(|worn| same(&worn.name, name))?;
        Some((f64::from(worn.spells) + ModeSwitching::COMPRESSIONS_PER_NIGHT) / (worn.nights.max(0.0) + 1.0))
    }
}

/// Names that differ only in case and spaces are one site.
fn same(one: &Text, other: &Text) -> bool {
    let plain = |name: &Text| name.as_str().split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    plain(one) == plain(other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::CompressionLow;

    fn day(days: f64) -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(days * 1440.0)
    }

    #[test]
    fn each_site_has_its_own_record() {
        let inserted = |days: f64, site: &str| SensorNote {
            at: day(days),
            event: SensorEvent::inserted(Some(Text::new(site).unwrap())),
            sensor: None,
        };
        let spell = |days: f64| CompressionLow { from: day(days), until: day(days + 0.02) };
        let history = History {
            sensor: vec![
                inserted(0.0, "left arm"),
                SensorNote { at: day(9.0), event: SensorEvent::Ended, sensor: None },
                inserted(10.0, "belly"),
                inserted(20.0, "Left  Arm"),
            ],
            compression_lows: vec![spell(1.6), spell(2.6), spell(9.5), spell(21.6)],
            ..History::default()
        };
        let sites = Sites::of(&history, day(25.0));
        let worn: Vec<(f64, u32)> = sites.worn.iter().map(|worn| (worn.nights.round(), worn.spells)).collect();
        assert_eq!(worn, [(14.0, 3), (10.0, 0)]);
        assert_eq!(sites.newest.as_ref().unwrap().at, day(20.0));
        let rate = |site: &str| sites.compression_lows_per_night(&Text::new(site).unwrap());
        // The population's spells count as one night.
        let before = ModeSwitching::COMPRESSIONS_PER_NIGHT;
        assert!((rate("LEFT ARM").unwrap() - (3.0 + before) / 15.0).abs() < 1e-9);
        assert!((rate("belly").unwrap() - before / 11.0).abs() < 1e-9);
        assert_eq!(rate("leg"), None);
        // What lies after a moment is not known at it.
        assert_eq!(Sites::of(&history, day(5.0)).worn[0].spells, 2);
    }
}
