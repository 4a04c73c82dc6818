//! The contents of an age file: pieces of 64 KiB, opened one after another.
//!
//! age reads the head, tries the passphrase and vouches for the head. It could read the contents too; but its reader tells
//! of one kind of damage in words, and with them come its messages in seven languages and what chooses among them, a
//! sixteenth of the library that a phone carries. So the pieces are opened here, with the STREAM of the crate `aead`.
//!
//! Sources: age-encryption.org/v1 (C2SP), "Payload"; Hoang, Reyhanitabar, Rogaway and Vizár, Online Authenticated-Encryption
//! and its Nonce-Reuse Misuse-Resistance, CRYPTO 2015 (STREAM). The tests compare with age's own reader.

use std::cell::OnceCell;
use std::fmt;
use std::io::{self, BufRead, Read, Seek, SeekFrom};

use age::secrecy::ExposeSecret;
use age::{DecryptError, Decryptor, Identity};
use age_core::format::{FILE_KEY_BYTES, FileKey, Stanza};
use age_core::primitives::hkdf;
use chacha20poly1305::aead::stream::{NewStream, StreamBE32, StreamPrimitive};
use chacha20poly1305::{ChaCha20Poly1305, KeyInit};
use zeroize::Zeroizing;

/// What of a file is sealed as one piece, in bytes; the last may be shorter.
const PIECE: usize = 64 * 1024;
/// What a piece has besides: what proves it unchanged.
const TAG: usize = 16;
/// The random bytes between the head and the first piece.
const NONCE: usize = 16;

/// The contents, unsealed. Nothing of a piece is given before all of it proved unchanged; that no piece is missing shows at
/// the end alone.
pub(super) struct Pieces<R> {
    sealed: R,
    /// Its counter has four bytes here and eleven in age: the seven before them are zero, up to 256 TiB.
    stream: StreamBE32<ChaCha20Poly1305>,
    opened: u32,
    piece: Zeroizing<Vec<u8>>,
    read: usize,
    over: bool,
    /// What went wrong; nothing after that is to be trusted.
    broken: Option<io::ErrorKind>,
}

/// What opens the pieces of one file, and where they begin. Wiped from memory when it is dropped, and never printed.
pub(super) struct Key {
    key: Zeroizing<[u8; 32]>,
    first: u64,
}

impl Key {
    /// Reads the head of an age file and tries the passphrase, which takes its time; nothing where the file is not for one.
    pub(super) fn find(
        mut sealed: impl BufRead + Seek,
        identity: &impl Identity,
    ) -> Result<Option<Self>, DecryptError> {
        let decryptor = Decryptor::new_buffered(&mut sealed)?;
        if !decryptor.is_scrypt() {
            return Ok(None);
        }
        let found = Found { identity, key: OnceCell::new() };
        // Fails unless the key that was found proves the head unchanged.
        decryptor.decrypt(std::iter::once(&found as _))?;
        let key = found.key.into_inner().ok_or(DecryptError::NoMatchingKeys)?;
        let mut nonce = [0; NONCE];
        sealed.seek_relative(-(NONCE as i64))?;
        sealed.read_exact(&mut nonce)?;
        Ok(Some(Self { key: Zeroizing::new(hkdf(&nonce, b"payload", &*key)), first: sealed.stream_position()? }))
    }
}

impl fmt::Debug for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Key(..)")
    }
}

impl<R: BufRead + Seek> Pieces<R> {
    /// Opens the contents of the file that the key was found for.
    pub(super) fn open(mut sealed: R, key: &Key) -> io::Result<Self> {
        sealed.seek(SeekFrom::Start(key.first))?;
        let stream = StreamBE32::from_aead(ChaCha20Poly1305::new((&*key.key).into()), &Default::default());
        Ok(Self { sealed, stream, opened: 0, piece: Zeroizing::default(), read: 0, over: false, broken: None })
    }
}

impl<R: BufRead> Pieces<R> {
    /// Opens the next piece.
    fn open_next(&mut self) -> io::Result<()> {
        self.piece.clear();
        self.read = 0;
        self.piece.reserve_exact(PIECE + TAG);
        self.sealed.by_ref().take((PIECE + TAG) as u64).read_to_end(&mut self.piece)?;
        if self.piece.is_empty() {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        let last = loop {
            match self.sealed.fill_buf() {
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                ahead => break ahead?.is_empty(),
            }
        };
        // A piece that fails stays as it was.
        if self.stream.decrypt_in_place(self.opened, last, b"", &mut *self.piece).is_err() {
            let more_followed = last && self.stream.decrypt_in_place(self.opened, false, b"", &mut *self.piece).is_ok();
            let kind = if more_followed { io::ErrorKind::UnexpectedEof } else { io::ErrorKind::InvalidData };
            return Err(kind.into());
        }
        // Only contents that are empty as a whole end in an empty piece.
        if last && self.opened > 0 && self.piece.is_empty() {
            return Err(io::ErrorKind::InvalidData.into());
        }
        self.opened = self.opened.checked_add(1).ok_or(io::ErrorKind::InvalidData)?;
        self.over = last;
        Ok(())
    }
}

impl<R: BufRead> BufRead for Pieces<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if let Some(kind) = self.broken {
            return Err(kind.into());
        }
        if self.read == self.piece.len() && !self.over {
            let opened = self.open_next();
            self.broken = opened.as_ref().err().map(io::Error::kind);
            opened?;
        }
        Ok(&self.piece[self.read..])
    }

    fn consume(&mut self, amount: usize) {
        self.read = (self.read + amount).min(self.piece.len());
    }
}

impl<R: BufRead> Read for Pieces<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.fill_buf()?.read(into)?;
        self.consume(read);
        Ok(read)
    }
}

