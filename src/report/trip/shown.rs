//! What is shown of an answer: one screen, a page, files.

use super::words;
use crate::report::compare::page::{assumed, limits};
use crate::report::document::{document, unbroken};
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::scenario::Scenario;
use crate::studies::TripQuestion;
use maud::{PreEscaped, html};
use serde_json::Value;
use std::fmt::Write;

/// What was asked, for whatever is said about it.
#[derive(Clone, Debug)]
pub struct Asked<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The moment.
    pub question: &'a TripQuestion,
    /// The command that gives the answer again.
    pub recipe: String,
}

/// A value and the ends of its bar.
pub(super) type Bar = (f64, f64, f64);

/// A chart: name of its file, heading, SVG.
pub(super) type Chart = (&'static str, &'static str, String);

/// What is shown of an answer.
#[derive(Clone, Debug)]
pub struct Shown {
    /// The decision, first of all.
    pub decision: String,
    /// What else is worth a sentence on the screen.
    pub sentences: Vec<String>,
    pub(super) headings: Vec<&'static str>,
    pub(super) rows: Vec<Vec<String>>,
    /// What the numbers mean, for the page.
    pub(super) notes: Vec<String>,
    pub(super) charts: Vec<Chart>,
    pub(super) csv: Vec<u8>,
    /// The answer as one JSON object.
    pub json: Value,
}

impl Shown {
    /// The answer for a terminal of this width. To be printed through `anstream`.
    pub fn terminal(&self, asked: &Asked<'_>, width: u16) -> String {
        let mut text = String::new();
        let bold = anstyle::Style::new().bold();
        let _ = writeln!(text, "{}\n", one_line(&words::moment(asked)));
        for line in wrap("", &one_line(&self.decision), usize::from(width)) {
            let _ = writeln!(text, "{bold}{line}{bold:#}");
        }
        text.push('\n');
        let columns: Vec<(&str, Align)> = self
            .headings
            .iter()
            .enumerate()
            .map(|(at, heading)| (*heading, if at == 0 { Align::Left } else { Align::Right }))
            .collect();
        let mut table = Table::new(&columns);
        for row in &self.rows {
            table.row(row);
        }
        text.push_str(&table.render(width));
        text.push('\n');
        for sentence in &self.sentences {
            for line in wrap("", &one_line(sentence), usize::from(width)) {
                let _ = writeln!(text, "{line}");
            }
        }
        text
    }

    /// Every file of the answer, by name.
    pub fn files(&self, asked: &Asked<'_>) -> Vec<(String, Vec<u8>)> {
        let mut all = vec![
            ("trip.csv".to_owned(), self.csv.clone()),
            (
                "trip.json".to_owned(),
                format!("{:#}\n", self.json).into_bytes(),
            ),
            ("report.html".to_owned(), self.page(asked).into_bytes()),
        ];
        for (name, _, svg) in &self.charts {
            #[cfg(feature = "png")]
            all.push((
                format!("{name}.png"),
                crate::report::chart::png(svg, 2.0).expect("a chart of our own is valid SVG"),
            ));
            all.push((format!("{name}.svg"), svg.clone().into_bytes()));
        }
        all
    }

    fn page(&self, asked: &Asked<'_>) -> String {
        let scenario = asked.scenario;
        let body = html! {
            h1 { (scenario.name) }
            p.about { (words::moment(asked)) }
            div.decision {
                p { (unbroken(&self.decision)) }
                @for sentence in &self.sentences { p { (unbroken(sentence)) } }
            }
            @for (_, heading, svg) in &self.charts {
                section {
                    h2 { (heading) }
                    figure { (PreEscaped(svg)) }
                }
            }
            h2 { "The numbers" }
            div.wide {
                table {
                    thead { tr { @for heading in &self.headings { th { (heading) } } } }
                    tbody { @for row in &self.rows { tr { @for cell in row { td { (cell) } } } } }
                }
            }
            ul {
                @for note in &self.notes { li { (note) } }
                @for note in words::NOTES { li { (note) } }
            }
            (assumed(scenario))
            (limits(scenario))
            h2 { "How to get this answer again" }
            p { "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (scenario.name) "\":" }
            p { code { (asked.recipe) } }
            p.note { "The number of threads changes nothing. Every number of this page is in trip.csv and trip.json." }
        };
        document(&format!("{}: {}", self.decision, scenario.name), &body)
    }
}
