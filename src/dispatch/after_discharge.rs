//! Where an empty truck heads for after its discharge.
//!
//! Home, or where the rule says as long as the driver gets home from there.

use super::{AfterDischarge, Policy, View};
use crate::roads::Haul;
use crate::units::{Millis, PlaceId, PlantId, Volume};

/// The plant that a truck of `home` heads for when it leaves `site`. `until` is how long its driver may drive on: the
/// driver goes elsewhere than home only if the way there and from there home fits, by the driver's own judgement. `waiting`
/// tells the volume that waits for trucks at a plant, and the trucks that stand there or head there.
pub fn head_for(
    policy: &Policy,
    view: &View<'_>,
    site: PlaceId,
    home: PlantId,
    until: Millis,
    waiting: &dyn Fn(PlantId) -> (Volume, u32),
) -> PlantId {
    let fits = |plant: &PlantId| {
        if *plant == home || until == Millis::NEVER {
            return true;
        }
        let leg = |from, to, depart| {
            view.roads
                .believed(policy.driver_belief, from, to, Haul::Empty, depart)
        };
        let (there, home) = (view.plants[plant.at()].place, view.plants[home.at()].place);
        let arrives = view.now + leg(site, there, view.now);
        arrives + leg(there, home, arrives) <= until
    };
    let way = |plant: &PlantId| {
        let to = view.plants[plant.at()].place;
        view.roads
            .believed(policy.belief, site, to, Haul::Empty, view.now)
    };
    let reached = (0..view.plants.len())
        .map(PlantId::new)
        .filter(|plant| *plant == home || way(plant) < Millis::NEVER)
        .filter(fits);
    match policy.after_discharge {
        AfterDischarge::HomePlant => home,
        AfterDischarge::NearestPlant => reached
            .min_by_key(|plant| (way(plant), *plant != home, *plant))
            .unwrap_or(home),
        AfterDischarge::MostWork => {
            // Volume per truck, this one included; nothing waits anywhere: home.
            let work = |plant: &PlantId| {
                let (volume, trucks) = waiting(*plant);
                volume.in_thousandths() / i64::from(trucks + 1)
            };
            reached
                .filter(|plant| *plant == home || work(plant) > 0)
                .min_by_key(|plant| (-work(plant), *plant != home, way(plant), *plant))
                .unwrap_or(home)
        }
    }
}
