//! Reads octets of Bluetooth characteristics from standard input and writes what core makes of them, to be compared with another
//! program's reading of the same octets. One case a line: `kind crc octets`, as `cgm 1 0800780005000DE8`.
#![allow(clippy::print_stdout)] // a tool's output

use std::io::BufRead;

use ebbstead_core::exchange::bluetooth::{
    CgmFeature, CgmMeasurement, Concentration, DecodeError, E2eCrc, MedicationAmount, MeterContext, MeterMeasurement,
    SessionStart, Sfloat,
};
use serde_json::{Value, json};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let words: Vec<&str> = line.split_whitespace().collect();
        let [kind, crc, hex] = words[..] else { return Err(format!("{line:?} is no case").into()) };
        let crc = if crc == "1" { E2eCrc::Present } else { E2eCrc::Absent };
        let octets = (0..hex.len() / 2)
            .map(|place| u8::from_str_radix(&hex[2 * place..2 * place + 2], 16))
            .collect::<Result<Vec<u8>, _>>()?;
        let answer = read(kind, crc, &octets).unwrap_or_else(|error| json!({ "refused": error.offset }));
        println!("{answer}");
    }
    Ok(())
}

/// What the octets say, field by field, and the octets written from it.
fn read(kind: &str, crc: E2eCrc, octets: &[u8]) -> Result<Value, DecodeError> {
    Ok(match kind {
        "cgm" => {
            let records = CgmMeasurement::decode(octets, crc)?;
            let decoded: Vec<Value> = records
                .iter()
                .map(|one| {
                    json!({
                        "mg_dl": number(one.mg_dl), "minutes": one.minutes, "status": one.status.bits(),
                        "trend": one.trend_mg_dl_min.map(number), "quality": one.quality_percent.map(number),
                    })
                })
                .collect();
            let again: Vec<u8> = records.iter().flat_map(|one| one.encode(crc)).collect();
            json!({ "told": decoded, "again": written(&again) })
        }
        "feature" => {
            let one = CgmFeature::decode(octets)?;
            let decoded =
                json!({ "bits": one.abilities.bits(), "fluid": one.fluid.code(), "location": one.location.code() });
            json!({ "told": decoded, "again": written(&one.encode()) })
        }
        "start" => {
            let one = SessionStart::decode(octets, crc)?;
            let decoded = json!({ "local": one.local.local().to_string(), "offset": one.offset_minutes() });
            json!({ "told": decoded, "again": written(&one.encode(crc)) })
        }
        "meter" => {
            let one = MeterMeasurement::decode(octets)?;
            let glucose = one.glucose.map(|(concentration, fluid, location)| {
                let (moles, sent) = match concentration {
                    Concentration::KgPerLitre(sent) => (false, sent),
                    Concentration::MolPerLitre(sent) => (true, sent),
                };
                json!([moles, number(sent), fluid.code(), location.code()])
            });
            let decoded = json!({
                "sequence": one.sequence, "base": one.base_time.local().to_string(), "offset": one.offset_minutes,
                "glucose": glucose, "faults": one.faults.map(|faults| faults.bits()), "context": one.context_follows,
            });
            json!({ "told": decoded, "again": written(&one.encode()) })
        }
        _ => {
            let one = MeterContext::decode(octets)?;
            let medication = one.medication.map(|(what, amount)| match amount {
                MedicationAmount::Kilograms(sent) => json!([what.code(), false, number(sent)]),
                MedicationAmount::Litres(sent) => json!([what.code(), true, number(sent)]),
            });
            let decoded = json!({
                "sequence": one.sequence, "carbohydrate": one.carbohydrate_kg.map(|(kind, sent)| json!([kind.code(), number(sent)])),
                "meal": one.meal.map(|meal| meal.code()),
                "tester_health": one.tester_health.map(|(tester, health)| [tester.code(), health.code()]),
                "exercise": one.exercise.map(|one| json!([one.seconds, one.intensity_percent])),
                "medication": medication, "hba1c": one.hba1c_percent.map(number),
            });
            json!({ "told": decoded, "again": written(&one.encode()) })
        }
    })
}

/// A number, or the name of what is none.
fn number(sent: Sfloat) -> Value {
    match sent {
        Sfloat::Number { .. } => json!(sent.number()),
        Sfloat::NotANumber => json!("NaN"),
        Sfloat::NotAtThisResolution => json!("NRes"),
        Sfloat::PlusInfinity => json!("+INF"),
        Sfloat::MinusInfinity => json!("-INF"),
        Sfloat::Reserved => json!("reserved"),
    }
}

fn written(octets: &[u8]) -> String {
    octets.iter().map(|octet| format!("{octet:02x}")).collect()
}
