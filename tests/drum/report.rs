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

/// Concrete of 70 °F at 70 °F of air has 70 + 0.44 (air − 70): 76 °F at 83, 84 at 102, 96.4 at 130. Warmer than 80 °F asks for caution
/// (common practice, no source), warmer than 95 °F for the engineer's word (ACI 301, ACI 305.1).
#[test]
fn the_report_cautions_of_hot_weather_where_it_is_hot() {
    let usual = "temperature: Daily(mean_f: 72, swing_f: 9)";
    assert!(STUDY.contains(usual));
    let report = |temperature: &str| {
        let text = STUDY.replace(usual, temperature);
        let scenario = scenario(&text);
        page(&answer(&scenario), &scenario)
    };
    let hot = "Hot weather here";
    let [mild, warm, burning] = [
        usual,
        "temperature: Daily(mean_f: 90, swing_f: 12)",
        "temperature: Steady(f: 130)",
    ]
    .map(report);
    assert!(!mild.contains(hot));
    assert!(warm.contains(hot) && !warm.contains("engineer"));
    assert!(burning.contains(hot) && burning.contains("without the engineer's word"));
    // The weights of the mixes stand in place of that of normal concrete.
    assert!(mild.contains("lb a yd³, by the mix") && !mild.contains("4,050 lb a yd³"));
}
