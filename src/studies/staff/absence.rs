//! Drivers who do not come: how many must be on the books, and what it costs.

use super::{StaffResult, Study};
use crate::scenario::edit::roster;
use crate::statistics::{Estimate, Paired, fewest_for};
use std::ops::Range;

/// On so many days enough drivers shall be there: 19 of 20.
pub const SURE: f64 = 0.95;

/// What absence does to the answer's staffing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Absence {
    /// Share of driver days on which the driver comes: not off, no empty seat, and not missing unforeseen.
    pub comes: f64,
    /// Drivers on the books.
    pub books: u32,
    /// Drivers on the road for whom these books are enough on average: as many as come of them, in whole drivers.
    pub road: u32,
    /// The fewest on the books that give that many on average.
    pub books_on_average: u32,
    /// The fewest of whom that many come on [`SURE`] of the days; none if it takes too many.
    pub books_for_sure: Option<u32>,
    /// Driver days off in a period that the roster would have had, mean.
    pub days_off: f64,
    /// What it costs per period against the same days on which nobody is off and no seat is empty.
    pub costs: Estimate,
}

/// The fewest on the books of whom so many come on average, each with this probability, above zero.
fn books_on_average(road: u32, comes: f64) -> u32 {
    (f64::from(road) / comes - 1e-9).ceil() as u32
}

impl Study<'_> {
    /// Of `best`, which stands on these replications; none where nobody is off, or it was interrupted.
    pub(super) fn absence(&self, best: &StaffResult, replications: Range<u64>) -> Option<Absence> {
        let changes = &self.scenario.changes;
        if changes.absent <= 0.0 && changes.empty_seats <= 0.0 {
            return None;
        }
        let all_there = roster::without_absence(self.scenario);
        let without = self.run(&all_there, &[best.staffing], replications, true)?;
        let without = without.first()?;
        let n = best.costs.len().min(without.costs.len());
        let costs = Paired::of(&best.costs[..n], &without.costs[..n]);
        let comes = (1.0 - changes.absent) * (1.0 - changes.empty_seats) * (1.0 - changes.no_show);
        let books = best.staffing.drivers;
        let road = (f64::from(books) * comes + 1e-9) as u32;
        Some(Absence {
            comes,
            books,
            road,
            books_on_average: books_on_average(road, comes.max(f64::MIN_POSITIVE)),
            books_for_sure: fewest_for(road, comes, SURE),
            days_off: best.days_off,
            costs: Estimate::of(&costs.difference, self.question.level),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 26 ÷ 0.93 = 27.96.
    #[test]
    fn books_that_are_enough_on_average() {
        assert_eq!(books_on_average(26, 0.93), 28);
        assert_eq!(books_on_average(1, 0.5), 2);
        assert_eq!(books_on_average(10, 1.0), 10, "everybody comes");
    }
}
