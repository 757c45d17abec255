//! Which plant and truck take a load: every plant that makes the mix with every truck that can be promised; gates first,
//! each refusal with its reason; then the ranking.

use super::candidate::{Candidate, When, candidate, surely_too_late_from, too_late_from};
use super::closing::{as_it_closes, serves};
use super::cost::cost;
use super::plants;
use super::{Ask, ByHome, Choose, GivenUp, Leads, Lend, Override, Policy, Refusal, View};
use crate::units::{Millis, PlantId, TruckId};

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
/// (`closing.rs`). `scratch` is emptied and used for the candidates; `refused` hears every refusal. None: the load waits.
/// `look_again` is when it should ask anew although no truck has become free, [`Millis::NEVER`] if that would not help.
pub fn choose<R: Refusals>(
    view: &View<'_>,
    leads: &Leads<'_>,
    scratch: &mut Vec<Candidate>,
    refused: &mut R,
    look_again: &mut Millis,
) -> Option<Candidate> {
    scratch.clear();
    let (policy, ask) = (leads.policy, leads.ask);
    let first = plants::first(view, leads).filter(|(_, others)| view.now < *others);
    *look_again = first.map_or(Millis::NEVER, |(_, others)| others);
    let mut judging = Judging {
        view,
        leads,
        candidates: scratch,
        refused,
        all_closed: None,
        given_up: false,
    };
    // Whether a truck is lent turns on when the plant's own would come: those are looked at first.
    let in_turn: &[Whose] = match policy.lend {
        Lend::IfSaves { .. } => &[Whose::Own, Whose::Others],
        _ => &[Whose::All],
    };
    for whose in in_turn {
        let latest_lent = match (policy.lend, whose) {
            (Lend::IfSaves { minutes }, Whose::Others) => {
                let own = judging.candidates.iter().map(|c| c.arrival).min();
                own.map_or(Millis::NEVER, |own| own - Millis::from_minutes(minutes))
            }
            _ => Millis::NEVER,
        };
        for (position, plant) in ask.makers.iter().enumerate() {
            if first.is_some_and(|(nearest, _)| nearest != *plant) {
                if *whose != Whose::Others {
                    refuse(judging.refused, view.offered, *plant, Refusal::NearerPlant);
                }
                continue;
            }
            let here = Here {
                position,
                plant: *plant,
                latest_lent,
                when: None,
            };
            judging.trucks_for(here, *whose);
        }
    }
    if judging.given_up {
        *look_again = (*look_again).min(view.now + Millis::MINUTE);
    }
    if let Override::IfLate { minutes } = policy.override_gates {
        // Whoever passes the gates and is not that late goes first.
        let late = ask.target + Millis::from_minutes(minutes);
        if scratch.iter().any(|c| !c.overridden && c.arrival < late) {
            scratch.retain(|c| !c.overridden);
        } else if scratch.is_empty() {
            let then = late_enough(leads, minutes);
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

/// A plant for which trucks are looked at.
struct Here {
    /// Its place among those that make the mix.
    position: usize,
    plant: PlantId,
    /// A truck of another plant that would come later than this is not lent.
    latest_lent: Millis,
    /// When it would send the load, as soon as a truck asks for that.
    when: Option<When>,
}

/// Trucks looked at for a load, one after the other.
struct Judging<'a, 'v, R> {
    view: &'a View<'v>,
    leads: &'a Leads<'a>,
    candidates: &'a mut Vec<Candidate>,
    refused: &'a mut R,
    /// Whether every plant is closed when it would send the load, once that was asked.
    all_closed: Option<bool>,
    /// Whether somebody was looked at who has just given the load up.
    given_up: bool,
}

impl<R: Refusals> Judging<'_, '_, R> {
    /// Looks at these trucks for a plant. Those whom the rule refuses by where they stand are refused together.
    fn trucks_for(&mut self, mut here: Here, whose: Whose) {
        let (view, policy, plant) = (self.view, self.leads.policy, here.plant);
        match (&view.by_home, whose) {
            (Some(by_home), Whose::Own) => self.judge(&by_home.offered[plant.at()], &mut here),
            (Some(by_home), Whose::Others) => self.others(by_home, here),
            (Some(by_home), Whose::All) if policy.lend == Lend::Never && !R::EACH => {
                let own = &by_home.offered[plant.at()][..];
                (self.refused).together(view.offered.len() - own.len(), Refusal::NotLent);
                self.judge(own, &mut here);
            }
            _ => {
                for truck in view.offered {
                    if whose.holds(view.trucks[truck.at()].home == plant) {
                        self.judge(std::slice::from_ref(truck), &mut here);
                    }
                }
            }
        }
    }

    /// Looks at the trucks of all other plants.
    fn others(&mut self, by_home: &ByHome<'_>, mut here: Here) {
        let (view, policy, ask, plant) = (self.view, self.leads.policy, self.leads.ask, here.plant);
        let place = view.plants[plant.at()].place;
        let own = by_home.offered[plant.at()].len();
        if !R::EACH
            && view.given_up.is_empty()
            && surely_too_late_from(policy, view, ask, (place, plant), here.latest_lent)
        {
            (self.refused).together(view.offered.len() - own, Refusal::NotLent);
            return;
        }
        for home in (0..view.plants.len()).map(PlantId::new) {
            let trucks = &by_home.offered[home.at()][..];
            if home == plant || trucks.is_empty() {
                continue;
            }
            let all_there = !R::EACH && by_home.elsewhere[home.at()] == 0;
            if all_there && too_late_from(policy, view, ask, plant, home, self.when(&mut here)) {
                self.refused.together(trucks.len(), Refusal::NotLent);
            } else {
                self.judge(trucks, &mut here);
            }
        }
    }

    /// Makes each of these trucks a candidate, or refuses it.
    #[inline]
    fn judge(&mut self, trucks: &[TruckId], here: &mut Here) {
        for truck in trucks {
            let (view, plant) = (self.view, here.plant);
            let judged = match just_given_up(view, self.leads.ask, plant, *truck) {
                Some(why) => {
                    self.given_up = true;
                    Err(why)
                }
                None => {
                    let when = self.when(here);
                    candidate(self.leads.policy, view, self.leads.ask, plant, *truck, when)
                }
            };
            match judged {
                Ok(candidate) => self.candidates.push(candidate),
                Err(refusal) => self.refused.each(*truck, plant, refusal),
            }
        }
    }

    /// When a plant would send the load.
    #[inline]
    fn when(&mut self, here: &mut Here) -> When {
        if let Some(when) = here.when {
            return when;
        }
        let (view, leads) = (self.view, self.leads);
        let (policy, ask) = (leads.policy, leads.ask);
        let lead = leads.at(here.position);
        let seen = &view.plants[here.plant.at()];
        let mut send = ask.target - lead;
        let mut early = false;
        if send + policy.bay_wait > seen.closes
            && let Some(last) = as_it_closes(policy, view, ask, seen, lead)
            && *self.all_closed.get_or_insert_with(|| {
                !(leads.each())
                    .any(|(plant, lead)| serves(policy, view, ask, &view.plants[plant.at()], lead))
            })
        {
            (send, early) = (last, true);
        }
        let when = When {
            send,
            early,
            latest_lent: here.latest_lent,
        };
        here.when = Some(when);
        when
    }
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
fn late_enough(leads: &Leads<'_>, minutes: f64) -> Millis {
    leads
        .shortest(|_, _| true)
        .map_or(Millis::NEVER, |(lead, _)| {
            leads.ask.target - lead + leads.policy.early + Millis::from_minutes(minutes)
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
