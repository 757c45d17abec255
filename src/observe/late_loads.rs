//! The late loads of one replication, each with what made it late by the [`Ledger`].

use super::cause::LateCause;
use super::ledger::Ledger;
use crate::plant::{Event, Observer, Plan};
use crate::units::{Millis, OrderId, PlantId, TruckId, Volume};

/// A load that came late beyond its order's tolerance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LateLoad {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0.
    pub number: u32,
    /// The truck that brought it.
    pub truck: TruckId,
    /// Where it was loaded.
    pub plant: PlantId,
    /// When it came on site.
    pub at: Millis,
    /// How late.
    pub late: Millis,
    /// What it is made of: adds up to `late`, each cause once and more than zero, the first first.
    pub parts: Vec<(LateCause, Millis)>,
}

/// A load that was not on site by the end of its order's day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Never {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0; none if it was never promised a truck.
    pub number: Option<u32>,
    /// The truck that was to bring it, or was on its way with it, at the end of the day.
    pub truck: Option<TruckId>,
    /// Its volume.
    pub volume: Volume,
    /// When it was due.
    pub due: Millis,
    /// When its site was ready for it.
    pub ready: Millis,
    /// When it was given up.
    pub at: Millis,
    /// How late it was by the end of its day; 0 if its site was not ready before.
    pub late: Millis,
    /// What it is made of: as of a [`LateLoad`]. Nothing if it is 0, which the ledger's sums count as no truck free.
    pub parts: Vec<(LateCause, Millis)>,
}

impl Never {
    /// The order's day, at whose end it had not come: 0 for the first.
    pub fn day(&self) -> i64 {
        let over = if self.late > Millis::ZERO {
            self.ready + self.late
        } else {
            self.at
        };
        (over - Millis(1)).day()
    }

    /// The first moment at which it was missing: when its site was ready, or else when it was given up.
    pub fn missing_from(&self) -> Millis {
        self.ready.min(self.at)
    }
}

/// Keeps the late loads of one replication.
#[derive(Clone, Debug)]
pub struct LateLoads<'p> {
    ledger: Ledger<'p>,
    /// Loads that came late, in the order of their arrival.
    pub late: Vec<LateLoad>,
    /// Loads that did not come by the end of their day.
    pub never: Vec<Never>,
    /// By truck: where it was promised to load last.
    plants: Vec<PlantId>,
}

impl<'p> LateLoads<'p> {
    /// For one run of this plan.
    pub fn new(plan: &'p Plan) -> Self {
        Self {
            ledger: Ledger::new(plan),
            late: Vec::new(),
            never: Vec::new(),
            plants: plan.trucks.iter().map(|truck| truck.home).collect(),
        }
    }
}

/// Each cause once, where it came first.
fn by_cause(parts: &[(LateCause, Millis)]) -> Vec<(LateCause, Millis)> {
    let mut sums: Vec<(LateCause, Millis)> = Vec::new();
    for (cause, time) in parts {
        match sums.iter_mut().find(|(known, _)| known == cause) {
            Some((_, sum)) => *sum += *time,
            None => sums.push((*cause, *time)),
        }
    }
    sums.retain(|(_, sum)| *sum > Millis::ZERO);
    sums
}

impl Observer for LateLoads<'_> {
    const EACH_REFUSAL: bool = false;
    const PLANS: bool = true;

    fn event(&mut self, at: Millis, event: &Event) {
        self.ledger.event(at, event);
        match *event {
            Event::Promised { truck, plant, .. } => self.plants[truck.at()] = plant,
            Event::Taken {
                order,
                number,
                truck,
                came,
                lateness,
            } if lateness.is_late() => {
                let place = self.late.partition_point(|load| load.at <= came);
                let load = LateLoad {
                    order,
                    number,
                    truck,
                    plant: self.plants[truck.at()],
                    at: came,
                    late: lateness.late(),
                    parts: by_cause(self.ledger.late(truck)),
                };
                self.late.insert(place, load);
            }
            Event::Undelivered {
                order,
                number,
                carrier,
                volume,
                due,
                ready,
                late,
                ..
            } => self.never.push(Never {
                order,
                number,
                truck: carrier,
                volume,
                due,
                ready,
                at,
                late,
                parts: by_cause(self.ledger.late_undelivered()),
            }),
            _ => {}
        }
    }
}
