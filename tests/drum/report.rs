//! The concrete in the answer: there with mixes, away without.

use super::day::scenario;
use plantday::observe::figure;
use plantday::report::{compare, summary};
use plantday::scenario::Scenario;
use plantday::studies::{Comparison, Question, compare as study, worst_of};
use std::num::NonZeroUsize;
use std::sync::atomic::AtomicBool;

const STUDY: &str = include_str!("../../scenarios/yard_study.ron");
const DAY: &str = include_str!("../../scenarios/estuary_day.ron");

fn answer(scenario: &Scenario) -> Comparison {
    let question = Question {
        rules: vec![0, 1],
        judge: figure::COST,
        replications: 3,
        seed: 1,
        threads: NonZeroUsize::new(1),
        level: 0.95,
        until: Default::default(),
    };
    study(scenario, &question, &|_| {}, &AtomicBool::new(false)).expect("an answer")
}

fn page(answer: &Comparison, scenario: &Scenario) -> String {
    let all = compare::all(answer, &worst_of(scenario, answer), scenario);
    let page = all.into_iter().find(|(name, _)| name == "report.html");
    String::from_utf8(page.expect("a page").1).expect("text")
}

const HEADING: &str = "The concrete, for each 100 loads placed";

#[test]
fn the_answer_speaks_of_concrete_where_there_are_mixes() {
    let scenario = scenario(STUDY);
    let answer = answer(&scenario);
    let page = page(&answer, &scenario);
    for part in [
        HEADING,
        "a liability",
        "Abrams",
        "silica",
        "a smaller load or a truck scale",
    ] {
        assert!(page.contains(part), "{part}");
    }
    let terminal = compare::terminal(&answer, 160);
    assert!(terminal.contains("loads below strength, by water"));
    let json = compare::json(&answer);
    // Per 100 loads: the mean of the ratios of each replication.
    let values = |column: usize| answer.rows.values(1, column);
    let ratios = values(figure::DRY_UPS).zip(values(figure::LOADS));
    let mean = ratios
        .map(|(dry_ups, loads)| 100.0 * dry_ups / loads)
        .sum::<f64>()
        / 3.0;
    let said = &json["per_100_loads"][1]["figures"]["dry_ups"]["mean"];
    assert!((said.as_f64().expect("a number") - mean).abs() < 1e-9);
    let understood = summary::text(&scenario, 100);
    // w/c 281 ÷ 540, and the ACI curve there.
    for part in ["0.520", "4,524", "4 ± 1", "moisture probes in the bins"] {
        assert!(understood.contains(part), "{part}\n{understood}");
    }
}

#[test]
fn and_is_silent_of_it_where_there_are_none() {
    let scenario = scenario(DAY);
    let answer = answer(&scenario);
    let page = page(&answer, &scenario);
    assert!(!page.contains(HEADING) && !page.contains("slump meter"));
    assert!(!compare::terminal(&answer, 160).contains("too wet"));
    assert!(compare::json(&answer).get("per_100_loads").is_none());
    assert!(answer.rows.values(0, figure::WET_AT_RACK).all(f64::is_nan));
}
