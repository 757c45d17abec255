//! Gates on the driver's hours: the legal one that every driver keeps, the company's, and the rule's own.
//!
//! An override is of the rule's own gates: the law and the company's limits are never overridden, and nobody drives past a
//! limit.

use super::candidate::Candidate;
use super::clock_gates;
use super::{Ask, DriversWord, Override, Policy, Refusal, TruckView, View};
use crate::concrete::Coming;
use crate::hours::Clock;
use crate::roads::Haul;
use crate::units::{Millis, PlaceId};

/// The first gate that refuses the candidate, if any; else whether the driver was overruled, or a gate of the rule overridden.
#[inline]
pub(super) fn judge(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    truck: &TruckView,
    candidate: &Candidate,
) -> Result<bool, Refusal> {
    if too_old(
        policy,
        view,
        ask,
        candidate.place,
        candidate.loading,
        candidate.leaving,
    ) {
        return Err(Refusal::Age);
    }
    if candidate.loading > truck.no_load_from {
        return Err(Refusal::CompanyLimit);
    }
    if candidate.loading > truck.relieved {
        return Err(Refusal::Relieved);
    }
    let mut overridden = false;
    if policy
        .last_load
        .is_some_and(|limit| candidate.loading > truck.report + limit)
    {
        overridden |= own_gate(policy, ask, candidate, Refusal::LastLoadGate)?;
    }
    let home = view.plants[truck.home.at()].place;
    if truck.finish_by < Millis::NEVER
        && home_by(policy, view, ask, candidate, home) > truck.finish_by
    {
        return Err(Refusal::CompanyFinish);
    }
    if let Some(reserve) = policy.reserve
        && let Some(refusal) = clock_gates::kept_in_reserve(view, truck, candidate, reserve)
    {
        overridden |= own_gate(policy, ask, candidate, refusal)?;
    }
    if truck.rule_book.limits() {
        overridden |= clock_gates::judge(policy, view, ask, truck, candidate)?;
    }
    Ok(overridden)
}

/// A gate of the rule's own that refuses: it stands, or is overridden, which is `Ok(true)`.
pub(super) fn own_gate(
    policy: &Policy,
    ask: &Ask<'_>,
    candidate: &Candidate,
    refusal: Refusal,
) -> Result<bool, Refusal> {
    let overrides = match policy.override_gates {
        Override::Never => false,
        Override::IfLate { minutes } => {
            candidate.arrival - ask.target >= Millis::from_minutes(minutes)
        }
        Override::Share { .. } => ask.overrides,
    };
    if overrides { Ok(true) } else { Err(refusal) }
}

/// Whether the driver is overruled who says that a clock will end on the way home; refused where the driver is heard.
pub(super) fn overruled(
    policy: &Policy,
    ends_before_home: impl FnOnce() -> Option<Clock>,
) -> Result<bool, Refusal> {
    if policy.drivers_word == DriversWord::NotAsked {
        return Ok(false);
    }
    match ends_before_home() {
        None => Ok(false),
        Some(clock) if policy.drivers_word == DriversWord::Heard => {
            Err(Refusal::DriversWord(clock))
        }
        Some(_) => Ok(true),
    }
}

/// Whether the load would pass the age limit of the site before the truck leaves it. Drivers and batchers know which sites lie too far
/// at the hour, whatever the desk believes.
#[inline]
pub(super) fn too_old(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    plant: PlaceId,
    batched: Millis,
    leaving: Millis,
) -> bool {
    policy.age_limit.as_ref().is_some_and(|limit| {
        let (belief, ends) = (policy.driver_belief, (plant, ask.site));
        let trip = (view.legs.driven_out).takes(view, belief, ends, Haul::Loaded, leaving);
        limit.passed_by(&Coming {
            batched,
            arrives: leaving + trip,
            stay: ask.stay.mean(ask.volume),
            retarder: ask.retarder,
            order: ask.age,
            warmer_f: view.warmer_f,
        })
    })
}

/// The standard deviation of all that lies between now and home.
pub(super) fn home_sd(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    candidate: &Candidate,
    back: Millis,
) -> f64 {
    let plant = &view.plants[candidate.plant.at()];
    let trip_sd = |trip: Millis| policy.trip_cv * trip.minutes();
    let (out_sd, back_sd) = (
        trip_sd(candidate.arrival - candidate.leaving),
        trip_sd(back),
    );
    let variance = plant.loading.variance(ask.volume)
        + plant.rack.variance(ask.volume)
        + ask.stay.variance(ask.volume)
        + out_sd * out_sd
        + back_sd * back_sd;
    variance.sqrt()
}

/// When the driver is believed home.
fn home_by(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    candidate: &Candidate,
    home: PlaceId,
) -> Millis {
    let leaves_site = candidate.arrival + ask.stay.mean(ask.volume);
    leaves_site
        + view
            .roads
            .believed(policy.belief, ask.site, home, Haul::Empty, leaves_site)
}
