//! A closed-loop trial: virtual wearers obey a rule, and what happens to their blood glucose is known.
//!
//! Records hold people who treated themselves: whether a treat was needed, and what would have come without it, they cannot
//! say. Here the body is a model ([`body`], not the one the engine is built on), the wearer's habits are assumptions that are
//! the same for every rule, and the same seed draws the same days. `tests/docs/trial.md` says what that can and can't show.
//!
//! The wearer misjudges meals and doses by a quarter, injects from ten minutes early to 25 late, doubles one dose in fourteen
//! and eats not at all after three in a hundred. Asked to treat, they eat 15 g of sugar two minutes later (nine times in ten
//! by day, seven by night); asked to check, they prick a finger (eight times in ten by day, five by night), and otherwise do
//! what the prompt says for those without a meter. In three nights of ten they lie on the sensor for 20 to 60 minutes. Below
//! 54 mg/dL they notice by themselves one time in eight every five minutes.

pub mod body;
pub mod policy;

use ebbstead_core::log::{History, Purpose};
use ebbstead_core::prompt::{Prompt, Verdict};
use ebbstead_core::time::Moment;
use ebbstead_core::wearer::Wearer;
use rand_pcg::Pcg64;

use crate::simulate::Random;
use body::{Body, Physiology};
use policy::{Asked, Rule};

const DAY: usize = 1440;
/// Minutes between readings.
const SPACING: usize = 5;
/// The meal that a wearer's dose for carbohydrate is measured on, in g.
const MEAL_G: f64 = 50.0;
/// What is eaten when a treat is asked for, in g.
const RESCUE_G: f64 = 15.0;
/// Carbohydrate is given this long before the next, in minutes.
const BETWEEN_TREATS: usize = 15;
/// A treat was needless where blood would have stayed above 70 mg/dL for this long, in minutes.
const NEEDED_WITHIN: usize = 35;
/// The first minutes are not counted: the engine has seen nothing yet.
const UNCOUNTED: usize = 360;
/// Readings that rise by this much are news that speaks against a treat, in mg/dL.
const RISEN: f64 = 3.0;
/// The night ends, in minutes of the day.
const WAKES: usize = 420;

/// What came of it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Outcome {
    /// Minutes counted.
    pub minutes: f64,
    /// Of them with blood below 70 mg/dL.
    pub below_70: f64,
    /// Below 54 mg/dL.
    pub below_54: f64,
    /// Above 180 mg/dL.
    pub above_180: f64,
    /// Rescue carbohydrate, in g.
    pub grams: f64,
    /// Treats that were done.
    pub treats: f64,
    /// Of them needless.
    pub needless: f64,
    /// Finger-pricks.
    pub checks: f64,
    /// Times that a prompt asked for something.
    pub asked: f64,
    /// Falls in which a prompt to treat went away and came back while nothing was eaten.
    pub wavered: f64,
    /// Falls with a prompt to treat.
    pub falls: f64,
}

impl Outcome {
    /// Both together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            minutes: self.minutes + other.minutes,
            below_70: self.below_70 + other.below_70,
            below_54: self.below_54 + other.below_54,
            above_180: self.above_180 + other.above_180,
            grams: self.grams + other.grams,
            treats: self.treats + other.treats,
            needless: self.needless + other.needless,
            checks: self.checks + other.checks,
            asked: self.asked + other.asked,
            wavered: self.wavered + other.wavered,
            falls: self.falls + other.falls,
        }
    }

    /// So much a day.
    #[must_use]
    pub fn a_day(&self, amount: f64) -> f64 {
        amount * DAY as f64 / self.minutes.max(1.0)
    }

    /// Share of treats that were needless.
    #[must_use]
    pub fn needless_share(&self) -> f64 {
        self.needless / self.treats.max(1.0)
    }
}

/// What a prompt said of both futures, and what would have come of each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compared {
    /// The chance shown of blood below 70 mg/dL within 30 minutes if nothing is done.
    pub wait: f64,
    /// Whether it would have come.
    pub wait_came: bool,
    /// The chance shown if the first step is taken now.
    pub treat: f64,
    /// Whether it would have come.
    pub treat_came: bool,
}

