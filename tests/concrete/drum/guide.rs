//! The guide's table of slump practice is what the program answers.

use super::day::scenario;
use plantday::Watch;
use plantday::observe::figure;
use plantday::studies::{Question, compare};

const GUIDE: &str = include_str!("../../../src/report/guide/concrete.md");
const STUDY: &str = include_str!("../../../scenarios/yard_study.ron");

/// `−$1,184` for −1,184.3; thousands by themselves.
fn dollars(value: f64) -> String {
    let whole = value.abs().round() as u64;
    let sign = if value < 0.0 { "−" } else { "" };
    match (whole / 1_000, whole % 1_000) {
        (0, rest) => format!("{sign}${rest}"),
        (thousands, rest) => format!("{sign}${thousands},{rest:03}"),
    }
}

#[test]
fn the_table_of_yard_practice_is_todays_answer() {
    let scenario = scenario(STUDY);
    let question = Question {
        rules: (0..scenario.rules.len()).collect(),
        judge: figure::COST,
        replications: 1_000,
        seed: 1,
        threads: None,
        level: 0.95,
        ..Question::default()
    };
    let answer = compare(&scenario, &question, Watch::default());
    let answer = answer.expect("an answer");
    let mut missing = Vec::new();
    for (at, rule) in answer.rules.iter().enumerate() {
        let figures = [
            figure::WET_AT_RACK,
            figure::DRY_UPS,
            figure::REBATCHED,
            figure::WET_ON_SITE,
            figure::BELOW_STRENGTH,
        ];
        let per_hundred = figures.map(|column| {
            let found = answer.per_hundred.iter().find(|row| row.column == column);
            let said = found.expect("the figure is there").rules[at];
            format!("{:.1}", said.size())
        });
        let saves = match &rule.figures[figure::COST].difference {
            Some(cost) => {
                let (mean, interval) = cost.said.mean().expect("pairs that differ");
                let (low, high) = (dollars(-interval.high), dollars(-interval.low));
                format!("{} ({low} to {high})", dollars(-mean))
            }
            None => "today".to_owned(),
        };
        let row = format!("| {} | {} | {saves} |", rule.name, per_hundred.join(" | "));
        if !GUIDE.contains(&row) {
            missing.push(row);
        }
    }
    assert!(missing.is_empty(), "rows of today:\n{}", missing.join("\n"));
}
