//! The command as users meet it.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const WEEK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_week.ron");
const SHUTTLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/shuttle_day.ron");
const LOAD: [&str; 6] = [
    "--at",
    "Wed 12:30",
    "--driver",
    "Zoe S10",
    "--order",
    "Cannery, footings 2",
];

fn trip(folder: &TempDir, arguments: &[&str]) -> (i32, String, String) {
    let mut command = cargo_bin_cmd!("plantday");
    command
        .current_dir(folder)
        .arg("trip")
        .arg(WEEK)
        .args(arguments);
    let output = command.output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (
        output.status.code().expect("it ends"),
        text(output.stdout),
        text(output.stderr),
    )
}

fn json(folder: &TempDir, arguments: &[&str]) -> (i32, Value) {
    let all: Vec<&str> = arguments
        .iter()
        .copied()
        .chain(["--json", "-n", "60"])
        .collect();
    let (code, out, err) = trip(folder, &all);
    let value = serde_json::from_str(&out);
    (
        code,
        value.unwrap_or_else(|error| panic!("{error}: {out}{err}")),
    )
}

#[test]
fn the_same_bytes_for_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let mut files: Vec<Vec<u8>> = Vec::new();
    for threads in ["1", "3"] {
        let mut arguments = LOAD.to_vec();
        arguments.extend(["-n", "40", "--threads", threads, "--out", threads]);
        let (code, ..) = trip(&folder, &arguments);
        assert!(code < 2);
        for name in ["trip.csv", "trip.json", "report.html", "drivers.svg"] {
            files.push(fs::read(folder.path().join(threads).join(name)).expect("it is there"));
        }
    }
    let (one, three) = files.split_at(4);
    assert_eq!(one, three);
}

#[test]
fn the_answer_fits_one_screen_and_leads_with_the_decision() {
    let folder = TempDir::new().expect("a folder");
    let (_, out, _) = trip(&folder, &LOAD);
    let lines: Vec<&str> = out.lines().collect();
    assert!(lines.len() <= 30, "{out}");
    assert!(
        lines.iter().all(|line| line.chars().count() <= 100),
        "{out}"
    );
    let decision = lines[2];
    assert!(
        ["Yes", "No", "Too close to call"]
            .iter()
            .any(|word| decision.starts_with(word)),
        "{out}"
    );
    // Wherever the line breaks.
    let words: Vec<&str> = out.split_whitespace().collect();
    assert!(words.join(" ").contains("A plan is no permission"), "{out}");
}

/// What is written of a simulated day reads back, and gives about the same chances: what the file cannot say (how bad today is on
/// the roads, how slow each site) is drawn.
#[test]
fn how_things_stand_can_be_written_and_read() {
    let folder = TempDir::new().expect("a folder");
    let at = [
        "--at",
        "Fri 13:20",
        "--write-state",
        "now.ron",
        "--replication",
        "4",
    ];
    let (code, _, err) = trip(&folder, &at);
    assert_eq!(code, 0, "{err}");
    let question = ["--driver", "Milo N13", "--order", "Signal cottages, slab"];
    let with_state: Vec<&str> = ["--state", "now.ron"].into_iter().chain(question).collect();
    let simulated: Vec<&str> = ["--at", "Fri 13:20", "--replication", "4"]
        .into_iter()
        .chain(question)
        .collect();
    let (_, from_file) = json(&folder, &with_state);
    let (_, from_day) = json(&folder, &simulated);
    assert_eq!(from_file["load"]["number"], from_day["load"]["number"]);
    assert_eq!(from_file["at"], "Fri 13:20");
    let chance = |answer: &Value| answer["asked"]["fate"]["back_within_clocks"]["share"].as_f64();
    let (a, b) = (
        chance(&from_file).expect("a share"),
        chance(&from_day).expect("a share"),
    );
    assert!((a - b).abs() < 0.3, "{a} and {b}");
}

