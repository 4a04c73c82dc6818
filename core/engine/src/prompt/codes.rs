//! What a prompt can say, as codes with numbers: the sentence it leads with, reasons, cautions, and what would change it.

use serde::Serialize;

use crate::log::Beyond;
use crate::units::Pace;

/// The one sentence a prompt leads with.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Sentence {
    /// Call for help.
    CallForHelp,
    /// A meter confirmed a low: treat.
    TreatConfirmedLow,
    /// The reading is below the floor line and believed: treat.
    TreatBelowFloor,
    /// The reading is low and believed: treat.
    TreatLow,
    /// Not low yet, but the next look would be too late: treat.
    TreatBeforeLow,
    /// Feels low and no meter: treat.
    TreatFeltLow,
    /// Rescue carbohydrate was taken three times and glucose is still low: treat, and call somebody.
    TreatAgainAndCall,
    /// Check: feelings and sensor disagree.
    CheckFeltDisagrees,
    /// Check again: feelings and meter disagree.
    CheckFeltMeterDisagrees,
    /// Check again: the last meter check was low, and nothing was noted as eaten since.
    CheckMeterWasLow,
    /// Check again: the last meter check was low and the sensor did not show it, so it cannot show whether what was eaten was enough.
    CheckUnseenLow,
    /// Check: another sensor that is worn too reads below the low line, far below this one.
    CheckOtherSensor,
    /// Check: signs of a severe low were noted lately, and nothing shows that it is over.
    CheckAfterSevere,
    /// Check a third time: a check that shows no low came minutes after one that did.
    CheckMeterTwice,
    /// Check again with washed hands: the meter reads far above the sensor.
    CheckMeterHigh,
    /// Check: sensor and meter stand so far apart that one of them may be hiding a low.
    CheckApart,
    /// Check: more insulin was noted than is usual.
    CheckInsulin,
    /// Check: falling, and insulin or movement may take it further.
    CheckMoreToCome,
    /// Check: the sensor shows the very same number for too long.
    CheckStuck,
    /// Check: the sensor was noted as ended.
    CheckEnded,
    /// Check: the sensor looks pressed.
    CheckCompression,
    /// Wait: the sensor looks pressed, and even so it reads well above the low line. Roll off it.
    HoldCompression,
    /// Check, or wait: the sensor looks pressed, and the wearer just rolled off it.
    CheckRolledOff,
    /// Check: the wearer rolled off the sensor long enough ago, and the readings have not come back.
    CheckStillLow,
    /// Check: the sensor is in its first day or unsettled.
    CheckUnsettled,
    /// Check: the newest reading is too old.
    CheckStale,
    /// Check: falling fast, worth knowing where blood glucose is.
    CheckFallingFast,
    /// Check: near the low line and falling, and a meter would settle it.
    CheckNearLow,
    /// Check: the reading was low a moment ago, and may be again.
    CheckJustLow,
    /// Check: the reading is low, and blood glucose probably rises already.
    CheckLowRising,
    /// Hold: near the low line, yet not falling.
    HoldNearLow,
    /// Hold: falling, yet not expected to reach the low line before the next look.
    HoldFalling,
    /// Hold: rescue carbohydrate needs time.
    HoldRescueWorking,
    /// Hold: a fresh meter check is above the low line.
    HoldMeterAbove,
    /// Hold: a fresh meter check is just above the low line.
    HoldMeterNear,
    /// Hold: a reading jumped and came back.
    HoldAfterJump,
    /// Hold: more insulin is noted than was eaten for, and it may lower to the low line.
    HoldInsulinToCome,
    /// Hold: high, and insulin taken is still working.
    HoldInsulinWorking,
    /// Hold: rising, and a meal is still arriving.
    HoldMealArriving,
    /// Hold: high or rising; look again.
    HoldRising,
    /// This is the moment the wearer's own correction plan speaks of.
    HoldOwnPlan,
    /// Check: high beyond what should be trusted without a meter.
    CheckHigh,
    /// Ketones so high that they are an emergency, or high in somebody who vomits.
    CallForKetones,
    /// Check: measure ketones, where illness or a high that lasts asks for it.
    CheckKetones,
    /// Check: vomiting with insulin at work; what was eaten may not stay down.
    CheckVomiting,
    /// Ketones that threaten to become an emergency: the wearer's sick-day plan, and the care team now.
    SickDayPlanNow,
    /// Vomiting, and above the high line for long: the wearer's sick-day plan, and the care team.
    SickDayPlanVomiting,
    /// Raised ketones: the wearer's sick-day plan, and another test.
    SickDayPlan,
    /// Nothing to decide.
    NothingToDecide,
    /// No readings to speak of.
    NoReadings,
}

impl Sentence {
    /// Whether it rests on pressure on the sensor: the readings fell, and how fast glucose moves without that is no news of them.
    pub(crate) const fn is_of_pressure(self) -> bool {
        matches!(self, Self::CheckCompression | Self::HoldCompression | Self::CheckRolledOff)
    }
}

