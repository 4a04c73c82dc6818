//! The files of words: one in Fluent for each language, unpacked and parsed once, at the first word that is asked of it.
//!
//! A message is asked for by its name with [`text!`](crate::text) or, with arguments, with [`say!`](crate::say). Arguments are
//! text that is written as it is (numbers come written by the language's [`Numbers`](super::Words)), or whole numbers that also
//! choose a plural. Nothing here fails: a message that a language lacks is said in English, and one that English lacks as a
//! question mark. That none does, the package's tests hold.
//!
//! # Source
//! Project Fluent, syntax 1.0; plural categories of the Unicode CLDR, as `fluent-bundle` has them.

use std::borrow::Cow;
use std::collections::HashMap;
use std::fmt;
use std::path::Display;
use std::sync::{Mutex, OnceLock, PoisonError};

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use miniz_oxide::inflate::decompress_to_vec_with_limit;

use super::languages::{LANGUAGES, NUMBERS, Spoken};
use super::packing::{self, BEHIND};
use super::{ENGLISH, UNKNOWN, Words};
use crate::units::GlucoseUnit;
use crate::wearer::{Language, Wearer};

/// A message of the files of words, by a number made of its name: over a thousand names would be carried by every phone, and no wearer
/// reads them. The build sees to it that no two names have one number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Message(u32);

impl Message {
    /// The message of a name; [`message!`](crate::message) makes it while compiling.
    #[must_use]
    pub const fn named(name: &str) -> Self {
        Self(packing::number(name))
    }

    /// Its name among the words of a language: a name in Fluent begins with a letter.
    fn id(self) -> String {
        format!("m{:08x}", self.0)
    }
}

/// A message by its name: `message!("name")`.
#[macro_export]
macro_rules! message {
    ($name:literal) => {
        const { $crate::words::Message::named($name) }
    };
}

/// What is put into a message. It owns nothing: the library's own values would be built and dropped at some four hundred places.
#[derive(Clone, Copy)]
#[doc(hidden)] // what `say!` makes of what is put in
pub enum Argument<'a> {
    /// Words.
    Text(&'a str),
    /// What says itself.
    Shown(&'a dyn fmt::Display),
    /// A whole number, written without marks between its digits, by which a plural is chosen.
    Whole(i128),
    /// A number by which a plural is chosen, to a hundredth; how it is written is for text beside it.
    Hundredths(f64),
}

/// Above this a number chooses no plural: the library would end the program over one that it cannot take apart.
const MOST_COUNTED: f64 = 1e15;

impl<'a> Argument<'a> {
    // The casts fit: what is no larger than MOST_COUNTED fits either.
    fn value(self) -> FluentValue<'a> {
        let written = |text: String| FluentValue::String(Cow::Owned(text));
        match self {
            Self::Text(text) => FluentValue::String(Cow::Borrowed(text)),
            Self::Shown(what) => written(what.to_string()),
            Self::Whole(number) if (number as f64).abs() <= MOST_COUNTED => FluentValue::from(number as i64),
            Self::Whole(number) => written(number.to_string()),
            Self::Hundredths(number) => {
                let hundredths = (number * 100.0).round() / 100.0;
                if hundredths.abs() <= MOST_COUNTED {
                    FluentValue::from(hundredths)
                } else {
                    written(number.to_string())
                }
            }
        }
    }
}

/// The words of a message without arguments: `text!(words, "name")`.
#[macro_export]
macro_rules! text {
    ($words:expr, $name:literal) => {
        $words.text($crate::message!($name))
    };
}

/// The words of a message with what goes into it: `say!(words, "name", day, amount = words.amount(70.0))`.
#[macro_export]
macro_rules! say {
    ($words:expr, $name:literal $(, $key:ident $(= $value:expr)?)* $(,)?) => {
        $words.say(
            $crate::message!($name),
            &[$((stringify!($key), $crate::argument!($key $(= $value)?))),*],
        )
    };
}

/// One argument of [`say!`].
#[doc(hidden)]
#[macro_export]
macro_rules! argument {
    ($key:ident) => {
        $crate::words::PutIn::put_in(&$key)
    };
    ($key:ident = $value:expr) => {
        $crate::words::PutIn::put_in(&$value)
    };
}

/// What can be put into a message.
#[doc(hidden)] // for `say!`
pub trait PutIn {
    /// As it is put in.
    fn put_in(&self) -> Argument<'_>;
}

impl PutIn for str {
    fn put_in(&self) -> Argument<'_> {
        Argument::Text(self)
    }
}

impl PutIn for String {
    fn put_in(&self) -> Argument<'_> {
        self.as_str().put_in()
    }
}

impl<T: PutIn + ?Sized> PutIn for &T {
    fn put_in(&self) -> Argument<'_> {
        (**self).put_in()
    }
}

