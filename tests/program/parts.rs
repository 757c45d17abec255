//! A comparison in parts that are joined, and one that was broken off and goes on: the same bytes as one run, on the screen and in every
//! file; and whatever is not of the same question, or not whole, is refused.
//! No published source: these are the project's own promises. Each joined run stands beside one that was never parted.

use crate::called::{STARTER, broken_off, plantday, refused, standing, starter};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// What is printed by a call that is fine.
fn fine(folder: &Path, arguments: &[&str]) -> String {
    crate::called::fine(folder, arguments).0
}

/// Runs so many parts of a comparison into a folder, on one, two and seven threads in turn.
fn run_parts(path: &Path, asked: &[&str], parts: u64, out: &str) {
    for nth in 1..=parts {
        let part = format!("{nth}/{parts}");
        let threads = ["1", "2", "7"][nth as usize % 3];
        let also = ["--part", &part, "--out", out, "--threads", threads];
        let told = fine(path, &[asked, &also].concat());
        assert!(
            told.starts_with(&format!("Part {nth} of {parts} is done: ")),
            "{told}"
        );
        assert!(told.ends_with(&format!("plantday join {out}\n")), "{told}");
    }
}

#[test]
fn parts_that_are_joined_are_one_run() {
    let folder = starter();
    let path = folder.path();
    let asked = ["compare", "day.ron", "-n", "300", "--judge", "late_loads"];
    let whole = fine(path, &[&asked[..], &["--out", "one", "--xlsx"]].concat());
    for (parts, threads) in [(1, "7"), (3, "2"), (16, "1")] {
        let (out, joined) = (format!("parts{parts}"), format!("joined{parts}"));
        run_parts(path, &asked, parts, &out);
        assert_eq!(standing(&path.join(&out)).len() as u64, parts);
        let told = fine(
            path,
            &[
                "join",
                &out,
                "--out",
                &joined,
                "--threads",
                threads,
                "--xlsx",
                // Nothing was broken off: it begins at its start.
                "--resume",
            ],
        );
        assert_eq!(told, whole, "{parts} parts");
        assert!(
            standing(&path.join(&joined)) == standing(&path.join("one")),
            "{parts} parts"
        );
    }
    let json = fine(path, &[&asked[..], &["--out", "one", "--json"]].concat());
    let files = ["parts3/compare-part-3-of-3.plantday", "parts3"];
    let told = fine(path, &[&["join"], &files[..], &["--json"]].concat());
    assert_eq!(told, json);
    // Fewer replications are another answer.
    let fewer = ["compare", "day.ron", "-n", "299", "--judge", "late_loads"];
    assert_ne!(fine(path, &fewer), whole);
}

#[test]
fn parts_of_chosen_rules_and_of_the_built_in_week_are_joined() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let asked = [
        &["compare", "-n", "10", "--seed", "9", "--confidence", "0.9"][..],
        &[
            "--rule",
            "Traffic, trucks home",
            "--rule",
            "Keep trucks home",
        ],
    ]
    .concat();
    let whole = fine(path, &[&asked[..], &["--out", "one"]].concat());
    // Each in a folder of its own, as it comes from a machine of its own.
    for (part, out) in [("1/2", "parts/a"), ("2/2", "parts/b")] {
        fine(
            path,
            &[&asked[..], &["--part", part, "--out", out]].concat(),
        );
    }
    assert_eq!(fine(path, &["join", "parts", "--out", "joined"]), whole);
    assert!(standing(&path.join("joined")) == standing(&path.join("one")));

    fs::remove_dir_all(path.join("parts/b")).expect("removed");
    let error = refused(path, &["join", "parts"]);
    let run = "part 2 of 2 is missing: run plantday compare --replications 10 --seed 9 --confidence 0.9 \
               --rule \"Traffic, trucks home\" --rule \"Keep trucks home\" --part 2/2\n";
    assert!(error.contains(run), "{error}");
}

