//! Drums above the legal weight, and weights that nobody looks at.

use crate::concrete::CONCRETE_LB_PER_YD3;
use crate::plant::Plan;
use crate::report::number::{count, number};
use crate::report::summary::fleet::{truck_groups, truck_names};
use crate::report::summary::words::much;
use crate::scenario::{Scenario, Truck};
use crate::units::PlaceId;
use crate::units::measure::Quantity;

/// Mixes that one doubt names.
const MOST_NAMED: usize = 10;

/// Trucks whose full drum is heavier than the law allows: with normal concrete, or with which mixes.
pub(super) fn trucks(scenario: &Scenario, doubts: &mut Vec<String>) {
    for group in truck_groups(scenario) {
        let truck = &group[0];
        let Some(left) = what_is_left(truck) else {
            continue;
        };
        let (payload_lb, yd3) = (truck.payload_lb(), truck.capacity.yd3());
        let is_cut = |lb_per_yd3: f64| yd3 * lb_per_yd3 > payload_lb;
        let largest = |lb_per_yd3: f64| {
            let hundredths = (payload_lb / lb_per_yd3 * 100.0).floor();
            let told = Quantity::Volume.told(hundredths.max(0.0) / 100.0);
            format!("{} {}", number(told, 2), Quantity::Volume.unit())
        };
        let whole = |quantity: Quantity, us: f64| {
            let told = count(quantity.told(us).round() as u64);
            format!("{told} {}", quantity.unit())
        };
        let names = truck_names(group);
        let Some(material) = &scenario.concrete.material else {
            if is_cut(CONCRETE_LB_PER_YD3) {
                doubts.push(format!(
                    "{names}: {} weigh {}, and {left}: loads are cut to {}",
                    much(Quantity::Volume, yd3),
                    whole(Quantity::Weight, yd3 * CONCRETE_LB_PER_YD3),
                    largest(CONCRETE_LB_PER_YD3)
                ));
            }
            continue;
        };
        let mut cut: Vec<String> = material
            .mixes
            .iter()
            .map(|described| (&described.name, described.mix.lb_per_yd3()))
            .filter(|(_, lb_per_yd3)| is_cut(*lb_per_yd3))
            .map(|(name, lb_per_yd3)| {
                let weighs = whole(Quantity::Density, lb_per_yd3);
                format!("{} of {name} ({weighs})", largest(lb_per_yd3))
            })
            .collect();
        if cut.len() > MOST_NAMED {
            cut.truncate(MOST_NAMED);
            cut.push("…".into());
        }
        if !cut.is_empty() {
            doubts.push(format!(
                "{names}: {left}: loads are cut to {}",
                cut.join(", ")
            ));
        }
    }
}

/// What is left for the concrete of a truck, in words; none where its weight is not looked at.
fn what_is_left(truck: &Truck) -> Option<String> {
    let gross = truck.legal_gross_lb?;
    let by_gross = gross - truck.empty_lb;
    let by_axles = truck.payload_lb();
    Some(if by_axles < by_gross {
        format!(
            "the axles may bear {} of concrete",
            much(Quantity::Weight, by_axles.floor())
        )
    } else {
        format!(
            "{} gross less {} empty leave {}",
            much(Quantity::Weight, gross),
            much(Quantity::Weight, truck.empty_lb),
            much(Quantity::Weight, by_gross)
        )
    })
}

/// Somebody is to be found heavy, and nobody weighs.
pub(super) fn stations(scenario: &Scenario, doubts: &mut Vec<String>) {
    if scenario.weighing.is_some() && !scenario.roads.has_weigh_stations() {
        doubts.push(
            "`weighing` says what comes of an overweight truck, and there is no weigh station on the roads: no truck is ever \
             held"
                .into(),
        );
    }
}

/// Another road would be quicker than waiting at an open weigh station, and nobody takes it for that.
pub(super) fn parallel_roads(scenario: &Scenario, plan: &Plan, doubts: &mut Vec<String>) {
    if !scenario.roads.has_weigh_stations() {
        return;
    }
    let plants = scenario.plants.len();
    for plant in (0..plants).map(PlaceId::new) {
        let sites = (plants..plants + scenario.sites.len()).map(PlaceId::new);
        if let Some((site, gain)) = plan.roads().most_spared_round(plant, sites) {
            doubts.push(format!(
                "{} to {}: while the weigh station on the way is open, another road would be up to {} min quicker than its minutes; \
                 no truck here takes another road because of a weigh station",
                scenario.place_name(plant),
                scenario.place_name(site),
                number(gain.minutes(), 1)
            ));
        }
    }
}
