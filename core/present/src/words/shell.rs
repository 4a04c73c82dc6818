//! What a shell writes on its screens besides a prompt: names of screens, buttons and fields; and reading what is typed.

use super::{Words, german};
use crate::error::{Error, Result};
use crate::log::{Beyond, Instrument, Shown, typed_beyond};
use crate::units::{Glucose, GlucoseUnit, MG_DL_PER_MMOL_L};
use crate::wearer::Language;

/// A short text on a shell's screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ShellLabel {
    /// The screen with the prompt.
    ScreenNow,
    /// The screen for the night.
    ScreenNight,
    /// The screen with the log.
    ScreenLog,
    /// The screen with the settings.
    ScreenSettings,
    /// Asks again.
    LookNow,
    /// Asks the night's question.
    WokenUp,
    /// The wearer feels low.
    FeelLow,
    /// The wearer feels high.
    FeelHigh,
    /// The wearer feels neither.
    FeelNeither,
    /// Somebody is confused, cannot swallow or does not respond.
    SevereSigns,
    /// Night: a meter was used.
    IChecked,
    /// Night: rescue carbohydrate was taken.
    ITreated,
    /// Night: the wearer no longer lies on the sensor.
    IRolledOver,
    /// Asks for what the meter shows.
    MeterShows,
    /// Asks for grams of rescue carbohydrate.
    RescueGrams,
    /// Asks for grams of carbohydrate.
    MealGrams,
    /// Asks for units of rapid insulin taken.
    RapidUnits,
    /// Asks for units of long-acting insulin taken.
    LongActingUnits,
    /// Asks for a note.
    NoteText,
    /// A sensor was put in.
    SensorInserted,
    /// Asks where on the body a sensor was put in.
    SensorSite,
    /// Asks what was wrong with the sensor.
    SensorFault,
    /// A sensor was taken off.
    SensorEnded,
    /// Asks for the lot on a sensor's package.
    Lot,
    /// Asks for the time of day of an entry.
    Happened,
    /// Over the lines outside the night.
    ByDay,
    /// Over the lines of the night.
    ByNight,
    /// Adds to the log.
    Add,
    /// Takes back what was said last.
    UndoLast,
    /// Puts an entry right.
    PutRight,
    /// Takes an entry back.
    TakeBack,
    /// Nothing is in the log for the time shown.
    LogEmpty,
    /// Nothing is left to undo.
    NothingToUndo,
    /// Beside what was taken back.
    TakenBack,
    /// Beside what was kept.
    Kept,
    /// The unit to show.
    Unit,
    /// The language.
    Language,
    /// The name of the language.
    EnglishName,
    /// The name of the language.
    GermanName,
    /// The night's first minute.
    NightFrom,
    /// The night's last minute.
    NightUntil,
    /// How a needless treat weighs against a missed low.
    Weighing,
    /// A needless treat weighs more.
    WeighingSparing,
    /// The usual.
    WeighingBalanced,
    /// A missed low weighs more.
    WeighingEarly,
    /// How much a unit of insulin lowers glucose.
    InsulinFactor,
    /// How much a gram of carbohydrate raises glucose.
    CarbohydrateFactor,
    /// Beside the factors: where they come from.
    FactorsFromCareTeam,
    /// The wearer's own low line.
    LowLine,
    /// The wearer's own high line.
    HighLine,
    /// Beside the low line: what cannot be moved; its amount follows.
    FloorStays,
    /// Keeps what was changed.
    Save,
    /// Leaves without a change.
    Cancel,
    /// The screen that leads to the record's pages.
    ScreenRecord,
    /// The page with the review.
    ScreenReview,
    /// The page with the sensors' record.
    ScreenSensors,
    /// The page with the alerts, replayed.
    ScreenAlerts,
    /// The page with what was learnt.
    ScreenLearnt,
    /// Asks how many days to look back on.
    DaysBack,
    /// Asks how long sensors are rated for.
    RatedDays,
    /// Shows a page for what was chosen.
    ShowThese,
    /// Writes the sheet about the newest sensor.
    SensorSheet,
    /// Writes the review as a file to print.
    PrintReview,
    /// Asks for a high line to try in the replay.
    TryHighLine,
    /// Asks how long a high must last in the replay.
    TryDelay,
    /// Asks when to be told again in the replay.
    TryRepeat,
    /// Replays alerts.
    Replay,
    /// Learns from the log.
    LearnNow,
    /// Beside learning: nothing was learnt.
    NothingLearnt,
    /// Asks whose published aims.
    AimsName,
    /// The aims for adults.
    AimsAdult,
    /// The aims for older people and those at high risk.
    AimsOlder,
    /// The aims in pregnancy.
    AimsPregnancy,
    /// Asks whether readings of a pressed sensor count.
    PressedCount,
    /// They count.
    PressedIn,
    /// They do not.
    PressedOut,
    /// Takes readings from a file.
    ReadFile,
    /// Takes readings from a sensor nearby.
    FindSensor,
    /// The page with the supplies.
    ScreenSupplies,
    /// The page with what came of the prompts.
    ScreenAnswers,
    /// The page where the log goes out and another comes in.
    ScreenCopies,
    /// Asks which supply.
    WhichSupply,
    /// Asks what happened to a supply.
    SupplyStocked,
    /// Asks how much of a supply.
    SupplyAmount,
    /// Asks for the last day a supply may be used.
    SupplyExpires,
    /// Asks for the price of the whole amount.
    SupplyPrice,
    /// Asks for the currency of a price.
    SupplyCurrency,
    /// Asks where a supply comes from.
    SupplyFrom,
    /// Asks how long delivery takes.
    LeadDays,
    /// Shows the facts for a statement of need.
    Statement,
    /// Writes what is shown as a text.
    SaveText,
    /// Writes the log as a table.
    WriteTable,
    /// Writes the log for health records.
    WriteBundle,
    /// Writes a sealed copy.
    SealLog,
    /// Asks for a passphrase.
    Passphrase,
    /// Asks for a new passphrase a second time.
    PassphraseAgain,
    /// Beside a passphrase typed twice in two ways.
    PassphrasesDiffer,
    /// Beside a new passphrase.
    PassphraseLost,
    /// Looks into another log, or a sealed copy, before it is taken in.
    LookIntoOther,
    /// Asks for what opens a sealed copy.
    PassphraseOfCopy,
    /// Takes in what was looked into.
    TakeIn,
    /// Takes it in although something speaks against it.
    TakeInEvenSo,
    /// Beside a copy that is to be taken into an empty log.
    CopyRestores,
    /// Beside another log that has nothing this one has not.
    NothingNew,
    /// Leads to whom to call.
    GetHelp,
    /// On the screen that calls: when to.
    HelpNow,
    /// On the screen that calls: what to do meanwhile. First aid's common practice, from memory; glucagon as in the ADA Standards
    /// of Care, glycemic goals and hypoglycemia.
    HelpMeanwhile,
    /// Calls the emergency number, which follows.
    CallEmergency,
    /// Calls the wearer's contact, whose number follows.
    CallContact,
    /// Asks for the emergency number.
    EmergencyNumber,
    /// Asks for a second number.
    ContactNumber,
    /// A meter check, on a button.
    Meter,
    /// The wearer feels low, on a button.
    FeelLowShort,
    /// Unfolds the rest.
    More,
    /// Folds it again.
    Less,
    /// Leaves a screen.
    Back,
    /// Opens the kinds that can be noted.
    AddEntry,
    /// Over the first start.
    FirstTitle,
    /// What this is.
    FirstIs,
    /// Agrees to what this is not.
    Agree,
    /// Goes on.
    Next,
    /// Asks where readings come from.
    WhereFrom,
    /// Beside looking for a sensor: why the phone asks.
    SensorWhy,
    /// Beside a file: what is read.
    FileWhy,
    /// There are no readings.
    NoReadings,
    /// The log can only be read.
    ReadOnlyLog,
    /// Puts an alert off.
    Snooze,
    /// The notification that stays.
    StandingChannel,
    /// Asks to let alerts come.
    WakesAllowed,
    /// Beside that: why the phone asks.
    WakesWhy,
    /// Leaves a step out.
    Skip,
    /// Ends a step.
    Done,
    /// While something takes time.
    HoldingLog,
    /// Keeps an alert plan as the wearer's own.
    KeepPlan,
    /// Asks after how long a lost signal is told.
    LostAfter,
    /// The standing caution.
    NoMedicalDevice,
}