#[test]
fn all_that_is_wrong_with_a_state_is_said_at_once() {
    let folder = TempDir::new().expect("a folder");
    let text = r#"(
    day: 3, at: "15:40",
    drivers: [
        (name: "Lena N12", doing: Fre, at: "North quay", since: "15:31", reported: "08:30"),
        (name: "Milo N133", doing: Free, at: "North quay", since: "15:31", reported: "08:30"),
        (name: "Nell N14", doing: Free, at: "North quay", since: "16:31", reported: "08:30"),
        (name: "Otto N15", doing: DrivingLoaded, order: "Market hall, floor", load: 3, yd3: 10, plant: "North quay", since: "15:31", reported: "08:30"),
    ],
    orders: [(name: "Market hall, floor", sent_yd3: 20, placed_yd3: 30, loads: 2)],
)"#;
    fs::write(folder.path().join("state.ron"), text).expect("it can be written");
    let arguments = ["--state", "state.ron", "--retrieve", "Lena N12"];
    let (code, out, err) = trip(&folder, &arguments);
    assert_eq!((code, out.as_str()), (2, ""));
    for (line, what) in [
        (4, "unknown thing to do `Fre`"),
        (5, "the scenario has no driver \"Milo N133\""),
        (6, "this is after the moment of the file"),
        (7, "this load has not been sent by `orders`"),
        (9, "more is placed than sent"),
    ] {
        assert!(err.contains(what), "{what}: {err}");
        assert!(
            err.contains(&format!("state.ron:{line}:")),
            "line {line}: {err}"
        );
    }
    assert!(
        !folder.path().join("plantday-trip").exists(),
        "nothing is written"
    );
}

/// One load is on one truck, comes from a plant that makes its mix, and is nowhere before it is batched.
#[test]
fn a_state_that_contradicts_itself_is_refused() {
    let folder = TempDir::new().expect("a folder");
    let text = r#"(
    day: 1, at: "10:40",
    drivers: [
        (name: "Lena N12", doing: DrivingLoaded, order: "Boatyard, wall", load: 3, yd3: 10, plant: "North quay", batched: "10:10", since: "10:25", reported: "08:30", week_h: 20),
        (name: "Milo N13", doing: WaitingOnSite, order: "Boatyard, wall", load: 3, yd3: 10, plant: "North quay", batched: "10:10", since: "10:25", reported: "08:30", week_h: 20),
        (name: "Nell N14", doing: AtRack, order: "Boatyard, wall", load: 4, yd3: 10, plant: "North quay", batched: "10:31", since: "10:07", reported: "08:30", week_h: 20),
        (name: "Otto N15", doing: AtRack, order: "Sea wall, curb", load: 1, yd3: 10, plant: "Upper lock", batched: "10:25", since: "10:37", reported: "08:30", week_h: 20),
    ],
    orders: [
        (name: "Boatyard, wall", sent_yd3: 40, placed_yd3: 10, loads: 4),
        (name: "Sea wall, curb", sent_yd3: 10, placed_yd3: 0, loads: 1),
    ],
)"#;
    fs::write(folder.path().join("state.ron"), text).expect("it can be written");
    let (code, out, err) = trip(&folder, &["--state", "state.ron", "--retrieve", "Lena N12"]);
    assert_eq!((code, out.as_str()), (2, ""));
    for (line, what) in [
        (5, "this load of its order stands twice"),
        (6, "this began before the load was batched"),
        (7, "this plant does not make the order's mix \"marine\""),
    ] {
        assert!(err.contains(what), "{what}: {err}");
        assert!(
            err.contains(&format!("state.ron:{line}:")),
            "line {line}: {err}"
        );
    }
    // Said of what is wrong only.
    assert!(!err.contains("state.ron:4:"), "{err}");
}

/// A file that is there is not replaced unless asked for, as with `new`.
#[test]
fn a_state_does_not_replace_a_file_unasked() {
    let folder = TempDir::new().expect("a folder");
    let mine = folder.path().join("mine.ron");
    fs::write(&mine, "my own").expect("a file");
    let write = ["--at", "Wed 05:00", "--write-state", "mine.ron"];
    let (code, _, err) = trip(&folder, &write);
    assert_eq!(code, 2);
    assert!(
        err.contains("mine.ron exists already; --force replaces it"),
        "{err}"
    );
    assert_eq!(fs::read_to_string(&mine).expect("the file"), "my own");
    let forced: Vec<&str> = write.into_iter().chain(["--force"]).collect();
    assert_eq!(trip(&folder, &forced).0, 0);
    assert!(
        fs::read_to_string(&mine)
            .expect("the file")
            .contains("at: \"05:00\"")
    );
    // Nothing else is written over.
    let (code, _, err) = trip(
        &folder,
        &["--at", "Wed 05:00", "--retrieve", "Lena N12", "--force"],
    );
    assert_eq!(code, 2);
    assert!(err.contains("--write-state"), "{err}");
}

