//! Trucks made ready.

use super::length::Length;
use super::plant::PlantPlan;
use crate::dispatch::TruckView;
use crate::engine::{Entity, Spread};
use crate::hours::RuleBook;
use crate::scenario::{Need, Scenario};
use crate::units::{DriverId, Millis, PlantId};

/// A truck made ready.
#[derive(Clone, Debug)]
pub struct TruckPlan {
    /// Its home plant.
    pub home: PlantId,
    pub(in crate::plant) needs: Option<Need>,
    pub(in crate::plant) view: TruckView,
    pub(in crate::plant) entity: Entity,
    /// Driven time between two breakdowns and length of one.
    pub(in crate::plant) breakdowns: Option<(Length, Length)>,
}

pub(super) fn trucks(scenario: &Scenario, plants: &[PlantPlan]) -> Vec<TruckPlan> {
    scenario
        .trucks
        .iter()
        .map(|truck| TruckPlan {
            home: truck.home,
            needs: truck.needs.clone(),
            entity: Entity::named(&truck.name),
            breakdowns: truck.breakdowns.as_ref().map(|breakdowns| {
                let between = Spread::Exponential {
                    mean: 60.0 * breakdowns.mean_h_between,
                };
                (
                    Length::minutes(&between),
                    Length::minutes(&breakdowns.minutes),
                )
            }),
            view: TruckView {
                home: truck.home,
                place: plants[truck.home.at()].place,
                free_at: Millis::ZERO,
                idle_since: Millis::ZERO,
                report: Millis::ZERO,
                driver: DriverId(0),
                rule_book: RuleBook::Unlimited,
                seniority: 0,
                no_load_from: Millis::NEVER,
                relieved: Millis::NEVER,
                finish_by: Millis::NEVER,
                capacity: truck.capacity,
                payload_lb: truck.payload_lb(),
            },
        })
        .collect()
}
