//! A disk that is small or read-only, for every test that needs one; other packages' tests read this file too.
#![allow(clippy::unwrap_used)] // a test may stop where it stands

use std::path::Path;
use std::process::{Command, Stdio};

use tempfile::TempDir;

/// A small file system of its own, taken off again when dropped. Only the machine's administrator can make one.
pub struct Disk(TempDir);

impl Disk {
    /// One with so much room (`600k`, `2m`). Nothing, after saying so, where none can be made.
    pub fn new(size: &str) -> Option<Self> {
        use std::io::Write;
        let folder = tempfile::tempdir().unwrap();
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={size},mode=700"), "tmpfs"])
            .arg(folder.path())
            .stderr(Stdio::null())
            .status();
        if mounted.is_ok_and(|status| status.success()) {
            return Some(Self(folder));
        }
        std::io::stderr().write_all(b"skipped: small disk: a file system can only be mounted by root\n").unwrap();
        None
    }

    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// Fills it up; the file that does it is handed back, to make some room again.
    #[allow(dead_code)] // not by each package's tests
    pub fn fill(&self) -> std::fs::File {
        use std::io::Write;
        let mut filler = std::fs::File::create(self.path().join("filler")).unwrap();
        while filler.write_all(&[7; 4096]).is_ok() {}
        filler
    }

    /// Mounts it again with other options (`ro`, `size=4m`).
    #[allow(dead_code)] // not by each package's tests
    pub fn remount(&self, how: &str) {
        let status = Command::new("mount").args(["-o", &format!("remount,{how}")]).arg(self.path()).status();
        assert!(status.unwrap().success());
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.path()).status();
    }
}
