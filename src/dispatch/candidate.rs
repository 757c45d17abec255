//! A plant with a truck for a load: what is believed of it, and whether the gates let it pass.

use super::closing::{wait_on_site, waiting};
use super::send::at_plant;
use super::{Ask, Lend, Policy, Refusal, TruckView, View, gates, load_size};
use crate::roads::Haul;
use crate::units::{Millis, PlaceId, PlantId, TruckId, Volume};

/// A plant and a truck for a load, with what is believed of it.
#[derive(Clone, Copy, Debug)]
pub struct Candidate {
    /// The truck.
    pub truck: TruckId,
    /// The plant.
    pub plant: PlantId,
    /// The plant's place.
    pub place: PlaceId,
    /// Whether the plant is not the truck's home.
    pub lent: bool,
    /// The volume that it would get.
    pub volume: Volume,
    /// The plant's send time: loading starts no earlier.
    pub send: Millis,
    /// When the truck would be at the bay.
    pub at_bay: Millis,
    /// How long it would wait for the bay.
    pub bay_wait: Millis,
    /// When loading would start.
    pub loading: Millis,
    /// When it would leave the rack.
    pub leaving: Millis,
    /// When it would be on site.
    pub arrival: Millis,
    /// Whether a gate of the rule was overridden for it, or its driver overruled.
    pub overridden: bool,
}

/// When a plant would send a load.
#[derive(Clone, Copy)]
pub(super) struct When {
    pub(super) send: Millis,
    /// Whether it sends it before that as it closes.
    pub(super) early: bool,
    /// A truck of another plant that would come later than this is not lent.
    pub(super) latest_lent: Millis,
}

/// A truck at a plant for a load, or why it is refused.
pub(super) fn candidate(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    plant_id: PlantId,
    truck_id: TruckId,
    When {
        send,
        early,
        latest_lent,
    }: When,
) -> Result<Candidate, Refusal> {
    let truck = &view.trucks[truck_id.at()];
    let plant = &view.plants[plant_id.at()];
    let lent = truck.home != plant_id;
    if lent && policy.lend == Lend::Never {
        return Err(Refusal::NotLent);
    }
    let mut sized = Ask {
        volume: load_size(policy, truck, ask.volume, ask.lb_per_yd3)?,
        ..*ask
    };
    if !view.roads.reaches(plant.place, ask.site, Haul::Loaded) {
        return Err(Refusal::NoWay);
    }
    let at_bay = bay_time(policy, view, truck, plant.place).ok_or(Refusal::NoWay)?;
    let joins = at_bay.max(send);
    let loading = (joins + policy.bay_wait).max(plant.bays_free);
    let leaving = loading + at_plant(policy, plant, sized.volume);
    let ends = (plant.place, ask.site);
    let arrival = leaving + (view.legs.out).takes(view, policy.belief, ends, Haul::Loaded, leaving);
    if lent && arrival > latest_lent {
        return Err(Refusal::NotLent);
    }
    // Nobody is promised to a plant that is still closed by then: the load asks again when it opens.
    if plant.opens > joins || loading > plant.closes {
        return Err(Refusal::PlantClosed);
    }
    if early {
        // Its age and the driver's hours have to bear the wait on site too.
        let wait = wait_on_site(&sized, arrival).ok_or(Refusal::PlantClosed)?;
        sized = waiting(&sized, wait);
    }
    let mut candidate = Candidate {
        truck: truck_id,
        plant: plant_id,
        place: plant.place,
        lent,
        volume: sized.volume,
        send,
        at_bay,
        bay_wait: loading - joins,
        loading,
        leaving,
        arrival,
        overridden: false,
    };
    candidate.overridden = gates::judge(policy, view, &sized, truck, &candidate)?;
    Ok(candidate)
}

/// Whether no truck can be lent to a plant in time that sets out from a place now or later, by what drives are believed to take at least.
/// From the plant itself: no truck at all.
pub(super) fn surely_too_late_from(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    (from, plant): (PlaceId, PlantId),
    latest_lent: Millis,
) -> bool {
    if latest_lent == Millis::NEVER {
        return false;
    }
    let plant = &view.plants[plant.at()];
    let at_least = |from, to, haul| (view.roads).believed_at_least(policy.belief, from, to, haul);
    let to_plant = match from == plant.place {
        true => Millis::ZERO,
        false => at_least(from, plant.place, Haul::Empty),
    };
    let out = at_least(plant.place, ask.site, Haul::Loaded);
    if to_plant == Millis::NEVER || out == Millis::NEVER {
        return true;
    }
    let loading = (view.now + to_plant + policy.bay_wait).max(plant.bays_free);
    loading + at_plant(policy, plant, Volume::ZERO) + out > latest_lent
}

/// Whether no truck that stands at its home or is on its way there can be lent to a plant in time. Hundreds may, and none of them is at
/// the plant earlier than one that sets out now.
pub(super) fn too_late_from(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    plant: PlantId,
    home: PlantId,
    when: When,
) -> bool {
    let from = view.plants[home.at()].place;
    if surely_too_late_from(policy, view, ask, (from, plant), when.latest_lent) {
        return true;
    }
    let plant = &view.plants[plant.at()];
    let Some(at_bay) = when_at_bay(policy, view, (from, plant.place), view.now) else {
        return true;
    };
    let loading = (at_bay.max(when.send) + policy.bay_wait).max(plant.bays_free);
    let leaving = loading + at_plant(policy, plant, Volume::ZERO);
    if leaving > when.latest_lent {
        return true;
    }
    let ends = (plant.place, ask.site);
    let out = (view.legs.out).takes(view, policy.belief, ends, Haul::Loaded, leaving);
    // Nobody is judged otherwise for a rounding of the ways.
    out == Millis::NEVER || leaving + out - Millis::MINUTE > when.latest_lent
}

/// When the truck is believed at a bay of a plant; None without a way.
#[inline]
fn bay_time(policy: &Policy, view: &View<'_>, truck: &TruckView, plant: PlaceId) -> Option<Millis> {
    when_at_bay(
        policy,
        view,
        (truck.place, plant),
        view.now.max(truck.free_at),
    )
}

#[inline]
fn when_at_bay(
    policy: &Policy,
    view: &View<'_>,
    ends: (PlaceId, PlaceId),
    free: Millis,
) -> Option<Millis> {
    if ends.0 == ends.1 {
        return Some(free);
    }
    let to_plant = &view.legs.to_plant;
    let trip = to_plant.takes(view, policy.belief, ends, Haul::Empty, free);
    (trip < Millis::NEVER).then(|| free + trip)
}
