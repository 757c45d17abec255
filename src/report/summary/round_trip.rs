//! The round trip of one load by hand: mean minutes on the empty road, no waiting.

use super::words::stage_mean;
use crate::plant::Plan;
use crate::roads::Haul;
use crate::scenario::{Destination, Order, Outlet, Scenario};
use crate::units::{Millis, PlantId, Volume};

/// A round trip from the plant for which it is shortest.
pub(super) struct RoundTrip {
    pub(super) plant: PlantId,
    /// Loading and rack.
    pub(super) at_plant: Millis,
    /// Loaded, to the site.
    pub(super) out: Millis,
    /// Position and discharge.
    pub(super) unloading: Millis,
    /// Chute wash and the way back.
    pub(super) back: Millis,
}

impl RoundTrip {
    /// The shortest over the plants that make the mix; none without a way.
    pub(super) fn of(order: &Order, scenario: &Scenario, plan: &Plan) -> Option<Self> {
        let (site, times) = (order.stay.site, &order.stay.times);
        makers(order, scenario)
            .filter_map(|plant| {
                let place = scenario.plant_place(plant);
                let out = plan.roads().free_flow(place, site, Haul::Loaded);
                let back = plan.roads().free_flow(site, place, Haul::Empty);
                (out < Millis::NEVER && back < Millis::NEVER).then(|| Self {
                    plant,
                    at_plant: at_plant(scenario, plant, order.load),
                    out,
                    unloading: Millis::from_minutes(times.position.mean())
                        + discharge(&order.stay, order.load),
                    back: Millis::from_minutes(times.chute_wash.mean()) + back,
                })
            })
            .min_by_key(Self::whole)
    }

    /// Loading to loading.
    pub(super) fn whole(&self) -> Millis {
        self.at_plant + self.out + self.unloading + self.back
    }

    /// From the start of loading to the arrival.
    pub(super) fn lead(&self) -> Millis {
        self.at_plant + self.out
    }
}

/// The plants that make an order's mix.
pub(super) fn makers<'a>(
    order: &'a Order,
    scenario: &'a Scenario,
) -> impl Iterator<Item = PlantId> + 'a {
    let makes = |mixes: &[String]| mixes.is_empty() || mixes.contains(&order.mix);
    (0..scenario.plants.len())
        .filter(move |plant| makes(&scenario.plants[*plant].mixes))
        .map(PlantId::new)
}

/// Loading and rack of a load.
pub(super) fn at_plant(scenario: &Scenario, plant: PlantId, load: Volume) -> Millis {
    let plant = &scenario.plants[plant.at()];
    Millis::from_minutes(
        plant.pull_in_min + stage_mean(&plant.loading, load.yd3()) + plant.rack.mean(),
    )
}

/// Mean time of a load at the quickest outlet.
pub(super) fn discharge(stay: &Destination, load: Volume) -> Millis {
    let each = stay.outlets.iter().map(|outlet| at(stay, outlet, load));
    each.min().unwrap_or_default()
}

/// The time between two loads that the outlets together can keep up.
pub(super) fn pace(stay: &Destination, load: Volume) -> Millis {
    let loads_a_minute: f64 = stay
        .outlets
        .iter()
        .map(|outlet| {
            // A second place lets the next truck take position meanwhile.
            let position = if outlet.places > 1 {
                0.0
            } else {
                stay.times.position.mean()
            };
            1.0 / (at(stay, outlet, load).minutes() + position)
        })
        .sum();
    Millis::from_minutes(1.0 / loads_a_minute)
}

fn at(stay: &Destination, outlet: &Outlet, load: Volume) -> Millis {
    Millis::from_minutes(match &stay.times.discharge {
        Some(spread) => spread.mean(),
        None => load.yd3() / outlet.rate_yd3_min * stay.times.discharge_luck.mean(),
    })
}
