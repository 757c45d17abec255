//! A file of how things stand, kept by calls: what is driven and what is placed goes along, and what cannot be is refused.

use super::desk::YARD;
use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use tempfile::TempDir;

struct Desk(TempDir);

impl Desk {
    fn new() -> Self {
        let folder = TempDir::new().expect("a folder");
        let text = YARD.replace("LUCK", "Constant(1)");
        fs::write(folder.path().join("yard.ron"), text).expect("it can be written");
        Self(folder)
    }

    fn call(&self, words: &[&str]) -> (i32, String, String) {
        let mut command = cargo_bin_cmd!("plantday");
        command.current_dir(&self.0).arg("now").arg("now.ron");
        let output = command.args(words).output().expect("it runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
        (
            output.status.code().expect("it ends"),
            text(output.stdout),
            text(output.stderr),
        )
    }

    fn said(&self, words: &[&str]) -> String {
        let (code, out, err) = self.call(words);
        assert_eq!(code, 0, "{words:?}: {err}");
        out
    }

    fn refused(&self, words: &[&str]) -> String {
        let before = fs::read(self.0.path().join("now.ron")).ok();
        let (code, out, err) = self.call(words);
        assert_eq!((code, out.as_str()), (2, ""), "{words:?}");
        let after = fs::read(self.0.path().join("now.ron")).ok();
        assert_eq!(before, after, "nothing is kept of it");
        err
    }
}

/// In at 06:00; out from 12:10 to 12:42 on site, back from 13:00 to 13:28: 32 + 28 = 60 min driven, 10 yd³ placed.
#[test]
fn a_round_trip_by_calls() {
    let desk = Desk::new();
    desk.said(&["--scenario", "yard.ron", "D1", "in", "06:00", "week", "20"]);
    for words in [
        &["D1", "loading", "Wall", "12:00"][..],
        &["D1", "rack", "12:06"],
        &["D1", "out", "12:10"],
        &["D1", "site", "12:42"],
        &["D1", "unloading", "12:45"],
        &["D1", "back", "13:00"],
    ] {
        desk.said(words);
    }
    let said = desk.said(&["D1", "free", "13:28"]);
    assert_eq!(said, "D1: free at Slipway since 13:28; 1 h 00 min driven\n");
    let kept = fs::read_to_string(desk.0.path().join("now.ron")).expect("it is kept");
    assert!(kept.contains("at: \"13:28\""), "{kept}");
    assert!(
        kept.contains("sent_yd3: 10, placed_yd3: 10, loads: 1"),
        "{kept}"
    );
    assert!(kept.contains("driven_h: 1, since_break_h: 1"), "{kept}");
    // Read back by the question of the hour: 13:28 + 6 + 4 + 30.
    let mut trip = cargo_bin_cmd!("plantday");
    trip.current_dir(&desk.0).args([
        "trip",
        "yard.ron",
        "--state",
        "now.ron",
        "--last-loads",
        "--driver",
        "D1",
    ]);
    let out = trip.output().expect("it runs").stdout;
    let out = String::from_utf8(out).expect("text");
    assert!(out.contains("loaded by 17:59"), "{out}");
}

/// The site and the unloading were not called in: of the time from 12:10 to 13:28 all counts as driven, which is the careful side.
#[test]
fn missed_calls_count_as_driving() {
    let desk = Desk::new();
    desk.said(&[
        "--scenario",
        "yard.ron",
        "D1",
        "in",
        "06:00",
        "week",
        "20",
        ",",
        "D1",
        "out",
        "Wall",
        "12:10",
    ]);
    // Called in when it left: loaded 10 min before, by the means.
    let kept = fs::read_to_string(desk.0.path().join("now.ron")).expect("it is kept");
    assert!(kept.contains("batched: \"12:00\""), "{kept}");
    let said = desk.said(&["D1", "free", "13:28"]);
    assert_eq!(said, "D1: free at Slipway since 13:28; 1 h 18 min driven\n");
}

#[test]
fn what_cannot_be_is_refused_with_what_would_be_right() {
    let desk = Desk::new();
    assert!(
        desk.refused(&["D1", "in", "06:00"])
            .contains("expected --scenario FILE")
    );
    let asks = desk.refused(&["--scenario", "yard.ron", "D1", "in", "06:00"]);
    assert!(asks.contains("like: D1 in 06:00 week 32"), "{asks}");
    desk.said(&[
        "--scenario",
        "yard.ron",
        "D1",
        "in",
        "06:00",
        "week",
        "20",
        ",",
        "D2",
        "off",
        "06:00",
    ]);
    for (words, what) in [
        (&["D11", "free", "13:00"][..], "a similar one is \"D1\""),
        (&["D1", "fre", "13:00"], "a similar one is \"free\""),
        (
            &["D1", "unloading", "13:00"],
            "D1 is free since 06:00: D1 loading ORDER",
        ),
        (
            &["D1", "loading", "Wal", "13:00"],
            "a similar name is \"Wall\"",
        ),
        (
            &["D1", "loading", "13:00"],
            "expected the order after loading",
        ),
        (&["D1", "free", "05:00"], "05:00 is before that"),
        (
            &["D2", "out", "Wall", "13:00"],
            "D2 is off duty since 06:00: D2 in TIME comes first",
        ),
        (
            &["D1", "in", "07:00", "week", "1"],
            "D1 is at work since 06:00",
        ),
        (&["D1"], "expected a driver and what was called in"),
        (
            &["D1", "loading", "Wall", "11", "07:00"],
            "11 yd³ are on a truck that holds 10 yd³",
        ),
    ] {
        let err = desk.refused(words);
        assert!(err.contains(what), "{words:?}: {err}");
    }
}

/// E's weekly hours are in the scenario; an order cancelled is kept; the board tells who is where.
#[test]
fn the_board_tells_who_is_where() {
    let desk = Desk::new();
    desk.said(&[
        "--scenario",
        "yard.ron",
        "E",
        "in",
        "06:00",
        ",",
        "order",
        "Pad",
        "cancelled",
    ]);
    desk.said(&["E", "break", "11:00", ",", "E", "stuck", "Half", "11:30"]);
    let board = desk.said(&[]);
    assert!(
        board.contains("E: out of hours at Half since 11:30"),
        "{board}"
    );
    assert!(
        board.contains("3 drivers are not in the file and follow the roster"),
        "{board}"
    );
    let kept = fs::read_to_string(desk.0.path().join("now.ron")).expect("it is kept");
    assert!(kept.contains("(name: \"Pad\", cancelled: true)"), "{kept}");
}

/// Seven drivers on duty without hours driven or a break, E not named: four names, the others counted, in text, JSON and page. Of a file
/// that says all nothing is said.
#[test]
fn last_loads_say_of_whom_the_file_tells_too_little() {
    let folder = TempDir::new().expect("a folder");
    let write = |name: &str, text: &str| {
        fs::write(folder.path().join(name), text).expect("it can be written");
    };
    let seven = YARD.replace("LUCK", "Constant(1)");
    write("yard.ron", &seven.replace("count: 3", "count: 7"));
    let state = |known: &str, rest: &str| {
        let drivers = (1..=7).map(|n| {
            format!(
                r#"(name: "D{n}", doing: Free, at: "Slipway", since: "13:05", reported: "06:00", week_h: 20{known}),"#
            )
        });
        let drivers: String = drivers.collect();
        format!(r#"(day: 1, at: "13:40", drivers: [{drivers}{rest}])"#)
    };
    write("little.ron", &state("", ""));
    write(
        "all.ron",
        &state(
            ", driven_h: 2, since_break_h: 1",
            r#"(name: "E", doing: Off)"#,
        ),
    );
    let trip = |arguments: &[&str]| {
        let mut command = cargo_bin_cmd!("plantday");
        let command = command.current_dir(&folder).args(["trip", "yard.ron"]);
        let command = command.args(["--last-loads", "--out", "out"]);
        let output = command.args(arguments).output().expect("it runs");
        let text = String::from_utf8(output.stdout).expect("text");
        (text.split_whitespace().collect::<Vec<_>>().join(" "), text)
    };
    let said = "1 driver is not in the file and follows the roster. Not in the file: hours driven of D1, D2, D3, D4 and 3 others; a break \
                of D1, D2, D3, D4 and 3 others. The careful side is taken";
    let (text, _) = trip(&["--state", "little.ron"]);
    assert!(text.contains(said), "{text}");
    for page in ["report.html", "last-loads.html"] {
        let page = fs::read_to_string(folder.path().join("out").join(page)).expect("it is there");
        assert!(super::sheet::plain(&page).contains(said), "{page}");
    }
    let (_, text) = trip(&["--state", "little.ron", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let unsaid = &json["unsaid"];
    assert_eq!(unsaid["roster"], serde_json::json!(["E"]));
    for what in ["hours_driven", "break"] {
        assert_eq!(unsaid[what].as_array().expect("a list").len(), 7, "{what}");
    }
    let (text, _) = trip(&["--state", "little.ron", "--driver", "D1"]);
    assert!(
        text.contains(
            "Of D1: hours driven are not in the file, taken as 7 h 05 min; no break is known"
        ),
        "{text}"
    );
    let (text, _) = trip(&["--state", "all.ron"]);
    assert!(
        !text.contains("in the file") && !text.contains("careful"),
        "{text}"
    );
}

/// Off at 12:18, broken down at 12:25 after 7 min of way, going on at 12:50 and on site at 13:13: standing is part of the drive, 7 + 25 + 23
/// min. Unloaded by 13:25, 10 yd³ placed; a break, 30 min back: 1 h 25 min in all. What was to be over by then is.
#[test]
fn what_else_is_called_in() {
    let desk = Desk::new();
    desk.said(&["--scenario", "yard.ron", "D1", "in", "06:00", "week", "20"]);
    for (words, said) in [
        (
            &["D1", "promised", "Wall", "12:00"][..],
            "D1: free at Slipway since 06:00; next load 1 of \"Wall\"; 0 h 00 min driven\n",
        ),
        (
            &["D1", "queue", "12:05"],
            "D1: waiting to load at Slipway since 12:05; next load 1 of \"Wall\"; 0 h 00 min driven\n",
        ),
        (
            &["D1", "loading", "12:08"],
            "D1: loading, load 1 of \"Wall\" since 12:08; 0 h 00 min driven\n",
        ),
        (
            &["D1", "out", "12:18"],
            "D1: driving loaded, load 1 of \"Wall\" since 12:18; 0 h 00 min driven\n",
        ),
        (
            &["D1", "down", "12:25", "until", "13:00"],
            "D1: broken down, load 1 of \"Wall\" since 12:25 until 13:00; 0 h 07 min driven\n",
        ),
        (
            &["D1", "going", "12:50"],
            "D1: driving loaded, load 1 of \"Wall\" since 12:50; 0 h 32 min driven\n",
        ),
        (
            &["D1", "site", "13:13"],
            "D1: waiting on site, load 1 of \"Wall\" since 13:13; 0 h 55 min driven\n",
        ),
        (
            &["D1", "unloading", "13:15"],
            "D1: unloading, load 1 of \"Wall\" since 13:15; 0 h 55 min driven\n",
        ),
        (
            &["D1", "washing", "13:25"],
            "D1: washing the chute since 13:25; 0 h 55 min driven\n",
        ),
        (
            &["D1", "pause", "13:28", "until", "14:00"],
            "D1: on a break since 13:28 until 14:00; 0 h 55 min driven\n",
        ),
        (
            &["plant", "Slipway", "down", "13:40", "until", "14:20"],
            "plant \"Slipway\": down since 13:40 until 14:20\n",
        ),
        (
            &["traffic", "1.2"],
            "traffic: drives take 1.2 times as long as usual\n",
        ),
    ] {
        assert_eq!(desk.said(words), said);
    }
    let kept = || fs::read_to_string(desk.0.path().join("now.ron")).expect("it is kept");
    for part in [
        "traffic: 1.2,",
        "(name: \"Slipway\", down_since: \"13:40\", until: \"14:20\")",
        "doing: OnBreak, order: \"Wall\", until: \"14:00\"",
        "sent_yd3: 10, placed_yd3: 10, loads: 1",
    ] {
        assert!(kept().contains(part), "{part}: {}", kept());
    }
    for (words, what) in [
        (
            &["D1", "going", "13:50"][..],
            "D1 is on a break: D1 down TIME comes first",
        ),
        (&["D1", "down", "13:50"], "a truck breaks down on a drive"),
        (
            &["D1", "sent", "Slipway", "13:50"],
            "only a free truck is sent to another plant",
        ),
        (
            &["plant", "Slipway", "down", "13:50"],
            "expected until TIME",
        ),
        (&["traffic", "20"], "how many times as long as usual"),
        (
            &["D1", "pause", "13:50"],
            "a break begins where the driver is free",
        ),
    ] {
        let err = desk.refused(words);
        assert!(err.contains(what), "{words:?}: {err}");
    }
    // 14:00 has passed: the break is over. 14:20 has: the plant works again.
    assert_eq!(
        desk.said(&["D1", "back", "14:02"]),
        "D1: driving back since 14:02; 0 h 55 min driven\n"
    );
    let said = desk.said(&["D1", "free", "14:32"]);
    assert_eq!(said, "D1: free at Slipway since 14:32; 1 h 25 min driven\n");
    assert!(!kept().contains("down_since"), "{}", kept());
}
