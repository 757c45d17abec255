//! Loads whose send time lies beyond the closing of their plant: loaded as it closes, where site and concrete bear it.
//!
//! A yard that closes at six batches the load that it would send at ten past as the last one of the day, and lets it wait on site.
//! It does so only where no plant that makes the mix is open when it would send the load in time.

use super::gates::too_old;
use super::send::at_plant;
use super::{Ask, Leads, PlantView, Policy, View};
use crate::roads::Haul;
use crate::units::{Millis, PlantId};

/// Whether a plant is open when a load is to be sent that has this lead, and near enough for its age.
pub(super) fn serves(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    seen: &PlantView,
    lead: Millis,
) -> bool {
    let joins = view.now.max(ask.target - lead);
    lead < Millis::NEVER
        && seen.opens <= joins
        && joins + policy.bay_wait <= seen.closes
        && !too_old(
            policy,
            view,
            ask,
            seen.place,
            joins,
            joins + at_plant(policy, seen, ask.volume),
        )
}

/// How long a load that comes on site so early waits there, if the order bears it: no earlier than it may be late.
pub(super) fn wait_on_site(ask: &Ask<'_>, arrival: Millis) -> Option<Millis> {
    let wait = (ask.target - arrival).max(Millis::ZERO);
    (wait <= ask.late).then_some(wait)
}

/// The load as one that stays on site so much longer.
pub(super) fn waiting<'a>(ask: &Ask<'a>, wait: Millis) -> Ask<'a> {
    Ask {
        stay: ask.stay.and_minutes(wait.minutes()),
        ..*ask
    }
}

/// The send time of a load that is loaded as the plant closes, if it closes before the load is to be sent, and site and age bear it.
pub(super) fn as_it_closes(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    seen: &PlantView,
    lead: Millis,
) -> Option<Millis> {
    let last = seen.closes - policy.bay_wait;
    if lead == Millis::NEVER || last < view.now || ask.target - lead <= last {
        return None;
    }
    let leaving = seen.closes + at_plant(policy, seen, ask.volume);
    let trip = view
        .roads
        .believed(policy.belief, seen.place, ask.site, Haul::Loaded, leaving);
    let waits = waiting(ask, wait_on_site(ask, leaving + trip)?);
    (!too_old(policy, view, &waits, seen.place, seen.closes, leaving)).then_some(last)
}

/// When a load has to ask for which every plant is closed at its send time: when the first of them closes that can still load it.
/// `seen` tells a plant in the hours that hold then or were the last before.
pub fn last_call(
    view: &View<'_>,
    leads: &Leads<'_>,
    seen: impl Fn(PlantId, Millis) -> PlantView,
) -> Option<Millis> {
    let (policy, ask) = (leads.policy, leads.ask);
    let plants = || (leads.each()).map(|(plant, lead)| (seen(plant, lead), lead));
    if plants().any(|(seen, lead)| serves(policy, view, ask, &seen, lead)) {
        return None;
    }
    plants()
        .filter_map(|(seen, lead)| as_it_closes(policy, view, ask, &seen, lead))
        .min()
}
