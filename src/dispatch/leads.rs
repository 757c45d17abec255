//! How long before its target a load must be sent, from each plant that makes its mix.
//!
//! Of twenty plants all but the nearest few turn nothing round, and a trip over a network is long to work out: a lead is worked out
//! where somebody asks for it, and what it is at least tells mostly that nobody need ask. At twenty plants this spares a third of a
//! load's time.

use super::send::at_plant;
use super::{Ask, PlantView, Policy};
use crate::roads::{Haul, RoadsNow};
use crate::units::{Millis, PlantId};
use std::cell::Cell;

/// How long before the target a load must be sent from this plant: believed trip, loading and rack, allowance for the bay,
/// and what the rule sends early. [`Millis::NEVER`] without a way.
#[inline]
pub fn lead(policy: &Policy, roads: &RoadsNow<'_>, plant: &PlantView, ask: &Ask<'_>) -> Millis {
    let free = roads.free_flow(plant.place, ask.site, Haul::Loaded);
    if free == Millis::NEVER {
        return free;
    }
    let trip = roads.believed(
        policy.belief,
        plant.place,
        ask.site,
        Haul::Loaded,
        ask.target - free,
    );
    trip + besides(policy, plant, ask)
}

/// What of a lead is no drive.
#[inline]
fn besides(policy: &Policy, plant: &PlantView, ask: &Ask<'_>) -> Millis {
    at_plant(policy, plant, ask.volume) + policy.bay_wait + policy.early
}

/// What is known of a lead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lead {
    /// It has not been worked out; it is no shorter than this.
    AtLeast(Millis),
    /// It has.
    Is(Millis),
}

/// What is known of the leads of a load before any is worked out, in the order of the plants that make its mix.
pub fn unasked_leads(
    policy: &Policy,
    roads: &RoadsNow<'_>,
    plants: &[PlantView],
    ask: &Ask<'_>,
    into: &mut Vec<Lead>,
) {
    into.clear();
    into.extend(ask.makers.iter().map(|plant| {
        let plant = &plants[plant.at()];
        let ends = (plant.place, ask.site);
        let drive = roads.believed_at_least(policy.belief, ends.0, ends.1, Haul::Loaded);
        match drive {
            Millis::NEVER => Lead::Is(Millis::NEVER),
            drive => Lead::AtLeast(drive + besides(policy, plant, ask)),
        }
    }));
}

/// The leads of a load at the plants that make its mix.
#[derive(Clone, Copy, Debug)]
pub struct Leads<'a> {
    /// The rule by which they are reckoned with.
    pub policy: &'a Policy,
    /// The roads.
    pub roads: RoadsNow<'a>,
    /// Every plant, by id.
    pub plants: &'a [PlantView],
    /// The load.
    pub ask: &'a Ask<'a>,
    /// What is known of each, in the order of the plants that make its mix.
    pub known: &'a [Cell<Lead>],
}

impl Leads<'_> {
    /// The lead at the plant of this position among those that make the mix; [`Millis::NEVER`] without a way.
    #[inline]
    pub fn at(&self, position: usize) -> Millis {
        match self.known[position].get() {
            Lead::Is(lead) => lead,
            Lead::AtLeast(_) => self.work_out(position),
        }
    }

    fn work_out(&self, position: usize) -> Millis {
        let plant = &self.plants[self.ask.makers[position].at()];
        let lead = lead(self.policy, &self.roads, plant, self.ask);
        if let Lead::AtLeast(least) = self.known[position].get() {
            debug_assert!(least <= lead, "a lead of {lead:?} was at least {least:?}");
        }
        self.known[position].set(Lead::Is(lead));
        lead
    }

    /// The same, or what it is at least where it has not been worked out.
    #[inline]
    pub fn at_least(&self, position: usize) -> Millis {
        match self.known[position].get() {
            Lead::AtLeast(lead) | Lead::Is(lead) => lead,
        }
    }

    /// Each plant that makes the mix, with its lead.
    pub fn each(&self) -> impl Iterator<Item = (PlantId, Millis)> + Clone + use<'_> {
        let makers = self.ask.makers.iter().enumerate();
        makers.map(|(position, plant)| (*plant, self.at(position)))
    }

    /// The shortest lead of those with a way for which this holds, and its plant; of two as short that of the plant that is listed first.
    #[inline]
    pub fn shortest(&self, holds: impl Fn(Millis, PlantId) -> bool) -> Option<(Millis, PlantId)> {
        let least = |position: usize| (self.at_least(position), self.ask.makers[position]);
        let all = 0..self.known.len();
        // The one that seems the shortest mostly is: after it nearly nobody else need be looked at.
        let seems = all.clone().min_by_key(|position| least(*position))?;
        let mut shortest: Option<(Millis, PlantId)> = None;
        for position in std::iter::once(seems).chain(all) {
            if shortest.is_some_and(|shortest| shortest <= least(position)) {
                continue;
            }
            let maker = (self.at(position), self.ask.makers[position]);
            if maker.0 < Millis::NEVER
                && shortest.is_none_or(|shortest| maker < shortest)
                && holds(maker.0, maker.1)
            {
                shortest = Some(maker);
            }
        }
        shortest
    }
}
