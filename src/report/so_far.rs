//! Files of what the runs of a study have done so far, and of parts of one: where they stand in the folder of the answer.

use super::files::{self, FileError};
use super::stderr::say;
use crate::montecarlo::{Broken, KeptRun, Reader, Shelf};
use crate::scenario::input_file;
use crate::studies::{Asked, Comparing, Part};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, ErrorKind, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

/// How their names end; no other file of a folder is called so.
pub(crate) const ENDING: &str = ".plantday";

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

/// Writes a part that is done. What stood there before stays until it is whole.
///
/// # Errors
/// Names the file and the reason.
pub(crate) fn write_part(
    path: &Path,
    asked: &Asked,
    comparing: &Comparing<'_>,
) -> Result<(), FileError> {
    if let Some(folder) = path.parent() {
        files::create_folder(folder)?;
    }
    files::write_with(path, |to| comparing.write(asked, to))
}

/// All files of parts in a folder, and in the folders within where there are none in itself; in the order of their names. What a broken-off
/// `join` has done may stand beside them.
///
/// # Errors
/// The folder cannot be read.
pub(crate) fn all_in(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let is_one = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        name.ends_with(ENDING) && !name.starts_with("join-so-far") && path.is_file()
    };
    let entries = |folder: &Path| -> io::Result<Vec<PathBuf>> {
        let entries = fs::read_dir(folder)?;
        entries.map(|entry| Ok(entry?.path())).collect()
    };
    let all = entries(folder)?;
    let mut found: Vec<PathBuf> = all.iter().filter(|path| is_one(path)).cloned().collect();
    if found.is_empty() {
        for within in all.iter().filter(|path| path.is_dir()) {
            found.extend(entries(within)?.into_iter().filter(is_one));
        }
    }
    found.sort();
    Ok(found)
}

/// A file whose beginning has been read.
pub(crate) struct Opened<R> {
    pub(crate) asked: Asked,
    pub(crate) reader: Reader<R>,
}

/// Opens a file of what has been done.
///
/// # Errors
/// Why nothing can be had from it, in words that go on after its name.
pub(crate) fn open(path: &Path) -> Result<Opened<BufReader<File>>, String> {
    begun(input_file::open(path).map_err(unreadable)?)
}

fn unreadable(error: io::Error) -> String {
    Broken::Unreadable(error).to_string()
}

fn begun<R: Read>(from: R) -> Result<Opened<R>, String> {
    let reader = Reader::open(from).map_err(|broken| broken.to_string())?;
    // Another version may have asked in other words.
    let asked = Asked::read(reader.head()).ok_or_else(|| {
        "it was made by another version of plantday, which asked otherwise".to_owned()
    })?;
    Ok(Opened { asked, reader })
}

/// The runs of a study, or of a part of one, that are kept in the folder of the answer until it is there: several in a file, which is
/// called by the first of them.
pub(crate) struct Runs {
    folder: PathBuf,
    name: String,
    asked: Asked,
    /// Of each that was kept before its file, and where in it.
    kept: BTreeMap<u64, (PathBuf, u64)>,
    /// What stands there is of a study that is not gone on with.
    is_stale: AtomicBool,
    could_not: AtomicBool,
}

/// What was kept of a study is of no use: the file, and why, in words that go on after its name.
pub(crate) struct Useless(pub(crate) PathBuf, pub(crate) String);

impl Runs {
    /// None is taken up, and those that stand there go when one is kept.
    pub(crate) fn new(folder: &Path, study: &str, asked: Asked) -> Self {
        Self {
            folder: folder.to_path_buf(),
            name: name(study, asked.part),
            asked,
            kept: BTreeMap::new(),
            is_stale: AtomicBool::new(true),
            could_not: AtomicBool::new(false),
        }
    }

    /// What was asked.
    pub(crate) fn asked(&self) -> &Asked {
        &self.asked
    }

    /// The file of the first.
    pub(crate) fn first(&self) -> PathBuf {
        self.path(1)
    }

    fn path(&self, number: u64) -> PathBuf {
        let name = &self.name;
        self.folder.join(match number {
            1 => format!("{name}-so-far{ENDING}"),
            _ => format!("{name}-so-far-{number}{ENDING}"),
        })
    }

