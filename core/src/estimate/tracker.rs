//! Follows one sensor through time: readings and meter checks in, where glucose is out.

use super::dynamics::{BLOOD, Dynamics, INTERSTITIAL, Steps};
use super::filter::Belief;
use super::modes::{Bank, CLEAR, Circumstances, PRESSED};
use super::{Estimate, Modes};
use crate::log::Reading;
use crate::time::Moment;
use crate::units::{Glucose, Rate};

/// The causal estimator. Times must not go back; what comes late belongs in a new run over the whole history.
#[derive(Clone, Debug)]
pub struct Tracker {
    steps: Steps,
    state: Option<State>,
}

#[derive(Clone, Debug)]
struct State {
    at: Moment,
    bank: Bank,
    reading: Option<Reading>,
    overall: Belief,
}

/// Blood glucose is told within these, in mg/dL: below and above nobody could be asked.
const TOLD_MG_DL: (f64, f64) = (10.0, 900.0);

impl Tracker {
    /// A tracker before the first reading.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        Self { steps: Steps::new(dynamics), state: None }
    }

    /// The dynamics.
    #[must_use]
    pub const fn dynamics(&self) -> &Dynamics {
        self.steps.dynamics()
    }

    /// Takes a sensor reading in. `input_mg_dl_min` is the mean known effect of logged insulin and carbohydrate since the
    /// last observation.
    pub fn reading(&mut self, reading: Reading, input_mg_dl_min: f64, circumstances: &Circumstances) {
        let dynamics = *self.dynamics();
        let Some(state) = &mut self.state else {
            let bank = Bank::begin(&dynamics, reading.glucose.mg_dl());
            let mut state = State { at: reading.at, overall: bank.overall(), bank, reading: Some(reading) };
            state.bank.read(&dynamics, reading.glucose.mg_dl());
            state.overall = state.bank.overall();
            self.state = Some(state);
            return;
        };
        let minutes = reading.at.minutes_since(state.at);
        state.bank.predict(&mut self.steps, minutes, input_mg_dl_min, circumstances);
        state.bank.read(&dynamics, reading.glucose.mg_dl());
        state.at = state.at.max(reading.at);
        state.reading = Some(reading);
        state.overall = state.bank.overall();
    }

    /// Takes a meter check in.
    pub fn meter(&mut self, at: Moment, glucose: Glucose, input_mg_dl_min: f64, circumstances: &Circumstances) {
        let dynamics = *self.dynamics();
        let state = self.state.get_or_insert_with(|| {
            let bank = Bank::begin(&dynamics, glucose.mg_dl());
            State { at, overall: bank.overall(), bank, reading: None }
        });
        let minutes = at.minutes_since(state.at);
        state.bank.predict(&mut self.steps, minutes, input_mg_dl_min, circumstances);
        state.bank.meter(&dynamics, glucose.mg_dl());
        state.at = state.at.max(at);
        state.overall = state.bank.overall();
    }

    /// When the newest observation was made.
    #[must_use]
    pub fn at(&self) -> Option<Moment> {
        self.state.as_ref().map(|state| state.at)
    }

    /// The newest reading taken in.
    #[must_use]
    pub fn newest_reading(&self) -> Option<Reading> {
        self.state.as_ref().and_then(|state| state.reading)
    }

    /// The belief over all modes at the newest observation.
    #[must_use]
    pub fn belief(&self) -> Option<&Belief> {
        self.state.as_ref().map(|state| &state.overall)
    }

    /// The belief of a sensor that follows glucose, whatever the chance that it does.
    #[must_use]
    pub fn belief_if_clear(&self) -> Option<&Belief> {
        self.state.as_ref().map(|state| state.bank.belief(CLEAR))
    }

    /// The chances of the modes at the newest observation.
    #[must_use]
    pub fn modes(&self) -> Option<Modes> {
        self.state.as_ref().map(|state| state.bank.modes())
    }

    /// The estimate at the newest observation; nothing before the first.
    #[must_use]
    pub fn estimate(&self) -> Option<Estimate> {
        let state = self.state.as_ref()?;
        let level = self.dynamics().level_mg_dl;
        let (lowest, highest) = TOLD_MG_DL;
        Some(Estimate {
            at: state.at,
            reading: state.reading,
            blood_mg_dl: (state.overall.mean[BLOOD] + level).clamp(lowest, highest),
            blood_sd_mg_dl: state.overall.sd(BLOOD),
            rate: Rate::from_mg_dl_min(rate_mg_dl_min(&state.overall, self.dynamics())),
            modes: state.bank.modes(),
        })
    }

    /// What blood glucose would be if the sensor were pressed, in mg/dL, and if it were not.
    #[must_use]
    pub fn blood_if_pressed_or_not(&self) -> Option<(f64, f64)> {
        let state = self.state.as_ref()?;
        let level = self.dynamics().level_mg_dl;
        let blood = |mode| state.bank.belief(mode).mean[BLOOD] + level;
        Some((blood(PRESSED), blood(CLEAR)))
    }
}

/// The rate that is told: how fast interstitial glucose moves, `(B - I) / lag`.
///
/// The model's own rate state is the slow part of the movement only; this is the movement itself, lag and sensor error
/// removed, which a wearer can compare with what the readings did.
#[must_use]
pub fn rate_mg_dl_min(belief: &Belief, dynamics: &Dynamics) -> f64 {
    (belief.mean[BLOOD] - belief.mean[INTERSTITIAL]) / dynamics.lag_minutes
}
