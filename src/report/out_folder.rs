//! The folder of an answer. A list in it names the files that are ours, by study: an older answer of the same study is replaced
//! whole, and no other file is written over or removed.

mod lock;
mod swap;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::files::{self, FileError, Fill};
use super::so_far;
use serde_json::json;

/// The list, a file of JSON: `{"plantday wrote": {"compare": ["compare.json", …], …}}`.
const LIST: &str = ".plantday.json";
const KEY: &str = "plantday wrote";

/// Names of ours besides, which stand in a folder while something is written there or after it was broken off.
const WRITING: &str = ".plantday-writing";
const PLACING: &str = ".plantday-placing";
const LOCK: &str = ".plantday-lock";
const NOTE: &str = "plantday-unfinished.txt";

/// A list that is longer than this, in bytes, is none of ours.
const LONGEST_LIST: u64 = 1 << 20;

/// What systems put into a folder by themselves when somebody looks into it.
const OF_THE_SYSTEM: [&str; 3] = [".DS_Store", "Thumbs.db", "desktop.ini"];

/// The names of our files by study.
type Ours = BTreeMap<String, BTreeSet<String>>;

/// Checks before long work starts that an answer can be written to a folder: it may not exist yet, or be empty, or hold answers of
/// ours. What an earlier run was broken off at is finished or cleared away; else it leaves nothing behind.
///
/// # Errors
/// Names the folder, the reason and what to do.
pub(crate) fn check(folder: &Path) -> Result<(), FileError> {
    files::check_writable(folder)?;
    ours(folder)?;
    // Whoever writes there just now finishes it.
    if folder.is_dir()
        && let Some(_lock) = lock::try_take(folder)?
    {
        swap::finish(folder)?;
    }
    Ok(())
}

/// Writes an answer of this study into a folder and says where it is: where a file of another study or of the user's stands in the
/// way, in a folder within, called as the study. The files of an older answer of the study that the new one does not have are
/// removed. Whoever is killed or finds the disk full meanwhile leaves the older answer or the new one, or a note that says that it is
/// neither, and the next run finishes the new one.
///
/// # Errors
/// The first file that could not be written, or the folder is not ours.
pub(crate) fn write<B: Fill>(
    folder: &Path,
    study: &str,
    answer: &[(String, B)],
) -> Result<PathBuf, FileError> {
    ours(folder)?;
    files::create_folder(folder)?;
    let _lock = lock::take(folder)?;
    swap::finish(folder)?;
    let mut listed = ours(folder)?;
    let older = listed.remove(study).unwrap_or_default();
    let new: BTreeSet<String> = answer.iter().map(|(name, _)| name.clone()).collect();
    let in_the_way = |name: &String| match fs::symlink_metadata(folder.join(name)) {
        Ok(stands) => stands.is_dir() || !older.contains(name),
        Err(_) => false,
    };
    if new.iter().any(in_the_way) {
        let within = write(&folder.join(study), study, answer)?;
        if !older.is_empty() {
            swap::replace::<B>(folder, &[], &listed)?;
        }
        return Ok(within);
    }
    listed.insert(study.to_owned(), new);
    swap::replace(folder, answer, &listed)?;
    Ok(folder.to_path_buf())
}

/// The files of ours in a folder.
fn ours(folder: &Path) -> Result<Ours, FileError> {
    for list in [folder.join(LIST), folder.join(PLACING).join(LIST)] {
        if let Some(listed) = read_list(&list) {
            return Ok(listed);
        }
    }
    match stranger(folder) {
        None => Ok(Ours::new()),
        Some(name) => {
            let reason = format!(
                "it holds files that plantday has not written, such as {name:?}\n  \
                 expected an answer's folder, an empty one or a new one: name another with --out"
            );
            Err(FileError::new(
                "write to the folder",
                folder,
                io::Error::other(reason),
            ))
        }
    }
}

/// The first file of a folder, if it is not empty.
fn stranger(folder: &Path) -> Option<String> {
    let names = fs::read_dir(folder).ok()?.flatten();
    names
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| !OF_THE_SYSTEM.contains(&name.as_str()))
        .filter(|name| ![WRITING, PLACING, LOCK].contains(&name.as_str()))
        .filter(|name| !name.ends_with(so_far::ENDING) && !name.starts_with(files::UNFINISHED))
        .min()
}

/// A list, if it is one of ours that names nothing outside its folder.
fn read_list(path: &Path) -> Option<Ours> {
    let about = fs::symlink_metadata(path).ok()?;
    if !about.is_file() || about.len() > LONGEST_LIST {
        return None;
    }
    let value: serde_json::Value = serde_json::from_slice(&fs::read(path).ok()?).ok()?;
    let listed: Ours = serde_json::from_value(value.get(KEY)?.clone()).ok()?;
    let plain = |name: &String| {
        let parts = Path::new(name).file_name();
        parts.is_some_and(|part| part == name.as_str())
            && ![LIST, WRITING, PLACING, LOCK, NOTE].contains(&name.as_str())
    };
    listed.values().flatten().all(plain).then_some(listed)
}

fn list_text(listed: &Ours) -> String {
    format!("{:#}\n", json!({ KEY: listed }))
}
