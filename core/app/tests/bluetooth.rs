//! Values of the Bluetooth characteristics, from the services' own tables: decoding, encoding, and what becomes of them.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a failed test says where

//! Octets laid out by hand from the tables of the Bluetooth SIG's characteristics (XML 0x2A08, 0x2A18, 0x2A34, 0x2A52, 0x2AA7,
//! 0x2AA8, 0x2AAA).
#![allow(clippy::float_cmp)] // decimal numbers of three digits are read exactly or not at all

use chrono::NaiveDate;

use ebbstead_core::exchange::bluetooth::*;
use ebbstead_core::exchange::csv::{Offsets, Zone};
use ebbstead_core::log::{Beyond, Entry, EntryKind, SensorEvent, Source};
use ebbstead_core::sentences::bluetooth::*;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;

fn octets(hex: &str) -> Vec<u8> {
    hex.split_whitespace().map(|octet| u8::from_str_radix(octet, 16).unwrap()).collect()
}

fn local(year: i32, month: u32, day: u32, hour: u32, minute: u32) -> DateTime {
    DateTime::new(NaiveDate::from_ymd_opt(year, month, day).unwrap().and_hms_opt(hour, minute, 0).unwrap()).unwrap()
}

fn number(mantissa: i16, exponent: i8) -> Sfloat {
    Sfloat::Number { mantissa, exponent }
}

fn reading(mg_dl: Sfloat, minutes: u16) -> CgmMeasurement {
    CgmMeasurement { mg_dl, minutes, status: Status::default(), trend_mg_dl_min: None, quality_percent: None }
}

/// Reads octets as one record and writes them again.
fn measured(hex: &str, crc: E2eCrc, expected: CgmMeasurement) {
    let sent = octets(hex);
    assert_eq!(CgmMeasurement::decode(&sent, crc), Ok(vec![expected]), "{hex}");
    assert_eq!(expected.encode(crc), sent, "{hex}");
}

#[test]
fn cgm_measurement_in_every_shape() {
    measured("06 00 78 00 05 00", E2eCrc::Absent, reading(number(120, 0), 5));
    measured("08 00 78 00 05 00 0D E8", E2eCrc::Present, reading(number(120, 0), 5));
    let falling = CgmMeasurement { trend_mg_dl_min: Some(number(-12, -1)), ..reading(number(85, 0), 1445) };
    measured("08 01 55 00 A5 05 F4 FF", E2eCrc::Absent, falling);
    let everything = CgmMeasurement {
        status: [
            Annunciation::BatteryLow,
            Annunciation::CalibrationRecommended,
            Annunciation::BelowPatientLow,
            Annunciation::BelowHypo,
            Annunciation::FallingFast,
        ]
        .into_iter()
        .collect(),
        trend_mg_dl_min: Some(number(-23, -1)),
        quality_percent: Some(number(998, -1)),
        ..reading(number(62, 0), 300)
    };
    measured("0F E3 3E 00 2C 01 02 04 15 E9 FF E6 F3 3E FA", E2eCrc::Present, everything);
    measured("06 00 FF 07 14 00", E2eCrc::Absent, reading(Sfloat::NotANumber, 20));
}

/// Each octet of the status stands alone as well as with the others, in the order status, calibration and temperature, warning.
#[test]
fn cgm_measurement_with_every_subset_of_status_octets() {
    let warning: Status = [Annunciation::BelowPatientLow, Annunciation::BelowHypo].into_iter().collect();
    measured("07 20 35 00 0A 00 05", E2eCrc::Absent, CgmMeasurement { status: warning, ..reading(number(53, 0), 10) });
    let battery: Status = [Annunciation::BatteryLow].into_iter().collect();
    measured("07 80 63 00 0F 00 02", E2eCrc::Absent, CgmMeasurement { status: battery, ..reading(number(99, 0), 15) });
    let flags = [
        (0x80, Annunciation::GeneralFault),
        (0x40, Annunciation::TemperatureTooLow),
        (0x20, Annunciation::AboveDeviceRange),
    ];
    for subset in 0..8_usize {
        let chosen = flags.iter().enumerate().filter(|(place, _)| subset >> place & 1 == 1).map(|(_, one)| one);
        let mut sent = vec![6, 0, 0x78, 0, 5, 0];
        let mut status = Vec::new();
        for (flag, annunciation) in chosen {
            sent[0] += 1;
            sent[1] |= *flag;
            sent.push(1 << (annunciation.bit() % 8));
            status.push(*annunciation);
        }
        let record = CgmMeasurement { status: status.into_iter().collect(), ..reading(number(120, 0), 5) };
        assert_eq!(CgmMeasurement::decode(&sent, E2eCrc::Absent), Ok(vec![record]), "{sent:02X?}");
        assert_eq!(record.encode(E2eCrc::Absent), sent);
    }
}

