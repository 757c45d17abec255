//! What the program understood of a scenario, in plain words, so that its writer can see whether that is what was meant.

mod concrete;
mod decisions;
mod doubts;
mod fleet;
mod orders;
mod places;
mod rules;
mod setting;
mod words;

use crate::plant::Plan;
use crate::report::plain_text::one_line;
use crate::report::wrap::wrap;
use crate::scenario::Scenario;
use std::fmt::Write;

/// The summary laid out for this many columns, headings in bold. To be printed through `anstream`.
pub fn text(scenario: &Scenario, width: u16) -> String {
    let plan = Plan::new(scenario);
    let mut page = Page::new(width);
    page.line(&scenario.name);
    if !scenario.about.is_empty() {
        page.line(&scenario.about);
    }
    page.heading("Days and hours");
    setting::days_and_hours(scenario, &mut page);
    page.heading("Rules");
    rules::rules(scenario, &mut page);
    page.heading("Plants");
    places::plants(scenario, &mut page);
    page.heading("Roads");
    places::roads(scenario, plan.roads(), &mut page);
    page.heading("Fleet");
    fleet::fleet(scenario, &mut page);
    page.heading("Orders");
    orders::orders(scenario, &mut page);
    concrete::concrete(scenario, &mut page);
    page.heading("Money");
    setting::money(scenario, &mut page);
    page.heading("Legal but doubtful");
    let doubts = doubts::of(scenario, &plan);
    if doubts.is_empty() {
        page.line("nothing found");
    }
    for doubt in doubts {
        page.item(&doubt);
    }
    page.text
}

/// The text under construction.
struct Page {
    text: String,
    width: u16,
}

impl Page {
    fn new(width: u16) -> Self {
        Self {
            text: String::new(),
            width,
        }
    }

    fn heading(&mut self, heading: &str) {
        let bold = anstyle::Style::new().bold();
        let _ = writeln!(self.text, "\n{bold}{heading}{bold:#}");
    }

    /// One statement; what does not fit on the line continues indented.
    fn line(&mut self, statement: &str) {
        self.wrapped("", statement);
    }

    /// One entry of a list.
    fn item(&mut self, statement: &str) {
        self.wrapped("- ", statement);
    }

    fn table(&mut self, table: &crate::report::table::Table) {
        self.text.push_str(&table.render(self.width));
    }

    fn wrapped(&mut self, mark: &str, statement: &str) {
        for line in wrap(mark, &one_line(statement), usize::from(self.width)) {
            let _ = writeln!(self.text, "{line}");
        }
    }
}