/// A reason, as a code with its numbers. Glucose in mg/dL, rates in mg/dL/min, chances 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Reason {
    /// The newest reading.
    Reading {
        /// The reading.
        mg_dl: f64,
        /// Its age in minutes.
        age_minutes: f64,
    },
    /// The newest reading, where it was too low or too high to measure.
    ReadingBeyond {
        /// Too low or too high.
        beyond: Beyond,
        /// The limit that glucose was below or above.
        mg_dl: f64,
        /// Its age in minutes.
        age_minutes: f64,
    },
    /// Where blood glucose probably is, with the sensor's lag removed.
    Blood {
        /// Expected.
        mg_dl: f64,
        /// Standard deviation.
        sd_mg_dl: f64,
    },
    /// The rate, and what it would come to in 30 minutes.
    Rate {
        /// The rate.
        mg_dl_min: f64,
        /// Its plain word.
        pace: Pace,
        /// The change in 30 minutes at this rate, in mg/dL.
        in_30_mg_dl: f64,
    },
    /// The fall or rise is easing off.
    Easing {
        /// The rate about half an hour ago.
        before_mg_dl_min: f64,
        /// The rate now.
        now_mg_dl_min: f64,
    },
    /// The chance of a reading below the low line.
    ChanceLow {
        /// The chance.
        chance: f64,
        /// Within how many minutes.
        within_minutes: u16,
        /// The line.
        line_mg_dl: f64,
        /// Expected minutes until then, where it happens.
        expected_minutes: Option<f64>,
    },
    /// What may come of doing nothing, of blood glucose.
    IfWaiting {
        /// The chance of falling below the low line.
        chance: f64,
        /// Within how many minutes.
        within_minutes: u16,
        /// The line.
        line_mg_dl: f64,
        /// Minutes until then, where it is likely.
        minutes_to_low: Option<f64>,
    },
    /// What may come of taking the first step of fast carbohydrate now, of blood glucose.
    IfTreating {
        /// The chance of falling below the low line all the same.
        chance: f64,
        /// Within how many minutes.
        within_minutes: u16,
        /// The line.
        line_mg_dl: f64,
        /// The chance of rising above the high line within an hour.
        high_chance: f64,
    },
    /// The chance of a reading below the floor line.
    ChanceFloor {
        /// The chance.
        chance: f64,
        /// Within how many minutes.
        within_minutes: u16,
        /// The line.
        line_mg_dl: f64,
    },
    /// The chance of a reading above the high line.
    ChanceHigh {
        /// The chance.
        chance: f64,
        /// Within how many minutes.
        within_minutes: u16,
        /// The line.
        line_mg_dl: f64,
    },
    /// A meter check is fresh and leads.
    Meter {
        /// What it showed.
        mg_dl: f64,
        /// Its age in minutes.
        age_minutes: f64,
    },
    /// A meter check that was too low or too high to measure leads.
    MeterBeyond {
        /// Too low or too high.
        beyond: Beyond,
        /// The limit that glucose was below or above.
        mg_dl: f64,
        /// Its age in minutes.
        age_minutes: f64,
    },
    /// The wearer feels low.
    FeelsLow,
    /// The wearer feels high.
    FeelsHigh,
    /// Signs that need another person.
    SevereSigns,
    /// The sensor is probably pressed.
    Compression {
        /// The chance.
        chance: f64,
        /// What blood glucose would be without the pressure, in mg/dL.
        without_mg_dl: f64,
    },
    /// The sensor is unsettled.
    Unsettled {
        /// The chance.
        chance: f64,
    },
    /// The sensor is in its first day.
    FirstDay {
        /// Hours since it was put in.
        hours: f64,
    },
    /// The newest reading is old.
    Stale {
        /// Its age in minutes.
        age_minutes: f64,
    },
    /// A jump that a level past makes hard to believe.
    SuddenDrop {
        /// From about.
        from_mg_dl: f64,
        /// To.
        to_mg_dl: f64,
        /// In how many minutes.
        minutes: f64,
    },
    /// Rescue carbohydrate was just taken.
    Rescue {
        /// Grams.
        grams: f64,
        /// Minutes ago.
        minutes_ago: f64,
    },
    /// Rapid insulin still working.
    InsulinOnBoard {
        /// Units not yet absorbed, by published kinetics.
        units: f64,
        /// Minutes since the newest dose.
        minutes_ago: f64,
    },
    /// Carbohydrate still arriving.
    CarbohydrateArriving {
        /// Grams not yet absorbed, by published kinetics.
        grams: f64,
    },
    /// Another sensor that is worn too.
    OtherSensor {
        /// What it reads.
        mg_dl: f64,
        /// The age of that in minutes.
        age_minutes: f64,
    },
    /// Meter checks say that a right sensor would read this much more or less.
    MeterApart {
        /// In mg/dL; negative where the sensor reads too high.
        shift_mg_dl: f64,
    },
    /// An amount of insulin that is unusually large.
    DoubtfulDose {
        /// Units, as noted.
        units: f64,
        /// Minutes ago.
        minutes_ago: f64,
    },
    /// Long-acting insulin that was noted more than once, and is more together than is usual at one time.
    LongActingTwice {
        /// Units together, as noted.
        units: f64,
        /// Minutes since the newest.
        minutes_ago: f64,
    },
    /// Rescue carbohydrate was taken several times.
    Rescues {
        /// How often in the last hour and a quarter.
        times: u32,
    },
    /// The very same reading again and again.
    Stuck {
        /// For how many minutes.
        minutes: f64,
    },
    /// The sensor was noted as ended.
    Ended {
        /// Minutes ago.
        minutes_ago: f64,
    },
    /// The wearer rolled off the sensor.
    RolledOff {
        /// Minutes ago.
        minutes_ago: f64,
    },
    /// Alcohol that still lowers.
    Alcohol {
        /// Standard drinks.
        drinks: f64,
        /// Minutes since the newest.
        minutes_ago: f64,
    },
    /// What a ketone check showed.
    Ketones {
        /// In mmol/L.
        mmol_l: f64,
        /// Its age in minutes.
        minutes_ago: f64,
    },
    /// Illness that was noted.
    Ill {
        /// Whether the wearer vomits.
        vomiting: bool,
        /// Minutes since it was noted.
        minutes_ago: f64,
    },
    /// Readings above the high line for long.
    HighFor {
        /// For how long, in minutes.
        minutes: f64,
    },
    /// No rapid insulin was noted in the time that one would act.
    NoInsulinNoted {
        /// In how many minutes.
        within_minutes: f64,
    },
    /// Rapid insulin should have lowered by now, and did not.
    InsulinNotLowering {
        /// Minutes since it was taken.
        minutes_ago: f64,
    },
    /// Movement just now or shortly before.
    Moved {
        /// Minutes since it ended; 0 while it lasts.
        minutes_ago: f64,
    },
}