/// What says itself: units, the paths of files, the errors of others.
macro_rules! as_written {
    ($($what:ty)*) => { $(
        impl PutIn for $what {
            fn put_in(&self) -> Argument<'_> {
                Argument::Shown(self)
            }
        }
    )* };
}

as_written!(char GlucoseUnit Display<'_> std::io::Error);

impl PutIn for f64 {
    fn put_in(&self) -> Argument<'_> {
        Argument::Hundredths(*self)
    }
}

macro_rules! whole {
    ($($number:ty)*) => { $(
        impl PutIn for $number {
            // `as`, since usize has no `From`.
            fn put_in(&self) -> Argument<'_> {
                Argument::Whole(*self as i128)
            }
        }
    )* };
}

whole!(u8 u16 u32 u64 usize i64);

/// The words of one language.
struct Catalogue {
    bundle: FluentBundle<FluentResource>,
    /// Messages that take nothing and are not one piece of their file, such as those on several lines: put together once.
    joined: Mutex<HashMap<Message, &'static str>>,
}

impl Catalogue {
    /// Reads a file of words. What cannot be read of it is left out, as is a second message of the same name.
    fn of(tag: &str, source: &str) -> Self {
        let mut bundle = FluentBundle::new_concurrent(vec![tag.parse().unwrap_or_default()]);
        // Marks around what is put in, for mixed directions of writing: no language here needs them, and terminals show them.
        bundle.set_use_isolating(false);
        let (Ok(resource) | Err((resource, _))) = FluentResource::try_new(source.to_owned());
        let _ = bundle.add_resource(resource);
        Self { bundle, joined: Mutex::default() }
    }

    fn message<'a>(&'a self, message: Message, arguments: Option<&FluentArgs<'_>>) -> Option<Cow<'a, str>> {
        let pattern = self.bundle.get_message(&message.id())?.value()?;
        Some(self.bundle.format_pattern(pattern, arguments, &mut Vec::new()))
    }

    fn text(&'static self, message: Message) -> Option<&'static str> {
        match self.message(message, None)? {
            Cow::Borrowed(text) => Some(text),
            Cow::Owned(text) => {
                let mut joined = self.joined.lock().unwrap_or_else(PoisonError::into_inner);
                Some(*joined.entry(message).or_insert_with(|| text.leak()))
            }
        }
    }

    /// Of a language by its place, read at its first word.
    fn at(place: usize) -> &'static Self {
        static KEPT: [OnceLock<Catalogue>; LANGUAGES.len()] = [const { OnceLock::new() }; LANGUAGES.len()];
        KEPT[place].get_or_init(|| Self::of(LANGUAGES[place].tag, &unpacked(place)))
    }
}

/// The words of a language as its file has them, but for comments, in English's order and under the numbers of their names.
fn unpacked(place: usize) -> String {
    let Spoken { packed, octets, .. } = LANGUAGES[place];
    let unpacked = decompress_to_vec_with_limit(packed, octets).unwrap_or_default();
    let all = String::from_utf8(unpacked).unwrap_or_default();
    let mut words = String::with_capacity(all.len() * 5 / 4);
    for (number, said) in NUMBERS.iter().zip(all.split(BEHIND)).filter(|(_, said)| !said.is_empty()) {
        words.extend([&Message(*number).id(), " = ", said, "\n"]);
    }
    words
}

impl Words {
    /// The name of a thing that core names itself, where this language has another: of kind `quantity`, core's `low line` is the
    /// message `quantity-low-line`. One without a message stays as it is.
    pub(super) fn named(self, kind: &str, name: &str) -> String {
        self.own_name(kind, name).unwrap_or_else(|| name.to_owned())
    }

    /// That name, nothing where the language has none.
    pub(super) fn own_name(self, kind: &str, name: &str) -> Option<String> {
        let words = name.split(|sign: char| !sign.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
        let id = words.fold(kind.to_owned(), |id, word| id + "-" + &word.to_ascii_lowercase());
        Catalogue::at(self.place).message(Message::named(&id), None).map(Cow::into_owned)
    }

    /// The language's name among computers, by BCP 47: `en`.
    #[must_use]
    pub const fn tag(self) -> &'static str {
        LANGUAGES[self.place].tag
    }

    /// The settings of a wearer who has set nothing yet and is spoken to in this language.
    #[must_use]
    pub fn unset(self) -> Wearer {
        Wearer { language: Language::parse(self.tag()).unwrap_or_default(), ..Wearer::default() }
    }

