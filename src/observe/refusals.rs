//! Candidates that were refused for a load, for a list that can be read: a load asks again and again, and each candidate is told
//! once until the reason is another.

use crate::dispatch::Refusal;
use crate::scenario::Scenario;
use crate::units::{DriverId, Millis, OrderId, PlantId, TruckId};
use std::collections::BTreeMap;

/// Which refusals are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToldRefusals {
    /// Those for hours: legal, the company's, the rule's gates, the driver's word.
    OfHours,
    /// All.
    All,
}

impl ToldRefusals {
    fn tells(self, reason: Refusal) -> bool {
        match self {
            Self::OfHours => reason.is_of_hours(),
            Self::All => true,
        }
    }
}

/// A driver with a truck who was not considered for a load from a plant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RefusedCandidate {
    /// When, for the first time.
    pub at: Millis,
    /// The load's order.
    pub order: OrderId,
    /// Its number in the order, from 0.
    pub number: u32,
    /// The truck.
    pub truck: TruckId,
    /// Who drives it.
    pub driver: Option<DriverId>,
    /// Where it would have loaded.
    pub plant: PlantId,
    /// Why not.
    pub reason: Refusal,
}

impl RefusedCandidate {
    /// `T2 (D2) refused for W, load 2 from P: home gate, duty window could end before home`.
    pub fn words(&self, scenario: &Scenario) -> String {
        let driver = self
            .driver
            .map(|driver| format!(" ({})", scenario.drivers[driver.at()].name));
        format!(
            "{}{} refused for {}, load {} from {}: {}",
            scenario.trucks[self.truck.at()].name,
            driver.unwrap_or_default(),
            scenario.order_name(self.order),
            self.number + 1,
            scenario.plants[self.plant.at()].name,
            self.reason.words()
        )
    }
}

/// Order, number of the load, truck, plant.
type Candidate = (OrderId, u32, TruckId, PlantId);

/// Keeps them for one replication.
#[derive(Clone, Debug)]
pub(super) struct Refusals {
    told: ToldRefusals,
    /// What a candidate for a load was refused for last.
    last: BTreeMap<Candidate, (Option<DriverId>, Refusal)>,
    /// In the order in which they came.
    pub(super) list: Vec<RefusedCandidate>,
}

impl Refusals {
    pub(super) fn new(told: ToldRefusals) -> Self {
        Self {
            told,
            last: BTreeMap::new(),
            list: Vec::new(),
        }
    }

    /// Takes a refusal down. Whether it is news.
    pub(super) fn hear(&mut self, refused: RefusedCandidate) -> bool {
        if !self.told.tells(refused.reason) {
            return false;
        }
        let candidate = (refused.order, refused.number, refused.truck, refused.plant);
        let why = (refused.driver, refused.reason);
        let news = self.last.insert(candidate, why) != Some(why);
        if news {
            self.list.push(refused);
        }
        news
    }
}
