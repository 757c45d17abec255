//! The folder of an answer. A list in it names the files that are ours, by study: an older answer of the same study is replaced
//! whole, and no other file is written over or removed.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::files::{self, FileError};
use serde_json::json;

/// The list, a file of JSON: `{"plantday wrote": {"compare": ["compare.json", …], …}}`.
const LIST: &str = ".plantday.json";
const KEY: &str = "plantday wrote";

/// A list that is longer than this, in bytes, is none of ours.
const LONGEST_LIST: u64 = 1 << 20;

/// What systems put into a folder by themselves when somebody looks into it.
const OF_THE_SYSTEM: [&str; 3] = [".DS_Store", "Thumbs.db", "desktop.ini"];

/// The names of our files by study.
type Ours = BTreeMap<String, BTreeSet<String>>;

/// Checks before long work starts that an answer can be written to a folder: it may not exist yet, or be empty, or hold answers of
/// ours. Leaves nothing behind.
///
/// # Errors
/// Names the folder, the reason and what to do.
pub(crate) fn check(folder: &Path) -> Result<(), FileError> {
    files::check_writable(folder)?;
    ours(folder).map(|_| ())
}

/// Writes an answer of this study into a folder and says where it is: where a file of another study or of the user's stands in the
/// way, in a folder within, called as the study. The files of an older answer of the study that the new one does not have are
/// removed. What is written is listed first, so that an interrupted call is made good by the next.
///
/// # Errors
/// The first file that could not be written, or the folder is not ours.
pub(crate) fn write(
    folder: &Path,
    study: &str,
    answer: &[(String, Vec<u8>)],
) -> Result<PathBuf, FileError> {
    let mut listed = ours(folder)?;
    let older = listed.remove(study).unwrap_or_default();
    let new: BTreeSet<String> = answer.iter().map(|(name, _)| name.clone()).collect();
    let stands = |name: &String| fs::symlink_metadata(folder.join(name)).is_ok();
    if new.iter().any(|name| !older.contains(name) && stands(name)) {
        let within = write(&folder.join(study), study, answer)?;
        remove(folder, &older)?;
        list(folder, &listed)?;
        return Ok(within);
    }
    files::create_folder(folder)?;
    listed.insert(study.to_owned(), &older | &new);
    list(folder, &listed)?;
    for (name, content) in answer {
        files::write(&folder.join(name), content)?;
    }
    remove(folder, &(&older - &new))?;
    listed.insert(study.to_owned(), new);
    list(folder, &listed)?;
    Ok(folder.to_path_buf())
}

/// The files of ours in a folder.
fn ours(folder: &Path) -> Result<Ours, FileError> {
    if let Some(listed) = read_list(&folder.join(LIST)) {
        return Ok(listed);
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
        parts.is_some_and(|part| part == name.as_str()) && name != LIST
    };
    listed.values().flatten().all(plain).then_some(listed)
}

fn list(folder: &Path, listed: &Ours) -> Result<(), FileError> {
    let text = format!("{:#}\n", json!({ KEY: listed }));
    files::write(&folder.join(LIST), text.as_bytes())
}

/// Removes files, links and nothing else.
fn remove(folder: &Path, names: &BTreeSet<String>) -> Result<(), FileError> {
    for name in names {
        let path = folder.join(name);
        if fs::symlink_metadata(&path).is_ok_and(|about| !about.is_dir())
            && let Err(reason) = fs::remove_file(&path)
            && reason.kind() != ErrorKind::NotFound
        {
            return Err(FileError::new("remove", &path, reason));
        }
    }
    Ok(())
}