impl ShellLabel {
    /// English, then German.
    const fn texts(self) -> [&'static str; 2] {
        match self {
            Self::ScreenNow => ["Now", "Jetzt"],
            Self::ScreenNight => ["Night", "Nacht"],
            Self::ScreenLog => ["Log", "Protokoll"],
            Self::ScreenSettings => ["Settings", "Einstellungen"],
            Self::LookNow => ["Look now", "Jetzt nachsehen"],
            Self::WokenUp => ["I was woken", "Ich wurde geweckt"],
            Self::FeelLow => ["I feel low", "Ich spüre eine Unterzuckerung"],
            Self::FeelHigh => ["I feel high", "Ich spüre einen hohen Wert"],
            Self::FeelNeither => ["I feel neither", "Ich spüre keins von beiden"],
            Self::SevereSigns => [
                "Somebody is confused, cannot swallow or does not respond",
                "Jemand ist verwirrt, kann nicht schlucken oder reagiert nicht",
            ],
            Self::IChecked => ["I checked with a meter", "Ich habe am Finger gemessen"],
            Self::ITreated => ["I treated", "Ich habe behandelt"],
            Self::IRolledOver => ["I rolled off the sensor", "Ich liege nicht mehr auf dem Sensor"],
            Self::MeterShows => ["The meter shows", "Das Messgerät zeigt"],
            Self::RescueGrams => ["Rescue carbohydrate, g", "Schnelle Kohlenhydrate, g"],
            Self::MealGrams => ["Carbohydrate with a meal, g", "Kohlenhydrate einer Mahlzeit, g"],
            Self::RapidUnits => ["Rapid insulin taken, units", "Genommenes schnelles Insulin, Einheiten"],
            Self::LongActingUnits => ["Long-acting insulin taken, units", "Genommenes Langzeitinsulin, Einheiten"],
            Self::NoteText => ["Note", "Notiz"],
            Self::SensorInserted => ["New sensor put in", "Neuen Sensor gesetzt"],
            Self::SensorSite => ["Where, in your own words", "Wohin, in deinen Worten"],
            Self::SensorFault => ["What was wrong with it", "Was mit ihm nicht stimmte"],
            Self::SensorEnded => ["Sensor taken off", "Sensor entfernt"],
            Self::Lot => ["Lot on the package", "Charge auf der Packung"],
            Self::Happened => ["When it happened", "Wann es war"],
            Self::ByDay => ["By day", "Am Tag"],
            Self::ByNight => ["By night", "In der Nacht"],
            Self::Add => ["Note it", "Eintragen"],
            Self::UndoLast => ["Undo the last", "Letztes rückgängig"],
            Self::PutRight => ["Put right", "Berichtigen"],
            Self::TakeBack => ["Take back", "Zurücknehmen"],
            Self::LogEmpty => ["Nothing noted in this time.", "In dieser Zeit steht nichts im Protokoll."],
            Self::NothingToUndo => ["Nothing is left to undo.", "Es gibt nichts mehr rückgängig zu machen."],
            Self::TakenBack => ["taken back", "zurückgenommen"],
            Self::Kept => ["kept in the log", "ins Protokoll eingetragen"],
            Self::Unit => ["Unit", "Einheit"],
            Self::Language => ["Language", "Sprache"],
            Self::EnglishName => ["English", "English"],
            Self::GermanName => ["Deutsch", "Deutsch"],
            Self::NightFrom => ["Night begins", "Die Nacht beginnt"],
            Self::NightUntil => ["Night ends", "Die Nacht endet"],
            Self::Weighing => [
                "A needless treat against a missed low",
                "Eine unnötige Behandlung gegen eine übersehene Unterzuckerung",
            ],
            Self::WeighingSparing => ["Fewer and later prompts to treat", "Seltener und später zum Behandeln raten"],
            Self::WeighingBalanced => ["The usual", "Wie üblich"],
            Self::WeighingEarly => {
                ["Earlier prompts to treat, more of them needless", "Früher zum Behandeln raten, öfter unnötig"]
            }
            Self::InsulinFactor => ["1 unit of rapid insulin lowers by", "1 Einheit schnelles Insulin senkt um"],
            Self::CarbohydrateFactor => ["1 g of carbohydrate raises by", "1 g Kohlenhydrate hebt um"],
            Self::FactorsFromCareTeam => [
                "Only as set with your care team. Left empty, nothing is assumed.",
                "Nur wie mit deinem Behandlungsteam festgelegt. Leer heißt: Nichts wird angenommen.",
            ],
            Self::LowLine => ["Low line", "Untere Grenze"],
            Self::HighLine => ["High line", "Obere Grenze"],
            Self::FloorStays => {
                ["Very low stays, and cannot be moved:", "Sehr niedrig bleibt und ist nicht verschiebbar:"]
            }
            Self::Save => ["Save", "Sichern"],
            Self::Cancel => ["Leave as it was", "Lassen, wie es war"],
            Self::ScreenRecord => ["Record", "Verlauf"],
            Self::ScreenReview => ["Review", "Rückblick"],
            Self::ScreenSensors => ["Sensors", "Sensoren"],
            Self::ScreenAlerts => ["Alerts", "Alarme"],
            Self::ScreenLearnt => ["What was learnt", "Was gelernt wurde"],
            Self::DaysBack => ["How many days", "Wie viele Tage"],
            Self::RatedDays => ["Days your sensors are rated for", "Tage, für die deine Sensoren zugelassen sind"],
            Self::ShowThese => ["Show", "Anzeigen"],
            Self::SensorSheet => ["Sheet about the newest sensor", "Blatt über den neuesten Sensor"],
            Self::PrintReview => ["Save to print or take along", "Zum Drucken oder Mitnehmen sichern"],
            Self::TryHighLine => ["Try another high line", "Eine andere obere Grenze erproben"],
            Self::TryDelay => [
                "Told only once a high has lasted, minutes",
                "Bescheid erst, wenn ein hoher Wert so lange anhält, Minuten",
            ],
            Self::TryRepeat => ["Told again after, minutes", "Erneut Bescheid nach, Minuten"],
            Self::Replay => ["Replay", "Nachspielen"],
            Self::LearnNow => ["Learn from the log now", "Jetzt aus dem Protokoll lernen"],
            Self::NothingLearnt => [
                "Nothing was learnt yet. It takes some days of readings.",
                "Noch wurde nichts gelernt. Es braucht einige Tage mit Werten.",
            ],
            Self::AimsName => ["Whose published aims", "Wessen veröffentlichte Ziele"],
            Self::AimsAdult => ["Adults with type 1 or type 2", "Erwachsene mit Typ 1 oder Typ 2"],
            Self::AimsOlder => ["Older people, or at high risk", "Ältere Menschen oder hohes Risiko"],
            Self::AimsPregnancy => ["Pregnancy with type 1", "Schwangerschaft mit Typ 1"],
            Self::PressedCount => ["Readings while the sensor was pressed", "Werte, während der Sensor gedrückt war"],
            Self::PressedIn => ["Count them", "Mitzählen"],
            Self::PressedOut => ["Leave them out", "Weglassen"],
            Self::ReadFile => ["Read a file of readings", "Datei mit Werten einlesen"],
            Self::FindSensor => ["Find a sensor nearby", "Sensor in der Nähe suchen"],
            Self::ScreenSupplies => ["Supplies", "Vorräte"],
            Self::ScreenAnswers => ["What came of it", "Was daraus wurde"],
            Self::ScreenCopies => ["Copies", "Kopien"],
            Self::WhichSupply => ["Which supply", "Welcher Vorrat"],
            Self::SupplyStocked => ["What happened", "Was geschah"],
            Self::SupplyAmount => {
                ["How much: pieces, units of insulin or grams", "Wie viel: Stück, Einheiten Insulin oder Gramm"]
            }
            Self::SupplyExpires => [
                "Last day of use, such as 2027-03-01, if you know it",
                "Letzter Tag der Verwendung, etwa 2027-03-01, falls bekannt",
            ],
            Self::SupplyPrice => {
                ["Price of all of it, if you want to note it", "Preis für alles, wenn du ihn eintragen willst"]
            }
            Self::SupplyCurrency => ["Currency, three letters", "Währung, drei Buchstaben"],
            Self::SupplyFrom => ["From whom, if you want to note it", "Von wem, wenn du es eintragen willst"],
            Self::LeadDays => ["Days between ordering and having it", "Tage vom Bestellen bis zum Erhalt"],
            Self::Statement => [
                "Facts for a letter on why you need the sensor",
                "Tatsachen für einen Brief, warum du den Sensor brauchst",
            ],
            Self::SaveText => ["Save as text", "Als Text sichern"],
            Self::WriteTable => {
                ["Write a table for spreadsheets (CSV)", "Tabelle für die Tabellenkalkulation schreiben (CSV)"]
            }
            Self::WriteBundle => {
                ["Write a bundle for health records (HL7 FHIR)", "Bündel für Gesundheitsakten schreiben (HL7 FHIR)"]
            }
            Self::SealLog => ["Write a sealed copy of everything", "Versiegelte Kopie von allem schreiben"],
            Self::Passphrase => ["Passphrase, at least 12 characters", "Passphrase, mindestens 12 Zeichen"],
            Self::PassphraseAgain => ["The same passphrase once more", "Dieselbe Passphrase noch einmal"],
            Self::PassphrasesDiffer => {
                ["The two differ. Type both again.", "Die beiden sind verschieden. Tipp beide noch einmal."]
            }
            Self::PassphraseLost => [
                "Nobody can open the copy without its passphrase. Keep it where you will find it.",
                "Ohne ihre Passphrase öffnet niemand die Kopie. Bewahr sie auf, wo du sie wiederfindest.",
            ],
            Self::LookIntoOther => {
                ["Look into another log or a sealed copy", "In ein anderes Protokoll oder eine versiegelte Kopie sehen"]
            }
            Self::PassphraseOfCopy => ["Its passphrase, if it is sealed", "Ihre Passphrase, wenn sie versiegelt ist"],
            Self::TakeIn => ["Take it in", "Übernehmen"],
            Self::TakeInEvenSo => ["Take it in even so", "Trotzdem übernehmen"],
            Self::CopyRestores => [
                "This log is empty: the copy's settings and what was learnt come with it.",
                "Dieses Protokoll ist leer: Die Einstellungen der Kopie und das Gelernte kommen mit.",
            ],
            Self::NothingNew => {
                ["Everything in it is in this log already.", "Alles darin steht schon in diesem Protokoll."]
            }
            Self::GetHelp => ["Get help", "Hilfe holen"],
            Self::HelpNow => [
                "Call when somebody is confused, cannot swallow or does not respond.",
                "Ruf an, wenn jemand verwirrt ist, nicht schlucken kann oder nicht reagiert.",
            ],
            Self::HelpMeanwhile => [
                "Nothing to eat or drink for somebody who cannot swallow. Lay them on their side and stay. Glucagon, if it is there and you were shown how.",
                "Wer nicht schlucken kann, bekommt nichts zu essen oder zu trinken. Leg die Person auf die Seite und bleib da. Glukagon, wenn es da ist und man es dir gezeigt hat.",
            ],
            Self::CallEmergency => ["Call", "Anrufen:"],
            Self::CallContact => ["Call your contact", "Kontakt anrufen:"],
            Self::EmergencyNumber => ["Emergency number", "Notrufnummer"],
            Self::ContactNumber => ["Your contact's number", "Nummer deines Kontakts"],
            Self::Meter => ["Meter", "Messgerät"],
            Self::FeelLowShort => ["I feel low", "Ich spüre Unterzucker"],
            Self::More => ["Show all", "Alles zeigen"],
            Self::Less => ["Show less", "Weniger zeigen"],
            Self::Back => ["Back", "Zurück"],
            Self::AddEntry => ["Note something", "Etwas eintragen"],
            Self::FirstTitle => ["Before you begin", "Bevor es losgeht"],
            Self::FirstIs => [
                "Woken by an alarm, this helps you decide: treat, check a finger, or hold. It works on this phone alone, without the network.",
                "Wenn dich ein Alarm weckt, hilft dir das bei der Entscheidung: behandeln, am Finger messen oder warten. Es läuft nur auf diesem Gerät, ohne Netz.",
            ],
            Self::Agree => ["I understand", "Verstanden"],
            Self::Next => ["Next", "Weiter"],
            Self::WhereFrom => ["Where readings come from", "Woher die Werte kommen"],
            Self::SensorWhy => [
                "A sensor that speaks Bluetooth's standard glucose services. The phone will ask whether devices nearby may be looked for.",
                "Ein Sensor, der die Glukosedienste des Bluetooth-Standards spricht. Das Gerät fragt, ob nach Geräten in der Nähe gesucht werden darf.",
            ],
            Self::FileWhy => [
                "A table or an HL7 FHIR bundle. The phone will let you choose the file; nothing else is read.",
                "Eine Tabelle oder ein HL7-FHIR-Bündel. Du wählst die Datei selbst; sonst wird nichts gelesen.",
            ],
            Self::NoReadings => ["No readings yet", "Noch keine Werte"],
            Self::ReadOnlyLog => [
                "The log can only be read: nothing is kept. Decide by what it shows, and note on paper.",
                "Das Protokoll lässt sich nur lesen: Nichts wird behalten. Entscheide nach dem, was da steht, und notier auf Papier.",
            ],
            Self::Snooze => ["In 15 minutes", "In 15 Minuten"],
            Self::StandingChannel => ["Newest reading", "Neuester Wert"],
            Self::WakesAllowed => ["Let alerts wake me", "Alarme dürfen mich wecken"],
            Self::WakesWhy => [
                "The phone will ask whether notifications may be shown. Without them nothing rings.",
                "Das Gerät fragt, ob Benachrichtigungen gezeigt werden dürfen. Ohne sie klingelt nichts.",
            ],
            Self::Skip => ["Later", "Später"],
            Self::Done => ["Begin", "Los geht’s"],
            Self::HoldingLog => ["One moment", "Einen Moment"],
            Self::KeepPlan => ["Ring by these lines from now on", "Ab jetzt nach diesen Linien klingeln"],
            Self::LostAfter => ["Told of a lost signal after, minutes", "Bescheid bei fehlendem Signal nach, Minuten"],
            Self::NoMedicalDevice => [
                "This is no medical device and names no dose. Your care team's plan goes before it. \
                 A severe low needs a person: get help.",
                "Dies ist kein Medizinprodukt und nennt keine Dosis. Der Plan deines Behandlungsteams geht vor. \
                 Eine schwere Unterzuckerung braucht einen Menschen: Hol Hilfe.",
            ],
        }
    }
}

