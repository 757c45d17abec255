//! `fleet`: a pour without luck against a timetable on paper, a closed fleet against its exact curve, and the command as users
//! meet it.

use crate::changed::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::observe::columns;
use plantday::plant::Plan;
use plantday::scenario::{LoadOnPaper, Scenario, parse};
use plantday::studies::verify::queues::BY_FLEET_SIZE;
use plantday::studies::{FleetAnswer, FleetQuestion, fleet};
use plantday::units::{Millis, OrderId, PlantId};
use serde_json::Value;
use std::fs;
use std::num::NonZeroUsize;
use tempfile::TempDir;

/// Loading 6, out 25, discharge 15, wash 5, back 20: a round trip of 71 min. Ten loads, one every 20 min from 07:00; a pause of
/// 5 min between two discharges is planned and tolerated.
const PAPER: &str = r#"(
    name: "pour on paper",
    rule_book: "none",
    plants: [(name: "P", loading: Constant(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (25, 20) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:00")],
    orders: [(name: "Pour", site: "A", first: "07:00", volume_yd3: 100, spacing_min: 20, gap_min: 5, position: Constant(0),
        discharge: Constant(15), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#;

fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn question(trucks: u32, replications: u64) -> FleetQuestion {
    FleetQuestion {
        order: OrderId::new(0),
        plant: None,
        backup: None,
        alone: true,
        trucks: 1..=trucks,
        spacings: Vec::new(),
        first_loads: Vec::new(),
        bays: None,
        gap: None,
        rate_yd3_min: None,
        finish_by: None,
        late_share: None,
        breakdown: false,
        rule: 0,
        target: 0.95,
        replications,
        seed: 20_261_125,
        threads: Some(NonZeroUsize::MIN),
        level: 0.95,
    }
}

fn ask(scenario: &Scenario, question: &FleetQuestion) -> FleetAnswer {
    fleet(scenario, question, Watch::default())
        .expect("the question makes sense")
        .expect("nobody stops it")
}

/// Arithmetic: with N trucks the loads come in rounds of 71 min, or every 20 min if that is later. N = 3: discharges begin at
/// 0, 20, 40, 71, 91, 111, 142, 162, 182, 213 min after 07:00 and take 15.
#[test]
fn a_pour_without_luck_is_the_timetable_on_paper() {
    let answer = ask(&read(PAPER), &question(6, 100));
    let plan = &answer.plans[0];
    assert_eq!(plan.hand.round_trip(), Millis::from_minutes(71.0));
    assert_eq!(plan.hand.trucks(), 4, "71 ÷ 20 = 3.55");
    let expected = [
        (1, 1.0, 56.0, 7.0 * 60.0 + 654.0),
        (2, 1.0, 36.0, 7.0 * 60.0 + 319.0),
        (3, 1.0, 16.0, 7.0 * 60.0 + 228.0),
        (4, 0.0, 5.0, 10.0 * 60.0 + 15.0),
        (5, 0.0, 5.0, 10.0 * 60.0 + 15.0),
        (6, 0.0, 5.0, 10.0 * 60.0 + 15.0),
    ];
    for (size, (trucks, gap, worst, finished)) in plan.sizes.iter().zip(expected) {
        assert_eq!(size.trucks, trucks);
        assert_eq!(1.0 - size.no_gap.share(), gap, "{trucks} trucks");
        assert_eq!(size.worst_pause_min.mean, Some(worst), "{trucks} trucks");
        assert_eq!(size.finished_min.mean, Some(finished), "{trucks} trucks");
        assert_eq!(size.wait_min.mean, Some(0.0), "{trucks} trucks");
    }
    let (_, smallest) = answer.recommended().expect("four trucks do it");
    assert_eq!(smallest.trucks, 4);
    assert!(smallest.is_final);
    // The first load is loaded from 06:29 on; all four trucks are out from 07:29 to the return of the first at 07:40.
    assert_eq!(smallest.sums.peak(6, 0.9), 2, "06:29 and 06:49");
    assert_eq!(smallest.sums.peak(7, 0.9), 4);
    assert_eq!(smallest.sums.mean_round(), Some(Millis::from_minutes(71.0)));
}

/// Reckoned by hand. Loading (2 + 0.4 × 10) × 1.5 = 9 and a minute to pull in; rack (2 + 4 + 9) ÷ 3 = 5; out 25; position (1 + 5) ÷ 2 =
/// 3; of five loads four go to the pump that takes 10 min and one to the chute that takes 40, so 16 in the mean; chute wash
/// (3 + 5 + 10) ÷ 3 = 6; back 20: 85 min. The outlets together take a load every 1 ÷ (1/13 + 1/43) = 559/56 min; with a second place
/// at the pump the next truck takes position meanwhile: 1 ÷ (1/10 + 1/43) = 430/53. One bay gives a load every 10 min, two every 5,
/// with one batcher between them every 9; one place at the rack holds them to 5.
#[test]
fn a_load_on_paper() {
    let text = changed(
        PAPER,
        &[
            (
                "loading: Constant(6), rack: Constant(0)",
                "pull_in_min: 1, loading: PerYard(fixed_min: 2, min_per_yd3: 0.4, luck: Uniform(1, 2)), rack: Triangular(2, 4, 9)",
            ),
            (
                "position: Constant(0),\n        discharge: Constant(15), chute_wash: Constant(5)",
                "position: Uniform(1, 5), discharge_luck: Constant(1), chute_wash: Triangular(3, 5, 10), \
             outlets: [(rate_yd3_min: 1), (rate_yd3_min: 0.25)]",
            ),
        ],
    );
    let on_paper = |changes: &[(&str, &str)]| {
        let scenario = read(&changed(&text, changes));
        LoadOnPaper::nearest(&scenario, Plan::new(&scenario).roads(), &scenario.orders[0])
            .expect("there is a way")
    };
    let load = on_paper(&[]);
    let minutes = |parts: [Millis; 6]| parts.map(|part| part.minutes());
    assert_eq!(
        minutes([
            load.loading,
            load.rack,
            load.out,
            load.unloading,
            load.on_site,
            load.back
        ]),
        [10.0, 5.0, 25.0, 19.0, 25.0, 20.0]
    );
    assert_eq!(load.lead().minutes(), 40.0);
    assert_eq!(load.round_trip().minutes(), 85.0);
    let every = |minutes: f64| Millis::from_minutes(minutes);
    assert_eq!(
        (load.least_at_plant, load.least_on_site),
        (every(10.0), every(559.0 / 56.0))
    );
    let two_places = [("(rate_yd3_min: 1)", "(rate_yd3_min: 1, places: 2)")];
    assert_eq!(on_paper(&two_places).least_on_site, every(430.0 / 53.0));
    for (bays, pace) in [
        ("bays: 2, pull_in_min", 5.0),
        ("bays: 4, pull_in_min", 2.5),
        ("bays: 4, rack_places: 1, pull_in_min", 5.0),
        ("bays: 2, batcher: Shared, pull_in_min", 9.0),
        ("bays: 2, batcher: Shared, rack_places: 3, pull_in_min", 9.0),
    ] {
        assert_eq!(
            on_paper(&[("pull_in_min", bays)]).least_at_plant,
            every(pace),
            "{bays}"
        );
    }
    assert_eq!(load.trucks(), 5, "85 ÷ 20 = 4.25");
}

/// What goes round no faster than bay or pump can work needs no more trucks than that. Loading 24: a round trip of 89 min and a load
/// every 24: 3.7 trucks, where 89 ÷ 20 would say 5. Discharge 26: 82 ÷ 26 = 3.2, where 82 ÷ 20 would say 5. Simulated, the tenth load is
/// done when nine loads more have gone through bay or pump than the first, with four trucks as with six, and later with three. Three
/// loads take three trucks, and ten at once as many as keep the pump busy: 71 ÷ 15 = 4.7.
#[test]
fn bay_and_pump_bound_the_trucks_by_hand() {
    for (change, every, done) in [
        // The first load comes at 07:00; loaded from 06:11 on.
        (
            ("loading: Constant(6)", "loading: Constant(24)"),
            24.0,
            9.0 * 24.0 + 15.0,
        ),
        (
            ("discharge: Constant(15)", "discharge: Constant(26)"),
            26.0,
            9.0 * 26.0 + 26.0,
        ),
    ] {
        let answer = ask(&read(&changed(PAPER, &[change])), &question(6, 100));
        let plan = &answer.plans[0];
        assert_eq!(plan.hand.every(), Millis::from_minutes(every), "{change:?}");
        assert_eq!(plan.hand.trucks(), 4, "{change:?}");
        let finished = |trucks: usize| plan.sizes[trucks - 1].finished_min.mean;
        let bound = Some(7.0 * 60.0 + done);
        assert_eq!([4, 5, 6].map(finished), [bound; 3], "{change:?}");
        assert!(finished(3) > bound, "{change:?}");
    }
    let trucks = |change: (&str, &str)| {
        let scenario = read(&changed(PAPER, &[change]));
        let plan = Plan::new(&scenario);
        let load = LoadOnPaper::nearest(&scenario, plan.roads(), &scenario.orders[0]);
        load.map(|load| load.trucks())
    };
    assert_eq!(trucks(("volume_yd3: 100", "volume_yd3: 30")), Some(3));
    assert_eq!(trucks(("spacing_min: 20", "spacing_min: 0")), Some(5));
}

/// A second plant adds to the pace: bays of 24 and 12 min together give a load every 8.
#[test]
fn two_plants_give_loads_together() {
    let scenario = read(&changed(
        PAPER,
        &[
            (
                "plants: [(name: \"P\", loading: Constant(6), rack: Constant(0))]",
                "plants: [(name: \"P\", loading: Constant(24), rack: Constant(0)), (name: \"Q\", loading: Constant(12), rack: Constant(0))]",
            ),
            (
                "\"P\": { \"A\": (25, 20) }",
                "\"P\": { \"A\": (25, 20), \"Q\": 10 }, \"Q\": { \"A\": (25, 20) }",
            ),
        ],
    ));
    let asked = FleetQuestion {
        plant: Some(PlantId::new(0)),
        backup: Some(PlantId::new(1)),
        ..question(1, 59)
    };
    let hand = ask(&scenario, &asked).plans[0].hand;
    assert_eq!(hand.least_at_plant, Millis::from_minutes(8.0));
    assert_eq!(hand.every(), Millis::from_minutes(20.0), "as ordered");
}

/// Ready at another time, and by when: 10:15 is met by four trucks, 10:00 by none.
#[test]
fn first_loads_and_the_hour_to_finish_by() {
    let scenario = read(PAPER);
    let at = |text: f64| Millis::from_minutes(60.0 * text);
    let asked = |finish: f64| FleetQuestion {
        first_loads: vec![at(2.0), at(7.0)],
        finish_by: Some(at(finish)),
        ..question(6, 100)
    };
    let answer = ask(&scenario, &asked(10.25));
    let smallest = |answer: &FleetAnswer, plan: usize| {
        let plan = &answer.plans[plan];
        plan.smallest.map(|at| plan.sizes[at].trucks)
    };
    assert_eq!(
        smallest(&answer, 0),
        Some(4),
        "from 02:00 there is time, but not for gaps"
    );
    assert_eq!(smallest(&answer, 1), Some(4));
    let answer = ask(&scenario, &asked(10.0));
    assert_eq!(smallest(&answer, 0), Some(4));
    assert_eq!(smallest(&answer, 1), None);
    assert_eq!(answer.best, Some(0));
}

/// A closed fleet with one bay (exponential, mean 6), the road (28 out, 22 back, any spread) and one pump (exponential, mean 9):
/// throughput by fleet size, computed by exact mean value analysis (Reiser and Lavenberg, Journal of the ACM 27, 1980). The pour
/// is ordered faster than anything can bring it, so that every truck goes round without pause.
#[test]
fn a_closed_fleet_follows_the_product_form() {
    let scenario = read(
        r#"(
    name: "closed fleet",
    period: (days: 28, measure: (from_h: 67.2, to_h: 672)),
    rule_book: "none",
    concrete: (age_limit_min: None),
    company: (promise_horizon_min: 0),
    plants: [(name: "P", bay_queue: FirstCome, loading: Exponential(6), rack: Constant(0))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (28, 22) } }, luck: Lognormal(mean: 1, cv: 0.25)),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "00:00", shift_h: 672, days: [Monday])],
    orders: [(name: "Pour", site: "A", first: "00:00", volume_yd3: 4032, load_yd3: 0.5, spacing_min: 5, position: Constant(0),
        discharge: Exponential(9), chute_wash: Constant(0))],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#,
    );
    let place = columns(&scenario)
        .iter()
        .position(|column| column.key == "P bays: throughput_per_h")
        .expect("the figure");
    let disagreements = |answer: &FleetAnswer| -> Vec<String> {
        let sizes = answer.plans[0].sizes.iter().zip(BY_FLEET_SIZE);
        sizes
            .filter_map(|(size, expected)| {
                let figure = &size.figures[place];
                let mean = figure.mean().expect("a value") / 60.0;
                let error = figure.standard_error() / 60.0;
                let good = error <= 0.003 * expected && (mean - expected).abs() <= 3.5 * error;
                (!good).then(|| format!("{} trucks: {mean} ± {error}, {expected}", size.trucks))
            })
            .collect()
    };
    // The search runs every size on a fifth of these. On failure four times as many decide, never another seed.
    let mut left = disagreements(&ask(&scenario, &question(15, 64)));
    if !left.is_empty() {
        left = disagreements(&ask(&scenario, &question(15, 256)));
    }
    assert!(left.is_empty(), "{}", left.join("; "));
}

fn program(folder: &TempDir, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .arg("fleet")
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

const MAT: [&str; 9] = [
    "--order",
    "Clinic, mat",
    "--target",
    "0.7",
    "-n",
    "60",
    "--trucks-to",
    "10",
    "--alone",
];

#[test]
fn the_same_bytes_for_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let run = |out: &str, threads: &str| {
        let (code, text, error) = program(
            &folder,
            &[&MAT[..], &["--out", out, "--threads", threads]].concat(),
        );
        assert_eq!(code, Some(0), "{error}");
        let mut files: Vec<(String, Vec<u8>)> = fs::read_dir(folder.path().join(out))
            .expect("the folder")
            .map(|entry| {
                let entry = entry.expect("an entry");
                let name = entry.file_name().to_string_lossy().into_owned();
                (name, fs::read(entry.path()).expect("a file"))
            })
            .collect();
        files.sort();
        (text, files)
    };
    let one = run("one", "1");
    assert!(one == run("three", "3"));
    assert!(one.1.iter().any(|(name, _)| name == "report.html"));
    let text = one.0;
    assert!(
        text.lines()
            .nth(2)
            .expect("a third line")
            .starts_with("Send "),
        "it leads with the decision: {text}"
    );
    assert!(text.lines().count() <= 32, "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
}

#[test]
fn json_says_what_the_table_says() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, error) = program(&folder, &[&MAT[..], &["--json", "--out", "o"]].concat());
    assert_eq!(code, Some(0), "{error}");
    let json: Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(json["study"], "fleet");
    let mut table = csv::Reader::from_path(folder.path().join("o/fleet.csv")).expect("fleet.csv");
    let headings = table.headers().expect("headings").clone();
    let at = |name: &str| {
        headings
            .iter()
            .position(|heading| heading == name)
            .expect("a heading")
    };
    let mut meets = Vec::new();
    for (row, size) in table
        .records()
        .zip(json["plans"][0]["sizes"].as_array().expect("sizes"))
    {
        let row = row.expect("a row");
        assert_eq!(row[at("trucks")], size["trucks"].to_string());
        let gap: f64 = row[at("gap_chance")].parse().expect("a number");
        assert!((gap - (1.0 - size["no_gap"]["share"].as_f64().expect("a share"))).abs() < 1e-12);
        if &row[at("meets_target")] == "yes" {
            let cost = size["cost_per_yd3"]["mean"].as_f64().expect("a cost");
            meets.push((cost, size["trucks"].clone()));
        }
    }
    let cheapest = meets.iter().min_by(|one, other| one.0.total_cmp(&other.0));
    let (_, trucks) = cheapest.expect("a fleet meets it");
    assert_eq!(*trucks, json["decision"]["trucks"]);
}