#[test]
fn a_notification_holds_several_records() {
    let sent = octets("06 00 78 00 05 00 06 00 76 00 0A 00");
    let records = [reading(number(120, 0), 5), reading(number(118, 0), 10)];
    assert_eq!(CgmMeasurement::decode(&sent, E2eCrc::Absent), Ok(records.to_vec()));
}

fn refused<T: std::fmt::Debug>(read: Result<T, DecodeError>, offset: usize, fault: MessageFault) {
    let error = read.expect_err("it should be refused");
    assert_eq!((error.offset, error.fault), (offset, fault), "{error}");
}

#[test]
fn what_cannot_be_a_record_is_refused_with_its_octet() {
    use MessageFault::{Checksum, NoSuchCode, NoSuchTime, SizeDisagrees, TimeNotKnown, TooLong, TooShort};
    let cgm = |hex: &str, crc| CgmMeasurement::decode(&octets(hex), crc);
    refused(cgm("", E2eCrc::Absent), 0, TooShort { needs: 1, has: 0 });
    refused(cgm("06", E2eCrc::Absent), 1, TooShort { needs: 1, has: 0 });
    refused(cgm("00 00", E2eCrc::Absent), 0, SizeDisagrees { said: 0, needs: 6 });
    refused(cgm("06 00 78 00 05", E2eCrc::Absent), 0, TooShort { needs: 6, has: 5 });
    refused(cgm("06 01 78 00 05 00", E2eCrc::Absent), 0, SizeDisagrees { said: 6, needs: 8 });
    // A sensor with a checksum read as one without, and the other way round.
    refused(cgm("08 00 78 00 05 00 0D E8", E2eCrc::Absent), 0, SizeDisagrees { said: 8, needs: 6 });
    refused(cgm("06 00 78 00 05 00", E2eCrc::Present), 0, SizeDisagrees { said: 6, needs: 8 });
    // One bit of the amount turned over on the way, in the second record.
    let good = "08 00 78 00 05 00 0D E8";
    let turned = octets(&format!("{good} 08 00 38 00 05 00 0D E8"));
    let computed = e2e_crc(&turned[8..14]);
    refused(CgmMeasurement::decode(&turned, E2eCrc::Present), 8 + 6, Checksum { sent: 0xE80D, computed });
    refused(cgm("06 00 78 00 05 00 06", E2eCrc::Absent), 7, TooShort { needs: 1, has: 0 });

    let start = |hex: &str| SessionStart::decode(&octets(hex), E2eCrc::Absent);
    refused(start("00 00 05 02 0A 0F 00 04 00"), 0, TimeNotKnown);
    refused(start("E8 07 02 1E 0A 0F 00 04 00"), 0, NoSuchTime);
    refused(start("E8 07 05 02 18 0F 00 04 00"), 0, NoSuchTime);
    refused(start("E8 07 05 02 0A 0F 00 39 00"), 7, NoSuchCode { given: 57 });
    refused(start("E8 07 05 02 0A 0F 00 04 03"), 8, NoSuchCode { given: 3 });
    refused(start("E8 07 05 02 0A 0F 00 04 00 00"), 9, TooLong { extra: 1 });
    refused(MeterMeasurement::decode(&octets("02 01 00 E8 07 05 02 0A 0F 00 6E")), 10, TooShort { needs: 2, has: 1 });
    refused(RecordAccess::decode(&[3, 1], Service::Glucose), 1, NoSuchCode { given: 1 });
    refused(RecordAccess::decode(&[1, 7], Service::Glucose), 1, NoSuchCode { given: 7 });
    refused(RecordAccess::decode(&[1, 2, 2, 0, 0], Service::ContinuousGlucoseMonitoring), 2, NoSuchCode { given: 2 });
}

#[test]
fn errors_are_said_in_both_languages_with_place_and_characteristic() {
    let error = CgmMeasurement::decode(&[0, 0], E2eCrc::Absent).unwrap_err();
    let said = "CGM Measurement (0x2AA7), byte 0: the record says it has 0 bytes; its flags make it 6";
    assert_eq!(error.to_string(), said);
    for (language, expected) in [
        (Language::ENGLISH, said),
        (Language::GERMAN, "CGM Measurement (0x2AA7), Byte 0: der Satz nennt 0 Bytes, nach seinen Merkern sind es 6"),
    ] {
        assert_eq!(fault_text(&error, Words::new(language, GlucoseUnit::MgDl)), expected);
    }
    assert_eq!(ebbstead_core::Error::from(error).to_string(), format!("Bluetooth message: {said}"));
}

