//! Gates of drivers whose clocks are carried along: a load as a plan of statuses against every clock.

use super::choose::Candidate;
use super::gates::{home_sd, overruled, own_gate};
use super::{Ask, DriversWord, Policy, Refusal, TruckView, View};
use crate::hours::{Clocks, Drivable, DutyStatus, RuleSet};
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
    let clocks = &view.clocks[truck.driver.at()];
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
    let home = view.plants[truck.home.at()].place;
    let mut overridden = false;
    if policy.home_z.is_some() || policy.keep.is_some() {
        let steps = plan(policy.belief, home);
        let slack = clocks.fits(rules, view.now, &steps).slack;
        let sd = || home_sd(policy, view, ask, candidate, steps[6].1);
        if policy
            .home_z
            .is_some_and(|z| slack < Millis::from_minutes(z * sd()))
        {
            overridden |= own_gate(policy, ask, candidate, Refusal::HomeGate)?;
        }
        if policy.keep.is_some_and(|keep| slack < keep) {
            overridden |= own_gate(policy, ask, candidate, Refusal::KeepGate)?;
        }
    }
    let word = || {
        let belief = policy.driver_belief;
        let way = view
            .roads
            .believed(belief, ask.site, home, Haul::Empty, done);
        last_leg(way) >= Millis::ZERO
    };
    Ok(overridden | overruled(policy, word)?)
}

/// Whether the driver's own judgement lets the loaded leg begin at `leaving`, still at the plant `from` until then: trip,
/// discharge and the drive to lawful parking within every clock. Else the clock that bars it.
pub fn fits(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leaving: Millis,
    from: PlaceId,
    (rules, clocks): (&RuleSet, &Clocks),
) -> Result<(), Refusal> {
    let believed = |from, to, haul, at| {
        view.roads
            .believed(policy.driver_belief, from, to, haul, at)
    };
    let out = believed(from, ask.site, Haul::Loaded, leaving);
    let stay = ask.stay.mean(ask.volume);
    let away = believed(ask.site, ask.parking, Haul::Empty, leaving + out + stay);
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

/// Whether the candidate is the last driver standing free at the truck's home plant with so much left on every clock: the one
/// who is kept in reserve.
pub(super) fn keeps_last(
    view: &View<'_>,
    truck: &TruckView,
    candidate: &Candidate,
    reserve: Millis,
) -> bool {
    let can_help = |other: &TruckView| {
        let left = match other.book {
            None => other.barred_from - view.now,
            Some(book) => {
                let rules = &view.rule_sets[book as usize];
                let mut clocks = view.clocks[other.driver.at()];
                clocks.advance(rules, view.now);
                clocks.drivable(rules).until - view.now
            }
        };
        let home = view.plants[other.home.at()].place;
        other.home == truck.home
            && other.place == home
            && other.free_at <= view.now
            && left >= reserve
    };
    // A truck that does not stand there is no reserve: it may be sent.
    can_help(truck)
        && !view
            .free
            .iter()
            .any(|other| *other != candidate.truck && can_help(&view.trucks[other.at()]))
}
