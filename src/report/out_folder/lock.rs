//! One writer at a time in a folder. The lock ends with the process that holds it, however that ends, and leaves no file.

use std::fs::File;
use std::io;
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use crate::report::files::FileError;

/// Others only hold it while they write.
const WAIT: Duration = Duration::from_secs(60);
const LOOK_EVERY: Duration = Duration::from_millis(20);

/// Held until it is dropped.
#[derive(Debug)]
pub(super) struct Lock {
    _held: Option<File>,
}

/// Waits until nobody else writes to a folder.
///
/// # Errors
/// Somebody does for a minute, or the folder cannot be opened.
pub(super) fn take(folder: &Path) -> Result<Lock, FileError> {
    let began = Instant::now();
    loop {
        if let Some(lock) = try_take(folder)? {
            return Ok(lock);
        }
        if began.elapsed() > WAIT {
            let reason = "another plantday is writing to it\n  expected a folder of its own for each run at the same time: name another with --out";
            return Err(fail(folder, io::Error::other(reason)));
        }
        thread::sleep(LOOK_EVERY);
    }
}

/// The lock, if nobody else writes to the folder now.
pub(super) fn try_take(folder: &Path) -> Result<Option<Lock>, FileError> {
    attempt(folder).map_err(|reason| fail(folder, reason))
}

fn fail(folder: &Path, reason: io::Error) -> FileError {
    FileError::new("write to the folder", folder, reason)
}

#[cfg(unix)]
fn attempt(folder: &Path) -> io::Result<Option<Lock>> {
    use std::fs::TryLockError;
    let opened = File::open(folder)?;
    match opened.try_lock() {
        Ok(()) => Ok(Some(Lock {
            _held: Some(opened),
        })),
        Err(TryLockError::WouldBlock) => Ok(None),
        // A file system without locks: one writer at a time is then the user's to keep.
        Err(TryLockError::Error(_)) => Ok(Some(Lock { _held: None })),
    }
}

/// A folder cannot be locked: a file in it that nobody else may open, and that goes when it is closed.
#[cfg(windows)]
fn attempt(folder: &Path) -> io::Result<Option<Lock>> {
    use std::os::windows::fs::OpenOptionsExt;
    const DELETE_ON_CLOSE: u32 = 0x0400_0000;
    const SHARING_VIOLATION: i32 = 32;
    let opened = std::fs::OpenOptions::new()
        .write(true)
        .create(true)
        .share_mode(0)
        .custom_flags(DELETE_ON_CLOSE)
        .open(folder.join(super::LOCK));
    match opened {
        Ok(held) => Ok(Some(Lock { _held: Some(held) })),
        Err(error) if error.raw_os_error() == Some(SHARING_VIOLATION) => Ok(None),
        Err(error) => Err(error),
    }
}

#[cfg(not(any(unix, windows)))]
fn attempt(_: &Path) -> io::Result<Option<Lock>> {
    Ok(Some(Lock { _held: None }))
}