#[test]
fn the_other_values_of_a_sensor() {
    for (hex, crc, start) in [
        (
            "E8 07 05 02 0A 0F 00 04 00 95 19",
            E2eCrc::Present,
            SessionStart { local: local(2024, 5, 2, 10, 15), zone_quarters: Some(4), summer: SummerTime::Standard },
        ),
        (
            "E8 07 07 02 0A 0F 00 EC 04 53 4F",
            E2eCrc::Present,
            SessionStart { local: local(2024, 7, 2, 10, 15), zone_quarters: Some(-20), summer: SummerTime::OneHour },
        ),
        (
            "E8 07 07 02 0A 0F 00 80 FF",
            E2eCrc::Absent,
            SessionStart { local: local(2024, 7, 2, 10, 15), zone_quarters: None, summer: SummerTime::Unknown },
        ),
    ] {
        assert_eq!(SessionStart::decode(&octets(hex), crc), Ok(start));
        assert_eq!(start.encode(crc), octets(hex));
    }
    let with_crc = CgmFeature {
        abilities: [0, 1, 2, 3, 4, 12, 15, 16].into_iter().map(ability).collect(),
        fluid: SampleType::InterstitialFluid,
        location: SampleLocation::Subcutaneous,
    };
    let without = CgmFeature { abilities: [1, 2, 3, 15].into_iter().map(ability).collect(), ..with_crc };
    for (hex, feature, crc) in
        [("1F 90 01 59 9C 2D", with_crc, E2eCrc::Present), ("0E 80 00 59 FF FF", without, E2eCrc::Absent)]
    {
        assert_eq!(CgmFeature::decode(&octets(hex)), Ok(feature));
        assert_eq!((feature.encode(), feature.e2e_crc()), (octets(hex), crc));
    }
    assert!(CgmFeature::decode(&octets("1F 90 01 59 9C 2E")).is_err(), "a checksum that does not fit");
    assert!(CgmFeature::decode(&octets("0E 80 00 59 00 00")).is_err(), "0xFFFF where there is none");
}

fn ability(bit: u32) -> CgmAbility {
    *CgmAbility::ALL.iter().find(|one| one.bit() == bit).unwrap()
}

/// Reserved bits are passed over; those named stand where the tables put them.
#[test]
fn bits_stand_where_the_tables_put_them() {
    let bits = |all: &mut dyn Iterator<Item = u32>| all.collect::<Vec<_>>();
    assert_eq!(
        bits(&mut Annunciation::ALL.iter().map(|one| one.bit())),
        [0, 1, 2, 3, 4, 5, 8, 9, 10, 11, 12, 13, 16, 17, 18, 19, 20, 21, 22, 23]
    );
    assert_eq!(bits(&mut CgmAbility::ALL.iter().map(|one| one.bit())), (0..17).collect::<Vec<_>>());
    assert_eq!(bits(&mut MeterFault::ALL.iter().map(|one| one.bit())), (0..12).collect::<Vec<_>>());
    assert_eq!(Status::from_bits(u32::MAX).bits(), 0x00FF_3F3F);
    assert_eq!(Status::from_bits(u32::MAX).iter().count(), 20);
}

#[test]
fn asking_for_records() {
    use Service::{ContinuousGlucoseMonitoring as Cgm, Glucose};
    let time = Position::Time(local(2024, 5, 2, 10, 15));
    for (hex, service, access) in [
        ("01 01", Glucose, RecordAccess::Report(Selection::All)),
        ("01 03 01 05 00", Glucose, RecordAccess::Report(Selection::From(Position::Sequence(5)))),
        ("01 03 01 2C 01", Cgm, RecordAccess::Report(Selection::From(Position::Minutes(300)))),
        ("01 02 01 2C 01", Cgm, RecordAccess::Report(Selection::UpTo(Position::Minutes(300)))),
        (
            "04 04 01 0A 00 14 00",
            Cgm,
            RecordAccess::Count(Selection::Within(Position::Minutes(10), Position::Minutes(20))),
        ),
        (
            "01 04 02 E8 07 05 02 0A 0F 00 E8 07 05 02 0A 0F 00",
            Glucose,
            RecordAccess::Report(Selection::Within(time, time)),
        ),
        ("01 05", Cgm, RecordAccess::Report(Selection::First)),
        ("01 06", Cgm, RecordAccess::Report(Selection::Last)),
        ("02 06", Glucose, RecordAccess::Delete(Selection::Last)),
        ("03 00", Glucose, RecordAccess::Abort),
        ("05 00 D0 07", Glucose, RecordAccess::CountIs(2000)),
        ("06 00 01 01", Glucose, RecordAccess::Response { to: 1, outcome: RecordOutcome::Success }),
        ("06 00 01 06", Cgm, RecordAccess::Response { to: 1, outcome: RecordOutcome::NoRecords }),
    ] {
        assert_eq!(RecordAccess::decode(&octets(hex), service), Ok(access), "{hex}");
        assert_eq!(access.encode(), octets(hex));
    }
}

