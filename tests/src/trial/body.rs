//! A virtual body: glucose and insulin by Hovorka's model, with a second, faster gut for rescue sugar.
//!
//! # Source
//! Hovorka R, Canonico V, Chassin LJ, et al., Physiol Meas 2004;25:905-920: equations and parameters, from two transcriptions of
//! their code; `ke`, `ka2`, `ka3`, the renal clearance and the scaling of `F01` from memory. The peak of rescue sugar's
//! absorption is an assumption: the paper's 40 minutes are for meals, and dextrose raises glucose within 20 minutes.

/// Milligrams a decilitre of one millimole a litre of glucose.
const MG_DL: f64 = 18.016;
/// Molar mass of glucose, in g/mol.
const GRAMS_A_MOLE: f64 = 180.16;
/// Share of carbohydrate that reaches the blood.
const BIOAVAILABLE: f64 = 0.8;
/// When absorption peaks after a meal and after rescue sugar, in minutes (the second: an assumption).
const PEAK_MINUTES: [f64; 2] = [40.0, 18.0];
/// When absorption of injected insulin peaks, in minutes.
const INSULIN_PEAK_MINUTES: f64 = 55.0;
/// Elimination of insulin, a minute.
const KE: f64 = 0.138;
/// Rates of insulin's three actions (transport, disposal, liver), a minute.
const KA: [f64; 3] = [0.006, 0.06, 0.03];
/// Exchange between the two glucose compartments, a minute.
const K12: f64 = 0.066;
/// Steps a minute of the integration.
const STEPS: usize = 4;

/// What differs from body to body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Physiology {
    /// Weight, in kg.
    pub kg: f64,
    /// Sensitivities to insulin: transport and disposal (a minute per mU/L), liver (per mU/L).
    pub sensitivity: [f64; 3],
    /// Liver's output without insulin, in mmol/kg/min.
    pub liver: f64,
    /// Uptake that needs no insulin, in mmol/kg/min.
    pub uptake: f64,
}

impl Physiology {
    /// The paper's mean body of 70 kg.
    pub const MEAN: Self = Self { kg: 70.0, sensitivity: [51.2e-4, 8.2e-4, 520e-4], liver: 0.0161, uptake: 0.0097 };
}

/// States: two guts of two compartments each, insulin under the skin (2) and in plasma, three actions, glucose (2).
const STATES: usize = 12;

/// A body at a moment.
#[derive(Clone, Debug)]
pub struct Body {
    physiology: Physiology,
    state: [f64; STATES],
}

impl Body {
    /// A body that has long been on a basal rate in U/h.
    #[must_use]
    pub fn settled(physiology: Physiology, basal: f64) -> Self {
        let mut state = [0.0; STATES];
        let volume = 0.16 * physiology.kg;
        state[10] = 7.0 * volume;
        state[11] = 5.0 * volume;
        let mut body = Self { physiology, state };
        for _ in 0..3 * 1440 {
            body.minute(basal, 1.0);
        }
        body
    }

    /// The basal rate, in U/h, that holds this body at a fasting glucose in mg/dL.
    #[must_use]
    pub fn basal_for(physiology: Physiology, mg_dl: f64) -> f64 {
        let (mut less, mut more) = (0.05, 5.0);
        for _ in 0..18 {
            let middle = f64::midpoint(less, more);
            if Self::settled(physiology, middle).blood_mg_dl() > mg_dl {
                less = middle;
            } else {
                more = middle;
            }
        }
        f64::midpoint(less, more)
    }

    /// Blood glucose, in mg/dL.
    #[must_use]
    pub fn blood_mg_dl(&self) -> f64 {
        self.state[10] / (0.16 * self.physiology.kg) * MG_DL
    }

    /// Carbohydrate eaten, in g; `fast` for rescue sugar.
    pub fn eat(&mut self, grams: f64, fast: bool) {
        self.state[if fast { 2 } else { 0 }] += grams * 1000.0 / GRAMS_A_MOLE * BIOAVAILABLE;
    }

    /// Rapid insulin, in units.
    pub fn inject(&mut self, units: f64) {
        self.state[4] += units * 1000.0;
    }

    /// One minute on a basal rate in U/h; `resistance` divides insulin's sensitivities.
    pub fn minute(&mut self, basal: f64, resistance: f64) {
        let h = 1.0 / STEPS as f64;
        for _ in 0..STEPS {
            let half = |state: &[f64; STATES], slope: &[f64; STATES], part: f64| -> [f64; STATES] {
                std::array::from_fn(|k| state[k] + part * h * slope[k])
            };
            let a = self.slope(&self.state, basal, resistance);
            let b = self.slope(&half(&self.state, &a, 0.5), basal, resistance);
            let c = self.slope(&half(&self.state, &b, 0.5), basal, resistance);
            let d = self.slope(&half(&self.state, &c, 1.0), basal, resistance);
            for k in 0..STATES {
                self.state[k] = (self.state[k] + h / 6.0 * (a[k] + 2.0 * b[k] + 2.0 * c[k] + d[k])).max(0.0);
            }
        }
    }

