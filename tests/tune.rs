//! `tune` and `compare --until-sure` as programs. No published source: these are the project's own promises; the statistics
//! beneath are checked in `statistics.rs` and `selection.rs`.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::dispatch::Parameter;
use plantday::scenario::parse;
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const DAY: &str = include_str!("../scenarios/estuary_day.ron");

/// Exit code, standard output, standard error of the program on the worked day.
fn run(folder: &TempDir, arguments: &[&str]) -> (Option<i32>, String, String) {
    fs::write(folder.path().join("day.ron"), DAY).expect("a file");
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

const RULE: &str = "Soonest, home in time";

fn tune(folder: &TempDir, more: &[&str]) -> (Option<i32>, String, String) {
    let start = [
        "tune", "day.ron", "--rule", RULE, "--search", "10", "-n", "20",
    ];
    run(folder, &[&start[..], more].concat())
}

/// An edit changes its own number and nothing else.
#[test]
fn edits_of_a_rule_read_back_and_touch_nothing_else() {
    let scenario = parse("day.ron", DAY).expect("the worked day is fine");
    for rule in &scenario.rules {
        for parameter in Parameter::ALL {
            let (low, high) = parameter.range();
            let edited = parameter.set(rule.clone(), (low + high) / 2.0);
            assert_eq!(parameter.of(&edited), Some((low + high) / 2.0));
            for other in Parameter::ALL
                .into_iter()
                .filter(|other| *other != parameter)
            {
                assert_eq!(
                    other.of(&edited),
                    other.of(rule),
                    "{parameter:?} changed {other:?}"
                );
            }
            if let Some(value) = parameter.of(rule) {
                let back = parameter.set(edited, value);
                for each in Parameter::ALL {
                    assert_eq!(each.of(&back), each.of(rule));
                }
            }
        }
    }
}

#[test]
fn a_tuned_rule_is_the_same_on_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let vary = [
        "--vary",
        "margin_min=0,20",
        "--vary",
        "gates.HomeWithin.probability=0.8,0.95",
    ];
    let call = |threads: &str, out: &str| {
        tune(
            &folder,
            &[&vary[..], &["--json", "--threads", threads, "--out", out]].concat(),
        )
    };
    let (one, two) = (call("1", "one"), call("3", "two"));
    assert_eq!(one.0, Some(0), "{}", one.2);
    assert_eq!(one.1, two.1);
    for file in ["tune.html", "surface.csv", "final.csv", "surface.svg"] {
        let read = |out: &str| fs::read(folder.path().join(out).join(file)).expect("a file");
        assert_eq!(read("one"), read("two"), "{file}");
    }
    let json: Value = serde_json::from_str(&one.1).expect("JSON");
    assert_eq!(
        json["surface"].as_array().expect("a list").len(),
        5,
        "four and the rule as written"
    );
    assert_eq!(
        (&json["searched"], &json["decided_on"]),
        (&10.into(), &20.into())
    );
    let chosen = json["final"].as_array().expect("a list").iter();
    let cheapest = chosen
        .map(|f| f["judged"]["mean"].as_f64().expect("a mean"))
        .fold(f64::INFINITY, f64::min);
    let best = json["final"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|f| f["setting"] == json["chosen"]);
    assert_eq!(
        best.expect("the chosen one is a finalist")["judged"]["mean"],
        cheapest
    );
}

#[test]
fn a_target_out_of_reach_is_exit_code_one() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, _) = tune(
        &folder,
        &["--vary", "margin_min=0,5", "--target", "late_loads=-1"],
    );
    assert_eq!(code, Some(1), "{text}");
    assert!(
        text.contains("No setting of \"Soonest, home in time\" is shown to meet"),
        "{text}"
    );
}

#[test]
fn wrong_arguments_of_tune_are_named() {
    let folder = TempDir::new().expect("a folder");
    for (more, said) in [
        (
            &["--vary", "margin=0,5"][..],
            "did you mean \"margin_min\"?",
        ),
        (&["--vary", "margin=0,5"], "gates.HomeWithin.probability"),
        (&["--vary", "margin_min"], "names no values"),
        (
            &["--vary", "margin_min=0,five"],
            "\"five\" in \"margin_min=0,five\" is no number",
        ),
        (
            &["--vary", "gates.HomeWithin.probability=2"],
            "expected 0.5 to 0.999",
        ),
        (
            &["--vary", "margin_min=1", "--vary", "margin_min=2"],
            "varied twice",
        ),
        (
            &["--vary", "margin_min=1", "--target", "late_share"],
            "has no bound",
        ),
        (
            &["--vary", "margin_min=1", "--target", "late_shar=1"],
            "did you mean \"late_share\"?",
        ),
        (
            &["--vary", "margin_min=1", "--confidence", "1"],
            "0.5 to 0.999",
        ),
        (
            &["--vary", "margin_min=1", "--indifference", "0"],
            "above zero",
        ),
    ] {
        let (code, _, error) = tune(&folder, more);
        assert_eq!(code, Some(2), "{more:?}");
        assert!(error.contains(said), "{more:?}: {error}");
        assert!(!folder.path().join("plantday-out").exists(), "{more:?}");
    }
}

#[test]
fn compare_goes_on_until_it_is_sure_or_says_what_it_takes() {
    let folder = TempDir::new().expect("a folder");
    let call = |more: &[&str]| {
        let (code, text, error) = run(
            &folder,
            &[&["compare", "day.ron", "-n", "20", "--json"][..], more].concat(),
        );
        assert_eq!(code, Some(0), "{error}");
        (serde_json::from_str::<Value>(&text).expect("JSON"), text)
    };
    let sure = ["--until-sure", "--indifference", "400"];
    let (one, text) = call(&[&sure[..], &["--threads", "1"]].concat());
    assert_eq!(text, call(&[&sure[..], &["--threads", "3"]].concat()).1);
    assert_eq!(one["selection"]["finished"], true);
    assert_eq!(one["selection"]["left"], one["decision"]["rules"]);
    // The figures are those of a plain run: the selection shares no replication with them.
    let (plain, _) = call(&[]);
    assert_eq!(plain["rules"], one["rules"]);
    assert!(plain["selection"].is_null());
    let (short, _) = call(&[
        "--until-sure",
        "--indifference",
        "0.01",
        "--max-replications",
        "51",
    ]);
    assert_eq!(short["selection"]["finished"], false);
    assert!(short["selection"]["at_most"].as_u64() > Some(51));
    assert!(
        short["sentences"][0]
            .as_str()
            .expect("a text")
            .starts_with("Not sure yet")
    );
    let (precise, _) = call(&["--precision", "400", "--max-replications", "300"]);
    assert!(precise["precision"]["reached"].as_f64() <= Some(400.0));
    let (code, _, error) = run(&folder, &["compare", "day.ron", "--indifference", "5"]);
    assert_eq!(code, Some(2));
    assert!(error.contains("--until-sure"), "{error}");
}
