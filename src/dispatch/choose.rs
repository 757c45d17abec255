//! Which plant and truck take a load: every plant that makes the mix with every truck that can be promised; gates first,
//! each refusal with its reason; then the ranking.

use super::closing::{as_it_closes, serves, wait_on_site, waiting};
use super::cost::cost;
use super::plants;
use super::send::at_plant;
use super::{
    Ask, Choose, GivenUp, Lend, Override, Policy, Refusal, TruckView, View, gates, load_size,
};
use crate::roads::Haul;
use crate::units::{Millis, PlaceId, PlantId, TruckId, Volume};

/// A plant and a truck for a load, with what is believed of it.
#[derive(Clone, Copy, Debug)]
pub struct Candidate {
    /// The truck.
    pub truck: TruckId,
    /// The plant.
    pub plant: PlantId,
    /// The plant's place.
    pub place: PlaceId,
    /// Whether the plant is not the truck's home.
    pub lent: bool,
    /// The volume that it would get.
    pub volume: Volume,
    /// The plant's send time: loading starts no earlier.
    pub send: Millis,
    /// When the truck would be at the bay.
    pub at_bay: Millis,
    /// How long it would wait for the bay.
    pub bay_wait: Millis,
    /// When loading would start.
    pub loading: Millis,
    /// When it would leave the rack.
    pub leaving: Millis,
    /// When it would be on site.
    pub arrival: Millis,
    /// Whether a gate of the rule was overridden for it, or its driver overruled.
    pub overridden: bool,
}

/// Hears who is refused for a load.
pub trait Refusals {
    /// Whether it hears of each. Else of those whom the rule does not even look at, since they stand at another plant, together.
    const EACH: bool;

    /// A truck is refused at a plant.
    fn each(&mut self, truck: TruckId, plant: PlantId, reason: Refusal);

    /// So many trucks are refused for this reason.
    fn together(&mut self, trucks: usize, reason: Refusal);
}

/// Chooses for a load. A plant that closes before it would send the load loads it as it closes, where that is borne
/// (`closing.rs`). `leads` has the lead at each plant that makes the mix. `scratch` is emptied and used for the candidates; `refused` hears every refusal. None: the load waits.
/// `look_again` is when it should ask anew although no truck has become free, [`Millis::NEVER`] if that would not help.
pub fn choose<R: Refusals>(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    leads: &[Millis],
    scratch: &mut Vec<Candidate>,
    refused: &mut R,
    look_again: &mut Millis,
) -> Option<Candidate> {
    scratch.clear();
    let first = plants::first(policy, view, ask, leads).filter(|(_, others)| view.now < *others);
    *look_again = first.map_or(Millis::NEVER, |(_, others)| others);
    let mut all_closed = None;
    let mut given_up = false;
    // Whether a truck is lent turns on when the plant's own would come: those are looked at first.
    let in_turn: &[Whose] = match policy.lend {
        Lend::IfSaves { .. } => &[Whose::Own, Whose::Others],
        _ => &[Whose::All],
    };
    for whose in in_turn {
        let latest_lent = match (policy.lend, whose) {
            (Lend::IfSaves { minutes }, Whose::Others) => {
                let own = scratch.iter().map(|c| c.arrival).min();
                own.map_or(Millis::NEVER, |own| own - Millis::from_minutes(minutes))
            }
            _ => Millis::NEVER,
        };
        for (plant, lead_here) in ask.makers.iter().zip(leads.iter().copied()) {
            if first.is_some_and(|(nearest, _)| nearest != *plant) {
                if *whose != Whose::Others {
                    refuse(refused, view.offered, *plant, Refusal::NearerPlant);
                }
                continue;
            }
            let seen = &view.plants[plant.at()];
            let mut send = ask.target - lead_here;
            let mut early = false;
            if send + policy.bay_wait > seen.closes
                && let Some(last) = as_it_closes(policy, view, ask, seen, lead_here)
                && *all_closed.get_or_insert_with(|| {
                    let serves = |(plant, lead): (&PlantId, &Millis)| {
                        serves(policy, view, ask, &view.plants[plant.at()], *lead)
                    };
                    !ask.makers.iter().zip(leads).any(serves)
                })
            {
                (send, early) = (last, true);
            }
            let when = When {
                send,
                early,
                latest_lent,
            };
            let mut judge = |truck: &TruckId, refused: &mut R| {
                let judged = match just_given_up(view, ask, *plant, *truck) {
                    Some(why) => {
                        given_up = true;
                        Err(why)
                    }
                    None => candidate(policy, view, ask, *plant, *truck, when),
                };
                match judged {
                    Ok(candidate) => scratch.push(candidate),
                    Err(refusal) => refused.each(*truck, *plant, refusal),
                }
            };
            match (&view.by_home, whose) {
                (Some(by_home), Whose::Own) => {
                    (by_home.offered[plant.at()].iter()).for_each(|truck| judge(truck, refused));
                }
                (Some(by_home), Whose::Others) => {
                    for home in (0..view.plants.len()).map(PlantId::new) {
                        let trucks = &by_home.offered[home.at()][..];
                        if home == *plant || trucks.is_empty() {
                            continue;
                        }
                        let all_there = !R::EACH && by_home.elsewhere[home.at()] == 0;
                        if all_there && too_late_from(policy, view, ask, *plant, home, when) {
                            refused.together(trucks.len(), Refusal::NotLent);
                            continue;
                        }
                        trucks.iter().for_each(|truck| judge(truck, refused));
                    }
                }
                (Some(by_home), Whose::All) if policy.lend == Lend::Never && !R::EACH => {
                    let here = &by_home.offered[plant.at()][..];
                    refused.together(view.offered.len() - here.len(), Refusal::NotLent);
                    here.iter().for_each(|truck| judge(truck, refused));
                }
                _ => {
                    let offered = view.offered.iter();
                    offered
                        .filter(|truck| whose.holds(view.trucks[truck.at()].home == *plant))
                        .for_each(|truck| judge(truck, refused));
                }
            }
        }
    }
    if given_up {
        *look_again = (*look_again).min(view.now + Millis::MINUTE);
    }
    if let Override::IfLate { minutes } = policy.override_gates {
        // Whoever passes the gates and is not that late goes first.
        let late = ask.target + Millis::from_minutes(minutes);
        if scratch.iter().any(|c| !c.overridden && c.arrival < late) {
            scratch.retain(|c| !c.overridden);
        } else if scratch.is_empty() {
            let then = late_enough(policy, ask, leads, minutes);
            if view.now < then {
                *look_again = (*look_again).min(then);
            }
        }
    }
    best(policy, view, ask, scratch)
}

