//! What the program says when it is given something wrong: exit code 2, a message that names the place and what was expected,
//! nothing on standard output, nothing half written, never a panic.

use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = include_str!("../../scenarios/estuary_day.ron");

/// What one call came to.
struct Said {
    code: Option<i32>,
    out: String,
    err: String,
}

fn plantday(folder: &Path, arguments: &[&str]) -> Said {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .env("RUST_BACKTRACE", "1")
        .args(arguments)
        .output()
        .expect("the program runs");
    let said = Said {
        code: output.status.code(),
        out: String::from_utf8(output.stdout).expect("output is UTF-8"),
        err: String::from_utf8(output.stderr).expect("messages are UTF-8"),
    };
    assert!(
        !["panicked", "RUST_BACKTRACE", "stack backtrace"]
            .iter()
            .any(|word| said.err.contains(word)),
        "{}",
        said.err
    );
    said
}

/// The names of all that stands in a folder.
fn standing(folder: &Path) -> Vec<std::ffi::OsString> {
    let entries = fs::read_dir(folder).expect("the folder");
    let mut names: Vec<_> = entries
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    names.sort();
    names
}

/// Refused: exit code 2, silence on standard output, nothing written, all of the words in the message.
fn refused(folder: &Path, arguments: &[&str], words: &[&str]) {
    let before = standing(folder);
    let said = plantday(folder, arguments);
    assert_eq!(said.code, Some(2), "{arguments:?}: {}", said.err);
    assert_eq!(said.out, "", "{arguments:?}");
    for word in words {
        assert!(
            said.err.contains(word),
            "{arguments:?} does not say {word:?}:\n{}",
            said.err
        );
    }
    assert_eq!(standing(folder), before, "{arguments:?} has written");
}

/// The day with one thing changed, refused by `check` and by `compare`, with words that name the place.
fn refused_with(from: &str, to: &str, words: &[&str]) {
    assert!(DAY.contains(from), "the day has {from:?}");
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), DAY.replacen(from, to, 1)).expect("a file");
    refused(folder.path(), &["check", "day.ron"], words);
    refused(folder.path(), &["compare", "day.ron", "-n", "2"], words);
}

#[test]
fn files_that_are_no_scenario() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("text.ron"), "Dear dispatcher,\nplease").expect("a file");
    fs::write(path.join("empty.ron"), "").expect("a file");
    fs::write(path.join("latin.ron"), b"(name: \"caf\xe9\")").expect("a file");
    fs::write(path.join("deep.ron"), "[".repeat(100_000)).expect("a file");
    refused(
        path,
        &["compare", "missing.ron"],
        &["missing.ron", "No such file"],
    );
    refused(path, &["compare", "."], &["cannot read ."]);
    refused(path, &["check", "text.ron"], &["text.ron:1:"]);
    refused(
        path,
        &["check", "empty.ron"],
        &["empty.ron:1:1", "the file is empty"],
    );
    refused(path, &["check", "latin.ron"], &["latin.ron:1:", "UTF-8"]);
    refused(path, &["check", "deep.ron"], &["deep.ron:1:", "too deeply"]);
}

#[test]
fn values_that_are_wrong() {
    refused_with(
        "bays: 2",
        "bays: \"two\"",
        &["day.ron:27:19", "\"two\"", "expected bays, 1 to 20"],
    );
    refused_with(
        "bays: 2",
        "bay: 2",
        &["day.ron:27:13", "unknown field `bay`", "`bays`"],
    );
    refused_with("days: 1", "days: 0", &["0 is out of range"]);
    refused_with(
        "count: 15",
        "count: 1000000000",
        &["1000000000 is out of range", "5,000"],
    );
    refused_with("count: 15", "count: 0", &["0 is out of range"]);
    refused_with(
        "close: \"19:00\"",
        "close: \"04:00\"",
        &["closes at 04:00 and opens at 04:30"],
    );
    refused_with("volume_yd3: 90", "volume_yd3: inf", &["infinite"]);
    refused_with(
        "choose: LongestIdle",
        "choose: LongestIdel",
        &["LongestIdel", "`LongestIdle`"],
    );
    refused_with(
        "site: \"Ferry ramp\"",
        "site: \"Fery ramp\"",
        &["there is no site \"Fery ramp\"", "\"Ferry ramp\""],
    );
    refused_with("\"Sea wall\": 26,", "", &["North quay", "Sea wall"]);
    refused_with("hours: 14", "hours: 25", &["25 is out of range"]);
}

