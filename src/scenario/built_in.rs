//! The scenario that runs where none is named.

use super::{Origin, Scenario, parse};

/// The built-in week on the estuary.
pub fn built_in_week() -> Scenario {
    let text = include_str!("../../scenarios/estuary_week.ron");
    match parse("the built-in scenario", text) {
        Ok(scenario) => Scenario {
            origin: Origin {
                file: None,
                ..scenario.origin
            },
            ..scenario
        },
        Err(faults) => unreachable!("tests read it: {faults}"),
    }
}
