//! Gates of drivers under a rule book: a load as a plan of statuses against every clock.

use super::candidate::Candidate;
use super::gates::{home_sd, overruled, own_gate};
use super::{Ask, DriversWord, Policy, Refusal, TruckView, View};
use crate::hours::{Clock, Clocks, Drivable, DutyStatus, Fit, RuleSet};
use crate::roads::{Believed, Haul};
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
    let clocks = &view.clocks[truck.driver.at()];
    let home = view.plants[truck.home.at()].place;
    let free = view.now.max(truck.free_at);
    // The driver knows the way to the plant better than the desk does.
    let own = policy.driver_belief;
    let at_bay = free + way(view, own, (truck.place, candidate.place), Haul::Empty, free);
    let judged = |bay_wait| {
        let loading = (candidate.loading - candidate.bay_wait + bay_wait).max(at_bay);
        let before = [
            (DutyStatus::Driving, free - view.now),
            (DutyStatus::Driving, at_bay - free),
            (DutyStatus::Waiting, loading - at_bay),
            (DutyStatus::OnDuty, candidate.leaving - candidate.loading),
        ];
        let ends = (candidate.place, home);
        let as_the_desk = own == policy.belief && loading == candidate.loading;
        let out = as_the_desk.then(|| candidate.arrival - candidate.leaving);
        own_judgement(policy, view, ask, (&before, out), ends, (rules, clocks))
    };
    // The bay may be free at once, and a driver who could take the load only later does not get it: a break that the wait would
    // have made whole is none.
    if candidate.bay_wait > Millis::ZERO && clocks.can_gain_by_waiting() {
        judged(Millis::ZERO)?;
    }
    let judged = judged(candidate.bay_wait)?;
    let mut overridden = false;
    if policy.home_z.is_some() || policy.keep.is_some() {
        let stay = ask.stay.mean(ask.volume);
        let done = candidate.arrival + stay;
        let back = (view.legs.back).takes(view, policy.belief, (ask.site, home), Haul::Empty, done);
        let as_the_desk_believes = [
            (DutyStatus::Driving, free - view.now),
            (DutyStatus::Driving, candidate.at_bay - free),
            (DutyStatus::Waiting, candidate.loading - candidate.at_bay),
            (DutyStatus::OnDuty, candidate.leaving - candidate.loading),
            (DutyStatus::Driving, candidate.arrival - candidate.leaving),
            (DutyStatus::OnDuty, stay),
            (DutyStatus::Driving, back),
        ];
        let mut room = None;
        let clocks = as_released(rules, clocks, judged.released, &mut room);
        let sd = || home_sd(policy, view, ask, candidate, back);
        let wanted = policy.home_z.map(|z| Millis::from_minutes(z * sd()));
        let most = wanted.max(policy.keep).unwrap_or(Millis::ZERO);
        if !surely(rules, clocks, &as_the_desk_believes, done + back + most) {
            let Fit { slack, binds, .. } = clocks.fits(rules, view.now, &as_the_desk_believes);
            // Without a clock that binds there is no end of what is left.
            if let Some(clock) = binds {
                if wanted.is_some_and(|wanted| slack < wanted) {
                    overridden |= own_gate(policy, ask, candidate, Refusal::HomeGate(clock))?;
                }
                if policy.keep.is_some_and(|keep| slack < keep) {
                    overridden |= own_gate(policy, ask, candidate, Refusal::KeepGate(clock))?;
                }
            }
        }
    }
    let word = || {
        let Judged { done, then, .. } = judged;
        let home_at = done + (view.legs.home).takes(view, own, (ask.site, home), Haul::Empty, done);
        then.by.filter(|_| home_at > then.until)
    };
    Ok(overridden | overruled(policy, word)?)
}

/// What a driver does until a loaded truck leaves the plant.
type Before = [(DutyStatus, Millis); 4];

/// How long a way is believed to take.
fn way(
    view: &View<'_>,
    belief: Believed,
    (from, to): (PlaceId, PlaceId),
    haul: Haul,
    depart: Millis,
) -> Millis {
    if from == to {
        return Millis::ZERO;
    }
    view.roads.believed(belief, from, to, haul, depart)
}

/// The clocks by which a driver is judged who would be released then; in `room` where they are not those that are kept.
fn as_released<'c>(
    rules: &RuleSet,
    clocks: &'c Clocks,
    released: Option<Millis>,
    room: &'c mut Option<Clocks>,
) -> &'c Clocks {
    match released {
        None => clocks,
        Some(released) => room.insert(clocks.as_released_at(rules, released)),
    }
}

