//! The answer of `replay --tomorrow`: which orders of a day break, what they have to spare, and what holds them.

mod charts;
mod sentences;
mod tables;

use super::answer::{Answer, Block};
use super::shell;
use crate::scenario::Scenario;
use crate::studies::Board;
use serde_json::{Value, json};

/// How to read it.
const NOTES: [&str; 5] = [
    "An order breaks in a run if a load of it comes late beyond its tolerance or does not come on its day, or if its pour has a gap longer \
     than it tolerates. Likely to break: in half of the runs or more. At risk: in a tenth or more.",
    "Minutes to spare: how much later a load could have come and still have been on time; below zero, so much too late. One run in ten has \
     no more than the second number.",
    "Every change meets the same chance events as the day as planned. It holds an order if it then breaks in less than a tenth of the runs \
     and that is no luck, all changes taken together.",
    "A price is what the scenario's own money has for the change: paid hours, driving, truck and crew hours, and for an order that is moved \
     what the customer's patience costs. Material is left out. A driver who is called in besides is taken as rested; a bay has no price, and sending earlier costs no more than the hours it makes.",
    "A plan is no permission: drivers' hours, licenses and what the customer agrees to decide.",
];

/// What is shown of it.
pub fn answer(found: &Board, scenario: &Scenario) -> Answer {
    let recipe = format!(
        "{} --tomorrow --rule {} --day {} --replications {} --seed {}",
        shell::command("replay", scenario),
        shell::quoted(&found.rule),
        found.day + 1,
        found.replications,
        found.seed
    );
    let decision = sentences::decision(found);
    let mut answer = Answer::new("tomorrow", scenario, decision, recipe);
    answer.page_title = format!("Tomorrow: {}", scenario.name);
    answer.page = "tomorrow.html";
    answer.about = sentences::asked(found);
    answer.headline.push(sentences::asked(found));
    answer.notes = NOTES.map(str::to_owned).into();
    answer.own_all(own(found));
    answer.show("Orders, the weakest first", tables::orders(found));
    answer.screen.push(Block::Note(tables::LEGEND.into()));
    for sentence in sentences::worst(found) {
        answer.say(sentence);
    }
    charts::add_lateness(found, &mut answer);
    if !found.changes.is_empty() {
        charts::add_changes(found, &mut answer);
        answer.show("What holds them", tables::changes(found));
        answer.tables.push(tables::tried(found));
    }
    answer.say(sentences::sureness(found));
    if let Some(sentence) = sentences::not_applying(found) {
        answer.section("", vec![Block::Note(sentence)]);
    }
    answer
}

/// What the JSON has of this study alone:
///
/// ```text
/// {"day", "rule", "rule_is_today", "seed", "level", "replications", "asked", "tried",
///  "likely": [order], "at_risk": [order],
///  "best": {"change", "words", "holds": [order], "price"} or null,
///  "not_applying": [{"change", "words", "why"}]}
/// ```
fn own(found: &Board) -> Value {
    let name = |order: &crate::studies::OrderAhead| sentences::name(found, order);
    let likely = found.orders.iter().filter(|order| order.is_likely());
    let at_risk = found.orders.iter();
    let at_risk = at_risk.filter(|order| order.is_at_risk() && !order.is_likely());
    let best = found.best().map(|best| {
        let orders = found.orders.iter().zip(&best.orders);
        let holds: Vec<&str> = orders
            .filter(|(_, held)| held.held)
            .map(|(order, _)| name(order))
            .collect();
        json!({
            "change": best.change.key(),
            "words": best.change.words(&found.scenario),
            "holds": holds,
            "price": best.price.and_then(|price| price.mean),
        })
    });
    let not_applying: Vec<Value> = found
        .not_applying
        .iter()
        .map(|(change, why)| {
            json!({ "change": change.key(), "words": change.words(&found.scenario), "why": why })
        })
        .collect();
    json!({
        "day": found.day + 1,
        "rule": found.rule,
        "rule_is_today": found.today,
        "seed": found.seed,
        "level": found.level,
        "replications": found.replications,
        "asked": found.asked,
        "tried": found.tried,
        "likely": likely.map(name).collect::<Vec<_>>(),
        "at_risk": at_risk.map(name).collect::<Vec<_>>(),
        "best": best,
        "not_applying": not_applying,
    })
}
