//! The answer of `tune`: what is shown of it.

mod charts;
mod json;
mod sentences;
mod tables;

use super::answer::{Answer, Block};
use crate::scenario::Scenario;
use crate::studies::Tuned;
use crate::units::measure;

/// What is shown of a search through the parameters of a rule. `recipe` is the command that gives it again.
pub fn answer(found: &Tuned, scenario: &Scenario, recipe: String) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let decision = sentences::decision(found);
    let mut answer = Answer::new("tune", scenario, decision.clone(), recipe);
    answer.page = "tune.html";
    answer.page_title = format!("Rule tuned: {}", found.rule);
    answer.about.clone_from(&scenario.about);
    answer.own_all(json::json(found));
    if !found.targets.is_empty() {
        answer.notes.push(
            "A target is met if the bound, which holds for all finalists at once, meets it.".into(),
        );
    }

    for sentence in sentences::missed(found) {
        answer.say(sentence);
    }
    let name = tables::SURFACE;
    answer.add_chart(
        name,
        "The settings tried",
        decision,
        charts::surface(found),
        name,
    );
    // What the scenario calls them.
    answer.section("", vec![Block::Note(sentences::paths(found))]);
    if !found.last.finalists.is_empty() {
        answer.show("Final round", tables::last(found));
    }
    answer.screen.push(Block::Table(tables::SURFACE));
    answer.tables.push(tables::surface(found));
    if found.settings.len() > tables::SCREEN {
        let more = found.settings.len() - tables::SCREEN;
        let note = format!("… and {more} more in surface.csv");
        answer.screen.push(Block::Note(note));
    }
    for note in sentences::notes(found) {
        answer.say(note);
    }
    let rule = &scenario.rules[found.asked.rule];
    answer.section(
        "The rule",
        vec![Block::Text(format!("{}: {}", rule.name, rule.about))],
    );
    answer
}
