//! What the program understood of a scenario, in plain words, so that its writer can see whether that is what was meant.

mod concrete;
mod doubts;
mod fleet;
mod orders;
mod places;
mod rules;
mod setting;
pub(in crate::report) mod words;

use crate::plant::Plan;
use crate::report::answer::{Answer, Block, Section, Table};
use crate::scenario::Scenario;
use crate::units::measure;

/// What is legal but doubtful.
pub(super) const DOUBTFUL: &str = "Legal but doubtful";

/// What the program understood, and what is legal but doubtful.
pub fn answer(scenario: &Scenario) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let plan = Plan::new(scenario);
    let doubts = doubts::of(scenario, &plan);
    let recipe = "plantday check SCENARIO --summary";
    let mut page = Page {
        answer: Answer::new("check", scenario, decision(doubts.len()), recipe),
    };
    // Said in full below.
    page.answer.doubts.clear();
    page.answer.about = "What the program understood of the scenario".into();
    if !scenario.about.is_empty() {
        page.answer.headline.push(scenario.about.clone());
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
    page.heading(DOUBTFUL);
    if doubts.is_empty() {
        page.line("nothing found");
    } else {
        page.list(doubts.clone());
    }
    page.answer.own("doubts", doubts);
    page.answer
}

/// What a scenario may lawfully say and its writer may not have meant.
pub(super) fn doubts(scenario: &Scenario) -> Vec<String> {
    doubts::of(scenario, &Plan::new(scenario))
}

fn decision(doubts: usize) -> String {
    match doubts {
        0 => "Nothing in it is doubtful.".into(),
        1 => "One thing in it is legal but doubtful: see the end.".into(),
        many => format!("{many} things in it are legal but doubtful: see the end."),
    }
}

/// The summary under construction: the same on screen and page.
struct Page {
    answer: Answer,
}

impl Page {
    fn heading(&mut self, heading: &str) {
        self.answer.screen.push(Block::Heading(heading.into()));
        self.answer.sections.push(Section::new(heading, Vec::new()));
    }

    /// One statement.
    fn line(&mut self, statement: &str) {
        self.block(Block::Text(statement.to_owned()));
    }

    fn list(&mut self, items: Vec<String>) {
        self.block(Block::List(items));
    }

    fn table(&mut self, table: Table) {
        self.block(Block::Table(table.name));
        self.answer.tables.push(table);
    }

    fn block(&mut self, block: Block) {
        self.answer.screen.push(block.clone());
        if let Some(section) = self.answer.sections.last_mut() {
            section.blocks.push(block);
        }
    }
}
