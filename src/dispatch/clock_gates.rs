//! Gates of drivers whose clocks are carried along: a load as a plan of statuses against every clock.

use super::choose::Candidate;
use super::gates::{home_sd, overruled, own_gate};
use super::{Ask, DriversWord, Policy, Refusal, TruckView, View};
use crate::hours::{Clocks, Drivable, DutyStatus, Fit, Rule, RuleSet};
use crate::roads::{Believed, Haul};
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
    let carried = &view.clocks[truck.driver.at()];
    let home = view.plants[truck.home.at()].place;
    // The driver knows the way to the plant better than the desk does.
    let free = view.now.max(truck.free_at);
    let until_leaving = |belief, bay_wait| {
        let to_bay = view
            .roads
            .believed(belief, truck.place, candidate.place, Haul::Empty, free);
        let at_bay = free + to_bay;
        let loading = (candidate.loading - policy.bay_wait + bay_wait).max(at_bay);
        [
            (DutyStatus::Driving, free - view.now),
            (DutyStatus::Driving, at_bay - free),
            (DutyStatus::Waiting, loading - at_bay),
            (DutyStatus::OnDuty, candidate.leaving - candidate.loading),
        ]
    };
    let ends = (candidate.place, home);
    let judged = |bay_wait| {
        let before = until_leaving(policy.driver_belief, bay_wait);
        own_judgement(policy, view, ask, &before, ends, (rules, carried))
    };
    // The bay may be free at once, and a driver who could take the load only later does not get it: a break that the wait would
    // have made whole is none.
    if policy.bay_wait > Millis::ZERO {
        judged(Millis::ZERO)?;
    }
    let Judged { clocks, done, then } = judged(policy.bay_wait)?;
    let last_leg = |length: Millis| then.until - done - length;
    let mut overridden = false;
    if policy.home_z.is_some() || policy.keep.is_some() {
        let before = until_leaving(policy.belief, policy.bay_wait);
        let steps = plan(policy.belief, view, ask, &before, (candidate.place, home));
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

/// What a driver does until a loaded truck leaves the plant.
type Before = [(DutyStatus, Millis); 4];

/// All that a driver does with a load that leaves the plant `from` after `before`, up to the end of the leg from its site to `to`.
fn plan(
    belief: Believed,
    view: &View<'_>,
    ask: &Ask<'_>,
    before: &Before,
    (from, to): (PlaceId, PlaceId),
) -> [(DutyStatus, Millis); 7] {
    let believed = |from, to, haul, at| view.roads.believed(belief, from, to, haul, at);
    let leaving = view.now + before.iter().map(|step| step.1).sum();
    let out = believed(from, ask.site, Haul::Loaded, leaving);
    let stay = ask.stay.mean(ask.volume);
    let away = believed(ask.site, to, Haul::Empty, leaving + out + stay);
    let [to_free, to_bay, wait, at_plant] = *before;
    [
        to_free,
        to_bay,
        wait,
        at_plant,
        (DutyStatus::Driving, out),
        (DutyStatus::OnDuty, stay),
        (DutyStatus::Driving, away),
    ]
}

/// What a driver's own judgement of a load rests on.
struct Judged {
    /// The clocks by which it was judged.
    clocks: Clocks,
    /// When the stay on site is believed to end.
    done: Millis,
    /// What may be driven from then on; not known where no last leg is.
    then: Drivable,
}

/// The driver's own judgement of a load, the same for a promise, at the bay and at the rack: trip, discharge and the drive to lawful
/// parking within every clock, the longer window only where it leads `home` in time. Else the clock that bars it.
fn own_judgement(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    before: &Before,
    (from, home): (PlaceId, PlaceId),
    (rules, clocks): (&RuleSet, &Clocks),
) -> Result<Judged, Refusal> {
    let belief = policy.driver_belief;
    let mut clocks = *clocks;
    if clocks.allowance().long_day {
        let steps = plan(belief, view, ask, before, (from, home));
        let back = view.now + steps.iter().map(|step| step.1).sum();
        clocks = clocks.as_released_at(rules, back + view.home_work);
    }
    let steps = plan(belief, view, ask, before, (from, ask.parking));
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
    let slack = then.until - done - away;
    if away > Millis::ZERO && slack < fit.slack {
        fit.slack = slack;
        fit.binds = then.by;
    }
    match fit.binds {
        Some(rule) if !fit.fits() => Err(Refusal::of_clock(rule)),
        _ => Ok(Judged { clocks, done, then }),
    }
}

/// Whether the driver's own judgement lets the loaded leg begin at `leaving`, still at the plant `from` until then. Else the clock
/// that bars it.
pub fn fits(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leaving: Millis,
    ends: (PlaceId, PlaceId),
    clocks: (&RuleSet, &Clocks),
) -> Result<(), Refusal> {
    let mut before = [(DutyStatus::OnDuty, Millis::ZERO); 4];
    before[3].1 = leaving - view.now;
    own_judgement(policy, view, ask, &before, ends, clocks).map(|_| ())
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
