//! The answer of `causes`: what one change at a time would be worth.

mod beside_ledger;
mod json;
mod sentences;
mod tables;
mod worth;

use super::answer::{Answer, Block};
use super::{compare, shell};
use crate::scenario::Scenario;
use crate::studies::Counterfactuals;
use crate::units::measure;

/// How to read it.
const NOTES: [&str; 5] = [
    "Every change has the same chance events: the same orders, no-shows, traffic and minutes on site, but for what is changed.",
    "One thing is changed at a time. Two changes together may be worth less, or more, than their sum.",
    "One more truck and its driver are like the first of their plant; a driver who reports an hour earlier works a shift as long as \
     before.",
    "\"No plant outages\" leaves out planned ones too. No incidents, no outages and the like can't be bought: they show what those \
     things cost today, and stand last.",
    "\"Half an hour more age agreed\" shows what the limit costs; it is no advice to pass it. The limit is the purchaser's to change, order \
     by order, and only where the concrete can still be placed without water added (ASTM C94/C94M, from memory).",
];

/// What is shown of the changes.
pub fn answer(found: &Counterfactuals, scenario: &Scenario) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let runs = (found.replications(), found.seed);
    let recipe = shell::causes(scenario, &found.rule, &found.prices, runs);
    let mut answer = Answer::new("causes", scenario, sentences::finding(found), recipe);
    answer.page_title = format!("Causes: {}", found.scenario);
    answer.page = "causes.html";
    answer.about.clone_from(&scenario.about);
    answer.notes = NOTES.map(str::to_owned).into();
    answer.own_all(json::own(found));
    answer.lead.push(sentences::sureness(found));

    answer.tables.push(tables::worth(found));
    if !found.changes.is_empty() {
        worth::add_chart(found, &mut answer);
    }
    answer.section("", vec![Block::Note(sentences::paid(found))]);
    let changes = tables::changes(found);
    let name = changes.name;
    answer.tables.push(changes);
    let mut blocks = vec![Block::Table(name), Block::Note(tables::legend(found))];
    let not_applying = sentences::not_applying(found);
    blocks.extend(not_applying.clone().map(Block::Note));
    answer.section("What would not have happened", blocks);

    answer
        .tables
        .push(compare::lateness_table(&found.ledger, "lateness"));
    compare::add_lateness(&found.ledger, "lateness", &mut answer);
    beside_ledger::add(found, &mut answer);
    compare::add_losses(&found.ledger, &mut answer);

    answer.screen.push(Block::Table(name));
    for sentence in compare::lateness_sentences(&found.ledger) {
        answer.say_on_screen(sentence);
    }
    let sentences = [
        sentences::mishaps(found),
        sentences::losses(found),
        Some(tables::legend(found)),
        Some(sentences::paid(found)),
        not_applying,
        Some(sentences::sureness(found)),
    ];
    for sentence in sentences.into_iter().flatten() {
        answer.say_on_screen(sentence);
    }
    let figures = tables::figures(found, scenario);
    answer.beside.push(("figures.csv".into(), figures));
    answer
}