#[test]
fn a_scenario_is_looked_for_where_it_was_or_where_it_is_said_to_be() {
    let folder = starter();
    let path = folder.path();
    let asked = ["compare", "day.ron", "-n", "20"];
    run_parts(path, &asked, 2, "parts");
    let whole = fine(path, &[&asked[..], &["--out", "one"]].concat());
    fs::create_dir(path.join("moved")).expect("a folder");
    fs::rename(path.join("day.ron"), path.join("moved/day.ron")).expect("moved");
    let error = refused(path, &["join", "parts", "--out", "joined"]);
    assert!(
        error.contains("on the scenario day.ron, which is not there"),
        "{error}"
    );
    assert!(error.contains("--scenario FILE"), "{error}");
    let now = ["join", "parts", "--scenario", "moved/day.ron", "--out"];
    assert_eq!(fine(path, &[&now[..], &["joined"]].concat()), whole);
    assert!(standing(&path.join("joined")) == standing(&path.join("one")));

    // The same day with a slower bay is another scenario; so is one without the rules that were run.
    for (from, to) in [("volume_yd3: ", "volume_yd3: 1"), ("As today", "As ever")] {
        let changed = STARTER.replacen(from, to, 1);
        assert_ne!(changed, STARTER);
        fs::write(path.join("moved/day.ron"), changed).expect("written");
        let error = refused(path, &[&now[..], &["joined"]].concat());
        assert!(
            error.contains("the scenario has changed: the checksum"),
            "{error}"
        );
    }
    // Nothing was written.
    assert!(standing(&path.join("joined")) == standing(&path.join("one")));
}

#[test]
fn all_that_is_wrong_with_parts_is_told_at_once() {
    let folder = starter();
    let path = folder.path();
    let asked = ["compare", "day.ron", "-n", "40"];
    run_parts(path, &asked, 4, "parts");
    let part = |nth: u32| path.join(format!("parts/compare-part-{nth}-of-4.plantday"));
    let before = fs::read(part(2)).expect("a part");
    fs::copy(part(1), path.join("parts/copy.plantday")).expect("copied");
    fs::write(part(2), &before[..before.len() - 9]).expect("written");
    fs::remove_file(part(3)).expect("removed");
    let seed = ["--seed", "2", "--part", "4/4", "--out", "parts"];
    fine(path, &[&asked[..], &seed].concat());
    fs::write(path.join("parts/list.plantday"), "rule,cost\n").expect("written");
    let error = refused(path, &["join", "parts", "day.ron", "--out", "joined"]);
    for told in [
        "parts/compare-part-2-of-4.plantday: it is damaged: its end is missing, or something in it was changed; \
         run it again: plantday compare day.ron --replications 40 --seed 1 --part 2/4\n",
        "part 3 of 4 is missing: run plantday compare day.ron --replications 40 --seed 1 --part 3/4\n",
        "parts/compare-part-4-of-4.plantday: it belongs to another run: the seed was 2, of the first part 1\n",
        "parts/copy.plantday: part 1/4 is there twice, in parts/compare-part-1-of-4.plantday as well\n",
        "parts/list.plantday: it is no file in which plantday has kept what a run has done\n",
        "day.ron: it is no file in which plantday has kept what a run has done\n",
    ] {
        assert!(error.contains(told), "{told}{error}");
    }
    assert!(!path.join("joined").exists());
    for name in ["copy", "list"] {
        fs::remove_file(path.join(format!("parts/{name}.plantday"))).expect("removed");
    }
    // What the message says to run makes it whole.
    for nth in ["2/4", "3/4", "4/4"] {
        let again = ["--seed", "1", "--part", nth, "--out", "parts"];
        fine(path, &[&asked[..], &again].concat());
    }
    let joined = fine(path, &["join", "parts", "--out", "joined"]);
    assert_eq!(
        joined,
        fine(path, &[&asked[..], &["--out", "one"]].concat())
    );
}

#[test]
fn a_part_that_is_none_is_refused() {
    let folder = starter();
    let path = folder.path();
    let asked = ["compare", "day.ron", "-n", "50", "--out", "parts"];
    for part in ["0/4", "5/4", "4", "1/0", "-1/4", "1/4/4", "a/b", "1/10001"] {
        let part = format!("--part={part}");
        let error = refused(path, &[&asked[..], &[&part]].concat());
        assert!(error.contains("K from 1 to N, N at most 10,000"), "{error}");
    }
    for (also, told) in [
        (&["--part", "51/51"][..], "some shares would have none"),
        (
            &["--part", "1/2", "--until-sure"],
            "decided by what all parts have shown",
        ),
        (
            &["--part", "1/2", "--precision", "9"],
            "decided by what all parts have shown",
        ),
        (
            &["--part", "1/2", "--json"],
            "expected --json with plantday join",
        ),
        (
            &["--part", "1/2", "--xlsx"],
            "expected --xlsx with plantday join",
        ),
    ] {
        let error = refused(path, &[&asked[..], also].concat());
        assert!(error.contains(told), "{error}");
    }
    assert!(!path.join("parts").exists());
    fine(path, &[&asked[..], &["--part", "50/50"]].concat());
}

