//! Days without one kind of trouble: what a pour meets that trucks can or cannot cure.

use super::mishaps;
use crate::engine::Spread;
use crate::scenario::Scenario;

/// Who brings trouble to a pour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The site: not ready in time, stops once, unloads slower or faster than its rate says.
    Site,
    /// The plants: they stand still, planned or not.
    Plant,
    /// Trucks and drivers: breakdowns, drivers who do not come.
    Trucks,
    /// The roads: incidents, bad days, luck of a trip.
    Roads,
    /// The concrete: loads adjusted wrongly because a ticket was not read.
    Concrete,
}

impl Trouble {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Site,
        Self::Plant,
        Self::Trucks,
        Self::Roads,
        Self::Concrete,
    ];

    /// In plain words; fits after "without".
    pub fn words(self) -> &'static str {
        match self {
            Self::Site => "trouble of the site's own (not ready, pour stopped, slow crew)",
            Self::Plant => "plants standing still",
            Self::Trucks => "breakdowns and drivers who do not come",
            Self::Roads => "bad luck on the roads",
            Self::Concrete => "tickets not read, loads adjusted wrongly",
        }
    }

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Plant => "plant",
            Self::Trucks => "trucks",
            Self::Roads => "roads",
            Self::Concrete => "concrete",
        }
    }

    /// The scenario without it under the rule at this position; none where it has none.
    pub fn left_out(self, scenario: &Scenario, rule: usize) -> Option<Scenario> {
        let edited = match self {
            Self::Site => without_sites(scenario),
            Self::Plant => mishaps::no_outages(scenario).ok()?,
            Self::Trucks => without_trucks(scenario),
            Self::Roads => without_roads(scenario),
            Self::Concrete => mishaps::every_ticket_read(scenario, rule).ok()?,
        };
        (edited != *scenario).then_some(edited)
    }
}

fn without_sites(scenario: &Scenario) -> Scenario {
    let mut edited = scenario.clone();
    edited.changes.not_ready = 0.0;
    edited.changes.hold = 0.0;
    edited.changes.pace = None;
    edited
}

fn without_trucks(scenario: &Scenario) -> Scenario {
    let mut edited = scenario.clone();
    edited.changes.no_show = 0.0;
    edited.changes.absent = 0.0;
    edited.changes.empty_seats = 0.0;
    for truck in &mut edited.trucks {
        truck.breakdowns = None;
    }
    edited
}

fn without_roads(scenario: &Scenario) -> Scenario {
    let mut edited = mishaps::no_incidents(scenario).unwrap_or_else(|_| scenario.clone());
    let mean = |spread: &Spread| Spread::Constant(spread.mean());
    edited.roads.luck = mean(&edited.roads.luck);
    if let Some(network) = &mut edited.roads.network {
        network.day_luck = mean(&network.day_luck);
    }
    edited
}
