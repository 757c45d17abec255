//! The scenario that runs where none is named.

use super::{Scenario, parse};

/// The built-in week on the estuary.
pub fn built_in_week() -> Scenario {
    let text = include_str!("../../scenarios/estuary_week.ron");
    match parse("the built-in scenario", text) {
        Ok(scenario) => Scenario {
            built_in: true,
            ..scenario
        },
        Err(faults) => unreachable!("tests read it: {faults}"),
    }
}
