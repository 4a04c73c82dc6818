//! A file that is there as a whole or not at all.

use std::fs::File;
use std::io;
use std::path::Path;

use tempfile::NamedTempFile;

use crate::error::{Error, Result};
use crate::store::of_file;

/// Writes a file beside its final name, readable by its owner only, forces it to the disk and puts it in place by one
/// rename. A file that is there already is kept unless `replace`.
///
/// # Errors
/// Those of `write`; [`Error::File`], [`Error::DiskFull`], [`Error::ReadOnly`]. Nothing changed at `path` in any of these
/// cases; a killed program leaves at most a file whose name ends in `.part`.
pub fn put_in_place<T, E: From<Error>>(
    path: &Path,
    replace: bool,
    write: impl FnOnce(&NamedTempFile) -> Result<T, E>,
) -> Result<T, E> {
    let absolute = std::path::absolute(path).map_err(|source| Error::File { path: path.to_owned(), source })?;
    let refused = |source: io::Error| E::from(of_file(path, source));
    if !replace && absolute.symlink_metadata().is_ok() {
        return Err(refused(io::ErrorKind::AlreadyExists.into()));
    }
    let folder = absolute.parent().ok_or_else(|| refused(io::ErrorKind::IsADirectory.into()))?;
    let part = tempfile::Builder::new().prefix(".writing-").suffix(".part").tempfile_in(folder).map_err(refused)?;
    let done = write(&part)?;
    part.as_file().sync_all().map_err(refused)?;
    let placed = if replace { part.persist(&absolute) } else { part.persist_noclobber(&absolute) };
    placed.map_err(|error| refused(error.error))?;
    sync_folder(folder).map_err(refused)?;
    Ok(done)
}

/// Forces the new name to the disk, where folders can be: a rename alone may be lost with the power.
fn sync_folder(folder: &Path) -> io::Result<()> {
    #[cfg(unix)]
    File::open(folder)?.sync_all()?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}
