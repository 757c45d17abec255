//! Trucks made ready.

use super::length::{Length, Unknown};
use super::plant::PlantPlan;
use crate::dispatch::TruckView;
use crate::engine::{Entity, Spread};
use crate::hours::RuleBook;
use crate::scenario::{Breakdowns, Need, Scenario, Truck};
use crate::units::{DriverId, Millis, PlantId};
use std::sync::Arc;

/// A truck made ready.
#[derive(Clone, Debug)]
pub struct TruckPlan {
    /// Its home plant.
    pub home: PlantId,
    pub(in crate::plant) needs: Option<Need>,
    pub(in crate::plant) view: TruckView,
    pub(in crate::plant) entity: Entity,
    /// Shared by trucks that are alike.
    pub(in crate::plant) breakdowns: Option<Arc<BreakdownPlan>>,
}

/// A truck's breakdowns made ready.
#[derive(Clone, Debug)]
pub(in crate::plant) struct BreakdownPlan {
    /// Driven time between two.
    pub(in crate::plant) between: Length,
    /// How long it stands.
    pub(in crate::plant) repair: Unknown,
    /// Until the desk hears of it.
    pub(in crate::plant) call: Millis,
    /// Share of them in which the drum still turns.
    pub(in crate::plant) drum_turns: f64,
    /// Until a drum that does not turn is emptied.
    pub(in crate::plant) empty: Millis,
    /// Days without the truck once a load has set in its drum, that of the breakdown included.
    pub(in crate::plant) out_days: i64,
}

impl BreakdownPlan {
    pub(super) fn new(breakdowns: &Breakdowns) -> Self {
        let between = Spread::Exponential {
            mean: 60.0 * breakdowns.mean_h_between,
        };
        Self {
            between: Length::minutes(&between),
            repair: Unknown::minutes(&breakdowns.minutes),
            call: breakdowns.call,
            drum_turns: breakdowns.drum_turns,
            empty: breakdowns.empty,
            out_days: i64::from(breakdowns.out_days),
        }
    }
}

pub(super) fn trucks<'s>(scenario: &'s Scenario, plants: &[PlantPlan]) -> Vec<TruckPlan> {
    let mut last: Option<(&'s Breakdowns, Arc<BreakdownPlan>)> = None;
    let mut breakdowns = |truck: &'s Truck| {
        let of = truck.breakdowns.as_ref()?;
        match &last {
            Some((known, made)) if *known == of => Some(made.clone()),
            _ => {
                let made = Arc::new(BreakdownPlan::new(of));
                last = Some((of, made.clone()));
                Some(made)
            }
        }
    };
    scenario
        .trucks
        .iter()
        .map(|truck| TruckPlan {
            home: truck.home,
            needs: truck.needs.clone(),
            entity: Entity::named(&truck.name),
            breakdowns: breakdowns(truck),
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