fn meter(glucose: (Concentration, SampleType, SampleLocation)) -> MeterMeasurement {
    MeterMeasurement {
        sequence: 1,
        base_time: local(2024, 5, 2, 10, 15),
        offset_minutes: None,
        glucose: Some(glucose),
        faults: None,
        context_follows: false,
    }
}

#[test]
fn meter_measurements() {
    use {Concentration as C, SampleLocation as L, SampleType as T};
    let whole = (T::CapillaryWholeBlood, L::Finger);
    let plain = meter((C::KgPerLitre(number(110, -5)), whole.0, whole.1));
    let moles = MeterMeasurement { sequence: 2, ..meter((C::MolPerLitre(number(55, -4)), whole.0, whole.1)) };
    let later = MeterMeasurement {
        sequence: 3,
        offset_minutes: Some(60),
        faults: Some([MeterFault::BatteryLow].into_iter().collect()),
        ..meter((C::KgPerLitre(number(65, -5)), T::CapillaryPlasma, L::Finger))
    };
    let earlier = MeterMeasurement {
        sequence: 4,
        offset_minutes: Some(-30),
        ..meter((C::KgPerLitre(number(250, -5)), whole.0, whole.1))
    };
    let bare = MeterMeasurement { glucose: None, context_follows: true, ..plain };
    for (hex, measurement) in [
        ("02 01 00 E8 07 05 02 0A 0F 00 6E B0 11", plain),
        ("06 02 00 E8 07 05 02 0A 0F 00 37 C0 11", moles),
        ("0B 03 00 E8 07 05 02 0A 0F 00 3C 00 41 B0 12 01 00", later),
        ("03 04 00 E8 07 05 02 0A 0F 00 E2 FF FA B0 11", earlier),
        ("10 01 00 E8 07 05 02 0A 0F 00", bare),
    ] {
        assert_eq!(MeterMeasurement::decode(&octets(hex)), Ok(measurement), "{hex}");
        assert_eq!(measurement.encode(), octets(hex));
    }
}

#[test]
fn meter_contexts() {
    let carbs = MeterContext {
        sequence: 2,
        carbohydrate_kg: Some((CarbohydrateKind::Lunch, number(45, -3))),
        ..MeterContext::default()
    };
    let everything = MeterContext {
        meal: Some(MealTime::Before),
        tester_health: Some((Tester::Wearer, Health::NoIssues)),
        exercise: Some(Exercise { seconds: Some(1800), intensity_percent: 60 }),
        medication: Some((Medication::RapidInsulin, MedicationAmount::Litres(number(40, -6)))),
        hba1c_percent: Some(number(71, -1)),
        ..carbs
    };
    let overrun = MeterContext {
        sequence: 2,
        exercise: Some(Exercise { seconds: None, intensity_percent: 60 }),
        medication: Some((Medication::Reserved(9), MedicationAmount::Kilograms(number(4, -6)))),
        ..MeterContext::default()
    };
    for (hex, context) in [
        ("01 02 00 02 2D D0", carbs),
        ("7F 02 00 02 2D D0 01 51 08 07 3C 01 28 A0 47 F0", everything),
        ("18 02 00 FF FF 3C 09 04 A0", overrun),
    ] {
        assert_eq!(MeterContext::decode(&octets(hex)), Ok(context), "{hex}");
        assert_eq!(context.encode(), octets(hex));
    }
    // Extended flags are all reserved.
    assert_eq!(MeterContext::decode(&octets("81 02 00 FF 02 2D D0")), Ok(carbs));
}

fn words() -> Words {
    Words::new(Language::ENGLISH, GlucoseUnit::MgDl)
}

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn sensor() -> SensorTaker {
    let start = SessionStart::decode(&octets("E8 07 05 02 0A 0F 00 04 00"), E2eCrc::Absent).unwrap();
    SensorTaker::new(Source::new("sensor 7").unwrap(), &start, 0).unwrap()
}

fn with(mg_dl: Sfloat, minutes: u16, status: &[Annunciation]) -> CgmMeasurement {
    CgmMeasurement { status: status.iter().copied().collect(), ..reading(mg_dl, minutes) }
}

