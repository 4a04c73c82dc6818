//! English.

use super::{
    Catalogue, Counted, Label, Length, NO_MOVEMENT_MG_DL_MIN, Numbers, Seen, Spoken, UNKNOWN, if_within, more_chance,
    with_pace,
};
use crate::error::Error;
use crate::exchange::csv::{Fault, Finding, FindingCode};
use crate::learn::points::Point;
use crate::learn::reliability::{Figures, Standing};
use crate::log::{
    Beyond, CountedIn, DeviceFault, Effort, InsulinKind, Item, PressedSpell, Purpose, SensorEvent, Stocked, Symptom,
    What,
};
use crate::prompt::{Caution, Change, Matter, Reason, Sentence, Verdict};
use crate::units::Pace;

pub(super) struct English;

impl Catalogue for English {
    fn label(&self, label: Label) -> &'static str {
        match label {
            Label::Why => "Why",
            Label::Careful => "Careful",
            Label::WouldChange => "What would change this",
            Label::Logged => "Logged",
            Label::Now => "now",
            Label::Reading => "reading",
            Label::MeterCheck => "meter check",
            Label::Expected => "expected",
            Label::NineInTen => "nine times in ten",
            Label::LowLine => "low line",
            Label::FloorLine => "very low",
            Label::HighLine => "high line",
        }
    }

    fn verdict(&self, verdict: Verdict) -> &'static str {
        match verdict {
            Verdict::Treat => "Treat",
            Verdict::Check => "Check first",
            Verdict::Hold => "Hold",
            Verdict::Clear => "Nothing to decide",
            Verdict::Help => "Get help",
        }
    }

    fn matter(&self, matter: Matter) -> &'static str {
        match matter {
            Matter::Falling => "Falling or low",
            Matter::Rising => "High or rising",
            Matter::NightWake => "Woken in the night",
            Matter::Steady => "Steady",
            Matter::TooLittle => "Too little to go by",
        }
    }

    fn sentence(&self, sentence: Sentence) -> &'static str {
        match sentence {
            Sentence::CallForHelp => {
                "Get help now: call the emergency number, or have somebody call. This is past what an app can do."
            }
            Sentence::TreatConfirmedLow => {
                "Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): \
                 the meter confirms a low. Look again in 15 minutes."
            }
            Sentence::TreatBelowFloor => {
                "Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): \
                 you are very low, and nothing speaks against the reading. Look again in 15 minutes."
            }
            Sentence::TreatLow => {
                "Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): \
                 you are low. Look again in 15 minutes."
            }
            Sentence::TreatBeforeLow => {
                "Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): \
                 you are about to be low, and waiting for the next look would be too late. Look again in 15 minutes."
            }
            Sentence::TreatFeltLow => {
                "Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): \
                 you feel low, and that counts. Look again in 15 minutes."
            }
            Sentence::TreatAgainAndCall => {
                "Call somebody now, and take the same rescue step again: you took it several times and are still low."
            }
            Sentence::CheckFeltMeterDisagrees => {
                "Check with the meter again now: you feel low, and the meter says otherwise. Your feeling counts."
            }
            Sentence::CheckMeterWasLow => {
                "Check with a meter now: your last check was low, and nothing was noted as eaten since."
            }
            Sentence::CheckMeterHigh => {
                "Wash your hands and check again: the meter reads far above the sensor, and sugar on a finger does that."
            }
            Sentence::CheckApart => {
                "Check with a meter now: sensor and meter are far apart, and one of them may be hiding a low."
            }
            Sentence::CheckInsulin => {
                "Check with a meter, and check the entry: much more insulin was noted than is usual."
            }
            Sentence::CheckMoreToCome => {
                "Check with a meter: you are falling, and insulin, movement or alcohol may take you further down."
            }
            Sentence::CheckStuck => "Check with a meter: the sensor has shown the very same number for too long.",
            Sentence::CheckEnded => "Check with a meter: this sensor was noted as ended.",
            Sentence::HoldMeterNear => {
                "Hold off treating: the meter puts you just above your low line. Look again soon."
            }
            Sentence::HoldAfterJump => "Hold off: a reading jumped and came back. The next readings will tell.",
            Sentence::CheckFeltDisagrees => {
                "Check with a meter now: what you feel and what the sensor reads do not go together."
            }
            Sentence::CheckPressed => {
                "Roll off the sensor and check with a meter: it looks pressed, and a pressed sensor reads too low."
            }
            Sentence::CheckRolledOff => {
                "Stay off the sensor and check with a meter: readings of a pressed sensor come back within minutes."
            }
            Sentence::CheckStillLow => {
                "Check with a meter now: you are off the sensor, and the readings have not come back."
            }
            Sentence::CheckUnsettled => "Check with a meter before you act: the sensor is new or unsettled.",
            Sentence::CheckStale => "Check with a meter: the newest reading is too old to act on.",
            Sentence::CheckFallingFast => {
                "Check with a meter now: you are falling fast, and the sensor reads behind your blood."
            }
            Sentence::CheckNearLow => "Check with a meter: you are near your low line, and a meter would settle it.",
            Sentence::CheckJustLow => "Check with a meter: you were low a moment ago, and may be low again.",
            Sentence::CheckLowRising => {
                "Check with a meter: the sensor still reads low, yet your glucose is probably rising already."
            }
            Sentence::HoldNearLow => "Hold off treating: you are near your low line, yet not falling now.",
            Sentence::HoldFalling => {
                "Hold off treating: you are falling, yet not expected to be low before the next look."
            }
            Sentence::HoldRescueWorking => "Hold off taking more: the rescue carbohydrate you took needs time to work.",
            Sentence::HoldMeterAbove => "Hold off treating: your meter check is fresh, and it is above your low line.",
            Sentence::HoldInsulinWorking => "Hold off correcting: you are high, and insulin you took is still working.",
            Sentence::HoldMealArriving => "Hold off correcting: you are rising while a meal is still arriving.",
            Sentence::HoldRising => "Hold off for now: you are high or rising, and the next look will tell more.",
            Sentence::HoldOwnPlan => {
                "You are high: this is what your own correction plan is for, if your care team gave you one."
            }
            Sentence::CheckHigh => "Check with a meter before you correct: the sensor reads very high.",
            Sentence::NothingToDecide => "Nothing needs deciding now.",
            Sentence::NoReadings => {
                "There are no readings to go by. If you feel low or are unsure, check with a meter; \
                 with no meter at hand, treat."
            }
        }
    }

    fn without_meter(&self, verdict: Verdict) -> &'static str {
        match verdict {
            Verdict::Treat => "No meter at hand: treat.",
            Verdict::Check => "No meter at hand: look again soon, and treat if you feel low.",
            Verdict::Hold => "No meter at hand: hold off, look again soon, and treat if you feel low.",
            Verdict::Clear => "No meter at hand: nothing needs deciding now.",
            Verdict::Help => "Meter or not: get help.",
        }
    }

    fn look_again(&self, minutes: u16) -> String {
        match minutes {
            0 => "Look again at once.".to_owned(),
            1 => "Look again in 1 minute.".to_owned(),
            _ => format!("Look again in {minutes} minutes."),
        }
    }

    fn reason(&self, n: Numbers, reason: Reason) -> String {
        match reason {
            Reason::Reading { mg_dl, age_minutes } => {
                format!("The sensor read {}, {}.", n.amount(mg_dl), self.ago(age_minutes))
            }
            Reason::ReadingBeyond { beyond, mg_dl, age_minutes } => {
                let (word, side) = beyond_words(beyond);
                format!("The sensor read {word}: {side} {}, {}.", n.amount(mg_dl), self.ago(age_minutes))
            }
            Reason::Blood { mg_dl, sd_mg_dl } => {
                format!(
                    "With the sensor's delay taken out, your blood glucose is {}.",
                    self.expected(n, mg_dl, sd_mg_dl)
                )
            }
            Reason::Rate { mg_dl_min, pace: _, in_30_mg_dl } => {
                if mg_dl_min.abs() < NO_MOVEMENT_MG_DL_MIN {
                    return format!("Glucose is {}.", self.movement(n, mg_dl_min));
                }
                // "Lower" must be there: an amount alone is read as where glucose will be.
                format!(
                    "Glucose is {}; kept up, it would be {} {} in half an hour.",
                    self.movement(n, mg_dl_min),
                    n.amount(in_30_mg_dl.abs()),
                    if in_30_mg_dl < 0.0 { "lower" } else { "higher" }
                )
            }
            Reason::Easing { before_mg_dl_min, now_mg_dl_min } => format!(
                "The {} is easing off: {} half an hour ago, {} now.",
                if before_mg_dl_min < 0.0 { "fall" } else { "rise" },
                n.rate_size(before_mg_dl_min),
                n.rate_size(now_mg_dl_min)
            ),
            Reason::ChanceLow { chance, within_minutes, line_mg_dl, expected_minutes } => {
                let when = if_within(expected_minutes, within_minutes)
                    .map_or_else(String::new, |m| format!(", if so in about {}", span(m)));
                format!(
                    "Chance of a reading below your low line ({}) within {within_minutes} minutes: {}{when}.",
                    n.amount(line_mg_dl),
                    self.chance(chance)
                )
            }
            Reason::IfWaiting { chance, within_minutes, line_mg_dl, minutes_to_low } => {
                let when = if_within(minutes_to_low, within_minutes)
                    .map_or_else(String::new, |m| format!(", if so in about {}", span(m)));
                format!(
                    "If you wait: {} chance of blood glucose below {} within {within_minutes} minutes{when}.",
                    self.chance(chance),
                    n.amount(line_mg_dl)
                )
            }
            Reason::IfTreating { chance, within_minutes, line_mg_dl, high_chance } => format!(
                "If you treat now: {} chance of blood glucose below {} within {within_minutes} minutes, and {} of rising above your \
                 high line within an hour.",
                self.chance(chance),
                n.amount(line_mg_dl),
                self.chance(high_chance)
            ),
            Reason::ChanceFloor { chance, within_minutes, line_mg_dl } => format!(
                "Chance of a very low reading (below {}) within {within_minutes} minutes: {}.",
                n.amount(line_mg_dl),
                self.chance(chance)
            ),
            Reason::ChanceHigh { chance, within_minutes, line_mg_dl } => format!(
                "Chance of a reading above your high line ({}) within {within_minutes} minutes: {}.",
                n.amount(line_mg_dl),
                self.chance(chance)
            ),
            Reason::Meter { mg_dl, age_minutes } => {
                format!(
                    "The meter showed {}, {}; it counts more than the sensor.",
                    n.amount(mg_dl),
                    self.ago(age_minutes)
                )
            }
            Reason::MeterBeyond { beyond, mg_dl, age_minutes } => {
                let (word, side) = beyond_words(beyond);
                format!(
                    "The meter showed {word}: {side} {}, {}; it counts more than the sensor.",
                    n.amount(mg_dl),
                    self.ago(age_minutes)
                )
            }
            Reason::FeelsLow => "You feel low.".to_owned(),
            Reason::FeelsHigh => "You feel high.".to_owned(),
            Reason::SevereSigns => "Signs of a severe low: confused, unable to swallow, or not responding.".to_owned(),
            Reason::Pressed { chance, without_mg_dl } => format!(
                "Chance that the sensor is pressed: {}; without that, you would be near {}.",
                self.chance(chance),
                n.amount(without_mg_dl)
            ),
            Reason::MeterApart { shift_mg_dl } => format!(
                "By your meter checks, the sensor reads about {} too {}.",
                n.amount(shift_mg_dl.abs()),
                if shift_mg_dl < 0.0 { "high" } else { "low" }
            ),
            Reason::DoubtfulDose { units, minutes_ago } => format!(
                "{} of insulin were noted {}; that is far more than usual.",
                of_insulin(n, units),
                self.ago(minutes_ago)
            ),
            Reason::Rescues { times } => format!("You took rescue carbohydrate {times} times in the last hour or so."),
            Reason::Stuck { minutes } => format!("The reading has not changed at all for {}.", span(minutes)),
            Reason::Ended { minutes_ago } => format!("The sensor was noted as ended {}.", self.ago(minutes_ago)),
            Reason::RolledOff { minutes_ago } => format!("You rolled off the sensor {}.", self.ago(minutes_ago)),
            Reason::Unsettled { chance } => {
                format!("Chance that the sensor is unsettled (jumps, dropouts): {}.", self.chance(chance))
            }
            Reason::FirstDay { hours } => {
                format!("The sensor went in {}; its first day is unreliable.", self.ago(hours * 60.0))
            }
            Reason::Stale { age_minutes } => format!("The newest reading is {} old.", span(age_minutes)),
            Reason::SuddenDrop { from_mg_dl, to_mg_dl, minutes } => format!(
                "After a level stretch the readings went from {} to {} in {}; that is hard to believe unchecked.",
                n.bare(from_mg_dl),
                n.amount(to_mg_dl),
                span(minutes)
            ),
            Reason::Rescue { grams, minutes_ago } => {
                format!("You took {} g of rescue carbohydrate {}.", n.tenths(grams), self.ago(minutes_ago))
            }
            Reason::InsulinOnBoard { units, minutes_ago } => format!(
                "Insulin on board: about {} of rapid insulin still to act, the newest taken {}.",
                of_insulin(n, units),
                self.ago(minutes_ago)
            ),
            Reason::CarbohydrateArriving { grams } => {
                format!("About {} g of carbohydrate are still arriving.", n.tenths(grams.round()))
            }
            Reason::Alcohol { drinks, minutes_ago } => format!(
                "You noted {} of alcohol, the newest {}; alcohol can lower glucose until the next noon.",
                of_drinks(n, drinks),
                self.ago(minutes_ago)
            ),
            Reason::Moved { minutes_ago } if minutes_ago < 0.5 => "You are moving, which lowers glucose.".to_owned(),
            Reason::Moved { minutes_ago } => {
                format!("You stopped moving {}; glucose can go on falling after movement.", self.ago(minutes_ago))
            }
        }
    }

    fn caution(&self, caution: Caution) -> &'static str {
        match caution {
            Caution::SensorLags => "The sensor reads minutes behind blood; in a fall, blood is lower already.",
            Caution::MeterDecides => "Where sensor and meter differ, the meter decides.",
            Caution::InDoubtTreat => "If in doubt and no meter is at hand, treat.",
            Caution::RecheckIn15 => "If you are still low after 15 minutes, take the same step again.",
            Caution::RiseTakesTime => "The sensor may show no rise yet after 15 minutes; a meter shows it sooner.",
            Caution::DoNotStack => "Insulin on top of insulin that still works can bring a low later.",
            Caution::NoDose => "No dose is named here: that is for your own plan and your care team.",
            Caution::KetonesWhenHigh => {
                "High for hours, or unwell: test for ketones, and follow your care team's rules for sick days."
            }
            Caution::FirstDayUnreliable => "In a sensor's first day, believe the meter rather than the sensor.",
            Caution::NothingByMouth => {
                "Give nothing by mouth to somebody who cannot swallow or does not respond. \
                 Use rescue glucagon if it is there and you were shown how."
            }
            Caution::CallSomebody => {
                "Let somebody know, and stay with people. If it gets worse, call the emergency number."
            }
            Caution::AlcoholLowersLater => {
                "After alcohol, lows come late and feel like being drunk: eat before sleep, and let somebody know."
            }
            Caution::InsulinRightOrWrong => {
                "If the entry is wrong, put it right or take it back. If it is right, call your care team or the \
                 emergency number now, and keep checking with a meter."
            }
            Caution::FeelingsCount => "If you feel low, that counts more than the number.",
        }
    }

    fn change(&self, n: Numbers, change: Change) -> String {
        match change {
            Change::ReadingBelow { mg_dl } => format!("a reading below {}", n.amount(mg_dl)),
            Change::ReadingAbove { mg_dl } => format!("a reading above {}", n.amount(mg_dl)),
            Change::FallingFasterThan { mg_dl_min } => format!("a fall faster than {}", n.rate_size(mg_dl_min)),
            Change::MeterBelow { mg_dl } => format!("a meter check below {}", n.amount(mg_dl)),
            Change::MeterAbove { mg_dl } => format!("a meter check of {} or more", n.amount(mg_dl)),
            Change::FeelingLow => "feeling low".to_owned(),
            Change::ReadingsComeBack => "readings that come back within minutes of rolling off the sensor".to_owned(),
            Change::NewReadings => "new readings".to_owned(),
        }
    }

    fn pace(&self, pace: Pace) -> &'static str {
        match pace {
            Pace::Level => "level",
            Pace::Slow => "slowly",
            Pace::Moderate => "",
            Pace::Fast => "fast",
            Pace::VeryFast => "very fast",
        }
    }

    fn movement(&self, n: Numbers, mg_dl_min: f64) -> String {
        let pace = self.pace(crate::units::Rate::from_mg_dl_min(mg_dl_min).pace());
        if mg_dl_min.abs() < NO_MOVEMENT_MG_DL_MIN {
            return pace.to_owned();
        }
        let direction = if mg_dl_min < 0.0 { "falling" } else { "rising" };
        with_pace(format!("{direction} {}", n.rate_size(mg_dl_min)), pace)
    }

    fn chance(&self, chance: f64) -> String {
        match chance * 100.0 {
            p if p.is_nan() => UNKNOWN.to_owned(),
            p if p < 1.0 => "under 1 %".to_owned(),
            p if p > 99.0 => "over 99 %".to_owned(),
            p => format!("{p:.0} %"),
        }
    }

    fn expected(&self, n: Numbers, mg_dl: f64, sd_mg_dl: f64) -> String {
        let (low, high) = n.nine_in_ten(mg_dl, sd_mg_dl);
        format!("about {} ({low} to {high})", n.amount(mg_dl))
    }

    fn ago(&self, minutes: f64) -> String {
        match Length::of(minutes) {
            Length::Moment => "just now".to_owned(),
            _ => format!("{} ago", span(minutes)),
        }
    }

    fn beyond(&self, n: Numbers, beyond: Beyond, mg_dl: f64) -> String {
        match beyond {
            Beyond::Below => format!("too low to measure (below {})", n.amount(mg_dl)),
            Beyond::Above => format!("too high to measure (above {})", n.amount(mg_dl)),
        }
    }

    fn what(&self, n: Numbers, what: &What) -> String {
        match what {
            What::SensorReading { mg_dl } => format!("sensor reading {}", n.amount(mg_dl.mg_dl())),
            What::SensorBeyond { beyond, mg_dl } => {
                format!("sensor reading {}", self.beyond(n, *beyond, mg_dl.mg_dl()))
            }
            What::MeterCheck { mg_dl } => format!("meter check {}", n.amount(mg_dl.mg_dl())),
            What::MeterBeyond { beyond, mg_dl } => format!("meter check {}", self.beyond(n, *beyond, mg_dl.mg_dl())),
            What::Insulin { insulin, units } => format!("{} {}", self.insulin(*insulin), of_insulin(n, *units)),
            What::Carbohydrate { grams, purpose } => {
                format!("carbohydrate {} g, {}", n.tenths(*grams), self.purpose(*purpose))
            }
            What::Alcohol { drinks } => format!("alcohol {}", of_drinks(n, *drinks)),
            What::Activity { activity, minutes, effort } => {
                format!("activity: {}, {} minutes, {}", activity.as_str(), n.tenths(*minutes), self.effort(*effort))
            }
            What::Sleep { until } => format!("sleep until {}", until.clock()),
            What::Sensor(SensorEvent::Inserted { site, lot, rated_days }) => {
                let mut text = "sensor put in".to_owned();
                if let Some(site) = site {
                    text += &format!(": {}", site.as_str());
                }
                if let Some(lot) = lot {
                    text += &format!(", lot {}", lot.as_str());
                }
                if let Some(days) = rated_days {
                    text += &format!(", rated for {days} {}", if *days == 1 { "day" } else { "days" });
                }
                text
            }
            What::Sensor(SensorEvent::WarmUpOver) => "sensor warm-up over".to_owned(),
            What::Sensor(SensorEvent::RolledOff) => "rolled off the sensor".to_owned(),
            What::Sensor(SensorEvent::Ended) => "sensor ended".to_owned(),
            What::Sensor(SensorEvent::Fault { seen }) => format!("sensor fault: {}", seen.as_str()),
            What::Sensor(SensorEvent::DeviceFault { code }) => format!("sensor fault: {}", self.device_fault(*code)),
            What::Symptom { felt } => self.symptom(*felt).to_owned(),
            What::Note { text } => format!("note: {}", text.as_str()),
            What::PressedSpell { until } => format!("sensor pressed until {}", until.clock()),
            What::Supply(supply) => {
                let mut text = format!(
                    "{}: {} {}",
                    self.item(supply.item),
                    self.stocked(supply.stocked),
                    self.stock(n, supply.item, supply.amount)
                );
                if let Some(lot) = &supply.lot {
                    text += &format!(", lot {}", lot.as_str());
                }
                if let Some(day) = supply.expires {
                    text += &format!(", good until {day}");
                }
                if let Some(price) = supply.price {
                    text += &format!(", {:.2} {}", price.amount, price.currency);
                }
                if let Some(from) = &supply.from {
                    text += &format!(", from {}", from.as_str());
                }
                text
            }
            What::Prompted(told) => {
                let mut text = format!("told: {}", self.verdict(told.verdict).to_lowercase());
                if let Some(chance) = told.chance_low {
                    text += &format!(", chance of a low within 30 minutes {}", self.chance(chance));
                }
                text
            }
            What::Import { name } => format!("brought in: {}", name.as_str()),
            What::Retraction => "an entry taken back".to_owned(),
        }
    }

    fn item(&self, item: Item) -> &'static str {
        match item {
            Item::Sensor => "sensors",
            Item::Transmitter => "transmitters",
            Item::Battery => "batteries",
            Item::TestStrip => "test strips",
            Item::RapidInsulin => "rapid insulin",
            Item::LongActingInsulin => "long-acting insulin",
            Item::RescueCarbohydrate => "rescue carbohydrate",
        }
    }

    fn counted(&self, what: Counted) -> (&'static str, &'static str) {
        match what {
            Counted::Readings => ("reading", "readings"),
            Counted::SensorReadings => ("sensor reading", "sensor readings"),
            Counted::NewReadings => ("new reading", "new readings"),
            Counted::Entries => ("entry", "entries"),
            Counted::OtherEntries => ("other entry", "other entries"),
            Counted::NewEntries => ("new entry", "new entries"),
            Counted::Imports => ("import", "imports"),
            Counted::Figures => ("review figure", "review figures"),
            Counted::Rows => ("row", "rows"),
            Counted::Resources => ("resource", "resources"),
            Counted::Sources => ("source", "sources"),
        }
    }

    fn stocked(&self, stocked: Stocked) -> &'static str {
        match stocked {
            Stocked::Counted => "counted",
            Stocked::Received => "received",
            Stocked::Used => "used",
            Stocked::ThrownAway => "thrown away",
            Stocked::Quoted => "offered",
        }
    }

    fn stock(&self, n: Numbers, item: Item, amount: f64) -> String {
        match item.counted_in() {
            CountedIn::Pieces => n.tenths(amount),
            CountedIn::InsulinUnits => of_insulin(n, amount),
            CountedIn::Grams => format!("{} g", n.tenths(amount)),
        }
    }

    fn insulin(&self, kind: InsulinKind) -> &'static str {
        match kind {
            InsulinKind::Rapid => "rapid insulin",
            InsulinKind::LongActing => "long-acting insulin",
        }
    }

    fn purpose(&self, purpose: Purpose) -> &'static str {
        match purpose {
            Purpose::Meal => "meal",
            Purpose::Rescue => "rescue",
        }
    }

    fn effort(&self, effort: Effort) -> &'static str {
        match effort {
            Effort::Light => "light",
            Effort::Moderate => "moderate",
            Effort::Hard => "hard",
        }
    }

    fn symptom(&self, symptom: Symptom) -> &'static str {
        match symptom {
            Symptom::FeelsLow => "feels low",
            Symptom::FeelsHigh => "feels high",
            Symptom::None => "feels neither low nor high",
            Symptom::Severe => "severe signs",
        }
    }

    fn picture(&self, n: Numbers, seen: Option<Seen>, ahead: &[Spoken]) -> String {
        let mut text = match seen {
            None => "No readings to show.".to_owned(),
            Some(seen) => format!(
                "Past {}: from {} to {}, the newest at {}; lowest {} at {}, highest {} at {}.",
                span(seen.minutes),
                self.bare_shown(n, seen.first),
                self.shown(n, seen.last),
                seen.last_at.clock(),
                self.bare_shown(n, seen.lowest),
                seen.lowest_at.clock(),
                self.bare_shown(n, seen.highest),
                seen.highest_at.clock()
            ),
        };
        if !ahead.is_empty() {
            let each: Vec<String> = ahead
                .iter()
                .map(|one| format!("in {} minutes {}", one.minutes, self.expected(n, one.mg_dl, one.sd_mg_dl)))
                .collect();
            text.push_str(&format!(" Expected reading: {}; nine times in ten it falls in brackets.", each.join(", ")));
        }
        text
    }

    fn lesson(&self, n: Numbers, point: Point) -> String {
        match point {
            Point::TooLittle { have_days, need_days } => format!(
                "Too little to learn your own values from: have {} days of readings, need {}. Until then the values that \
                 fit most people hold.",
                n.tenths(have_days),
                n.tenths(need_days)
            ),
            Point::RestsOn { days, readings, meter_checks } => format!(
                "This rests on {} days with {} readings and {}.",
                n.tenths(days),
                n.count(readings as u64),
                checks(meter_checks)
            ),
            Point::OwnUsed { score_population, score_own } => format!(
                "Your own values are used from now on: with them, half-hour forecasts gave what then came {} % more chance \
                 than with everybody's (score {}, before {}).",
                n.tenths(more_chance(score_population, score_own)),
                n.score(score_own),
                n.score(score_population)
            ),
            Point::OwnNotUsed { score_population, score_own } => format!(
                "Your own values were tried and forecast no better, so everybody's stay in use (score {}, everybody's {}).",
                n.score(score_own),
                n.score(score_population)
            ),
            Point::Moves { times } => {
                format!("Your glucose moves {} times as much as most people's.", n.times(times))
            }
            Point::MovesAtNight { times } => {
                format!("In your night it moves {} times as much as in your day.", n.times(times))
            }
            Point::MovesWhenHigh { times } => format!(
                "Near {} it moves {} times as much as near {}.",
                n.amount(250.0),
                n.times(times),
                n.amount(80.0)
            ),
            Point::Scatter { sd_mg_dl } => {
                format!("Single readings scatter by about {} around their course.", n.fine_amount(sd_mg_dl))
            }
            Point::Lag { minutes } => format!("Your sensor runs about {} minutes behind blood.", n.tenths(minutes)),
            Point::LagNeedsChecks { have, need } => format!(
                "How far your sensor runs behind blood cannot be told yet: have {} in these days, need {need}.",
                checks(have)
            ),
            Point::Forecasts { count } => {
                format!("Forecasts were mended by how {} of them turned out.", n.count(count))
            }
        }
    }

    fn standing(&self, n: Numbers, standing: Standing) -> String {
        let figures = |Figures { told, mean_chance, came, off }: Figures| {
            format!(
                "Of {} chances told, {} % on average, {} % came; on average one was off by {} points.",
                n.count(told),
                n.points(mean_chance),
                n.points(came),
                n.points(off)
            )
        };
        match standing {
            Standing::TooFew { have, need } => format!(
                "Not enough yet to say: falls have been watched through {have:.0} half-hours, {need:.0} are needed."
            ),
            Standing::KeepsItsWord(told) => {
                format!("The chances keep their word, as far as can be told. {}", figures(told))
            }
            Standing::SaysTooMuch(told) => format!("Lows come less often than is said. {}", figures(told)),
            Standing::SaysTooLittle(told) => format!("Lows come more often than is said. {}", figures(told)),
        }
    }

    fn spell(&self, spell: PressedSpell) -> String {
        format!("{}, {} to {}", spell.from.local_date(), spell.from.clock(), spell.until.clock())
    }

    fn finding(&self, n: Numbers, finding: &Finding) -> String {
        let column = finding.column.map_or_else(String::new, |column| format!(", column {column}"));
        let given = if finding.given.is_empty() { String::new() } else { format!(" ({:?})", finding.given) };
        let told = match finding.code {
            FindingCode::NoTime => "there is no time; left out".to_owned(),
            FindingCode::TimeUnreadable => "the time is not written like the others; left out".to_owned(),
            FindingCode::TimeOutsideYears => "the year is outside 2000 to 2199; left out".to_owned(),
            FindingCode::InFuture => "the time lies ahead of this device's clock; left out. Check both clocks".to_owned(),
            FindingCode::NotANumber => "this is no number; left out".to_owned(),
            FindingCode::SaysLow => "too low for the sensor to measure; taken as such a reading".to_owned(),
            FindingCode::SaysHigh => "too high for the sensor to measure; taken as such a reading".to_owned(),
            FindingCode::OutOfRange => format!("outside {}; left out", n.range("to")),
            FindingCode::OtherUnit => {
                "outside what a sensor reads in this file's unit, yet possible in the other; left out".to_owned()
            }
            FindingCode::TooFewCells => "the row ends before the reading; left out".to_owned(),
            FindingCode::TooManyCells => {
                "more cells than the columns have names; left out. A decimal comma needs quotation marks or another separator"
                    .to_owned()
            }
            FindingCode::Contradicts => "another amount for the same time; both taken, the lower one is used".to_owned(),
            FindingCode::ClockWentBack => "times step back here: taken as the night the clocks went back".to_owned(),
            FindingCode::HourThatNeverWas => "the clocks went forward over this time; taken as if they had not".to_owned(),
        };
        format!("line {}{column}{given}: {told}", finding.line)
    }

    fn device_fault(&self, code: DeviceFault) -> &'static str {
        match code {
            DeviceFault::SensorType => "the device does not take this sensor",
            DeviceFault::SensorMalfunction => "the sensor reports a malfunction",
            DeviceFault::General => "the sensor reports a general fault",
        }
    }

    fn fault(&self, fault: &Fault) -> String {
        let list = |seen: &[String]| if seen.is_empty() { "nothing".to_owned() } else { seen.join(", ") };
        match fault {
            Fault::Empty => "the file is empty; nothing was taken".to_owned(),
            Fault::NoRows => "there are names of columns and no readings below them; nothing was taken".to_owned(),
            Fault::NotText => "this is no table of text, or it is in UTF-16; save it as CSV in UTF-8".to_owned(),
            Fault::NoTimeColumn { seen } => {
                format!("no column is named like a time (found: {}); say which one holds it", list(seen))
            }
            Fault::NoGlucoseColumn { seen } => {
                format!("no column is named like glucose readings (found: {}); say which one holds them", list(seen))
            }
            Fault::SeveralGlucoseColumns { seen } => {
                format!("more than one column could hold the sensor's readings ({}); say which one", list(seen))
            }
            Fault::NoSuchColumn { asked, seen } => format!("there is no column {asked:?} (found: {})", list(seen)),
            Fault::TimesUnknown { given } => {
                format!("the time {given:?} is written in no way known here; say how, such as %d/%m/%Y %H:%M")
            }
            Fault::DayOrMonth { given } => {
                format!("in {given:?} either number could be the day; say which: %d/%m/%Y %H:%M or %m/%d/%Y %H:%M")
            }
            Fault::BadTimeFormat { given } => {
                format!("{given:?} is no way to write times; use signs such as %Y-%m-%d %H:%M:%S")
            }
            Fault::UnitUnknown { given } => {
                format!("values such as {given} fit mg/dL as well as mmol/L; say which unit the file is in")
            }
            Fault::OtherUnit { said, fits, given } => format!(
                "the file is said to be in {said}, yet values such as {given} look like {fits}; \
                 say that the file is in {fits}. Nothing was taken"
            ),
            Fault::SeveralKinds { column, seen } => format!(
                "its rows are of several kinds ({column:?} says: {}), and which of them is glucose does not show; keep only those rows",
                list(seen)
            ),
            Fault::RowTooLong => {
                "this row does not end within 1 MB; look for a quotation mark that is never closed".to_owned()
            }
        }
    }

    fn refused(&self, file: &str, line: u64, column: Option<usize>, why: &str) -> String {
        let column = column.map_or(String::new(), |column| format!(":{column}"));
        format!("{file}:{line}{column}: {why}")
    }

    fn error(&self, _: Numbers, error: &Error) -> String {
        error.to_string()
    }
}

