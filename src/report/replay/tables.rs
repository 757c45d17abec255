//! What the screen shows: the figures against their means, late loads, who was refused.

use super::{late as late_loads, refusals, sentences};
use crate::observe::figure as place;
use crate::report::answer::{Cell, Column, Form, Table};
use crate::report::figure;
use crate::report::number::count;
use crate::scenario::Scenario;
use crate::studies::Replay;

/// Figures that say what kind of day it was.
const SHOWN: [usize; 8] = [
    place::COST,
    place::LATE_LOADS,
    place::LATE_MIN,
    place::UNDELIVERED,
    place::STRANDED,
    place::DUMPED_YD3,
    place::OVERTIME_H,
    place::TRUCK_USE,
];

/// Late loads that a screen has room for.
pub(super) const LATE_SHOWN: usize = 5;
/// The same for refusals.
pub(super) const REFUSED_SHOWN: usize = 10;

/// This replication against the mean: of one rule, or of several side by side.
pub(super) fn figures(replays: &[&Replay]) -> Table {
    let mut columns = vec![Column::new("figure").left()];
    for replay in replays {
        let here = match replays {
            [_] => "here".to_owned(),
            _ => format!("under {}", sentences::rule(replay)),
        };
        columns.push(Column::new(here));
        let average = format!("average of {}", count(replay.searched));
        columns.push(Column::new(average));
    }
    let mut table = Table::new("figures", columns);
    for place in SHOWN {
        let column = &replays[0].columns[place];
        let form = figure::form(column);
        let both = |replay: &&Replay| {
            let here = Cell::Number {
                value: replay.figure(place),
                form: figure::form_of_one(column),
            };
            let average = Cell::Number {
                value: replay.means[place].unwrap_or(f64::NAN),
                // Beside one run more digits would only distract.
                form: Form {
                    decimals: form.decimals.min(1),
                    ..form
                },
            };
            [here, average]
        };
        let heading = std::iter::once(figure::heading(column).into());
        table.row(heading.chain(replays.iter().flat_map(both)));
    }
    table
}

/// A file such as `late-loads.csv`: those with most minutes first.
pub(super) fn late(name: &'static str, answer: &Replay, scenario: &Scenario) -> Table {
    let mut table = Table::new(
        name,
        vec![
            Column::new("came").left().key("came"),
            Column::new("load").left().key("load"),
            Column::new("late").key("late_min"),
            Column::new("because").left().key("because"),
        ],
    );
    // The study's own part of the JSON tells more of them.
    table.json = false;
    for (at, line) in late_loads::lines(answer, scenario).into_iter().enumerate() {
        let late = Cell::worded(
            sentences::minutes(line.minutes),
            Some(line.minutes.minutes()),
        );
        table
            .row([
                line.came.into(),
                line.load.into(),
                late,
                line.because.into(),
            ])
            .screen(at < LATE_SHOWN);
    }
    table
}

/// Who was refused, in the order in which it happened.
pub(super) fn refused(answer: &Replay, scenario: &Scenario) -> Table {
    let columns =
        ["asked", "load", "refused", "because"].map(|heading| Column::new(heading).left());
    let mut table = Table::new("refused", columns.into());
    for (at, line) in refusals::lines(answer, scenario).into_iter().enumerate() {
        table
            .row([
                sentences::clock(answer, line.at).into(),
                line.load.into(),
                line.who.into(),
                line.why.into(),
            ])
            .screen(at < REFUSED_SHOWN);
    }
    table
}