    /// The equations, a minute.
    fn slope(&self, state: &[f64; STATES], basal: f64, resistance: f64) -> [f64; STATES] {
        let body = &self.physiology;
        let volume = 0.16 * body.kg;
        let [meal1, meal2, fast1, fast2, s1, s2, insulin, x1, x2, x3, q1, q2] = *state;
        let mmol = q1 / volume;
        let absorbed = meal2 / PEAK_MINUTES[0] + fast2 / PEAK_MINUTES[1];
        let uptake = body.uptake * body.kg * (mmol / 4.5).min(1.0);
        let renal = 0.003 * (mmol - 9.0).max(0.0) * volume;
        let liver = body.liver * body.kg * (1.0 - x3).max(0.0);
        let action = |k: usize, x: f64| KA[k] * (body.sensitivity[k] / resistance * insulin - x);
        [
            -meal1 / PEAK_MINUTES[0],
            (meal1 - meal2) / PEAK_MINUTES[0],
            -fast1 / PEAK_MINUTES[1],
            (fast1 - fast2) / PEAK_MINUTES[1],
            basal * 1000.0 / 60.0 - s1 / INSULIN_PEAK_MINUTES,
            (s1 - s2) / INSULIN_PEAK_MINUTES,
            s2 / (INSULIN_PEAK_MINUTES * 0.12 * body.kg) - KE * insulin,
            action(0, x1),
            action(1, x2),
            action(2, x3),
            absorbed + liver + K12 * q2 - x1 * q1 - uptake - renal,
            x1 * q1 - (K12 + x2) * q2,
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at_110() -> (Body, f64) {
        let basal = Body::basal_for(Physiology::MEAN, 110.0);
        (Body::settled(Physiology::MEAN, basal), basal)
    }

    #[test]
    fn a_basal_rate_holds_glucose_and_is_of_human_size() {
        let (mut body, basal) = at_110();
        assert!((body.blood_mg_dl() - 110.0).abs() < 2.0, "{}", body.blood_mg_dl());
        // Adults commonly need 0.2 to 0.5 U/kg of basal insulin a day (common practice, no source).
        assert!((0.3..2.0).contains(&basal), "{basal}");
        for _ in 0..600 {
            body.minute(basal, 1.0);
        }
        assert!((body.blood_mg_dl() - 110.0).abs() < 3.0);
    }

    /// Hovorka et al. 2004: of a meal, 5.5, 26.4, 44.2 and 80.1 % are absorbed after 15, 40, 60 and 120 minutes: the closed form
    /// of its equation, `1 - (1 + t/40) e^(-t/40)`.
    #[test]
    fn a_meal_is_absorbed_as_the_paper_says() {
        let (mut body, basal) = at_110();
        body.eat(50.0, false);
        let all = body.state[0];
        for minute in 1..=120 {
            body.minute(basal, 1.0);
            let absorbed = 1.0 - (body.state[0] + body.state[1]) / all;
            match minute {
                15 => assert!((absorbed - 0.055).abs() < 1e-3, "{absorbed}"),
                40 => assert!((absorbed - 0.2642).abs() < 1e-3, "{absorbed}"),
                60 => assert!((absorbed - 0.4422).abs() < 1e-3, "{absorbed}"),
                120 => assert!((absorbed - 0.8009).abs() < 1e-3, "{absorbed}"),
                _ => {}
            }
        }
    }

    /// 15 g of glucose raise blood glucose by some 2.1 mmol/L in 20 minutes (Canadian Diabetes Association guidelines 2008, p. 77).
    #[test]
    fn rescue_sugar_raises_as_guidelines_say() {
        let (mut body, basal) = at_110();
        body.eat(15.0, true);
        for _ in 0..20 {
            body.minute(basal, 1.0);
        }
        let rise = body.blood_mg_dl() - 110.0;
        assert!((20.0..60.0).contains(&rise), "{rise}");
    }

    #[test]
    fn insulin_lowers_and_more_of_it_lowers_more() {
        let lowest = |units: f64| {
            let (mut body, basal) = at_110();
            body.inject(units);
            (0..360)
                .map(|_| {
                    body.minute(basal, 1.0);
                    body.blood_mg_dl()
                })
                .fold(f64::INFINITY, f64::min)
        };
        assert!(lowest(1.0) < 105.0 && lowest(2.0) < lowest(1.0) - 10.0);
    }
}