/// A virtual wearer: a body, the factors set with a care team, a sensor.
#[derive(Clone, Debug)]
pub struct Virtual {
    physiology: Physiology,
    basal: f64,
    insulin_factor: f64,
    carbohydrate_factor: f64,
    lag_minutes: f64,
    seed: u128,
}

impl Virtual {
    /// The wearer of a number, always the same.
    #[must_use]
    pub fn number(number: u32) -> Self {
        let mut random = Random(Pcg64::new(u128::from(number), 41));
        // Spread between bodies of some 30 %: as wide as the paper's parameters differ between people (from memory).
        let mean = Physiology::MEAN;
        let mut about = |value: f64, sd: f64| value * (sd * random.normal()).exp();
        let physiology = Physiology {
            kg: about(mean.kg, 0.2),
            sensitivity: mean.sensitivity.map(|one| about(one, 0.3)),
            liver: about(mean.liver, 0.1),
            uptake: about(mean.uptake, 0.1),
        };
        let lag_minutes = about(8.0, 0.25);
        let basal = Body::basal_for(physiology, 115.0);
        let later = |units: f64, grams: f64, minutes: usize| {
            let mut body = Body::settled(physiology, basal);
            let before = body.blood_mg_dl();
            body.inject(units);
            body.eat(grams, false);
            (0..minutes).for_each(|_| body.minute(basal, 1.0));
            body.blood_mg_dl() - before
        };
        let insulin_factor = -later(0.5, 0.0, 300) / 0.5;
        // The dose that brings a meal back to where it began after five hours, found by halving.
        let (mut less, mut more) = (0.0, 40.0);
        for _ in 0..14 {
            let middle = f64::midpoint(less, more);
            if later(middle, MEAL_G, 300) > 0.0 { less = middle } else { more = middle }
        }
        let carbohydrate_factor = insulin_factor * less / MEAL_G;
        Self { physiology, basal, insulin_factor, carbohydrate_factor, lag_minutes, seed: u128::from(number) }
    }

    /// Days under a rule; with the engine's, both futures of falling readings beside what would have come.
    ///
    /// # Errors
    /// What core says of a value that no log can hold; none is expected.
    pub fn live(&self, rule: Rule, days: usize, seed: u64) -> ebbstead_core::Result<(Outcome, Vec<Compared>)> {
        let plan = Plan::draw(self, days, seed);
        let empty = History::default();
        let wearer = Wearer {
            insulin_factor_mg_dl_per_unit: Some(self.insulin_factor.clamp(1.0, 400.0)),
            carbohydrate_factor_mg_dl_per_g: Some(self.carbohydrate_factor.clamp(0.2, 40.0)),
            ..Wearer::default()
        };
        Life::new(self, &plan, rule, Asked::new(&empty, &wearer), days, seed)?.run()
    }

    fn random(&self, seed: u64, stream: u128) -> Random {
        Random(Pcg64::new(self.seed << 64 | u128::from(seed), stream))
    }
}

/// What a wearer's days hold, whatever is said to them.
struct Plan {
    meals: Vec<(usize, f64)>,
    doses: Vec<(usize, f64)>,
    /// From, until, and the share of the reading that is lost.
    compression: Vec<(usize, usize, f64)>,
    /// Insulin resistance for each six hours, about 1.
    resistance: Vec<f64>,
    /// What the sensor adds at each reading, in mg/dL a mg/dL and in mg/dL.
    error: Vec<(f64, f64)>,
}

