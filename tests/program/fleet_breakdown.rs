//! `fleet --breakdown 1`: a pour without other luck, on which it is clear by hand what a breakdown does.

use crate::changed::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::scenario::{Scenario, parse};
use plantday::studies::{FleetAnswer, FleetQuestion, fleet};
use plantday::units::OrderId;
use serde_json::Value;
use std::fs;
use std::num::NonZeroUsize;
use tempfile::TempDir;

/// Four loads, 30 min apart, each 30 min after it is sent: loading 6, rack 4, out 20. Unloading takes 10, so that it stands for 20 between
/// two loads; 45 are tolerated. Trucks are there in plenty, and stay for a later load.
const POUR: &str = r#"(
    name: "pour on paper",
    rule_book: "none",
    concrete: (age_limit_min: 90),
    plants: [(name: "P", bays: 2, loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 7, home: "P", breakdowns: (mean_h_between: 1000000, minutes: Constant(240)))],
    drivers: [(name: "D", trucks: "T", report: "05:00")],
    orders: [(name: "Pour", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30, gap_min: 45, position: Constant(0),
        discharge: Constant(10), chute_wash: Constant(5)),
        (name: "Later", site: "A", first: "14:00", volume_yd3: 10, spacing_min: 30)],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#;

fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn ask(text: &str, breakdown: bool, threads: usize) -> FleetAnswer {
    let question = FleetQuestion {
        order: OrderId::new(0),
        trucks: 6..=6,
        replications: 1_000,
        breakdown,
        threads: NonZeroUsize::new(threads),
        ..FleetQuestion::default()
    };
    fleet(&read(text), &question, Watch::default())
        .expect("the question makes sense")
        .expect("nobody stops it")
}

/// A load that breaks down when a share f of its 20 min is driven is given up 5 min later, as no repair saves it, and another leaves the
/// plant at once: on site 15 + 20 f later than planned, and later than the next load where that is more than 30. So unloading stands for
/// 20 + min(15 + 20 f, 30) min, more than 45 where f is more than a half. A first load makes no gap, it begins the pour: 3/4 × 1/2 of
/// all days have one. The last load ends the pour, 25 min later on average, in a quarter of all days; the third, where f is more than
/// 3/4, is unloaded after it, 10 min later.
#[test]
fn one_breakdown_makes_the_gaps_that_it_makes_on_paper() {
    let answer = ask(POUR, true, 1);
    assert_eq!(answer.one_breakdown.len(), 2);
    for (found, trucks) in answer.one_breakdown.iter().zip([6, 7]) {
        assert_eq!(found.trucks, trucks);
        let (with, without) = (&found.with, &found.without);
        assert_eq!((without.no_gap.times, without.no_gap.of), (1_000, 1_000));
        assert_eq!(without.worst_pause_min.mean, Some(20.0));
        assert_eq!(without.finished_min.mean, Some(520.0));
        assert_eq!(with.no_gap.of, 1_000);
        // Three and a half standard errors.
        let (gaps, share) = (1.0 - with.no_gap.share(), 3.0 / 8.0);
        let error = f64::sqrt(share * (1.0 - share) / 1_000.0);
        assert!((gaps - share).abs() < 3.5 * error, "{gaps}");
        let finished = with.finished_min.mean.expect("it is finished");
        // Uniform between 15 and 35 in a quarter, and 10 in a sixteenth.
        let mean = 25.0 / 4.0 + 10.0 / 16.0;
        let squares = (625.0 + 400.0 / 12.0) / 4.0 + 100.0 / 16.0;
        let error = f64::sqrt((squares - mean * mean) / 1_000.0);
        assert!((finished - 520.0 - mean).abs() < 3.5 * error, "{finished}");
        // A load more: $105 of material and $40 to get rid of a yd³, 10 yd³ of 40 ordered; and what becomes of the drum.
        let more = found.dearer_per_yd3.mean.expect("a cost");
        assert!(more > (105.0 + 40.0) / 4.0, "{more}");
    }
}

/// Repairs that save every load: at most 20 + 10 min of standing still, no gap.
#[test]
fn a_short_repair_makes_no_gap() {
    let answer = ask(
        &changed(POUR, &[("Constant(240)", "Constant(10)")]),
        true,
        1,
    );
    for found in &answer.one_breakdown {
        assert_eq!(found.with.no_gap.times, 1_000);
        let worst = found.with.worst_pause_min.mean.expect("a pause");
        // Ten more before the load, but for the first.
        assert!(
            (worst - 27.5).abs() < 3.5 * f64::sqrt(18.75 / 1_000.0),
            "{worst}"
        );
    }
}

#[test]
fn any_number_of_threads_gives_the_same() {
    let [one, seven] = [1, 7].map(|threads| ask(POUR, true, threads));
    assert_eq!(
        format!("{:?}", one.one_breakdown),
        format!("{:?}", seven.one_breakdown)
    );
    assert!(ask(POUR, false, 1).one_breakdown.is_empty());
}

/// Of trucks of which nothing is written, one breaks down as the defaults say.
#[test]
fn a_scenario_without_breakdowns_can_be_asked_as_well() {
    let text = changed(
        POUR,
        &[(
            ", breakdowns: (mean_h_between: 1000000, minutes: Constant(240))",
            "",
        )],
    );
    let folder = TempDir::new().expect("a folder");
    let file = folder.path().join("pour.ron");
    fs::write(&file, text).expect("written");
    let run = |more: &[&str]| {
        let mut command = cargo_bin_cmd!("plantday");
        command.current_dir(folder.path()).args([
            "fleet",
            "pour.ron",
            "--order",
            "Pour",
            "--trucks-from",
            "6",
            "--trucks-to",
            "6",
            "-n",
            "100",
        ]);
        command.args(more).assert()
    };
    let told = run(&["--breakdown", "1"]).success();
    let told = String::from_utf8_lossy(&told.get_output().stdout).into_owned();
    assert!(told.lines().count() <= 32, "{told}");
    let words = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("If one truck breaks down once, full, on its way: with 6 trucks a gap in"),
        "{told}"
    );
    let json = |more: &[&str]| -> Value {
        let told = run(&[&["--json"], more].concat()).success();
        serde_json::from_slice(&told.get_output().stdout).expect("JSON")
    };
    let asked = json(&["--breakdown", "1"]);
    assert_eq!(asked["one_breakdown"][1]["trucks"], 7);
    assert!(json(&[]).get("one_breakdown").is_none());
    let csv = fs::read_to_string(folder.path().join("plantday-fleet/one-breakdown.csv"));
    assert!(csv.is_err(), "not asked the last time");
    run(&["--breakdown", "2"]).code(2);
}
