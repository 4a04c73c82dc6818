//! In and out: devices nearby, and files other programs read and write.

use std::sync::{Arc, Mutex};

use ebbstead_core::exchange::bluetooth::{self, Characteristic, Clocks, Device, Received as CoreReceived, Service};
use ebbstead_core::exchange::{csv, health as core_health};
use ebbstead_core::health;
use ebbstead_core::log::Source;
use ebbstead_core::sentences;
use ebbstead_core::time;

use crate::companion::{Sent, Shared, locked};
use crate::error::{ApiError, ApiResult};
use crate::import::OffsetChange;
use crate::log::Recorded;
use crate::mirror::mirrored_names;
use crate::records::Moment;
use crate::settings::GlucoseUnit;

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
            let offsets = Mutex::new(offsets.into_iter().map(Into::into).collect());
            Ok(Arc::new(NearbyDevice { shared: Arc::clone(&self.shared), device, offsets }))
        })
    }

    /// The phone's health store; keep what is returned for as long as it is read: it remarks each thing once.
    ///
    /// # Errors
    /// None.
    pub fn health_records(&self) -> ApiResult<Arc<HealthRecords>> {
        Ok(Arc::new(HealthRecords { shared: Arc::clone(&self.shared), records: Mutex::default() }))
    }
}

/// What was received with a value that a device sent.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct DeviceReceived {
    /// What was kept in the log.
    pub recorded: Recorded,
    /// What is not in the log, or worth showing, in words: show it. "The sensor is below what it can read" comes here.
    pub remarks: Vec<String>,
    /// When the sensor's session began, where this value says so: offer to note that it was put in then, and where.
    pub session_began: Option<Moment>,
    /// Readings that wait until the session's start was read.
    pub waiting: u32,
    /// What was received and is not in the log yet, because another program writes to it or there is no room: do not send it again. It is
    /// stored in order with the next call that uses the log, an alert step ([`crate::AlertsPart::step`]) among them.
    pub unkept: u32,
}

mirrored_names! {
    /// What a device nearby is. One of each is followed at a time: a meter that is chosen takes no sensor's place.
    NearbyKind = ebbstead_core::exchange::bluetooth::Kind {
        /// Sends readings by itself.
        Sensor,
        /// Sends checks of blood.
        Meter,
    }
}

/// What a device is, by the Bluetooth SIG's 16-bit numbers of the services that it offers; nothing for one that is neither.
#[uniffi::export]
#[must_use]
pub fn nearby_kind(services: Vec<u16>) -> Option<NearbyKind> {
    bluetooth::Kind::of(&services).map(Into::into)
}

/// By which 16-bit numbers of the Bluetooth SIG a device is found, read and asked.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct NearbyNumbers {
    /// The services to look for.
    pub services: Vec<u16>,
    /// The characteristics to read first, in this order.
    pub read_first: Vec<u16>,
    /// Those to be notified of, then.
    pub notified: Vec<u16>,
    /// The Record Access Control Point: subscribe to it last, then write to it what [`NearbyDevice::records_since_newest`] says.
    pub record_access: u16,
}

/// The numbers of sensors and meters nearby.
#[uniffi::export]
#[must_use]
pub fn nearby_numbers() -> NearbyNumbers {
    let numbers = |all: &[Characteristic]| all.iter().map(|one| one.uuid()).collect();
    NearbyNumbers {
        services: [Service::ContinuousGlucoseMonitoring, Service::Glucose].map(Service::uuid).to_vec(),
        read_first: numbers(&Device::READ_FIRST),
        notified: numbers(&Device::NOTIFIED),
        record_access: Characteristic::RecordAccessControlPoint.uuid(),
    }
}

/// A sensor or meter nearby that speaks the Bluetooth SIG's Continuous Glucose Monitoring (0x181F) or Glucose (0x1808) service.
/// The shell connects, reads, subscribes and hands the bytes on.
#[derive(uniffi::Object)]
pub struct NearbyDevice {
    shared: Arc<Shared>,
    device: Mutex<Device>,
    offsets: Mutex<Vec<csv::OffsetChange>>,
}