impl Plan {
    // The casts fit: minutes of some days.
    fn draw(wearer: &Virtual, days: usize, seed: u64) -> Self {
        let mut random = wearer.random(seed, 1);
        let (mut meals, mut doses, mut compression) = (Vec::new(), Vec::new(), Vec::new());
        // Grams that a unit covers.
        let ratio = wearer.insulin_factor / wearer.carbohydrate_factor;
        for day in 0..days {
            for (hour, grams, spread, always) in [
                (7.5, 45.0, 0.5, true),
                (12.5, 65.0, 0.7, true),
                (15.5, 20.0, 0.6, false),
                (18.5, 70.0, 0.8, true),
                (21.5, 20.0, 0.5, false),
            ] {
                let (skipped, moved, size, judged) =
                    (random.uniform(), random.normal(), random.normal(), random.normal());
                let (late, mishap) = (random.uniform(), random.uniform());
                if !always && skipped < 0.5 {
                    continue;
                }
                let minute = ((day as f64 * 24.0 + hour + spread * moved) * 60.0).max(0.0) as usize;
                let grams = (grams * (1.0 + 0.25 * size)).max(5.0);
                let units = (grams * (1.0 + 0.25 * judged) / ratio).max(0.0) * if mishap < 0.07 { 2.0 } else { 1.0 };
                let after = [0, 10, 10, 20, 35][(late * 5.0) as usize % 5];
                doses.push(((minute + after).saturating_sub(10), units));
                if mishap < 0.97 {
                    meals.push((minute, grams));
                }
            }
            let (lies, when, long, deep) = (random.uniform(), random.uniform(), random.uniform(), random.uniform());
            if lies < 0.3 {
                let from = day * DAY + (300.0 * when) as usize;
                compression.push((from, from + 20 + (40.0 * long) as usize, 0.25 + 0.3 * deep));
            }
        }
        let resistance = (0..days * 4).map(|_| (0.22 * random.normal()).exp()).collect();
        // A bias that is steady for days, a coloured error of about an hour, and a little white: 5, 5 and 1.5 %.
        let (bias, mut coloured, keeps) = (0.05 * random.normal(), 0.0, (-(SPACING as f64) / 60.0).exp());
        let error = (0..days * DAY / SPACING)
            .map(|_| {
                coloured = keeps * coloured + (1.0 - keeps * keeps).sqrt() * random.normal();
                (bias + 0.05 * coloured, 1.5 * random.normal())
            })
            .collect();
        Self { meals, doses, compression, resistance, error }
    }
}

/// A life under a rule.
struct Life<'a> {
    wearer: &'a Virtual,
    plan: &'a Plan,
    rule: Rule,
    asked: Asked<'a>,
    habits: Random,
    begin: Moment,
    days: usize,
    body: Body,
    interstitial: f64,
    readings: Vec<f64>,
    outcome: Outcome,
    /// When carbohydrate will be eaten, and was last.
    pending: Option<usize>,
    treated: Option<usize>,
    /// A check at night ended the pressure until here.
    free_until: usize,
    fall: Fall,
    compared: Vec<Compared>,
}

/// A fall as the prompts go: whether treat was said, taken back, and said again.
#[derive(Clone, Copy, Default)]
struct Fall {
    said: bool,
    said_at_mg_dl: f64,
    taken_back: bool,
    wavered: bool,
}

impl<'a> Life<'a> {
    fn new(
        wearer: &'a Virtual,
        plan: &'a Plan,
        rule: Rule,
        asked: Asked<'a>,
        days: usize,
        seed: u64,
    ) -> ebbstead_core::Result<Self> {
        let body = Body::settled(wearer.physiology, wearer.basal);
        Ok(Self {
            wearer,
            plan,
            rule,
            asked,
            habits: wearer.random(seed, 2),
            begin: Moment::parse("2026-03-01T00:00:00+01:00")?,
            days,
            interstitial: body.blood_mg_dl(),
            body,
            readings: Vec::new(),
            outcome: Outcome::default(),
            pending: None,
            treated: None,
            free_until: 0,
            fall: Fall::default(),
            compared: Vec::new(),
        })
    }

    // The casts fit: minutes of some days.
    fn at(&self, minute: usize) -> Moment {
        self.begin.plus_minutes(minute as f64)
    }

    fn resistance(&self, minute: usize) -> f64 {
        self.plan.resistance.get(minute / 360).copied().unwrap_or(1.0)
    }

