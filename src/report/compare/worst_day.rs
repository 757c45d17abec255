//! The worst day, truck by truck, and which other days are worth watching.

use super::sentences;
use crate::report::answer::{Answer, Block, Column, Table};
use crate::report::day::Day;
use crate::report::{figure, shell};
use crate::scenario::Scenario;
use crate::studies::{Comparison, Replay};

/// The page beside the report that plays the worst day on a moving map.
pub(super) const PAGE: &str = "worst-day.html";

const NAME: &str = "worst-day";

/// Chart and table of the worst day of the replication that is played again, and where to look on.
pub(super) fn add(found: &Comparison, worst: &Replay, scenario: &Scenario, answer: &mut Answer) {
    let opening = format!("On the worst day under {}", sentences::base(found));
    let day = Day::of(worst, worst.worst_day(), scenario, opening);
    answer.tables.push(day.table(NAME));
    answer.add_chart(
        NAME,
        "The worst day, truck by truck",
        day.finding(),
        day.svg(),
        NAME,
    );
    let base = &found.rules[found.base];
    let mut blocks = vec![
        Block::Link {
            words: "Watch these days minute by minute on a moving map".into(),
            file: PAGE.into(),
            after: format!(
                " ({PAGE}, beside this page), with every late load and why. The same from the command line:"
            ),
        },
        Block::Code(shell::replay(
            scenario,
            &base.name,
            worst.replication,
            found.seed,
        )),
    ];
    let table = worth_watching(found, scenario);
    if !table.rows.is_empty() {
        blocks.push(Block::Text(
            "Days worth watching, each with the command that plays it:".into(),
        ));
        blocks.push(Block::Table(table.name));
        answer.tables.push(table);
    }
    answer.section("", blocks);
}

fn worth_watching(found: &Comparison, scenario: &Scenario) -> Table {
    let columns =
        ["rule", "worst by", "figure", "command"].map(|heading| Column::new(heading).left());
    let mut table = Table::new("worth-watching", columns.into());
    for rule in &found.rules {
        for worst in &rule.worth_replaying {
            let column = &found.columns[worst.by.figure()];
            table.row([
                rule.name.as_str().into(),
                worst.by.words().into(),
                figure::amount(column, worst.value).into(),
                shell::replay(scenario, &rule.name, worst.replication, found.seed).into(),
            ]);
        }
    }
    table
}
