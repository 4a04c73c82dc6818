//! Entries of the log in words.

use super::Words;
use crate::log::{
    CompressionLow, CountedIn, DeviceFault, Effort, EntryKind, Illness, InsulinKind, Item, Purpose, SensorEvent,
    Stocked, Symptom,
};
use crate::prompt::Verdict;
use crate::{say, text};

impl Words {
    /// An entry's content on one line, for a list of the log. Notes are given whole, whatever their length.
    #[must_use]
    pub fn what(self, what: &EntryKind) -> String {
        let n = self.numbers;
        match what {
            EntryKind::SensorReading { mg_dl } => say!(self, "entry-sensor-reading", amount = n.amount(mg_dl.mg_dl())),
            EntryKind::SensorBeyond { beyond, mg_dl } => {
                say!(self, "entry-sensor-beyond", beyond = self.beyond(*beyond, mg_dl.mg_dl()))
            }
            EntryKind::MeterCheck { mg_dl } => say!(self, "entry-meter-check", amount = n.amount(mg_dl.mg_dl())),
            EntryKind::MeterBeyond { beyond, mg_dl } => {
                say!(self, "entry-meter-beyond", beyond = self.beyond(*beyond, mg_dl.mg_dl()))
            }
            EntryKind::Insulin { insulin, units } => format!("{} {}", self.insulin(*insulin), self.of_insulin(*units)),
            EntryKind::Carbohydrate { grams, purpose } => {
                say!(self, "entry-carbohydrate", grams = n.taken(*grams), purpose = self.purpose(*purpose))
            }
            EntryKind::Alcohol { drinks } => say!(self, "entry-alcohol", dose = self.of_drinks(*drinks)),
            EntryKind::Ketones { mmol_l } => say!(self, "entry-ketones", amount = n.tenths(*mmol_l)),
            EntryKind::Illness { illness } => match illness {
                Illness::Ill => text!(self, "entry-ill"),
                Illness::Vomiting => text!(self, "entry-vomiting"),
                Illness::Over => text!(self, "entry-well-again"),
            }
            .to_owned(),
            EntryKind::Activity { activity, minutes: 1.0, effort } => {
                let (activity, effort) = (activity.as_str(), self.effort(*effort));
                say!(self, "entry-activity-1", activity, effort)
            }
            EntryKind::Activity { activity, minutes, effort } => {
                say!(
                    self,
                    "entry-activity",
                    activity = activity.as_str(),
                    minutes = n.tenths(*minutes),
                    effort = self.effort(*effort)
                )
            }
            EntryKind::Sleep { until } => say!(self, "entry-sleep", until = until.clock()),
            EntryKind::Sensor(SensorEvent::Inserted { site, lot, rated_days }) => {
                let mut text = text!(self, "entry-sensor-inserted").to_owned();
                if let Some(site) = site {
                    text += &format!(": {}", site.as_str());
                }
                if let Some(lot) = lot {
                    text += &say!(self, "entry-lot", lot = lot.as_str());
                }
                if let Some(days) = rated_days {
                    text += &say!(self, "entry-sensor-rated", days);
                }
                text
            }
            EntryKind::Sensor(SensorEvent::WarmUpOver) => text!(self, "entry-sensor-warm-up-over").to_owned(),
            EntryKind::Sensor(SensorEvent::RolledOff) => text!(self, "entry-sensor-rolled-off").to_owned(),
            EntryKind::Sensor(SensorEvent::Ended) => text!(self, "entry-sensor-ended").to_owned(),
            EntryKind::Sensor(SensorEvent::Fault { seen }) => say!(self, "entry-sensor-fault", seen = seen.as_str()),
            EntryKind::Sensor(SensorEvent::DeviceFault { code }) => {
                say!(self, "entry-sensor-device-fault", code = self.device_fault(*code))
            }
            EntryKind::Symptom { felt } => self.symptom(*felt).to_owned(),
            EntryKind::Note { text } => say!(self, "entry-note", text = text.as_str()),
            EntryKind::CompressionLow { until } => say!(self, "entry-compression-low", until = until.clock()),
            EntryKind::Supply(supply) => {
                let mut text = format!(
                    "{}: {} {}",
                    self.item(supply.item),
                    self.stocked(supply.stocked),
                    self.stock(supply.item, supply.amount)
                );
                if let Some(lot) = &supply.lot {
                    text += &say!(self, "entry-lot", lot = lot.as_str());
                }
                if let Some(day) = supply.expires {
                    text += &say!(self, "entry-supply-good-until", day = self.date(day));
                }
                if let Some(price) = supply.price {
                    text += &format!(", {} {}", n.localised(format!("{:.2}", price.amount)), price.currency);
                }
                if let Some(from) = &supply.from {
                    text += &say!(self, "entry-supply-from", from = from.as_str());
                }
                text
            }
            EntryKind::Prompted(shown) => {
                let mut text = self.advised(shown.verdict).to_owned();
                if let Some(chance) = shown.chance_low {
                    text += &say!(self, "entry-prompted-chance", chance = self.chance(chance));
                }
                text
            }
            EntryKind::Import { name } => say!(self, "entry-import", name = name.as_str()),
            EntryKind::Retraction => text!(self, "entry-retraction").to_owned(),
        }
    }

