//! A sensor's record: wear and sites, agreement with the meter, when to calibrate, what was wrong.

pub mod agreement;
pub mod calibration;
pub mod faults;
pub mod grids;
pub mod looked_back;
pub mod pairs;
pub mod sessions;

pub use agreement::{Agreement, LIMITS, MeterRange};
pub use calibration::{Calibration, NotNow, calibration};
pub use faults::{Fault, Noted, faults};
pub use grids::{Zone, clarke, parkes};
pub use looked_back::{LagFree, LookedBack, looked_back};
pub(crate) use pairs::concurrent_pairs;
pub use pairs::{Pair, pairs};
pub use sessions::{REST_DAYS, Session, Site, Stage, next_site, sessions, sites};

use serde::Serialize;

use crate::log::{History, Source};
use crate::review::metrics::{Measured, measured};
use crate::time::Moment;

/// Everything there is to say about the sensors of a history.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Record {
    /// The wear of each, oldest first.
    pub sessions: Vec<Session>,
    /// The sites, the longest rested first.
    pub sites: Vec<Site>,
    /// Meter checks beside readings, by time.
    pub pairs: Vec<Pair>,
    /// Agreement of all pairs.
    #[serde(serialize_with = "measured::one")]
    pub agreement: Measured<Agreement>,
    /// Agreement of the pairs with the newest sensor alone: the one that is worn may be the odd one out.
    #[serde(serialize_with = "measured::one")]
    pub newest_agreement: Measured<Agreement>,
    /// Agreement where the meter was low, in range and high.
    #[serde(serialize_with = "measured::named")]
    pub by_range: [(MeterRange, Measured<Agreement>); 3],
    /// Agreement of the meter with blood glucose looked back on from the readings: the lag taken out.
    #[serde(serialize_with = "measured::one")]
    pub lag_free: Measured<LagFree>,
    /// Agreement of each sensor that was worn beside the one followed.
    #[serde(serialize_with = "measured::named")]
    pub concurrent: Vec<(Source, Measured<Agreement>)>,
    /// Whether to calibrate now.
    pub calibration: Calibration,
    /// What was wrong with the sensor that is followed.
    pub faults: Vec<Fault>,
}

impl Record {
    /// Looks at a history up to `now`; `rated_days` is how long the wearer's sensors are rated for, if known.
    #[must_use]
    pub fn of(history: &History, rated_days: Option<f64>, now: Moment) -> Self {
        let sessions = sessions(history, now);
        let mut pairs = pairs(history, &sessions);
        pairs.retain(|pair| pair.at <= now);
        let mut checks = looked_back(history);
        checks.retain(|one| one.at <= now);
        let followed = |one: &&Session| history.speaks_of_followed(one.sensor.as_ref(), now);
        let newest = sessions.iter().rfind(followed).or(sessions.last());
        let of_newest =
            |pair: &&Pair| newest.is_some_and(|one| one.from <= pair.at && one.until.is_none_or(|end| pair.at <= end));
        let own: Vec<Pair> = pairs.iter().filter(of_newest).copied().collect();
        let concurrent = history.concurrent.iter().map(|one| {
            let mut pairs = concurrent_pairs(history, &one.source, &sessions);
            pairs.retain(|pair| pair.at <= now);
            (one.source.clone(), Agreement::of(&pairs))
        });
        let concurrent = concurrent.collect();
        Self {
            sites: sites(&sessions, rated_days, now),
            agreement: Agreement::of(&pairs),
            newest_agreement: Agreement::of(&own),
            by_range: MeterRange::ALL.map(|range| (range, Agreement::of(&range.of(&pairs)))),
            lag_free: LagFree::of(&checks),
            calibration: calibration(history, &pairs, newest, rated_days, now),
            faults: newest.map_or_else(Vec::new, |session| faults(history, session, now)),
            concurrent,
            pairs,
            sessions,
        }
    }
}