/// Cut off or changed anywhere, a file is refused in plain words.
#[test]
fn no_damaged_part_is_joined() {
    let folder = starter();
    let path = folder.path();
    run_parts(path, &["compare", "day.ron", "-n", "4"], 1, "parts");
    let part = path.join("parts/compare-part-1-of-1.plantday");
    let whole = fs::read(&part).expect("a part");
    let join = ["join", "parts", "--out", "joined"];
    for step in 0..24_usize {
        // Multiples of the golden ratio fall evenly over the file.
        let at = ((step as f64 * 0.618_034).fract() * whole.len() as f64) as usize;
        fs::write(&part, &whole[..at]).expect("written");
        refused(path, &join);
        let mut changed = whole.clone();
        changed[at] ^= 1 << (step % 8);
        fs::write(&part, changed).expect("written");
        refused(path, &join);
    }
    fs::write(&part, whole).expect("written");
    fine(path, &join);
}

#[cfg(unix)]
#[test]
fn a_run_that_was_broken_off_goes_on() {
    let folder = starter();
    let path = folder.path();
    let left = "out/compare-so-far.plantday";
    let count = broken_off(path, &["compare", "day.ron", "--out", "out"], 20_000, left);
    let asked = ["compare", "day.ron", "-n", &count, "--out", "out"];
    let kept = fs::read(path.join(left)).expect("what was done");

    // Of another question nothing is gone on from, and what is kept stays.
    let more = format!("{count}0");
    for (also, told) in [
        (&["--seed", "2"][..], "the seed was 1, now 2"),
        (
            &["--rule", "As today"],
            "the rules were \"As today\", \"By the hour\", now \"As today\"",
        ),
        (
            &["--judge", "late_loads"],
            "the judging figure was cost, now late_loads",
        ),
        (&["--confidence", "0.9"], "the confidence was 0.95, now 0.9"),
        (
            &["--precision", "1"],
            "added replications were none, now until precise to 1",
        ),
        (&["-n", &more], "the replications were "),
    ] {
        let asked = match also[0] {
            "-n" => &["compare", "day.ron", "--out", "out"][..],
            _ => &asked,
        };
        let error = refused(path, &[asked, also, &["--resume"]].concat());
        assert!(
            error.contains("there is no going on from out/compare-so-far.plantday: "),
            "{error}"
        );
        assert!(error.contains(told), "{told}: {error}");
    }
    fs::write(
        path.join("day.ron"),
        STARTER.replacen("volume_yd3: ", "volume_yd3: 1", 1),
    )
    .expect("written");
    let error = refused(path, &[&asked[..], &["--resume"]].concat());
    assert!(error.contains("the scenario has changed"), "{error}");
    fs::write(path.join("day.ron"), STARTER).expect("written");
    fs::write(path.join(left), &kept[..kept.len() / 2]).expect("written");
    let error = refused(path, &[&asked[..], &["--resume"]].concat());
    assert!(error.contains("it is damaged"), "{error}");
    fs::write(path.join(left), &kept).expect("written");
    // It is of no part.
    let error = refused(path, &["join", "out"]);
    assert!(
        error.contains("of a whole run that was broken off, no part"),
        "{error}"
    );

    // Killed while it goes on, it leaves what was there.
    use std::process::{Command, Stdio};
    for wait in [20, 150, 500] {
        let mut run = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
            .current_dir(path)
            .args(asked)
            .args(["--resume", "--threads", "1"])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        std::thread::sleep(std::time::Duration::from_millis(wait));
        let _ = run.kill();
        if run.wait().expect("it ends").success() {
            fs::write(path.join(left), &kept).expect("written");
        }
        assert!(fs::read(path.join(left)).expect("it is there") == kept);
    }

    let (code, told, error) = plantday(path, &[&asked[..], &["--resume"]].concat());
    assert_eq!(code, Some(0), "{error}");
    assert!(error.contains("Going on after "), "{error}");
    let whole = ["compare", "day.ron", "-n", &count, "--out", "one"];
    assert_eq!(told, fine(path, &whole));
    assert!(standing(&path.join("out")) == standing(&path.join("one")));
    // Nothing is left to go on from, which is said.
    let few = ["compare", "day.ron", "-n", "5", "--out", "out", "--resume"];
    let (code, _, error) = plantday(path, &few);
    assert_eq!(code, Some(0), "{error}");
    assert!(
        error.contains(
            "There is no out/compare-so-far.plantday to go on from: the run begins at the start"
        ),
        "{error}"
    );
}

