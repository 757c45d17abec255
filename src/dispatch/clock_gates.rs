//! Gates of drivers under a rule book: a load as a plan of statuses against every clock.

use super::choose::Candidate;
use super::gates::{home_sd, overruled, own_gate};
use super::{Ask, DriversWord, Policy, Refusal, TruckView, View};
use crate::hours::{Clocks, Drivable, DutyStatus, Fit, RuleSet};
use crate::roads::Haul;
use crate::units::{Millis, PlaceId};

/// The first clock or gate that refuses the candidate, if any; else whether the driver was overruled, or a gate of the rule
/// overridden. The law is never overridden.
pub(super) fn judge(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    truck: &TruckView,
    candidate: &Candidate,
) -> Result<bool, Refusal> {
    let Some(rules) = truck.rule_book.of(view.rule_sets) else {
        return Ok(false);
    };
    let mut clocks = &view.clocks[truck.driver.at()];
    let within_longer_window;
    let home = view.plants[truck.home.at()].place;
    let stay = ask.stay.mean(ask.volume);
    let free = view.now.max(truck.free_at);
    let way = |belief, from: PlaceId, to, haul, depart| {
        if from == to {
            return Millis::ZERO;
        }
        view.roads.believed(belief, from, to, haul, depart)
    };
    // The driver knows the way to the plant better than the desk does.
    let own = policy.driver_belief;
    let at_bay = free + way(own, truck.place, candidate.place, Haul::Empty, free);
    let loading = candidate.loading.max(at_bay);
    let leaving = loading + (candidate.leaving - candidate.loading);
    let out = way(own, candidate.place, ask.site, Haul::Loaded, leaving);
    let done = leaving + out + stay;
    let away = |to| way(own, ask.site, to, Haul::Empty, done);
    if clocks.allowance().long_day {
        let released = done + away(home) + view.home_work;
        within_longer_window = clocks.as_released_at(rules, released);
        clocks = &within_longer_window;
    }
    let to_parking = away(ask.parking);
    let asked = policy.drivers_word != DriversWord::NotAsked;
    // Where the site is lawful parking, nothing need be known of a last leg unless the driver is asked for it.
    let drives_on = asked || to_parking > Millis::ZERO;
    let until_done = [
        (DutyStatus::Driving, free - view.now),
        (DutyStatus::Driving, at_bay - free),
        (DutyStatus::Waiting, loading - at_bay),
        (DutyStatus::OnDuty, leaving - loading),
        (DutyStatus::Driving, out),
        (DutyStatus::OnDuty, stay),
    ];
    let (mut fit, then) = clocks.follow(rules, view.now, &until_done, drives_on);
    let last_leg = |length: Millis| then.until - done - length;
    if to_parking > Millis::ZERO && last_leg(to_parking) < fit.slack {
        fit.slack = last_leg(to_parking);
        fit.binds = then.by;
    }
    if let Some(rule) = fit.binds.filter(|_| !fit.fits()) {
        return Err(Refusal::of_clock(rule));
    }
    let mut overridden = false;
    if policy.home_z.is_some() || policy.keep.is_some() {
        let done = candidate.arrival + stay;
        let back = way(policy.belief, ask.site, home, Haul::Empty, done);
        let as_the_desk_believes = [
            (DutyStatus::Driving, free - view.now),
            (DutyStatus::Driving, candidate.at_bay - free),
            (DutyStatus::Waiting, candidate.loading - candidate.at_bay),
            (DutyStatus::OnDuty, candidate.leaving - candidate.loading),
            (DutyStatus::Driving, candidate.arrival - candidate.leaving),
            (DutyStatus::OnDuty, stay),
            (DutyStatus::Driving, back),
        ];
        let Fit { slack, binds, .. } = clocks.fits(rules, view.now, &as_the_desk_believes);
        let sd = || home_sd(policy, view, ask, candidate, back);
        // Without a clock that binds there is no end of what is left.
        if let Some(clock) = binds {
            if policy
                .home_z
                .is_some_and(|z| slack < Millis::from_minutes(z * sd()))
            {
                overridden |= own_gate(policy, ask, candidate, Refusal::HomeGate(clock))?;
            }
            if policy.keep.is_some_and(|keep| slack < keep) {
                overridden |= own_gate(policy, ask, candidate, Refusal::KeepGate(clock))?;
            }
        }
    }
    let word = || then.by.filter(|_| last_leg(away(home)) < Millis::ZERO);
    Ok(overridden | overruled(policy, word)?)
}

/// Whether the driver's own judgement lets the loaded leg begin at `leaving`, still at the plant `from` until then: trip,
/// discharge and the drive to lawful parking within every clock; the longer window only where it leads `home` in time. Else the
/// clock that bars it.
pub fn fits(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leaving: Millis,
    (from, home): (PlaceId, PlaceId),
    (rules, clocks): (&RuleSet, &Clocks),
) -> Result<(), Refusal> {
    let believed = |from, to, haul, at| {
        view.roads
            .believed(policy.driver_belief, from, to, haul, at)
    };
    let out = believed(from, ask.site, Haul::Loaded, leaving);
    let stay = ask.stay.mean(ask.volume);
    let done = leaving + out + stay;
    let away = believed(ask.site, ask.parking, Haul::Empty, done);
    let back = done + believed(ask.site, home, Haul::Empty, done);
    let clocks = clocks.as_released_at(rules, back + view.home_work);
    let plan = [
        (DutyStatus::OnDuty, leaving - view.now),
        (DutyStatus::Driving, out),
        (DutyStatus::OnDuty, stay),
        (DutyStatus::Driving, away),
    ];
    let fit = clocks.fits(rules, view.now, &plan);
    match fit.binds {
        Some(rule) if !fit.fits() => Err(Refusal::of_clock(rule)),
        _ => Ok(()),
    }
}

/// The refusal of a candidate who is the last driver standing free at the truck's home plant with so much left on every clock: the
/// one who is kept in reserve.
pub(super) fn kept_in_reserve(
    view: &View<'_>,
    truck: &TruckView,
    candidate: &Candidate,
    reserve: Millis,
) -> Option<Refusal> {
    let home = view.plants[truck.home.at()].place;
    // A truck that does not stand there is no reserve: it may be sent.
    let stands = |other: &TruckView| {
        other.home == truck.home && other.place == home && other.free_at <= view.now
    };
    let drivable = |other: &TruckView| {
        let rules = other.rule_book.of(view.rule_sets);
        rules.map_or(Drivable::ALWAYS, |rules| {
            view.clocks[other.driver.at()].drivable_at(rules, view.now)
        })
    };
    let can_help = |drivable: Drivable| drivable.until - view.now >= reserve;
    if !stands(truck) || !can_help(drivable(truck)) {
        return None;
    }
    let mut longest: Option<Drivable> = None;
    for other in view.free {
        let other_truck = &view.trucks[other.at()];
        if *other == candidate.truck || !stands(other_truck) {
            continue;
        }
        let other = drivable(other_truck);
        if can_help(other) {
            return None;
        }
        if longest.is_none_or(|longest| other.until > longest.until) {
            longest = Some(other);
        }
    }
    Some(Refusal::ReserveGate(longest.and_then(|other| other.by)))
}
