//! `plantday check`.

use super::FINE;
use super::input::{Error, scenario};
use super::output::{print, print_answer};
use super::room;
use crate::report::{summary, table};
use crate::scenario::day_state::{self, DayState, Doing, Unsaid};
use std::path::PathBuf;

/// Check a scenario file and list every problem in it
#[derive(Debug, clap::Args)]
pub(super) struct Check {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
    /// Check this file of how things stand against the scenario, too
    #[arg(long, value_name = "FILE")]
    state: Option<PathBuf>,
    /// Say in plain words what the program understood, and what is legal but doubtful
    #[arg(long)]
    summary: bool,
    /// Print the summary as JSON
    #[arg(long, requires = "summary")]
    json: bool,
}

impl Check {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let scenario = scenario(self.file.as_deref())?;
        let state = self
            .state
            .as_ref()
            .map(|path| day_state::read(path, &scenario))
            .transpose()?;
        let counted = |count: usize, one: &str, many: &str| match count {
            1 => format!("1 {one}"),
            _ => format!("{count} {many}"),
        };
        let written = scenario.orders.iter().filter(|order| order.slot.is_none());
        let written = written.count();
        let parts = [
            counted(scenario.period.days as usize, "day", "days"),
            counted(scenario.plants.len(), "plant", "plants"),
            counted(scenario.sites.len(), "site", "sites"),
            counted(scenario.trucks.len(), "truck", "trucks"),
            counted(scenario.drivers.len(), "driver", "drivers"),
            counted(
                written + scenario.drawn.len() + scenario.endless.len(),
                "order",
                "orders",
            ),
            counted(scenario.rules.len(), "rule", "rules"),
        ];
        if self.json {
            print_answer(
                true,
                || summary::answer(&scenario).json(),
                |_| String::new(),
            )?;
            return Ok(FINE);
        }
        let name = self
            .file
            .as_ref()
            .map_or("the built-in week".into(), |file| {
                file.display().to_string()
            });
        print(&format!("{}: fine: {}\n", name, parts.join(", ")))?;
        if let Some(word) = room::word(&scenario, 0) {
            print(&format!("{word}\n"))?;
        }
        if let (Some(state), Some(path)) = (&state, &self.state) {
            print(&format!("{}: fine: {}\n", path.display(), stands(state)))?;
        }
        if self.summary {
            let width = table::terminal_width();
            print(&format!("\n{}", summary::answer(&scenario).terminal(width)))?;
        }
        Ok(FINE)
    }
}

/// What a file of how things stand says, counted.
fn stands(state: &DayState) -> String {
    let follows = |driver| state.unsaid.contains(&(driver, Unsaid::Anything));
    let listed = |of: &&day_state::DriverState| !follows(of.driver);
    let at_work = state.drivers.iter().filter(listed);
    let at_work = at_work.filter(|driver| driver.doing != Doing::Off).count();
    let roster = state.drivers.iter().filter(|driver| follows(driver.driver));
    let without = |what| {
        let of = state.unsaid.iter().filter(|(_, unsaid)| *unsaid == what);
        of.count()
    };
    let down = match state.plants.len() {
        0 => String::new(),
        1 => ", 1 plant down".to_owned(),
        many => format!(", {many} plants down"),
    };
    format!(
        "{at_work} drivers at work, {} more by the roster, {} orders begun{down}; hours driven are left out of {}, breaks of {}, and \
         taken on the careful side",
        roster.count(),
        state.orders.iter().filter(|order| !order.cancelled).count(),
        without(Unsaid::Driven),
        without(Unsaid::Break)
    )
}
