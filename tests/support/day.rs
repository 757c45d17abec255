//! One replication of a scenario as a table on paper.

use plantday::engine::Luck;
use plantday::observe::{Figures, Log};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::{self, Scenario};
use plantday::units::Millis;

/// The scenario of a text that must be right.
pub(crate) fn scenario(text: &str) -> Scenario {
    match scenario::parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

/// One line for each load, in the order of leaving the site: order and load, truck, in the bay, loaded, leaves the rack, on
/// site, minutes late, discharge begins, empty, leaves the site.
pub(crate) fn loads(text: &str) -> String {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut table = Loads {
        scenario: &scenario,
        rows: vec![Vec::new(); scenario.trucks.len()],
        text: String::new(),
    };
    World::new(&plan).run(0, Luck::new(1, 0), &mut table);
    table.text
}

/// The log of a day, only lines that hold one of the words.
pub(crate) fn lines(text: &str, words: &[&str]) -> String {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut log = Log::with_desk(&scenario);
    World::new(&plan).run(0, Luck::new(1, 0), &mut log);
    log.text()
        .lines()
        .filter(|line| words.iter().any(|word| line.contains(word)))
        .map(|line| format!("{line}\n"))
        .collect()
}

struct Loads<'s> {
    scenario: &'s Scenario,
    rows: Vec<Vec<String>>,
    text: String,
}

impl Observer for Loads<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Promised {
                truck,
                order,
                number,
                ..
            } => {
                let load = format!("{} {}", self.scenario.order_name(order), number + 1);
                self.rows[truck.at()] = vec![load, self.scenario.trucks[truck.at()].name.clone()];
            }
            Event::BayEntered { truck, .. }
            | Event::BayLeft { truck, .. }
            | Event::RackLeft { truck, .. }
            | Event::DischargeBegun { truck, .. }
            | Event::DischargeEnded { truck, .. } => self.rows[truck.at()].push(at.to_string()),
            Event::SiteReached { truck, ready, .. } => {
                let late = (at - ready).max(Millis::ZERO).minutes();
                self.rows[truck.at()].extend([at.to_string(), format!("{late:+}")]);
            }
            Event::SiteLeft { truck, .. } => {
                let row = std::mem::take(&mut self.rows[truck.at()]).join(" ");
                self.text += &format!("{row} {at}\n");
            }
            _ => {}
        }
    }
}

/// Figures of the day, by their positions.
pub(crate) fn figures(text: &str, places: &[usize]) -> Vec<f32> {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    figures.begin();
    World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
    let mut row = vec![0.0; figures.width()];
    figures.row(&mut row);
    places.iter().map(|place| row[*place]).collect()
}

/// What is wrong with a text.
#[allow(dead_code, reason = "not every test file has wrong texts")]
pub(crate) fn scenario_problems(text: &str) -> String {
    match scenario::parse("test", text) {
        Ok(_) => panic!("nothing is wrong"),
        Err(faults) => faults.to_string(),
    }
}
