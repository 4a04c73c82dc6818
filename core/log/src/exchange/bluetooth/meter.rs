//! The Glucose service, 0x1808: finger-prick meters.

use super::cursor::Cursor;
use super::sample::{self, SampleLocation, SampleType};
use super::time::DateTime;
use super::{Characteristic, DecodeError, Sfloat};

flags! {
    /// What a meter says of a measurement.
    MeterFaults of
    /// A bit of the Sensor Status Annunciation.
    MeterFault {
        /// The battery was low.
        BatteryLow = 0,
        /// The meter did not work as it should.
        Malfunction = 1,
        /// There was too little blood.
        SampleTooSmall = 2,
        /// The strip was not put in rightly.
        StripInsertion = 3,
        /// The strip is of a type that the meter does not take.
        StripTypeIncorrect = 4,
        /// Above what the meter can read.
        AboveDeviceRange = 5,
        /// Below what the meter can read.
        BelowDeviceRange = 6,
        /// Too warm for a valid result.
        TemperatureTooHigh = 7,
        /// Too cold for a valid result.
        TemperatureTooLow = 8,
        /// The strip was pulled too soon.
        ReadInterrupted = 9,
        /// A general fault.
        GeneralFault = 10,
        /// The meter's clock may be wrong.
        TimeFault = 11,
    }
}

/// A concentration in the unit the meter sends it in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Concentration {
    /// Kilograms per litre; 1e-5 kg/L are 1 mg/dL.
    KgPerLitre(Sfloat),
    /// Moles per litre; 1e-3 mol/L are 1 mmol/L.
    MolPerLitre(Sfloat),
}

impl Concentration {
    /// The amount as sent, in its own unit.
    #[must_use]
    pub const fn sent(self) -> Sfloat {
        match self {
            Self::KgPerLitre(amount) | Self::MolPerLitre(amount) => amount,
        }
    }
}

/// Glucose Measurement, 0x2A18.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct MeterMeasurement {
    /// The measurement's number in the meter.
    pub sequence: u16,
    /// When, by the meter's own clock as it stood when it was last set.
    pub base_time: DateTime,
    /// Minutes to add to it for the time the wearer's clock showed.
    pub offset_minutes: Option<i16>,
    /// The concentration, the fluid and the site.
    pub glucose: Option<(Concentration, SampleType, SampleLocation)>,
    /// What the meter says of it; nothing where it says nothing.
    pub faults: Option<MeterFaults>,
    /// Whether a context with the same number follows.
    pub context_follows: bool,
}

const OFFSET: u8 = 1 << 0;
const GLUCOSE: u8 = 1 << 1;
const MOLES: u8 = 1 << 2;
const FAULTS: u8 = 1 << 3;
const CONTEXT: u8 = 1 << 4;

impl MeterMeasurement {
    /// Reads the value.
    ///
    /// # Errors
    /// [`DecodeError`].
    pub fn decode(octets: &[u8]) -> Result<Self, DecodeError> {
        let mut octets = Cursor::of(Characteristic::GlucoseMeasurement, octets);
        let flags = octets.u8()?;
        let sequence = octets.u16()?;
        let base_time = DateTime::read(&mut octets)?;
        let offset_minutes = octets.if_set(flags & OFFSET != 0, Cursor::i16)?;
        let glucose = octets.if_set(flags & GLUCOSE != 0, |octets| {
            let sent = octets.sfloat()?;
            let concentration =
                if flags & MOLES == 0 { Concentration::KgPerLitre(sent) } else { Concentration::MolPerLitre(sent) };
            let (fluid, location) = sample::split(octets.u8()?);
            Ok((concentration, fluid, location))
        })?;
        let faults = octets.if_set(flags & FAULTS != 0, Cursor::u16)?;
        octets.end()?;
        Ok(Self {
            sequence,
            base_time,
            offset_minutes,
            glucose,
            faults: faults.map(|bits| MeterFaults::from_bits(u32::from(bits))),
            context_follows: flags & CONTEXT != 0,
        })
    }

