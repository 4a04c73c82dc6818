//! What devices said and what was held back, in words.

use crate::error::{Error, Quantity, Why};
use crate::exchange::bluetooth::{DecodeError, MessageFault};
use crate::exchange::bluetooth::{HeldBack, RejectReason, Remark, Remarkable};
use crate::words::Words;
use crate::{say, text};

/// Why octets cannot be read, with the characteristic and the octet.
#[must_use]
pub fn fault_text(error: &DecodeError, words: Words) -> String {
    let why = match error.fault {
        MessageFault::TooShort { needs, has } => say!(words, "bluetooth-field-octets-begins-here-and", needs, has),
        MessageFault::TooLong { extra } => say!(words, "bluetooth-octets-left-over", extra),
        MessageFault::SizeDisagrees { said, needs } => say!(words, "bluetooth-record-says-has-octets-its", said, needs),
        MessageFault::Checksum { sent, computed } => say!(
            words,
            "bluetooth-checksum-and-should-be-ask",
            sent = format!("{sent:04X}"),
            computed = format!("{computed:04X}")
        ),
        MessageFault::NoSuchCode { given } => say!(words, "bluetooth-no-code-field", given),
        MessageFault::NoSuchTime => text!(words, "bluetooth-no-such-date-or-time").to_owned(),
        MessageFault::TimeNotKnown => text!(words, "bluetooth-device-does-not-know-date").to_owned(),
    };
    let (name, uuid, octet) = (error.characteristic.name(), error.characteristic.uuid(), error.offset);
    say!(words, "bluetooth-0x-octet", name, uuid = format!("{uuid:04X}"), octet, why)
}

/// Why something is not in the log, and what to do.
#[must_use]
pub fn held_back_text(held: &HeldBack, words: Words) -> String {
    let said = match held.why {
        RejectReason::NoNumber => text!(words, "bluetooth-device-sent-no-number"),
        RejectReason::OutOfRange => text!(words, "bluetooth-amount-outside-what-log-takes"),
        RejectReason::SessionStopped => text!(words, "bluetooth-sensors-session-stopped"),
        RejectReason::WrongType => text!(words, "bluetooth-device-does-not-take-kind"),
        RejectReason::Malfunction => text!(words, "bluetooth-device-says-does-not-work"),
        RejectReason::TooWarm => text!(words, "bluetooth-too-warm-for-valid-result"),
        RejectReason::TooCold => text!(words, "bluetooth-too-cold-for-valid-result"),
        RejectReason::SampleOrStrip => text!(words, "bluetooth-too-little-blood-or-strip"),
        RejectReason::TimeUnsure => text!(words, "bluetooth-devices-clock-not-set-or"),
        RejectReason::InFuture => text!(words, "bluetooth-time-lies-ahead-phones-clock"),
        RejectReason::OutsideYears => text!(words, "bluetooth-time-lies-outside-years-2000"),
        RejectReason::ControlSolution => text!(words, "bluetooth-control-solution-measured-no-blood"),
        RejectReason::NotBlood => text!(words, "bluetooth-meter-does-not-say-blood"),
        RejectReason::NoConcentration => text!(words, "bluetooth-record-holds-no-amount"),
        RejectReason::ContextOfAnother => text!(words, "bluetooth-what-came-with-belongs-to"),
        RejectReason::ImplausibleAmount => text!(words, "bluetooth-amount-carbohydrate-nobody-eats"),
        RejectReason::InsulinNotInUnits => text!(words, "bluetooth-insulin-in-kilograms-or-litres"),
        RejectReason::MovementWithoutTime => text!(words, "bluetooth-movement-without-its-time-note"),
        RejectReason::NoPlaceInLog => text!(words, "bluetooth-hba1c-meal-marks-and-remarks"),
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
        Remark::CalibrationWanted => text!(words, "bluetooth-sensor-asks-to-be-calibrated"),
        Remark::LookAtDevice => text!(words, "bluetooth-device-has-something-to-say"),
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
            words.error(&Error::Invalid { what: Quantity::Time, why: Why::OutsideYears { first: 2000, last: 2199 } })
        }
        Remarkable::HeldBack(held) => held_back_text(held, words),
        Remarkable::Of(at, remark) => format!("{} {}", at.clock(), remark_text(*remark, words)),
    }
}
