//! The folder of an answer: an older answer of the same study is replaced whole, other studies and the user's files stay as they
//! are, and a folder of somebody else's is refused before the work.

use crate::called::{plantday, standing, starter};
use std::fs;
use std::path::Path;

/// What is said of a call that is fine.
fn fine(folder: &Path, arguments: &[&str]) -> String {
    crate::called::fine(folder, arguments).1
}

#[test]
fn a_folder_of_somebody_else_is_refused_before_the_work() {
    let folder = starter();
    let path = folder.path();
    let strange = path.join("mine");
    fs::create_dir(&strange).expect("a folder");
    // What an answer is made of does not make a folder ours; nor does a list that names what lies outside, or is none.
    for (name, content) in [
        ("report.html", "mine"),
        ("compare.json", "{\"study\": \"compare\"}"),
        (".plantday.json", "{}"),
        (
            ".plantday.json",
            "{\"plantday wrote\": {\"compare\": [\"../day.ron\"]}}",
        ),
        (
            ".plantday.json",
            "{\"plantday wrote\": {\"compare\": [\"..\"]}}",
        ),
    ] {
        fs::write(strange.join(name), content).expect("written");
        let before = standing(&strange);
        for arguments in [
            &["compare", "day.ron", "-n", "1000000", "--out", "mine"][..],
            &["sources", "--out", "mine"],
        ] {
            let (code, out, error) = plantday(path, arguments);
            assert_eq!((code, out.as_str()), (Some(2), ""), "{error}");
            assert!(
                error.contains("cannot write to the folder mine: it holds files that plantday has not written, such as"),
                "{error}"
            );
            assert!(
                error.contains("an empty one or a new one: name another with --out"),
                "{error}"
            );
        }
        assert_eq!(standing(&strange), before, "{name} {content}");
        fs::remove_file(strange.join(name)).expect("removed");
    }
    // The same folder, empty.
    fine(path, &["compare", "day.ron", "-n", "2", "--out", "mine"]);
    assert!(strange.join("report.html").exists());
}

#[test]
fn an_older_answer_is_replaced_whole_and_nothing_else_is_touched() {
    let folder = starter();
    let path = folder.path();
    let out = path.join("out");
    let log = ["replay", "day.ron", "-n", "2", "--replication", "0"];
    let one = [&log[..], &["--out", "out"]].concat();
    let two = [&one[..], &["--against", "By the hour"]].concat();

    fine(path, &two);
    let with_two = standing(&out);
    fs::write(out.join("notes.txt"), "mine").expect("written");
    fs::write(out.join("own.csv"), "mine").expect("written");
    fine(path, &one);
    let with_one = standing(&out);
    assert_eq!(with_one["notes.txt"], b"mine");
    assert_eq!(with_one["own.csv"], b"mine");

    // What one rule alone writes into a new folder is what now stands there, besides the user's files.
    fine(path, &[&log[..], &["--out", "fresh"]].concat());
    let mut expected = standing(&path.join("fresh"));
    assert!(
        with_two.keys().any(|name| !expected.contains_key(name)),
        "the second answer has fewer files: {:?}",
        with_two.keys()
    );
    expected.insert("notes.txt".into(), b"mine".to_vec());
    expected.insert("own.csv".into(), b"mine".to_vec());
    assert_eq!(with_one, expected);
}

