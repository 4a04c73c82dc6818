//! `seal` and `unseal`: the whole log in one file that only a passphrase opens.

use std::fs::File;
use std::io::{self, IsTerminal, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use ebbstead_core::Error;
use ebbstead_core::copies::{self, Opened};
use ebbstead_core::{say, text};
use zeroize::Zeroizing;

use crate::commands::merge::{Consent, merge};
use crate::context::Context;
use crate::failure::Failure;

/// Where the passphrase comes from. Never the command line: other users of the machine can read that.
#[derive(Debug, Args)]
pub struct Asked {
    /// Read the passphrase from this file or descriptor (/dev/fd/3) instead of asking for it; - is standard input
    #[arg(long, value_name = "PATH")]
    pub passphrase_from: Option<PathBuf>,
}

/// `seal`.
#[derive(Debug, Args)]
pub struct Seal {
    /// The file to write
    pub file: PathBuf,
    /// Replace the file if it is there
    #[arg(long)]
    pub replace: bool,
    #[command(flatten)]
    pub asked: Asked,
}

/// `unseal`.
#[derive(Debug, Args)]
pub struct Unseal {
    /// The sealed file
    pub file: PathBuf,
    #[command(flatten)]
    pub consent: Consent,
    #[command(flatten)]
    pub asked: Asked,
}

pub fn seal(context: &Context, given: &Seal) -> Result<(), Failure> {
    let now = context.now()?;
    if given.asked.passphrase_from.as_deref().is_some_and(|from| is_same_file(from, &given.file)) {
        let path = given.file.display();
        return Err(Failure::Value(say!(context.words(), "terminal-seal-is-the-passphrase-file", path)));
    }
    let (log, _) = context.open(now)?;
    let passphrase = passphrase(context, &given.asked, true)?;
    let lines = copies::seal(&log, &given.file, given.replace, passphrase, now, context.words())?;
    let mut screen = context.screen();
    lines.iter().try_for_each(|line| screen.paragraph(line))?;
    Ok(screen.finish()?)
}

pub fn unseal(context: &Context, given: &Unseal) -> Result<(), Failure> {
    let now = context.now()?;
    // What is not there is said before a passphrase is asked for.
    File::open(&given.file).map_err(|source| Error::File { path: given.file.clone(), source })?;
    let passphrase = passphrase(context, &given.asked, false)?;
    let other = Opened::of(&given.file, Some(passphrase))?;
    let (mut log, _) = context.open_to_write(now)?;
    merge(context, &mut log, &other, given.consent, now)
}

/// Asks for the passphrase without showing it, twice where a slip would seal the log for good.
fn passphrase(context: &Context, asked: &Asked, twice: bool) -> Result<Zeroizing<String>, Failure> {
    if let Some(path) = &asked.passphrase_from {
        return from_file(context, path);
    }
    if !io::stdin().is_terminal() {
        return Err(Failure::Value(text!(context.words(), "terminal-seal-there-no-terminal-to-ask").to_owned()));
    }
    let ask = |question: &str| -> Result<Zeroizing<String>, Failure> {
        Ok(Zeroizing::new(rpassword::prompt_password(format!("{question} "))?))
    };
    let first = ask(text!(context.words(), "terminal-seal-passphrase-nothing-shown"))?;
    if twice {
        let second = ask(text!(context.words(), "terminal-seal-once-more"))?;
        if *first != *second {
            return Err(Failure::Value(text!(context.words(), "terminal-seal-two-not-same-nothing-sealed").to_owned()));
        }
    }
    Ok(first)
}

/// Whether two names lead to one file, through links of either kind and open descriptors too.
fn is_same_file(one: &Path, other: &Path) -> bool {
    let one = if one == Path::new("-") { Path::new("/dev/stdin") } else { one };
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let file = |path: &Path| std::fs::metadata(path).ok().map(|found| (found.dev(), found.ino()));
        file(one).is_some_and(|found| file(other) == Some(found))
    }
    #[cfg(not(unix))]
    {
        let file = |path: &Path| std::fs::canonicalize(path).ok();
        file(one).is_some_and(|found| file(other) == Some(found))
    }
}

/// The first line of a file.
fn from_file(context: &Context, path: &Path) -> Result<Zeroizing<String>, Failure> {
    const MOST: usize = 4096;
    let refused = |source| Error::File { path: path.to_owned(), source };
    let input: Box<dyn Read> = if path == Path::new("-") {
        Box::new(io::stdin().lock())
    } else {
        Box::new(File::open(path).map_err(refused)?)
    };
    // Room for all of it at once: a buffer that grows leaves its old room unwiped.
    let mut bytes = Zeroizing::new(Vec::with_capacity(MOST + 1));
    input.take(MOST as u64).read_to_end(&mut bytes).map_err(refused)?;
    let line = bytes.split(|byte| *byte == b'\n').next().unwrap_or_default();
    let line = line.strip_suffix(b"\r").unwrap_or(line);
    std::str::from_utf8(line)
        .map(|text| Zeroizing::new(text.to_owned()))
        .map_err(|_| Failure::Value(text!(context.words(), "terminal-seal-passphrase-no-text").to_owned()))
}