/// Which trucks of a plant that may load are looked at together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Whose {
    All,
    /// Those whose home it is.
    Own,
    Others,
}

impl Whose {
    fn holds(self, own: bool) -> bool {
        match self {
            Self::All => true,
            Self::Own => own,
            Self::Others => !own,
        }
    }
}

/// When a plant would send a load.
#[derive(Clone, Copy)]
struct When {
    send: Millis,
    /// Whether it sends it before that as it closes.
    early: bool,
    /// A truck of another plant that would come later than this is not lent.
    latest_lent: Millis,
}

/// All of these trucks are refused at a plant.
fn refuse<R: Refusals>(refused: &mut R, trucks: &[TruckId], plant: PlantId, reason: Refusal) {
    if R::EACH {
        for truck in trucks {
            refused.each(*truck, plant, reason);
        }
    } else {
        refused.together(trucks.len(), reason);
    }
}

/// When a truck that stands at the plant nearest in time would be late enough for the gates to be overridden.
fn late_enough(policy: &Policy, ask: &Ask<'_>, leads: &[Millis], minutes: f64) -> Millis {
    let leads = leads.iter().filter(|lead| **lead < Millis::NEVER);
    leads.min().map_or(Millis::NEVER, |lead| {
        ask.target - *lead + policy.early + Millis::from_minutes(minutes)
    })
}

/// Why a truck has given up this load at this plant at this very moment. What its driver then refuses may look possible again, as a
/// later start can be the better one where roads are closed for a time: the two would go on for ever.
#[inline]
fn just_given_up(
    view: &View<'_>,
    ask: &Ask<'_>,
    plant: PlantId,
    truck: TruckId,
) -> Option<Refusal> {
    let same =
        |last: &&GivenUp| (last.truck, Some(last.load), last.plant) == (truck, ask.load, plant);
    view.given_up.iter().find(same).map(|last| last.why)
}

