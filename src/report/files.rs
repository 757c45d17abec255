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

    /// The file or folder concerned.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// Writes a file so that a reader sees the old content or the new, never a part: a temporary file beside it is written,
/// flushed to the disk and renamed. A link is replaced, not followed.
///
/// # Errors
/// Names the file and the reason. What was there before is untouched then.
pub fn write(path: &Path, content: &[u8]) -> Result<(), FileError> {
    let fail = |reason| FileError::new("write", path, reason);
    if path.is_dir() {
        return Err(fail(io::Error::other("there is a folder of that name")));
    }
    let mut file = temporary(".plantday-", folder_of(path)).map_err(fail)?;
    file.write_all(content).map_err(fail)?;
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
    let mut probe = temporary(".plantday-check-", existing).map_err(fail)?;
    probe.write_all(b"x").map_err(fail)?;
    probe.close().map_err(fail)
}

fn temporary(prefix: &str, folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(prefix);
    #[cfg(unix)]
    {
        // Temporary files are private by default; a result is an ordinary file, the user's mask decides.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    // The library puts the random path of the temporary file into its messages: only the kind is news to the user.
    builder
        .tempfile_in(folder)
        .map_err(|error| match error.raw_os_error() {
            Some(code) => io::Error::from_raw_os_error(code),
            None => io::Error::from(error.kind()),
        })
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
