//! Where every truck was and what it did, minute by minute, and everything that happened in words: for a replay.

mod about;
mod doing;
mod movement;
mod record;
mod turns;

pub use doing::Doing;
pub use record::{Happening, Stint, Stranding};

use super::log::Log;
use super::refusals::{Refusals, RefusedCandidate, ToldRefusals};
use crate::plant::{Event, Observer, Plan};
use crate::scenario::Scenario;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, SpotId, TruckId};

/// What is known of a truck while it is in use.
#[derive(Clone, Copy, Debug)]
struct Now {
    doing: Doing,
    from: Millis,
    load: Option<(OrderId, u32)>,
    /// The plant that a promise takes it to.
    promised: Option<PlaceId>,
}

/// Keeps it all for one replication.
#[derive(Clone, Debug)]
pub struct Playback<'s> {
    scenario: &'s Scenario,
    plan: &'s Plan,
    log: Log<'s>,
    refusals: Option<Refusals>,
    /// In the order in which they end.
    pub stints: Vec<Stint>,
    /// In the order in which it happened.
    pub happenings: Vec<Happening>,
    /// In the order in which it happened.
    pub stranded: Vec<Stranding>,
    place: Vec<PlaceId>,
    now: Vec<Option<Now>>,
    wheel: Vec<Option<DriverId>>,
    /// By truck: drivers on duty who wait for it.
    waiting: Vec<Vec<DriverId>>,
}

impl<'s> Playback<'s> {
    /// For a run of the scenario, of which this is the plan.
    pub fn new(scenario: &'s Scenario, plan: &'s Plan) -> Self {
        let trucks = plan.trucks.len();
        let homes = plan.trucks.iter();
        Self {
            scenario,
            plan,
            log: Log::new(scenario),
            refusals: None,
            stints: Vec::new(),
            happenings: Vec::new(),
            stranded: Vec::new(),
            place: homes.map(|t| plan.plants[t.home.at()].place).collect(),
            now: vec![None; trucks],
            wheel: vec![None; trucks],
            waiting: vec![Vec::new(); trucks],
        }
    }

    /// For a run of which it is also told who is refused for a load, each candidate once until the reason is another.
    pub fn telling(mut self, refusals: Option<ToldRefusals>) -> Self {
        self.refusals = refusals.map(Refusals::new);
        self
    }

    /// Who was refused, in the order in which it happened; nobody if that was not to be told.
    pub fn refused(&self) -> &[RefusedCandidate] {
        self.refusals
            .as_ref()
            .map_or(&[], |refusals| &refusals.list)
    }

    /// Takes a refusal down, if refusals are told and this one is news.
    fn refuse(&mut self, refused: RefusedCandidate) {
        let Some(refusals) = &mut self.refusals else {
            return;
        };
        if refusals.hear(refused) {
            self.happenings.push(Happening {
                at: refused.at,
                what: refused.words(self.scenario),
                truck: Some(refused.truck),
                driver: refused.driver,
                place: Some(self.place[refused.truck.at()]),
            });
        }
    }

    /// Ends what is still going on when the replication is over: with its last event.
    pub fn finish(&mut self) {
        let end = self.stints.iter().map(|stint| stint.to).max();
        let end = end.max(self.happenings.last().map(|happening| happening.at));
        for truck in (0..self.now.len()).map(TruckId::new) {
            self.end(truck, end.unwrap_or_default(), self.place[truck.at()]);
            self.now[truck.at()] = None;
        }
    }

    fn home(&self, truck: TruckId) -> PlaceId {
        self.plan.plants[self.plan.trucks[truck.at()].home.at()].place
    }

    fn plant(&self, plant: PlantId) -> PlaceId {
        self.plan.plants[plant.at()].place
    }

    fn spot(&self, spot: SpotId) -> PlaceId {
        self.plan.spots[spot.at()].place
    }
}

impl Observer for Playback<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::Refused {
            order,
            number,
            truck,
            plant,
            reason,
        } = *event
        {
            let driver = self.wheel[truck.at()];
            return self.refuse(RefusedCandidate {
                at,
                order,
                number,
                truck,
                driver,
                plant,
                reason,
            });
        }
        // Who is released is looked up before, where everybody is after.
        let before = self.about(event);
        self.movement(at, event);
        self.log.event(at, event);
        let place = match before.0 {
            Some(truck) => Some(self.place[truck.at()]),
            None => before.2,
        };
        for (at, what) in self.log.lines.drain(..) {
            self.happenings.push(Happening {
                at,
                what,
                truck: before.0,
                driver: before.1,
                place,
            });
        }
    }
}