#[test]
fn a_way_round_needs_a_weigh_station() {
    refused_with(
        "rules: [",
        "weighing: (goes_round: 0.2), rules: [",
        &["there is no weigh station to go round", "network"],
    );
    refused_with(
        "rules: [",
        "weighing: (goes_round: 20), rules: [",
        &["20 is out of range", "share of loads, 0 to 1"],
    );
}

#[test]
fn dates_of_rule_books_that_are_wrong() {
    let book = |dates: &str| {
        format!(
            "rule_books: [(name: \"ours\", like: \"none\", rest_h: 10, driving_h: 9, {dates})], rules: ["
        )
    };
    refused_with(
        "rules: [",
        &book("valid_from: \"2020-02-30\""),
        &["\"2020-02-30\" is no date", "year, month, day"],
    );
    refused_with(
        "rules: [",
        &book("valid_from: \"2020-03-01\", valid_to: \"2019-03-01\""),
        &["the book ends before it begins"],
    );
}

#[test]
fn a_radius_needs_a_map() {
    let day = [
        (
            "rule_book: DutyWindow(hours: 14, rest_hours: 10)",
            "rule_book: \"us_short_haul_2020\"",
        ),
        (
            "(name: \"School slab\", at: (-2.0, 8.5))",
            "(name: \"School slab\")",
        ),
    ]
    .into_iter()
    .fold(DAY.to_owned(), |day, (from, to)| {
        assert!(day.contains(from), "the day has {from:?}");
        day.replacen(from, to, 1)
    });
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), day).expect("a file");
    refused(
        folder.path(),
        &["check", "day.ron"],
        &[
            "day.ron:50:16",
            "\"School slab\" does not say where it lies on the map",
            "`at: (east, north)`",
            "within 150 air miles",
        ],
    );
}

#[test]
fn a_good_file_is_fine() {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), DAY).expect("a file");
    let said = plantday(folder.path(), &["check", "day.ron"]);
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    assert_eq!(
        said.out,
        "day.ron: fine: 1 day, 3 plants, 10 sites, 30 trucks, 30 drivers, 15 orders, 3 rules\n"
    );
}

#[test]
fn nothing_to_send_or_to_drive() {
    let start = DAY.find("    orders: [").expect("the day has orders");
    let end = start + DAY[start..].find("\n    ],").expect("the list ends");
    let orders = &DAY[start..end];
    refused_with(orders, "    orders: [", &["order"]);
    let start = DAY.find("    trucks: [").expect("the day has trucks");
    let end = start + DAY[start..].find("\n    ],").expect("the list ends");
    refused_with(&DAY[start..end], "    trucks: [", &["truck"]);
}

#[test]
fn all_problems_come_at_once() {
    let folder = TempDir::new().expect("a folder");
    let text = DAY
        .replace("bays: 2", "bay: 2")
        .replace("choose: Nearest", "chose: Nearest")
        .replace("count: 5", "cuont: 5");
    fs::write(folder.path().join("day.ron"), text).expect("a file");
    refused(
        folder.path(),
        &["check", "day.ron"],
        &[
            "`bay`", "`chose`", "`cuont`", "`bays`", "`choose`", "`count`",
        ],
    );
}

#[test]
fn arguments_that_are_wrong() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    refused(
        path,
        &["compare", "--rules", "Keep truks home"],
        &["did you mean \"Keep trucks home\"?"],
    );
    refused(
        path,
        &["compare", "--judge", "late_lods"],
        &["did you mean \"late_loads\"?"],
    );
    refused(
        path,
        &["compare", "--judge", "ordered_yd3"],
        &["no figure to judge by"],
    );
    // The built-in week describes no mixes: what needs them is refused before the work, wherever it stands in the list.
    for figure in ["wet_at_rack", "wet_by_unseen_hrwr", "heavy_loads"] {
        refused(
            path,
            &["compare", "-n", "1000000", "--judge", figure],
            &["no concrete described (`mixes` in `concrete`)"],
        );
    }
    refused(
        path,
        &[
            "compare",
            "--rules",
            "Keep trucks home; Traffic, trucks hoem",
        ],
        &["did you mean \"Traffic, trucks home\"?"],
    );
    refused(path, &["compare", "-n", "0"], &["--replications"]);
    refused(path, &["compare", "--replications", "0"], &["'0'"]);
    refused(path, &["compare", "--threads", "0"], &["--threads", "'0'"]);
    refused(path, &["compare", "--seed", "lucky"], &["--seed"]);
    // What may stand there is said in words.
    let whole = "expected a whole number from";
    for arguments in [
        &["compare", "-n", "1e9"][..],
        &["compare", "-n", "1000001"],
        &["compare", "--seed", "-1"],
        &["compare", "--threads", "2000"],
        &["replay", "--replication", "18446744073709551615"],
        &["trip", "--last-loads", "--replication", "4000000000"],
    ] {
        refused(path, arguments, &[whole, "in digits"]);
    }
    refused(path, &["compare", "--sede", "1"], &["--sede", "--seed"]);
    refused(path, &["comparé"], &["compare"]);
    refused(path, &[], &["Usage"]);
}