    fn run(mut self) -> ebbstead_core::Result<(Outcome, Vec<Compared>)> {
        for minute in 0..self.days * DAY {
            for (_, grams) in self.plan.meals.iter().filter(|meal| meal.0 == minute) {
                self.body.eat(*grams, false);
                self.asked.carbohydrate(self.at(minute), grams.round(), Purpose::Meal);
            }
            let correction = self.correction(minute);
            for units in self.plan.doses.iter().filter(|dose| dose.0 == minute).map(|dose| dose.1).chain(correction) {
                self.body.inject(units);
                self.asked.dose(self.at(minute), (units * 10.0).round() / 10.0);
            }
            if minute.is_multiple_of(SPACING) {
                self.reading(minute)?;
            }
            if self.pending == Some(minute) {
                self.eat_rescue(minute);
            }
            if minute >= UNCOUNTED {
                self.count();
            }
            self.body.minute(self.wearer.basal, self.resistance(minute));
            self.interstitial += (self.body.blood_mg_dl() - self.interstitial) / self.wearer.lag_minutes;
        }
        Ok((self.outcome, self.compared))
    }

    /// Three times a day a high is corrected, as badly as meals are dosed.
    fn correction(&mut self, minute: usize) -> Option<f64> {
        let off = self.habits_at(minute, [600, 960, 1260])?;
        let above = self.body.blood_mg_dl() - 130.0;
        (above > 90.0).then(|| (above / self.wearer.insulin_factor * (1.0 + 0.3 * off)).max(0.0))
    }

    fn habits_at(&mut self, minute: usize, minutes: [usize; 3]) -> Option<f64> {
        minutes.contains(&(minute % DAY)).then(|| self.habits.normal())
    }

    fn count(&mut self) {
        let blood = self.body.blood_mg_dl();
        self.outcome.minutes += 1.0;
        self.outcome.below_70 += f64::from(u8::from(blood < 70.0));
        self.outcome.below_54 += f64::from(u8::from(blood < 54.0));
        self.outcome.above_180 += f64::from(u8::from(blood > 180.0));
    }

    fn shown(&self, minute: usize) -> f64 {
        let (share, amount) = self.plan.error.get(minute / SPACING).copied().unwrap_or_default();
        let compression = self
            .plan
            .compression
            .iter()
            .find(|spell| (spell.0..spell.1).contains(&minute))
            .filter(|_| minute >= self.free_until);
        // The casts fit: minutes of a spell.
        let kept = compression.map_or(1.0, |(from, _, depth)| 1.0 - depth * (((minute - from) as f64) / 10.0).min(1.0));
        ((self.interstitial * (1.0 + share) + amount) * kept).round().clamp(40.0, 400.0)
    }

    /// A reading comes, the rule speaks, the wearer obeys as they do.
    fn reading(&mut self, minute: usize) -> ebbstead_core::Result<()> {
        let mg_dl = self.shown(minute);
        self.readings.push(mg_dl);
        let draws: [f64; 4] = std::array::from_fn(|_| self.habits.uniform());
        let meter_error = self.habits.normal();
        let mut asks = match self.rule {
            Rule::Engine => {
                let prompt = self.asked.reading(self.at(minute), mg_dl)?;
                self.compare(minute, mg_dl, &prompt);
                let asleep = minute % DAY < WAKES;
                let mut verdict = prompt.verdict;
                self.outcome.asked +=
                    f64::from(u8::from(matches!(verdict, Verdict::Treat | Verdict::Check | Verdict::Help)));
                if verdict == Verdict::Check && minute >= UNCOUNTED {
                    if draws[0] < if asleep { 0.5 } else { 0.8 } {
                        self.outcome.checks += 1.0;
                        if asleep {
                            self.free_until = minute + 90;
                        }
                        let shown = (self.body.blood_mg_dl() * (1.0 + 0.05 * meter_error)).round().clamp(20.0, 600.0);
                        let after = self.asked.meter(self.at(minute), shown)?;
                        verdict = if after.verdict == Verdict::Check { Verdict::Hold } else { after.verdict };
                    } else {
                        verdict = prompt.verdict_without_meter();
                    }
                }
                let treats = matches!(verdict, Verdict::Treat | Verdict::Help);
                self.follow_fall(treats || prompt.verdict_without_meter() == Verdict::Treat, prompt.verdict, mg_dl);
                treats
            }
            Rule::Oracle => self.body.blood_mg_dl() < 140.0 && self.lowest_ahead(minute, NEEDED_WITHIN, None) < 70.0,
            simple => simple.treats(&self.readings),
        };
        let rested = self.treated.is_none_or(|treated| minute - treated >= BETWEEN_TREATS);
        if self.rule != Rule::Engine {
            asks = asks && rested;
        }
        if minute < UNCOUNTED || self.pending.is_some() {
            return Ok(());
        }
        let asleep = minute % DAY < WAKES;
        let obeys = asks && draws[1] < if asleep { 0.7 } else { 0.9 };
        let notices = self.body.blood_mg_dl() < 54.0 && draws[2] < 0.125 && rested;
        if obeys || notices {
            self.pending = Some(minute + 2);
        }
        Ok(())
    }

