//! Another log, or a sealed copy, that was chosen to look into: its preview, its merging, and its end.

use std::fs::{self, File};
use std::path::PathBuf;

use ebbstead_present::record::{Chapter, OtherLog};
use zeroize::Zeroizing;

use super::{Asked, Changed, Chosen, Done, RecordPages, Shown};
use crate::copies::Opened;
use crate::error::{Error, Quantity};
use crate::exchange::detect::{Format, detect};
use crate::forms::record::PASSPHRASE_OF_COPY;
use crate::sentences;
use crate::store::{Log, of_file};
use crate::words::Words;

impl RecordPages {
    /// Looks into another log, or a sealed copy, that the wearer chose. The file is deleted when they are done with it.
    pub fn chosen(&mut self, file: PathBuf, name: String, asked: &Asked) -> Shown {
        // The same place may hold another file by now.
        self.chosen = self.chosen.take().filter(|before| before.file != file);
        self.turn(Some(Chapter::Copies));
        let opened = File::open(&file).and_then(detect).map_err(|source| of_file(&file, source));
        if let Some((format, _)) = self.remarks.attempt(None, asked.words, opened) {
            let is_sealed = format == Format::SealedLog;
            self.chosen = Some(Chosen { file, log: OtherLog { name, is_sealed, preview: None } });
            if !is_sealed {
                self.look_into(None, asked);
            }
        }
        self.show(asked)
    }

    /// Only a sealed copy has a passphrase. What opens it comes back.
    pub(super) fn look_into(
        &mut self,
        passphrase: Option<Zeroizing<String>>,
        asked: &Asked,
    ) -> Option<Zeroizing<String>> {
        let chosen = self.chosen.as_mut()?;
        let passphrase = chosen.log.is_sealed.then(|| passphrase.unwrap_or_default());
        let preview = Opened::of(&chosen.file, passphrase.clone())
            .and_then(|other| other.preview(&mut Log::open(asked.log, asked.now)?, asked.now, asked.words));
        // What is no log at all is not kept.
        let is_none = matches!(
            preview,
            Err(Error::NotALog { .. }
                | Error::NotASealedLog { .. }
                | Error::File { .. }
                | Error::DamagedSealedLog { .. })
        );
        let field = preview.as_ref().err().and_then(field_of_copy);
        chosen.log.preview = self.remarks.attempt(field, asked.words, preview);
        let is_open = chosen.log.preview.is_some();
        if is_none {
            self.leave();
        }
        passphrase.filter(|_| is_open)
    }

    pub(super) fn merge(&mut self, passphrase: Option<Zeroizing<String>>, force: bool, asked: &Asked) -> Done {
        let Some(chosen) = &self.chosen else { return Done::NOTHING };
        let passphrase = chosen.log.is_sealed.then(|| passphrase.unwrap_or_default());
        let merged = Opened::of(&chosen.file, passphrase.clone()).and_then(|other| {
            let mut log = Log::open(asked.log, asked.now)?;
            let (recorded, restored) = other.merge(&mut log, force, asked.now)?;
            // In the restored settings' language, if there were any.
            let words = if restored { Words::of(&log.wearer()?) } else { asked.words };
            Ok((sentences::merge::merged_lines(&recorded, restored, words), restored.then_some(words)))
        });
        let field = merged.as_ref().err().and_then(field_of_copy);
        match self.remarks.attempt(field, asked.words, merged) {
            Some((lines, words)) => {
                self.remarks.said.push(lines.join("\n"));
                self.leave();
                let changed = if words.is_some() { Changed::Restored } else { Changed::Log };
                Done { words, ..Done::changed(changed) }
            }
            None => Done { opened: passphrase.filter(|_| field.is_none()), ..Done::NOTHING },
        }
    }

    /// Lets go of what was chosen to look into; nothing of it stays on the phone.
    pub(super) fn leave(&mut self) {
        let Some(Chosen { file, .. }) = self.chosen.take() else { return };
        // SQLite may have written beside what was read.
        for end in ["", "-wal", "-shm"] {
            let mut place = file.clone().into_os_string();
            place.push(end);
            // What was never there is gone as well.
            let _ = fs::remove_file(place);
        }
    }
}

/// Where an error in opening another log is said, if it is of what was typed.
const fn field_of_copy(error: &Error) -> Option<&'static str> {
    match error {
        Error::WrongPassphrase { .. } | Error::Invalid { what: Quantity::Passphrase, .. } => Some(PASSPHRASE_OF_COPY),
        _ => None,
    }
}
