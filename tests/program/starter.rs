//! What `plantday new` and `plantday check --summary` say: a first-time user writes a starter, sees what the program
//! understood of it, and hears of what is legal but doubtful.

use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Standard output of a call that must be fine.
fn plantday(folder: &Path, arguments: &[&str]) -> String {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    assert_eq!(
        output.status.code(),
        Some(0),
        "{arguments:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

fn summary_of(text: &str) -> String {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), text).expect("a file");
    plantday(folder.path(), &["check", "day.ron", "--summary"])
}

/// Wrapped lines made whole again.
fn statements(summary: &str) -> Vec<String> {
    let mut statements: Vec<String> = Vec::new();
    for line in summary.lines() {
        match (line.strip_prefix("  "), statements.last_mut()) {
            (Some(rest), Some(last)) if !last.is_empty() => {
                last.push(' ');
                last.push_str(rest);
            }
            _ => statements.push(line.to_owned()),
        }
    }
    statements
}

fn assert_says(summary: &str, expected: &[&str]) {
    let statements = statements(summary);
    for line in expected {
        assert!(
            statements.iter().any(|statement| statement == line),
            "no line {line:?} in\n{summary}"
        );
    }
}

/// The doubts, without their mark.
fn doubts(summary: &str) -> Vec<String> {
    statements(summary)
        .iter()
        .skip_while(|line| *line != "Legal but doubtful")
        .skip(1)
        .map(|line| line.strip_prefix("- ").unwrap_or(line).to_owned())
        .collect()
}

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(name);
    fs::read_to_string(path).expect("the example")
}

#[test]
fn a_starter_says_what_to_do_next_and_what_it_is() {
    let folder = TempDir::new().expect("a folder");
    let said = plantday(folder.path(), &["new", "mine.ron"]);
    for next in ["plantday check mine.ron", "plantday compare mine.ron"] {
        assert!(said.contains(next), "{said}");
    }
    let written = fs::read_to_string(folder.path().join("mine.ron")).expect("the starter");
    assert_eq!(written, example("starter.ron"));
    assert!(written.lines().count() < 70);
    let names: Vec<_> = fs::read_dir(folder.path()).expect("the folder").collect();
    assert_eq!(names.len(), 1, "nothing but the file is left");

    let summary = plantday(folder.path(), &["check", "mine.ron", "--summary"]);
    assert_says(
        &summary,
        &[
            "Saltmarsh: 2 bays with a batcher each, open 05:00–18:00 every day, makes every mix, 10 yd³ load in about 6.0 min, \
             slump rack 5.7 min, no limit of truck positions",
            "As today (today): sends as ordered; 10 min early; reckons with straight lines at 35 mph; the load due first goes \
             first; the plant nearest to the site; no hours check; loans between plants always",
            "R1 to R7: 7 trucks of Saltmarsh, 10 yd³, 28,000 lb empty, legal gross 69,000 lb",
            "dr1 to dr7: 7 drivers, report 05:15 to 06:45, shift 10 h, every day, trucks R1 to R7",
            "In all: 5 orders, 249 yd³ in 26 loads.",
            "Agreed to be finished: Floor by 11:00.",
        ],
    );
    assert_eq!(
        doubts(&summary),
        ["nothing found"],
        "a starter sets an example"
    );
}

/// The numbers are those written in the file; sums and means by hand: (2 + 5 + 10) ÷ 3 = 5.7, 1.5 + 0.45 × 10 = 6.0.
#[test]
fn the_summary_of_the_estuary_day() {
    let summary = summary_of(&example("estuary_day.ron"));
    assert_says(
        &summary,
        &[
            "North quay: 2 bays with a batcher each, open 04:30–19:00 every day, makes every mix, 10 yd³ load in about 6.0 min, \
             slump rack 5.7 min, 3 truck positions",
            "Nearest on the map (today): sends as ordered; 10 min early; reckons with straight lines at 32 mph; the load due \
             first goes first; the plant nearest to the site; no hours check; loans between plants always",
            "Soonest, home in time: sends at the pace at which the site unloads; 3 min early; reckons with the minutes that 70% of \
             trips at the hour stay within; pours that have begun go first; the plant and truck soonest on site; only \
             drivers 95% sure to be home in time; loans between plants if that saves 10 min",
            "Upper lock: to 10 sites, 11 min (Mill floor) to 47 min (Sea wall) on the empty road; to North quay 24 min; to \
             South mole 29 min.",
            "dn1 to dn15: 15 drivers, report 04:15 to 06:35, shift 10 h, every day, trucks N1 to N15",
            "In all: 15 orders, 937 yd³ in 95 loads.",
            "Room for trucks that wait on site: Ferry ramp 1.",
        ],
    );
    assert!(
        doubts(&summary)[0].starts_with(
            "Lighthouse road, deck: the last load, due at 18:54, loads at South mole at about 18:26"
        ),
        "{summary}"
    );
}

