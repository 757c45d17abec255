//! Files of what a run has done so far, and of its parts: where they stand in the folder of the answer.

use super::files::{self, FileError};
use crate::studies::{Asked, Part, SoFar};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// How their names end; no other file of a folder is called so.
pub(crate) const ENDING: &str = ".plantday";

/// Where a run of a study keeps what it has done until it is finished.
pub(crate) fn unfinished(folder: &Path, study: &str, part: Option<Part>) -> PathBuf {
    folder.join(format!("{}-so-far{ENDING}", name(study, part)))
}

/// Where a part stands that is done.
pub(crate) fn part(folder: &Path, study: &str, part: Part) -> PathBuf {
    folder.join(format!("{}{ENDING}", name(study, Some(part))))
}

fn name(study: &str, part: Option<Part>) -> String {
    match part {
        None => study.to_owned(),
        Some(Part { nth, of }) => format!("{study}-part-{nth}-of-{of}"),
    }
}

/// Writes one, and its folder if need be. What stood there before stays until it is whole.
///
/// # Errors
/// Names the file and the reason.
pub(crate) fn write(path: &Path, asked: &Asked, so_far: &SoFar<'_>) -> Result<(), FileError> {
    if let Some(folder) = path.parent() {
        files::create_folder(folder)?;
    }
    files::write_with(path, |to| so_far.write(asked, to))
}

/// Removes one, and what was left where one was being written when its program was killed. One that is not there is no error.
///
/// # Errors
/// It cannot be removed.
pub(crate) fn remove(path: &Path) -> Result<(), FileError> {
    if let Some(folder) = path.parent() {
        files::remove_left(folder);
    }
    match fs::remove_file(path) {
        Err(reason) if reason.kind() != ErrorKind::NotFound => {
            Err(FileError::new("remove", path, reason))
        }
        _ => Ok(()),
    }
}

/// All of them in a folder, and in the folders within where there are none in itself; in the order of their names.
///
/// # Errors
/// The folder cannot be read.
pub(crate) fn all_in(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut within = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            within.push(path);
        } else if path.to_string_lossy().ends_with(ENDING) {
            found.push(path);
        }
    }
    if found.is_empty() {
        for folder in within {
            let entries = fs::read_dir(folder)?.flatten().map(|entry| entry.path());
            found.extend(
                entries.filter(|path| path.is_file() && path.to_string_lossy().ends_with(ENDING)),
            );
        }
    }
    found.sort();
    Ok(found)
}