#[test]
fn a_sensors_records_become_readings_by_its_session_start() {
    let now = at("2024-05-02T11:00:00+01:00");
    let records = [reading(number(120, 0), 5), reading(number(1185, -1), 10)];
    let taken = sensor().take(&records, now, |_| 120);
    let expected = [("2024-05-02T11:20:00+02:00", 120.0), ("2024-05-02T11:25:00+02:00", 118.5)];
    assert_eq!(taken.entries.len(), 2);
    for (entry, (when, mg_dl)) in taken.entries.iter().zip(expected) {
        assert_eq!(entry.at, at(when), "the instant by the sensor, the offset by the wearer's clock");
        assert!(matches!(entry.what, EntryKind::SensorReading { mg_dl: read } if read.mg_dl() == mg_dl));
    }
    // Another phone that receives the same gives the same identities.
    let again = sensor().take(&records, at("2024-05-02T12:00:00+01:00"), |_| 60);
    assert_eq!(
        again.entries.iter().map(|one| one.id).collect::<Vec<_>>(),
        taken.entries.iter().map(|one| one.id).collect::<Vec<_>>()
    );
    let put_in = sensor().put_in(now).unwrap();
    assert_eq!(
        (put_in.at, put_in.what),
        (at("2024-05-02T10:15:00+01:00"), EntryKind::Sensor(SensorEvent::inserted(None)))
    );
}

#[test]
fn a_session_start_without_a_zone_takes_the_phones() {
    let start = SessionStart::decode(&octets("E8 07 05 02 0A 0F 00 80 FF"), E2eCrc::Absent).unwrap();
    assert_eq!(start.moment(-300).unwrap(), at("2024-05-02T10:15:00-05:00"));
    let known = SessionStart { zone_quarters: Some(-20), summer: SummerTime::OneHour, ..start };
    assert_eq!(known.moment(0).unwrap(), at("2024-05-02T10:15:00-04:00"));
}

#[test]
fn what_is_no_valid_result_is_held_back_with_its_reason() {
    let now = at("2024-05-02T20:00:00+01:00");
    let held = |record: CgmMeasurement| {
        let taken = sensor().take(&[record], now, |_| 60);
        assert!(!taken.entries.iter().any(|one| matches!(one.what, EntryKind::SensorReading { .. })), "{record:?}");
        assert_eq!(taken.held_back.len(), 1, "{record:?}");
        taken.held_back[0]
    };
    let fine = number(120, 0);
    for (record, why) in [
        (with(Sfloat::NotANumber, 5, &[]), RejectReason::NoNumber),
        (with(Sfloat::NotAtThisResolution, 5, &[]), RejectReason::NoNumber),
        (with(Sfloat::Reserved, 5, &[]), RejectReason::NoNumber),
        (
            with(number(39, 0), 5, &[Annunciation::BelowDeviceRange, Annunciation::AboveDeviceRange]),
            RejectReason::NoNumber,
        ),
        (
            with(number(39, 0), 5, &[Annunciation::BelowDeviceRange, Annunciation::GeneralFault]),
            RejectReason::Malfunction,
        ),
        (with(Sfloat::MinusInfinity, 700, &[]), RejectReason::InFuture),
        (with(number(0, 0), 5, &[]), RejectReason::OutOfRange),
        (with(number(700, 0), 5, &[]), RejectReason::OutOfRange),
        (with(fine, 5, &[Annunciation::SensorMalfunction]), RejectReason::Malfunction),
        (with(fine, 5, &[Annunciation::GeneralFault]), RejectReason::Malfunction),
        (with(fine, 5, &[Annunciation::SensorTypeIncorrect]), RejectReason::WrongType),
        (with(fine, 5, &[Annunciation::TemperatureTooHigh]), RejectReason::TooWarm),
        (with(fine, 5, &[Annunciation::TemperatureTooLow]), RejectReason::TooCold),
        (with(fine, 5, &[Annunciation::SessionStopped]), RejectReason::SessionStopped),
        (with(fine, 5, &[Annunciation::TimeSynchronizationRequired]), RejectReason::TimeUnsure),
        (with(fine, 700, &[]), RejectReason::InFuture),
    ] {
        assert_eq!(held(record).why, why, "{record:?}");
    }
    let hot = held(with(number(39, 0), 5, &[Annunciation::TemperatureTooHigh]));
    assert_eq!(hot.given_mg_dl, Some(39.0));
    let said = held_back_text(&hot, words());
    assert!(said.starts_with("10:20, not in the log"), "{said}");
    assert_eq!(
        held(with(fine, 5, &[Annunciation::TimeSynchronizationRequired])).at,
        None,
        "an unsure time is not shown as one"
    );
    // An alert of the sensor's own does not invalidate the amount.
    let low =
        with(number(52, 0), 5, &[Annunciation::BelowHypo, Annunciation::BelowPatientLow, Annunciation::FallingFast]);
    assert_eq!(sensor().take(&[low], now, |_| 60).entries.len(), 1);
}

