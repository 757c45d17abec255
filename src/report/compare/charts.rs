//! The charts, each with what it shows in one sentence and the table that holds its numbers.

mod by_hour;
mod differences;
mod lateness;
mod margins;
mod money;
mod on_duty;

use super::{causes, same_days, site_wait, worst_day};
use crate::observe::figure;
use crate::report::answer::{Answer, Block};
use crate::report::shell;
use crate::scenario::Scenario;
use crate::studies::{Comparison, Replay};

/// All charts, in the order of the report.
pub(super) fn add_all(
    found: &Comparison,
    worst: &Replay,
    scenario: &Scenario,
    answer: &mut Answer,
) {
    differences::add(found, answer);
    let judged = found
        .rules
        .iter()
        .any(|rule| rule.profile.late.iter().sum::<u64>() + rule.profile.undelivered > 0);
    if judged {
        lateness::add(found, answer);
    } else {
        left_out(
            answer,
            "How late loads come",
            "none of them is judged by its lateness",
        );
    }
    answer.tables.push(causes::table(found, "causes"));
    if causes::add_chart(found, "causes", answer) {
        let base = &found.rules[found.base].name;
        let command = shell::causes(scenario, base, &[], (found.replications(), found.seed));
        answer.section(
            "",
            vec![
                Block::Text(
                    "What one change would be worth (a bay, a truck, two more open hours, the traffic known) on the same days:".into(),
                ),
                Block::Code(command),
            ],
        );
    } else if judged {
        let why = format!("no load is late under any rule in {}", same_days(found));
        left_out(answer, "What made loads late", &why);
    }
    answer.tables.push(by_hour::table(found));
    let limited = found
        .rules
        .iter()
        .any(|rule| rule.figures[figure::MARGIN_MIN].summary.n() > 0);
    if limited {
        by_hour::add_strandings(found, answer);
        margins::add(found, answer);
    } else {
        left_out(
            answer,
            "Drivers stranded and time left",
            "no driver's hours are limited",
        );
    }
    on_duty::add(found, scenario, answer);
    by_hour::add_bay_queue(found, answer);
    site_wait::add(found, answer);
    by_hour::add_truck_use(found, answer);
    money::add(found, answer);
    worst_day::add(found, worst, scenario, answer);
}

/// A chart without content is not drawn; why is said in its place.
pub(super) fn left_out(answer: &mut Answer, what: &str, why: &str) {
    let text = format!("{what}: no chart, as {why}.");
    answer.section("", vec![Block::Note(text)]);
}
