//! German. The wearer is addressed as "du", as diabetes self-help in German commonly does.

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

pub(super) struct German;

impl Catalogue for German {
    fn label(&self, label: Label) -> &'static str {
        match label {
            Label::Why => "Warum",
            Label::Careful => "Vorsicht",
            Label::WouldChange => "Was das ändern würde",
            Label::Logged => "Eingetragen",
            Label::Now => "jetzt",
            Label::Reading => "Wert",
            Label::MeterCheck => "Blutmessung",
            Label::Expected => "erwartet",
            Label::NineInTen => "neunmal von zehn",
            Label::LowLine => "untere Grenze",
            Label::FloorLine => "sehr tief",
            Label::HighLine => "obere Grenze",
        }
    }

    fn verdict(&self, verdict: Verdict) -> &'static str {
        match verdict {
            Verdict::Treat => "Behandeln",
            Verdict::Check => "Erst messen",
            Verdict::Hold => "Abwarten",
            Verdict::Clear => "Nichts zu entscheiden",
            Verdict::Help => "Hilfe holen",
        }
    }

    fn matter(&self, matter: Matter) -> &'static str {
        match matter {
            Matter::Falling => "Fallend oder tief",
            Matter::Rising => "Hoch oder steigend",
            Matter::NightWake => "In der Nacht geweckt",
            Matter::Steady => "Stabil",
            Matter::TooLittle => "Zu wenig Werte",
        }
    }

    fn sentence(&self, sentence: Sentence) -> &'static str {
        match sentence {
            Sentence::CallForHelp => {
                "Hol jetzt Hilfe: ruf den Notruf oder lass jemanden anrufen. Hier kann eine App nichts mehr ausrichten."
            }
            Sentence::TreatConfirmedLow => {
                "Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): \
                 Die Blutmessung bestätigt, dass du zu tief bist. Schau in 15 Minuten wieder."
            }
            Sentence::TreatBelowFloor => {
                "Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): \
                 Du bist sehr tief, und nichts spricht gegen den Wert. Schau in 15 Minuten wieder."
            }
            Sentence::TreatLow => {
                "Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): \
                 Du bist zu tief. Schau in 15 Minuten wieder."
            }
            Sentence::TreatBeforeLow => {
                "Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): \
                 Du bist gleich zu tief, und der nächste Blick käme zu spät. Schau in 15 Minuten wieder."
            }
            Sentence::TreatFeltLow => {
                "Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): \
                 Du spürst eine Unterzuckerung, und das zählt. Schau in 15 Minuten wieder."
            }
            Sentence::TreatAgainAndCall => {
                "Hol jetzt jemanden dazu und nimm denselben Schritt noch einmal: Du hast ihn mehrmals genommen und bist noch zu tief."
            }
            Sentence::CheckFeltMeterDisagrees => {
                "Miss jetzt noch einmal am Finger: Du spürst eine Unterzuckerung, die Blutmessung sagt etwas anderes. Dein Gefühl zählt."
            }
            Sentence::CheckMeterWasLow => {
                "Miss jetzt am Finger: Deine letzte Blutmessung war zu tief, und seitdem ist nichts Gegessenes eingetragen."
            }
            Sentence::CheckMeterHigh => {
                "Wasch die Hände und miss noch einmal: Die Blutmessung liegt weit über dem Sensor, und das macht Zucker am Finger."
            }
            Sentence::CheckApart => {
                "Miss jetzt am Finger: Sensor und Blutmessung liegen weit auseinander, und eines von beiden verbirgt vielleicht eine Unterzuckerung."
            }
            Sentence::CheckInsulin => {
                "Miss am Finger und prüfe den Eintrag: Es wurde viel mehr Insulin eingetragen als üblich."
            }
            Sentence::CheckMoreToCome => {
                "Miss am Finger: Du fällst, und Insulin, Bewegung oder Alkohol können dich noch tiefer bringen."
            }
            Sentence::CheckStuck => "Miss am Finger: Der Sensor zeigt schon zu lange genau dieselbe Zahl.",
            Sentence::CheckEnded => "Miss am Finger: Dieser Sensor ist als beendet eingetragen.",
            Sentence::HoldMeterNear => {
                "Warte mit dem Behandeln: Nach der Blutmessung bist du knapp über deiner unteren Grenze. Schau bald wieder."
            }
            Sentence::HoldAfterJump => {
                "Warte ab: Ein Wert ist gesprungen und zurückgekommen. Die nächsten Werte klären es."
            }
            Sentence::CheckFeltDisagrees => {
                "Miss jetzt am Finger: Was du spürst und was der Sensor zeigt, passt nicht zusammen."
            }
            Sentence::CheckPressed => {
                "Roll dich vom Sensor weg und miss am Finger: Er wirkt gedrückt, und dann zeigt er zu wenig an."
            }
            Sentence::CheckRolledOff => {
                "Bleib vom Sensor weg und miss am Finger: War er gedrückt, kommen die Werte binnen Minuten zurück."
            }
            Sentence::CheckStillLow => {
                "Miss jetzt am Finger: Du liegst nicht mehr auf dem Sensor, und die Werte sind nicht zurückgekommen."
            }
            Sentence::CheckUnsettled => "Miss am Finger, bevor du handelst: Der Sensor ist neu oder unruhig.",
            Sentence::CheckStale => "Miss am Finger: Der neueste Wert ist zu alt, um danach zu handeln.",
            Sentence::CheckFallingFast => {
                "Miss jetzt am Finger: Du fällst schnell, und der Sensor hinkt dem Blut hinterher."
            }
            Sentence::CheckNearLow => {
                "Miss am Finger: Du bist nahe an deiner unteren Grenze; eine Blutmessung klärt es."
            }
            Sentence::CheckJustLow => {
                "Miss am Finger: Du warst eben noch zu tief und bist es vielleicht gleich wieder."
            }
            Sentence::CheckLowRising => {
                "Miss am Finger: Der Sensor zeigt noch zu wenig an, doch wahrscheinlich steigst du schon."
            }
            Sentence::HoldNearLow => {
                "Warte mit dem Behandeln: Du bist nahe an deiner unteren Grenze, fällst aber gerade nicht."
            }
            Sentence::HoldFalling => {
                "Warte mit dem Behandeln: Du fällst, wirst aber bis zum nächsten Blick wohl nicht zu tief sein."
            }
            Sentence::HoldRescueWorking => {
                "Nimm noch nichts nach: Die schnellen Kohlenhydrate brauchen Zeit, um zu wirken."
            }
            Sentence::HoldMeterAbove => {
                "Warte mit dem Behandeln: Deine Blutmessung ist frisch und liegt über deiner unteren Grenze."
            }
            Sentence::HoldInsulinWorking => "Warte mit dem Korrigieren: Du bist hoch, und dein Insulin wirkt noch.",
            Sentence::HoldMealArriving => "Warte mit dem Korrigieren: Du steigst, während deine Mahlzeit noch ankommt.",
            Sentence::HoldRising => "Warte noch: Du bist hoch oder steigst; der nächste Blick zeigt mehr.",
            Sentence::HoldOwnPlan => {
                "Du bist hoch: Dafür ist dein eigener Korrekturplan da, wenn dein Behandlungsteam dir einen gegeben hat."
            }
            Sentence::CheckHigh => "Miss am Finger, bevor du korrigierst: Der Sensor zeigt sehr viel an.",
            Sentence::NothingToDecide => "Jetzt ist nichts zu entscheiden.",
            Sentence::NoReadings => {
                "Es gibt keine Werte, nach denen man gehen kann. Spürst du eine Unterzuckerung oder bist du unsicher, \
                 miss am Finger; ohne Messgerät behandle."
            }
        }
    }

    fn without_meter(&self, verdict: Verdict) -> &'static str {
        match verdict {
            Verdict::Treat => "Kein Messgerät da: behandeln.",
            Verdict::Check => "Kein Messgerät da: bald wieder schauen; behandeln, wenn du eine Unterzuckerung spürst.",
            Verdict::Hold => {
                "Kein Messgerät da: abwarten, bald wieder schauen; behandeln, wenn du eine Unterzuckerung spürst."
            }
            Verdict::Clear => "Kein Messgerät da: Jetzt ist nichts zu entscheiden.",
            Verdict::Help => "Mit oder ohne Messgerät: Hilfe holen.",
        }
    }

    fn look_again(&self, minutes: u16) -> String {
        match minutes {
            0 => "Schau sofort wieder.".to_owned(),
            1 => "Schau in 1 Minute wieder.".to_owned(),
            _ => format!("Schau in {minutes} Minuten wieder."),
        }
    }

    fn reason(&self, n: Numbers, reason: Reason) -> String {
        match reason {
            Reason::Reading { mg_dl, age_minutes } => {
                format!("Der Sensor zeigte {}, {}.", n.amount(mg_dl), self.ago(age_minutes))
            }
            Reason::ReadingBeyond { beyond, mg_dl, age_minutes } => {
                let (word, side) = beyond_words(beyond);
                format!("Der Sensor zeigte {word}: {side} {}, {}.", n.amount(mg_dl), self.ago(age_minutes))
            }
            Reason::Blood { mg_dl, sd_mg_dl } => {
                format!(
                    "Ohne die Verzögerung des Sensors liegt dein Blutzucker bei {}.",
                    self.expected(n, mg_dl, sd_mg_dl)
                )
            }
            Reason::Rate { mg_dl_min, pace: _, in_30_mg_dl } => {
                if mg_dl_min.abs() < NO_MOVEMENT_MG_DL_MIN {
                    return format!("Die Glukose {}.", self.movement(n, mg_dl_min));
                }
                // "Tiefer" must be there: an amount alone is read as where glucose will be.
                format!(
                    "Die Glukose {}; bliebe es so, wäre sie in einer halben Stunde um {} {}.",
                    self.movement(n, mg_dl_min),
                    n.amount(in_30_mg_dl.abs()),
                    if in_30_mg_dl < 0.0 { "tiefer" } else { "höher" }
                )
            }
            Reason::Easing { before_mg_dl_min, now_mg_dl_min } => format!(
                "{} lässt nach: vor einer halben Stunde {}, jetzt {}.",
                if before_mg_dl_min < 0.0 { "Der Abfall" } else { "Der Anstieg" },
                n.rate_size(before_mg_dl_min),
                n.rate_size(now_mg_dl_min)
            ),
            Reason::ChanceLow { chance, within_minutes, line_mg_dl, expected_minutes } => {
                let when = if_within(expected_minutes, within_minutes)
                    .map_or_else(String::new, |m| format!(", wenn, dann in etwa {}", span_dative(m)));
                format!(
                    "Wahrscheinlichkeit für einen Wert unter deiner unteren Grenze ({}) binnen {within_minutes} Minuten: {}{when}.",
                    n.amount(line_mg_dl),
                    self.chance(chance)
                )
            }
            Reason::IfWaiting { chance, within_minutes, line_mg_dl, minutes_to_low } => {
                let when = if_within(minutes_to_low, within_minutes)
                    .map_or_else(String::new, |m| format!(", wenn, dann in etwa {}", span_dative(m)));
                format!(
                    "Wenn du wartest: Blutzucker unter {} binnen {within_minutes} Minuten mit einer Wahrscheinlichkeit von {}{when}.",
                    n.amount(line_mg_dl),
                    self.chance(chance)
                )
            }
            Reason::IfTreating { chance, within_minutes, line_mg_dl, high_chance } => format!(
                "Wenn du jetzt behandelst: Blutzucker unter {} binnen {within_minutes} Minuten mit einer Wahrscheinlichkeit von {}, \
                 über deiner oberen Grenze binnen einer Stunde mit {}.",
                n.amount(line_mg_dl),
                self.chance(chance),
                self.chance(high_chance)
            ),
            Reason::ChanceFloor { chance, within_minutes, line_mg_dl } => format!(
                "Wahrscheinlichkeit für einen sehr tiefen Wert (unter {}) binnen {within_minutes} Minuten: {}.",
                n.amount(line_mg_dl),
                self.chance(chance)
            ),
            Reason::ChanceHigh { chance, within_minutes, line_mg_dl } => format!(
                "Wahrscheinlichkeit für einen Wert über deiner oberen Grenze ({}) binnen {within_minutes} Minuten: {}.",
                n.amount(line_mg_dl),
                self.chance(chance)
            ),
            Reason::Meter { mg_dl, age_minutes } => {
                format!(
                    "Die Blutmessung ergab {}, {}; sie zählt mehr als der Sensor.",
                    n.amount(mg_dl),
                    self.ago(age_minutes)
                )
            }
            Reason::MeterBeyond { beyond, mg_dl, age_minutes } => {
                let (word, side) = beyond_words(beyond);
                format!(
                    "Die Blutmessung ergab {word}: {side} {}, {}; sie zählt mehr als der Sensor.",
                    n.amount(mg_dl),
                    self.ago(age_minutes)
                )
            }
            Reason::FeelsLow => "Du spürst eine Unterzuckerung.".to_owned(),
            Reason::FeelsHigh => "Du spürst einen hohen Zucker.".to_owned(),
            Reason::SevereSigns => {
                "Zeichen einer schweren Unterzuckerung: verwirrt, kann nicht schlucken oder reagiert nicht.".to_owned()
            }
            Reason::Pressed { chance, without_mg_dl } => format!(
                "Wahrscheinlichkeit, dass der Sensor gedrückt wird: {}; ohne das wärst du etwa bei {}.",
                self.chance(chance),
                n.amount(without_mg_dl)
            ),
            Reason::MeterApart { shift_mg_dl } => format!(
                "Nach deinen Blutmessungen zeigt der Sensor etwa {} zu {} an.",
                n.amount(shift_mg_dl.abs()),
                if shift_mg_dl < 0.0 { "viel" } else { "wenig" }
            ),
            Reason::DoubtfulDose { units, minutes_ago } => format!(
                "{} Insulin sind {} eingetragen; das ist viel mehr als üblich.",
                of_insulin(n, units),
                self.ago(minutes_ago)
            ),
            Reason::Rescues { times } => {
                format!("Du hast in der letzten guten Stunde {times}-mal schnelle Kohlenhydrate genommen.")
            }
            Reason::Stuck { minutes } => {
                format!("Der Wert hat sich seit {} gar nicht verändert.", span_dative(minutes))
            }
            Reason::Ended { minutes_ago } => {
                format!("Der Sensor ist {} als beendet eingetragen.", self.ago(minutes_ago))
            }
            Reason::RolledOff { minutes_ago } => {
                format!("Du hast dich {} vom Sensor weggerollt.", self.ago(minutes_ago))
            }
            Reason::Unsettled { chance } => {
                format!(
                    "Wahrscheinlichkeit, dass der Sensor unruhig ist (Sprünge, Aussetzer): {}.",
                    self.chance(chance)
                )
            }
            Reason::FirstDay { hours } => {
                format!("Der Sensor wurde {} gesetzt; am ersten Tag ist er unzuverlässig.", self.ago(hours * 60.0))
            }
            Reason::Stale { age_minutes } => format!("Der neueste Wert ist {} alt.", span(age_minutes)),
            Reason::SuddenDrop { from_mg_dl, to_mg_dl, minutes } => format!(
                "Nach gleichbleibenden Werten ging es von {} auf {} in {}; das ist ungeprüft schwer zu glauben.",
                n.bare(from_mg_dl),
                n.amount(to_mg_dl),
                span_dative(minutes)
            ),
            Reason::Rescue { grams, minutes_ago } => {
                format!("Du hast {} {} g schnelle Kohlenhydrate genommen.", self.ago(minutes_ago), n.tenths(grams))
            }
            Reason::InsulinOnBoard { units, minutes_ago } => format!(
                "Noch wirkendes Insulin: etwa {} schnelles Insulin, die jüngste Gabe {}.",
                of_insulin(n, units),
                self.ago(minutes_ago)
            ),
            Reason::CarbohydrateArriving { grams } => {
                format!("Etwa {} g Kohlenhydrate kommen noch an.", n.tenths(grams.round()))
            }
            Reason::Alcohol { drinks, minutes_ago } => format!(
                "Alkohol: {}, zuletzt {}; er kann die Glukose bis zum nächsten Mittag senken.",
                of_drinks(n, drinks),
                self.ago(minutes_ago)
            ),
            Reason::Moved { minutes_ago } if minutes_ago < 0.5 => {
                "Du bist in Bewegung, das senkt die Glukose.".to_owned()
            }
            Reason::Moved { minutes_ago } => {
                format!("Deine Bewegung endete {}; danach kann die Glukose weiter fallen.", self.ago(minutes_ago))
            }
        }
    }

    fn caution(&self, caution: Caution) -> &'static str {
        match caution {
            Caution::SensorLags => {
                "Der Sensor hinkt dem Blut um Minuten hinterher; beim Fallen ist das Blut schon tiefer."
            }
            Caution::MeterDecides => "Zeigen Sensor und Messgerät Verschiedenes, gilt das Messgerät.",
            Caution::InDoubtTreat => "Im Zweifel und ohne Messgerät: behandeln.",
            Caution::RecheckIn15 => "Bist du nach 15 Minuten noch zu tief, nimm denselben Schritt noch einmal.",
            Caution::RiseTakesTime => {
                "Nach 15 Minuten zeigt der Sensor vielleicht noch keinen Anstieg; eine Blutmessung zeigt ihn früher."
            }
            Caution::DoNotStack => "Insulin auf noch wirkendes Insulin kann später zu tief führen.",
            Caution::NoDose => {
                "Hier wird keine Dosis genannt: Die kommt aus deinem Plan und von deinem Behandlungsteam."
            }
            Caution::KetonesWhenHigh => {
                "Seit Stunden hoch oder krank: Ketone messen und nach den Regeln deines Behandlungsteams für Krankheitstage handeln."
            }
            Caution::FirstDayUnreliable => "Am ersten Tag eines Sensors glaub eher dem Messgerät als dem Sensor.",
            Caution::NothingByMouth => {
                "Gib niemandem etwas in den Mund, der nicht schlucken kann oder nicht reagiert. \
                 Gib Notfall-Glukagon, wenn es da ist und man es dir gezeigt hat."
            }
            Caution::CallSomebody => "Sag jemandem Bescheid und bleib nicht allein. Wird es schlimmer, ruf den Notruf.",
            Caution::AlcoholLowersLater => {
                "Nach Alkohol kommt eine Unterzuckerung oft spät und fühlt sich an wie Trunkenheit: Iss vor dem Schlafen und \
                 sag jemandem Bescheid."
            }
            Caution::InsulinRightOrWrong => {
                "Stimmt der Eintrag nicht, berichtige ihn oder nimm ihn zurück. Stimmt er, ruf jetzt dein Behandlungsteam \
                 oder den Notruf an und miss weiter am Finger."
            }
            Caution::FeelingsCount => "Spürst du eine Unterzuckerung, zählt das mehr als die Zahl.",
        }
    }

    fn change(&self, n: Numbers, change: Change) -> String {
        match change {
            Change::ReadingBelow { mg_dl } => format!("ein Wert unter {}", n.amount(mg_dl)),
            Change::ReadingAbove { mg_dl } => format!("ein Wert über {}", n.amount(mg_dl)),
            Change::FallingFasterThan { mg_dl_min } => format!("ein Abfall schneller als {}", n.rate_size(mg_dl_min)),
            Change::MeterBelow { mg_dl } => format!("eine Blutmessung unter {}", n.amount(mg_dl)),
            Change::MeterAbove { mg_dl } => format!("eine Blutmessung von {} oder mehr", n.amount(mg_dl)),
            Change::FeelingLow => "Zeichen einer Unterzuckerung".to_owned(),
            Change::ReadingsComeBack => {
                "Werte, die binnen Minuten zurückkommen, wenn du dich vom Sensor wegrollst".to_owned()
            }
            Change::NewReadings => "neue Werte".to_owned(),
        }
    }

    fn pace(&self, pace: Pace) -> &'static str {
        match pace {
            Pace::Level => "kaum",
            Pace::Slow => "langsam",
            Pace::Moderate => "",
            Pace::Fast => "schnell",
            Pace::VeryFast => "sehr schnell",
        }
    }

    fn movement(&self, n: Numbers, mg_dl_min: f64) -> String {
        let pace = self.pace(crate::units::Rate::from_mg_dl_min(mg_dl_min).pace());
        if mg_dl_min.abs() < NO_MOVEMENT_MG_DL_MIN {
            return "bleibt gleich".to_owned();
        }
        let direction = if mg_dl_min < 0.0 { "fällt" } else { "steigt" };
        with_pace(format!("{direction} {}", n.rate_size(mg_dl_min)), pace)
    }

    fn chance(&self, chance: f64) -> String {
        match chance * 100.0 {
            p if p.is_nan() => UNKNOWN.to_owned(),
            p if p < 1.0 => "unter 1 %".to_owned(),
            p if p > 99.0 => "über 99 %".to_owned(),
            p => format!("{p:.0} %"),
        }
    }

    fn expected(&self, n: Numbers, mg_dl: f64, sd_mg_dl: f64) -> String {
        let (low, high) = n.nine_in_ten(mg_dl, sd_mg_dl);
        format!("etwa {} ({low} bis {high})", n.amount(mg_dl))
    }

    fn ago(&self, minutes: f64) -> String {
        match Length::of(minutes) {
            Length::Moment => "gerade eben".to_owned(),
            _ => format!("vor {}", span_dative(minutes)),
        }
    }

    fn beyond(&self, n: Numbers, beyond: Beyond, mg_dl: f64) -> String {
        match beyond {
            Beyond::Below => format!("zu tief zum Messen (unter {})", n.amount(mg_dl)),
            Beyond::Above => format!("zu hoch zum Messen (über {})", n.amount(mg_dl)),
        }
    }

    fn what(&self, n: Numbers, what: &What) -> String {
        match what {
            What::SensorReading { mg_dl } => format!("Sensorwert {}", n.amount(mg_dl.mg_dl())),
            What::SensorBeyond { beyond, mg_dl } => format!("Sensorwert {}", self.beyond(n, *beyond, mg_dl.mg_dl())),
            What::MeterCheck { mg_dl } => format!("Blutmessung {}", n.amount(mg_dl.mg_dl())),
            What::MeterBeyond { beyond, mg_dl } => format!("Blutmessung {}", self.beyond(n, *beyond, mg_dl.mg_dl())),
            What::Insulin { insulin, units } => format!("{} {}", self.insulin(*insulin), of_insulin(n, *units)),
            What::Carbohydrate { grams, purpose } => {
                format!("Kohlenhydrate {} g, {}", n.tenths(*grams), self.purpose(*purpose))
            }
            What::Alcohol { drinks } => format!("Alkohol {}", of_drinks(n, *drinks)),
            What::Activity { activity, minutes, effort } => {
                format!("Bewegung: {}, {} Minuten, {}", activity.as_str(), n.tenths(*minutes), self.effort(*effort))
            }
            What::Sleep { until } => format!("Schlaf bis {}", until.clock()),
            What::Sensor(SensorEvent::Inserted { site, lot, rated_days }) => {
                let mut text = "Sensor gesetzt".to_owned();
                if let Some(site) = site {
                    text += &format!(": {}", site.as_str());
                }
                if let Some(lot) = lot {
                    text += &format!(", Charge {}", lot.as_str());
                }
                if let Some(days) = rated_days {
                    text += &format!(", vorgesehen für {days} {}", if *days == 1 { "Tag" } else { "Tage" });
                }
                text
            }
            What::Sensor(SensorEvent::WarmUpOver) => "Aufwärmzeit des Sensors vorbei".to_owned(),
            What::Sensor(SensorEvent::RolledOff) => "vom Sensor weggerollt".to_owned(),
            What::Sensor(SensorEvent::Ended) => "Sensor beendet".to_owned(),
            What::Sensor(SensorEvent::Fault { seen }) => format!("Sensorfehler: {}", seen.as_str()),
            What::Sensor(SensorEvent::DeviceFault { code }) => format!("Sensorfehler: {}", self.device_fault(*code)),
            What::Symptom { felt } => self.symptom(*felt).to_owned(),
            What::Note { text } => format!("Notiz: {}", text.as_str()),
            What::PressedSpell { until } => format!("Sensor gedrückt bis {}", until.clock()),
            What::Supply(supply) => {
                let mut text = format!(
                    "{}: {} {}",
                    self.item(supply.item),
                    self.stocked(supply.stocked),
                    self.stock(n, supply.item, supply.amount)
                );
                if let Some(lot) = &supply.lot {
                    text += &format!(", Charge {}", lot.as_str());
                }
                if let Some(day) = supply.expires {
                    text += &format!(", haltbar bis {day}");
                }
                if let Some(price) = supply.price {
                    text += &format!(", {} {}", n.localised(format!("{:.2}", price.amount)), price.currency);
                }
                if let Some(from) = &supply.from {
                    text += &format!(", von {}", from.as_str());
                }
                text
            }
            What::Prompted(told) => {
                let mut text = format!("gesagt: {}", self.verdict(told.verdict));
                if let Some(chance) = told.chance_low {
                    text += &format!(", Wahrscheinlichkeit für Unterzucker binnen 30 Minuten {}", self.chance(chance));
                }
                text
            }
            What::Import { name } => format!("eingelesen: {}", name.as_str()),
            What::Retraction => "ein zurückgenommener Eintrag".to_owned(),
        }
    }

    fn item(&self, item: Item) -> &'static str {
        match item {
            Item::Sensor => "Sensoren",
            Item::Transmitter => "Sender",
            Item::Battery => "Batterien",
            Item::TestStrip => "Teststreifen",
            Item::RapidInsulin => "schnelles Insulin",
            Item::LongActingInsulin => "langes Insulin",
            Item::RescueCarbohydrate => "schnelle Kohlenhydrate",
        }
    }

    fn counted(&self, what: Counted) -> (&'static str, &'static str) {
        match what {
            Counted::Readings => ("Wert", "Werte"),
            Counted::SensorReadings => ("Sensorwert", "Sensorwerte"),
            Counted::NewReadings => ("neuer Wert", "neue Werte"),
            Counted::Entries => ("Eintrag", "Einträge"),
            Counted::OtherEntries => ("anderer Eintrag", "andere Einträge"),
            Counted::NewEntries => ("neuer Eintrag", "neue Einträge"),
            Counted::Imports => ("Import", "Importe"),
            Counted::Figures => ("Zahl des Rückblicks", "Zahlen des Rückblicks"),
            Counted::Rows => ("Zeile", "Zeilen"),
            Counted::Resources => ("Ressource", "Ressourcen"),
            Counted::Sources => ("Quelle", "Quellen"),
        }
    }

    fn stocked(&self, stocked: Stocked) -> &'static str {
        match stocked {
            Stocked::Counted => "gezählt",
            Stocked::Received => "erhalten",
            Stocked::Used => "verbraucht",
            Stocked::ThrownAway => "weggeworfen",
            Stocked::Quoted => "angeboten",
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
            InsulinKind::Rapid => "schnelles Insulin",
            InsulinKind::LongActing => "langes Insulin",
        }
    }

    fn purpose(&self, purpose: Purpose) -> &'static str {
        match purpose {
            Purpose::Meal => "Mahlzeit",
            Purpose::Rescue => "gegen zu tief",
        }
    }

    fn effort(&self, effort: Effort) -> &'static str {
        match effort {
            Effort::Light => "leicht",
            Effort::Moderate => "mittel",
            Effort::Hard => "anstrengend",
        }
    }

    fn symptom(&self, symptom: Symptom) -> &'static str {
        match symptom {
            Symptom::FeelsLow => "spürt Unterzuckerung",
            Symptom::FeelsHigh => "spürt hohen Zucker",
            Symptom::None => "spürt weder tief noch hoch",
            Symptom::Severe => "schwere Zeichen",
        }
    }

    fn picture(&self, n: Numbers, seen: Option<Seen>, ahead: &[Spoken]) -> String {
        let mut text = match seen {
            None => "Keine Werte zu zeigen.".to_owned(),
            Some(seen) => format!(
                "In den letzten {}: von {} auf {}, der neueste um {}; am tiefsten {} um {}, am höchsten {} um {}.",
                span_dative(seen.minutes),
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
                .map(|one| format!("in {} Minuten {}", one.minutes, self.expected(n, one.mg_dl, one.sd_mg_dl)))
                .collect();
            text.push_str(&format!(" Erwarteter Wert: {}; neunmal von zehn liegt er in Klammern.", each.join(", ")));
        }
        text
    }

    fn lesson(&self, n: Numbers, point: Point) -> String {
        match point {
            Point::TooLittle { have_days, need_days } => format!(
                "Zu wenig, um deine eigenen Größen zu lernen: {} Tage mit Werten sind da, {} sind nötig. Bis dahin gelten \
                 die Größen, die zu den meisten passen.",
                n.tenths(have_days),
                n.tenths(need_days)
            ),
            Point::RestsOn { days, readings, meter_checks } => format!(
                "Das stützt sich auf {} Tage mit {} Werten und {}.",
                n.tenths(days),
                n.count(readings as u64),
                checks(meter_checks)
            ),
            Point::OwnUsed { score_population, score_own } => format!(
                "Ab jetzt gelten deine eigenen Größen: Mit ihnen gaben Vorhersagen für eine halbe Stunde dem, was kam, {} % \
                 mehr Chance als mit denen für alle (Güte {}, vorher {}).",
                n.tenths(more_chance(score_population, score_own)),
                n.score(score_own),
                n.score(score_population)
            ),
            Point::OwnNotUsed { score_population, score_own } => format!(
                "Deine eigenen Größen wurden versucht und sagten nicht besser vorher; es bleiben die für alle \
                 (Güte {}, für alle {}).",
                n.score(score_own),
                n.score(score_population)
            ),
            Point::Moves { times } => {
                format!("Dein Zucker bewegt sich {}-mal so stark wie bei den meisten.", n.times(times))
            }
            Point::MovesAtNight { times } => {
                format!("In deiner Nacht bewegt er sich {}-mal so stark wie an deinem Tag.", n.times(times))
            }
            Point::MovesWhenHigh { times } => format!(
                "Um {} bewegt er sich {}-mal so stark wie um {}.",
                n.amount(250.0),
                n.times(times),
                n.amount(80.0)
            ),
            Point::Scatter { sd_mg_dl } => {
                format!("Einzelne Werte streuen um etwa {} um ihren Verlauf.", n.fine_amount(sd_mg_dl))
            }
            Point::Lag { minutes } => {
                format!("Dein Sensor läuft dem Blut um etwa {} Minuten nach.", n.tenths(minutes))
            }
            Point::LagNeedsChecks { have, need } => format!(
                "Wie weit dein Sensor dem Blut nachläuft, lässt sich noch nicht sagen: {} aus diesen \
                 Tagen, {need} sind nötig.",
                checks(have)
            ),
            Point::Forecasts { count } => {
                format!("Vorhersagen wurden daran verbessert, wie {} von ihnen ausgingen.", n.count(count))
            }
        }
    }

    fn standing(&self, n: Numbers, standing: Standing) -> String {
        let figures = |Figures { told, mean_chance, came, off }: Figures| {
            format!(
                "{} Chancen wurden genannt, im Mittel {} %; in {} % kam es so. Im Mittel lag eine um {} Punkte daneben.",
                n.count(told),
                n.points(mean_chance),
                n.points(came),
                n.points(off)
            )
        };
        match standing {
            Standing::TooFew { have, need } => format!(
                "Noch lässt sich nichts sagen: {have:.0} halbe Stunden mit fallenden Werten wurden verfolgt, {need:.0} sind nötig."
            ),
            Standing::KeepsItsWord(told) => {
                format!("Die Chancen halten ihr Wort, soweit sich das sagen lässt. {}", figures(told))
            }
            Standing::SaysTooMuch(told) => format!("Es wird seltener zu tief als gesagt. {}", figures(told)),
            Standing::SaysTooLittle(told) => format!("Es wird öfter zu tief als gesagt. {}", figures(told)),
        }
    }

    fn spell(&self, spell: PressedSpell) -> String {
        format!("{}, {} bis {}", spell.from.local().format("%d.%m.%Y"), spell.from.clock(), spell.until.clock())
    }

    fn finding(&self, n: Numbers, finding: &Finding) -> String {
        let column = finding.column.map_or_else(String::new, |column| format!(", Spalte {column}"));
        let given = if finding.given.is_empty() { String::new() } else { format!(" ({:?})", finding.given) };
        let told = match finding.code {
            FindingCode::NoTime => "hier fehlt die Zeit; ausgelassen".to_owned(),
            FindingCode::TimeUnreadable => "die Zeit ist anders geschrieben als die übrigen; ausgelassen".to_owned(),
            FindingCode::TimeOutsideYears => "das Jahr liegt nicht zwischen 2000 und 2199; ausgelassen".to_owned(),
            FindingCode::InFuture => {
                "die Zeit liegt vor der Uhr dieses Geräts in der Zukunft; ausgelassen. Prüf beide Uhren".to_owned()
            }
            FindingCode::NotANumber => "das ist keine Zahl; ausgelassen".to_owned(),
            FindingCode::SaysLow => "für den Sensor zu tief zum Messen; als solcher Wert übernommen".to_owned(),
            FindingCode::SaysHigh => "für den Sensor zu hoch zum Messen; als solcher Wert übernommen".to_owned(),
            FindingCode::OutOfRange => format!("nicht zwischen {}; ausgelassen", n.range("und")),
            FindingCode::OtherUnit => {
                "in der Einheit dieser Datei unmöglich, in der anderen möglich; ausgelassen".to_owned()
            }
            FindingCode::TooFewCells => "die Zeile endet vor dem Wert; ausgelassen".to_owned(),
            FindingCode::TooManyCells => {
                "mehr Zellen als benannte Spalten; ausgelassen. Ein Dezimalkomma braucht Anführungszeichen oder ein anderes Trennzeichen"
                    .to_owned()
            }
            FindingCode::Contradicts => {
                "ein anderer Wert zur selben Zeit; beide übernommen, der tiefere gilt".to_owned()
            }
            FindingCode::ClockWentBack => {
                "die Zeiten springen hier zurück: verstanden als Nacht, in der die Uhr zurückgestellt wurde".to_owned()
            }
            FindingCode::HourThatNeverWas => {
                "diese Zeit übersprang die Uhr beim Vorstellen; übernommen, als wäre nicht vorgestellt worden".to_owned()
            }
        };
        format!("Zeile {}{column}{given}: {told}", finding.line)
    }

    fn device_fault(&self, code: DeviceFault) -> &'static str {
        match code {
            DeviceFault::SensorType => "das Gerät nimmt diesen Sensor nicht",
            DeviceFault::SensorMalfunction => "der Sensor meldet eine Störung",
            DeviceFault::General => "der Sensor meldet einen allgemeinen Fehler",
        }
    }

    fn fault(&self, fault: &Fault) -> String {
        let list = |seen: &[String]| if seen.is_empty() { "nichts".to_owned() } else { seen.join(", ") };
        match fault {
            Fault::Empty => "die Datei ist leer; nichts wurde übernommen".to_owned(),
            Fault::NoRows => "es gibt Spaltennamen und darunter keine Werte; nichts wurde übernommen".to_owned(),
            Fault::NotText => {
                "das ist keine Texttabelle, oder sie ist in UTF-16; speichere sie als CSV in UTF-8".to_owned()
            }
            Fault::NoTimeColumn { seen } => {
                format!("keine Spalte heißt wie eine Zeit (gefunden: {}); sag, welche sie enthält", list(seen))
            }
            Fault::NoGlucoseColumn { seen } => {
                format!("keine Spalte heißt wie Glukosewerte (gefunden: {}); sag, welche sie enthält", list(seen))
            }
            Fault::SeveralGlucoseColumns { seen } => {
                format!("mehrere Spalten könnten die Sensorwerte enthalten ({}); sag, welche", list(seen))
            }
            Fault::NoSuchColumn { asked, seen } => format!("es gibt keine Spalte {asked:?} (gefunden: {})", list(seen)),
            Fault::TimesUnknown { given } => {
                format!("die Zeit {given:?} ist in keiner bekannten Weise geschrieben; sag, wie, etwa %d.%m.%Y %H:%M")
            }
            Fault::DayOrMonth { given } => format!(
                "in {given:?} könnten beide Zahlen der Tag sein; sag, welche: %d/%m/%Y %H:%M oder %m/%d/%Y %H:%M"
            ),
            Fault::BadTimeFormat { given } => {
                format!("{given:?} beschreibt keine Zeit; nimm Zeichen wie %Y-%m-%d %H:%M:%S")
            }
            Fault::UnitUnknown { given } => {
                format!("Werte wie {given} passen zu mg/dL wie zu mmol/L; sag, in welcher Einheit die Datei ist")
            }
            Fault::OtherUnit { said, fits, given } => format!(
                "die Datei soll in {said} sein, Werte wie {given} sehen aber nach {fits} aus; \
                 sag, dass die Datei in {fits} ist. Nichts wurde übernommen"
            ),
            Fault::SeveralKinds { column, seen } => format!(
                "ihre Zeilen sind von mehreren Arten ({column:?} nennt: {}), und welche davon Glukose ist, zeigt sich nicht; \
                 behalt nur diese Zeilen",
                list(seen)
            ),
            Fault::RowTooLong => {
                "diese Zeile endet nicht binnen 1 MB; such ein Anführungszeichen, das nie geschlossen wird".to_owned()
            }
        }
    }

    fn refused(&self, file: &str, line: u64, column: Option<usize>, why: &str) -> String {
        let column = column.map_or(String::new(), |column| format!(", Spalte {column}"));
        format!("{file}, Zeile {line}{column}: {why}")
    }

    fn error(&self, n: Numbers, error: &Error) -> String {
        match error {
            Error::OutOfRange { what, given, low, high, unit } => format!(
                "{} muss zwischen {} und {} {} liegen, nicht {}",
                quantity(what),
                n.localised(format!("{low:.1}")),
                n.localised(format!("{high:.1}")),
                unit_name(unit),
                n.localised(given.to_string())
            ),
            Error::Invalid { what, why } => format!("{} kann so nicht angenommen werden ({why})", quantity(what)),
            Error::NoSuchEntry { id } => format!("in diesem Protokoll gibt es keinen Eintrag {id}"),
            // Said by [`Catalogue::refused`], since what is wrong with a file has its own words.
            Error::Import { file, line, column, .. } => self.refused(&file.display().to_string(), *line, *column, ""),
            Error::File { path, source } => format!("{}: {source}", path.display()),
            Error::NotALog { path } => format!(
                "{}: kein Protokoll von Ebbstead; die Datei blieb, wie sie war. Gib einen anderen Pfad an",
                path.display()
            ),
            Error::NewerLog { path, found, known } => format!(
                "{}: von einem neueren Ebbstead geschrieben (Aufbau {found}, dieses liest bis {known}); \
                 die Datei blieb, wie sie war. Bring Ebbstead auf den neuen Stand",
                path.display()
            ),
            Error::DamagedLog { path, what } => format!(
                "{}: das Protokoll ist beschädigt ({}); die Datei blieb, wie sie war. Mach zuerst eine Kopie",
                path.display(),
                damage(what)
            ),
            Error::DiskFull { path } => format!(
                "{}: kein Platz mehr auf dem Datenträger; nichts davon wurde geschrieben. Schaff Platz und versuch es noch einmal",
                path.display()
            ),
            Error::ReadOnly { path } => {
                format!("{}: das Protokoll lässt sich nicht beschreiben (Datei oder Ordner nur lesbar)", path.display())
            }
            Error::Gone { path } => {
                format!(
                    "{}: das Protokoll wurde gelöscht, verschoben oder ersetzt, während es offen war; nichts davon wurde \
                     geschrieben. Öffne es noch einmal",
                    path.display()
                )
            }
            Error::Busy { path } => {
                format!(
                    "{}: ein anderes Programm schreibt gerade in das Protokoll; versuch es noch einmal",
                    path.display()
                )
            }
            Error::NotASealedLog { path } => format!(
                "{}: kein versiegeltes Protokoll, oder eines, das ein neueres Ebbstead versiegelt hat",
                path.display()
            ),
            Error::WrongPassphrase { path } => format!(
                "{}: die Passphrase öffnet es nicht; nichts wurde geändert. Bist du dir sicher, können die ersten Zeilen \
                 der Datei beschädigt sein",
                path.display()
            ),
            Error::DamagedSealedLog { path, what } => format!(
                "{}: das versiegelte Protokoll ist beschädigt ({}); nichts wurde daraus übernommen. Nimm eine andere Kopie",
                path.display(),
                damage(what)
            ),
            Error::Database { path, source } => {
                format!("{}: das Protokoll war nicht zu benutzen ({source})", path.display())
            }
        }
    }
}

