//! Hour by hour what a pour needs and who is called for it: trucks that the plan needs, trucks and drivers at work in the runs.

use super::timetable::Timetable;
use crate::observe::{HOURS, PourSums};
use crate::scenario::Scenario;
use crate::scenario::edit::fleet::{SHIFTS, duties};
use crate::units::Millis;

/// One hour of a pour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PourHour {
    /// Its beginning, since midnight before the days simulated.
    pub from: Millis,
    /// Trucks that the plan needs at once at most: those under way if every load comes at the spacing that can be kept up, at the
    /// traffic that is usual then.
    pub needed: u32,
    /// The round trip of a load that begins in it, on average, as planned; none where none begins.
    pub round_trip: Option<Millis>,
    /// Largest number of trucks at work at once, on average.
    pub at_work: f64,
    /// What that number does not exceed in nine pours of ten.
    pub enough: usize,
    /// Drivers called in for the pour who are to report in it.
    pub called: u32,
    /// Drivers called in for the pour who are on duty at some time in it, on average: of the first shift on their truck, of later ones.
    pub on_duty: [f64; SHIFTS],
    /// Trucks that one driver hands over to the next in it, on average.
    pub handed_over: f64,
}

/// Drivers of one shift who are called in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DriverCall {
    /// How many.
    pub drivers: u32,
    /// When the first of them is to report, since midnight before the days simulated.
    pub first: Millis,
    /// When the last is.
    pub last: Millis,
    /// Whether they take trucks over from others.
    pub later: bool,
}

/// The hours from the first call or load until nobody is at work for the pour any more.
pub(super) fn hours(scenario: &Scenario, plan: &Timetable, sums: &PourSums) -> Vec<PourHour> {
    let calls = called(scenario);
    let hour = |hour: usize| {
        let from = Millis::HOUR * hour as i64;
        let to = from + Millis::HOUR;
        let within = |at: &&(Millis, usize)| from <= at.0 && at.0 < to;
        PourHour {
            from,
            needed: plan.most(from, to),
            round_trip: plan.round_trip(from, to),
            at_work: sums.mean_peak(hour),
            enough: sums.peak(hour, 0.9),
            called: calls.iter().filter(within).count() as u32,
            on_duty: sums.mean_on_duty(hour),
            handed_over: sums.mean_handed_over(hour),
        }
    };
    let matters = |hour: &PourHour| {
        let on_duty: f64 = hour.on_duty.iter().sum();
        hour.needed > 0 || hour.called > 0 || hour.at_work >= SELDOM || on_duty >= SELDOM
    };
    (0..HOURS).map(hour).filter(matters).collect()
}

/// Trucks or drivers in an hour, on average, below which the hour is not shown.
const SELDOM: f64 = 0.05;

/// Who is called in, the first shift first.
pub(super) fn calls(scenario: &Scenario) -> Vec<DriverCall> {
    let calls = called(scenario);
    let of_shift = |shift: usize| {
        let of = || {
            calls
                .iter()
                .filter(move |(_, of)| *of == shift)
                .map(|(at, _)| *at)
        };
        Some(DriverCall {
            drivers: of().count() as u32,
            first: of().min()?,
            last: of().max()?,
            later: shift > 0,
        })
    };
    let last = calls.iter().map(|(_, shift)| *shift).max();
    (0..=last.unwrap_or(0)).filter_map(of_shift).collect()
}

/// When each driver called in is to report, and how many have the truck before.
fn called(scenario: &Scenario) -> Vec<(Millis, usize)> {
    let drivers = scenario.drivers.iter().zip(duties(scenario));
    let called = drivers.filter_map(|(driver, duty)| {
        let at = driver.calls.as_ref()?.first()?;
        Some((*at, duty.called_in?))
    });
    called.collect()
}
