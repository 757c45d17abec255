//! How many trucks each plant needs by the order book.

use crate::plant::Plan;
use crate::roads::Haul;
use crate::scenario::edit::roster::NEED_STEP;
use crate::scenario::{Order, Scenario, Stage};
use crate::units::{Millis, PlantId, Volume};

/// By plant and step of [`NEED_STEP`] since midnight before the first day: the most trucks out at once if every load of every
/// order comes when due from the nearest plant that makes it and is open for its loading, with means of the empty road.
pub fn trucks_needed(scenario: &Scenario) -> Vec<Vec<u32>> {
    let plan = Plan::new(scenario);
    let roads = plan.roads();
    let mut trips: Vec<Vec<(Millis, Millis)>> = vec![Vec::new(); scenario.plants.len()];
    for (order, ready) in scenario.orders.iter().zip(&plan.orders) {
        let Some((volume, later)) = reckoned(scenario, order) else {
            continue;
        };
        let times = &order.stay.times;
        let outlets = &order.stay.outlets;
        let rate = outlets
            .iter()
            .map(|outlet| outlet.rate_yd3_min)
            .sum::<f64>()
            / outlets.len() as f64;
        let discharge = match &times.discharge {
            Some(spread) => spread.mean(),
            None => order.load.yd3() / rate * times.discharge_luck.mean(),
        };
        let stay =
            Millis::from_minutes(times.position.mean() + discharge + times.chute_wash.mean());
        let mut plants: Vec<(Millis, PlantId)> = (0..scenario.plants.len())
            .map(PlantId::new)
            .filter(|plant| scenario.plants[plant.at()].makes(&order.mix))
            .filter(|plant| order.plants.is_empty() || order.plants.contains(plant))
            .map(|plant| {
                let place = scenario.plant_place(plant);
                (roads.free_flow(place, order.stay.site, Haul::Loaded), plant)
            })
            .filter(|(out, _)| *out < Millis::NEVER)
            .collect();
        plants.sort_unstable();
        for load in 0..volume.loads_of(order.load) {
            let due = ready.due(Volume(order.load.0 * load)) + later;
            let from = plants.iter().find_map(|(out, plant)| {
                let made = &scenario.plants[plant.at()];
                let loading = match &made.loading {
                    Stage::Minutes(spread) => spread.mean(),
                    Stage::PerYard {
                        fixed_min,
                        min_per_yd3,
                        luck,
                    } => (fixed_min + min_per_yd3 * order.load.yd3()) * luck.mean(),
                };
                let before = made.pull_in_min + loading + made.rack.mean();
                let begins = due - *out - Millis::from_minutes(before);
                let open = plan.plants[plant.at()].open.iter();
                let mut open = open.filter(|(from, to)| *from <= begins && begins < *to);
                open.next().map(|_| (begins, *plant))
            });
            if let Some((begins, plant)) = from {
                let back =
                    roads.free_flow(order.stay.site, scenario.plant_place(plant), Haul::Empty);
                trips[plant.at()].push((begins.max(Millis::ZERO), due + stay + back));
            }
        }
    }
    let steps = i64::from(scenario.period.days) * Millis::DAY.0 / NEED_STEP.0;
    let most = |trips: &[(Millis, Millis)], step: i64| {
        let (from, to) = (NEED_STEP * step, NEED_STEP * (step + 1));
        let out = |at: Millis| {
            trips
                .iter()
                .filter(|trip| trip.0 <= at && at < trip.1)
                .count()
        };
        let begun = trips
            .iter()
            .map(|trip| trip.0)
            .filter(|at| *at >= from && *at < to);
        begun.map(out).chain([out(from)]).max().unwrap_or(0) as u32
    };
    trips
        .iter()
        .map(|trips| (0..steps).map(|step| most(trips, step)).collect())
        .collect()
}

/// The volume that an order is reckoned with, and how much later than its plan says it is due. Of drawn orders as many as a day
/// has on average, of mean volume, evenly over the time in which they are due; none for the others.
fn reckoned(scenario: &Scenario, order: &Order) -> Option<(Volume, Millis)> {
    let Some(slot) = order.slot else {
        return Some((order.volume, Millis::ZERO));
    };
    let drawn = &scenario.drawn[slot.group];
    let usual = ((drawn.per_day.mean() + 0.5) as u32).min(drawn.at_most);
    let window = drawn.first.1 - drawn.first.0;
    let later = window.0 * (2 * i64::from(slot.number) + 1) / (2 * i64::from(usual.max(1)));
    let mean = Volume::from_yd3(drawn.volume.mean() * drawn.growth);
    (slot.number < usual).then(|| (mean.min(order.volume), Millis(later)))
}
