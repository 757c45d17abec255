//! Helpers made ready: when they are on call, and their clocks.

use super::driver::clocks;
use crate::hours::{Clocks, RuleBook};
use crate::scenario::{Helper, Licence, Scenario};
use crate::units::{Millis, PlaceId};

/// A helper made ready.
#[derive(Clone, Debug)]
pub(in crate::plant) struct HelperPlan {
    pub(in crate::plant) place: PlaceId,
    /// On call over the period.
    pub(in crate::plant) on_call: Vec<(Millis, Millis)>,
    pub(in crate::plant) rule_book: RuleBook,
    pub(in crate::plant) clocks: Clocks,
    pub(in crate::plant) licence: Option<Licence>,
}

pub(super) fn helpers(scenario: &Scenario) -> Vec<HelperPlan> {
    // A driver stranded on the last day is fetched the day after.
    let days = 0..=i64::from(scenario.period.days);
    let on_call = |helper: &Helper| {
        days.clone()
            .filter(|day| helper.days.contains(&scenario.period.first_day.after(*day)))
            .map(|day| {
                (
                    Millis::midnight(day) + helper.from,
                    Millis::midnight(day) + helper.to,
                )
            })
            .collect()
    };
    scenario
        .helpers
        .iter()
        .map(|helper| HelperPlan {
            place: scenario.plant_place(helper.at),
            on_call: on_call(helper),
            rule_book: helper.rule_book,
            clocks: clocks(scenario, helper.rule_book, &helper.history),
            licence: helper.licence.clone(),
        })
        .collect()
}
