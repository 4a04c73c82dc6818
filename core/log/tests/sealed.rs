//! Sealed logs: what goes in comes out, to the right passphrase alone, and nothing half-written is ever seen.
#![cfg(feature = "sealed")]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs;
use std::path::{Path, PathBuf};

use ebbstead_engine::time::{MINUTE_MS, Moment};
use ebbstead_engine::units::Glucose;
use ebbstead_engine::wearer::{Language, Wearer};
use ebbstead_log::exchange::sealed::{Passphrase, SealedLog, Unsealed, seal};
use ebbstead_log::log::{Beyond, Entry, EntryKind, Matter, Occasion, Prompted, Purpose, Source, Text, Verdict};
use ebbstead_log::store::{Facts, Log};
use ebbstead_log::{Damage, Error, Quantity};
use tempfile::TempDir;

const WORDS: &str = "four plain words, ünlike";

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn passphrase(text: &str) -> Passphrase {
    Passphrase::for_opening(text.to_owned().into()).unwrap()
}

fn reading(source: &str, n: i64) -> Entry {
    let at = now().plus_ms(n * 5 * MINUTE_MS);
    let mg_dl = Glucose::from_mg_dl(90.0 + (n * 31).rem_euclid(97) as f64).unwrap();
    Entry::new(at, at.plus_ms(1500), Source::new(source).unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
}

/// A log with a bit of everything, readings of two sensors in turns among it.
fn log() -> Log {
    let mut log = Log::in_memory(now()).unwrap();
    log.record_all((0..900).map(|n| reading(if n % 3 == 0 { "sensor 7" } else { "sensor ü" }, n))).unwrap();
    let week = |log: &mut Log, name: &str| {
        log.import(Text::new(name).unwrap(), (0..200).map(|n| Ok(reading("sensor 6", -n))), now()).unwrap()
    };
    week(&mut log, "week.csv");
    let again = week(&mut log, "again.csv");
    log.retract(again.id, now()).unwrap();
    let meal = EntryKind::Carbohydrate { grams: 45.5, purpose: Purpose::Meal };
    let meal = Entry::new(now(), now(), Source::by_hand(), meal).unwrap();
    log.record(&meal).unwrap();
    let low = EntryKind::SensorBeyond { beyond: Beyond::Below, mg_dl: Glucose::from_mg_dl(40.0).unwrap() };
    log.record(&Entry::new(now(), now(), Source::new("sensor 7").unwrap(), low).unwrap()).unwrap();
    log.correct(meal.id, now(), EntryKind::Carbohydrate { grams: 54.0, purpose: Purpose::Rescue }, now()).unwrap();
    let note = EntryKind::Note { text: Text::new("line one\n\"line\" two, =1+1").unwrap() };
    log.record(&Entry::new(now(), now(), Source::by_hand(), note).unwrap()).unwrap();
    log.retract(reading("sensor 7", 3).id, now()).unwrap();
    log.set_wearer(&Wearer { language: Language::GERMAN, ..Wearer::default() }, now()).unwrap();
    log.set_wearer(&Wearer::default(), now().plus_ms(1)).unwrap();
    log.learn("lag", &vec![0.25, 1.0 / 3.0], "a week", now()).unwrap();
    log
}

fn all_of(log: &Log) -> Vec<String> {
    let mut facts = Vec::new();
    log.each_fact(|entry| {
        facts.push(serde_json::to_string(&entry).unwrap());
        Ok(())
    })
    .unwrap();
    facts.sort();
    log.each_kept(|kept| {
        facts.push(format!("{kept:?}"));
        Ok(())
    })
    .unwrap();
    facts
}

fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.sealed");
    (folder, path)
}

fn only_file(folder: &Path) -> bool {
    fs::read_dir(folder).unwrap().count() == 1
}

