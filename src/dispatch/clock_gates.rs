//! Gates of drivers whose clocks are carried along: a load as a plan of statuses against every clock.

use super::choose::Candidate;
use super::gates::{home_sd, overruled, own_gate};
use super::{Ask, DriversWord, Policy, Refusal, TruckView, View};
use crate::hours::{Clocks, Drivable, DutyStatus, Fit, Rule, RuleSet};
use crate::roads::Haul;
use crate::units::{Millis, PlaceId};

/// The first clock or gate that refuses the candidate, if any; else whether the driver was overruled, or a gate of the rule
/// overridden. The law is never overridden.
pub(super) fn judge(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    truck: &TruckView,
    (book, candidate): (u16, &Candidate),
) -> Result<bool, Refusal> {
    let rules = &view.rule_sets[book as usize];
    let mut clocks = view.clocks[truck.driver.at()];
    let home = view.plants[truck.home.at()].place;
    // The driver knows the way to the plant better than the desk does.
    let free = view.now.max(truck.free_at);
    let to_bay = |belief| {
        view.roads
            .believed(belief, truck.place, candidate.place, Haul::Empty, free)
    };
    let plan = |belief, to: PlaceId| {
        let at_bay = free + to_bay(belief);
        let loading = candidate.loading.max(at_bay);
        let leaving = loading + (candidate.leaving - candidate.loading);
        let out = view
            .roads
            .believed(belief, candidate.place, ask.site, Haul::Loaded, leaving);
        let stay = ask.stay.mean(ask.volume);
        let done = leaving + out + stay;
        let away = view.roads.believed(belief, ask.site, to, Haul::Empty, done);
        [
            (DutyStatus::Driving, free - view.now),
            (DutyStatus::Driving, at_bay - free),
            (DutyStatus::Waiting, loading - at_bay),
            (DutyStatus::OnDuty, leaving - loading),
            (DutyStatus::Driving, out),
            (DutyStatus::OnDuty, stay),
            (DutyStatus::Driving, away),
        ]
    };
    if clocks.allowance().long_day {
        let steps = plan(policy.driver_belief, home);
        let back = view.now + steps.iter().map(|step| step.1).sum();
        clocks = clocks.as_released_at(rules, back + view.home_work);
    }
    let steps = plan(policy.driver_belief, ask.parking);
    let (on_site, away) = (&steps[..6], steps[6].1);
    let done = view.now + on_site.iter().map(|step| step.1).sum();
    let asked = policy.drivers_word != DriversWord::NotAsked;
    let (mut fit, then) = clocks.follow(rules, view.now, on_site);
    // Where the site is lawful parking, nothing need be known of a last leg unless the driver is asked for it.
    let then = if asked || away > Millis::ZERO {
        then.drivable(rules)
    } else {
        Drivable::ALWAYS
    };
    let last_leg = |length: Millis| then.until - done - length;
    if away > Millis::ZERO && last_leg(away) < fit.slack {
        fit.slack = last_leg(away);
        fit.binds = then.by;
    }
    if let Some(rule) = fit.binds.filter(|_| !fit.fits()) {
        return Err(Refusal::of_clock(rule));
    }
    let mut overridden = false;
    if policy.home_z.is_some() || policy.keep.is_some() {
        let steps = plan(policy.belief, home);
        let Fit { slack, binds, .. } = clocks.fits(rules, view.now, &steps);
        let sd = || home_sd(policy, view, ask, candidate, steps[6].1);
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
    let word = || {
        let belief = policy.driver_belief;
        let way = view
            .roads
            .believed(belief, ask.site, home, Haul::Empty, done);
        then.by.filter(|_| last_leg(way) < Millis::ZERO)
    };
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
    let drivable = |other: &TruckView| match other.book {
        None => Drivable {
            until: other.barred_from,
            by: Some(Rule::Window),
        },
        Some(book) => {
            let rules = &view.rule_sets[book as usize];
            let mut clocks = view.clocks[other.driver.at()];
            clocks.advance(rules, view.now);
            clocks.drivable(rules)
        }
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
