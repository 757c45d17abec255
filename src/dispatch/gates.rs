//! Gates on the driver's hours: the legal one that every driver keeps, the company's, and the rule's own.

use super::choose::Candidate;
use super::clock_gates;
use super::{Ask, DriversWord, Override, Policy, Refusal, TruckView, View};
use crate::concrete::Coming;
use crate::hours::Rule;
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
    let mut overridden = false;
    if policy
        .last_load
        .is_some_and(|limit| candidate.loading > truck.report + limit)
    {
        overridden |= own_gate(policy, ask, candidate, Refusal::LastLoadGate)?;
    }
    let home = view.plants[truck.home.at()].place;
    if truck.finish_by < Millis::NEVER
        && home_by(policy, view, ask, candidate, home, 0.0) > truck.finish_by
    {
        return Err(Refusal::CompanyFinish);
    }
    if let Some(reserve) = policy.reserve
        && let Some(refusal) = clock_gates::kept_in_reserve(view, truck, candidate, reserve)
    {
        overridden |= own_gate(policy, ask, candidate, refusal)?;
    }
    if let Some(book) = truck.book {
        return clock_gates::judge(policy, view, ask, truck, (book, candidate))
            .map(|also| overridden || also);
    }
    if truck.barred_from == Millis::NEVER {
        return Ok(overridden);
    }
    // The driver knows the way to the plant better than the desk does.
    let free = view.now.max(truck.free_at);
    let at_bay = free
        + view.roads.believed(
            policy.driver_belief,
            truck.place,
            candidate.place,
            Haul::Empty,
            free,
        );
    let leaving = candidate
        .leaving
        .max(at_bay + (candidate.leaving - candidate.loading));
    let in_window = |leaving| {
        fits(
            policy,
            view,
            ask,
            leaving,
            candidate.place,
            truck.barred_from,
        )
    };
    // The bay may be free at once.
    let at_once = (leaving - policy.bay_wait).max(at_bay + (candidate.leaving - candidate.loading));
    if !in_window(leaving) || policy.bay_wait > Millis::ZERO && !in_window(at_once) {
        return Err(Refusal::DutyWindow);
    }
    if policy
        .home_z
        .is_some_and(|z| home_by(policy, view, ask, candidate, home, z) > truck.barred_from)
    {
        overridden |= own_gate(policy, ask, candidate, Refusal::HomeGate(Rule::Window))?;
    }
    if policy.keep.is_some_and(|keep| {
        home_by(policy, view, ask, candidate, home, 0.0) + keep > truck.barred_from
    }) {
        overridden |= own_gate(policy, ask, candidate, Refusal::KeepGate(Rule::Window))?;
    }
    let word = || {
        let fits = home_fits(policy, view, ask, leaving, candidate.place, home, truck);
        (!fits).then_some(Rule::Window)
    };
    Ok(overridden | overruled(policy, word)?)
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
    ends_before_home: impl FnOnce() -> Option<Rule>,
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

/// Whether the driver, by own judgement, would be home within the window.
fn home_fits(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leaving: Millis,
    from: PlaceId,
    home: PlaceId,
    truck: &TruckView,
) -> bool {
    let leg = |from, to, haul, depart| {
        view.roads
            .believed(policy.driver_belief, from, to, haul, depart)
    };
    let arrival = leaving + leg(from, ask.site, Haul::Loaded, leaving);
    let done = arrival + ask.stay.mean(ask.volume);
    done + leg(ask.site, home, Haul::Empty, done) <= truck.barred_from
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
        let trip =
            view.roads
                .believed(policy.driver_belief, plant, ask.site, Haul::Loaded, leaving);
        limit.passed_by(&Coming {
            batched,
            arrives: leaving + trip,
            stay: ask.stay.mean(ask.volume),
            retarder: ask.retarder,
            warmer_f: view.warmer_f,
        })
    })
}

/// Whether the driver's own judgement lets the loaded leg begin: trip, discharge and the drive to lawful parking within
/// the window.
#[inline]
pub fn fits(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leaving: Millis,
    from: PlaceId,
    barred_from: Millis,
) -> bool {
    let arrival = leaving
        + view
            .roads
            .believed(policy.driver_belief, from, ask.site, Haul::Loaded, leaving);
    if ask.parking == ask.site {
        // The stay itself is not driving: only the arrival must be legal.
        return arrival <= barred_from;
    }
    let done = arrival + ask.stay.mean(ask.volume);
    done + view.roads.believed(
        policy.driver_belief,
        ask.site,
        ask.parking,
        Haul::Empty,
        done,
    ) <= barred_from
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

/// When the driver is believed home, at the `z`-th standard deviation of the sum of all that lies between.
fn home_by(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    candidate: &Candidate,
    home: PlaceId,
    z: f64,
) -> Millis {
    let leaves_site = candidate.arrival + ask.stay.mean(ask.volume);
    let back = view
        .roads
        .believed(policy.belief, ask.site, home, Haul::Empty, leaves_site);
    leaves_site + back + Millis::from_minutes(z * home_sd(policy, view, ask, candidate, back))
}
