//! What a scenario must describe for a figure to have values.

use super::figure;
use crate::scenario::Scenario;

/// What a scenario lacks without which the figure at this position of [`columns`](super::columns) is blank in every replication;
/// none if nothing.
pub fn lacks(scenario: &Scenario, column: usize) -> Option<&'static str> {
    match column {
        figure::REVENUE | figure::MARGIN if scenario.money.revenue.is_none() => {
            Some("no prices for customers (`revenue` in `money`)")
        }
        figure::WET_AT_RACK..=figure::HEAVY if scenario.concrete.material.is_none() => {
            Some("no concrete described (`mixes` in `concrete`)")
        }
        _ => None,
    }
}
