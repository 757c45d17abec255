//! The answer of `replay`: one replication, under one rule or under two, what happened in it and why, with a page of its own that
//! plays it.

mod against;
mod data;
mod differing;
mod events;
mod json;
mod late;
mod map;
mod page;
mod refusals;
mod sentences;
mod tables;

pub use against::answer as against;

use super::answer::{Answer, Block, Content};
use super::day::Day;
use super::shell;
use crate::observe::ToldRefusals;
use crate::scenario::Scenario;
use crate::studies::{Against, Replay};
use crate::units::measure;
use std::sync::Arc;

/// What a page plays: one replication under one rule, or under two side by side.
struct Shown<'a> {
    replays: Vec<&'a Replay>,
    against: Option<&'a Against>,
}

impl<'a> Shown<'a> {
    fn one(replay: &'a Replay) -> Self {
        Self {
            replays: vec![replay],
            against: None,
        }
    }

    fn both(found: &'a Against) -> Self {
        Self {
            replays: found.sides.iter().collect(),
            against: Some(found),
        }
    }

    /// The only one, or the one that has chosen the replication.
    fn first(&self) -> &'a Replay {
        self.replays[0]
    }
}

/// The page of a replication under one rule.
pub(super) fn page(found: &Arc<Replay>, scenario: &Arc<Scenario>) -> Content {
    let (found, scenario) = (Arc::clone(found), Arc::clone(scenario));
    Content::page(move || page::page(&Shown::one(&found), &scenario))
}

/// What is shown of a replication. What is large is written of it when it is wanted: the answer keeps it until then.
pub fn answer(found: &Arc<Replay>, scenario: &Arc<Scenario>) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let mut answer = Answer::new(
        "replay",
        scenario,
        sentences::summary(found),
        recipe(found, scenario),
    );
    answer.headline = vec![found.scenario.clone(), sentences::which(found)];
    answer.about = sentences::which(found);
    answer.page = "replay.html";
    answer.own_all(json::own(found, scenario));

    let figures = tables::figures(&[found]);
    answer.screen.push(Block::Table(figures.name));
    answer.tables.push(figures);
    let late = tables::late("late-loads", found, scenario);
    let late_rows = late.rows.len();
    if late_rows == 0 {
        answer.say_on_screen("No load came late.");
    } else {
        answer
            .screen
            .push(Block::Heading(format!("{}:", late::heading(found))));
        answer.screen.push(Block::Table(late.name));
        answer
            .screen
            .extend(more(late_rows, tables::LATE_SHOWN, "replay.html"));
    }
    answer.tables.push(late);
    if !found.stranded.is_empty() {
        let all = found.stranded.iter();
        let told = all.map(|stranded| {
            let at = sentences::clock(found, stranded.at);
            format!("{at}: {}", sentences::stranding(found, scenario, stranded))
        });
        answer
            .screen
            .push(Block::Heading("Stranded drivers:".into()));
        answer
            .screen
            .push(Block::List(told.take(STRANDED_SHOWN).collect()));
        answer
            .screen
            .extend(more(found.stranded.len(), STRANDED_SHOWN, "replay.html"));
    }
    add_refused(found, scenario, &mut answer);

    let opening = format!("Under {}", sentences::rule(found));
    let day = Day::of(found, found.worst_day(), scenario, opening);
    answer.tables.push(day.table("trucks"));
    answer.add_chart(
        "trucks",
        "Every truck through the day",
        day.finding(),
        day.svg(),
        "trucks",
    );
    let events = {
        let (found, scenario) = (Arc::clone(found), Arc::clone(scenario));
        Content::table(events::cells(&found), move |to| {
            events::write(&found, &scenario, to)
        })
    };
    answer.beside.push(("events.csv".into(), events));
    let page = page(found, scenario);
    answer.beside.push(("replay.html".into(), page));
    answer
}

/// Strandings that a screen has room for.
const STRANDED_SHOWN: usize = 3;

/// What is said below a list of so many of which so many are shown.
fn more(all: usize, shown: usize, place: &str) -> Option<Block> {
    let rest = all.saturating_sub(shown);
    (rest > 0).then(|| Block::Note(format!("and {rest} more in {place}")))
}

fn add_refused(found: &Replay, scenario: &Scenario, answer: &mut Answer) {
    let Some(told) = found.told else { return };
    let heading = refusals::heading(told);
    if found.refused.is_empty() {
        answer
            .screen
            .push(Block::Heading(format!("{heading}: nobody.")));
        return;
    }
    let all = format!("{heading}: {}.", refusals::summary(found));
    answer.screen.push(Block::Heading(all));
    let table = tables::refused(found, scenario);
    answer.screen.push(Block::Table(table.name));
    answer.screen.extend(more(
        table.rows.len(),
        tables::REFUSED_SHOWN,
        "replay.html and events.csv",
    ));
    answer.tables.push(table);
}

/// The command that plays it again.
fn recipe(found: &Replay, scenario: &Scenario) -> String {
    recipe_of(found, scenario, "")
}

/// The same with another option.
fn recipe_of(found: &Replay, scenario: &Scenario, option: &str) -> String {
    let refusals = match found.told {
        None => "",
        Some(ToldRefusals::OfHours) => " --refusals",
        Some(ToldRefusals::All) => " --refusals=all",
    };
    format!(
        "{}{option} --replications {}{refusals}",
        shell::replay(scenario, &found.rule, found.replication, found.seed),
        found.searched
    )
}