/// A caution, as a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// The sensor reads behind blood, which is lower in a fall.
    SensorLags,
    /// The sensor reads behind blood, which is higher in a rise.
    SensorLagsRising,
    /// A meter decides where in doubt.
    MeterDecides,
    /// If in doubt and no meter is at hand, treat.
    InDoubtTreat,
    /// Take the first step of the care team's plan; recheck after 15 minutes.
    RecheckIn15,
    /// Rescue carbohydrate may show no rise yet after 15 minutes.
    RiseTakesTime,
    /// Stacking insulin on insulin lowers later.
    DoNotStack,
    /// This names no dose; the wearer's plan and care team do.
    NoDose,
    /// Ketones are worth a test when high for long or unwell.
    KetonesWhenHigh,
    /// Raised ketones are measured again within two hours, and nobody with them should exercise.
    KetonesAgain,
    /// Ketones are an emergency too: call once the low is treated.
    KetonesEmergency,
    /// Raised ketones beside a low: the low first, then the sick-day plan and the care team; ketones need carbohydrate too.
    KetonesAfterLow,
    /// High ketones beside a fall: the sick-day plan and the care team now, though glucose is not high.
    KetonesHigh,
    /// Insulin may not get in: a pump's site or tube, or insulin that is spoilt.
    InsulinMayNotGetIn,
    /// What is swallowed may not stay down; then a low needs help.
    MayNotStayDown,
    /// The first day of a sensor is unreliable.
    FirstDayUnreliable,
    /// Somebody who cannot swallow must not be given anything by mouth.
    NothingByMouth,
    /// Symptoms outrank numbers.
    FeelingsCount,
    /// Somebody should be with the wearer; if it gets worse, call for help.
    CallSomebody,
    /// Alcohol lowers for many hours, and its signs look like those of a low.
    AlcoholLowersLater,
    /// An entry that is wrong is put right or taken back; one that is right is a matter for the care team at once.
    InsulinRightOrWrong,
}

/// What would change the prompt.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Change {
    /// A reading below this.
    ReadingBelow {
        /// In mg/dL.
        mg_dl: f64,
    },
    /// A reading above this.
    ReadingAbove {
        /// In mg/dL.
        mg_dl: f64,
    },
    /// A fall faster than this (positive size).
    FallingFasterThan {
        /// In mg/dL/min.
        mg_dl_min: f64,
    },
    /// A meter check below this.
    MeterBelow {
        /// In mg/dL.
        mg_dl: f64,
    },
    /// A meter check at or above this.
    MeterAbove {
        /// In mg/dL.
        mg_dl: f64,
    },
    /// Ketones at or above this.
    KetonesAbove {
        /// In mmol/L.
        mmol_l: f64,
    },
    /// Feeling low.
    FeelingLow,
    /// Readings that come back within minutes of rolling off the sensor.
    ReadingsComeBack,
    /// New readings arriving.
    NewReadings,
}
