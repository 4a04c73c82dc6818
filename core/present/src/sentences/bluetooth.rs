//! What devices said and what was held back, in words.

use crate::error::Error;
use crate::exchange::bluetooth::{DecodeError, Fault};
use crate::exchange::bluetooth::{HeldBack, NotTaken, Remark, Remarkable};
use crate::words::Words;
use crate::{say, text};

/// Why octets cannot be read, with the characteristic and the octet.
#[must_use]
pub fn fault_text(error: &DecodeError, words: Words) -> String {
    let why = match error.fault {
        Fault::TooShort { needs, has } => say!(words, "bluetooth-field-octets-begins-here-and", needs, has),
        Fault::TooLong { extra } => {
            say!(words, "bluetooth-octets-left-over", extra)
        }
        Fault::SizeDisagrees { said, needs } => say!(words, "bluetooth-record-says-has-octets-its", said, needs),
        Fault::Checksum { sent, computed } => say!(
            words,
            "bluetooth-checksum-and-should-be-ask",
            sent = format!("{sent:04X}"),
            computed = format!("{computed:04X}")
        ),
        Fault::NoSuchCode { given } => {
            say!(words, "bluetooth-no-code-field", given)
        }
        Fault::NoSuchTime => text!(words, "bluetooth-no-such-date-or-time").to_owned(),
        Fault::TimeNotKnown => text!(words, "bluetooth-device-does-not-know-date").to_owned(),
    };
    let (name, uuid, octet) = (error.characteristic.name(), error.characteristic.uuid(), error.offset);
    say!(words, "bluetooth-0x-octet", name, uuid = format!("{uuid:04X}"), octet, why)
}

/// Why something is not in the log, and what to do.
#[must_use]
pub fn held_back_text(held: &HeldBack, words: Words) -> String {
    let said = match held.why {
        NotTaken::NoNumber => text!(words, "bluetooth-device-sent-no-number"),
        NotTaken::OutOfRange => text!(words, "bluetooth-amount-outside-what-log-takes"),
        NotTaken::SessionStopped => text!(words, "bluetooth-sensors-session-stopped"),
        NotTaken::WrongType => text!(words, "bluetooth-device-does-not-take-kind"),
        NotTaken::Malfunction => text!(words, "bluetooth-device-says-does-not-work"),
        NotTaken::TooWarm => {
            text!(words, "bluetooth-too-warm-for-valid-result")
        }
        NotTaken::TooCold => {
            text!(words, "bluetooth-too-cold-for-valid-result")
        }
        NotTaken::SampleOrStrip => text!(words, "bluetooth-too-little-blood-or-strip"),
        NotTaken::TimeUnsure => text!(words, "bluetooth-devices-clock-not-set-or"),
        NotTaken::InFuture => text!(words, "bluetooth-time-lies-ahead-phones-clock"),
        NotTaken::OutsideYears => text!(words, "bluetooth-time-lies-outside-years-2000"),
        NotTaken::ControlSolution => {
            text!(words, "bluetooth-control-solution-measured-no-blood")
        }
        NotTaken::NotBlood => text!(words, "bluetooth-meter-does-not-say-blood"),
        NotTaken::NoConcentration => text!(words, "bluetooth-record-holds-no-amount"),
        NotTaken::ContextOfAnother => text!(words, "bluetooth-what-came-with-belongs-to"),
        NotTaken::ImplausibleAmount => {
            text!(words, "bluetooth-amount-carbohydrate-nobody-eats")
        }
        NotTaken::InsulinNotInUnits => text!(words, "bluetooth-insulin-in-kilograms-or-litres"),
        NotTaken::MovementWithoutTime => {
            text!(words, "bluetooth-movement-without-its-time-note")
        }
        NotTaken::NoPlaceInLog => text!(words, "bluetooth-hba1c-meal-marks-and-remarks"),
    };
    match held.at {
        None => say!(words, "bluetooth-not-in-log-2", said),
        Some(at) => {
            let clock = at.clock();
            say!(words, "bluetooth-not-in-log", clock, said)
        }
    }
}

/// A remark as a sentence.
#[must_use]
pub fn remark_text(remark: Remark, words: Words) -> &'static str {
    match remark {
        Remark::BatteryLow => text!(words, "bluetooth-devices-battery-low"),
        Remark::CalibrationWanted => {
            text!(words, "bluetooth-sensor-asks-to-be-calibrated")
        }
        Remark::LookAtDevice => {
            text!(words, "bluetooth-device-has-something-to-say")
        }
        Remark::ClockShowedItTwice => text!(words, "bluetooth-clock-showed-time-twice-night"),
        Remark::HourThatNeverWas => text!(words, "bluetooth-clocks-had-gone-forward-over"),
        Remark::BelowDeviceRange => text!(words, "bluetooth-too-low-for-device-to"),
        Remark::AboveDeviceRange => text!(words, "bluetooth-too-high-for-device-to"),
        Remark::NotFromAFinger => text!(words, "bluetooth-not-from-finger-when-glucose"),
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