/// An opened one is read again each time it is asked, from the very file that was opened.
#[test]
fn an_opened_one_is_read_whatever_takes_its_place_and_refused_where_it_was_cut_short() {
    let (_folder, path) = place();
    let (log, words) = (log(), passphrase(WORDS));
    seal(&log, &path, &words, false, now()).unwrap();
    let opened = SealedLog::open(&path, &words).unwrap();
    // Put in place by a rename; the other passphrase would not open what was opened.
    seal(&Log::in_memory(now()).unwrap(), &path, &passphrase("another four words"), true, now()).unwrap();
    let mut fresh = Log::in_memory(now()).unwrap();
    fresh.restore(&opened).unwrap();
    assert_eq!(all_of(&fresh), all_of(&log));
    seal(&log, &path, &words, true, now()).unwrap();
    let opened = SealedLog::open(&path, &words).unwrap();
    let mut fresh = Log::in_memory(now()).unwrap();
    // Written into the file itself.
    fs::write(&path, b"short").unwrap();
    for _ in 0..2 {
        assert!(matches!(fresh.restore(&opened), Err(Error::DamagedSealedLog { .. })));
    }
    assert!(fresh.is_unused().unwrap());
}

/// Its one place in the file cannot be in two places.
#[test]
fn it_is_not_read_while_it_is_read() {
    let (_folder, path) = place();
    let words = passphrase(WORDS);
    seal(&log(), &path, &words, false, now()).unwrap();
    let opened = SealedLog::open(&path, &words).unwrap();
    let refused = opened.each_fact(&mut |_| opened.each_fact(&mut |_| Ok(()))).unwrap_err();
    assert!(matches!(&refused, Error::File { source, .. } if source.kind() == std::io::ErrorKind::ResourceBusy));
    opened.each_fact(&mut |_| Ok(())).unwrap();
}

/// What the age format seals as one piece, and what a piece has besides, in bytes. Source: age-encryption.org/v1, "Payload".
const PIECE: usize = 64 * 1024;
const TAG: usize = 16;

/// Lines of one reading and spaces, as long as asked for.
fn lines_of(length: usize) -> String {
    let end = "{\"end\":{\"readings\":1,\"entries\":0,\"kept\":0}}\n";
    let head = "{\"head\":{\"version\":1,\"log\":\"019ca724-4ce0-7118-9c81-4e960101c46c\",\"sealed\":null}}\n\
                {\"readings\":{\"source\":\"sensor 7\",\"import\":null}}\n[1772362800000,60,10400,1500,null]";
    format!("{head}{}\n{end}", " ".repeat(length - head.len() - 1 - end.len()))
}

/// On both sides of every edge of a piece, and more than once.
#[test]
fn pieces_of_any_length_are_read_again_and_again() {
    let (_folder, path) = place();
    let words = passphrase(WORDS);
    let mut recipient = age::scrypt::Recipient::new(WORDS.to_owned().into());
    recipient.set_work_factor(2);
    for length in [300, PIECE - 1, PIECE, PIECE + 1, 2 * PIECE - 1, 2 * PIECE, 3 * PIECE + 7] {
        fs::write(&path, age::encrypt(&recipient, lines_of(length).as_bytes()).unwrap()).unwrap();
        let opened = SealedLog::open(&path, &words).unwrap();
        for _ in 0..3 {
            let mut log = Log::in_memory(now()).unwrap();
            assert_eq!(log.restore(&opened).unwrap().new, 1, "{length}");
        }
    }
}

