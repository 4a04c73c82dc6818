//! The languages there are: one for each file of `i18n`, as the build packed them.

use super::Words;
use crate::error::{Error, Quantity, Result, Why};
use crate::wearer::Language;

/// A language with words.
#[derive(Debug)]
pub struct Spoken {
    /// Its name among computers, by BCP 47: `en`.
    pub tag: &'static str,
    /// Its own name for itself: `Deutsch`.
    pub name: &'static str,
    /// What it says of itself where no native speaker of the trade has read it yet. Such a language is spoken only to a wearer who
    /// asked for it by its tag.
    pub draft: Option<&'static str>,
    /// Between whole and part of a number.
    pub(super) decimal_mark: char,
    /// Between groups of three digits.
    pub(super) group_mark: char,
    /// Its words, in raw deflate: what it says of each of [`NUMBERS`], nothing where it lacks the message.
    pub(super) packed: &'static [u8],
    /// As how many octets they are unpacked.
    pub(super) octets: usize,
}

/// Those there are, English first.
pub(super) const LANGUAGES: &[Spoken] = &include!(concat!(env!("OUT_DIR"), "/languages.rs"));

/// The numbers of the messages' names, in the order in which each language has them.
pub(super) const NUMBERS: &[u32] = &include!(concat!(env!("OUT_DIR"), "/numbers.rs"));

/// The place of a language, if it has words.
pub(super) const fn place_of(tag: Language) -> Option<usize> {
    let wanted = tag.octets();
    let mut place = 0;
    while place < LANGUAGES.len() {
        let here = LANGUAGES[place].tag.as_bytes();
        let mut letter = 0;
        while letter < wanted.len() && wanted[letter] == if letter < here.len() { here[letter] } else { 0 } {
            letter += 1;
        }
        if letter == wanted.len() {
            return Some(place);
        }
        place += 1;
    }
    None
}

impl Spoken {
    /// All that have words, drafts among them; English first.
    #[must_use]
    pub const fn all() -> &'static [Self] {
        LANGUAGES
    }

    /// The one with this tag, if it has words.
    #[must_use]
    pub fn of(tag: Language) -> Option<&'static Self> {
        LANGUAGES.get(place_of(tag)?)
    }

    /// The same, where one without words cannot be taken.
    ///
    /// # Errors
    /// [`Error::Invalid`] for one without words.
    pub fn require(tag: Language) -> Result<&'static Self> {
        let why = Why::Malformed { given: tag.to_string(), like: "en" };
        Self::of(tag).ok_or(Error::Invalid { what: Quantity::Language, why })
    }

    /// Those to choose from for a wearer whose language this is: all that are no drafts, and this one, whatever it is, with its name,
    /// or its tag where it has no words here.
    #[must_use]
    pub fn offered(own: Language) -> Vec<(String, String)> {
        let own = own.to_string();
        let there = LANGUAGES.iter().filter(|one| one.draft.is_none() || one.tag == own);
        let mut offered: Vec<_> = there.map(|one| (one.tag.to_owned(), one.name.to_owned())).collect();
        if LANGUAGES.iter().all(|one| one.tag != own) {
            offered.push((own.clone(), own));
        }
        offered
    }
}