/// Whether it is plain that no clock bars a driver who follows the plan and is on duty until then.
fn surely(rules: &RuleSet, clocks: &Clocks, plan: &[(DutyStatus, Millis)], until: Millis) -> bool {
    let rests =
        |(status, length): &(DutyStatus, Millis)| *length > Millis::ZERO && !rules.is_duty(*status);
    let plain = clocks.surely_until(rules);
    plain.is_some_and(|plain| until <= plain) && !plan.iter().any(rests)
}

/// What a driver's own judgement of a load rests on.
#[derive(Clone, Copy)]
struct Judged {
    /// When the driver would be released, where the longer window turns on it.
    released: Option<Millis>,
    /// When the stay on site is believed to end.
    done: Millis,
    /// What may be driven from then on; not known where no last leg is, and no more of it than the way home where that is plain.
    then: Drivable,
}

/// The driver's own judgement of a load that leaves the plant `from` after `before`, the same for a promise, at the bay and at the
/// rack: trip, discharge and the drive to lawful parking within every clock, the longer window only where it leads `home` in time.
/// Else the clock that bars it. `out` is how long the loaded leg is believed to take, where that is known already.
fn own_judgement(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    (before, out): (&Before, Option<Millis>),
    (from, home): (PlaceId, PlaceId),
    (rules, clocks): (&RuleSet, &Clocks),
) -> Result<Judged, Refusal> {
    let belief = policy.driver_belief;
    let leaving = view.now + before.iter().map(|step| step.1).sum();
    let out = out.unwrap_or_else(|| {
        (view.legs.driven_out).takes(view, belief, (from, ask.site), Haul::Loaded, leaving)
    });
    let stay = ask.stay.mean(ask.volume);
    let done = leaving + out + stay;
    let to_home = || (view.legs.home).takes(view, belief, (ask.site, home), Haul::Empty, done);
    let long_day = clocks.allowance().long_day;
    let released = long_day.then(|| done + to_home() + view.home_work);
    let away = (view.legs.away).takes(view, belief, (ask.site, ask.parking), Haul::Empty, done);
    if let Some(ends) = clocks.lone_window_ends(rules, view.now) {
        // All of it is duty: it fits if what is driven last does.
        let [to_free, to_bay, ..] = *before;
        let last_driven = [
            (away, done + away),
            (out, leaving + out),
            (to_bay.1, view.now + to_free.1 + to_bay.1),
            (to_free.1, view.now + to_free.1),
        ]
        .into_iter()
        .find(|(length, _)| *length > Millis::ZERO);
        return match last_driven {
            Some((_, arrives)) if arrives > ends => Err(Refusal::of_clock(Clock::Window)),
            _ => Ok(Judged {
                released,
                done,
                then: Drivable {
                    until: ends.max(done),
                    by: Some(Clock::Window),
                },
            }),
        };
    }
    let mut room = None;
    let clocks = as_released(rules, clocks, released, &mut room);
    let [to_free, to_bay, wait, at_plant] = *before;
    let until_done = [
        to_free,
        to_bay,
        wait,
        at_plant,
        (DutyStatus::Driving, out),
        (DutyStatus::OnDuty, stay),
    ];
    // Where the site is lawful parking, nothing need be known of a last leg unless the driver is asked for it.
    let asked = policy.drivers_word != DriversWord::NotAsked;
    let farthest = if asked { away.max(to_home()) } else { away };
    if surely(rules, clocks, &until_done, done + farthest) {
        return Ok(Judged {
            released,
            done,
            then: Drivable {
                until: done + farthest,
                by: None,
            },
        });
    }
    let drives_on = asked || away > Millis::ZERO;
    let (mut fit, then) = clocks.follow(rules, view.now, &until_done, drives_on);
    let slack = then.until - done - away;
    if away > Millis::ZERO && slack < fit.slack {
        fit.slack = slack;
        fit.binds = then.by;
    }
    match fit.binds {
        Some(rule) if !fit.fits() => Err(Refusal::of_clock(rule)),
        _ => Ok(Judged {
            released,
            done,
            then,
        }),
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
    own_judgement(policy, view, ask, (&before, None), ends, clocks).map(|_| ())
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
