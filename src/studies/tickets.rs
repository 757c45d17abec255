//! Past tickets: those of replications written down as a yard would have them, spreads found from those of a yard, and a scenario's
//! days held against the days that were.

mod book;
mod check;
mod clean;
mod found;
mod hours;
mod legs;
mod model;
mod rounded;

pub use book::{TicketsOf, written};
pub use check::{Check, CheckQuestion, Chosen, Compared, Desk, Measure, Standing, check};
pub use clean::{Cleaned, Reason, clean};
pub use found::{Found, Nearest, Parameter, Part, Unit};
pub use hours::Hours;
pub use legs::{Leg, Stage};
pub use model::Shape;

use crate::scenario::past_tickets::PastTickets;
use crate::statistics::quantile;
use std::collections::BTreeSet;

/// What is asked.
#[derive(Clone, Debug)]
pub struct TicketsQuestion {
    /// With fewer tickets nothing is fitted.
    pub least: usize,
    /// Confidence of intervals.
    pub level: f64,
    /// Seed of the draws that intervals rest on.
    pub seed: u64,
}

impl Default for TicketsQuestion {
    fn default() -> Self {
        Self {
            least: 8,
            level: 0.95,
            seed: 1,
        }
    }
}

/// With fewer tickets the family of a spread cannot be told well: at 30 values a lognormal and a gamma of the same cv of 0.3 are told
/// apart little better than by a coin (reckoned by drawing them).
pub const FEW: usize = 30;

/// What tickets tell of one leg, at one plant where the leg is one of a plant.
#[derive(Clone, Debug)]
pub struct FittedLeg {
    /// Which.
    pub leg: Leg,
    /// The plant, if the leg is one of a plant and tickets name theirs.
    pub plant: Option<String>,
    /// Tickets that tell it.
    pub n: usize,
    /// The days on which they were.
    pub days: usize,
    /// Tickets on which a time or a volume that it takes is missing.
    pub missing: usize,
    /// Values of no length, which are left out.
    pub no_length: usize,
    /// What was found; none: too few tickets.
    pub found: Option<Found>,
}

/// How long a stage lasted, told and not fitted.
#[derive(Clone, Debug)]
pub struct Told {
    /// The stage.
    pub stage: Stage,
    /// How many tickets tell it.
    pub n: usize,
    /// The 10, 50 and 90% points, minutes; none without a ticket.
    pub points: Option<[f64; 3]>,
}

/// What was found of a file of tickets.
#[derive(Clone, Debug)]
pub struct TicketFits {
    /// What was asked.
    pub question: TicketsQuestion,
    /// What was left out, and why.
    pub cleaned: Cleaned,
    /// First and last day, counted from the first of the file.
    pub days: Option<(i64, i64)>,
    /// Days on which there are tickets.
    pub worked: usize,
    /// Legs, in the order of a load.
    pub legs: Vec<FittedLeg>,
    /// Stages as they were, in the order of a load.
    pub stages: Vec<Told>,
}

/// Finds the spreads of every leg.
pub fn fit_tickets(tickets: &PastTickets, question: &TicketsQuestion) -> TicketFits {
    let cleaned = clean(&tickets.tickets);
    let days = cleaned.kept.iter().filter_map(|ticket| ticket.first());
    let worked: BTreeSet<i64> = days.map(|at| at.day()).collect();
    let days = worked.first().copied().zip(worked.last().copied());
    let days = days.filter(|_| tickets.days_told);
    let mut legs = Vec::new();
    for leg in Leg::ALL {
        for mut part in leg.parts(&cleaned.kept, tickets.whole_minutes, question.least) {
            let enough = part.told.len() >= question.least;
            let (n, days) = (part.told.len(), part.days());
            legs.push(FittedLeg {
                leg,
                n,
                days,
                missing: part.missing,
                no_length: part.no_length,
                plant: part.plant.take(),
                found: enough
                    .then(|| found::find(leg, &part, question.seed))
                    .flatten(),
            });
        }
    }
    let stages = Stage::ALL.map(|stage| {
        let minutes: Vec<f64> = cleaned
            .kept
            .iter()
            .filter_map(|t| stage.minutes(t))
            .collect();
        let point = |p: f64| quantile(minutes.iter().copied(), p);
        let points = point(0.1).zip(point(0.5)).zip(point(0.9));
        Told {
            stage,
            n: minutes.len(),
            points: points.map(|((low, middle), high)| [low, middle, high]),
        }
    });
    TicketFits {
        question: question.clone(),
        cleaned,
        days,
        worked: worked.len(),
        legs,
        stages: stages.into(),
    }
}
