//! The answer of `best`: the best rule that can be put together from the decisions written in the scenario, as text to paste.

mod json;
mod sentences;
mod tables;

use super::answer::{Answer, Block};
use super::chart::differences::{self, Better, Difference, Differences};
use super::figure::{heading, unit};
use super::final_round::never;
use super::number::level;
use super::period::per;
use super::plain_text::capital;
use crate::observe;
use crate::scenario::{Scenario, rule_text};
use crate::statistics::Interval;
use crate::studies::Best;
use crate::units::measure;

/// The file of the rule.
const RULE: &str = "best_rule.ron";
/// The file of the rule with fewer changes that brings most of it.
const SMALLER: &str = "smaller_rule.ron";

/// How to read it.
const NOTES: [&str; 3] = [
    "Rules are put together from the decisions that the scenario's rules take, each as a whole: no value is tried that no rule has. \
     `plantday tune` varies one rule's values.",
    "The search changes one decision at a time, from today's rule and from the best rule as written; only the fresh runs of the shortlist \
     decide. Two decisions that help only together may escape it.",
    "What it takes to teach a habit to a desk and a yard is not in the money: the smaller change is often the better one.",
];

/// What is shown of it. `recipe` is the command that gives it again.
pub fn answer(found: &Best, scenario: &Scenario, recipe: String) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let decision = sentences::decision(found);
    let mut answer = Answer::new("best", scenario, decision, recipe);
    answer.page_title = format!("Best rule: {}", found.scenario);
    answer.page = "best.html";
    answer.about.clone_from(&scenario.about);
    answer.notes = NOTES.map(str::to_owned).into();
    answer.own_all(json::own(found, scenario));
    for sentence in sentences::more(found, scenario) {
        answer.say(sentence);
    }

    answer.tables.push(tables::tried(found, scenario));
    if !found.last.finalists.is_empty() {
        add_chart(found, scenario, &mut answer);
        let shortlist = tables::shortlist(found, scenario);
        if found.rule.is_none() {
            answer.screen.push(Block::Table(shortlist.name));
        }
        answer.section(
            "The shortlist in fresh runs",
            vec![Block::Table(shortlist.name)],
        );
        answer.tables.push(shortlist);
    }
    if let Some(smaller) = sentences::smaller_rule(found, scenario) {
        answer
            .beside
            .push((SMALLER.into(), rule_text(&smaller).into_bytes().into()));
    }
    let other = |chosen: usize| !sentences::is_todays(found, chosen);
    let chosen = found.rule.as_ref().zip(found.last.chosen);
    if let Some((rule, _)) = chosen.filter(|(_, chosen)| other(*chosen)) {
        let changed = tables::changed_decisions(found, rule, scenario);
        answer.show("What is decided otherwise than today", changed);
        let text = rule_text(rule);
        let lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let to_paste = Block::Note("The rule, to paste into the scenario's list of rules:".into());
        let blocks = vec![to_paste, Block::Lines(lines)];
        answer.screen.extend(blocks.clone());
        answer.section("The rule", blocks);
        answer.beside.push((RULE.into(), text.into_bytes().into()));
    }
    let (targets, columns) = (&found.asked.targets, &found.targets);
    for note in never(&found.last, targets, columns, found.asked.level) {
        answer.say(note);
    }
    answer.lead.extend(sentences::notes(found));
    answer
}

/// Every finalist against today's rule.
fn add_chart(found: &Best, scenario: &Scenario, to: &mut Answer) {
    let today = found.last.finalists.len() - 1;
    let rows = (0..today).map(|place| {
        let finalist = &found.last.finalists[place];
        Difference {
            name: capital(&sentences::named(found, place, scenario)),
            mean: finalist.saves,
            interval: finalist.against_written.unwrap_or(Interval::UNBOUNDED),
            begins: None,
        }
    });
    let rows: Vec<Difference> = rows.collect();
    if rows.is_empty() {
        return;
    }
    let title = sentences::decision(found);
    let svg = differences::svg(&Differences {
        title: title.clone(),
        subtitle: format!(
            "{} on the same {} fresh runs; lines: {} intervals, for all at once",
            capital(&heading(&found.judge)),
            super::number::count(found.last.decided_on),
            level(1.0 - (1.0 - found.asked.level) / 2.0)
        ),
        baseline: "today".into(),
        axis: format!("change in {} {}", found.judge.label, per(found.days)),
        unit: unit(&found.judge),
        better: if found.judge.better == observe::Better::More {
            Better::Higher
        } else {
            Better::Lower
        },
        rows,
    });
    to.add_chart("shortlist", "The shortlist", title, svg, tables::SHORTLIST);
}