    fn follow_fall(&mut self, treats: bool, verdict: Verdict, mg_dl: f64) {
        let fall = &mut self.fall;
        if treats {
            if !fall.said {
                self.outcome.falls += 1.0;
            } else if fall.taken_back && !fall.wavered {
                fall.wavered = true;
                self.outcome.wavered += 1.0;
            }
            fall.said = true;
            fall.said_at_mg_dl = mg_dl;
        } else if fall.said && mg_dl <= fall.said_at_mg_dl + RISEN {
            // Without a rise nothing new spoke against it.
            fall.taken_back = true;
        }
        if fall.said && mg_dl > fall.said_at_mg_dl + RISEN
            || (verdict == Verdict::Clear && mg_dl > 85.0)
            || mg_dl > 130.0
        {
            self.fall = Fall::default();
        }
    }

    /// Both futures of a falling reading beside what would come of each.
    fn compare(&mut self, minute: usize, mg_dl: f64, prompt: &Prompt) {
        let falling = prompt.estimate.is_some_and(|estimate| estimate.rate.mg_dl_min() < -0.5);
        let Some(futures) = prompt.futures.filter(|_| falling && minute >= UNCOUNTED) else { return };
        if !(70.0..=130.0).contains(&mg_dl) || self.shown_is_compressed(minute) {
            return;
        }
        self.compared.push(Compared {
            wait: futures.wait.p_low_30,
            wait_came: self.lowest_ahead(minute, 30, None) < 70.0,
            treat: futures.treat.p_low_30,
            treat_came: self.lowest_ahead(minute, 30, Some(2)) < 70.0,
        });
    }

    fn shown_is_compressed(&self, minute: usize) -> bool {
        minute >= self.free_until && self.plan.compression.iter().any(|spell| (spell.0..spell.1).contains(&minute))
    }

    /// The lowest blood glucose of the next minutes if nothing were done, or if rescue sugar were eaten after so many.
    fn lowest_ahead(&self, minute: usize, minutes: usize, eaten_after: Option<usize>) -> f64 {
        let mut body = self.body.clone();
        (0..minutes)
            .map(|k| {
                if eaten_after == Some(k) {
                    body.eat(RESCUE_G, true);
                }
                body.minute(self.wearer.basal, self.resistance(minute + k));
                body.blood_mg_dl()
            })
            .fold(f64::INFINITY, f64::min)
    }

    fn eat_rescue(&mut self, minute: usize) {
        self.outcome.needless += f64::from(u8::from(self.lowest_ahead(minute, NEEDED_WITHIN, None) >= 70.0));
        self.body.eat(RESCUE_G, true);
        self.asked.carbohydrate(self.at(minute), RESCUE_G, Purpose::Rescue);
        self.outcome.treats += 1.0;
        self.outcome.grams += RESCUE_G;
        self.treated = Some(minute);
        self.pending = None;
        self.fall = Fall::default();
    }
}