/// The core's names of quantities; one without a translation stays as it is.
fn quantity(what: &str) -> &str {
    match what {
        "glucose" => "Glukose",
        "limit of too low to measure" => "Grenze für zu tief zum Messen",
        "limit of too high to measure" => "Grenze für zu hoch zum Messen",
        "insulin" => "Insulin",
        "carbohydrate" => "Kohlenhydrate",
        "alcohol" => "Alkohol",
        "activity" => "Bewegung",
        "sleep" => "Schlaf",
        "pressed spell" => "Zeit mit gedrücktem Sensor",
        "low line" => "untere Grenze",
        "high line" => "obere Grenze",
        "insulin factor" => "Insulinfaktor",
        "carbohydrate factor" => "Kohlenhydratfaktor",
        "rated length" => "vorgesehene Tragedauer",
        "lead time" => "Lieferzeit",
        "amount of a supply" => "Menge eines Vorrats",
        "price" => "Preis",
        "quote" => "Angebot",
        "currency" => "Währung",
        "chance" => "Wahrscheinlichkeit",
        "time" => "Zeit",
        "hours" => "Stunden",
        "text" => "Text",
        "source" => "Quelle",
        "passphrase" => "Passphrase",
        "retraction" => "Rücknahme",
        other => other,
    }
}