    /// Writes the value.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let mut flags = if self.context_follows { CONTEXT } else { 0 };
        flags |= self.offset_minutes.map_or(0, |_| OFFSET) | self.faults.map_or(0, |_| FAULTS);
        flags |= match self.glucose {
            None => 0,
            Some((Concentration::KgPerLitre(_), ..)) => GLUCOSE,
            Some((Concentration::MolPerLitre(_), ..)) => GLUCOSE | MOLES,
        };
        let mut octets = vec![flags];
        octets.extend(self.sequence.to_le_bytes());
        octets.extend(self.base_time.octets());
        octets.extend(self.offset_minutes.iter().flat_map(|minutes| minutes.to_le_bytes()));
        if let Some((concentration, fluid, location)) = self.glucose {
            octets.extend(concentration.sent().word().to_le_bytes());
            octets.push(sample::joined(fluid, location));
        }
        octets.extend(self.faults.iter().flat_map(|faults| faults.bits().to_le_bytes().into_iter().take(2)));
        octets
    }
}

codes! {
    /// What was eaten.
    CarbohydrateKind {
        /// Breakfast.
        Breakfast = 1,
        /// Lunch.
        Lunch = 2,
        /// Dinner.
        Dinner = 3,
        /// A snack.
        Snack = 4,
        /// A drink.
        Drink = 5,
        /// Supper.
        Supper = 6,
        /// Brunch.
        Brunch = 7,
    }
}

codes! {
    /// How the measurement lies to meals.
    MealTime {
        /// Before a meal.
        Before = 1,
        /// After a meal.
        After = 2,
        /// Fasting.
        Fasting = 3,
        /// At no set meal.
        Casual = 4,
        /// At bedtime.
        Bedtime = 5,
    }
}

codes! {
    /// Who measured.
    Tester {
        /// The wearer.
        Wearer = 1,
        /// A health care professional.
        Professional = 2,
        /// A laboratory.
        Laboratory = 3,
        /// The meter does not say.
        NotAvailable = 15,
    }
}

codes! {
    /// How the wearer was.
    Health {
        /// Slightly ill.
        MinorIssues = 1,
        /// Ill.
        MajorIssues = 2,
        /// During menses.
        Menses = 3,
        /// Under stress.
        Stress = 4,
        /// Well.
        NoIssues = 5,
        /// The meter does not say.
        NotAvailable = 15,
    }
}

codes! {
    /// What was taken.
    Medication {
        /// Rapid-acting insulin.
        RapidInsulin = 1,
        /// Short-acting insulin.
        ShortInsulin = 2,
        /// Intermediate-acting insulin.
        IntermediateInsulin = 3,
        /// Long-acting insulin.
        LongInsulin = 4,
        /// Pre-mixed insulin.
        PreMixedInsulin = 5,
    }
}

/// How much was taken, in the unit the meter sends it in. Neither is a number of insulin units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MedicationAmount {
    /// Kilograms.
    Kilograms(Sfloat),
    /// Litres.
    Litres(Sfloat),
}

/// Movement before the measurement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Exercise {
    /// Seconds; nothing where they were too many to count.
    pub seconds: Option<u16>,
    /// How hard, in percent.
    pub intensity_percent: u8,
}

/// What the seconds field says where they were too many.
const OVERRUN: u16 = 0xFFFF;

/// Glucose Measurement Context, 0x2A34.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct MeterContext {
    /// The number of the measurement it belongs to.
    pub sequence: u16,
    /// Carbohydrate, in kilograms.
    pub carbohydrate_kg: Option<(CarbohydrateKind, Sfloat)>,
    /// How the measurement lies to meals.
    pub meal: Option<MealTime>,
    /// Who measured, and how the wearer was.
    pub tester_health: Option<(Tester, Health)>,
    /// Movement.
    pub exercise: Option<Exercise>,
    /// Medication.
    pub medication: Option<(Medication, MedicationAmount)>,
    /// HbA1c, in percent.
    pub hba1c_percent: Option<Sfloat>,
}

