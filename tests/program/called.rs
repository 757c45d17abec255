//! The program called in a folder of its own.

use assert_cmd::cargo::cargo_bin_cmd;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

pub(crate) const STARTER: &str = include_str!("../../scenarios/starter.ron");

/// A folder with the starter as `day.ron`.
pub(crate) fn starter() -> TempDir {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), STARTER).expect("written");
    folder
}

/// The exit code, and what is said on standard output and standard error.
pub(crate) fn plantday(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    (
        output.status.code(),
        String::from_utf8(output.stdout).expect("output is UTF-8"),
        String::from_utf8(output.stderr).expect("messages are UTF-8"),
    )
}

/// What is printed by a call that is fine, and what is said beside it.
pub(crate) fn fine(folder: &Path, arguments: &[&str]) -> (String, String) {
    let (code, told, said) = plantday(folder, arguments);
    assert_eq!(code, Some(0), "{arguments:?}: {said}");
    (told, said)
}

/// What is said of a call that is refused, which prints nothing.
pub(crate) fn refused(folder: &Path, arguments: &[&str]) -> String {
    let (code, told, error) = plantday(folder, arguments);
    assert_eq!(
        (code, told.as_str()),
        (Some(2), ""),
        "{arguments:?}: {error}"
    );
    assert!(error.starts_with("error: "), "{error}");
    assert!(!error.contains("panicked"), "{error}");
    error
}

/// Every file of a folder with what is in it; folders by their name alone.
pub(crate) fn standing(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).expect("the folder");
    entries
        .map(|entry| entry.expect("an entry").path())
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy();
            (name.into_owned(), fs::read(&path).unwrap_or_default())
        })
        .collect()
}

/// Starts a study that takes longer and longer, until it is broken off by Ctrl-C while it has done something, which is left in this file.
/// Gives how many replications it was asked for.
#[cfg(unix)]
pub(crate) fn broken_off(folder: &Path, call: &[&str], replications: u64, left: &str) -> String {
    use std::process::{Command, Stdio};
    use std::time::Duration;
    let mut replications = replications;
    let mut wait = Duration::from_millis(400);
    for _ in 0..10 {
        let count = replications.to_string();
        let run = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
            .current_dir(folder)
            .args(call)
            .args(["--threads", "1", "-n", &count])
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it starts");
        std::thread::sleep(wait);
        let mut kill = Command::new("kill");
        let signal = kill.args(["-s", "INT", &run.id().to_string()]).status();
        let was_there = signal.expect("it runs").success();
        let ended = run.wait_with_output().expect("it ends");
        let error = String::from_utf8_lossy(&ended.stderr);
        if was_there && ended.status.code() == Some(130) {
            if folder.join(left).exists() {
                assert!(
                    error.contains("he same command with --resume goes on from there"),
                    "{error}"
                );
                return count;
            }
            wait *= 2;
        } else {
            replications *= 2;
        }
    }
    panic!("it is never broken off");
}
