//! What is taken is also told and played: every figure is a number or a blank, and the figures are a recount of what happened.

use crate::invariants::watched::Watched;
use plantday::engine::Luck;
use plantday::observe::columns;
use plantday::plant::Plan;
use plantday::report::{compare as report, summary};
use plantday::scenario::Scenario;
use plantday::studies::{Question, compare, worst_of};
use plantday::units::Cents;
use plantday::units::measure::Measures;
use std::num::NonZeroUsize;
use std::sync::Arc;

/// More loads than these are not played.
const MOST_LOADS: f64 = 400.0;
const MOST_TRUCKS: usize = 120;

/// Whether one replication is little work.
fn is_small(scenario: &Scenario) -> bool {
    let written = scenario.orders.iter().filter(|order| order.slot.is_none());
    let loads = |volume: f64, load: f64| (volume / load.max(0.01)).ceil();
    let written: f64 = written
        .map(|order| loads(order.volume.yd3(), order.load.yd3()))
        .sum();
    let days = f64::from(scenario.period.days);
    let drawn = scenario.drawn.iter();
    let drawn: f64 = drawn
        .map(|drawn| days * drawn.per_day.mean() * loads(drawn.volume.mean(), 5.0))
        .sum();
    let rules = scenario.rules.len() as f64;
    let endless = if scenario.endless.is_empty() {
        0.0
    } else {
        50.0 * days
    };
    (written + drawn + endless) * rules < 4.0 * MOST_LOADS
        && scenario.trucks.len() <= MOST_TRUCKS
        && days <= 10.0
}

/// What is wrong with what is told of a scenario that was taken, and with one replication of it.
pub(super) fn wrong(scenario: &Scenario, whole: bool) -> Option<String> {
    let told = summary::answer(scenario);
    let texts = [
        told.terminal(40),
        told.terminal(120),
        told.json().to_string(),
    ];
    let wrong = texts.iter().find_map(|text| no_number(text, scenario));
    if wrong.is_some() || !is_small(scenario) {
        return wrong;
    }
    let counted = counted_twice(scenario);
    let scenario = &counted;
    let plan = Plan::new(scenario);
    let mut watched = Watched::new(scenario, &plan);
    for rule in 0..scenario.rules.len() {
        let tape = watched.play(rule, Luck::new(1, 0));
        let infinite = columns(scenario)
            .into_iter()
            .zip(watched.row())
            .find(|(_, value)| value.is_infinite());
        if let Some((column, value)) = infinite {
            return Some(format!("{} is {value}", column.key));
        }
        let differences = watched.differences(&tape);
        if !differences.is_empty() {
            return Some(format!(
                "recounted otherwise under rule {rule}: {differences:?}"
            ));
        }
    }
    whole.then(|| compared(scenario)).flatten()
}

/// The scenario without the prices that the recount does not know: what they bring is held by days on paper.
pub(crate) fn counted_twice(scenario: &Scenario) -> Scenario {
    let mut counted = scenario.clone();
    counted.measures = Measures::US;
    // Some figures are of a span, others of all: `tests/theory` holds the span.
    counted.period.measure = None;
    let money = &mut counted.money;
    (money.second_overtime, money.night, money.weekend) = (None, None, None);
    for price in [
        &mut money.pump_standby_per_h,
        &mut money.site_crew_per_h,
        &mut money.revenue.unloading_per_min,
        &mut money.revenue.short_load,
    ] {
        *price = Cents::ZERO;
    }
    counted
        .drivers
        .iter_mut()
        .for_each(|driver| driver.pay_per_h = None);
    counted
}

/// The whole answer of two replications.
fn compared(scenario: &Scenario) -> Option<String> {
    let question = Question {
        replications: 2,
        threads: NonZeroUsize::new(1),
        ..Question::default()
    };
    let found = compare(scenario, &question, plantday::Watch::default());
    let found = Arc::new(found.expect("nobody stops it"));
    let worst = Arc::new(worst_of(scenario, &found));
    let answer = report::answer(&found, &worst, &Arc::new(scenario.clone()));
    let texts = [
        answer.terminal(40),
        answer.terminal(120),
        answer.json().to_string(),
    ];
    texts.iter().find_map(|text| no_number(text, scenario))
}

/// A text that holds what is no number, though no name of the scenario does.
fn no_number(text: &str, scenario: &Scenario) -> Option<String> {
    let is_none = |text: &str| {
        let mut words = text.split(|c: char| !c.is_alphanumeric());
        words.any(|word| ["NaN", "inf"].contains(&word))
    };
    if !is_none(text) {
        return None;
    }
    let written = format!("{scenario:?}");
    let mut names = written.split('"').skip(1).step_by(2);
    let named = names.any(|name| is_none(&name.replace("\\u", " ")));
    (!named).then(|| format!("it says what is no number:\n{text}"))
}
