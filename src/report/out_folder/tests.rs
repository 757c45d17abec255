//! A writer that is broken off at any step: what stands there is one answer or the other, or a note says that it is not.

use super::*;
use tempfile::TempDir;

const FIRST: [(&str, &str); 3] = [("a.csv", "1"), ("b.csv", "1"), ("report.html", "1")];
const SECOND: [(&str, &str); 3] = [("a.csv", "2"), ("c.csv", "2"), ("report.html", "2")];

fn answer(files: [(&str, &str); 3]) -> Vec<(String, Vec<u8>)> {
    files.map(|(name, text)| (name.into(), text.into())).into()
}

fn standing(folder: &Path) -> Vec<(String, String)> {
    let mut all: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap_or_default())
        })
        .filter(|(name, _)| name != LIST)
        .collect();
    all.sort();
    all
}

fn as_is(files: [(&str, &str); 3]) -> Vec<(String, String)> {
    files.map(|(name, text)| (name.into(), text.into())).into()
}

/// A folder in which an answer was to take the place of an older one, killed when its files had all been written.
fn about_to_place() -> TempDir {
    let folder = TempDir::new().unwrap();
    write(folder.path(), "compare", &answer(FIRST)).unwrap();
    let placing = folder.path().join(PLACING);
    fs::create_dir(&placing).unwrap();
    let names = SECOND.map(|(name, _)| name.to_owned());
    let list = Ours::from([("compare".to_owned(), BTreeSet::from(names))]);
    fs::write(placing.join(LIST), list_text(&list)).unwrap();
    fs::write(placing.join(NOTE), "not whole").unwrap();
    for (name, text) in SECOND {
        fs::write(placing.join(name), text).unwrap();
    }
    folder
}

#[test]
fn files_that_were_not_all_written_are_thrown_away() {
    let folder = TempDir::new().unwrap();
    write(folder.path(), "compare", &answer(FIRST)).unwrap();
    let writing = folder.path().join(WRITING);
    fs::create_dir(&writing).unwrap();
    fs::write(writing.join("a.csv"), "2").unwrap();
    check(folder.path()).unwrap();
    assert_eq!(standing(folder.path()), as_is(FIRST));
    // In a folder that was new as well: it is still nobody else's.
    let new = TempDir::new().unwrap();
    fs::create_dir(new.path().join(WRITING)).unwrap();
    check(new.path()).unwrap();
    assert_eq!(standing(new.path()), []);
}

#[test]
fn a_move_that_was_broken_off_anywhere_is_finished() {
    let moved = [NOTE, "a.csv", "c.csv", "report.html"];
    for done in 0..=moved.len() {
        let folder = about_to_place();
        for name in &moved[..done] {
            let place = folder.path().join(name);
            fs::rename(folder.path().join(PLACING).join(name), place).unwrap();
        }
        let mixed = done > 1;
        assert!(!mixed || folder.path().join(NOTE).exists());
        check(folder.path()).unwrap();
        assert_eq!(standing(folder.path()), as_is(SECOND), "{done} were moved");
    }
}

#[test]
fn what_cannot_be_written_leaves_the_older_answer_and_names_the_place() {
    let folder = TempDir::new().unwrap();
    write(folder.path(), "compare", &answer(FIRST)).unwrap();
    let mut bad = answer(SECOND);
    bad[1].0 = "no/such/folder.csv".into();
    let message = write(folder.path(), "compare", &bad)
        .unwrap_err()
        .to_string();
    assert!(message.contains("no/such/folder.csv"), "{message}");
    assert!(message.contains("is as it was"), "{message}");
    assert!(!message.contains(WRITING), "{message}");
    assert_eq!(standing(folder.path()), as_is(FIRST));
}

#[test]
fn a_folder_of_the_name_of_a_file_sends_the_answer_within() {
    let folder = TempDir::new().unwrap();
    write(folder.path(), "compare", &answer(FIRST)).unwrap();
    fs::remove_file(folder.path().join("report.html")).unwrap();
    fs::create_dir(folder.path().join("report.html")).unwrap();
    let within = write(folder.path(), "compare", &answer(SECOND)).unwrap();
    assert_eq!(standing(&within), as_is(SECOND));
    let names: Vec<_> = standing(folder.path()).into_iter().map(|of| of.0).collect();
    assert_eq!(names, ["compare", "report.html"]);
}

#[test]
fn two_writers_come_one_after_the_other() {
    let folder = TempDir::new().unwrap();
    std::thread::scope(|threads| {
        for files in [FIRST, SECOND] {
            let folder = folder.path();
            threads.spawn(move || {
                for _ in 0..20 {
                    write(folder, "compare", &answer(files)).unwrap();
                }
            });
        }
    });
    let stands = standing(folder.path());
    assert!(
        stands == as_is(FIRST) || stands == as_is(SECOND),
        "{stands:?}"
    );
}
