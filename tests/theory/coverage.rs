//! How often what `compare` says against today's rule is true, on a day on which some things are seldom: per figure the share of
//! seeds at which what is said of every rule holds at once. Truth is a long run of its own.
//!
//! `COVERAGE_SEEDS=400 COVERAGE_TRUTH=20000 SHOW_AGREEMENT=1 cargo test --release --test theory coverage -- --nocapture` prints it for
//! as many seeds.

mod kinds;

use plantday::Watch;
use plantday::montecarlo::{self, Rows};
use plantday::observe::figure;
use plantday::scenario::parse;
use plantday::statistics::{AFFECTED_FOR_A_MEAN, Contrast};
use plantday::studies::{self, Question, RuleTrial};

const FIGURES: [(usize, &str); 6] = [
    (figure::COST, "cost"),
    (figure::LATE_LOADS, "late loads"),
    (figure::REJECTED, "rejected"),
    (figure::OVERTIME_H, "overtime"),
    (figure::UNDELIVERED, "undelivered"),
    (figure::STRANDED, "stranded"),
];

fn number(name: &str, otherwise: u64) -> u64 {
    let written = std::env::var(name).ok();
    written.map_or(otherwise, |text| text.parse().expect("a number"))
}

/// What a statement is about, over all replications of a long run.
fn truth(said: Contrast, rows: &Rows, case: usize, column: usize) -> f64 {
    let pairs = rows.values(case, column).zip(rows.values(0, column));
    let value = |(one, today): (f64, f64)| match said {
        Contrast::Mean { .. } => one - today,
        Contrast::Chance { any: true, .. } => {
            f64::from(u8::from(one != 0.0)) - f64::from(u8::from(today != 0.0))
        }
        Contrast::Chance { any: false, .. } => {
            f64::from(u8::from(one > today)) - f64::from(u8::from(one < today))
        }
        Contrast::NotLookedAt | Contrast::Blank => panic!("every figure is looked at"),
    };
    pairs.map(value).sum::<f64>() / rows.len() as f64
}

/// Before rare counts were said by their chance, undelivered loads held at 0.56 of 400 seeds and strandings at 0.51; overtime at
/// 0.89 by Student's t. Now of 400 seeds cost 0.95, late 0.98, rejected 0.98, overtime 0.95, and both rare counts 1.00, as exact
/// intervals of so few periods are wide. A share of 0.95 seen at 120 seeds is 0.89 or less in one of 250.
#[test]
fn what_is_said_against_todays_rule_holds_as_often_as_it_says() {
    let text = include_str!("../data/seldom.ron");
    let scenario = parse("seldom", text).expect("a scenario");
    let (seeds, long) = (
        number("COVERAGE_SEEDS", 120),
        number("COVERAGE_TRUTH", 4_000),
    );
    let trial = RuleTrial::new(&scenario, (0..scenario.rules.len()).collect(), 1_000_003);
    let rows = montecarlo::run(&&trial, 0..long, None, Watch::default());
    let mut held = [0; FIGURES.len()];
    let mut by_mean = [0; FIGURES.len()];
    let mut by_mean_held = [0; FIGURES.len()];
    for seed in 1..=seeds {
        let question = Question {
            replications: 30,
            seed,
            ..Question::default()
        };
        let answer = studies::compare(&scenario, &question, Watch::default()).expect("an answer");
        for (place, (column, name)) in FIGURES.into_iter().enumerate() {
            let mut all = true;
            for (case, rule) in answer.rules.iter().enumerate().skip(1) {
                let said = rule.figures[column].difference.expect("a difference").said;
                let (Contrast::Mean { interval, .. } | Contrast::Chance { interval, .. }) = said
                else {
                    panic!("{name} is looked at");
                };
                assert!(interval.low < interval.high, "{name}: {said:?}");
                let holds = interval.contains(truth(said, &rows, case, column));
                all &= holds;
                if said.mean().is_some() {
                    by_mean[place] += 1;
                    by_mean_held[place] += u64::from(holds);
                }
            }
            held[place] += u64::from(all);
        }
    }
    for (place, (_, name)) in FIGURES.into_iter().enumerate() {
        let share = held[place] as f64 / seeds as f64;
        if std::env::var_os("SHOW_AGREEMENT").is_some() {
            println!(
                "{name:12} all at once {share:.3}; by the mean {} of {}, of which hold {:.4} (each at 0.9833)",
                by_mean[place],
                seeds * 3,
                by_mean_held[place] as f64 / by_mean[place].max(1) as f64
            );
        }
        assert!(share >= 0.89, "{name}: {share}");
    }
    assert_eq!(AFFECTED_FOR_A_MEAN, 10);
}