/// Endless orders: what a state file cannot say is not written, and what there is nothing to foretell of is said.
#[test]
fn endless_orders_are_refused_in_plain_words() {
    let folder = TempDir::new().expect("a folder");
    let shuttle = |arguments: &[&str]| {
        let mut command = cargo_bin_cmd!("plantday");
        command.current_dir(&folder).arg("trip").arg(SHUTTLE);
        let output = command.args(arguments).output().expect("it runs");
        let err = String::from_utf8(output.stderr).expect("text");
        (output.status.code(), err)
    };
    let (code, err) = shuttle(&["--at", "09:00", "--write-state", "s.ron"]);
    assert_eq!(code, Some(2));
    assert!(err.contains("how things stand at 09:00"), "{err}");
    assert!(err.contains("the endless order \"Shuttle\""), "{err}");
    assert!(!folder.path().join("s.ron").exists());
    let (code, err) = shuttle(&["--calibrate", "10", "-n", "2"]);
    assert_eq!(code, Some(2));
    assert!(err.contains("nothing was found to ask about"), "{err}");
}

#[test]
fn wrong_questions_are_refused_with_what_would_be_right() {
    let folder = TempDir::new().expect("a folder");
    let cases: [(&[&str], &str); 8] = [
        (
            &["--at", "Wen 15:40", "--retrieve", "Lena N12"],
            "names no day",
        ),
        (
            &["--at", "Wed 15:40", "--retrieve", "Lena N122"],
            "did you mean \"Lena N12\"?",
        ),
        (
            &["--at", "Wed 15:40", "--retrieve", "Lena N12"],
            "is not stranded",
        ),
        (&["--at", "Wed 15:40"], "required"),
        (
            &["--at", "Wed 10:00", "--new-order", "site=Clinic,volume=60"],
            "spacing= is missing",
        ),
        (
            &[
                "--at",
                "Wed 10:00",
                "--new-order",
                "site=Clinic,volume=6o,first=14:00,spacing=15",
            ],
            "volume=6o is not a number",
        ),
        (
            &[
                "--at",
                "Wed 10:00",
                "--new-order",
                "site=Clinic,volume=60,first=09:00,spacing=15",
            ],
            "not after the moment",
        ),
        (
            &[
                "--at",
                "Wed 15:40",
                "--driver",
                "Lena N12",
                "--order",
                "Clinic, mat",
            ],
            "no load that could go",
        ),
    ];
    for (arguments, words) in cases {
        let (code, out, err) = trip(&folder, arguments);
        assert_eq!((code, out.as_str()), (2, ""), "{arguments:?}");
        assert!(err.contains(words), "{arguments:?}: {err}");
    }
}

/// Ways home are told in the order in which the driver is home; resting out is always one of them.
#[test]
fn a_stranded_driver_is_fetched() {
    let folder = TempDir::new().expect("a folder");
    let (time, driver) = first_stranding(&folder);
    let (code, answer) = json(&folder, &["--at", &time, "--retrieve", &driver]);
    assert_eq!(code, 0);
    let ways = answer["ways"].as_array().expect("a list");
    assert!(
        ways.iter()
            .any(|way| way["way"] == "stays overnight with the truck")
    );
    let home = |way: &Value| way["home_min"]["median"].as_f64().expect("home some time");
    assert!(
        ways.windows(2).all(|pair| home(&pair[0]) <= home(&pair[1])),
        "{ways:#?}"
    );
}

/// The first stranding of the demo's replication 0 as `replay` tells it: the minute after it, and who.
fn first_stranding(folder: &TempDir) -> (String, String) {
    let mut command = cargo_bin_cmd!("plantday");
    command.current_dir(folder);
    command.args([
        "replay",
        WEEK,
        "--replication",
        "0",
        "-n",
        "1",
        "--out",
        "replay",
    ]);
    command.output().expect("it runs");
    let events = fs::read_to_string(folder.path().join("replay/events.csv")).expect("events");
    let line = events
        .lines()
        .find(|line| line.contains(" stranded at "))
        .expect("somebody is stranded");
    let cells: Vec<&str> = line.split(',').collect();
    let minutes: f64 = cells[0].parse().expect("minutes");
    let after = minutes as u64 + 1;
    let (day, minute) = (after / 1440 + 1, after % 1440);
    let time = format!("day {day} {:02}:{:02}", minute / 60, minute % 60);
    (time, cells[5].to_owned())
}
