//! An answer as plain data, made once per study, and one writer each for screen, page, CSV, JSON and workbook.
//!
//! A study's file under `report` holds one function from its result to an [`Answer`]; it formats no HTML, no CSV and no terminal
//! lines. To fill:
//!
//! - `decision`: the sentence that comes first everywhere. [`say`](Answer::say) adds sentences for screen and page;
//!   `lead` holds those that only the page has beneath its decision.
//! - `tables`: every number once. A [`Column`] has a heading for people, keys for files, and says whether screen and page show it;
//!   a [`Cell`] is text, a number with unit and decimals, an estimate with its interval, or a number told in words. A table with a
//!   key is written as `NAME.csv` and stands in the JSON under `tables`; one without keys is only looked at.
//! - `charts`: SVG with its finding in one sentence and the name of the table that holds every number it shows.
//! - `bars`: rows of a table that a workbook draws; charts whose table is a list of names and numbers it draws by itself.
//! - `screen`: blocks in order, below the decision. `sections`: the same for the page, each with a heading.
//! - `notes`: how to read it. Assumptions, what is not modeled, and cautions come from the scenario by themselves.
//! - `own`: what the study's JSON has beside what all have, and the keys that programs know.
//! - `beside`: other files, byte for byte.
//!
//! ```ignore
//! let mut answer = Answer::new("pour", scenario, decision(found), recipe);
//! answer.about = "How many trucks it takes".into();
//! let mut sizes = Table::new("sizes", vec![
//!     Column::new("trucks").left().key("trucks"),
//!     Column::new("chance of a gap").with_ends("gap_chance"),     // gap_chance, gap_chance_low, gap_chance_high
//!     Column::new("cost per yd³").brief("per yd³").without_interval().with_ends("cost_per_yd3"),
//!     Column::file("replications"),
//! ]);
//! for size in &found.sizes {
//!     sizes.row([
//!         Cell::count(size.trucks.into()),
//!         Cell::chance(&size.gap, 1),
//!         Cell::estimate(&size.cost_per_yd3, Unit::Money, 2),
//!         (size.replications as f64).into(),
//!     ]).marked(size.chosen).screen(size.is_final);
//! }
//! answer.add_chart("curve", "Trucks and gaps", finding, svg, "sizes");   // a section of its own
//! answer.show("Fleet sizes", sizes);                                     // on the screen, and a section of the page
//! answer.say(sureness(found));
//! answer.own("target", found.target);
//! ```

mod content;
pub(super) mod csv;
mod json;
pub(super) mod page;
mod table;
mod terminal;
#[cfg(test)]
mod tests;
mod written;
mod xlsx;

pub use content::Content;
pub use table::{Cell, Column, Form, Narrow, Part, Row, Table};
pub use written::File;

use super::assumptions::{self, Assumption};
use super::{shell, summary};
use crate::scenario::{Origin, Scenario};
use crate::units::measure::{self, Measures};
use serde_json::{Map, Value};

/// An answer, ready to be written.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The study's name, that of its JSON file.
    pub study: &'static str,
    /// The scenario's name, over the page.
    pub title: String,
    /// Title of the page's window.
    pub page_title: String,
    /// What was asked, below the title of the page.
    pub about: String,
    /// The first lines of the screen.
    pub headline: Vec<String>,
    /// The page's file. A study may bring a page of its own by this name among the files beside.
    pub page: &'static str,
    /// The decision, first of all.
    pub decision: String,
    /// Sentences below the page's decision.
    pub lead: Vec<String>,
    /// The screen below the decision.
    pub screen: Vec<Block>,
    /// The page below the decision.
    pub sections: Vec<Section>,
    /// Every table.
    pub tables: Vec<Table>,
    /// Every chart.
    pub charts: Vec<Chart>,
    /// Rows of tables that a workbook draws.
    pub bars: Vec<Bars>,
    /// How to read it.
    pub notes: Vec<String>,
    /// What was assumed, with sources.
    pub assumptions: Vec<Assumption>,
    /// What is legal in the scenario and its writer may not have meant.
    pub doubts: Vec<String>,
    /// The command that lists them.
    pub doubts_by: String,
    /// What a reader might take for granted and is not there.
    pub not_modeled: Vec<String>,
    /// Where the work can hurt someone.
    pub cautions: Vec<String>,
    /// In what its numbers are.
    pub measures: Measures,
    /// What the scenario was read from, if the answer is about one.
    pub origin: Option<Origin>,
    /// The command that gives the answer again.
    pub recipe: String,
    /// Other files, by name.
    pub beside: Vec<(String, Content)>,
    /// What the JSON has of this study alone.
    pub own: Map<String, Value>,
}

