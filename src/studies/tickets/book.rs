//! The tickets of replications, as if their days had come one after the other.

use crate::observe::TicketBook;
use crate::scenario::Scenario;
use crate::scenario::past_tickets::Ticket;
use crate::studies::RuleTrial;
use std::ops::Range;

/// Whose tickets are wanted.
#[derive(Clone, Debug)]
pub struct TicketsOf {
    /// Position of the rule in the scenario.
    pub rule: usize,
    /// Which replications.
    pub replications: Range<u64>,
    /// Seed of all luck.
    pub seed: u64,
}

/// The tickets of these replications, the days of each after those of the one before, on the same weekdays. Each has a number.
pub fn written(scenario: &Scenario, of: &TicketsOf) -> Vec<Ticket> {
    let trial = RuleTrial::new(scenario, vec![of.rule], of.seed);
    let mut all = Vec::new();
    for (nth, replication) in of.replications.clone().enumerate() {
        let mut book = TicketBook::new(scenario, trial.plan());
        trial.play(0, replication, &mut book);
        let days = nth as i64 * days_apart(scenario);
        all.extend(book.tickets.into_iter().map(|ticket| ticket.later(days)));
    }
    for (number, ticket) in all.iter_mut().enumerate() {
        ticket.number = Some((number + 1).to_string());
    }
    all
}

/// So many days lie between the first days of two periods: whole weeks, so that each has its weekdays.
pub(super) fn days_apart(scenario: &Scenario) -> i64 {
    i64::from(scenario.period.days.div_ceil(7)) * 7
}
