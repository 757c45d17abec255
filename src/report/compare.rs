//! The answer of `compare`.

mod barred;
mod causes;
mod charts;
mod gets_worse;
mod json;
mod losses;
mod rules_shown;
mod runner_up;
mod selection;
mod sentences;
mod side_by_side;
mod site_wait;
mod tables;
mod whom;
mod worst_day;

pub(super) use causes::{
    add_chart as add_lateness, json as lateness_json, sentences as lateness_sentences,
    table as lateness_table,
};
pub(super) use json::losses as losses_json;
pub(super) use losses::{add_section as add_losses, known as known_losses};
pub(super) use sentences::{ends, gained, listed};

use super::answer::{Answer, Block};
use super::shell;
use crate::observe::{Better, FigureUnit};
use crate::scenario::Scenario;
use crate::studies::{Comparison, Decision, Replay};
use crate::units::measure;
use std::sync::Arc;

/// What is shown of a comparison; `worst` is the replication that it holds most worth looking at, played again. What is large is written of
/// them when it is wanted: the answer keeps them until then.
pub fn answer(found: &Arc<Comparison>, worst: &Arc<Replay>, scenario: &Arc<Scenario>) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let recipe = shell::command("compare", scenario) + &sentences::options(found);
    let mut answer = Answer::new("compare", scenario, sentences::decision(found), recipe);
    answer.page_title = format!("Dispatch rules compared: {}", found.scenario);
    answer.about.clone_from(&scenario.about);
    answer.own_all(json::own(found));

    side_by_side::add(found, &mut answer);
    gets_worse::add_commands(found, pick(found), scenario, &mut answer);
    tables::add_quantiles(found, &mut answer);
    tables::add_concrete(found, &mut answer);
    tables::add_rules(found, &mut answer);
    whom::add(found, scenario, &mut answer);
    charts::add_all(found, worst, scenario, &mut answer);
    add_losses(found, &mut answer);
    let prices: Vec<Block> = (0..found.rules.len())
        .filter_map(|rule| sentences::price_of_hours(found, rule))
        .map(Block::Text)
        .collect();
    if !prices.is_empty() {
        answer.section("", prices);
    }
    answer.tables.push(tables::summary(found));

    let pick = pick(found);
    let told = !matches!(found.decision, Decision::NotToldApart(_));
    if told
        && pick != found.base
        && let Some(sentence) = sentences::kinds_of_money(found, pick)
    {
        answer.say(sentence);
    }
    if told && pick != found.base {
        answer.lead.push(gets_worse::sentence(found, pick));
    }
    for sentence in barred::sentences(found) {
        answer.say(sentence);
    }
    if told {
        for sentence in [
            runner_up::sentence(found, pick),
            runner_up::real_periods(found, pick),
        ]
        .into_iter()
        .flatten()
        {
            answer.say(sentence);
        }
    }
    // A screen has room for one; the chart has them all.
    for sentence in causes::sentences(found).into_iter().take(1) {
        answer.say_on_screen(sentence);
    }
    if let Some(sentence) = sentences::price_of_hours(found, pick) {
        answer.say_on_screen(sentence);
    }
    answer.say(sentences::sureness(found));
    if found.judged_by().unit == FigureUnit::Money {
        answer.notes.extend(COUNTED.map(str::to_owned));
    }
    answer.notes.extend(sentences::same_chance(found));
    for sentence in selection::sentences(found) {
        answer.say(sentence);
    }
    if let Some(sentence) = side_by_side::never(found) {
        answer.say_on_screen(sentence);
    }
    answer
        .beside
        .push(("figures.csv".into(), tables::figures(found)));
    let page = super::replay::page(worst, scenario);
    answer.beside.push((worst_day::PAGE.into(), page));
    answer
}

/// What the cost holds, and what it does not.
const COUNTED: [&str; 2] = [
    "Counted: cash paid (wages with payroll taxes, fuel and wear, material, disposal, hired help, fines), lost sales (what was ordered and \
     never placed, at its sale price) and priced trouble (late loads, gaps, broken and moved orders, goodwill, stranded drivers).",
    "Not counted: hours of trucks that are owned anyway, benefits by the head, and what a lost customer would have ordered later.",
];

/// The rule that a reader looks at first: the best, else the first contender that is not the base.
fn pick(found: &Comparison) -> usize {
    match &found.decision {
        Decision::Alone => found.base,
        Decision::Best(rule) | Decision::Selected(rule) => *rule,
        Decision::NotToldApart(rules) => {
            let other = rules.iter().find(|rule| **rule != found.base);
            *other.unwrap_or(&found.base)
        }
    }
}

/// `the same 1,000 simulated weeks`.
fn same_days(found: &Comparison) -> String {
    super::period::the_same(found.replications(), found.days)
}

/// Whether the larger of two values of the figure that rules are ranked by is the better one.
fn more_is_better(found: &Comparison) -> bool {
    found.judged_by().better == Better::More
}
