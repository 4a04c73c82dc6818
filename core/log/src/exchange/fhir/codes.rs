//! The codes that resources carry.

use crate::log::{DeviceFault, Effort, Illness, InsulinKind, Purpose, SensorEvent, Symptom};
use crate::units::GlucoseUnit;

/// LOINC.
pub const LOINC: &str = "http://loinc.org";
/// UCUM.
pub const UCUM: &str = "http://unitsofmeasure.org";
/// The WHO's Anatomical Therapeutic Chemical classification.
pub const ATC: &str = "http://www.whocc.no/atc";
/// HL7's categories of Observations.
pub const CATEGORY: &str = "http://terminology.hl7.org/CodeSystem/observation-category";
/// Where HL7's guide for continuous glucose monitoring keeps its profiles.
pub(crate) const CGM_PROFILES: &str = "http://hl7.org/fhir/uv/cgm/StructureDefinition/";

/// The system of our own codes. A name of version 4, made once: it belongs to no address.
pub const KINDS: &str = "urn:uuid:6b1d6f3e-2f0c-4f6c-9a57-3c1b7f0e9d21";
/// The extension that carries an entry's source, time of recording and what it corrects.
pub(crate) const ENTRY: &str = "urn:uuid:f2a4c1d8-7f5b-4c3e-8b7a-5d90e2c6a134";

/// What a glucose code says of the value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct GlucoseCode {
    /// The LOINC code.
    pub code: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Whether it is of interstitial fluid, as a sensor's; otherwise of blood.
    pub interstitial: bool,
    /// The unit its property goes with: mass or moles in a volume.
    pub unit: GlucoseUnit,
}

const fn code(code: &'static str, name: &'static str, interstitial: bool, unit: GlucoseUnit) -> GlucoseCode {
    GlucoseCode { code, name, interstitial, unit }
}

/// A sensor's reading, as it is written.
pub(crate) const SENSOR: GlucoseCode =
    code("99504-3", "Glucose [Mass/volume] in Interstitial fluid", true, GlucoseUnit::MgDl);
/// A meter's check, as it is written.
pub(crate) const METER: GlucoseCode =
    code("41653-7", "Glucose [Mass/volume] in Capillary blood by Glucometer", false, GlucoseUnit::MgDl);

/// What a laboratory measures.
pub(super) const LABORATORY: &str = "2345-7";

/// The glucose codes that are read.
pub(crate) const GLUCOSE: [GlucoseCode; 9] = [
    SENSOR,
    code("105272-9", "Glucose [Moles/volume] in Interstitial fluid", true, GlucoseUnit::MmolL),
    METER,
    code("14743-9", "Glucose [Moles/volume] in Capillary blood by Glucometer", false, GlucoseUnit::MmolL),
    code("2339-0", "Glucose [Mass/volume] in Blood", false, GlucoseUnit::MgDl),
    code("15074-8", "Glucose [Moles/volume] in Blood", false, GlucoseUnit::MmolL),
    code("2340-8", "Glucose [Mass/volume] in Blood by Automated test strip", false, GlucoseUnit::MgDl),
    code("32016-8", "Glucose [Mass/volume] in Capillary blood", false, GlucoseUnit::MgDl),
    code(LABORATORY, "Glucose [Mass/volume] in Serum or Plasma", false, GlucoseUnit::MgDl),
];

/// Ketones in blood, as they are written and read.
pub const KETONES: Named = ("66441-7", "Beta hydroxybutyrate [Moles/volume] in Blood by Test strip");

/// The kinds of insulin: the ATC code (from memory) and the name.
pub(crate) const INSULINS: [(InsulinKind, &str, &str); 2] = [
    (InsulinKind::Rapid, "A10AB", "Insulins and analogues for injection, fast-acting"),
    (InsulinKind::LongActing, "A10AE", "Insulins and analogues for injection, long-acting"),
];

/// The units that insulin is given in, as UCUM has them and as they are written.
pub(super) const UNITS_OF_INSULIN: [&str; 3] = ["[iU]", "[IU]", "U"];

/// A code of our own, with its name.
pub type Named = (&'static str, &'static str);

