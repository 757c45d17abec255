//! Which plants may serve a load: any that makes its mix, or the nearest or the order's usual one first.
//!
//! Where every plant may serve at once, a load asks when the farthest would have to send, and a far truck that stands idle then
//! takes it from a near one that comes back in time; `NearestFirst` asks at the nearest plant's own send time, `UsualFirst` at
//! that of the order's usual plant, and let the others in later (`tests/days/plants.rs`).

use super::closing::serves;
use super::{Ask, Plants, Policy, View};
use crate::units::{Millis, PlantId};

/// The plant that comes first for a load, and the moment from which the others may serve it too: when even a truck that came
/// free at the nearest plant would be believed later than the rule accepts. None: all may from the beginning.
///
/// `leads` has the lead at each plant that makes the mix.
pub(super) fn first(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leads: &[Millis],
) -> Option<(PlantId, Millis)> {
    let (late_min, usual) = match policy.plants {
        Plants::Any => return None,
        Plants::NearestFirst { late_min } => (late_min, None),
        Plants::UsualFirst { late_min } => (late_min, ask.usual),
    };
    let makers = || leads.iter().copied().zip(ask.makers.iter().copied());
    let may = |(lead, plant): (Millis, PlantId)| {
        serves(policy, view, ask, &view.plants[plant.at()], lead)
    };
    let of_usual = usual.and_then(|usual| makers().find(|(_, plant)| *plant == usual));
    let (lead, plant) = of_usual.filter(|maker| may(*maker)).or_else(|| {
        // The nearest nearly always may: only then are the others looked at.
        let mut nearest = makers().min()?;
        while !may(nearest) {
            nearest = makers().filter(|maker| *maker > nearest).min()?;
        }
        Some(nearest)
    })?;
    Some((
        plant,
        ask.target - lead + policy.early + Millis::from_minutes(late_min),
    ))
}