#[test]
fn damage_at_each_edge_of_a_piece_is_found() {
    let (_folder, path) = place();
    let words = passphrase(WORDS);
    let mut recipient = age::scrypt::Recipient::new(WORDS.to_owned().into());
    recipient.set_work_factor(2);
    let (first, length) = (PIECE + TAG, 2 * PIECE + 400);
    let whole = age::encrypt(&recipient, lines_of(length).as_bytes()).unwrap();
    let body = whole.len() - (length + 3 * TAG);
    let last = body + 2 * first;
    // Each is refused with this, at every reading, and leaves nothing.
    let refused_with = |what: &str, changed: &[u8], expected: Damage| {
        fs::write(&path, changed).unwrap();
        let mut log = Log::in_memory(now()).unwrap();
        let refused = match SealedLog::open(&path, &words) {
            Ok(opened) => {
                log.restore(&opened).unwrap_err();
                log.restore(&opened).unwrap_err()
            }
            Err(refused) => refused,
        };
        assert!(matches!(&refused, Error::DamagedSealedLog { what, .. } if *what == expected), "{what}: {refused}");
        assert_eq!(log.count().unwrap(), ebbstead_log::store::Count::default(), "{what}");
    };
    let (early, altered) = (Damage::EndsEarly, Damage::Piece);
    for end in [body, body + first, last] {
        refused_with(&format!("cut at {end}"), &whole[..end], early);
    }
    for end in [body + 1, body + TAG, body + first - 1, body + first + 1, last + 1, last + TAG, whole.len() - 1] {
        refused_with(&format!("cut at {end}"), &whole[..end], altered);
    }
    for at in [body, body + PIECE, body + first - 1, body + first, last - 1, last, whole.len() - 1] {
        let mut changed = whole.clone();
        changed[at] ^= 1;
        refused_with(&format!("changed at {at}"), &changed, altered);
    }
    let piece = |number: usize| &whole[body + number * first..body + (number + 1) * first];
    let (head, end) = (&whole[..body], &whole[last..]);
    refused_with("swapped", &[head, piece(1), piece(0), end].concat(), altered);
    refused_with("twice", &[head, piece(0), piece(0), end].concat(), altered);
    refused_with("one left out", &[head, piece(0), end].concat(), altered);
    refused_with("foreign", &[head, piece(0), &[7; PIECE + TAG], piece(1), end].concat(), altered);
    refused_with("longer", &[&whole[..], b"more"].concat(), altered);
}

#[test]
fn a_sealed_log_comes_back_whole() {
    let (folder, path) = place();
    let log = log();
    let sealed = seal(&log, &path, &passphrase(WORDS), false, now()).unwrap();
    // A reading that came with two imports is written with each, and counts once.
    assert_eq!((sealed.readings, sealed.others), (1100, 8));
    assert_eq!(sealed.bytes, fs::metadata(&path).unwrap().len());
    assert!(only_file(folder.path()));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
    }
    let words = passphrase(WORDS);
    let opened = SealedLog::open(&path, &words).unwrap();
    assert_eq!(opened.sealed_at(), Some(now()));
    let mut fresh = Log::in_memory(now()).unwrap();
    fresh.restore(&opened).unwrap();
    assert_eq!(all_of(&fresh), all_of(&log));
    fresh.check().unwrap();
    // Once there are entries, it is merged as from another device.
    assert!(matches!(fresh.restore(&opened), Err(Error::Invalid { what: Quantity::Log, .. })));
    assert!(fresh.preview_merge(&opened, now()).unwrap().changes_nothing());
}

/// A shell shows a prompt, and keeps it, before anybody can ask it to bring a log back.
#[test]
fn a_log_that_was_only_looked_at_is_restored_into() {
    let (_folder, path) = place();
    let log = log();
    let words = passphrase(WORDS);
    seal(&log, &path, &words, false, now()).unwrap();
    let opened = SealedLog::open(&path, &words).unwrap();
    let mut fresh = Log::in_memory(now()).unwrap();
    let shown = EntryKind::Prompted(Prompted {
        occasion: Occasion::Look,
        matter: Matter::TooLittle,
        verdict: Verdict::Check,
        without_meter: None,
        chance_low: None,
        blood_mg_dl: None,
        chance_if_waiting: None,
        chance_if_treating: None,
        look_again_minutes: None,
    });
    fresh.record(&Entry::new(now(), now(), Source::by_hand(), shown).unwrap()).unwrap();
    assert!(fresh.is_unused().unwrap());
    fresh.restore(&opened).unwrap();
    assert!(!fresh.is_unused().unwrap());
    assert_eq!(fresh.wearer().unwrap(), log.wearer().unwrap());
}

