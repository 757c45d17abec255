//! The answer on one screen.

use super::{late as late_loads, refusals, sentences};
use crate::observe::figure as place;
use crate::report::figure;
use crate::report::number::number;
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::scenario::Scenario;
use crate::studies::Replay;
use std::fmt::Write;

/// Figures that say what kind of day it was.
pub(super) const SHOWN: [usize; 8] = [
    place::COST,
    place::LATE_LOADS,
    place::LATE_MIN,
    place::UNDELIVERED,
    place::STRANDED,
    place::DUMPED_YD3,
    place::OVERTIME_H,
    place::TRUCK_USE,
];
/// Late loads and strandings that a screen has room for.
const ROOM: (usize, usize) = (5, 3);
/// The same for refusals.
const REFUSALS: usize = 10;

/// The answer for a terminal of this width. To be printed through `anstream`.
pub fn terminal(answer: &Replay, scenario: &Scenario, width: u16) -> String {
    let bold = anstyle::Style::new().bold();
    let mut text = format!(
        "{}\n{}\n\n{bold}{}{bold:#}\n\n",
        one_line(&answer.scenario),
        one_line(&sentences::which(answer)),
        sentences::summary(answer)
    );
    let heading = format!("mean of {}", number(answer.searched as f64, 0));
    let mut table = Table::new(&[
        ("figure", Align::Left),
        ("here", Align::Right),
        (&heading, Align::Right),
    ]);
    for (label, here, mean) in figures(answer) {
        table.row([label, here, mean]);
    }
    text.push_str(&table.render(width));
    late(&mut text, answer, scenario, width);
    stranded(&mut text, answer, scenario);
    refused(&mut text, answer, scenario, width);
    text
}

/// Label, this replication, mean.
pub(super) fn figures(answer: &Replay) -> Vec<(String, String, String)> {
    SHOWN
        .iter()
        .map(|place| {
            let column = &answer.columns[*place];
            let form = figure::form(column);
            let mean = answer.means[*place].map_or("–".into(), |mean| form.show(mean));
            let here = figure::form_of_one(column).show(answer.figure(*place));
            (figure::heading(column), here, mean)
        })
        .collect()
}

fn late(text: &mut String, answer: &Replay, scenario: &Scenario, width: u16) {
    let all = late_loads::lines(answer, scenario);
    let rest = all.len().saturating_sub(ROOM.0);
    if all.is_empty() {
        text.push_str("\nNo load came late.\n");
        return;
    }
    let _ = writeln!(text, "\n{}:", late_loads::heading(answer));
    let mut table = Table::new(&[
        ("came", Align::Left),
        ("load", Align::Left),
        ("late", Align::Right),
        ("because", Align::Left),
    ]);
    for line in all.into_iter().take(ROOM.0) {
        table.row([
            line.came,
            line.load,
            sentences::minutes(line.minutes),
            line.because,
        ]);
    }
    text.push_str(&table.render(width));
    if rest > 0 {
        let _ = writeln!(text, "and {rest} more in replay.html");
    }
}

fn stranded(text: &mut String, answer: &Replay, scenario: &Scenario) {
    if answer.stranded.is_empty() {
        return;
    }
    let _ = writeln!(text, "\nStranded:");
    for stranded in answer.stranded.iter().take(ROOM.1) {
        let _ = writeln!(
            text,
            "  {}  {}",
            sentences::clock(answer, stranded.at),
            one_line(&sentences::stranding(answer, scenario, stranded))
        );
    }
    if answer.stranded.len() > ROOM.1 {
        let rest = answer.stranded.len() - ROOM.1;
        let _ = writeln!(text, "and {rest} more in replay.html");
    }
}

fn refused(text: &mut String, answer: &Replay, scenario: &Scenario, width: u16) {
    let Some(told) = answer.told else { return };
    let heading = refusals::heading(told);
    if answer.refused.is_empty() {
        let _ = writeln!(text, "\n{heading}: nobody.");
        return;
    }
    let all = format!("{heading}: {}.", refusals::summary(answer));
    text.push('\n');
    for line in wrap("", &one_line(&all), width.into()) {
        let _ = writeln!(text, "{line}");
    }
    let mut table = Table::new(&[
        ("asked", Align::Left),
        ("load", Align::Left),
        ("refused", Align::Left),
        ("because", Align::Left),
    ]);
    let lines = refusals::lines(answer, scenario);
    let rest = lines.len().saturating_sub(REFUSALS);
    for line in lines.into_iter().take(REFUSALS) {
        table.row([
            sentences::clock(answer, line.at),
            line.load,
            line.who,
            line.why,
        ]);
    }
    text.push_str(&table.render(width));
    if rest > 0 {
        let _ = writeln!(text, "and {rest} more in replay.html and events.csv");
    }
}