/// What a damaged file shows; the English of it comes with the error.
fn damage(what: &str) -> &str {
    match what {
        "the file is missing or empty, but the one beside it with -wal in its name holds entries" => {
            "die Datei fehlt oder ist leer, aber die daneben mit -wal im Namen enthält Einträge"
        }
        "its first page is not readable" => "die erste Seite ist nicht lesbar",
        "its pages contradict each other" => "die Seiten widersprechen einander",
        "it ends early" => "die Datei endet zu früh",
        "a table is not as it was made" => "eine Tabelle ist nicht, wie sie angelegt wurde",
        "a value is of the wrong kind" => "ein Wert ist von falscher Art",
        "a row is larger than any that is written" => "eine Zeile ist größer als jede, die geschrieben wird",
        "a reading is not as it was written" => "ein Sensorwert ist nicht, wie er geschrieben wurde",
        "an entry is not as it was written" => "ein Eintrag ist nicht, wie er geschrieben wurde",
        "a setting is not as it was written" => "eine Einstellung ist nicht, wie sie geschrieben wurde",
        "a source has no name" => "eine Quelle hat keinen Namen",
        "an import has no identity" => "ein Import hat keine Kennung",
        "an entry names a source or import that is not there" => {
            "ein Eintrag nennt eine Quelle oder einen Import, den es nicht gibt"
        }
        "its own identity is not as it was written" => "die eigene Kennung ist nicht, wie sie geschrieben wurde",
        "its head was changed" => "der Kopf wurde verändert",
        "opening it would take more memory than is given to any sealed log" => {
            "es zu öffnen bräuchte mehr Speicher, als ein versiegeltes Protokoll bekommt"
        }
        "a piece of it was changed" => "ein Stück davon wurde verändert",
        "it is empty" => "es ist leer",
        "a line in it cannot be read" => "eine Zeile darin ist nicht lesbar",
        "a reading has no source" => "ein Sensorwert hat keine Quelle",
        "a reading cannot be" => "einen Sensorwert kann es so nicht geben",
        "an entry cannot be" => "einen Eintrag kann es so nicht geben",
        "its readings are out of order" => "die Sensorwerte sind nicht in ihrer Reihenfolge",
        "its lines are out of order" => "die Zeilen sind nicht in ihrer Reihenfolge",
        "it counts other than it holds" => "es zählt anders, als es enthält",
        "something comes after its end" => "nach dem Ende kommt noch etwas",
        "what was read back is not what was written" => "was zurückgelesen wurde, ist nicht, was geschrieben wurde",
        other => other,
    }
}