#[test]
fn a_log_in_use_takes_it_in_and_keeps_its_own_settings() {
    let (_folder, path) = place();
    let (log, words) = (log(), passphrase(WORDS));
    seal(&log, &path, &words, false, now()).unwrap();
    let mut living = Log::in_memory(now()).unwrap();
    let own = Wearer { low_line: Glucose::from_mg_dl(80.0).unwrap(), ..Wearer::default() };
    living.set_wearer(&own, now()).unwrap();
    living.record_all((0..50).map(|n| reading("sensor 7", 3 * n))).unwrap();
    let opened = SealedLog::open(&path, &words).unwrap();
    let preview = living.preview_merge(&opened, now()).unwrap();
    assert_eq!(living.merge(&opened).unwrap(), preview.recorded);
    assert_eq!(living.wearer().unwrap(), own);
    assert_eq!(living.learned::<Vec<f64>>("lag").unwrap(), None);
    let mut union = Log::in_memory(now()).unwrap();
    union.merge(&log).unwrap();
    union.record_all((0..50).map(|n| reading("sensor 7", 3 * n))).unwrap();
    assert_eq!(
        living.current(now().plus_ms(-1 << 40), now().plus_ms(1 << 40)).unwrap(),
        union.current(now().plus_ms(-1 << 40), now().plus_ms(1 << 40)).unwrap()
    );
}

#[test]
fn nothing_readable_is_in_the_file_and_each_is_sealed_anew() {
    let (folder, path) = place();
    let other = folder.path().join("other.sealed");
    let log = log();
    seal(&log, &path, &passphrase(WORDS), false, now()).unwrap();
    seal(&log, &other, &passphrase(WORDS), false, now()).unwrap();
    let (one, two) = (fs::read(&path).unwrap(), fs::read(&other).unwrap());
    assert!(one.starts_with(b"age-encryption.org/v1\n-> scrypt "));
    for part in ["sensor", "insulin", "entry", "week.csv", WORDS] {
        assert!(!one.windows(part.len()).any(|window| window == part.as_bytes()), "{part}");
    }
    assert_eq!(one.len(), two.len());
    let same = one.iter().zip(&two).skip(150).filter(|(a, b)| a == b).count();
    assert!(same < one.len() / 100, "{same} of {} bytes are the same", one.len());
}

#[test]
fn a_wrong_passphrase_and_a_damaged_file_are_distinguished() {
    let (_folder, path) = place();
    seal(&log(), &path, &passphrase(WORDS), false, now()).unwrap();
    let whole = fs::read(&path).unwrap();
    let open = |words: &str| SealedLog::open(&path, &passphrase(words)).map(drop);
    for wrong in ["four plain words, unlike", "x", "Four plain words, ünlike"] {
        let refused = open(wrong).unwrap_err();
        assert!(matches!(refused, Error::WrongPassphrase { .. }), "{refused}");
        assert!(!refused.to_string().contains(wrong) || wrong == "x");
        assert!(!format!("{refused:?} {:?}", passphrase(wrong)).contains("plain words"));
    }
    // A flipped bit in each stretch of the file.
    let words = passphrase(WORDS);
    let taken = |path: &Path| {
        let mut log = Log::in_memory(now()).unwrap();
        let taken = SealedLog::open(path, &words).and_then(|opened| log.restore(&opened));
        if taken.is_err() {
            assert_eq!(log.count().unwrap(), ebbstead_log::store::Count::default(), "a damaged one leaves no trace");
        }
        taken
    };
    let body = whole.windows(4).position(|window| window == b"\n---").unwrap() + 60;
    let (mut damaged, mut wrong, mut none) = (0, 0, 0);
    for place in (0..whole.len()).step_by(whole.len() / 30).chain((22..body).step_by(9)) {
        let mut flipped = whole.clone();
        flipped[place] ^= 1 << (place % 7);
        fs::write(&path, &flipped).unwrap();
        match taken(&path).unwrap_err() {
            Error::DamagedSealedLog { .. } => damaged += 1,
            Error::WrongPassphrase { .. } if place < body => wrong += 1,
            Error::NotASealedLog { .. } if place < body => none += 1,
            other => panic!("byte {place}: {other}"),
        }
    }
    eprintln!(
        "flipped bits: {damaged} reported as damage; in the head {wrong} as a wrong passphrase, {none} as no sealed log"
    );
    for kept in [0, 10, 100, body, whole.len() / 2, whole.len() - 1] {
        fs::write(&path, &whole[..kept]).unwrap();
        let refused = taken(&path).unwrap_err();
        assert!(matches!(refused, Error::DamagedSealedLog { .. } | Error::NotASealedLog { .. }), "{kept}: {refused}");
        assert!(kept < body || matches!(refused, Error::DamagedSealedLog { .. }), "{kept}: {refused}");
    }
    fs::write(&path, [&whole[..], b"more"].concat()).unwrap();
    assert!(matches!(taken(&path), Err(Error::DamagedSealedLog { .. })));
    fs::write(&path, &whole).unwrap();
    taken(&path).unwrap();
}

