//! In and out: devices nearby, and files other programs read and write.

use std::sync::{Arc, Mutex, PoisonError};

use ebbstead_core::exchange::bluetooth::{Characteristic, Clocks, Device, Heard as CoreHeard};
use ebbstead_core::exchange::csv;
use ebbstead_core::log::Source;
use ebbstead_core::sentences::{self, import::finding_line};
use ebbstead_core::time;

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::import::{self, ImportOptions, OffsetChange};
use crate::log::Recorded;
use crate::records::Moment;

/// What became of a bundle that was taken in.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct BundleReport {
    /// The import's entry, to take it back by; nothing where it was only looked at.
    pub id: Option<String>,
    /// What became of the entries; nothing where the bundle was only looked at.
    pub recorded: Option<Recorded>,
    /// Entries in the bundle that the log takes.
    pub taken: u64,
    /// Resources left out.
    pub left_out: u64,
    /// Why, in words; the first hundred.
    pub findings: Vec<String>,
    /// The earliest entry.
    pub first: Option<Moment>,
    /// The latest entry.
    pub last: Option<Moment>,
}

/// How taking in a bundle ended.
#[derive(Clone, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
pub enum BundleAnswer {
    /// The bundle was read.
    Read {
        /// What it came to.
        report: BundleReport,
    },
    /// It cannot be understood, or is about several people; nothing was taken.
    Refused {
        /// The line, from 1.
        line: u64,
        /// Why, and what to do, in words.
        why: String,
    },
}

/// Works on what goes in and out.
#[derive(uniffi::Object)]
pub struct ExchangePart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl ExchangePart {
    /// A sensor or meter that was just connected to; keep what is returned for as long as it stays connected. `source` names it
    /// in the log. `offsets` are those of the wearer's zone, by time, the first reaching back for ever; at least one.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a name that cannot be; `Closed`.
    pub fn device(&self, source: &str, offsets: Vec<OffsetChange>) -> ApiResult<Arc<NearbyDevice>> {
        self.shared.with(|_| {
            let device = Mutex::new(Device::new(Source::new(source)?));
            let offsets = offsets.into_iter().map(Into::into).collect();
            Ok(Arc::new(NearbyDevice { shared: Arc::clone(&self.shared), device, offsets }))
        })
    }

    /// Takes in an HL7 FHIR R4 Bundle of Observations (JSON) as a whole, which can be taken back as a whole.
    ///
    /// A file that cannot be understood is not an error but a [`BundleAnswer::Refused`] that says where and why.
    ///
    /// # Errors
    /// As [`crate::LogPart::record`].
    pub fn import_bundle(&self, name: &str, bytes: Vec<u8>, only_look: bool, now: Moment) -> ApiResult<BundleAnswer> {
        let words = self.shared.words();
        // What local times mean in a file that says no offset, which a bundle never leaves out.
        let offsets = vec![OffsetChange { from_unix_ms: 0, offset_minutes: now.offset_minutes }];
        let options = ImportOptions {
            offsets,
            unit: None,
            time_column: None,
            glucose_column: None,
            time_format: None,
            only_look,
        };
        let report = match import::any(self, name, &bytes, options, now)? {
            Ok(report) => report,
            Err((line, _, why)) => return Ok(BundleAnswer::Refused { line, why }),
        };
        Ok(BundleAnswer::Read {
            report: BundleReport {
                id: report.imported.as_ref().map(|done| done.id.to_string()),
                recorded: report.imported.as_ref().map(|done| done.recorded.into()),
                taken: report.taken,
                left_out: report.left_out,
                findings: report.findings.iter().map(|one| finding_line(one, words)).collect(),
                first: report.first.map(Into::into),
                last: report.last.map(Into::into),
            },
        })
    }
}

/// What came of a value that a device sent.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct DeviceHeard {
    /// What was kept in the log.
    pub recorded: Recorded,
    /// What is not in the log, or worth telling, in words: show it. "The sensor is below what it can read" comes here.
    pub told: Vec<String>,
    /// When the sensor's session began, where this value says so: offer to note that it was put in then, and where.
    pub session_began: Option<Moment>,
    /// Readings that wait until the session's start was read.
    pub waiting: u32,
}

/// A sensor or meter nearby that speaks the Bluetooth SIG's Continuous Glucose Monitoring (0x181F) or Glucose (0x1808) service.
/// The shell connects, reads, subscribes and hands the bytes on.
#[derive(uniffi::Object)]
pub struct NearbyDevice {
    shared: Arc<Shared>,
    device: Mutex<Device>,
    offsets: Vec<csv::OffsetChange>,
}

#[uniffi::export]
impl NearbyDevice {
    /// Takes in what a characteristic holds or sends, and keeps what it says. `characteristic` is the Bluetooth SIG's 16-bit
    /// number of it; others than those of the two services are passed over. Read a sensor's 0x2AA8 (feature) and 0x2AAA
    /// (session start) before subscribing to 0x2AA7 (measurement).
    ///
    /// Bytes that cannot be understood are no error: [`DeviceHeard::told`] says so, and the next may be well.
    ///
    /// # Errors
    /// As [`crate::LogPart::record`]; send the value again then, nothing of it was kept.
    pub fn hear(&self, characteristic: u16, value: Vec<u8>, now: Moment) -> ApiResult<DeviceHeard> {
        let words = self.shared.words();
        let local = |at: chrono::NaiveDateTime| csv::offsets_at(&self.offsets, at);
        let clocks = Clocks { local: &local, at: &|unix_ms| csv::offset_at(&self.offsets, unix_ms) };
        let mut device = self.device.lock().unwrap_or_else(PoisonError::into_inner);
        // Should the log refuse, the device is as it was, so that the same value can come again.
        let mut after = device.clone();
        let done = self.shared.change(|log| {
            let now: time::Moment = now.try_into()?;
            let heard = match Characteristic::of(characteristic) {
                Some(known) => after.hear(known, &value, now, &clocks),
                None => CoreHeard::default(),
            };
            let CoreHeard { entries, told, session_began, waiting } = heard;
            let recorded = log.record_all(entries)?;
            Ok(DeviceHeard {
                recorded: recorded.into(),
                told: told.iter().map(|one| sentences::bluetooth::remarkable_text(one, words)).collect(),
                session_began: session_began.map(Into::into),
                waiting: u32::try_from(waiting).unwrap_or(u32::MAX),
            })
        })?;
        *device = after;
        Ok(done)
    }

    /// What to write to the Record Access Control Point (0x2A52) to be sent every record the device holds, once its
    /// measurements are subscribed to: a meter sends none unasked. Records the log has already change nothing.
    ///
    /// # Errors
    /// None.
    pub fn every_record(&self) -> ApiResult<Vec<u8>> {
        Ok(Device::every_record())
    }
}
