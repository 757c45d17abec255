//! `plantday verify`: what fails is told, and the answer is the same however it is reckoned. That the checks agree,
//! and that each could disagree, is asked beside their subjects: queues and statistics in `theory`, hours in `hours`, material in `concrete`, days in `days`.

use crate::agree::{all_agree, broken};
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::report::verify::answer;
use plantday::statistics::{Estimate, Interval};
use plantday::studies::verify::{
    Basis, Check, Expected, Family, Found, Verified, VerifyQuestion, verify,
};
use std::num::NonZeroUsize;
use std::sync::atomic::AtomicBool;
use tempfile::tempdir;

/// All that has no luck in it is found in a moment.
const QUICK: [Family; 3] = [Family::Hours, Family::Material, Family::Statistics];

fn found(families: &[Family], change: impl FnOnce(&mut VerifyQuestion)) -> Verified {
    let mut question = VerifyQuestion {
        families: families.to_vec(),
        ..VerifyQuestion::default()
    };
    change(&mut question);
    verify(&question, Watch::default()).expect("nobody stops it")
}

fn run(arguments: &[&str]) -> (Option<i32>, String, String) {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.arg("verify").args(arguments).output();
    let output = output.expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("output is UTF-8");
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

/// A mean agrees where its interval holds the expected value, unless it is so wide that it would hold many others.
#[test]
fn a_mean_agrees_by_its_interval_unless_that_says_nothing() {
    let check = |value: f64, half_width: f64| Check {
        family: Family::Queues,
        about: "a queue".into(),
        figure: "waiting".into(),
        source: "a book".into(),
        basis: Basis::Printed,
        expected: Expected::Number {
            value,
            within: 0.0125,
        },
        found: Found::Mean(Estimate {
            mean: Some(1.0),
            interval: Interval::around(1.0, half_width),
        }),
    };
    assert!(check(1.0, 0.01).agrees() && check(1.009, 0.01).agrees());
    assert!(!check(1.011, 0.01).agrees() && !check(0.989, 0.01).agrees());
    assert!(!check(1.0, 0.02).agrees(), "an interval that is too wide");
    assert!(!check(1.0, f64::INFINITY).agrees(), "none at all");
}

#[test]
fn what_disagrees_is_told_first_and_shown() {
    let mut found = found(&QUICK, |_| {});
    let all = found.checks.len();
    let text = answer(&found, "plantday verify".into()).terminal(100);
    assert!(text.contains(&format!("All {all} checks agree.")), "{text}");
    assert!(!text.contains("DISAGREE"), "{text}");
    for family in [Family::Material, Family::Hours] {
        let mut checks = found.checks.iter_mut();
        let check = checks.find(|check| check.family == family).expect("some");
        *check = broken(check);
    }
    assert!(!found.all_agree());
    let answer = answer(&found, "plantday verify".into());
    let decision = format!("2 of {all} checks DISAGREE: 1 of hours, 1 of material.");
    assert_eq!(answer.decision, decision);
    let text = answer.terminal(100);
    assert_eq!(text.matches("DISAGREES").count(), 2, "{text}");
    assert!(text.contains("FMCSA"), "with its source: {text}");
    let json = answer.json();
    assert_eq!(json["all_agree"], false);
    let rows = json["tables"]["hours"].as_array().expect("rows");
    let wrong = rows.iter().filter(|row| row["verdict"] == "DISAGREES");
    assert_eq!(wrong.count(), 1);
}

#[test]
fn a_screen_of_any_width_holds_it() {
    for families in [&QUICK[..], &[Family::Hours], &[Family::Statistics]] {
        let answer = answer(&found(families, |_| {}), "plantday verify".into());
        for width in [40, 80, 100] {
            let text = anstream::adapter::strip_str(&answer.terminal(width)).to_string();
            let longest = text.lines().map(|line| line.chars().count()).max();
            assert!(longest <= Some(width.into()), "{longest:?} at {width}");
        }
    }
}

#[test]
fn threads_change_nothing_and_a_stop_is_no_answer() {
    let with = |threads| {
        found(&[Family::Days], |question| {
            question.threads = NonZeroUsize::new(threads)
        })
    };
    assert_eq!(with(1).checks, with(3).checks);
    let question = VerifyQuestion::default();
    assert!(verify(&question, Watch::new(&|_| {}, &AtomicBool::new(true))).is_none());
}

/// A thorough check tries nine rule books on random logs more, on others with another seed.
#[test]
fn a_thorough_check_tries_random_logs() {
    let usual = found(&[Family::Hours], |_| {}).checks.len();
    for seed in [1, 2] {
        let more = found(&[Family::Hours], |question| {
            (question.thorough, question.seed) = (true, seed);
        });
        assert_eq!(more.checks.len(), usual + 9);
        all_agree(&more.checks);
    }
}

#[test]
fn the_command_prints_writes_and_says_by_its_code() {
    let folder = tempdir().expect("a folder");
    let out = folder.path().join("proof");
    let out = out.to_str().expect("a name");
    let (code, text, error) = run(&[
        "--family",
        "statistics",
        "--family",
        "material",
        "--out",
        out,
        "--xlsx",
    ]);
    assert_eq!(code, Some(0), "{error}");
    assert!(text.contains(" checks agree."), "{text}");
    assert!(!text.contains("queues "), "{text}");
    for name in [
        "report.html",
        "families.csv",
        "material.csv",
        "statistics.csv",
        "verify.json",
    ] {
        assert!(std::path::Path::new(out).join(name).is_file(), "{name}");
    }
    let (code, json, _) = run(&["--family", "hours", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!((code, json["agree"] == json["checks"]), (Some(0), true));
    assert_eq!(json["recipe"], "plantday verify --family hours");
    let (code, _, error) = run(&["--family", "hour"]);
    assert_eq!(code, Some(2));
    assert!(
        error.contains("hours") && error.contains("queues"),
        "{error}"
    );
}