#[uniffi::export]
impl NearbyDevice {
    /// Reads what a characteristic holds or sends, and keeps what it says. `characteristic` is the Bluetooth SIG's 16-bit
    /// number of it; others than those of the two services are passed over. Read a sensor's 0x2AA8 (feature) and 0x2AAA
    /// (session start) before subscribing to 0x2AA7 (measurement).
    ///
    /// Bytes that cannot be understood are no error: [`DeviceReceived::remarks`] says so, and the next may be well. Nor is a log that is
    /// busy or full: what it does not take is kept here meanwhile, and [`DeviceReceived::unkept`] says so.
    ///
    /// # Errors
    /// As [`crate::LogPart::record`], but for `Busy` and `NoRoom`; send the value again then, nothing of it was kept.
    pub fn receive(&self, characteristic: u16, value: Vec<u8>, now: Moment) -> ApiResult<DeviceReceived> {
        let (received, is_news) = self.shared.guarded(|| self.kept(characteristic, &value, now))?;
        // With no lock held: the watcher may call back.
        if is_news {
            self.shared.notify(|watcher| watcher.log_changed());
        }
        Ok(received)
    }

    /// The offsets of the wearer's zone from now on, as for [`ExchangePart::device`]: set them when the phone's zone or clock was changed.
    ///
    /// # Errors
    /// None; it returns a result so that nothing can end the host app.
    pub fn set_offsets(&self, offsets: Vec<OffsetChange>) -> ApiResult<()> {
        *locked(&self.offsets) = offsets.into_iter().map(Into::into).collect();
        Ok(())
    }

    /// What to write to the Record Access Control Point (0x2A52) to be sent every record the device holds, once its
    /// measurements are subscribed to: a meter sends none unasked. Records the log has already change nothing.
    ///
    /// # Errors
    /// None.
    pub fn every_record(&self) -> ApiResult<Vec<u8>> {
        Ok(Device::every_record())
    }

    /// As [`NearbyDevice::every_record`], without those before the newest reading that it sent in this session: for a sensor that was out of reach.
    /// Readings of another sensor, and of files, do not count. Read its 0x2AAA (session start) first, each time it comes into reach: what
    /// is the newest then counts, whatever it sends before it is asked, until it answers on 0x2A52 that all was sent: hand that on too. Until
    /// the session is read, and from a meter, all are asked for.
    ///
    /// # Errors
    /// Those of reading.
    pub fn records_since_newest(&self) -> ApiResult<Vec<u8>> {
        self.shared.guarded(|| {
            let device = locked(&self.device);
            Ok(device.records_since(self.newest(&device)?))
        })
    }
}

impl NearbyDevice {
    /// Reads a value and keeps what it says; and whether the log holds something else than before.
    fn kept(&self, characteristic: u16, value: &[u8], now: Moment) -> ApiResult<(DeviceReceived, bool)> {
        let words = self.shared.words();
        let now: time::Moment = now.try_into().map_err(|error| self.shared.refused(&error))?;
        let offsets = locked(&self.offsets).clone();
        let local = |at: chrono::NaiveDateTime| csv::offsets_at(&offsets, at);
        let clocks = Clocks { local: &local, at: &|unix_ms| csv::offset_at(&offsets, unix_ms) };
        let mut device = locked(&self.device);
        // Should the log refuse, the device is as it was, so that the same value can come again.
        let mut after = device.clone();
        let received = match Characteristic::of(characteristic) {
            Some(known) => after.receive(known, value, now, &clocks),
            None => CoreReceived::default(),
        };
        let CoreReceived { entries, remarks, session_began, waiting } = received;
        if session_began.is_some() {
            // Before anything that came with it is kept. Where that cannot be read, all is asked for.
            let newest = self.newest(&after).unwrap_or_default();
            after.reached(newest);
        }
        let Sent { recorded, is_news, refused } = self.shared.keep_sent(entries)?;
        *device = after;
        let mut remarks: Vec<String> =
            remarks.iter().map(|one| sentences::bluetooth::remarkable_text(one, words)).collect();
        // The wearer can make room; another program ends by itself.
        remarks.extend(refused.filter(|why| matches!(why, ApiError::NoRoom { .. })).map(ApiError::advice));
        let received = DeviceReceived {
            recorded: recorded.into(),
            remarks,
            session_began: session_began.map(Into::into),
            waiting: u32::try_from(waiting).unwrap_or(u32::MAX),
            unkept: self.shared.unkept(),
        };
        Ok((received, is_news))
    }

