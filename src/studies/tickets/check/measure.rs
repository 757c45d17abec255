//! What is measured of a period by its tickets.

use crate::scenario::Scenario;
use crate::scenario::past_tickets::{Stamp, Ticket};
use crate::statistics::quantile_of_sorted;
use crate::studies::tickets::Stage;
use std::collections::BTreeMap;

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The minutes of a stage.
    Stage(Stage),
    /// Minutes on site after the load was due by its order, below zero before.
    AfterDue,
    /// Loads of the period.
    Loads,
    /// yd³ of the period.
    Yards,
}

impl Measure {
    /// All, in the order in which they are told.
    pub const ALL: [Self; 11] = [
        Self::Stage(Stage::Loading),
        Self::Stage(Stage::Yard),
        Self::Stage(Stage::Out),
        Self::Stage(Stage::SiteWait),
        Self::Stage(Stage::Unloading),
        Self::Stage(Stage::AfterUnloading),
        Self::Stage(Stage::Back),
        Self::Stage(Stage::Round),
        Self::AfterDue,
        Self::Loads,
        Self::Yards,
    ];

    /// Whether it is a figure of many loads, with a width.
    pub(super) fn has_width(self) -> bool {
        !matches!(self, Self::Loads | Self::Yards)
    }

    /// A smaller difference from this simulated value changes no decision (common practice, no source): a minute or a tenth, five
    /// minutes of punctuality, a twentieth of the loads.
    pub(super) fn matters(self, simulated: f64) -> f64 {
        match self {
            Self::Stage(_) => (0.1 * simulated).max(1.0),
            Self::AfterDue => 5.0,
            Self::Loads | Self::Yards => 0.05 * simulated,
        }
    }

    /// What a difference is large against.
    pub fn scale(self, simulated: f64) -> f64 {
        self.matters(simulated)
    }

    /// Whether a ticket tells it.
    pub(super) fn tells(self, ticket: &Ticket, scenario: &Scenario) -> bool {
        match self {
            Self::Stage(stage) => stage.minutes(ticket).is_some(),
            Self::AfterDue => {
                ticket.at(Stamp::OnSite).is_some() && after_due(ticket, &orders(scenario)).is_some()
            }
            Self::Loads => true,
            Self::Yards => ticket.yd3.is_some(),
        }
    }
}

type Orders<'s> = BTreeMap<&'s str, (f64, f64)>;

/// First due and spacing of each order, minutes.
fn orders(scenario: &Scenario) -> Orders<'_> {
    let orders = scenario.orders.iter().filter(|order| order.slot.is_none());
    orders
        .map(|order| {
            let times = (order.first.minutes(), order.spacing.minutes());
            (order.name.as_str(), times)
        })
        .collect()
}

/// By the number of the load, as the order book has it.
fn after_due(ticket: &Ticket, orders: &Orders<'_>) -> Option<f64> {
    let (first, spacing) = orders.get(ticket.order.as_deref()?)?;
    let due = first + spacing * (f64::from(ticket.load?) - 1.0);
    Some(ticket.at(Stamp::OnSite)?.minutes() - due)
}

/// Of each measure the 10, 50 and 90% points of a period; not a number where no ticket tells it. What has no width is thrice the same.
pub(super) fn row(tickets: &[Ticket], scenario: &Scenario) -> Vec<f64> {
    let orders = orders(scenario);
    let points = |values: Vec<f64>| {
        let mut values = values;
        values.sort_by(f64::total_cmp);
        [0.1, 0.5, 0.9].map(|p| quantile_of_sorted(&values, p).unwrap_or(f64::NAN))
    };
    let each = Measure::ALL.map(|measure| match measure {
        Measure::Stage(stage) => points(
            tickets
                .iter()
                .filter_map(|one| stage.minutes(one))
                .collect(),
        ),
        Measure::AfterDue => points(
            tickets
                .iter()
                .filter_map(|one| after_due(one, &orders))
                .collect(),
        ),
        Measure::Loads => [tickets.len() as f64; 3],
        Measure::Yards => {
            let told = tickets.iter().filter(|one| one.yd3.is_some()).count();
            let whole: f64 = tickets.iter().filter_map(|one| one.yd3).sum();
            [if told > 0 { whole } else { f64::NAN }; 3]
        }
    });
    each.concat()
}