#[test]
fn what_a_sensor_cannot_measure_is_a_reading_too_low_or_too_high() {
    let now = at("2024-05-02T20:00:00+01:00");
    // SFLOAT's special values (ISO/IEEE 11073-20601: -INFINITY 0x0802, +INFINITY 0x07FE), and the bits of the CGM service's
    // Sensor Status Annunciation, whatever number comes with them.
    let (below, above) = (&[Annunciation::BelowDeviceRange][..], &[Annunciation::AboveDeviceRange][..]);
    for (record, beyond, limit) in [
        (with(Sfloat::from_word(0x0802), 5, &[]), Beyond::Below, 40.0),
        (with(Sfloat::from_word(0x07FE), 5, &[]), Beyond::Above, 400.0),
        (with(number(39, 0), 5, below), Beyond::Below, 40.0),
        (with(number(401, 0), 5, above), Beyond::Above, 400.0),
        (with(Sfloat::NotANumber, 5, below), Beyond::Below, 40.0),
        (with(Sfloat::MinusInfinity, 5, below), Beyond::Below, 40.0),
        (with(number(0, 0), 5, below), Beyond::Below, 40.0),
    ] {
        let taken = sensor().take(&[record], now, |_| 60);
        assert!(taken.held_back.is_empty(), "{record:?}");
        let [entry] = &taken.entries[..] else { panic!("{taken:?}") };
        let mg_dl = Glucose::from_mg_dl(limit).unwrap();
        assert_eq!(entry.what, EntryKind::SensorBeyond { beyond, mg_dl }, "{record:?}");
        let remark = if beyond == Beyond::Below { Remark::BelowDeviceRange } else { Remark::AboveDeviceRange };
        assert_eq!(taken.remarks, [(entry.at, remark)]);
        assert_eq!(sensor().take(&[record], now, |_| 120).entries[0].id, entry.id, "the same on every phone");
    }
    let said = remark_text(Remark::BelowDeviceRange, words());
    assert!(said.contains("if in doubt and no meter is at hand, treat"), "{said}");
}

#[test]
fn a_fault_is_noted_when_it_appears_and_not_with_every_record() {
    let now = at("2024-05-02T20:00:00+01:00");
    let faulty = |minutes| with(number(120, 0), minutes, &[Annunciation::SensorMalfunction, Annunciation::BatteryLow]);
    let stopped = with(number(120, 0), 30, &[Annunciation::SessionStopped]);
    let records = [faulty(5), faulty(10), reading(number(120, 0), 15), faulty(20), stopped];
    let mut taker = sensor();
    let taken = taker.take(&records, now, |_| 60);
    let events: Vec<(String, String)> = taken
        .entries
        .iter()
        .filter_map(|one| match &one.what {
            EntryKind::Sensor(SensorEvent::DeviceFault { code }) => Some((one.at.clock(), format!("{code:?}"))),
            EntryKind::Sensor(SensorEvent::Ended) => Some((one.at.clock(), "ended".to_owned())),
            _ => None,
        })
        .collect();
    let malfunction = "SensorMalfunction";
    let expected = [("10:20", malfunction), ("10:35", malfunction), ("10:45", "ended")];
    assert_eq!(events, expected.map(|(clock, said)| (clock.to_owned(), said.to_owned())));
    assert_eq!(taken.remarks.iter().filter(|(_, one)| *one == Remark::BatteryLow).count(), 3);
    assert_eq!(taken.held_back.len(), 4);
    // The next batch goes on from there.
    assert!(taker.take(&[with(number(120, 0), 35, &[Annunciation::SessionStopped])], now, |_| 60).entries.is_empty());
}

