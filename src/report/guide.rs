//! The guide: what stands behind `plantday help TOPIC`, one file of plain marked-up text for each topic.

use super::table::{Align, Table};
use super::wrap::wrap;
use anstyle::Style;
use std::fmt::Write;

/// One topic of the guide.
#[derive(Clone, Copy, Debug)]
pub struct Topic {
    /// Its name on the command line.
    pub name: &'static str,
    /// What it tells, in a few words.
    pub about: &'static str,
    text: &'static str,
}

/// All topics, in the order in which a newcomer reads them.
pub const TOPICS: [Topic; 12] = [
    Topic {
        name: "reading",
        about: "reading the answer: words, intervals, tomorrow's board, files, exit codes",
        text: include_str!("guide/reading.md"),
    },
    Topic {
        name: "scenarios",
        about: "the worked scenarios: a question each, its command, what one sees",
        text: include_str!("guide/scenarios.md"),
    },
    Topic {
        name: "simulated",
        about: "what is simulated, and what is not",
        text: include_str!("guide/simulated.md"),
    },
    Topic {
        name: "rules",
        about: "writing rules: every decision and its choices; one: help rules DECISION",
        text: include_str!("guide/rules.md"),
    },
    Topic {
        name: "tables",
        about: "scenarios from spreadsheets: yours, lists in tables, whole workbooks",
        text: include_str!("guide/tables.md"),
    },
    Topic {
        name: "units",
        about: "scenarios in SI: m³, km, kg, mm, °C, and another currency",
        text: include_str!("guide/units.md"),
    },
    Topic {
        name: "tickets",
        about: "spreads from past tickets, and whether a scenario is believable",
        text: include_str!("guide/tickets.md"),
    },
    Topic {
        name: "hours",
        about: "drivers' hours in scenarios and duty logs",
        text: include_str!("guide/hours.md"),
    },
    Topic {
        name: "state",
        about: "how things stand now: the file that trip reads, keeping it by calls, what is left out",
        text: include_str!("guide/state.md"),
    },
    Topic {
        name: "concrete",
        about: "the concrete in the drum, and what slump practice is worth",
        text: include_str!("guide/concrete.md"),
    },
    Topic {
        name: "parts",
        about: "runs that go on after they were broken off, and runs in parts on many machines",
        text: include_str!("guide/parts.md"),
    },
    Topic {
        name: "limits",
        about: "how large files, scenarios and runs may be; what is written when a run is broken off",
        text: include_str!("guide/limits.md"),
    },
];

impl Topic {
    /// The topic laid out for a terminal of this width. To be printed through `anstream`.
    pub fn terminal(&self, width: u16) -> String {
        let bold = Style::new().bold();
        let mut text = String::new();
        let mut rows: Vec<Vec<&str>> = Vec::new();
        for line in self.text.lines() {
            if let Some(row) = line.strip_prefix('|') {
                let cells: Vec<&str> = row.trim_end_matches('|').split('|').collect();
                rows.push(cells.iter().map(|cell| cell.trim()).collect());
                continue;
            }
            text.push_str(&table(&std::mem::take(&mut rows), width));
            if let Some(heading) = line.strip_prefix("# ") {
                let _ = writeln!(text, "{bold}{heading}{bold:#}");
            } else if line.starts_with("    ") {
                let _ = writeln!(text, "{line}");
            } else {
                let (mark, line) = line
                    .strip_prefix("- ")
                    .map_or(("", line), |line| ("- ", line));
                // A bullet's later lines stand under its first; a paragraph's at the edge.
                for (nth, part) in wrap(mark, line, usize::from(width)).iter().enumerate() {
                    let part = if nth > 0 && mark.is_empty() {
                        part.trim_start()
                    } else {
                        part
                    };
                    let _ = writeln!(text, "{part}");
                }
            }
        }
        text.push_str(&table(&rows, width));
        text
    }
}

/// A table of marked-up text: a heading, a line of dashes, rows.
fn table(rows: &[Vec<&str>], width: u16) -> String {
    let Some((heading, rows)) = rows.split_first() else {
        return String::new();
    };
    let columns: Vec<(&str, Align)> = heading
        .iter()
        .enumerate()
        .map(|(at, name)| (*name, if at == 0 { Align::Left } else { Align::Right }))
        .collect();
    let mut table = Table::new(&columns);
    for row in rows.iter().skip(1) {
        table.row(row);
    }
    table.render(width)
}