#[test]
fn an_output_that_cannot_be_written_is_said_before_the_work() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("taken"), "a file").expect("a file");
    refused(
        path,
        &["compare", "-n", "1000000", "--out", "taken"],
        &["taken"],
    );
    refused(
        path,
        &["compare", "-n", "1000000", "--out", "taken/below"],
        &["taken/below"],
    );
    assert_eq!(
        fs::read_to_string(path.join("taken")).expect("it is still there"),
        "a file"
    );
}

/// Names are text wherever they are shown: no markup, no formula, no cursor movement.
#[test]
fn hostile_names_stay_text() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let text = DAY
        .replace(
            "\"Longest idle, 11 hours\"",
            "\"=cmd <script>alert('1')</script> & \\\"x\\\"\"",
        )
        .replace("A day on the estuary", "<img src=x>");
    fs::write(path.join("day.ron"), text).expect("a file");
    let said = plantday(path, &["compare", "day.ron", "-n", "5", "--out", "o"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains("<img src=x>"));
    let summary = fs::read_to_string(path.join("o/summary.csv")).expect("the summary");
    assert!(
        summary.contains("\"'=cmd <script>"),
        "a spreadsheet must not see a formula"
    );
    let page = fs::read_to_string(path.join("o/report.html")).expect("the page");
    assert!(page.contains("&lt;script&gt;alert(") && page.contains("&lt;img src=x&gt;"));
    assert!(
        !page.contains("<script>alert(") && !page.contains("<img src=x"),
        "a browser must not see a script"
    );
    let chart = fs::read_to_string(path.join("o/differences.svg")).expect("the chart");
    assert!(
        !chart.contains("<script"),
        "a browser must not see a script"
    );
    refused(path, &["check", "nothing\u{7}.ron"], &["cannot read"]);
}

/// A line of the output, and then nobody reads on: no error.
#[cfg(unix)]
#[test]
fn who_stops_reading_is_no_error() {
    use std::process::{Command, Stdio};
    let folder = TempDir::new().expect("a folder");
    let mut child = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
        .current_dir(folder.path())
        .args(["compare", "-n", "50", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the program ends");
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
}

/// A full disk below standard output is an error; the kernel's own full device stands for one.
#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_an_error() {
    use std::process::{Command, Stdio};
    let folder = TempDir::new().expect("a folder");
    for arguments in [
        &["compare", "-n", "2"][..],
        &["compare", "-n", "2", "--json"],
        &["hours", "--write-rule-book", "us_property_2020"],
        &["--help"],
        &["compare", "--help"],
        &["--version"],
        &["help", "limits"],
    ] {
        let full = std::fs::File::create("/dev/full").expect("the device");
        let child = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
            .current_dir(folder.path())
            .args(arguments)
            .stdout(Stdio::from(full))
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let output = child.wait_with_output().expect("the program ends");
        let error = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{error}");
        assert!(
            error.contains("standard output cannot be written"),
            "{error}"
        );
    }
}

/// Nobody hears what is said on standard error: the answer and the exit code are the same.
#[cfg(target_os = "linux")]
#[test]
fn messages_that_cannot_be_written_change_nothing() {
    use std::process::{Command, Stdio};
    let folder = TempDir::new().expect("a folder");
    for (arguments, code) in [
        (&["compare", "-n", "2"][..], 0),
        (&["check", "nothing.ron"], 2),
        (&["compare", "--rules", "none such"], 2),
    ] {
        let said = plantday(folder.path(), arguments);
        let full = fs::File::create("/dev/full").expect("the device");
        let unheard = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
            .current_dir(folder.path())
            .args(arguments)
            .stderr(Stdio::from(full))
            .output()
            .expect("the program runs");
        assert_eq!(unheard.status.code(), Some(code), "{arguments:?}");
        assert_eq!(said.code, Some(code), "{arguments:?}");
        assert_eq!(unheard.stdout, said.out.as_bytes(), "{arguments:?}");
    }
}

/// A bound that no figure can come to is refused; the ends of what it can come to are searched for.
#[test]
fn targets_that_cannot_be() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let tune = |target| {
        let few = ["--vary", "early_min=0", "--search", "2", "-n", "2"];
        let rule = ["tune", "--rule", "Keep trucks home", "--target", target];
        [&rule[..], &few].concat()
    };
    for (target, expected) in [
        ("late_share=-1", "a share from 0 to 1"),
        ("late_share=1.01", "a share from 0 to 1"),
        ("late_loads=-0.5", "0 or more"),
        ("cost=inf", "is no number"),
    ] {
        refused(path, &tune(target), &[target, expected]);
    }
    for target in ["late_share=0", "late_share=1", "late_loads=0", "margin=-1"] {
        let said = plantday(path, &tune(target));
        assert!(matches!(said.code, Some(0 | 1)), "{target}: {}", said.err);
    }
}

