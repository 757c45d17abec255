//! The answer of `replay --against`: the same replication under two rules, and which loads it goes otherwise with.

use super::differing::{self, SIDES};
use super::{Shown, events, json, more, page, recipe_of, sentences, tables};
use crate::report::answer::{Answer, Block, Content};
use crate::report::day::Day;
use crate::report::number::count;
use crate::report::shell::quoted;
use crate::scenario::Scenario;
use crate::studies::Against;
use crate::units::measure;
use serde_json::json;
use std::sync::Arc;

/// What is shown of a replication under two rules.
pub fn answer(found: &Arc<Against>, scenario: &Arc<Scenario>) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let [first, second] = &found.sides;
    let decision = decision(found, scenario);
    let mut answer = Answer::new("replay", scenario, decision, recipe(found, scenario));
    answer.headline = vec![found.sides[0].scenario.clone(), which(found)];
    answer.about = which(found);
    answer.page = "replay.html";
    answer.notes.push(SAME_DAY.into());
    answer.own_all(json!({
        "seed": first.seed,
        "replication": first.replication,
        "searched": first.searched,
        "asked": first.asked,
        "nothing_differs": found.nothing_differs(),
        "later_under_first": found.later_under(0),
        "later_under_second": found.later_under(1),
        "otherwise": found.otherwise,
        "alike": found.alike,
        "first": json::own(first, scenario),
        "second": json::own(second, scenario),
    }));

    let figures = tables::figures(&[first, second]);
    answer.screen.push(Block::Table(figures.name));
    answer.tables.push(figures);
    let table = differing::table(found, scenario);
    let rows = table.rows.len();
    if rows > 0 {
        let heading = "Loads that differ, greatest difference first:";
        answer.screen.push(Block::Heading(heading.into()));
        answer.screen.push(Block::Table(table.name));
        let all = format!("replay.html and {}", table.file_name());
        answer.screen.extend(more(rows, differing::SHOWN, &all));
    }
    answer.tables.push(table);
    if let Some(others) = differing::others(found) {
        answer.say(others);
    }

    for (side, replay) in found.sides.iter().enumerate() {
        let (late, trucks) = [
            ("late-loads-first", "trucks-first"),
            ("late-loads-second", "trucks-second"),
        ][side];
        answer.tables.push(tables::late(late, replay, scenario));
        let opening = format!("Under {}", sentences::rule(replay));
        let day = Day::of(replay, first.worst_day(), scenario, opening);
        answer.tables.push(day.table(trucks));
        answer.add_chart(
            trucks,
            format!(
                "Every truck through the day under {}",
                sentences::rule(replay)
            ),
            day.finding(),
            day.svg(),
            trucks,
        );
        let (found, scenario) = (Arc::clone(found), Arc::clone(scenario));
        let table = Content::table(events::cells(replay), move |to| {
            events::write(&found.sides[side], &scenario, to)
        });
        answer
            .beside
            .push((format!("events-{}.csv", SIDES[side]), table));
    }
    let (found, scenario) = (Arc::clone(found), Arc::clone(scenario));
    let page = Content::page(move || page::page(&Shown::both(&found), &scenario));
    answer.beside.push(("replay.html".into(), page));
    answer
}

/// In what the day is the same.
pub(super) const SAME_DAY: &str = "Both rules meet the same day: the same orders are drawn and cancelled, the same drivers do not \
    show up, plants stand still at the same hours, trucks break down after the same hours of work, traffic and the luck of each \
    load are the same. What differs comes of what the rules decide.";

/// Which replication this is, why it, and under which rules.
pub(super) fn which(found: &Against) -> String {
    format!(
        "{}; the same under {}",
        sentences::which(&found.sides[0]),
        sentences::rule(&found.sides[1])
    )
}

/// `Same Thursday`, `Same 6 days`.
fn same(found: &Against, scenario: &Scenario) -> String {
    match found.sides[0].days {
        1 => format!("Same {:?}", scenario.period.first_day),
        days => format!("Same {days} days"),
    }
}

/// How it comes out, in one sentence.
pub(super) fn decision(found: &Against, scenario: &Scenario) -> String {
    let same = same(found, scenario);
    let [first, second] = &found.sides;
    let (one, other) = (sentences::rule(first), sentences::rule(second));
    let late = match first.late_loads() {
        0 => "no late load".to_owned(),
        late => sentences::of(late, "late load", "late loads"),
    };
    let late = format!("{late}{}", sentences::never_came(first));
    if found.nothing_differs() {
        return format!(
            "{same}, and nothing differs: {one} and {other} decide alike from the first order to the last truck home, with {late} under both."
        );
    }
    let mut text = format!(
        "{same}: {late} under {one}, {}{} under {other}; ",
        none_or(second.late_loads()),
        sentences::never_came(second)
    );
    text += &match (found.later_under(0), found.later_under(1)) {
        (0, 0) => "no load is later under one than under the other".to_owned(),
        (0, under_second) => format!(
            "{} later under the second, none under the first",
            are(under_second)
        ),
        (under_first, under_second) => format!(
            "{} later under the first, {} under the second",
            are(under_first),
            none_or(under_second)
        ),
    };
    for (side, name) in SIDES.iter().enumerate() {
        if found.turned_down(side) > 0 {
            let loads = sentences::of(found.turned_down(side), "load was", "loads were");
            text += &format!("; {loads} turned down under the {name}");
        }
    }
    text + "."
}

fn are(loads: usize) -> String {
    sentences::of(loads, "load is", "loads are")
}

fn none_or(loads: usize) -> String {
    match loads {
        0 => "none".to_owned(),
        some => count(some as u64),
    }
}

/// The command that plays it again.
pub(super) fn recipe(found: &Against, scenario: &Scenario) -> String {
    let against = format!(" --against {}", quoted(&found.sides[1].rule));
    recipe_of(&found.sides[0], scenario, &against)
}
