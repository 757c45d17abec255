//! Drivers of whom a file says nothing: at work as the roster plans it, with the hours that the careful side takes.

use super::{DayState, Doing, DriverState, OrderState, Unsaid, carried};
use crate::hours::RuleSet;
use crate::scenario::{History, Scenario};
use crate::units::{DriverId, Millis, OrderId, Volume};

/// Tours in the days before of a driver of whom nothing is known: a working week. Common practice, no source.
const TOURS_BEFORE: i64 = 5;

/// The most that somebody can have driven lawfully who has been on duty for so long.
pub(super) fn most_driven(rules: Option<&RuleSet>, on_duty: Millis) -> Millis {
    let limit = rules.and_then(|rules| rules.driving.as_ref());
    limit.map_or(on_duty, |limit| on_duty.min(limit.length))
}

impl DayState {
    /// The same for the moment as it is by now.
    pub(super) fn follow_anew(&mut self, scenario: &Scenario) {
        let followers: Vec<DriverId> = self
            .unsaid
            .iter()
            .filter(|(_, what)| *what == Unsaid::Anything)
            .map(|(driver, _)| *driver)
            .collect();
        self.drivers.retain(|of| !followers.contains(&of.driver));
        self.unsaid.retain(|(_, what)| *what != Unsaid::Anything);
        self.follow_the_roster(scenario);
    }

    /// Adds who is planned to be at work now and is not named: free at the home plant, driving since the report, the truck being
    /// nobody else's.
    pub(super) fn follow_the_roster(&mut self, scenario: &Scenario) {
        for (at, driver) in scenario.drivers.iter().enumerate() {
            let id = DriverId::new(at);
            let named = |state: &DriverState| {
                state.driver == id || state.truck == driver.truck && state.doing != Doing::Off
            };
            if self.drivers.iter().any(named) {
                continue;
            }
            let reports = driver.reports(&scenario.period);
            let on_shift =
                |report: &&Millis| **report <= self.at && self.at < **report + driver.shift;
            let Some(reported) = reports.iter().rfind(on_shift).copied() else {
                continue;
            };
            let rules = driver.rule_book.of(&scenario.rule_sets);
            let known = driver.history != History::default() || rules.is_none();
            let home = scenario.trucks[driver.truck.at()].home;
            self.drivers.push(DriverState {
                driver: id,
                truck: driver.truck,
                doing: Doing::Free(home),
                since: self.at,
                until: None,
                next: None,
                reported,
                driven: most_driven(rules, self.at - reported),
                since_break: None,
                break_over: None,
                week: (!known).then(|| driver.shift * TOURS_BEFORE),
            });
            self.unsaid.push((id, Unsaid::Anything));
        }
    }
}

/// An order as its plan has it by then: what is due, and at least what is on trucks, has been sent, and is placed but for that. None
/// where it has not begun.
pub(super) fn as_planned(
    scenario: &Scenario,
    id: OrderId,
    at: Millis,
    drivers: &[DriverState],
) -> Option<OrderState> {
    let order = &scenario.orders[id.at()];
    let loads = drivers.iter().filter_map(|of| carried(&of.doing));
    let (loads, on_trucks) = loads
        .filter(|load| load.order == id)
        .fold((0, Volume::ZERO), |(loads, volume), load| {
            (loads + 1, volume + load.volume)
        });
    let due = match at >= order.first && order.slot.is_none() {
        true => (at - order.first).0 / order.spacing.0.max(1) + 1,
        false => 0,
    };
    let all = order.volume.loads_of(order.load.max(Volume(1)));
    let loads = due.min(all).max(loads);
    let sent = Volume(order.load.0 * loads)
        .min(order.volume)
        .max(on_trucks);
    (loads > 0).then_some(OrderState {
        order: id,
        ordered: None,
        later: Millis::ZERO,
        sent,
        placed: sent - on_trucks,
        loads: loads as u32,
        cancelled: false,
    })
}