#[test]
fn a_target_out_of_reach_is_exit_code_1() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, _) = program(
        &folder,
        &[
            "--order",
            "Clinic, mat",
            "--alone",
            "--trucks-to",
            "3",
            "-n",
            "60",
        ],
    );
    assert_eq!(code, Some(1));
    assert!(text.contains("No fleet of up to 3 trucks"), "{text}");
}

#[test]
fn bad_arguments_are_explained() {
    let folder = TempDir::new().expect("a folder");
    for (arguments, expected) in [
        (
            &["--order", "Clinic, mta"][..],
            "did you mean \"Clinic, mat\"?",
        ),
        (
            &["--order", "Clinic, mat", "--plant", "North quey"],
            "did you mean \"North quay\"?",
        ),
        (
            &[
                "--order",
                "Clinic, mat",
                "--backup",
                "North quay",
                "--plant",
                "North quay",
            ],
            "same plant",
        ),
        (
            &[
                "--order",
                "Clinic, mat",
                "--trucks-from",
                "9",
                "--trucks-to",
                "3",
            ],
            "is more than",
        ),
        (&["--order", "Clinic, mat", "--target", "95"], "like 0.95"),
        (&["--order", "Clinic, mat", "--spacing", "0"], "0.5 to 720"),
        (
            &["--order", "Clinic, mat", "--first-load", "7am"],
            "expected HH:MM",
        ),
        (
            &["--order", "Clinic, mat", "--first-load", "25:00"],
            "expected HH:MM",
        ),
        (
            &["--order", "Clinic, mat", "--finish-by", "05:00"],
            "not after the first load",
        ),
        (
            &["--order", "Dry dock, footings", "--plant", "Upper lock"],
            "does not make the mix \"marine\"",
        ),
        (&[], "--order"),
    ] {
        let (code, _, error) = program(&folder, arguments);
        assert_eq!(code, Some(2), "{arguments:?}: {error}");
        assert!(error.contains(expected), "{arguments:?}: {error}");
    }
    assert_eq!(
        fs::read_dir(folder.path()).expect("the folder").count(),
        0,
        "nothing is written"
    );
}
