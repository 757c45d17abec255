//! The answer of `holds`: in which changed worlds a decision does not hold, and the prices at which it turns.

mod assumed;
mod json;
mod sentences;
mod tables;
mod worlds;

use super::answer::{Answer, Block};
use super::shell;
use crate::scenario::Scenario;
use crate::studies::Holds;
use crate::units::measure;

/// How to read it.
const NOTES: [&str; 3] = [
    "One thing is otherwise at a time; everything else, all chance events included, is as assumed. A decision counts as not holding \
     only where another rule is shown to be better, or where it could not be recommended.",
    "Intervals cover chance alone, within each changed world. How likely such a world is, nobody has computed: that is for you to judge.",
    "Prices at which another rule is the cheaper one follow from the averages as assumed: the rules do the same things at any price.",
];

/// Over the prices.
const TURNS: &str = "Prices at which another rule is the cheaper one";

/// What is shown of it.
pub fn answer(found: &Holds, scenario: &Scenario) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let recipe = shell::command("holds", scenario) + &sentences::options(found);
    let mut answer = Answer::new(
        "holds",
        scenario,
        sentences::decision(found, scenario),
        recipe,
    );
    answer.page_title = format!("Does it hold: {}", scenario.name);
    answer.page = "holds.html";
    answer.about.clone_from(&scenario.about);
    answer.notes = NOTES.map(str::to_owned).into();
    answer.own_all(json::own(found, scenario));
    if let Some(drawn) = &found.under_assumptions {
        assumed::add(found, drawn, &mut answer);
    }
    add(found, scenario, &mut answer);
    answer.screen.push(Block::Table(tables::WORLDS));
    if !found.break_even.is_empty() {
        answer.screen.push(Block::Heading(TURNS.into()));
        answer.screen.push(Block::Table(tables::PRICES));
    }
    for sentence in sentences::notes(found, scenario) {
        answer.say(sentence);
    }
    answer
}

/// What `compare` says of it: the end of its decision, and a section of its page.
pub fn add_to_comparison(found: &Holds, scenario: &Scenario, to: &mut Answer) {
    to.decision = format!("{} {}", to.decision, sentences::in_short(found, scenario));
    add(found, scenario, to);
    to.own("holds", json::own(found, scenario));
    to.lead.extend(sentences::tried(found));
}

/// Chart and tables.
fn add(found: &Holds, scenario: &Scenario, to: &mut Answer) {
    to.tables.push(tables::worlds(found, scenario));
    worlds::add_chart(found, scenario, to);
    to.section("", vec![Block::Table(tables::WORLDS)]);
    if !found.break_even.is_empty() {
        to.tables.push(tables::prices(found));
        to.section(TURNS, vec![Block::Table(tables::PRICES)]);
    }
}