/// Two phones set to different languages receive the same sensor: their logs hold its faults once.
#[test]
fn a_fault_is_the_same_entry_whatever_the_language() {
    let now = at("2024-05-02T20:00:00+01:00");
    let clocks = Clocks { local: &|_| Offsets::One(60), at: &|_| 60 };
    let octets: Vec<u8> = [
        (5, Annunciation::SensorTypeIncorrect),
        (10, Annunciation::SensorMalfunction),
        (15, Annunciation::GeneralFault),
    ]
    .into_iter()
    .flat_map(|(minutes, state)| with(number(120, 0), minutes, &[state]).encode(E2eCrc::Absent))
    .collect();
    let start = [0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0];
    let received = |language| {
        let words = Words::of(&Wearer { language, ..Wearer::default() });
        let mut device = Device::new(Source::new("sensor 7").unwrap());
        let began = device.receive(Characteristic::CgmSessionStartTime, &start, now, &clocks);
        assert!(began.session_began.is_some());
        let entries = device.receive(Characteristic::CgmMeasurement, &octets, now, &clocks).entries;
        let said: Vec<String> = entries.iter().map(|one| words.what(&one.what)).collect();
        let kept: Vec<String> = entries.iter().map(|one| serde_json::to_string(one).unwrap()).collect();
        (kept, said)
    };
    let (english, german) = (received(Language::ENGLISH), received(Language::GERMAN));
    assert_eq!(english.0.len(), 3);
    assert_eq!(english.0, german.0);
    assert!(english.1.iter().zip(&german.1).all(|(one, other)| one != other), "{english:?} {german:?}");
}

#[test]
fn a_meters_measurement_becomes_a_check_at_the_wearers_time() {
    use {Concentration as C, SampleLocation as L, SampleType as T};
    let now = at("2024-05-02T20:00:00+02:00");
    let taker = MeterTaker::new(Source::new("meter 2").unwrap(), Zone::Fixed(120));
    let check = |entry: &Entry| match entry.what {
        EntryKind::MeterCheck { mg_dl } => (entry.at.to_rfc3339(), mg_dl.mg_dl()),
        ref other => panic!("{other:?}"),
    };
    let later = MeterMeasurement {
        offset_minutes: Some(60),
        ..meter((C::KgPerLitre(number(65, -5)), T::CapillaryPlasma, L::Finger))
    };
    let taken = taker.take(&later, None, now);
    assert_eq!(check(&taken.entries[0]), ("2024-05-02T11:15:00+02:00".to_owned(), 65.0));
    let moles = taker.take(&meter((C::MolPerLitre(number(55, -4)), T::VenousPlasma, L::AlternateSite)), None, now);
    // 5.5 mmol/L by glucose's molar mass of 180.156 g/mol, to the hundredth.
    assert_eq!(check(&moles.entries[0]).1, 99.09);
    assert_eq!(moles.remarks, [(moles.entries[0].at, Remark::NotFromAFinger)]);
    let plain = (C::KgPerLitre(number(110, -5)), T::CapillaryWholeBlood, L::Finger);
    let faulty = |fault: MeterFault| MeterMeasurement { faults: Some([fault].into_iter().collect()), ..meter(plain) };
    for (measurement, why) in [
        (meter((plain.0, T::ControlSolution, L::Finger)), RejectReason::ControlSolution),
        (meter((plain.0, T::CapillaryPlasma, L::ControlSolution)), RejectReason::ControlSolution),
        (meter((plain.0, T::InterstitialFluid, L::Finger)), RejectReason::NotBlood),
        (meter((plain.0, T::Reserved(12), L::Finger)), RejectReason::NotBlood),
        (meter((C::KgPerLitre(Sfloat::NotANumber), T::CapillaryPlasma, L::Finger)), RejectReason::NoNumber),
        (meter((C::KgPerLitre(number(110, 0)), T::CapillaryPlasma, L::Finger)), RejectReason::OutOfRange),
        (MeterMeasurement { glucose: None, ..meter(plain) }, RejectReason::NoConcentration),
        (MeterMeasurement { offset_minutes: Some(600), ..meter(plain) }, RejectReason::InFuture),
        (MeterMeasurement { base_time: local(1990, 1, 1, 0, 0), ..meter(plain) }, RejectReason::OutsideYears),
        (
            MeterMeasurement {
                faults: Some([MeterFault::BelowDeviceRange].into_iter().collect()),
                ..meter((plain.0, T::ControlSolution, L::Finger))
            },
            RejectReason::ControlSolution,
        ),
        (faulty(MeterFault::SampleTooSmall), RejectReason::SampleOrStrip),
        (faulty(MeterFault::StripInsertion), RejectReason::SampleOrStrip),
        (faulty(MeterFault::ReadInterrupted), RejectReason::SampleOrStrip),
        (faulty(MeterFault::StripTypeIncorrect), RejectReason::WrongType),
        (faulty(MeterFault::Malfunction), RejectReason::Malfunction),
        (faulty(MeterFault::TemperatureTooLow), RejectReason::TooCold),
        (faulty(MeterFault::TimeFault), RejectReason::TimeUnsure),
    ] {
        let taken = taker.take(&measurement, None, now);
        assert_eq!((taken.entries.len(), taken.held_back.len()), (0, 1), "{measurement:?}");
        assert_eq!(taken.held_back[0].why, why, "{measurement:?}");
    }
    let infinite = |word| meter((C::KgPerLitre(Sfloat::from_word(word)), T::CapillaryPlasma, L::Finger));
    for (measurement, beyond, limit) in [
        (faulty(MeterFault::BelowDeviceRange), Beyond::Below, 20.0),
        (faulty(MeterFault::AboveDeviceRange), Beyond::Above, 600.0),
        (MeterMeasurement { glucose: None, ..faulty(MeterFault::BelowDeviceRange) }, Beyond::Below, 20.0),
        (infinite(0x0802), Beyond::Below, 20.0),
        (infinite(0x07FE), Beyond::Above, 600.0),
    ] {
        let taken = taker.take(&measurement, None, now);
        let [entry] = &taken.entries[..] else { panic!("{taken:?}") };
        let mg_dl = Glucose::from_mg_dl(limit).unwrap();
        assert_eq!(entry.what, EntryKind::MeterBeyond { beyond, mg_dl }, "{measurement:?}");
    }
    // A clock that showed a time twice, and one that jumped over it.
    let twice = |_| Offsets::Two { before: 120, after: 60 };
    let taken = MeterTaker::new(Source::by_hand(), Zone::Changing(&twice)).take(&meter(plain), None, now);
    assert_eq!(taken.remarks[0].1, Remark::ClockShowedItTwice);
    let never = |_| Offsets::Never { before: 60 };
    let taken = MeterTaker::new(Source::by_hand(), Zone::Changing(&never)).take(&meter(plain), None, now);
    assert_eq!(taken.remarks[0].1, Remark::HourThatNeverWas);
}

