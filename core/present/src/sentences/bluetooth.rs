//! What devices said and what was held back, in words.

use crate::error::Error;
use crate::exchange::bluetooth::{DecodeError, Fault};
use crate::exchange::bluetooth::{HeldBack, NotTaken, Remark, Remarkable};
use crate::sentences::pick;
use crate::words::Words;

/// Why octets cannot be read, with the characteristic and the octet.
#[must_use]
pub fn fault_text(error: &DecodeError, words: Words) -> String {
    let why = match error.fault {
        Fault::TooShort { needs, has } => pick(
            words,
            format!("a field of {needs} octets begins here and {has} are left"),
            format!("hier beginnt ein Feld von {needs} Oktetten, {has} sind da"),
        ),
        Fault::TooLong { extra } => {
            pick(words, format!("{extra} octets are left over"), format!("{extra} Oktette sind übrig"))
        }
        Fault::SizeDisagrees { said, needs } => pick(
            words,
            format!("the record says it has {said} octets; its flags make it {needs}"),
            format!("der Satz nennt {said} Oktette, nach seinen Merkern sind es {needs}"),
        ),
        Fault::Checksum { sent, computed } => pick(
            words,
            format!("the checksum is {sent:04X} and should be {computed:04X}; ask for the record again"),
            format!("die Prüfsumme ist {sent:04X} statt {computed:04X}; den Satz noch einmal anfordern"),
        ),
        Fault::NoSuchCode { given } => {
            pick(words, format!("{given} is no code of this field"), format!("{given} ist kein Wert dieses Feldes"))
        }
        Fault::NoSuchTime => {
            pick(words, "no such date or time of day", "kein solches Datum, keine solche Uhrzeit").to_owned()
        }
        Fault::TimeNotKnown => pick(
            words,
            "the device does not know the date; set its clock",
            "das Gerät kennt das Datum nicht; seine Uhr stellen",
        )
        .to_owned(),
    };
    let (name, uuid, octet) = (error.characteristic.name(), error.characteristic.uuid(), error.offset);
    pick(
        words,
        format!("{name} (0x{uuid:04X}), octet {octet}: {why}"),
        format!("{name} (0x{uuid:04X}), Oktett {octet}: {why}"),
    )
}

/// Why something is not in the log, and what to do.
#[must_use]
pub fn held_back_text(held: &HeldBack, words: Words) -> String {
    let said = match held.why {
        NotTaken::NoNumber => pick(words, "the device sent no number", "das Gerät hat keine Zahl geschickt"),
        NotTaken::OutOfRange => pick(
            words,
            "the amount is outside what a log takes: check with a meter",
            "der Wert liegt außerhalb dessen, was ein Protokoll aufnimmt: am Finger messen",
        ),
        NotTaken::SessionStopped => pick(words, "the sensor's session was stopped", "der Sensor ist beendet worden"),
        NotTaken::WrongType => pick(
            words,
            "the device does not take this kind of sensor or strip",
            "das Gerät nimmt diese Art Sensor oder Teststreifen nicht",
        ),
        NotTaken::Malfunction => pick(
            words,
            "the device says it does not work as it should: go by a meter",
            "das Gerät meldet eine Störung: nach der Blutmessung richten",
        ),
        NotTaken::TooWarm => {
            pick(words, "it was too warm for a valid result", "es war zu warm für ein gültiges Ergebnis")
        }
        NotTaken::TooCold => {
            pick(words, "it was too cold for a valid result", "es war zu kalt für ein gültiges Ergebnis")
        }
        NotTaken::SampleOrStrip => pick(
            words,
            "too little blood, or the strip was put in wrongly or pulled too soon: measure again",
            "zu wenig Blut, oder der Streifen saß falsch oder wurde zu früh gezogen: noch einmal messen",
        ),
        NotTaken::TimeUnsure => pick(
            words,
            "the device's clock is not set or may be wrong: set it",
            "die Uhr des Geräts ist nicht gestellt oder geht vielleicht falsch: stellen",
        ),
        NotTaken::InFuture => pick(
            words,
            "the time lies ahead of this phone's clock: compare both",
            "die Zeit liegt vor der Uhr dieses Telefons: beide vergleichen",
        ),
        NotTaken::OutsideYears => pick(
            words,
            "the time lies outside the years 2000 to 2199: set the device's clock",
            "die Zeit liegt außerhalb der Jahre 2000 bis 2199: die Uhr des Geräts stellen",
        ),
        NotTaken::ControlSolution => {
            pick(words, "a control solution was measured, no blood", "gemessen wurde Kontrolllösung, kein Blut")
        }
        NotTaken::NotBlood => pick(
            words,
            "the meter does not say that blood was measured",
            "das Messgerät sagt nicht, dass Blut gemessen wurde",
        ),
        NotTaken::NoConcentration => pick(words, "the record holds no amount", "der Satz enthält keinen Wert"),
        NotTaken::ContextOfAnother => pick(
            words,
            "what came with it belongs to another measurement",
            "die Angaben dazu gehören zu einer anderen Messung",
        ),
        NotTaken::ImplausibleAmount => {
            pick(words, "an amount of carbohydrate that nobody eats", "eine Menge Kohlenhydrate, die niemand isst")
        }
        NotTaken::InsulinNotInUnits => pick(
            words,
            "insulin in kilograms or litres: note the units by hand",
            "Insulin in Kilogramm oder Litern: die Einheiten von Hand eintragen",
        ),
        NotTaken::MovementWithoutTime => {
            pick(words, "movement without its time: note it by hand", "Bewegung ohne Uhrzeit: von Hand eintragen")
        }
        NotTaken::NoPlaceInLog => pick(
            words,
            "HbA1c, meal marks and remarks on health have no place in the log",
            "für HbA1c, Mahlzeitenmarken und Angaben zum Befinden hat das Protokoll keinen Platz",
        ),
    };
    match held.at {
        None => pick(words, format!("Not in the log: {said}."), format!("Nicht im Protokoll: {said}.")),
        Some(at) => {
            let clock = at.clock();
            pick(words, format!("{clock}, not in the log: {said}."), format!("{clock}, nicht im Protokoll: {said}."))
        }
    }
}

