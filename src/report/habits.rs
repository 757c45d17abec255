//! The answer of `habits`: what each decision in which two rules differ brings.

mod json;
mod sentences;
mod shares;
pub(super) mod tables;

use super::answer::{Answer, Block};
use super::shell;
use crate::scenario::Scenario;
use crate::studies::Habits;
use crate::units::measure;

/// How to read it.
const NOTES: [&str; 3] = [
    "A decision's share is what it changes when it is added, averaged over the orders in which the decisions may be added (Shapley \
     value): the shares add up to the whole difference. Some decisions do more together than apart; a share splits that evenly.",
    "Added alone: the first rule with that decision only. Taken away last: the second rule against itself without it. Where the two are \
     far apart, the decision works with or against the others.",
    "Cost is cash paid, lost sales and priced trouble. What it takes to teach a habit to a desk and a yard is not in it.",
];

/// What is shown of it.
pub fn answer(found: &Habits, scenario: &Scenario) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let names = (found.from.name.as_str(), found.to.name.as_str());
    let recipe = shell::habits(scenario, names, found.replications, found.asked.seed);
    let mut answer = Answer::new("habits", scenario, sentences::decision(found), recipe);
    answer.page_title = format!("Habits: {}", found.scenario);
    answer.page = "habits.html";
    answer.about.clone_from(&scenario.about);
    answer.notes = NOTES.map(str::to_owned).into();
    answer.own_all(json::own(found, scenario));

    answer.tables.push(tables::all(found, scenario));
    shares::add_chart(found, &mut answer);
    answer.show("What each decision brings", tables::decisions(found));
    for sentence in sentences::notes(found) {
        answer.say(sentence);
    }
    let choices = tables::choices(found, scenario);
    answer.section("What is decided", vec![Block::Table(choices.name)]);
    answer.tables.push(choices);
    answer.section("What kind of money", vec![Block::Table(tables::MONEY)]);
    answer.tables.push(tables::money(found));
    answer
}
