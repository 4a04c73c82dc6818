//! Files that are made for the wearer to keep.

use std::fs;

use zeroize::Zeroizing;

use super::{Asked, Document, Done, Extra, RecordPages, sound};
use crate::copies::{seal, write_bundle, write_table, write_text};
use crate::exchange::csv::table::Which;
use crate::forms::record::{PASSPHRASE, PASSPHRASE_AGAIN, REVIEW_DAYS, read_review};
use crate::reviewed::Reviewed;
use crate::sentences;
use crate::store::{Log, of_file};
use crate::words::ShellLabel;

/// What is written into a file.
pub(super) enum Written {
    Review,
    Sheet(String),
    Statement(String),
    Table,
    Bundle,
    Sealed(Zeroizing<String>),
    Recovered,
}

impl Written {
    /// The beginning and the ending of its name, its media type, and the field beside which it is said why it cannot be written.
    const fn file(&self) -> (&'static str, &'static str, &'static str, Option<&'static str>) {
        match self {
            Self::Review => ("ebbstead", "html", "text/html", Some(REVIEW_DAYS.0)),
            Self::Sheet(_) => ("ebbstead-sensor", "txt", "text/plain", None),
            Self::Statement(_) => ("ebbstead-need", "txt", "text/plain", None),
            Self::Table => ("ebbstead", "csv", "text/csv", None),
            Self::Bundle => ("ebbstead", "json", "application/fhir+json", None),
            Self::Sealed(_) => ("ebbstead", "age", "application/octet-stream", Some(PASSPHRASE)),
            Self::Recovered => ("ebbstead-recovered", "ebb", "application/octet-stream", None),
        }
    }
}

impl RecordPages {
    pub(super) fn save_text(&mut self, asked: &Asked) -> Done {
        match &self.extra {
            Extra::Sheet(text) => self.write(Written::Sheet(text.clone()), asked),
            Extra::Statement(page) => self.write(Written::Statement(page.to_string()), asked),
            Extra::Nothing | Extra::Lesson(_) => Done::NOTHING,
        }
    }

    pub(super) fn seal(&mut self, passphrase: Zeroizing<String>, again: Zeroizing<String>, asked: &Asked) -> Done {
        if passphrase == again {
            return self.write(Written::Sealed(passphrase), asked);
        }
        let differ = asked.words.shell_label(ShellLabel::PassphrasesDiffer).to_owned();
        self.remarks.beside.insert(PASSPHRASE_AGAIN.to_owned(), differ);
        Done::NOTHING
    }

    /// Makes a file for the wearer to keep.
    pub(super) fn write(&mut self, what: Written, asked: &Asked) -> Done {
        let Asked { words, now, .. } = *asked;
        let (stem, ending, media_type, field) = what.file();
        let name = format!("{stem}-{}.{ending}", now.local_date());
        let path = self.folder.join(&name);
        let made = fs::create_dir_all(&self.folder).map_err(|source| of_file(&self.folder, source));
        let made = made.and_then(|()| match what {
            Written::Review => {
                let reviewed =
                    Reviewed::of(&sound(asked)?, self.days(REVIEW_DAYS, asked)?, read_review(&self.filled), now)?;
                write_text(&path, &reviewed.html(words, now)).map(|()| Vec::new())
            }
            Written::Sheet(text) | Written::Statement(text) => write_text(&path, &text).map(|()| Vec::new()),
            Written::Table => {
                write_table(&Log::open_to_read(asked.log)?, &path, true, (Which::Holding, (None, None)), words)
            }
            Written::Bundle => write_bundle(&Log::open_to_read(asked.log)?, &path, true, (None, now), now, words),
            Written::Sealed(passphrase) => seal(&Log::open_to_read(asked.log)?, &path, true, passphrase, now, words),
            Written::Recovered => {
                // What was left of an earlier one on its way out would be in the way.
                let _ = fs::remove_file(&path);
                let mut lines = sentences::merge::recovered_lines(&Log::recover(asked.log, &path, now)?, words);
                lines.push(words.shell_label(ShellLabel::RecoverThen).to_owned());
                Ok(lines)
            }
        });
        let made = self.remarks.attempt(field, words, made);
        let document = made.map(|lines| Document { name, media_type, path, said: lines.join("\n") });
        Done { document, ..Done::NOTHING }
    }
}
