//! Own drivers who work a short tour in the busiest hours.

use super::regulars;
use crate::scenario::Scenario;
use crate::units::{Millis, Weekday};

/// The scenario in which so many of the regular drivers work tours of this length from when `report` says for their weekdays. They lie
/// evenly along the list of those whose tour is longer and who share their truck with nobody.
pub fn with_part_time(
    scenario: &Scenario,
    (drivers, shift): (u32, Millis),
    report: impl Fn(&[Weekday]) -> Millis,
) -> Scenario {
    let mut edited = scenario.clone();
    if drivers == 0 {
        return edited;
    }
    let alone = |at: &usize| {
        let truck = scenario.drivers[*at].truck;
        let of_truck = scenario
            .drivers
            .iter()
            .filter(|driver| driver.truck == truck);
        of_truck.count() == 1 && scenario.drivers[*at].shift > shift
    };
    let able: Vec<usize> = regulars(scenario).into_iter().filter(alone).collect();
    let chosen = (drivers as usize).min(able.len());
    for nth in 0..chosen {
        let driver = &mut edited.drivers[able[(2 * nth + 1) * able.len() / (2 * chosen)]];
        driver.shift = shift;
        driver.report = report(&driver.days);
    }
    edited
}
