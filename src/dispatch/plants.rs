//! Which plants may serve a load: any that makes its mix, or the nearest or the order's usual one first.
//!
//! Where every plant may serve at once, a load asks when the farthest would have to send, and a far truck that stands idle then
//! takes it from a near one that comes back in time; `NearestFirst` asks at the nearest plant's own send time, `UsualFirst` at
//! that of the order's usual plant, and let the others in later (`tests/days/plants.rs`).

use super::closing::serves;
use super::send::lead;
use super::{Ask, Plants, Policy, View};
use crate::units::{Millis, PlantId};

/// The plant that comes first for a load, and the moment from which the others may serve it too: when even a truck that came
/// free at the nearest plant would be believed later than the rule accepts. None: all may from the beginning.
pub(super) fn first(policy: &Policy, view: &View<'_>, ask: &Ask<'_>) -> Option<(PlantId, Millis)> {
    let (late_min, usual) = match policy.plants {
        Plants::Any => return None,
        Plants::NearestFirst { late_min } => (late_min, None),
        Plants::UsualFirst { late_min } => (late_min, ask.usual),
    };
    let may = ask
        .makers
        .iter()
        .map(|plant| {
            let seen = &view.plants[plant.at()];
            (lead(policy, &view.roads, seen, ask), *plant)
        })
        .filter(|(lead, plant)| serves(policy, view, ask, &view.plants[plant.at()], *lead));
    let first = match usual {
        None => may.min(),
        Some(usual) => may
            .clone()
            .find(|(_, plant)| *plant == usual)
            .or_else(|| may.min()),
    };
    let (lead, plant) = first?;
    Some((
        plant,
        ask.target - lead + policy.early + Millis::from_minutes(late_min),
    ))
}