/// Files without an end: read up to what a file may have, then refused, whoever reads them.
#[cfg(target_os = "linux")]
#[test]
fn a_file_without_an_end_is_refused() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("day.ron"), DAY).expect("a file");
    fs::write(
        path.join("log.csv"),
        "driver,status,start,end\nI. Heron,on,2026-03-02T05:00,2026-03-02T06:00\n",
    )
    .expect("a file");
    let lists = DAY.replacen("orders: [", "orders: Table(\"/dev/zero\"), old: [", 1);
    fs::write(path.join("lists.ron"), lists).expect("a file");
    std::os::unix::fs::symlink("/dev/zero", path.join("endless.csv")).expect("a link");
    let hours = ["hours", "log.csv", "--rule-book"];
    for arguments in [
        &["check", "/dev/zero"][..],
        &["check", "lists.ron"],
        &["check", "day.ron", "--state", "/dev/zero"],
        &["compare", "/dev/zero"],
        &["tickets", "/dev/zero"],
        &["now", "/dev/zero"],
        &["trip", "day.ron", "--last-loads", "--state", "/dev/zero"],
        &["hours", "/dev/zero", "--rule-book", "us_property_2020"],
        &[&hours[..], &["/dev/zero"]].concat(),
        &[&hours[..], &["us_property_2020", "--history", "/dev/zero"]].concat(),
        &["new", "--from", "/dev/zero", "made.ron"],
        &["staff", "day.ron", "--season", "endless.csv"],
    ] {
        let words = ["more than 64 MiB", "plantday help limits"];
        refused(path, arguments, &words);
    }
}

/// With marks that turn the direction of writing one name looks like another; letters that are written from right to left need none.
#[test]
fn marks_that_turn_the_writing_are_refused_and_letters_of_any_script_are_not() {
    for mark in [
        '\u{202a}', '\u{202e}', '\u{2066}', '\u{2069}', '\u{200e}', '\u{200f}', '\u{61c}',
    ] {
        refused_with(
            "A day on the estuary",
            &format!("A day on {mark}the estuary"),
            &[
                "day.ron:",
                "a mark that turns the direction of writing",
                "expected the text without it",
            ],
        );
    }
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let log = |name: &str| {
        let row = format!("{name},on,2026-03-02T05:00,2026-03-02T06:00");
        let text = format!("driver,status,start,end\n{row}\n");
        fs::write(path.join("log.csv"), text).expect("a file");
    };
    let hours = ["hours", "log.csv", "--rule-book", "us_property_2020"];
    log("Heron\u{202e}");
    refused(
        path,
        &hours,
        &["log.csv:2:1", "a mark that turns the direction of writing"],
    );
    let hebrew = "\u{5d0}\u{5e0}\u{5e4}\u{5d4}";
    log(hebrew);
    let said = plantday(path, &hours);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.contains(hebrew), "{}", said.out);
}
