//! Follows one sensor through time: readings and meter checks in, where glucose is out.

use super::agreement::{Agreement, ByReadings, Difference};
use super::dynamics::{BLOOD, Discretizations, Dynamics, INTERSTITIAL};
use super::fast_run::FastRun;
use super::filter::Gaussian;
use super::modes::{CLEAR, COMPRESSION, Circumstances, ImmFilter, meter_variance};
use super::{Estimate, Modes};
use crate::log::{Beyond, Reading};
use crate::time::Moment;
use crate::units::{Glucose, Rate};

/// The causal estimator. Times must not go back; what comes late belongs in a new run over the whole history.
///
/// The filter's state comes from readings alone. Meter checks speak through [`Agreement`], which moves blood and not the rate,
/// and through the chances of the sensor's modes.
#[derive(Clone, Debug)]
pub struct Tracker {
    steps: Discretizations,
    agreement: Agreement,
    state: Option<State>,
}

#[derive(Clone, Debug)]
struct State {
    at: Moment,
    filter: ImmFilter,
    reading: Reading,
    overall: Gaussian,
    run: FastRun,
}

/// Blood glucose is given within these, in mg/dL: no strip meter measures outside of them (assumption).
const GIVEN_MG_DL: (f64, f64) = (20.0, 900.0);
/// The error of a sensor that its own readings cannot show, standard deviation: a constant in mg/dL and a share of glucose. Chosen so
/// that the interval holds on virtual wearers (`tests/fit/dynamics.py`); that errors grow with glucose is what every table of
/// sensor accuracy shows.
const SENSOR_ERROR_MG_DL: (f64, f64) = (7.6, 0.037);
/// A sensor that follows glucose this surely needs no help to follow a fast fall.
const SURELY_CLEAR: f64 = 0.9;
/// Readings this old are no longer compared with a meter check, and blood glucose is not carried on from them, in minutes.
pub(crate) const CARRIED_ON_MINUTES: f64 = 20.0;

impl Tracker {
    /// A tracker before the first reading.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        Self { steps: Discretizations::new(dynamics), agreement: Agreement::default(), state: None }
    }

    /// The dynamics.
    #[must_use]
    pub const fn dynamics(&self) -> &Dynamics {
        self.steps.dynamics()
    }

    /// The next sensor reading.
    pub fn reading(&mut self, reading: Reading, circumstances: &Circumstances) {
        let dynamics = *self.dynamics();
        let mg_dl = reading.glucose.mg_dl();
        let Some(state) = &mut self.state else {
            let mut filter = ImmFilter::begin(&dynamics, mg_dl);
            filter.read(&dynamics, mg_dl, f64::INFINITY);
            self.state = Some(State {
                at: reading.at,
                overall: filter.overall(),
                filter,
                reading,
                run: FastRun::begin(reading.at, mg_dl),
            });
            return;
        };
        let minutes = reading.at.minutes_since(state.at);
        state.run.reading(reading.at, mg_dl);
        let moves_fast = state.run.is_long(circumstances.asleep) && state.filter.modes().clear < SURELY_CLEAR;
        let circumstances = Circumstances { moves_fast, ..*circumstances };
        state.filter.predict(&mut self.steps, minutes, 0.0, &circumstances);
        if moves_fast {
            state.filter.moved_fast();
        }
        // "Too low to measure" says no more than that where it is expected already; above, it says at least that much.
        let expected = state.filter.overall().reading_mg_dl(&dynamics);
        let says_nothing = match reading.beyond {
            None => false,
            Some(Beyond::Below) => expected <= mg_dl,
            Some(Beyond::Above) => expected >= mg_dl,
        };
        if !says_nothing {
            state.filter.read(&dynamics, mg_dl, minutes);
        }
        state.at = state.at.max(reading.at);
        state.reading = reading;
        state.overall = state.filter.overall();
    }

    /// A meter check. Where it is not believed it speaks of the sensor's modes alone.
    pub fn meter(&mut self, at: Moment, glucose: Glucose, circumstances: &Circumstances, believed: bool) {
        let dynamics = *self.dynamics();
        let Some(state) = &mut self.state else { return };
        let minutes = at.minutes_since(state.at);
        if minutes > CARRIED_ON_MINUTES {
            return;
        }
        let mut filter = state.filter.clone();
        filter.predict(&mut self.steps, minutes, 0.0, circumstances);
        filter.weigh(&dynamics, glucose.mg_dl());
        // The sensor's mode at the check is what it was at the reading a few minutes before.
        state.filter.with_chances_of(&filter);
        state.overall = state.filter.overall();
        // A pressed or unsettled sensor says nothing of how a sensor that follows glucose agrees.
        if believed && filter.modes().clear >= 0.5 {
            let readings = by_readings(filter.gaussian(CLEAR), &dynamics);
            self.agreement.update(at, glucose.mg_dl(), &readings);
        }
    }

    /// Another sensor was put in: the bias learnt was the last one's.
    pub(crate) fn new_sensor(&mut self) {
        self.agreement.new_sensor();
    }

    /// When the newest reading was made.
    #[must_use]
    pub fn at(&self) -> Option<Moment> {
        self.state.as_ref().map(|state| state.at)
    }

    /// The newest reading used.
    #[must_use]
    pub fn newest_reading(&self) -> Option<Reading> {
        self.state.as_ref().map(|state| state.reading)
    }

    /// The state over all modes at the newest observation.
    #[must_use]
    pub fn gaussian(&self) -> Option<&Gaussian> {
        self.state.as_ref().map(|state| &state.overall)
    }

    /// The state of a sensor that follows glucose, whatever the chance that it does.
    #[must_use]
    pub fn gaussian_if_clear(&self) -> Option<&Gaussian> {
        self.state.as_ref().map(|state| state.filter.gaussian(CLEAR))
    }

    /// The chances of the modes at the newest observation.
    #[must_use]
    pub fn modes(&self) -> Option<Modes> {
        self.state.as_ref().map(|state| state.filter.modes())
    }

    /// What meter checks say of blood less the readings at a moment; nothing before the first check beside a reading.
    #[must_use]
    pub fn difference(&self, at: Moment) -> Option<Difference> {
        let state = self.state.as_ref()?;
        let readings = by_readings(&state.overall, self.dynamics());
        (self.agreement.checks() > 0).then(|| self.agreement.difference(at, &readings))
    }

    /// The estimate at a moment, carried on from the newest reading for as long as that can be; nothing before the first.
    #[must_use]
    pub fn estimate(&self, now: Moment, circumstances: &Circumstances) -> Option<Estimate> {
        let state = self.state.as_ref()?;
        let minutes = now.minutes_since(state.at).clamp(0.0, CARRIED_ON_MINUTES);
        let mut carried = None;
        if minutes > 0.0 {
            let mut filter = state.filter.clone();
            filter.predict(&mut self.steps.clone(), minutes, 0.0, circumstances);
            carried = Some(filter.overall());
        }
        let overall = carried.as_ref().unwrap_or(&state.overall);
        let readings = by_readings(overall, self.dynamics());
        let difference = match self.agreement.checks() {
            0 => Difference { mean_mg_dl: 0.0, variance: readings.variance, error_mg_dl: 0.0, bias_variance: 0.0 },
            _ => self.agreement.difference(now, &readings),
        };
        let (lowest, highest) = GIVEN_MG_DL;
        Some(Estimate {
            at: state.at.plus_minutes(minutes),
            reading: Some(state.reading),
            blood_mg_dl: (readings.blood_mg_dl + difference.mean_mg_dl).clamp(lowest, highest),
            blood_sd_mg_dl: difference.variance.max(1.0).sqrt(),
            rate: Rate::from_mg_dl_min(rate_mg_dl_min(&state.overall, self.dynamics())),
            modes: state.filter.modes(),
        })
    }

    /// What blood glucose would be by the readings if the sensor were pressed, in mg/dL.
    #[must_use]
    pub(crate) fn blood_without_compression(&self) -> Option<f64> {
        Some(self.state.as_ref()?.filter.gaussian(COMPRESSION).mean[BLOOD] + self.dynamics().level_mg_dl)
    }
}