/// An identity that keeps the key it found.
struct Found<'i, I> {
    identity: &'i I,
    key: OnceCell<Zeroizing<[u8; FILE_KEY_BYTES]>>,
}

impl<I: Identity> Identity for Found<'_, I> {
    fn unwrap_stanza(&self, stanza: &Stanza) -> Option<Result<FileKey, DecryptError>> {
        let found = self.identity.unwrap_stanza(stanza);
        if let Some(Ok(key)) = &found {
            let _ = self.key.set(Zeroizing::new(*key.expose_secret()));
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Write};

    use age::Encryptor;

    use super::super::Passphrase;
    use super::*;

    fn passphrase() -> Passphrase {
        Passphrase::for_sealing(Zeroizing::new("three words or more".to_owned())).unwrap()
    }

    fn contents(length: usize) -> Vec<u8> {
        (0..length).map(|at| (at.wrapping_mul(2_654_435_761) >> 13) as u8).collect()
    }

    fn sealed(contents: &[u8]) -> Vec<u8> {
        let encryptor = Encryptor::with_recipients(std::iter::once(&passphrase().recipient() as _)).unwrap();
        let mut out = encryptor.wrap_output(Vec::new()).unwrap();
        out.write_all(contents).unwrap();
        out.finish().unwrap()
    }

    fn pieces(sealed: &[u8]) -> Pieces<Cursor<&[u8]>> {
        let key = Key::find(Cursor::new(sealed), &passphrase().identity()).unwrap().unwrap();
        Pieces::open(Cursor::new(sealed), &key).unwrap()
    }

    fn opened(sealed: &[u8]) -> io::Result<Vec<u8>> {
        let mut contents = Vec::new();
        pieces(sealed).read_to_end(&mut contents).map(|_| contents)
    }

    /// What age's own reader makes of it.
    fn by_age(sealed: &[u8]) -> io::Result<Vec<u8>> {
        let decryptor = Decryptor::new_buffered(sealed).unwrap();
        let mut reader = decryptor.decrypt(std::iter::once(&passphrase().identity() as _)).unwrap();
        let mut contents = Vec::new();
        reader.read_to_end(&mut contents).map(|_| contents)
    }

    // Source: the crate age, at lengths on both sides of every edge of a piece.
    #[test]
    fn reads_what_age_reads() {
        for length in [0, 1, PIECE - 1, PIECE, PIECE + 1, 2 * PIECE - 1, 2 * PIECE, 3 * PIECE + 7] {
            let whole = contents(length);
            let sealed = sealed(&whole);
            assert_eq!(opened(&sealed).unwrap(), whole, "{length}");
            assert_eq!(by_age(&sealed).unwrap(), whole, "{length}");
        }
    }

    // Source: the crate age, for which kind of failure each damage is.
    #[test]
    fn refuses_what_age_refuses() {
        let whole = sealed(&contents(2 * PIECE + 100));
        let body = whole.len() - (2 * PIECE + 100 + 3 * TAG);
        let last = body + 2 * (PIECE + TAG);
        let cut = [body, body + 1, body + TAG, body + PIECE + TAG, last, last + 1, last + TAG, whole.len() - 1];
        for end in cut {
            let (ours, theirs) = (opened(&whole[..end]).unwrap_err(), by_age(&whole[..end]).unwrap_err());
            assert_eq!(ours.kind(), theirs.kind(), "cut at {end}");
        }
        for at in [body, body + PIECE, body + PIECE + TAG, last - 1, last, whole.len() - 1] {
            let mut changed = whole.clone();
            changed[at] ^= 1;
            let (ours, theirs) = (opened(&changed).unwrap_err(), by_age(&changed).unwrap_err());
            assert_eq!(ours.kind(), theirs.kind(), "changed at {at}");
        }
        let piece = |number: usize| &whole[body + number * (PIECE + TAG)..body + (number + 1) * (PIECE + TAG)];
        let swapped = [&whole[..body], piece(1), piece(0), &whole[last..]].concat();
        let twice = [&whole[..body], piece(0), piece(0), &whole[last..]].concat();
        let longer = [&whole[..], b"more"].concat();
        for (what, changed) in [("swapped", swapped), ("twice", twice), ("longer", longer)] {
            assert_eq!(opened(&changed).unwrap_err().kind(), io::ErrorKind::InvalidData, "{what}");
            by_age(&changed).unwrap_err();
        }
    }

    /// An empty last piece after others: made by hand, since no sealing program may write one.
    #[test]
    fn refuses_an_empty_last_piece() {
        let whole = sealed(&contents(PIECE));
        let stream = pieces(&whole).stream;
        let mut made = whole[..whole.len() - (PIECE + TAG)].to_vec();
        made.extend(stream.encrypt(0, false, &contents(PIECE)[..]).unwrap());
        made.extend(stream.encrypt(1, true, &b""[..]).unwrap());
        assert_eq!(opened(&made).unwrap_err().kind(), io::ErrorKind::InvalidData);
        assert_eq!(by_age(&made).unwrap_err().kind(), io::ErrorKind::InvalidData);
    }

    /// Even where the pieces after a foreign one would fit.
    #[test]
    fn after_a_failure_nothing_more_is_given() {
        let whole = sealed(&contents(3 * PIECE));
        let second = whole.len() - 2 * (PIECE + TAG);
        let added = [&whole[..second], &[7; PIECE + TAG], &whole[second..]].concat();
        let mut pieces = pieces(&added);
        let mut contents = Vec::new();
        assert!(pieces.read_to_end(&mut contents).is_err());
        assert_eq!(contents.len(), PIECE);
        for _ in 0..3 {
            assert!(pieces.read(&mut [0; 10]).is_err());
        }
    }
}