#[test]
fn of_a_context_carbohydrate_is_taken_and_the_rest_is_reported() {
    use {Concentration as C, SampleLocation as L, SampleType as T};
    let now = at("2024-05-02T20:00:00+02:00");
    let taker = MeterTaker::new(Source::new("meter 2").unwrap(), Zone::Fixed(120));
    let measurement = meter((C::KgPerLitre(number(110, -5)), T::CapillaryWholeBlood, L::Finger));
    let context = MeterContext::decode(&octets("7F 01 00 02 2D D0 01 51 08 07 3C 01 28 A0 47 F0")).unwrap();
    let taken = taker.take(&measurement, Some(&context), now);
    assert!(matches!(taken.entries[1].what, EntryKind::Carbohydrate { grams, .. } if grams == 45.0), "{taken:?}");
    let held: Vec<RejectReason> = taken.held_back.iter().map(|one| one.why).collect();
    assert_eq!(held, [RejectReason::InsulinNotInUnits, RejectReason::MovementWithoutTime, RejectReason::NoPlaceInLog]);
    let other = MeterContext { sequence: 9, ..context };
    assert_eq!(taker.take(&measurement, Some(&other), now).held_back[0].why, RejectReason::ContextOfAnother);
    let huge = MeterContext {
        carbohydrate_kg: Some((CarbohydrateKind::Snack, number(45, 0))),
        sequence: 1,
        ..MeterContext::default()
    };
    assert_eq!(taker.take(&measurement, Some(&huge), now).held_back[0].why, RejectReason::ImplausibleAmount);
}

#[test]
fn everything_that_can_be_reported_has_its_sentence_in_both_languages() {
    let all = [
        RejectReason::NoNumber,
        RejectReason::OutOfRange,
        RejectReason::SessionStopped,
        RejectReason::WrongType,
        RejectReason::Malfunction,
        RejectReason::TooWarm,
        RejectReason::TooCold,
        RejectReason::SampleOrStrip,
        RejectReason::TimeUnsure,
        RejectReason::InFuture,
        RejectReason::OutsideYears,
        RejectReason::ControlSolution,
        RejectReason::NotBlood,
        RejectReason::NoConcentration,
        RejectReason::ContextOfAnother,
        RejectReason::ImplausibleAmount,
        RejectReason::InsulinNotInUnits,
        RejectReason::MovementWithoutTime,
        RejectReason::NoPlaceInLog,
    ];
    let mut said = std::collections::BTreeSet::new();
    for why in all {
        for language in [Language::ENGLISH, Language::GERMAN] {
            said.insert(held_back_text(
                &HeldBack { at: None, given_mg_dl: None, why },
                Words::new(language, GlucoseUnit::MgDl),
            ));
        }
    }
    assert_eq!(said.len(), 2 * all.len());
    for sentence in said {
        assert!(!sentence.contains("units of insulin") && sentence.ends_with('.'), "{sentence}");
    }
}
