//! Files written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::Builder;

/// A file or folder that could not be made.
#[derive(Debug, thiserror::Error)]
#[error("cannot {doing} {}: {reason}{hint}", path.display())]
pub struct FileError {
    doing: &'static str,
    path: PathBuf,
    reason: io::Error,
    hint: &'static str,
}

impl FileError {
    pub(super) fn new(doing: &'static str, path: &Path, reason: io::Error) -> Self {
        Self {
            doing,
            path: path.to_path_buf(),
            reason,
            hint: "",
        }
    }

    /// The same with what is to be said after the reason.
    #[must_use]
    pub(super) fn hint(mut self, hint: &'static str) -> Self {
        self.hint = hint;
        self
    }

    /// The file or folder concerned.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// What a file is to hold.
pub(crate) trait Fill {
    /// Writes it: the same bytes each time.
    ///
    /// # Errors
    /// It cannot be written there.
    fn fill(&self, to: &mut dyn Write) -> io::Result<()>;
}

impl Fill for Vec<u8> {
    fn fill(&self, to: &mut dyn Write) -> io::Result<()> {
        to.write_all(self)
    }
}

/// What a file is called while it is written.
pub(super) const UNFINISHED: &str = ".plantday-unfinished-";

/// Writes a file so that a reader sees the old content or the new, never a part: a temporary file beside it is written,
/// flushed to the disk and renamed. A link is replaced, not followed. What earlier calls that were killed have left there is removed.
///
/// # Errors
/// Names the file and the reason. What was there before is untouched then.
pub fn write(path: &Path, content: &[u8]) -> Result<(), FileError> {
    write_with(path, |to| to.write_all(content))
}

/// The same of a content that may be larger than memory.
///
/// # Errors
/// As [`write`].
pub(super) fn write_with(
    path: &Path,
    content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), FileError> {
    let fail = |reason| FileError::new("write", path, reason);
    let folder = folder_of(path);
    allows(path)?;
    remove_left(folder);
    let mut file = loop {
        let file = temporary(folder).map_err(fail)?;
        // Whoever clears away what was left may have come between.
        if file.as_file().try_lock().is_err() || file.path().exists() {
            break file;
        }
    };
    content(file.as_file_mut()).map_err(fail)?;
    file.as_file().sync_all().map_err(fail)?;
    file.persist(path).map_err(|failed| FileError {
        hint: if cfg!(windows) && path.exists() {
            " (is it open in another program?)"
        } else {
            ""
        },
        ..fail(failed.error)
    })?;
    Ok(())
}

/// Whether [`write`] could write there, as far as it can be known before. Leaves nothing behind.
///
/// # Errors
/// There is a folder of that name, or none that can be written to.
pub(crate) fn check(path: &Path) -> Result<(), FileError> {
    allows(path)?;
    let folder = folder_of(path);
    if !folder.is_dir() {
        let reason = format!("there is no folder {}", folder.display());
        return Err(FileError::new("write", path, io::Error::other(reason)));
    }
    probe(folder).map_err(|reason| FileError::new("write", path, reason))
}

fn allows(path: &Path) -> Result<(), FileError> {
    match path.is_dir() {
        true => Err(FileError::new(
            "write",
            path,
            io::Error::other("there is a folder of that name"),
        )),
        false => Ok(()),
    }
}

/// Removes files that were being written when their program was killed: those that nobody holds.
pub(super) fn remove_left(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let left = entries.filter(|entry| {
        entry.file_name().to_string_lossy().starts_with(UNFINISHED)
            && entry.file_type().is_ok_and(|kind| kind.is_file())
    });
    for entry in left {
        let held = fs::File::open(entry.path()).and_then(|file| Ok(file.try_lock()?));
        if held.is_ok() {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Makes a folder and those above it, if they are not there yet.
///
/// # Errors
/// Names the folder and the reason.
pub fn create_folder(folder: &Path) -> Result<(), FileError> {
    fs::create_dir_all(folder).map_err(|reason| FileError::new("make the folder", folder, reason))
}

/// Checks that files can be written to a folder which may not exist yet. Leaves nothing behind.
///
/// # Errors
/// Names the folder and the reason.
pub(super) fn check_writable(folder: &Path) -> Result<(), FileError> {
    let fail = |reason| FileError::new("write to the folder", folder, reason);
    let mut existing = folder;
    while !existing.as_os_str().is_empty() && fs::symlink_metadata(existing).is_err() {
        existing = existing.parent().unwrap_or(Path::new(""));
    }
    let existing = or_here(existing);
    if !existing.is_dir() {
        let reason = format!("{} is not a folder", existing.display());
        return Err(fail(io::Error::other(reason)));
    }
    probe(existing).map_err(fail)
}

/// Writes to a folder a file that goes when it is closed.
fn probe(folder: &Path) -> io::Result<()> {
    let mut file = tempfile::tempfile_in(folder).map_err(without_path)?;
    file.write_all(b"x")
}

fn temporary(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(UNFINISHED);
    #[cfg(unix)]
    {
        // Temporary files are private by default; a result is an ordinary file, the user's mask decides.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder).map_err(without_path)
}

/// The library puts the random path of the temporary file into its messages: only the kind is news to the user.
fn without_path(error: io::Error) -> io::Error {
    match error.raw_os_error() {
        Some(code) => io::Error::from_raw_os_error(code),
        None => io::Error::from(error.kind()),
    }
}

fn folder_of(path: &Path) -> &Path {
    or_here(path.parent().unwrap_or(Path::new("")))
}

fn or_here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names_in(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_is_replaced_whole_and_nothing_else_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("table.csv");
        write(&path, b"old").unwrap();
        write(&path, b"new").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(names_in(folder.path()), ["table.csv"]);
    }

    #[test]
    fn what_a_killed_program_left_is_removed_and_what_is_being_written_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let name = |of: &str| folder.path().join(format!("{UNFINISHED}{of}"));
        fs::write(name("left"), b"half").unwrap();
        fs::write(name("held"), b"half").unwrap();
        let held = fs::File::open(name("held")).unwrap();
        held.lock().unwrap();
        write(&folder.path().join("a.csv"), b"whole").unwrap();
        assert_eq!(
            names_in(folder.path()),
            [&format!("{UNFINISHED}held"), "a.csv"]
        );
    }

    #[cfg(unix)]
    #[test]
    fn a_result_has_the_permissions_of_an_ordinary_file() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let (ours, ordinary) = (folder.path().join("ours"), folder.path().join("ordinary"));
        write(&ours, b"").unwrap();
        fs::write(&ordinary, b"").unwrap();
        let mode = |path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&ordinary));
    }

    #[test]
    fn a_failure_names_the_path_and_the_reason() {
        let folder = tempfile::tempdir().unwrap();
        let missing = folder.path().join("missing").join("a.csv");
        let message = write(&missing, b"x").unwrap_err().to_string();
        assert!(message.starts_with("cannot write "), "{message}");
        assert!(message.contains("a.csv"), "{message}");
        assert!(!message.contains(".plantday-"), "{message}");
        let taken = write(folder.path(), b"x").unwrap_err().to_string();
        assert!(taken.contains("there is a folder of that name"), "{taken}");
    }

    #[test]
    fn the_early_check_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        check_writable(folder.path()).unwrap();
        check_writable(&folder.path().join("new").join("deeper")).unwrap();
        assert!(names_in(folder.path()).is_empty());

        let file = folder.path().join("file");
        write(&file, b"x").unwrap();
        let message = check_writable(&file.join("below")).unwrap_err().to_string();
        assert!(message.contains("is not a folder"), "{message}");
        create_folder(&folder.path().join("new").join("deeper")).unwrap();
        assert_eq!(names_in(folder.path()), ["file", "new"]);
        assert!(create_folder(&file).is_err());
    }
}
