//! Part-time tours: how many drivers, how long, and in which hours.

use crate::dispatch::{HALF_HOUR, HALF_HOURS};
use crate::plant::Plan;
use crate::scenario::edit::roster;
use crate::scenario::{Needed, Scenario};
use crate::units::{Millis, Weekday};

/// Drivers who work short tours in the busiest hours.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PartTime {
    /// How many of the regular drivers.
    pub drivers: u32,
    /// How long their tours are; zero where there are none.
    pub shift: Millis,
}

impl PartTime {
    /// The scenario with these tours: who works one is ready, the checks of the truck done, when the busiest hours of the book on the
    /// driver's weekdays begin.
    pub(super) fn on(self, scenario: Scenario) -> Scenario {
        if self.drivers == 0 {
            return scenario;
        }
        let plan = Plan::new(&scenario);
        let needed = Needed::of(&scenario, plan.roads());
        let ready = Millis::from_minutes(scenario.yard.pre_trip.mean());
        let report = |days: &[Weekday]| {
            let begins = busiest(|half_hour| trucks(&needed, days, half_hour), self.shift);
            (begins - ready).max(Millis::ZERO)
        };
        roster::with_part_time(&scenario, (self.drivers, self.shift), report)
    }
}

fn trucks(needed: &Needed, days: &[Weekday], half_hour: usize) -> f64 {
    let of_day = days.iter().map(|day| needed.trucks(*day, half_hour));
    of_day.sum()
}

/// When the hours of this length begin in which the most trucks are needed, the first of equals, by the half hour.
fn busiest(trucks: impl Fn(usize) -> f64, length: Millis) -> Millis {
    let hours = (length.0 + HALF_HOUR.0 - 1) / HALF_HOUR.0;
    let hours = (hours.max(1) as usize).min(HALF_HOURS);
    let within = |start: usize| (start..start + hours).map(&trucks).sum::<f64>();
    let mut best = 0;
    for start in 1..=HALF_HOURS - hours {
        if within(start) > within(best) + 1e-9 {
            best = start;
        }
    }
    HALF_HOUR * best as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: two trucks from 07:00 to 09:00, three from 08:30 to 10:30. Two hours need the most from 08:30 on (5 + 3 + 3 + 3 half
    /// hours of a truck, from 08:00 on 2 + 5 + 3 + 3), half an hour at 08:30; ten hours hold all of it from 00:30 on.
    #[test]
    fn the_busiest_hours_are_those_of_the_most_trucks() {
        let trucks = |half_hour: usize| match half_hour {
            14..=16 => 2.0,
            17 => 5.0,
            18..=20 => 3.0,
            _ => 0.0,
        };
        let at = |hours: f64| busiest(trucks, Millis::from_hours(hours)).hours();
        assert_eq!(at(2.0), 8.5);
        assert_eq!(at(0.5), 8.5);
        assert_eq!(at(0.4), 8.5, "a part of a half hour counts as one");
        assert_eq!(at(10.0), 0.5);
    }
}
