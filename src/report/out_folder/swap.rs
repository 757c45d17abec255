//! A set of files put into a folder whole or not at all.
//!
//! The set is written into a folder within, [`WRITING`]: broken off so far, nothing has happened, and what is there is thrown away.
//! When it is complete that folder is renamed to [`PLACING`], which a file system does at once or not at all. From then on the files
//! are moved to their places, with a note for people beside them as long as some may be of the older set; whoever comes next finds
//! [`PLACING`] and moves the rest.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;

use super::{LIST, list_text, read_list};
use super::{NOTE, Ours, PLACING, WRITING};
use crate::report::files::{FileError, Fill};

const NOTE_TEXT: &str = "\
plantday was putting a new answer in place of an older one in this folder, and was broken off:
until it has finished, files here may be of either answer.

The new answer is complete. The next plantday that writes to this folder finishes what was begun
and removes this note.
";

/// Puts files into a folder, with the list of all that is ours there from then on, and removes what the old list has and the new one has
/// not. To be called by one writer at a time.
///
/// # Errors
/// The first file that could not be written; all that was there is untouched then. Or a file that could not be moved to its place: the
/// next call of [`finish`] goes on.
pub(super) fn replace<B: Fill>(
    folder: &Path,
    files: &[(String, B)],
    list: &Ours,
) -> Result<(), FileError> {
    let staged = folder.join(WRITING);
    let begun = stage(folder, &staged, files, list).and_then(|()| {
        let fail = |reason| FileError::new("write to the folder", folder, reason);
        fs::rename(&staged, folder.join(PLACING)).map_err(fail)
    });
    if let Err(error) = begun {
        let _ = fs::remove_dir_all(&staged);
        return Err(error.hint("\n  what was in the folder before is as it was"));
    }
    finish(folder)
}

/// Writes the files, the list and the note into a folder of their own. Messages name the places where they are to stand.
fn stage<B: Fill>(
    folder: &Path,
    staged: &Path,
    files: &[(String, B)],
    list: &Ours,
) -> Result<(), FileError> {
    fs::create_dir(staged)
        .map_err(|reason| FileError::new("write to the folder", folder, reason))?;
    let write = |name: &str, content: &dyn Fill| {
        let write = || -> io::Result<()> {
            let file = fs::File::create_new(staged.join(name))?;
            let mut file = io::BufWriter::new(file);
            content.fill(&mut file)?;
            file.into_inner()?.sync_all()
        };
        write().map_err(|reason| FileError::new("write", &folder.join(name), reason))
    };
    for (name, content) in files {
        write(name, content)?;
    }
    write(NOTE, &NOTE_TEXT.as_bytes().to_vec())?;
    write(LIST, &list_text(list).into_bytes())?;
    Ok(())
}

/// Throws away what was not complete, and finishes what was. To be called by one writer at a time.
///
/// # Errors
/// A file that could not be moved or removed.
pub(super) fn finish(folder: &Path) -> Result<(), FileError> {
    let fail = |doing, path: &Path, reason| {
        FileError::new(doing, path, reason)
            .hint("\n  the answer in this folder is not whole until the next run finishes it")
    };
    remove_folder(&folder.join(WRITING)).map_err(|reason| fail("clear", folder, reason))?;
    let placing = folder.join(PLACING);
    if let Some(new) = read_list(&placing.join(LIST)) {
        // The list goes last: as long as it is there, this can be done again from the beginning.
        let mut names = names_in(&placing).map_err(|reason| fail("read", folder, reason))?;
        names.remove(LIST);
        let note = names.take(NOTE);
        for name in note.iter().chain(&names) {
            let place = folder.join(name);
            fs::rename(placing.join(name), &place)
                .map_err(|reason| fail("write", &place, reason))?;
        }
        let kept: BTreeSet<&String> = new.values().flatten().collect();
        let old = read_list(&folder.join(LIST)).unwrap_or_default();
        for name in old.values().flatten().filter(|name| !kept.contains(name)) {
            remove(&folder.join(name))?;
        }
        let place = folder.join(LIST);
        fs::rename(placing.join(LIST), &place).map_err(|reason| fail("write", &place, reason))?;
    }
    if placing.is_dir() {
        remove(&folder.join(NOTE))?;
        remove_folder(&placing).map_err(|reason| fail("clear", folder, reason))?;
    }
    Ok(())
}

fn names_in(folder: &Path) -> io::Result<BTreeSet<String>> {
    let entries = fs::read_dir(folder)?;
    entries
        .map(|entry| Ok(entry?.file_name().to_string_lossy().into_owned()))
        .collect()
}

/// Removes a file or link and nothing else; one that is not there is no error.
fn remove(path: &Path) -> Result<(), FileError> {
    if fs::symlink_metadata(path).is_ok_and(|about| !about.is_dir())
        && let Err(reason) = fs::remove_file(path)
        && reason.kind() != ErrorKind::NotFound
    {
        return Err(FileError::new("remove", path, reason));
    }
    Ok(())
}

/// Removes a folder of ours, not what a link of its name leads to; one that is not there is no error.
fn remove_folder(path: &Path) -> io::Result<()> {
    match fs::symlink_metadata(path) {
        Ok(about) if about.is_dir() => fs::remove_dir_all(path),
        Ok(_) => fs::remove_file(path),
        Err(_) => Ok(()),
    }
}