impl Words {
    /// What a draft says of itself: it stands on every screen; see [`Words::marked`].
    #[must_use]
    pub const fn draft(self) -> Option<&'static str> {
        LANGUAGES[self.place].draft
    }

    /// What stands over a screen, or alone: with the mark of a draft behind it where the language is one.
    #[must_use]
    pub fn marked(self, text: &str) -> String {
        match self.draft() {
            Some(draft) => format!("{text} ({draft})"),
            None => text.to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::Page;
    use crate::prompt::Verdict;
    use crate::units::GlucoseUnit;
    use crate::wearer::Wearer;
    use crate::words::ShellLabel;

    fn tag(text: &str) -> Language {
        Language::parse(text).unwrap()
    }

    /// A file is all that a language takes: each that is there is found by its tag and speaks for itself.
    #[test]
    fn each_file_is_a_language_that_speaks() {
        let files = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/i18n")).unwrap().count();
        assert_eq!(LANGUAGES.len(), files);
        for (place, language) in LANGUAGES.iter().enumerate() {
            assert_eq!(place_of(tag(language.tag)), Some(place));
            assert_eq!(Spoken::of(tag(language.tag)).map(|one| one.name), Some(language.name));
            let words = Words::new(tag(language.tag), GlucoseUnit::MmolL);
            assert_eq!((words.tag(), words.draft()), (language.tag, language.draft));
            assert_eq!(words.amount(104.0), format!("5{}8 mmol/L", language.decimal_mark));
            assert_eq!(words.numbers.count(12_345), format!("12{}345", language.group_mark));
            let others = LANGUAGES.iter().filter(|other| other.tag != language.tag);
            for other in others.map(|other| Words::new(tag(other.tag), GlucoseUnit::MmolL)) {
                assert_ne!(words.verdict(Verdict::Check), other.verdict(Verdict::Check), "{}", language.tag);
            }
        }
    }

    #[test]
    fn a_language_without_words_is_spoken_in_english() {
        for unknown in
            ["fr", "e", "eng", "ens", "d", "deutsch"].into_iter().filter_map(|text| Language::parse(text).ok())
        {
            assert!(Spoken::of(unknown).is_none(), "{unknown}");
            assert_eq!(Words::new(unknown, GlucoseUnit::MgDl), Words::new(Language::ENGLISH, GlucoseUnit::MgDl));
        }
    }

    #[test]
    fn a_draft_is_offered_to_whoever_has_it_alone() {
        let offered = |own: &str| Spoken::offered(tag(own)).into_iter().map(|(tag, _)| tag).collect::<Vec<_>>();
        let english = offered("en");
        assert_eq!((english[0].as_str(), offered("de")), ("en", english.clone()));
        assert_eq!(Spoken::offered(Language::GERMAN)[1], ("de".to_owned(), "Deutsch".to_owned()));
        for language in LANGUAGES {
            assert_eq!(english.iter().any(|one| one == language.tag), language.draft.is_none(), "{}", language.tag);
            assert!(offered(language.tag).iter().any(|one| one == language.tag), "{}", language.tag);
        }
        // What another build has words for is not taken away by choosing something else beside it.
        assert_eq!(Spoken::offered(tag("fr")).last(), Some(&("fr".to_owned(), "fr".to_owned())));
        assert_eq!(offered("fr").len(), english.len() + 1);
    }

    #[test]
    fn a_draft_is_marked_wherever_something_stands_alone() {
        for language in LANGUAGES {
            let wearer = Wearer { language: tag(language.tag), ..Wearer::default() };
            let words = Words::of(&wearer);
            let (form, _) = crate::forms::settings::read(&crate::forms::Filled::new(), &wearer, words);
            let headings = [
                (Page::new(words, "1").heading, "1"),
                (form.heading, words.shell_label(ShellLabel::ScreenSettings)),
                (words.marked("2"), "2"),
            ];
            for (heading, bare) in headings {
                match language.draft {
                    Some(draft) => assert_eq!(heading, format!("{bare} ({draft})")),
                    None => assert_eq!(heading, bare),
                }
            }
        }
    }

    /// Spanish waits for a native speaker of the trade; then `language-draft` goes from its file, and this with it.
    #[test]
    fn spanish_is_a_draft() {
        let spanish = Spoken::of(tag("es")).unwrap();
        assert_eq!((spanish.name, spanish.draft), ("Español", Some("borrador, sin revisar")));
        assert!(LANGUAGES.iter().filter(|one| ["en", "de"].contains(&one.tag)).all(|one| one.draft.is_none()));
    }
}