#[cfg(unix)]
#[test]
fn a_part_that_was_broken_off_goes_on() {
    let folder = starter();
    let path = folder.path();
    let left = "parts/compare-part-2-of-2-so-far.plantday";
    let count = broken_off(
        path,
        &["compare", "day.ron", "--part", "2/2", "--out", "parts"],
        20_000,
        left,
    );
    let part = |nth: &'static str| {
        [
            "compare", "day.ron", "-n", &count, "--out", "parts", "--part", nth, "--resume",
        ]
    };
    fine(path, &part("1/2"));
    let error = refused(path, &["join", "parts"]);
    assert!(
        error.contains("part 2/2 is not finished: run it with --resume, plantday compare day.ron"),
        "{error}"
    );
    fine(path, &part("2/2"));
    assert!(!path.join(left).exists());
    // Again, as a scheduler may start it: it is done.
    let (code, told, error) = plantday(path, &part("2/2"));
    assert_eq!(code, Some(0), "{error}");
    assert!(
        told.starts_with("Part 2 of 2 is done: ") && error.contains("is done already"),
        "{error}"
    );
    let error = refused(path, &[&part("2/2")[..], &["--seed", "5"]].concat());
    assert!(
        error.contains("a part of another question: the seed was 1, now 5"),
        "{error}"
    );
    let whole = ["compare", "day.ron", "-n", &count, "--out", "one"];
    assert_eq!(
        fine(path, &["join", "parts", "--out", "joined"]),
        fine(path, &whole)
    );
    assert!(standing(&path.join("joined")) == standing(&path.join("one")));
}

/// A run begun anew where an earlier one was broken off says so, and keeps its own.
#[cfg(unix)]
#[test]
fn a_run_that_begins_anew_says_that_there_was_something_to_go_on_from() {
    let folder = starter();
    let path = folder.path();
    broken_off(
        path,
        &["compare", "day.ron", "--out", "out"],
        20_000,
        "out/compare-so-far.plantday",
    );
    let few = ["compare", "day.ron", "-n", "5", "--out", "out"];
    let (code, told, error) = plantday(path, &few);
    assert_eq!(code, Some(0), "{error}");
    assert!(
        error
            .contains("holds what an earlier run had done; this one begins anew: --resume goes on"),
        "{error}"
    );
    assert_eq!(
        told,
        fine(path, &["compare", "day.ron", "-n", "5", "--out", "one"])
    );
    assert!(standing(&path.join("out")) == standing(&path.join("one")));
}

/// The same run, kept by this version and, but for the version, byte for byte by another.
#[test]
fn what_another_version_has_done_is_not_gone_on_from() {
    use plantday::Watch;
    use plantday::studies::{Asked, Comparing, Part, Question};
    let folder = starter();
    let path = folder.path();
    let scenario = plantday::read(&path.join("day.ron")).expect("it is fine");
    let question = Question {
        replications: 8,
        ..Question::default()
    };
    let this = env!("CARGO_PKG_VERSION");
    for part in [None, Some(Part { nth: 1, of: 1 })] {
        let mut comparing = Comparing::new(&scenario, &question);
        comparing.run(Watch::default());
        // With the rules in words, as the command asks.
        let all = Question {
            rules: (0..scenario.rules.len()).collect(),
            ..question.clone()
        };
        let named = Some("day.ron".to_owned());
        let mut asked = Asked::compare(&scenario, named, &all, part, String::new());
        let (name, call) = match part {
            None => (
                "out/compare-so-far.plantday",
                &["compare", "day.ron", "-n", "8", "--out", "out", "--resume"][..],
            ),
            Some(_) => (
                "parts/compare-part-1-of-1.plantday",
                &["join", "parts", "--out", "joined"][..],
            ),
        };
        fs::create_dir_all(path.join(name).parent().expect("a folder")).expect("made");
        for version in ["0.0.1", this] {
            asked.plantday = version.to_owned();
            let mut file = Vec::new();
            comparing.write(&asked, &mut file).expect("it is memory");
            fs::write(path.join(name), file).expect("written");
            if version == this {
                fine(path, call);
            } else {
                let error = refused(path, call);
                let told = format!("it was made by plantday 0.0.1, now {this}\n");
                assert!(error.contains(&told), "{error}");
            }
        }
    }
    assert!(standing(&path.join("joined")) == standing(&path.join("out")));
}