#[test]
fn studies_stand_side_by_side_and_never_write_over_each_other() {
    let folder = starter();
    let path = folder.path();
    let out = path.join("out");
    let compare = ["compare", "day.ron", "-n", "2", "--out", "out"];
    let sources = ["sources", "day.ron", "--out", "out"];
    let habits = ["habits", "day.ron", "-n", "2", "--out", "out"];
    fine(path, &compare);
    let first = standing(&out);

    // Its page has the name of the other's: it gets a folder within, again and again.
    for _ in 0..2 {
        let told = fine(path, &sources);
        let page = Path::new("out").join("sources").join("report.html");
        assert!(told.contains(&page.display().to_string()), "{told}");
        assert!(path.join(page).exists());
        let mut now = standing(&out);
        assert!(now.remove("sources").is_some());
        assert_eq!(now, first);
    }
    // No name is the same: side by side.
    fine(path, &habits);
    assert!(out.join("habits.html").exists() && out.join("habits.json").exists());
    let both = standing(&out);
    for (name, content) in &first {
        assert!(name == ".plantday.json" || both[name] == *content, "{name}");
    }
    // Each replaces its own.
    fine(path, &compare);
    assert_eq!(standing(&out), both);

    // A file of the user's in the way stays, and nothing of the older answer is left beside it.
    fs::remove_file(out.join("habits.json")).expect("removed");
    fine(path, &["habits", "day.ron", "-n", "2", "--out", "new"]);
    let listed = standing(&path.join("new"));
    fs::create_dir(path.join("full")).expect("a folder");
    fs::write(
        path.join("full").join(".plantday.json"),
        "{\"plantday wrote\": {}}",
    )
    .expect("written");
    fs::write(path.join("full").join("habits.json"), "mine").expect("written");
    fine(path, &["habits", "day.ron", "-n", "2", "--out", "full"]);
    assert_eq!(standing(&path.join("full").join("habits")), listed);
    assert_eq!(standing(&path.join("full"))["habits.json"], b"mine");
}

/// Killed at any moment, a folder holds one answer or the other, whole, or a note that it does not; and the next run sees to it.
#[cfg(unix)]
#[test]
fn a_run_that_is_killed_mixes_no_two_answers() {
    use std::process::{Command, Stdio};
    use std::time::{Duration, Instant};
    let folder = starter();
    let path = folder.path();
    let start = |seed: &str, out: &str| {
        Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
            .current_dir(path)
            .args(["compare", "day.ron", "-n", "2", "--threads", "1"])
            .args(["--seed", seed, "--out", out])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts")
    };
    let mut takes = Duration::ZERO;
    let whole = ["1", "2"].map(|seed| {
        let began = Instant::now();
        assert!(start(seed, seed).wait().expect("it ends").success());
        takes = began.elapsed();
        standing(&path.join(seed))
    });
    assert!(start("1", "out").wait().expect("it ends").success());
    for kill in 0..20 {
        let seed = ["1", "2"][kill % 2];
        let mut run = start(seed, "out");
        // Multiples of the golden ratio fall evenly over the second half of the run.
        let share = (kill as f64 * 0.618_034).fract();
        std::thread::sleep(takes.mul_f64(0.4 + 0.7 * share));
        let _ = run.kill();
        let _ = run.wait();
        let mut stands = standing(&path.join("out"));
        let is_noted = stands.contains_key("plantday-unfinished.txt");
        stands.retain(|name, _| !name.starts_with(".plantday-"));
        assert!(
            is_noted || whole.contains(&stands),
            "killed {kill} times, {:?} stand there",
            stands.keys()
        );
    }
    for (seed, whole) in ["1", "2"].into_iter().zip(&whole) {
        assert!(start(seed, "out").wait().expect("it ends").success());
        assert!(standing(&path.join("out")) == *whole, "seed {seed}");
    }
}

/// An answer that cannot be kept is told all the same, with exit code 2.
#[test]
fn an_answer_that_cannot_be_kept_is_told() {
    let folder = starter();
    let path = folder.path();
    let arguments = ["compare", "day.ron", "-n", "2", "--out", "out"];
    let (_, told, _) = plantday(path, &arguments);
    let before = standing(&path.join("out"));
    // A folder of the name of the page sends the answer into a folder within, and that is a file.
    fs::remove_file(path.join("out/report.html")).expect("removed");
    fs::create_dir(path.join("out/report.html")).expect("a folder");
    fs::write(path.join("out/compare"), "mine").expect("written");
    let (code, out, error) = plantday(path, &arguments);
    assert_eq!(code, Some(2), "{error}");
    assert_eq!(out, told);
    assert!(error.contains("out/compare"), "{error}");
    let after = standing(&path.join("out"));
    assert!(
        before
            .iter()
            .all(|(name, content)| name == "report.html" || after[name] == *content)
    );
}