impl Words {
    /// A short text for a shell's screen.
    #[must_use]
    pub fn shell_label(self, label: ShellLabel) -> &'static str {
        self.either(label.texts())
    }

    /// An error as advice, without what was given, without paths: fit for a message that may be kept in a crash report.
    #[must_use]
    pub fn advice(self, error: &Error) -> String {
        let fixed = match error {
            Error::OutOfRange { low, high, unit, .. } => {
                let between = |low: f64, high: f64, unit: &str| {
                    let (low, high) = (self.numbers.tenths(low), self.numbers.tenths(high));
                    self.either([
                        &format!("Give an amount from {low} to {high} {unit}."),
                        &format!("Gib einen Wert von {low} bis {high} {unit} an."),
                    ])
                    .to_owned()
                };
                return match (*unit, self.numbers.unit) {
                    // Lines and amounts are checked in mg/dL, and typed in the wearer's unit.
                    ("mg/dL", GlucoseUnit::MmolL) => {
                        between(low / MG_DL_PER_MMOL_L, high / MG_DL_PER_MMOL_L, GlucoseUnit::MmolL.code())
                    }
                    (unit, _) => between(*low, *high, self.unit_name(unit)),
                };
            }
            Error::Invalid { what: "time", .. } => [
                "This time cannot be: it lies ahead of this phone's clock or outside 2000 to 2199. Check both.",
                "Diese Zeit kann nicht sein: Sie liegt vor der Uhr dieses Geräts oder außerhalb von 2000 bis 2199. Prüf beide.",
            ],
            Error::Invalid { what: "text" | "source", .. } => {
                ["Write a short text without control characters.", "Schreib einen kurzen Text ohne Steuerzeichen."]
            }
            Error::Invalid { what: "number", .. } => ["Write a number, such as 5.8.", "Schreib eine Zahl, etwa 5,8."],
            Error::Invalid { what: "glucose", .. } => [
                "This amount only fits the other unit. Check the unit in the settings.",
                "Dieser Wert passt nur zur anderen Einheit. Prüf die Einheit in den Einstellungen.",
            ],
            Error::Invalid { .. } => [
                "This cannot be taken as it is. Check what was given.",
                "So lässt sich das nicht übernehmen. Prüf die Angaben.",
            ],
            Error::WrongPassphrase { .. } => [
                "The passphrase does not open this file. Nothing was changed. Type it again, word for word.",
                "Die Passphrase öffnet diese Datei nicht. Nichts wurde geändert. Tipp sie noch einmal, Wort für Wort.",
            ],
            Error::NotASealedLog { .. } => [
                "This is no sealed log, or a newer Ebbstead sealed it.",
                "Das ist kein versiegeltes Protokoll, oder ein neueres Ebbstead hat es versiegelt.",
            ],
            Error::DamagedSealedLog { .. } => [
                "The sealed log is damaged; nothing was taken from it. Use another copy.",
                "Das versiegelte Protokoll ist beschädigt; nichts wurde daraus übernommen. Nimm eine andere Kopie.",
            ],
            Error::NoSuchEntry { .. } => {
                ["There is no such entry in this log.", "Diesen Eintrag gibt es im Protokoll nicht."]
            }
            Error::Import { .. } => ["The file could not be understood.", "Die Datei war nicht zu verstehen."],
            Error::File { .. } => [
                "The file cannot be opened. Choose it again.",
                "Die Datei lässt sich nicht öffnen. Wähl sie noch einmal aus.",
            ],
            Error::NotALog { .. } => [
                "This file is no Ebbstead log. It was left as it is.",
                "Diese Datei ist kein Protokoll von Ebbstead. Sie blieb, wie sie war.",
            ],
            Error::NewerLog { .. } => [
                "The log was written by a newer Ebbstead and left as it is. Update the app.",
                "Das Protokoll hat ein neueres Ebbstead geschrieben; es blieb, wie es war. Bring die App auf den neuen Stand.",
            ],
            Error::DamagedLog { .. } => [
                "The log is damaged and was kept as it is. Copy it before anything else; until then decide with a meter.",
                "Das Protokoll ist beschädigt und blieb, wie es war. Mach zuerst eine Kopie; entscheide so lange mit dem Messgerät.",
            ],
            Error::DiskFull { .. } => [
                "No room left on this device: nothing of this was kept. Free some space and try again.",
                "Kein Platz mehr auf dem Gerät: Nichts davon wurde behalten. Schaff Platz und versuch es noch einmal.",
            ],
            Error::ReadOnly { .. } => ["The log cannot be written.", "Das Protokoll lässt sich nicht beschreiben."],
            Error::Gone { .. } => [
                "The log was deleted, moved or replaced while it was open: nothing of this was kept. Open it again.",
                "Das Protokoll wurde gelöscht, verschoben oder ersetzt, während es offen war: Nichts davon wurde behalten. \
                 Öffne es noch einmal.",
            ],
            Error::Busy { .. } => [
                "Something else is writing to the log. Try again.",
                "Etwas anderes schreibt gerade in das Protokoll. Versuch es noch einmal.",
            ],
            Error::Database { .. } => [
                "The log could not be used. Try again.",
                "Das Protokoll war nicht zu benutzen. Versuch es noch einmal.",
            ],
        };
        self.either(fixed).to_owned()
    }

    /// What to do when a log that was closed is used, or the core failed in a way it should not.
    #[must_use]
    pub fn closed_or_failed(self) -> &'static str {
        self.either([
            "The log is not open. Open the app again; until then decide with a meter.",
            "Das Protokoll ist nicht offen. Öffne die App noch einmal; entscheide so lange mit dem Messgerät.",
        ])
    }

    /// Reads a number as typed, with a point or a comma before the decimals.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is no finite number.
    pub fn read_number(self, typed: &str) -> Result<f64> {
        let number = typed.trim().replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite());
        number.ok_or_else(|| Error::Invalid { what: "number", why: "is none".to_owned() })
    }

    /// Reads an amount of glucose as typed, in the unit the wearer reads.
    ///
    /// # Errors
    /// As [`Words::read_number`]; [`Error::Invalid`] where the amount fits only the other unit, [`Error::OutOfRange`] where
    /// it fits neither.
    pub fn read_glucose(self, typed: &str) -> Result<Glucose> {
        let number = self.read_number(typed)?;
        let other = match self.numbers.unit {
            GlucoseUnit::MgDl => GlucoseUnit::MmolL,
            GlucoseUnit::MmolL => GlucoseUnit::MgDl,
        };
        match (Glucose::new(number, self.numbers.unit), Glucose::new(number, other)) {
            (Ok(glucose), _) => Ok(glucose),
            (Err(error), Err(_)) => Err(error.into()),
            (Err(_), Ok(_)) => Err(Error::Invalid { what: "glucose", why: "fits only the other unit".to_owned() }),
        }
    }

    /// Reads what a meter shows as typed: an amount in the unit the wearer reads, or that it was too low or too high to measure
    /// ([`typed_beyond`]).
    ///
    /// # Errors
    /// As [`Words::read_glucose`] and [`typed_beyond`].
    pub fn read_meter(self, typed: &str) -> Result<Shown> {
        match typed_beyond(typed, self.numbers.unit, Instrument::Meter)? {
            Some(shown) => Ok(shown),
            None => self.read_glucose(typed).map(Shown::from),
        }
    }

    /// A meter check as it would be typed, so that [`Words::read_meter`] reads it again: `104`, `LO`, `HI`, `<30`.
    #[must_use]
    pub fn typed_meter(self, shown: Shown) -> String {
        let amount = self.bare_amount(shown.glucose.mg_dl());
        match shown.beyond {
            None => amount,
            Some(Beyond::Below) if shown.glucose == Instrument::Meter.limit(Beyond::Below) => "LO".to_owned(),
            Some(Beyond::Above) if shown.glucose == Instrument::Meter.limit(Beyond::Above) => "HI".to_owned(),
            Some(Beyond::Below) => format!("<{amount}"),
            Some(Beyond::Above) => format!(">{amount}"),
        }
    }

    /// Reads a difference of glucose (a factor a unit or a gram) as typed in the wearer's unit, in mg/dL.
    ///
    /// # Errors
    /// As [`Words::read_number`].
    pub fn read_difference_mg_dl(self, typed: &str) -> Result<f64> {
        let number = self.read_number(typed)?;
        Ok(match self.numbers.unit {
            GlucoseUnit::MgDl => number,
            GlucoseUnit::MmolL => number * MG_DL_PER_MMOL_L,
        })
    }

    /// A difference of glucose in mg/dL as it would be typed in the wearer's unit: as short as it can be without
    /// changing when it is read back to a hundredth.
    #[must_use]
    pub fn difference(self, mg_dl: f64) -> String {
        let number = match self.numbers.unit {
            GlucoseUnit::MgDl => mg_dl,
            GlucoseUnit::MmolL => mg_dl / MG_DL_PER_MMOL_L,
        };
        let text = format!("{number:.2}");
        self.numbers.localised(text.trim_end_matches('0').trim_end_matches('.').to_owned())
    }

    fn either<T: ?Sized>(self, [english, german]: [&T; 2]) -> &T {
        match self.language {
            Language::English => english,
            Language::German => german,
        }
    }

    fn unit_name(self, unit: &str) -> &str {
        self.either([unit, german::unit_name(unit)])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ENGLISH: Words = Words::new(Language::English, GlucoseUnit::MgDl);
    const GERMAN_MMOL: Words = Words::new(Language::German, GlucoseUnit::MmolL);

    #[test]
    fn typed_amounts_are_read_in_the_wearers_unit() {
        assert!((GERMAN_MMOL.read_glucose("5,8").unwrap().mmol_l() - 5.8).abs() < 1e-9);
        assert!((ENGLISH.read_glucose(" 104 ").unwrap().mg_dl() - 104.0).abs() < 1e-9);
        assert!(matches!(ENGLISH.read_glucose("5.8"), Err(Error::Invalid { what: "glucose", .. })));
        assert!(matches!(GERMAN_MMOL.read_glucose("104"), Err(Error::Invalid { what: "glucose", .. })));
        assert!(matches!(ENGLISH.read_glucose("9000"), Err(Error::OutOfRange { .. })));
        for bad in ["", "abc", "1e999", "NaN", "inf", "1.2.3"] {
            assert!(ENGLISH.read_number(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn factors_come_back_as_they_were_typed() {
        for typed in ["2,2", "0,19", "3", "2,25"] {
            let kept = GERMAN_MMOL.read_difference_mg_dl(typed).unwrap();
            assert_eq!(GERMAN_MMOL.difference(kept), typed);
        }
        assert_eq!(ENGLISH.difference(40.0), "40");
    }

    #[test]
    fn advice_never_repeats_what_was_given() {
        let given = Error::OutOfRange { what: "low line", given: 12345.0, low: 60.0, high: 120.0, unit: "mg/dL" };
        assert_eq!(ENGLISH.advice(&given), "Give an amount from 60 to 120 mg/dL.");
        assert_eq!(GERMAN_MMOL.advice(&given), "Gib einen Wert von 3,3 bis 6,7 mmol/L an.");
        let rated = Error::OutOfRange { what: "rated length", given: 900.0, low: 1.0, high: 365.0, unit: "days" };
        assert_eq!(GERMAN_MMOL.advice(&rated), "Gib einen Wert von 1 bis 365 Tagen an.");
        let secret = Error::NotALog { path: "/home/somebody/secret".into() };
        assert!(!ENGLISH.advice(&secret).contains("somebody"));
    }
}