/// What a state from readings says of blood.
fn by_readings(gaussian: &Gaussian, dynamics: &Dynamics) -> ByReadings {
    let blood_mg_dl = gaussian.mean[BLOOD] + dynamics.level_mg_dl;
    let error_sd = SENSOR_ERROR_MG_DL.0 + SENSOR_ERROR_MG_DL.1 * blood_mg_dl.clamp(40.0, 400.0);
    ByReadings {
        blood_mg_dl,
        variance: gaussian.covariance[(BLOOD, BLOOD)].max(0.0) + error_sd * error_sd,
        delay_mg_dl: gaussian.mean[BLOOD] - gaussian.mean[INTERSTITIAL],
    }
}

/// The estimate of a meter check that no reading stands beside, `age_minutes` later, in mg/dL: the check itself, less sure by the
/// minute.
#[must_use]
pub(crate) fn by_meter_alone(at: Moment, meter_mg_dl: f64, age_minutes: f64) -> Estimate {
    // Blood glucose moves by about 1 mg/dL/min at times (common practice, no source).
    let variance = meter_variance(meter_mg_dl) + age_minutes.max(0.0).powi(2);
    Estimate {
        at,
        reading: None,
        blood_mg_dl: meter_mg_dl,
        blood_sd_mg_dl: variance.sqrt(),
        rate: Rate::from_mg_dl_min(0.0),
        modes: Modes { clear: 1.0, compression: 0.0, unsettled: 0.0 },
    }
}

/// The rate that is shown: how fast interstitial glucose moves, `(B - I) / lag`.
///
/// The model's own rate state is the slow part of the movement only; this is the movement itself, lag and sensor error
/// removed, which a wearer can compare with what the readings did.
#[must_use]
pub fn rate_mg_dl_min(gaussian: &Gaussian, dynamics: &Dynamics) -> f64 {
    (gaussian.mean[BLOOD] - gaussian.mean[INTERSTITIAL]) / dynamics.lag_minutes
}
