//! The surface and the final as tables: CSV and terminal.

use super::sentences::{decimals, decision, named, notes, shown};
use crate::report::csv_text::{Cell, Table as Csv};
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::statistics::Summary;
use crate::studies::Tuned;
use std::fmt::Write;

/// `surface.csv`: one line for each setting of the search.
pub(super) fn surface(answer: &Tuned) -> Vec<u8> {
    let mut headings: Vec<String> = vec!["setting".into()];
    headings.extend(
        answer
            .asked
            .vary
            .iter()
            .map(|v| v.parameter.name().to_owned()),
    );
    for column in std::iter::once(&answer.judge).chain(&answer.targets) {
        for end in ["mean", "low", "high"] {
            headings.push(format!("{}_{end}", column.key));
        }
    }
    headings.extend(["replications".into(), "seems_to_meet_targets".into()]);
    let names: Vec<&str> = headings.iter().map(String::as_str).collect();
    let mut table = Csv::new(&names);
    for setting in &answer.settings {
        let name = if setting.values.is_some() {
            "searched"
        } else {
            "as written"
        };
        let values = answer.asked.vary.iter().enumerate().map(|(n, _)| {
            setting
                .values
                .as_ref()
                .map_or(Cell::Blank, |values| Cell::Number(values[n]))
        });
        let figures = std::iter::once(&setting.judged).chain(&setting.targets);
        let figures = figures.flat_map(|summary| {
            let interval = summary.interval(answer.asked.level);
            [
                summary.mean().into(),
                Cell::Number(interval.low),
                Cell::Number(interval.high),
            ]
        });
        let meets = if setting.seems_to_meet { "yes" } else { "no" };
        table.row(
            std::iter::once(Cell::Text(name))
                .chain(values)
                .chain(figures)
                .chain([Cell::Number(answer.searched as f64), Cell::Text(meets)]),
        );
    }
    table.finish()
}

/// `final.csv`: one line for each finalist.
pub(super) fn last(answer: &Tuned) -> Vec<u8> {
    let mut headings: Vec<String> = vec!["setting".into(), format!("{}_mean", answer.judge.key)];
    for column in &answer.targets {
        headings.push(format!("{}_mean", column.key));
        headings.push(format!("{}_bound", column.key));
    }
    headings.extend(
        [
            "meets_targets",
            "against_written",
            "against_written_low",
            "against_written_high",
            "chosen",
        ]
        .map(str::to_owned),
    );
    let names: Vec<&str> = headings.iter().map(String::as_str).collect();
    let mut table = Csv::new(&names);
    let yes = |is: bool| Cell::Text(if is { "yes" } else { "no" });
    for (place, finalist) in answer.finalists.iter().enumerate() {
        let name = named(answer, &answer.settings[finalist.setting]);
        let targets = finalist.targets.iter().zip(&finalist.bounds);
        let targets = targets.flat_map(|(s, bound)| [s.mean().into(), Cell::Number(*bound)]);
        let interval = finalist.against_written;
        table.row(
            [Cell::Text(&name), finalist.judged.mean().into()]
                .into_iter()
                .chain(targets)
                .chain([
                    yes(finalist.meets),
                    finalist.saves.into(),
                    interval.map(|i| i.low).into(),
                    interval.map(|i| i.high).into(),
                    yes(answer.chosen == Some(place)),
                ]),
        );
    }
    table.finish()
}

/// How many settings a screen has room for.
const SCREEN: usize = 16;

/// The answer for a terminal: decision, final, surface, notes.
pub fn terminal(answer: &Tuned, width: u16) -> String {
    let mut text = String::new();
    let bold = anstyle::Style::new().bold();
    let _ = writeln!(text, "{}\n", one_line(&answer.scenario));
    for line in wrap("", &one_line(&decision(answer)), usize::from(width)) {
        let _ = writeln!(text, "{bold}{line}{bold:#}");
    }
    let figures: Vec<String> = std::iter::once(&answer.judge)
        .chain(&answer.targets)
        .map(|column| column.label.clone())
        .collect();
    let cell = |place: usize, summary: &Summary| {
        let column = if place == 0 {
            &answer.judge
        } else {
            &answer.targets[place - 1]
        };
        summary
            .mean()
            .map_or("–".into(), |mean| shown(column, mean, decimals(column)))
    };
    if !answer.finalists.is_empty() {
        let asked = !answer.targets.is_empty();
        let mut table = heading("final", &figures, asked.then_some("meets the targets"));
        for (place, finalist) in answer.finalists.iter().enumerate() {
            let mark = if answer.chosen == Some(place) {
                "→ "
            } else {
                "  "
            };
            let name = format!(
                "{mark}{}",
                named(answer, &answer.settings[finalist.setting])
            );
            let all = std::iter::once(&finalist.judged).chain(&finalist.targets);
            let meets = if finalist.meets { "yes" } else { "not shown" };
            table.row(
                std::iter::once(name)
                    .chain(all.enumerate().map(|(n, s)| cell(n, s)))
                    .chain(asked.then(|| meets.to_owned())),
            );
        }
        let _ = write!(text, "\n{}", table.render(width));
    }
    let mut table = heading("search", &figures, None);
    for setting in answer.settings.iter().take(SCREEN) {
        let all = std::iter::once(&setting.judged).chain(&setting.targets);
        let cells = all.enumerate().map(|(n, s)| cell(n, s));
        table.row(std::iter::once(named(answer, setting)).chain(cells));
    }
    let _ = write!(text, "\n{}", table.render(width));
    if answer.settings.len() > SCREEN {
        let more = answer.settings.len() - SCREEN;
        let _ = writeln!(text, "… and {more} more in surface.csv");
    }
    text.push('\n');
    for note in notes(answer) {
        for line in wrap("", &one_line(&note), usize::from(width)) {
            let _ = writeln!(text, "{line}");
        }
    }
    text
}

fn heading(first: &str, figures: &[String], last: Option<&str>) -> Table {
    let mut columns = vec![(first, Align::Left)];
    columns.extend(figures.iter().map(|name| (name.as_str(), Align::Right)));
    columns.extend(last.map(|last| (last, Align::Right)));
    Table::new(&columns)
}
