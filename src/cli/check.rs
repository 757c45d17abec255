//! `plantday check`.

use super::FINE;
use super::input::{Error, scenario};
use super::output::{print, print_answer};
use crate::report::{summary, table};
use std::path::PathBuf;

/// Check a scenario file and list every problem in it
#[derive(Debug, clap::Args)]
pub(super) struct Check {
    /// Scenario file; left out: the built-in week
    file: Option<PathBuf>,
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
        if self.summary {
            let width = table::terminal_width();
            print(&format!("\n{}", summary::answer(&scenario).terminal(width)))?;
        }
        Ok(FINE)
    }
}