/// A remark as a sentence.
#[must_use]
pub fn remark_text(remark: Remark, words: Words) -> &'static str {
    match remark {
        Remark::BatteryLow => pick(words, "The device's battery is low.", "Die Batterie des Geräts ist schwach."),
        Remark::CalibrationWanted => {
            pick(words, "The sensor asks to be calibrated.", "Der Sensor möchte kalibriert werden.")
        }
        Remark::LookAtDevice => {
            pick(words, "The device has something to say: look at it.", "Das Gerät meldet etwas: nachsehen.")
        }
        Remark::ClockShowedItTwice => pick(
            words,
            "The clock showed this time twice that night; the first was taken.",
            "Die Uhr zeigte diese Zeit in jener Nacht zweimal; genommen wurde die erste.",
        ),
        Remark::HourThatNeverWas => pick(
            words,
            "The clocks had gone forward over this time; the meter's clock was not.",
            "Über diese Zeit sprang die Uhr hinweg; die des Messgeräts nicht.",
        ),
        Remark::BelowDeviceRange => pick(
            words,
            "Too low for the device to measure: check with a meter now; if in doubt and no meter is at hand, treat.",
            "Für das Gerät zu tief zum Messen: jetzt am Finger messen; im Zweifel und ohne Messgerät behandeln.",
        ),
        Remark::AboveDeviceRange => pick(
            words,
            "Too high for the device to measure: check with a meter.",
            "Für das Gerät zu hoch zum Messen: am Finger messen.",
        ),
        Remark::NotFromAFinger => pick(
            words,
            "Not from a finger: when glucose moves fast, such blood lags behind.",
            "Nicht aus dem Finger: bei schneller Änderung hinkt solches Blut nach.",
        ),
    }
}

/// What a device said that is not in the log, or worth showing beside it.
#[must_use]
pub fn remarkable_text(what: &Remarkable, words: Words) -> String {
    match what {
        Remarkable::NotUnderstood(error) => fault_text(error, words),
        Remarkable::NoSuchTime => {
            words.error(&Error::Invalid { what: "time", why: "outside the years 2000 to 2199".to_owned() })
        }
        Remarkable::HeldBack(held) => held_back_text(held, words),
        Remarkable::Of(at, remark) => format!("{} {}", at.clock(), remark_text(*remark, words)),
    }
}