/// Redirected output is 100 columns wide; the first line holds the file's name, which is as long as it is.
#[test]
fn every_example_is_fine_and_fits_100_columns() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut seen = 0;
    for entry in fs::read_dir(&folder).expect("the examples") {
        let name = entry.expect("an entry").file_name();
        let name = name.to_str().expect("a name");
        if !name.ends_with(".ron") {
            continue; // duty logs and histories, which other tests read
        }
        let summary = plantday(&folder, &["check", name, "--summary"]);
        assert!(summary.starts_with(&format!("{name}: fine: ")), "{summary}");
        assert!(
            !summary.contains('\u{1b}'),
            "no styles where nobody sees them"
        );
        for line in summary.lines().skip(1) {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
        seen += 1;
    }
    assert!(seen >= 4);
}

#[test]
fn a_check_without_the_option_stays_one_line() {
    let folder = TempDir::new().expect("a folder");
    plantday(folder.path(), &["new", "mine.ron"]);
    let said = plantday(folder.path(), &["check", "mine.ron"]);
    assert_eq!(said.lines().count(), 1, "{said}");
}

/// A day on which much is doubtful; every time below is worked out on paper beside its doubt.
const DOUBTFUL: &str = r#"(
    name: "Doubtful",
    rule_book: DutyWindow(hours: 9),
    concrete: (age_limit_min: 30),
    plants: [
        (name: "A", hours: [(open: "06:00", close: "16:00")], loading: Constant(6), rack: Constant(4)),
        (name: "B", at: (0, 0), hours: [(open: "06:00", close: "16:00")], loading: Constant(6), rack: Constant(4)),
    ],
    sites: [(name: "S", at: (0, 0))],
    roads: (minutes: { "A": { "S": 20, "B": 30 }, "B": { "S": 60 } }),
    trucks: [(name: "T", count: 3, home: "A", empty_lb: 30000, legal_gross_lb: 66000)],
    drivers: [
        (name: "early", trucks: "T1", report: "01:00", shift_h: 4),
        (name: "late", trucks: "T2", report: "07:00", shift_h: 10),
    ],
    orders: [
        (name: "Mat", site: "S", first: "07:00", volume_yd3: 60, spacing_min: 60, gap_min: 20,
            position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "Fast", site: "S", first: "10:00", called: "09:45", volume_yd3: 50, spacing_min: 5, finish_by: "10:30",
            position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (name: "Evening", site: "S", first: "17:30", volume_yd3: 10, spacing_min: 30,
            position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
    ],
    yard: (pre_trip: Constant(15)),
    rules: [(name: "R", belief: StraightLine, yard: (warning: OnAdmixture), retrieval: Fetch)],
)"#;

/// A round trip is 6 + 4 loading and rack, 20 out, 10 discharge, 5 wash, 20 back: 65 min; the lead is 30. Weight: 10 yd³ of
/// 4,050 lb (150 lb/ft³, the handbook unit weight of normal concrete). Trucks = round trip ÷ spacing is the hand formula of
/// the trade (common practice, no source). All times by hand.
#[test]
fn what_is_legal_but_doubtful_is_said_with_its_numbers() {
    let expected = [
        "R measures on the map, and 3 of 3 places stand at (0, 0) on it",
        "R has helpers pick up stranded drivers, and there is no helper",
        "R warns on the ticket, and no load is misread without `rack` in `concrete`",
        "B has no trucks of its own; no rule loans it any",
        "1 truck is without a driver in the period: T3",
        // 66,000 − 30,000 = 36,000; ÷ 4,050 = 8.888 …
        "T1 to T3: 10 yd³ weigh 40,500 lb, and 66,000 lb gross less 30,000 lb empty leave 36,000 lb: loads are cut to 8.88 yd³",
        "early: on duty 01:00–05:00, when A is closed (open 06:00–16:00 every day)",
        "late: the shift of 10 h is longer than the 9 h after report in which they may drive",
        // 07:00 + 15 + 10 + 20
        "Mat: due at 07:00, and nobody can be on site before about 07:45 (late reports at 07:00)",
        // 60 − 10
        "Mat: loads 60 min apart that unload in 10 min leave pauses of 50 min, and 20 min are tolerated",
        "Mat: 40 min from batching to the end of unloading on the empty road, and the age limit is 30 min",
        "Fast: called at 09:45, and a load due at 10:00 must begin to load 30 min before",
        // 4 × (10 − 5)
        "Fast: the site takes a load every 10 min at best, and loads are due every 5 min: the last of 5 waits 20 min",
        // 10:00 + 4 × 10 + 10
        "Fast: agreed to be finished by 10:30, and its last load is done at about 10:50 if every load is on time",
        "Fast: 40 min from batching to the end of unloading on the empty road, and the age limit is 30 min",
        // 17:30 − 30 = 17:00: A closed at 16:00, the shift ends at 17:00
        "Evening: due at 17:30, and nobody can load for it that day",
        "Evening: the last load, due at 17:30, loads at A at about 17:00, when no plant that makes standard is open",
        "Evening: the last load, due at 17:30, loads at A at about 17:00, when no driver's shift is running",
        "Evening: 40 min from batching to the end of unloading on the empty road, and the age limit is 30 min",
        // 65 ÷ 60 + min(65 ÷ 5, 5) = 6.08 from 09:30 on; only "late" is there
        "at 09:30 the orders under way keep about 7 trucks busy (round trip ÷ spacing, empty road), and 1 driver is on shift",
    ];
    assert_eq!(doubts(&summary_of(DOUBTFUL)), expected);
}

/// What nobody asks for is named, beside the same scenario in which somebody does.
#[test]
fn what_is_described_and_not_asked_for_is_said() {
    let about = |text: &str| {
        let mut found = doubts(&summary_of(text));
        found.retain(|doubt| doubt.starts_with("No order") || doubt.contains("the only plant"));
        found
    };
    assert_eq!(about(DOUBTFUL), [""; 0]);
    let more = DOUBTFUL
        .replace("sites: [", "sites: [(name: \"Spit\", at: (0, 0)), ")
        .replace("{ \"S\": 20,", "{ \"Spit\": 9, \"S\": 20,")
        .replace("{ \"S\": 60 }", "{ \"Spit\": 9, \"S\": 60 }");
    assert_eq!(about(&more), ["No order goes to 1 site: Spit"]);

    let hot = include_str!("../../scenarios/hot_week.ron");
    assert_eq!(about(hot), [""; 0]);
    let mixes = |name: &str| {
        format!(
            "mixes: [(name: \"{name}\", cement_lb: 600, water_lb: 285, coarse_lb: 1750, slump_in: 5, specified_psi: 3000),"
        )
    };
    let lean = hot.replacen("mixes: [", &mixes("lean"), 1);
    assert_eq!(about(&lean), ["No order asks for 1 mix: lean"]);

    let alone = |lend: &str| {
        let lent = format!("name: \"R\", lend: {lend}");
        let lines = DOUBTFUL
            .lines()
            .filter(|line| !line.contains("name: \"B\""));
        let text: Vec<&str> = lines.collect();
        let roads = ("\"B\": 30 }, \"B\": { \"S\": 60 }", "}");
        text.join("\n")
            .replace(roads.0, roads.1)
            .replace("name: \"R\"", &lent)
    };
    assert_eq!(about(&alone("Never")), [""; 0]);
    assert_eq!(
        about(&alone("Always")),
        ["R loans trucks (`lend`), and A is the only plant"]
    );
}

/// With the numbers put right the doubts go, one by one.
#[test]
fn what_is_put_right_is_no_longer_doubted() {
    let before = doubts(&summary_of(DOUBTFUL));
    for (wrong, right, gone) in [
        (
            "belief: StraightLine",
            "belief: FreeFlow",
            "R measures on the map",
        ),
        ("retrieval: Fetch", "retrieval: RestOut", "R has helpers"),
        ("warning: OnAdmixture", "warning: Never", "R warns"),
        ("home: \"A\"", "home: \"B\"", "B has no trucks"),
        ("legal_gross_lb: 66000", "legal_gross_lb: 70500", "T1 to T3"), // 30,000 + 40,500, exactly
        ("report: \"01:00\"", "report: \"02:01\"", "early: on duty"),   // until 06:01
        (
            "DutyWindow(hours: 9)",
            "DutyWindow(hours: 10)",
            "late: the shift",
        ),
        ("report: \"07:00\"", "report: \"06:15\"", "Mat: due at"), // on site at 07:00
        ("gap_min: 20", "gap_min: 50", "Mat: loads 60 min apart"),
        ("age_limit_min: 30", "age_limit_min: 40", "Mat: 40 min"),
        ("called: \"09:45\"", "called: \"09:30\"", "Fast: called"),
        (
            "spacing_min: 5,",
            "spacing_min: 10,",
            "Fast: the site takes",
        ),
        (
            "finish_by: \"10:30\"",
            "finish_by: \"10:50\"",
            "Fast: agreed",
        ),
        (
            "close: \"16:00\"",
            "close: \"17:00\"",
            "Evening: the last load, due at 17:30, loads at A at about 17:00, when no plant",
        ),
        (
            "shift_h: 10",
            "shift_h: 11",
            "Evening: the last load, due at 17:30, loads at A at about 17:00, when no driver",
        ),
    ] {
        assert!(before.iter().any(|doubt| doubt.starts_with(gone)), "{gone}");
        let after = doubts(&summary_of(&DOUBTFUL.replace(wrong, right)));
        assert!(
            !after.iter().any(|doubt| doubt.starts_with(gone)),
            "{right}: {after:#?}"
        );
    }
}

/// Names are text: they break no line and fit the page however long they are.
#[test]
fn hostile_names_stay_on_their_line() {
    let long = "x".repeat(90);
    let text = DOUBTFUL
        .replace("\"Mat\"", "\"Mat - all is fine\"")
        .replace("\"Doubtful\"", "\"=cmd <script>\"")
        .replace("\"S\"", &format!("\"{long}\""))
        .replace("name: \"R\"", "name: \"R\", about: \"one\\ntwo\"");
    let summary = summary_of(&text);
    assert!(
        !summary.contains(['\u{1b}', '\r', '\u{202e}', '\u{2066}']),
        "{summary}"
    );
    assert!(summary.contains("=cmd <script>"), "{summary}");
    assert!(
        doubts(&summary)
            .iter()
            .any(|doubt| doubt.starts_with("Mat - all is fine: due at 07:00")),
        "{summary}"
    );
    for line in summary.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
}

/// The summary as JSON: the doubts, every order with its customer, and whose values hold.
#[test]
fn the_summary_is_there_for_programs_too() {
    let folder = TempDir::new().expect("a folder");
    let text = DOUBTFUL.replace(
        "(name: \"Mat\",",
        "(name: \"Mat\", customer: \"Estuary Homes\",",
    );
    fs::write(folder.path().join("day.ron"), text).expect("a file");
    let said = plantday(folder.path(), &["check", "day.ron", "--summary", "--json"]);
    let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
    assert_eq!(said["doubts"].as_array().map(Vec::len), Some(20));
    assert_eq!(said["tables"]["orders"][0]["customer"], "Estuary Homes");
    assert_eq!(said["tables"]["orders"][0]["yd3"], 60.0);
    assert!(said["tables"]["orders"][1]["customer"].is_null());
    let assumed = said["assumptions"].as_array().expect("a list");
    let of = |what: &str| assumed.iter().find(|row| row["what"] == what).expect(what);
    assert_eq!(of("loading")["whose"], "yours");
    assert_eq!(of("drivers' paid hour")["whose"], "default");
    assert_eq!(of("how late a load may come")["here"], "15 min");
}