#[test]
fn what_is_there_is_kept_unless_replacing_was_asked_for_and_survives_a_failure() {
    let (folder, path) = place();
    let words = passphrase(WORDS);
    fs::write(&path, b"something of the wearer's").unwrap();
    let refused = seal(&log(), &path, &words, false, now()).unwrap_err();
    assert!(matches!(&refused, Error::File { source, .. } if source.kind() == std::io::ErrorKind::AlreadyExists));
    assert_eq!(fs::read(&path).unwrap(), b"something of the wearer's");
    seal(&log(), &path, &words, true, now()).unwrap();
    assert!(only_file(folder.path()));
    SealedLog::open(&path, &words).unwrap();
    let missing = folder.path().join("missing/log.sealed");
    assert!(matches!(seal(&log(), &missing, &words, false, now()), Err(Error::File { .. })));
    assert!(matches!(SealedLog::open(&missing, &words), Err(Error::File { .. })));
    assert!(matches!(SealedLog::open(folder.path(), &words), Err(Error::File { .. } | Error::NotASealedLog { .. })));
}

#[test]
fn other_files_are_no_sealed_logs() {
    let (_folder, path) = place();
    let words = passphrase(WORDS);
    let refuse = |content: &[u8]| {
        fs::write(&path, content).unwrap();
        SealedLog::open(&path, &words).unwrap_err()
    };
    for content in [&b"time,glucose\n1,2\n"[..], &[0; 5000], b"age-encryption.org/v2\nsomething"] {
        let refused = refuse(content);
        assert!(matches!(refused, Error::NotASealedLog { .. }), "{refused}");
    }
    // The right format, sealed by the same passphrase, with something else inside.
    let mut recipient = age::scrypt::Recipient::new(WORDS.to_owned().into());
    recipient.set_work_factor(4);
    for inside in
        ["a letter\n", "{\"head\":{\"version\":99,\"log\":\"019ca724-4ce0-7118-9c81-4e960101c46c\",\"sealed\":null}}\n"]
    {
        let refused = refuse(&age::encrypt(&recipient, inside.as_bytes()).unwrap());
        assert!(matches!(refused, Error::NotASealedLog { .. }), "{refused}");
    }
    // One that asks for 64 GiB of memory to be opened.
    recipient.set_work_factor(4);
    let greedy = age::encrypt(&recipient, b"x").unwrap();
    let text = String::from_utf8_lossy(&greedy[..70]).into_owned();
    let line = text.lines().nth(1).unwrap();
    let more = line.rsplit_once(' ').unwrap().0.to_owned() + " 26";
    let forged = [text.lines().next().unwrap().as_bytes(), b"\n", more.as_bytes(), &greedy[22 + line.len()..]].concat();
    let refused = refuse(&forged);
    assert!(matches!(refused, Error::DamagedSealedLog { .. }), "{refused}");
}