fn candidate(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    plant_id: PlantId,
    truck_id: TruckId,
    When {
        send,
        early,
        latest_lent,
    }: When,
) -> Result<Candidate, Refusal> {
    let truck = &view.trucks[truck_id.at()];
    let plant = &view.plants[plant_id.at()];
    let lent = truck.home != plant_id;
    if lent && policy.lend == Lend::Never {
        return Err(Refusal::NotLent);
    }
    let mut sized = Ask {
        volume: load_size(policy, truck, ask.volume, ask.lb_per_yd3)?,
        ..*ask
    };
    if !view.roads.reaches(plant.place, ask.site, Haul::Loaded) {
        return Err(Refusal::NoWay);
    }
    let at_bay = bay_time(policy, view, truck, plant.place).ok_or(Refusal::NoWay)?;
    let joins = at_bay.max(send);
    let loading = (joins + policy.bay_wait).max(plant.bays_free);
    let leaving = loading + at_plant(policy, plant, sized.volume);
    let ends = (plant.place, ask.site);
    let arrival = leaving + (view.legs.out).takes(view, policy.belief, ends, Haul::Loaded, leaving);
    if lent && arrival > latest_lent {
        return Err(Refusal::NotLent);
    }
    // Nobody is promised to a plant that is still closed by then: the load asks again when it opens.
    if plant.opens > joins || loading > plant.closes {
        return Err(Refusal::PlantClosed);
    }
    if early {
        // Its age and the driver's hours have to bear the wait on site too.
        let wait = wait_on_site(&sized, arrival).ok_or(Refusal::PlantClosed)?;
        sized = waiting(&sized, wait);
    }
    let mut candidate = Candidate {
        truck: truck_id,
        plant: plant_id,
        place: plant.place,
        lent,
        volume: sized.volume,
        send,
        at_bay,
        bay_wait: loading - joins,
        loading,
        leaving,
        arrival,
        overridden: false,
    };
    candidate.overridden = gates::judge(policy, view, &sized, truck, &candidate)?;
    Ok(candidate)
}

/// Whether no truck that stands at its home or is on its way there can be lent to a plant in time. Hundreds may, and none of them is at
/// the plant earlier than one that sets out now.
fn too_late_from(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    plant: PlantId,
    home: PlantId,
    when: When,
) -> bool {
    let (from, plant) = (view.plants[home.at()].place, &view.plants[plant.at()]);
    let Some(at_bay) = when_at_bay(policy, view, (from, plant.place), view.now) else {
        return true;
    };
    let loading = (at_bay.max(when.send) + policy.bay_wait).max(plant.bays_free);
    let leaving = loading + at_plant(policy, plant, Volume::ZERO);
    if leaving > when.latest_lent {
        return true;
    }
    let ends = (plant.place, ask.site);
    let out = (view.legs.out).takes(view, policy.belief, ends, Haul::Loaded, leaving);
    // Nobody is judged otherwise for a rounding of the ways.
    out == Millis::NEVER || leaving + out - Millis::MINUTE > when.latest_lent
}

/// When the truck is believed at a bay of a plant; None without a way.
#[inline]
fn bay_time(policy: &Policy, view: &View<'_>, truck: &TruckView, plant: PlaceId) -> Option<Millis> {
    when_at_bay(
        policy,
        view,
        (truck.place, plant),
        view.now.max(truck.free_at),
    )
}

#[inline]
fn when_at_bay(
    policy: &Policy,
    view: &View<'_>,
    ends: (PlaceId, PlaceId),
    free: Millis,
) -> Option<Millis> {
    if ends.0 == ends.1 {
        return Some(free);
    }
    let to_plant = &view.legs.to_plant;
    let trip = to_plant.takes(view, policy.belief, ends, Haul::Empty, free);
    (trip < Millis::NEVER).then(|| free + trip)
}

/// The best by the rule's ranking; ties go to the earlier at the bay, then to the listed order of trucks.
fn best(
    policy: &Policy,
    view: &View<'_>,
    ask: &Ask<'_>,
    candidates: &[Candidate],
) -> Option<Candidate> {
    let key = |c: &Candidate| {
        let truck = &view.trucks[c.truck.at()];
        let first = match policy.choose {
            Choose::Nearest => (c.arrival - c.leaving).0,
            Choose::LongestIdle => truck.idle_since.0,
            Choose::SoonestOnSite => c.arrival.max(ask.target).0,
            Choose::FewestHours => -truck.report.0,
            Choose::Seniority => i64::from(truck.seniority),
            Choose::Cheapest => cost(policy, view, ask, c),
        };
        let second = match policy.choose {
            Choose::SoonestOnSite => c.arrival - c.leaving,
            _ => Millis::ZERO,
        };
        (first, second, c.at_bay, c.truck, c.plant)
    };
    match candidates {
        [] => None,
        [only] => Some(*only),
        _ => candidates.iter().min_by_key(|c| key(c)).copied(),
    }
}
