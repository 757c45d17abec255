//! Which tickets are left out, and why: told with a count for each reason, none left out in silence.

use crate::scenario::past_tickets::{Stamp, Ticket};
use crate::units::Millis;
use std::collections::HashSet;

/// Why a ticket is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    /// It tells no time at all.
    NoTime,
    /// It stands twice: the same number on the same day at the same plant, or the same truck with the same first time.
    Twice,
    /// A time lies before the one that comes before it: nobody knows which of the two is wrong.
    Backward,
    /// A stage lasts longer than any does.
    TooLong,
}

impl Reason {
    /// All, in the order in which they are looked for.
    pub const ALL: [Self; 4] = [Self::NoTime, Self::Twice, Self::Backward, Self::TooLong];
}

/// A stage between two times that follow each other which takes longer than this is an error of writing (common practice, no source: a
/// load is placed within hours).
pub(crate) const LONGEST: Millis = Millis(6 * Millis::HOUR.0);

/// Tickets that are left, and what was left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Cleaned {
    /// What is left, in the order of the file.
    pub kept: Vec<Ticket>,
    /// How many were left out for each reason, in the order of [`Reason::ALL`].
    pub left_out: [usize; 4],
    /// Of those left, on how many each time is missing, in the order of [`Stamp::ALL`].
    pub missing: [usize; 8],
}

impl Cleaned {
    /// How many tickets there were.
    pub fn all(&self) -> usize {
        self.kept.len() + self.left_out.iter().sum::<usize>()
    }
}

/// Leaves out what cannot be true.
pub fn clean(tickets: &[Ticket]) -> Cleaned {
    let mut left_out = [0; 4];
    let mut numbers = HashSet::new();
    let mut trucks = HashSet::new();
    let mut kept = Vec::new();
    for ticket in tickets {
        let twice = ticket.first().is_some_and(|first| {
            let number = ticket.number.as_ref();
            let number = number.map(|number| (number, ticket.plant.as_ref(), first.day()));
            let truck = ticket.truck.as_ref().map(|truck| (truck, first));
            // Both are taken down, whatever the one says.
            let known = number.is_some_and(|number| !numbers.insert(number));
            truck.is_some_and(|truck| !trucks.insert(truck)) | known
        });
        let reason = match ticket.first() {
            None => Some(Reason::NoTime),
            Some(_) if twice => Some(Reason::Twice),
            Some(_) => untrue(ticket),
        };
        match reason {
            Some(reason) => left_out[reason as usize] += 1,
            None => kept.push(ticket.clone()),
        }
    }
    let missing = Stamp::ALL.map(|stamp| {
        let without = kept.iter().filter(|ticket| ticket.at(stamp).is_none());
        without.count()
    });
    Cleaned {
        kept,
        left_out,
        missing,
    }
}

fn untrue(ticket: &Ticket) -> Option<Reason> {
    let times: Vec<Millis> = ticket.times.iter().flatten().copied().collect();
    let spans = || times.windows(2).map(|pair| pair[1] - pair[0]);
    if spans().any(|span| span < Millis::ZERO) {
        return Some(Reason::Backward);
    }
    spans()
        .any(|span| span > LONGEST)
        .then_some(Reason::TooLong)
}