/// `1 unit`, `4.5 units`.
fn of_insulin(n: Numbers, units: f64) -> String {
    let number = n.tenths(units);
    let unit = if number == "1" { "unit" } else { "units" };
    format!("{number} {unit}")
}

/// The word an instrument shows in place of an amount, and what it means.
const fn beyond_words(beyond: Beyond) -> (&'static str, &'static str) {
    match beyond {
        Beyond::Below => ("LOW", "below"),
        Beyond::Above => ("HIGH", "above"),
    }
}

/// `1 drink`, `2.5 drinks`.
fn of_drinks(n: Numbers, drinks: f64) -> String {
    let number = n.tenths(drinks);
    let name = if number == "1" { "drink" } else { "drinks" };
    format!("{number} {name}")
}

/// `1 meter check`, `4 meter checks`.
fn checks(count: usize) -> String {
    let name = if count == 1 { "meter check" } else { "meter checks" };
    format!("{count} {name}")
}

/// A length of time: `8 minutes`, `3 hours`.
fn span(minutes: f64) -> String {
    match Length::of(minutes) {
        Length::Moment => "under a minute".to_owned(),
        Length::Minutes(1) => "1 minute".to_owned(),
        Length::Minutes(minutes) => format!("{minutes} minutes"),
        Length::Hours(hours) => format!("{hours} hours"),
        Length::Days(days) => format!("{days} days"),
    }
}
