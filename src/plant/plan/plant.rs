//! Plants made ready: stages, bays and open spans.

use super::length::{Length, Unknown};
use crate::dispatch::{PlantView, StageBelief};
use crate::engine::{Entity, Spread};
use crate::scenario::{Batcher, BayQueue, Plant, Scenario};
use crate::units::{Millis, PlaceId, PlantId};

/// A plant made ready.
#[derive(Clone, Debug)]
pub struct PlantPlan {
    /// Where it is.
    pub place: PlaceId,
    /// Open spans over the period, in order.
    pub open: Vec<(Millis, Millis)>,
    /// Bays.
    pub bays: u32,
    /// Trucks at the rack at once.
    pub rack_places: u32,
    pub(in crate::plant) shared_batcher: bool,
    pub(in crate::plant) by_rule: bool,
    pub(in crate::plant) pull_in: Millis,
    pub(in crate::plant) loading: Length,
    pub(in crate::plant) rack: Length,
    pub(in crate::plant) view: PlantView,
    pub(in crate::plant) entity: Entity,
    /// Time between two outages and length of one.
    pub(in crate::plant) outages: Option<(Length, Unknown)>,
    pub(in crate::plant) planned_outages: Vec<(Millis, Millis)>,
    /// Whether it weighs its trucks.
    pub(in crate::plant) truck_scale: bool,
}

impl PlantPlan {
    /// Whether it is open at a moment by its posted hours.
    pub(in crate::plant) fn is_open(&self, at: Millis) -> bool {
        let holds = |(open, close): &(Millis, Millis)| *open <= at && at < *close;
        self.open.iter().any(holds)
    }
}

pub(super) fn plant_plan(scenario: &Scenario, id: PlantId, plant: &Plant) -> PlantPlan {
    let place = scenario.plant_place(id);
    let open = open_spans(scenario, plant);
    PlantPlan {
        place,
        bays: plant.bays,
        rack_places: plant.rack_places.unwrap_or(u32::MAX),
        shared_batcher: plant.batcher == Batcher::Shared,
        by_rule: plant.bay_queue == BayQueue::ByRule,
        pull_in: Millis::from_minutes(plant.pull_in_min),
        loading: Length::of_stage(&plant.loading),
        rack: Length::minutes(&plant.rack),
        view: PlantView {
            place,
            opens: Millis::NEVER,
            closes: Millis::NEVER,
            bays_free: Millis::ZERO,
            loading: plant.mean_loading(),
            rack: StageBelief::of(&plant.rack),
        },
        open,
        entity: Entity::named(&plant.name),
        outages: plant.outages.as_ref().map(|outages| {
            let between = Spread::Exponential {
                mean: 60.0 * outages.mean_h_between,
            };
            (
                Length::minutes(&between),
                Unknown::minutes(&outages.minutes),
            )
        }),
        planned_outages: plant.planned_outages.clone(),
        truck_scale: plant.truck_scale,
    }
}

/// Open spans over the period, those that touch joined.
fn open_spans(scenario: &Scenario, plant: &Plant) -> Vec<(Millis, Millis)> {
    let days = i64::from(scenario.period.days);
    if plant.hours.is_empty() {
        return vec![(Millis::ZERO, Millis::NEVER)];
    }
    let mut spans: Vec<(Millis, Millis)> = (0..days)
        .flat_map(|day| {
            let weekday = scenario.period.first_day.after(day);
            let midnight = Millis::midnight(day);
            plant
                .hours
                .iter()
                .filter(move |hours| hours.days.contains(&weekday))
                .map(move |hours| (midnight + hours.open, midnight + hours.close))
        })
        .collect();
    spans.sort_unstable();
    let mut joined: Vec<(Millis, Millis)> = Vec::with_capacity(spans.len());
    for (open, close) in spans {
        match joined.last_mut() {
            Some(last) if last.1 >= open => last.1 = last.1.max(close),
            _ => joined.push((open, close)),
        }
    }
    joined
}