pub(super) fn unit_name(unit: &str) -> &str {
    match unit {
        "units" => "Einheiten",
        "drinks" => "Gläsern",
        "minutes" => "Minuten",
        "days" => "Tagen",
        "pieces" => "Stück",
        "of the currency" => "in der Währung",
        "as a share" => "als Anteil",
        "mg/dL a unit" => "mg/dL je Einheit",
        "mg/dL a gram" => "mg/dL je Gramm",
        other => other,
    }
}

/// `1 Blutmessung`, `4 Blutmessungen`.
fn checks(count: usize) -> String {
    let name = if count == 1 { "Blutmessung" } else { "Blutmessungen" };
    format!("{count} {name}")
}

/// `1 Einheit`, `4,5 Einheiten`.
fn of_insulin(n: Numbers, units: f64) -> String {
    let number = n.tenths(units);
    let unit = if number == "1" { "Einheit" } else { "Einheiten" };
    format!("{number} {unit}")
}

/// The word an instrument shows in place of an amount, and what it means.
const fn beyond_words(beyond: Beyond) -> (&'static str, &'static str) {
    match beyond {
        Beyond::Below => ("LOW", "unter"),
        Beyond::Above => ("HIGH", "über"),
    }
}

/// `1 Glas`, `2,5 Gläser`.
fn of_drinks(n: Numbers, drinks: f64) -> String {
    let number = n.tenths(drinks);
    let name = if number == "1" { "Glas" } else { "Gläser" };
    format!("{number} {name}")
}

/// A length of time: `8 Minuten`, `3 Stunden`, `2 Tage`.
fn span(minutes: f64) -> String {
    match Length::of(minutes) {
        Length::Days(days) => format!("{days} Tage"),
        _ => span_dative(minutes),
    }
}

/// A length of time after "vor" and "in": `vor 2 Tagen`.
fn span_dative(minutes: f64) -> String {
    match Length::of(minutes) {
        Length::Moment => "unter einer Minute".to_owned(),
        Length::Minutes(1) => "1 Minute".to_owned(),
        Length::Minutes(minutes) => format!("{minutes} Minuten"),
        Length::Hours(hours) => format!("{hours} Stunden"),
        Length::Days(days) => format!("{days} Tagen"),
    }
}
