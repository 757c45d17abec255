//! Rules in sentences built from their decisions, and the worlds in which these are tried.

use super::Page;
use crate::dispatch::{Habit, Rule};
use crate::report::habit_words::{applies, choice, usual};
use crate::scenario::Scenario;

pub(super) fn rules(scenario: &Scenario, page: &mut Page) {
    for (at, rule) in scenario.rules.iter().enumerate() {
        let today = if at == scenario.todays_rule() {
            " (today)"
        } else {
            ""
        };
        page.line(&format!(
            "{}{today}: {}",
            rule.name,
            sentence(rule, scenario)
        ));
    }
    for world in &scenario.worlds {
        let changes: Vec<String> = world.changes.iter().map(|c| c.words(scenario)).collect();
        page.line(&format!(
            "World to try decisions in, \"{}\": {}",
            world.name,
            changes.join("; ")
        ));
    }
}

fn sentence(rule: &Rule, scenario: &Scenario) -> String {
    let said: Vec<String> = Habit::ALL
        .into_iter()
        .filter(|habit| applies(*habit, rule, scenario) && !usual(*habit, rule))
        .map(|habit| choice(habit, rule, scenario))
        .collect();
    said.join("; ")
}