pub(super) const CARBOHYDRATE: Named = ("carbohydrate", "Carbohydrate taken");
pub(super) const ALCOHOL: Named = ("alcohol", "Alcohol drunk, in drinks of 10 g");
pub(super) const ILLNESS: Named = ("illness", "How ill the wearer is from then on");
pub(super) const ACTIVITY: Named = ("activity", "Movement");
pub(super) const SLEEP: Named = ("sleep", "Sleep");
pub(super) const SENSOR_EVENT: Named = ("sensor-event", "Something about the sensor");
pub(super) const SYMPTOM: Named = ("symptom", "How the wearer felt");
pub(super) const NOTE: Named = ("note", "A note");
pub(super) const COMPRESSION: Named = ("pressed-spell", "The sensor was pressed");
pub(super) const PURPOSE: Named = ("purpose", "What the carbohydrate was taken for");
pub(super) const EFFORT: Named = ("effort", "How hard it was");
pub(super) const NAME: Named = ("name", "What it was");
pub(super) const SITE: Named = ("site", "Where on the body");
pub(super) const LOT: Named = ("lot", "The lot, as on the package");
pub(super) const RATED: Named = ("rated-days", "How many days it is rated for");
pub(super) const SUPPLY: Named = ("supply", "Something about supplies, as this log's JSON");
pub(super) const PROMPTED: Named = ("prompted", "What a prompt told, as this log's JSON");
pub(super) const SEEN: Named = ("seen", "What was seen");
pub(super) const REPORTED: Named = ("reported", "What the device reported");

pub(super) const PURPOSES: [(Purpose, Named); 2] =
    [(Purpose::Meal, ("meal", "A meal")), (Purpose::Rescue, ("rescue", "Against a low"))];
pub(super) const EFFORTS: [(Effort, Named); 3] = [
    (Effort::Light, ("light", "Light: one could sing")),
    (Effort::Moderate, ("moderate", "Moderate: one could talk")),
    (Effort::Hard, ("hard", "Hard: one could not talk")),
];
pub(super) const ILLNESSES: [(Illness, Named); 3] = [
    (Illness::Ill, ("ill", "Ill")),
    (Illness::Vomiting, ("vomiting", "Ill and vomiting")),
    (Illness::Over, ("well-again", "Well again")),
];
pub(super) const SYMPTOMS: [(Symptom, Named); 4] = [
    (Symptom::FeelsLow, ("feels-low", "Feels low")),
    (Symptom::FeelsHigh, ("feels-high", "Feels high")),
    (Symptom::None, ("feels-nothing", "Feels neither low nor high")),
    (Symptom::Severe, ("severe", "Severe: confused, cannot swallow or does not respond")),
];

pub(super) const DEVICE_FAULTS: [(DeviceFault, Named); 3] = [
    (DeviceFault::SensorType, ("sensor-type", "The device does not accept this type of sensor")),
    (DeviceFault::SensorMalfunction, ("sensor-malfunction", "The sensor malfunctions")),
    (DeviceFault::General, ("general-fault", "A general fault")),
];

/// What a sensor event is called.
pub(super) const fn sensor_event(event: &SensorEvent) -> Named {
    match event {
        SensorEvent::Inserted { .. } => ("inserted", "Put in"),
        SensorEvent::WarmUpOver => ("warm-up-over", "The warm-up is over"),
        SensorEvent::Ended => ("ended", "Taken off or expired"),
        SensorEvent::Fault { .. } => ("fault", "Something was wrong"),
        SensorEvent::DeviceFault { .. } => ("device-fault", "The device reported a fault"),
        SensorEvent::RolledOff => ("rolled-off", "The wearer rolled off it"),
    }
}

/// The meaning of one of our own codes, by a table.
pub(super) fn meaning<T: Copy>(table: &[(T, Named)], code: &str) -> Option<T> {
    table.iter().find(|(_, (known, _))| *known == code).map(|(one, _)| *one)
}

/// The code of a meaning, by a table.
pub(super) fn named<T: PartialEq>(table: &[(T, Named)], one: &T) -> Named {
    table.iter().find(|(known, _)| known == one).map_or(("unknown", "Unknown"), |(_, named)| *named)
}
