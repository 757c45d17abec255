//! Which plants may serve a load: any that makes its mix, or the nearest or the order's usual one first.
//!
//! Where every plant may serve at once, a load asks when the farthest would have to send, and a far truck that stands idle then
//! takes it from a near one that comes back in time; `NearestFirst` asks at the nearest plant's own send time, `UsualFirst` at
//! that of the order's usual plant, and let the others in later (`tests/days/plants.rs`).

use super::closing::serves;
use super::{Leads, Plants, View};
use crate::units::{Millis, PlantId};

/// The plant that comes first for a load, and the moment from which the others may serve it too: when even a truck that came
/// free at the nearest plant would be believed later than the rule accepts. None: all may from the beginning.
pub(super) fn first(view: &View<'_>, leads: &Leads<'_>) -> Option<(PlantId, Millis)> {
    let (policy, ask) = (leads.policy, leads.ask);
    let (late_min, usual) = match policy.plants {
        Plants::Any => return None,
        Plants::NearestFirst { late_min } => (late_min, None),
        Plants::UsualFirst { late_min } => (late_min, ask.usual),
    };
    let may = |lead, plant: PlantId| serves(policy, view, ask, &view.plants[plant.at()], lead);
    let of_usual = usual.and_then(|usual| {
        let position = ask.makers.iter().position(|plant| *plant == usual)?;
        Some((leads.at(position), usual)).filter(|(lead, plant)| may(*lead, *plant))
    });
    let (lead, plant) = of_usual.or_else(|| {
        // The nearest nearly always may: only then are the others looked at.
        let mut nearest = leads.shortest(|_, _| true)?;
        while !may(nearest.0, nearest.1) {
            nearest = leads.shortest(|lead, plant| (lead, plant) > nearest)?;
        }
        Some(nearest)
    })?;
    Some((
        plant,
        ask.target - lead + policy.early + Millis::from_minutes(late_min),
    ))
}