    /// The files that stand there, in the order of their runs.
    pub(crate) fn standing(&self) -> Vec<PathBuf> {
        let names = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        let names = names.map(|entry| entry.file_name());
        let numbers = names.filter_map(|name| {
            let name = name.to_str()?.strip_suffix(ENDING)?;
            let rest = name.strip_prefix(&self.name)?.strip_prefix("-so-far")?;
            match rest.strip_prefix('-') {
                None => rest.is_empty().then_some(1),
                Some(number) => number.parse().ok(),
            }
        });
        let mut numbers: Vec<u64> = numbers.collect();
        numbers.sort_unstable();
        numbers
            .into_iter()
            .map(|number| self.path(number))
            .collect()
    }

    /// Whether there is something to go on from.
    pub(crate) fn go_on(&self) -> bool {
        !self.is_stale.load(Ordering::Relaxed) && !self.standing().is_empty()
    }

    /// Takes up those that stand there. Gives how many replications they have.
    ///
    /// # Errors
    /// There is one of another question, or one that is damaged.
    pub(crate) fn take_up(&mut self) -> Result<u64, Useless> {
        let mut replications = 0;
        for path in self.standing() {
            let useless = |reason: String| Useless(path.clone(), reason);
            let unreadable = |error: io::Error| useless(unreadable(error));
            let mut from = input_file::open(&path).map_err(unreadable)?;
            loop {
                let at = from.stream_position().map_err(unreadable)?;
                let opened = begun(from).map_err(useless)?;
                let differences = opened.asked.differences(&self.asked, "now");
                if !differences.is_empty() {
                    return Err(useless(differences.join("; ")));
                }
                let these = opened.reader.replications();
                let rest = opened.reader.skip();
                from = rest.map_err(|broken| useless(broken.to_string()))?;
                // Of one that was made again the later file has more.
                self.kept.insert(opened.asked.run, (path.clone(), at));
                replications += these.end - these.start;
                if from.fill_buf().map_err(unreadable)?.is_empty() {
                    break;
                }
            }
        }
        self.is_stale = AtomicBool::new(false);
        Ok(replications)
    }

    /// Removes them, and what was left where one was being written when its program was killed.
    ///
    /// # Errors
    /// One cannot be removed.
    pub(crate) fn remove(&self) -> Result<(), FileError> {
        files::remove_left(&self.folder);
        for path in self.standing() {
            match fs::remove_file(&path) {
                Err(reason) if reason.kind() != ErrorKind::NotFound => {
                    return Err(FileError::new("remove", &path, reason));
                }
                _ => {}
            }
        }
        Ok(())
    }

    fn write(&self, runs: &[KeptRun]) -> Result<(), FileError> {
        let Some(first) = runs.first() else {
            return Ok(());
        };
        files::create_folder(&self.folder)?;
        if self.is_stale.swap(false, Ordering::Relaxed) {
            self.remove()?;
        }
        files::write_with(&self.path(first.number), |to| {
            runs.iter()
                .try_for_each(|run| run.write(to, &self.asked.line(run.number)))
        })
    }
}

impl Shelf for Runs {
    fn kept(&self, number: u64) -> Option<Reader<Box<dyn Read>>> {
        let (path, at) = self.kept.get(&number)?;
        let opened = input_file::open(path).and_then(|mut from| {
            from.seek(SeekFrom::Start(*at))?;
            Ok(from)
        });
        let from: Box<dyn Read> = Box::new(opened.ok()?);
        Reader::open(from).ok()
    }

    /// If they cannot be kept the study goes on; that is said once.
    fn keep(&self, runs: &[KeptRun]) {
        if let Err(error) = self.write(runs)
            && !self.could_not.swap(true, Ordering::Relaxed)
        {
            say(format!(
                "{error}\n  the run goes on; broken off, it would begin anew"
            ));
        }
    }

    fn refuse(&self, number: u64, reason: &Broken) {
        let path = self
            .kept
            .get(&number)
            .map_or_else(|| self.first(), |kept| kept.0.clone());
        say(format!(
            "{}: {reason}; what it held is done again",
            path.display()
        ));
    }
}