    /// What a sensor's device reported as wrong.
    #[must_use]
    pub(crate) fn device_fault(self, code: DeviceFault) -> &'static str {
        match code {
            DeviceFault::SensorType => text!(self, "device-fault-sensor-type"),
            DeviceFault::SensorMalfunction => text!(self, "device-fault-sensor-malfunction"),
            DeviceFault::General => text!(self, "device-fault-general"),
        }
    }

    /// A supply's name, as many of it.
    #[must_use]
    pub fn item(self, item: Item) -> String {
        match item {
            Item::Sensor => text!(self, "item-sensor"),
            Item::Transmitter => text!(self, "item-transmitter"),
            Item::Battery => text!(self, "item-battery"),
            Item::TestStrip => text!(self, "item-test-strip"),
            Item::RapidInsulin => text!(self, "item-rapid-insulin"),
            Item::LongActingInsulin => text!(self, "item-long-acting-insulin"),
            Item::RescueCarbohydrate => text!(self, "item-rescue-carbohydrate"),
        }
        .to_owned()
    }

    /// What happened to a supply.
    #[must_use]
    pub fn stocked(self, stocked: Stocked) -> String {
        match stocked {
            Stocked::Counted => text!(self, "stocked-counted"),
            Stocked::Received => text!(self, "stocked-received"),
            Stocked::Used => text!(self, "stocked-used"),
            Stocked::ThrownAway => text!(self, "stocked-thrown-away"),
            Stocked::Quoted => text!(self, "stocked-quoted"),
        }
        .to_owned()
    }

    /// So much of a supply, in what it is counted in; pieces have no unit.
    #[must_use]
    pub fn stock(self, item: Item, amount: f64) -> String {
        let n = self.numbers;
        match item.counted_in() {
            CountedIn::Pieces => n.tenths(amount),
            CountedIn::InsulinUnits => self.of_insulin(amount),
            CountedIn::Grams => format!("{} g", n.taken(amount)),
        }
    }

    /// A spell in which the sensor was probably pressed, with its date, to stand in a list.
    #[must_use]
    pub fn spell(self, spell: CompressionLow) -> String {
        {
            let day = spell.from.local_date();
            say!(self, "spell", date = self.date(day), from = spell.from.clock(), until = spell.until.clock())
        }
    }

    fn insulin(self, kind: InsulinKind) -> &'static str {
        match kind {
            InsulinKind::Rapid => text!(self, "insulin-rapid"),
            InsulinKind::LongActing => text!(self, "insulin-long-acting"),
        }
    }

    fn purpose(self, purpose: Purpose) -> &'static str {
        match purpose {
            Purpose::Meal => text!(self, "purpose-meal"),
            Purpose::Rescue => text!(self, "purpose-rescue"),
        }
    }

    /// How hard a movement is.
    #[must_use]
    pub fn effort(self, effort: Effort) -> &'static str {
        match effort {
            Effort::Light => text!(self, "effort-light"),
            Effort::Moderate => text!(self, "effort-moderate"),
            Effort::Hard => text!(self, "effort-hard"),
        }
    }

    fn symptom(self, symptom: Symptom) -> &'static str {
        match symptom {
            Symptom::FeelsLow => text!(self, "symptom-feels-low"),
            Symptom::FeelsHigh => text!(self, "symptom-feels-high"),
            Symptom::None => text!(self, "symptom-none"),
            Symptom::Severe => text!(self, "symptom-severe"),
        }
    }

    /// What was advised, within a line.
    fn advised(self, verdict: Verdict) -> &'static str {
        match verdict {
            Verdict::Treat => text!(self, "entry-prompted-treat"),
            Verdict::Check => text!(self, "entry-prompted-check"),
            Verdict::Hold => text!(self, "entry-prompted-hold"),
            Verdict::Clear => text!(self, "entry-prompted-clear"),
            Verdict::Help => text!(self, "entry-prompted-help"),
        }
    }
}
