//! When drivers are called in for a pour, the plant nearest to it, and the formula that is reckoned by hand.

use crate::engine::Spread;
use crate::plant::Plan;
use crate::roads::{Belief, Haul, RoadState};
use crate::scenario::{Order, Scenario, Stage};
use crate::units::{Millis, OrderId, PlaceId, PlantId};

/// Trips and pre-trips of a driver who is called in are reckoned with what this share of them stays within.
const CALL_QUANTILE: f64 = 0.95;
/// Standing at the plant before the first load, at least.
const CALL_EARLY: Millis = Millis(10 * Millis::MINUTE.0);

/// Trucks by hand: round trip ÷ spacing, rounded up; means on the empty road, no waits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HandFormula {
    /// Loading, pull-in included.
    pub loading: Millis,
    /// Rack.
    pub rack: Millis,
    /// Loaded trip.
    pub out: Millis,
    /// Position, discharge and chute wash.
    pub on_site: Millis,
    /// Empty trip.
    pub back: Millis,
    /// Time between loads.
    pub spacing: Millis,
}

impl HandFormula {
    /// The round trip.
    pub fn round_trip(&self) -> Millis {
        self.loading + self.rack + self.out + self.on_site + self.back
    }

    /// Trucks; none for loads that are all due at once.
    pub fn trucks(&self) -> Option<u32> {
        let (round, spacing) = (self.round_trip().0, self.spacing.0);
        (spacing > 0).then(|| u32::try_from((round + spacing - 1) / spacing).unwrap_or(u32::MAX))
    }
}

/// Loading at a plant, pull-in included, and rack: means for a load of this order.
fn at_plant(scenario: &Scenario, plant: PlantId, order: &Order) -> (Millis, Millis) {
    let plant = &scenario.plants[plant.at()];
    let loading = plant.pull_in_min
        + match &plant.loading {
            Stage::Minutes(spread) => spread.mean(),
            Stage::PerYard {
                fixed_min,
                min_per_yd3,
                luck,
            } => (fixed_min + min_per_yd3 * order.load.yd3()) * luck.mean(),
        };
    (
        Millis::from_minutes(loading),
        Millis::from_minutes(plant.rack.mean()),
    )
}

/// The formula for a pour from a plant.
pub(super) fn by_hand(
    scenario: &Scenario,
    plan: &Plan,
    order: &Order,
    plant: PlantId,
) -> HandFormula {
    let (loading, rack) = at_plant(scenario, plant, order);
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
    let place = scenario.plant_place(plant);
    let roads = plan.roads();
    HandFormula {
        loading,
        rack,
        out: roads.free_flow(place, order.stay.site, Haul::Loaded),
        on_site: Millis::from_minutes(times.position.mean() + discharge + times.chute_wash.mean()),
        back: roads.free_flow(order.stay.site, place, Haul::Empty),
        spacing: order.spacing,
    }
}

/// The plant from which the way to the pour is shortest on the empty road, among those that make it.
pub(super) fn nearest(scenario: &Scenario, plan: &Plan, order: &Order) -> Option<PlantId> {
    (0..scenario.plants.len())
        .map(PlantId::new)
        .filter(|plant| scenario.plants[plant.at()].makes(&order.mix))
        .min_by_key(|plant| {
            plan.roads()
                .free_flow(scenario.plant_place(*plant), order.stay.site, Haul::Loaded)
        })
}

/// When the driver of the first load is called in: early enough for all but one pre-trip and one trip in twenty.
pub(super) fn first_call(
    scenario: &Scenario,
    plan: &Plan,
    rule: usize,
    pour: OrderId,
    plant: PlantId,
) -> Millis {
    let order = &scenario.orders[pour.at()];
    let (loading, rack) = at_plant(scenario, plant, order);
    let rack = rack.max(plan.policies[rule].reads_after);
    let rule = &scenario.rules[rule];
    let place = scenario.plant_place(plant);
    let trip = [
        Belief::TimeOfDay {
            quantile: Some(CALL_QUANTILE),
        },
        // Sends by its own belief, which may be further from the truth.
        rule.belief,
    ]
    .into_iter()
    .map(|belief| believed(plan, belief, (place, order.stay.site), order.first))
    .max()
    .unwrap_or(Millis::ZERO);
    let allowance = Millis::from_minutes(rule.margin_min + rule.bay_wait_min);
    let early = if is_constant(&scenario.yard.pre_trip) {
        Millis::ZERO
    } else {
        CALL_EARLY
    };
    let pre_trip = Millis::from_minutes(scenario.yard.pre_trip.sampler().at(CALL_QUANTILE));
    let call = order.first - trip - loading - rack - allowance - pre_trip - early;
    call.max(Millis::ZERO)
}

fn is_constant(spread: &Spread) -> bool {
    matches!(spread, Spread::Constant(_))
}

fn believed(plan: &Plan, belief: Belief, (from, to): (PlaceId, PlaceId), arrive: Millis) -> Millis {
    let roads = plan.roads();
    let free = roads.free_flow(from, to, Haul::Loaded);
    let mut state = RoadState::default();
    roads.refresh(
        &mut state,
        crate::engine::Luck::new(0, 0),
        plan.days.max(1) as usize,
    );
    let depart = (arrive - free).max(Millis::ZERO);
    roads
        .at(&state, Millis::ZERO)
        .believed(roads.believe(belief), from, to, Haul::Loaded, depart)
}