const CARBOHYDRATE: u8 = 1 << 0;
const MEAL: u8 = 1 << 1;
const TESTER_HEALTH: u8 = 1 << 2;
const EXERCISE: u8 = 1 << 3;
const MEDICATION: u8 = 1 << 4;
const LITRES: u8 = 1 << 5;
const HBA1C: u8 = 1 << 6;
const EXTENDED: u8 = 1 << 7;

impl MeterContext {
    /// Reads the value. An octet of extended flags is passed over: all of its bits are reserved.
    ///
    /// # Errors
    /// [`DecodeError`].
    pub fn decode(octets: &[u8]) -> Result<Self, DecodeError> {
        let mut octets = Cursor::of(Characteristic::GlucoseMeasurementContext, octets);
        let flags = octets.u8()?;
        let sequence = octets.u16()?;
        octets.if_set(flags & EXTENDED != 0, Cursor::u8)?;
        let carbohydrate_kg = octets
            .if_set(flags & CARBOHYDRATE != 0, |octets| Ok((CarbohydrateKind::of(octets.u8()?), octets.sfloat()?)))?;
        let meal = octets.if_set(flags & MEAL != 0, Cursor::u8)?.map(MealTime::of);
        let tester_health = octets.if_set(flags & TESTER_HEALTH != 0, Cursor::u8)?;
        let exercise = octets.if_set(flags & EXERCISE != 0, |octets| {
            let seconds = Some(octets.u16()?).filter(|seconds| *seconds != OVERRUN);
            Ok(Exercise { seconds, intensity_percent: octets.u8()? })
        })?;
        let medication = octets.if_set(flags & MEDICATION != 0, |octets| {
            let medication = Medication::of(octets.u8()?);
            let amount = octets.sfloat()?;
            let litres = flags & LITRES != 0;
            Ok((
                medication,
                if litres { MedicationAmount::Litres(amount) } else { MedicationAmount::Kilograms(amount) },
            ))
        })?;
        let hba1c_percent = octets.if_set(flags & HBA1C != 0, Cursor::sfloat)?;
        octets.end()?;
        let tester_health = tester_health.map(|octet| (Tester::of(octet & 0x0F), Health::of(octet >> 4)));
        Ok(Self { sequence, carbohydrate_kg, meal, tester_health, exercise, medication, hba1c_percent })
    }

    /// Writes the value.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let Self { sequence, carbohydrate_kg, meal, tester_health, exercise, medication, hba1c_percent } = self;
        let present = [
            (CARBOHYDRATE, carbohydrate_kg.is_some()),
            (MEAL, meal.is_some()),
            (TESTER_HEALTH, tester_health.is_some()),
            (EXERCISE, exercise.is_some()),
            (MEDICATION, medication.is_some()),
            (LITRES, matches!(medication, Some((_, MedicationAmount::Litres(_))))),
            (HBA1C, hba1c_percent.is_some()),
        ];
        let mut octets = vec![present.iter().filter(|(_, there)| *there).fold(0, |flags, (flag, _)| flags | flag)];
        octets.extend(sequence.to_le_bytes());
        if let Some((kind, amount)) = carbohydrate_kg {
            octets.push(kind.code());
            octets.extend(amount.word().to_le_bytes());
        }
        octets.extend(meal.iter().map(|meal| meal.code()));
        octets.extend(tester_health.iter().map(|(tester, health)| tester.code() & 0x0F | health.code() << 4));
        if let Some(exercise) = exercise {
            octets.extend(exercise.seconds.unwrap_or(OVERRUN).to_le_bytes());
            octets.push(exercise.intensity_percent);
        }
        if let Some((medication, MedicationAmount::Kilograms(amount) | MedicationAmount::Litres(amount))) = medication {
            octets.push(medication.code());
            octets.extend(amount.word().to_le_bytes());
        }
        octets.extend(hba1c_percent.iter().flat_map(|amount| amount.word().to_le_bytes()));
        octets
    }
}