/// A part of a screen or a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// A heading within it.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// What is said about a table or chart right above.
    Note(String),
    /// Items.
    List(Vec<String>),
    /// A table, by its name.
    Table(&'static str),
    /// A chart, by its name; a screen has none.
    Chart(&'static str),
    /// A command.
    Code(String),
    /// Text to copy, line by line as it stands.
    Lines(Vec<String>),
    /// A file beside the page; a screen has none.
    Link {
        /// What is clicked.
        words: String,
        /// The file.
        file: String,
        /// What is said after it.
        after: String,
    },
}

/// A section of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its heading; empty: it goes on with the one before.
    pub heading: String,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

impl Section {
    /// A section.
    pub fn new(heading: impl Into<String>, blocks: Vec<Block>) -> Self {
        Self {
            heading: heading.into(),
            blocks,
        }
    }
}

/// A chart.
#[derive(Clone, Debug)]
pub struct Chart {
    /// Name of its files, without ending.
    pub name: &'static str,
    /// What it shows.
    pub heading: String,
    /// What is seen in it, in one sentence.
    pub finding: String,
    /// The chart.
    pub svg: String,
    /// The table that holds every number it shows.
    pub table: &'static str,
}

/// A row of a table whose numbers a workbook draws by the headings of their columns.
#[derive(Clone, Debug)]
pub struct Bars {
    /// What it shows.
    pub heading: String,
    /// The table.
    pub table: &'static str,
    /// The place of the row in the table.
    pub row: usize,
}

impl Answer {
    /// An answer about a scenario, with the scenario's assumptions, limits and cautions.
    pub fn new(
        study: &'static str,
        scenario: &Scenario,
        decision: impl Into<String>,
        recipe: impl Into<String>,
    ) -> Self {
        let owned = |lines: Vec<&str>| {
            let lines = lines.into_iter();
            lines.map(|line| measure::said(line).into_owned()).collect()
        };
        Self {
            assumptions: assumptions::of(scenario),
            doubts: summary::doubts(scenario),
            doubts_by: format!("{} --summary", shell::command("check", scenario)),
            not_modeled: owned(assumptions::not_modeled(scenario)),
            cautions: owned(assumptions::cautions(scenario)),
            measures: scenario.measures,
            origin: Some(scenario.origin.clone()),
            ..Self::bare(study, &scenario.name, decision, recipe)
        }
    }

    /// An answer about something else, without assumptions and cautions.
    pub fn bare(
        study: &'static str,
        title: &str,
        decision: impl Into<String>,
        recipe: impl Into<String>,
    ) -> Self {
        let decision = decision.into();
        Self {
            study,
            title: title.to_owned(),
            page_title: format!("{decision} {title}").trim().to_owned(),
            about: String::new(),
            headline: vec![title.to_owned()],
            page: "report.html",
            decision,
            lead: Vec::new(),
            screen: Vec::new(),
            sections: Vec::new(),
            tables: Vec::new(),
            charts: Vec::new(),
            bars: Vec::new(),
            notes: Vec::new(),
            assumptions: Vec::new(),
            doubts: Vec::new(),
            doubts_by: String::new(),
            not_modeled: Vec::new(),
            cautions: Vec::new(),
            measures: measure::here(),
            origin: None,
            recipe: recipe.into(),
            beside: Vec::new(),
            own: Map::new(),
        }
    }

    /// A sentence on the screen and below the page's decision.
    pub fn say(&mut self, sentence: impl Into<String>) {
        let sentence = sentence.into();
        self.screen.push(Block::Text(sentence.clone()));
        self.lead.push(sentence);
    }

    /// A sentence below the page's decision alone.
    pub fn say_on_page(&mut self, sentence: impl Into<String>) {
        self.lead.push(sentence.into());
    }

    /// A sentence on the screen alone.
    pub fn say_on_screen(&mut self, sentence: impl Into<String>) {
        self.screen.push(Block::Text(sentence.into()));
    }

    /// A section of the page.
    pub fn section(&mut self, heading: impl Into<String>, blocks: Vec<Block>) {
        self.sections.push(Section::new(heading, blocks));
    }

    /// A table, on the screen and as a section of the page.
    pub fn show(&mut self, heading: impl Into<String>, table: Table) {
        self.screen.push(Block::Table(table.name));
        self.section(heading, vec![Block::Table(table.name)]);
        self.tables.push(table);
    }

    /// A chart, as a section of the page; `table` names the one that holds its numbers.
    pub fn add_chart(
        &mut self,
        name: &'static str,
        heading: impl Into<String>,
        finding: impl Into<String>,
        svg: String,
        table: &'static str,
    ) {
        let heading = heading.into();
        self.section(heading.clone(), vec![Block::Chart(name)]);
        self.charts.push(Chart {
            name,
            heading,
            finding: finding.into(),
            svg,
            table,
        });
    }

    /// A key of the study's own part of the JSON.
    pub fn own(&mut self, key: &str, value: impl Into<Value>) {
        self.own.insert(key.to_owned(), value.into());
    }

    /// Keys of the study's own part of the JSON, from an object.
    pub fn own_all(&mut self, object: Value) {
        if let Value::Object(map) = object {
            self.own.extend(map);
        }
    }

    /// A table by its name.
    ///
    /// # Panics
    /// If there is none.
    pub fn table(&self, name: &str) -> &Table {
        let found = self.tables.iter().find(|table| table.name == name);
        found.unwrap_or_else(|| panic!("no table {name} in the answer of {}", self.study))
    }

    /// A chart by its name.
    ///
    /// # Panics
    /// If there is none.
    pub fn chart(&self, name: &str) -> &Chart {
        let found = self.charts.iter().find(|chart| chart.name == name);
        found.unwrap_or_else(|| panic!("no chart {name} in the answer of {}", self.study))
    }

    /// Every sentence, those of the screen first, each once.
    pub fn sentences(&self) -> Vec<&str> {
        let on_screen = self.screen.iter().filter_map(|block| match block {
            Block::Text(text) => Some(text),
            _ => None,
        });
        let mut all: Vec<&str> = Vec::new();
        for sentence in on_screen.chain(&self.lead) {
            if !all.contains(&sentence.as_str()) {
                all.push(sentence);
            }
        }
        all
    }
}