/// What is inside may be forged by an attacker who knows the passphrase: no line of it makes a panic or leaves a trace.
#[test]
fn forged_lines_are_refused() {
    let (_folder, path) = place();
    let words = passphrase(WORDS);
    let mut recipient = age::scrypt::Recipient::new(WORDS.to_owned().into());
    recipient.set_work_factor(2);
    let head = "{\"head\":{\"version\":1,\"log\":\"019ca724-4ce0-7118-9c81-4e960101c46c\",\"sealed\":null}}\n";
    let whose = "{\"readings\":{\"source\":\"sensor 7\",\"import\":null}}\n";
    let end = |readings: u32, entries: u32| {
        format!("{{\"end\":{{\"readings\":{readings},\"entries\":{entries},\"kept\":0}}}}\n")
    };
    let taken = |lines: &str| {
        fs::write(&path, age::encrypt(&recipient, format!("{head}{lines}").as_bytes()).unwrap()).unwrap();
        let mut log = Log::in_memory(now()).unwrap();
        let taken = SealedLog::open(&path, &words).and_then(|opened| log.restore(&opened));
        if taken.is_err() {
            assert_eq!(log.count().unwrap().readings + log.count().unwrap().others, 0);
        }
        taken
    };
    let fine = "[1772362800000,60,10400,1500,null]\n";
    assert_eq!(taken(&format!("{whose}{fine}{}", end(1, 0))).unwrap().new, 1);
    // The same lines, unsealed by another program.
    let lines = format!("{head}{whose}{fine}{}", end(1, 0));
    let unsealed = Unsealed::open(lines.as_bytes(), Path::new("lines")).unwrap();
    assert_eq!(Log::in_memory(now()).unwrap().restore(&unsealed).unwrap().new, 1);
    let refused = Unsealed::open(b"a letter\n", Path::new("lines")).unwrap_err();
    assert!(matches!(refused, Error::NotASealedLog { .. }), "{refused}");
    assert_eq!(taken(&end(0, 0)).unwrap().new, 0);
    let long = format!("{{\"entry\":\"{}\"}}\n", "x".repeat(2 << 20));
    let deep = format!("{}\n", "[".repeat(100_000));
    for lines in [
        "".to_owned(),
        format!("{fine}{}", end(1, 0)),
        format!("{whose}{fine}"),
        format!("{whose}{fine}{}", end(2, 0)),
        format!("{whose}{fine}{}{fine}", end(1, 0)),
        format!("{whose}{fine}[1772362799999,60,10400,1500,null]\n{}", end(2, 0)),
        format!("{whose}[1772362800000,60,100,1500,null]\n{}", end(1, 0)),
        format!("{whose}[9223372036854775807,60,10400,9223372036854775807,null]\n{}", end(1, 0)),
        format!("{whose}[-9223372036854775808,60,10400,-9223372036854775808,7]\n{}", end(1, 0)),
        format!("{whose}[1772362800000,6000,10400,1500,null]\n{}", end(1, 0)),
        format!("{head}{}", end(0, 0)),
        long,
        deep,
        "\u{0}\n".to_owned(),
        "{\"kept\":{\"settings\":{\"at\":\"2026-03-01T12:00:00Z\",\"wearer\":{}}}}\n".to_owned(),
    ] {
        let refused = taken(&lines).unwrap_err();
        let shown: String = lines.chars().take(80).collect();
        assert!(matches!(refused, Error::DamagedSealedLog { .. }), "{shown}: {refused}");
    }
}

#[test]
fn a_short_passphrase_does_not_seal() {
    let refused = Passphrase::for_sealing("elevenchars".to_owned().into()).unwrap_err().to_string();
    assert!(refused.contains("at least 12 characters") && !refused.contains("elevenchars"), "{refused}");
    assert!(Passphrase::for_sealing("zwölf zäichn".to_owned().into()).is_ok());
    assert!(Passphrase::for_opening(String::new().into()).is_err());
    for slip in [" ".repeat(12), "a".repeat(40), "elevenchars     ".to_owned(), "abababababababab".to_owned()] {
        assert!(Passphrase::for_sealing(slip.clone().into()).is_err(), "{slip:?}");
    }
}

#[test]
fn a_head_that_does_not_end_is_refused_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("forged");
    // 120 KB of stanzas that end nowhere. Source of the form: C2SP, age-encryption.org/v1.
    let forged = format!("age-encryption.org/v1\n{}", "-> scrypt AAAAAAAAAAAAAAAAAAAAAA 15\nAAAA\n".repeat(2800));
    fs::write(&path, forged).unwrap();
    let begun = std::time::Instant::now();
    let refused = SealedLog::open(&path, &passphrase(WORDS)).unwrap_err();
    assert!(matches!(refused, Error::NotASealedLog { .. }), "{refused}");
    // Reading it to its end took seconds, growing with the square of its length.
    assert!(begun.elapsed() < std::time::Duration::from_secs(1), "{:?}", begun.elapsed());
}