    /// The words of a message that takes no arguments; see [`text!`](crate::text).
    #[must_use]
    pub fn text(self, message: Message) -> &'static str {
        let own = Catalogue::at(self.place);
        own.text(message).or_else(|| Catalogue::at(ENGLISH).text(message)).unwrap_or(UNKNOWN)
    }

    /// The words of a message with what goes into it, by name; see [`say!`](crate::say).
    #[must_use]
    pub fn say(self, message: Message, arguments: &[(&'static str, Argument<'_>)]) -> String {
        let arguments: FluentArgs<'_> = arguments.iter().map(|(key, argument)| (*key, argument.value())).collect();
        let own = Catalogue::at(self.place);
        own.message(message, Some(&arguments))
            .or_else(|| Catalogue::at(ENGLISH).message(message, Some(&arguments)))
            .map_or_else(|| UNKNOWN.to_owned(), Cow::into_owned)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;

    /// A file with the numbers of its messages' names in place of these.
    fn numbered(file: &str) -> String {
        let line = |line: &str| match line.split_at(line.find([' ', '=']).unwrap_or(0)) {
            (name, said) if name.starts_with(|sign: char| sign.is_ascii_alphabetic()) => {
                Message::named(name).id() + said + "\n"
            }
            _ => line.to_owned() + "\n",
        };
        file.lines().map(line).collect()
    }

    /// The published check of FNV-1a: the number of "foobar" (Noll's table of test vectors, from memory).
    #[test]
    fn names_are_numbered_as_published() {
        assert_eq!(Message::named("foobar"), Message(0xbf9c_f968));
        assert_eq!(Message::named(""), Message(0x811c_9dc5));
    }

    /// What was packed is what the files say, line by line but for comments and the order.
    #[test]
    fn each_language_unpacks_whole() {
        assert_eq!(LANGUAGES[ENGLISH].tag, "en");
        for (place, language) in LANGUAGES.iter().enumerate() {
            let path = format!("{}/i18n/{}.ftl", env!("CARGO_MANIFEST_DIR"), language.tag);
            let file = std::fs::read_to_string(path).unwrap();
            let lines = |text: &str| -> Vec<String> {
                let mut lines: Vec<String> =
                    text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')).map(str::to_owned).collect();
                lines.sort();
                lines
            };
            assert_eq!(lines(&unpacked(place)), lines(&numbered(&file)), "{}", language.tag);
            assert!(language.packed.len() * 2 < language.octets, "{} of {}", language.packed.len(), language.octets);
        }
    }

    #[test]
    fn a_message_that_is_nowhere_ends_nothing() {
        let words = Words::new(Language::GERMAN, GlucoseUnit::MgDl);
        assert_eq!(words.text(Message::named("no-such-message")), UNKNOWN);
        assert_eq!(words.say(Message::named("no-such-message"), &[]), UNKNOWN);
    }

    #[test]
    fn what_cannot_be_read_of_a_file_takes_nothing_else_with_it() {
        let words = Catalogue::of("de", &numbered("a = eins\n???\nb = zwei { $n }\nc = drei\n    vier\na = fünf\n"));
        let say = |name| words.message(Message::named(name), None).map(Cow::into_owned);
        assert_eq!(say("a").as_deref(), Some("eins"));
        assert_eq!(say("b").as_deref(), Some("zwei {$n}"));
        assert_eq!(say("c").as_deref(), Some("drei\nvier"));
        assert_eq!(say("d"), None);
        let unknown = Catalogue::of("?", &numbered("n = { $n ->\n    [one] x\n   *[other] y\n }\n"));
        let one = FluentArgs::from_iter([("n", FluentValue::from(1_u64))]);
        assert!(unknown.message(Message::named("n"), Some(&one)).is_some());
    }

    /// Plural categories of the Unicode CLDR, "Language Plural Rules": 1 is `one`, 0 and 2 are `other`, in English and German.
    #[test]
    fn plurals_are_chosen_by_whole_numbers() {
        for tag in ["en", "de"] {
            let words = Catalogue::of(tag, &numbered("n = { $n } { $n ->\n    [one] one\n   *[other] other\n }\n"));
            let of = |number: &Argument<'_>| {
                let arguments = FluentArgs::from_iter([("n", number.value())]);
                words.message(Message::named("n"), Some(&arguments)).map(Cow::into_owned).unwrap()
            };
            for odd in [f64::NAN, f64::INFINITY, -1e300, 1e-300, 1e15, 0.1 + 0.2] {
                assert!(of(&odd.put_in()).ends_with("other"), "{odd}");
            }
            assert!(of(&u64::MAX.put_in()).starts_with("18446744073709551615 "));
            assert!(of(&1.0_f64.put_in()).ends_with("one"));
            let say = |n: u64| {
                let arguments = FluentArgs::from_iter([("n", n.put_in().value())]);
                words.message(Message::named("n"), Some(&arguments)).map(Cow::into_owned).unwrap()
            };
            assert_eq!([0, 1, 2, 1000].map(say), ["0 other", "1 one", "2 other", "1000 other"], "{tag}");
        }
    }
}