    /// The newest reading that it sent in this session, in the log.
    fn newest(&self, device: &Device) -> ApiResult<Option<time::Moment>> {
        match device.sensor_session() {
            Some((source, began)) => self.shared.ask(|log| log.newest_received(source, began)),
            None => Ok(None),
        }
    }
}

mirrored_names! {
    /// What a value of a health store was measured in.
    Specimen = ebbstead_core::exchange::health::Specimen {
        /// The store does not say, or cannot.
        Unknown,
        /// Fluid under the skin: a sensor's.
        InterstitialFluid,
        /// Blood from a finger, or of a laboratory: whole blood, plasma, serum.
        Blood,
        /// Something else, such as tears.
        Other,
    }
}

/// A glucose value as the phone's health store has it. Whether it is a sensor's or a meter's is decided by what is said here.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct HealthValue {
    /// When it was measured.
    pub at: Moment,
    /// How much, in `unit`.
    pub amount: f64,
    /// The unit of `amount`.
    pub unit: GlucoseUnit,
    /// What it was measured in.
    pub specimen: Specimen,
    /// Whether a person typed it.
    pub typed: bool,
    /// Whether it is tied to a meal: before, after, fasting.
    pub tied_to_meal: bool,
}

impl From<HealthValue> for core_health::HealthValue {
    fn from(here: HealthValue) -> Self {
        let HealthValue { at: Moment { unix_ms, offset_minutes }, amount, unit, specimen, typed, tied_to_meal } = here;
        let (unit, specimen) = (unit.into(), specimen.into());
        Self { unix_ms, offset_minutes, amount, unit, specimen, typed, tied_to_meal }
    }
}

/// What became of values of the phone's health store.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct HealthReceived {
    /// What was kept in the log.
    pub recorded: Recorded,
    /// What is not in the log, or worth showing, in words: show it.
    pub remarks: Vec<String>,
}

/// The phone's health store, in which other apps keep what sensors and meters measured. The shell asks it and hands the values on.
#[derive(uniffi::Object)]
pub struct HealthRecords {
    shared: Arc<Shared>,
    records: Mutex<health::HealthRecords>,
}

#[uniffi::export]
impl HealthRecords {
    /// From when on to ask the store: a day before the newest reading that came from it, since apps write late; without one, 30 days back.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time outside 2000 to 2199; those of reading.
    pub fn since(&self, now: Moment) -> ApiResult<Moment> {
        self.shared.with(|log| health::HealthRecords::since(log, now.try_into()?)).map(Into::into)
    }

    /// Keeps values in the log. Those it has already change nothing; one that cannot be is left out and remarked, and the others are kept.
    ///
    /// # Errors
    /// As [`crate::LogPart::record`]; give the same values again then.
    pub fn receive(&self, values: Vec<HealthValue>, now: Moment) -> ApiResult<HealthReceived> {
        let words = self.shared.words();
        let values: Vec<core_health::HealthValue> = values.into_iter().map(Into::into).collect();
        let (health::Received { recorded, remarks }, is_news) = {
            let mut records = locked(&self.records);
            self.shared.write(|log| Ok((records.receive(log, &values, now.try_into()?)?, self.shared.is_news(log))))?
        };
        // With no lock held: the watcher may call back.
        if is_news {
            self.shared.notify(|watcher| watcher.log_changed());
        }
        let remarks = remarks.into_iter().map(|one| sentences::health::health_remark_text(one, words)).collect();
        Ok(HealthReceived { recorded: recorded.into(), remarks })
    }
}
