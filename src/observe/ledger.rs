//! The lateness ledger: which cause made each late load late, milestone by milestone.
//!
//! The plan of a load is made when a truck is promised: when it should join the bay queue and how long each stage takes on
//! average. From the ready time on every milestone (promise, bay queue, bay, rack, arrival) adds what it took beyond the
//! plan. What passes until a truck is promised goes to what refused the trucks meanwhile.
//!
//! Trucks, bays and places on site are kept beside their plan from load to load ([`slot`]): a load that waits for one inherits what
//! holds up the one that would have come. What is left is want of trucks, or the queue itself.

mod slot;
mod stages;
mod trip;
mod wait;

use super::cause::{Account, Causes, LateCause};
use crate::plant::{Event, Lateness, LoadPlan, Observer, Plan};
use crate::units::{Millis, OrderId, PlantId, TruckId};
use slot::Slot;
use trip::{Road, Trip};
use wait::{Known, Wait, why};

/// Adds late loads to [`Causes`]. Kept warm: [`Ledger::begin`] before each replication.
#[derive(Clone, Debug)]
pub struct Ledger<'p> {
    plan: &'p Plan,
    /// Whether any order is judged by lateness: else there is nothing to explain.
    judged: bool,
    /// The sums so far.
    pub causes: Causes,
    /// By order.
    waits: Vec<Wait>,
    /// By truck: its load, and the truck itself.
    trips: Vec<Trip>,
    trucks: Vec<Slot>,
    plants: Vec<PlantSlots>,
    /// The places of each spot.
    places: Vec<Vec<Slot>>,
    /// How much later than planned the driver reports whose report is told next.
    reports_late: Millis,
    /// The account of an undelivered load, and room for one that is reckoned with; kept for their memory.
    undelivered: Account,
    room: Account,
}

/// A plant.
#[derive(Clone, Debug, Default)]
struct PlantSlots {
    bays: Vec<Slot>,
    /// Since when it stands still, if it does.
    down: Option<Millis>,
    /// How long it has stood still before.
    stood: Millis,
}

impl PlantSlots {
    /// How long it has stood still so far.
    fn stood(&self, at: Millis) -> Millis {
        self.stood + self.down.map_or(Millis::ZERO, |since| at - since)
    }

    /// It stands still, or would for one reason more.
    fn goes_down(&mut self, at: Millis) {
        self.down = self.down.or(Some(at));
    }

    /// Nothing holds it still any more.
    fn comes_up(&mut self, at: Millis) {
        self.stood = self.stood(at);
        self.down = None;
    }
}

impl<'p> Ledger<'p> {
    /// For runs of this plan.
    pub fn new(plan: &'p Plan) -> Self {
        let slots = |count: u32| vec![Slot::default(); count as usize];
        let plants = plan.plants.iter().map(|plant| PlantSlots {
            bays: slots(plant.bays),
            ..PlantSlots::default()
        });
        Self {
            plan,
            judged: plan.orders.iter().any(|order| !order.endless),
            causes: Causes::default(),
            waits: vec![Wait::default(); plan.orders.len()],
            trips: vec![Trip::new(); plan.trucks.len()],
            trucks: slots(plan.trucks.len() as u32),
            plants: plants.collect(),
            places: plan.spots.iter().map(|spot| slots(spot.places)).collect(),
            reports_late: Millis::ZERO,
            undelivered: Account::default(),
            room: Account::default(),
        }
    }

    /// What made the load late that has just been taken from this truck.
    pub(super) fn late(&self, truck: TruckId) -> &[(LateCause, Millis)] {
        self.trips[truck.at()].account.parts()
    }

    /// What made the load late that has just been told as undelivered; nothing if it is not late by the end of its day.
    pub(super) fn late_undelivered(&self) -> &[(LateCause, Millis)] {
        self.undelivered.parts()
    }

    /// Before each replication.
    pub fn begin(&mut self) {
        for wait in &mut self.waits {
            wait.begin();
        }
        for trip in &mut self.trips {
            trip.begin();
        }
        for plant in &mut self.plants {
            (plant.down, plant.stood) = (None, Millis::ZERO);
        }
        let bays = self.plants.iter_mut().flat_map(|plant| &mut plant.bays);
        let places = self.places.iter_mut().flatten();
        for slot in self.trucks.iter_mut().chain(bays).chain(places) {
            slot.begin(Millis::ZERO);
        }
        self.reports_late = Millis::ZERO;
    }

    fn turn(&mut self, at: Millis, order: OrderId, cause: LateCause) {
        // Loads of an endless order are never late.
        if !self.plan.orders[order.at()].endless {
            self.waits[order.at()].turn(at, cause);
        }
    }

    fn promised(
        &mut self,
        at: Millis,
        (truck, plant): (TruckId, PlantId),
        (order, number, due): (OrderId, u32, Millis),
        plan: LoadPlan,
    ) {
        let trip = &mut self.trips[truck.at()];
        (trip.order, trip.number, trip.due) = (order, number, due);
        (trip.plant, trip.plan) = (plant, plan);
        trip.waited.clear();
        if !self.plan.orders[order.at()].endless {
            let wait = &mut self.waits[order.at()];
            let later = if plan.nearest_first {
                LateCause::NearerPlant
            } else {
                LateCause::SentLate
            };
            let known = Known {
                from: plan.known,
                later,
            };
            let waited = &mut trip.waited;
            wait.of((plan.send, at), Some(number), known, &mut |stretch| {
                waited.push(stretch)
            });
            trip.anew = wait.anew(number);
            wait.forget(number);
            wait.stop(at);
        }
        trip.promised(at);
        if trip.anew.is_none() && !trip.redirected {
            self.stand_in(at, truck, plant, plan.send);
        }
        let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
        trip.pending = Some(slot.free);
        if std::mem::take(&mut trip.redirected) {
            // On its way: loading and rack are behind it.
            trip.settle(at, slot, &mut self.room);
            trip.stage = Some((LateCause::Traffic, Millis::ZERO));
        } else if trip.anew.is_none() {
            slot.free = slot.free.max(plan.send) + trip.planned();
        }
    }

    /// In the plan the truck that is free first takes the load.
    fn stand_in(&mut self, at: Millis, truck: TruckId, plant: PlantId, send: Millis) {
        let free = self.trucks[truck.at()].free;
        if free <= send {
            return;
        }
        let would_come = |other: &usize| {
            let slot = &self.trucks[*other];
            slot.busy
                && slot.free < free
                && self.trips[*other].pending.is_none()
                && self.plan.trucks[*other].home == plant
        };
        let other = (0..self.trucks.len())
            .filter(would_come)
            .min_by_key(|other| self.trucks[*other].free);
        if let Some(other) = other
            && let Ok([mine, other]) = self.trucks.get_disjoint_mut([truck.at(), other])
        {
            mine.stand_in(other, at, &mut self.room);
        }
    }

    fn taken(&mut self, truck: TruckId, lateness: Lateness) {
        let account = &self.trips[truck.at()].account;
        debug_assert_eq!(
            account.level(),
            lateness.after_ready,
            "the ledger says how late the load is"
        );
        if lateness.is_late() {
            self.causes.book(account);
        }
    }

    /// The load of a truck asks again, `anew` if it needs a truck more than was planned.
    fn lost(&mut self, at: Millis, truck: TruckId, cause: LateCause, anew: bool) {
        let trip = &mut self.trips[truck.at()];
        trip.stage = None;
        self.waits[trip.order.at()].lost(trip.number, (trip.promised, at), (cause, anew));
    }

    fn undelivered(
        &mut self,
        order: OrderId,
        load: Option<u32>,
        carrier: Option<TruckId>,
        ready: Millis,
        late: Millis,
    ) {
        self.undelivered.clear();
        if late <= Millis::ZERO {
            self.causes.loads += 1;
            self.causes.parts[LateCause::NoTruck as usize] += super::cause::WHOLE;
            return;
        }
        let account = &mut self.undelivered;
        if let Some(truck) = carrier {
            let (trip, slot) = (&mut self.trips[truck.at()], &mut self.trucks[truck.at()]);
            trip.settle(ready + late, slot, &mut self.room);
            let cause = trip.stage.map_or(LateCause::NoTruck, |(cause, _)| cause);
            account.copy_from(&trip.account);
            account.add(cause, late - account.level());
            self.causes.book(account);
            return;
        }
        let wait = &mut self.waits[order.at()];
        let known = Known {
            from: Millis::ZERO,
            later: LateCause::NoTruck,
        };
        wait.of((ready, ready + late), load, known, &mut |stretch| {
            account.add(stretch.cause, stretch.time);
        });
        debug_assert_eq!(account.level(), late);
        self.causes.book(account);
    }
}

impl Observer for Ledger<'_> {
    const EACH_REFUSAL: bool = false;
    const PLANS: bool = true;

    // Every call names its event: inlined, that arm is all that is left.
    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        if !self.judged {
            return;
        }
        match *event {
            Event::ReportedLate { late, .. } => self.reports_late = late,
            Event::Reported { truck, .. } => self.reported(at, truck),
            Event::Released { truck, .. } => self.released(truck),
            Event::PlantDown { plant } => self.plants[plant.at()].goes_down(at),
            Event::PlantUp { plant } => self.plants[plant.at()].comes_up(at),
            Event::BalanceCalled { order, .. } => self.waits[order.at()].more(at),
            Event::Asked { order } => self.turn(at, order, LateCause::NoTruck),
            Event::Refused { order, reason, .. } | Event::RefusedTogether { order, reason, .. } => {
                self.turn(at, order, why(reason));
            }
            Event::Promised {
                order,
                number,
                truck,
                plant,
                due,
                plan,
                ..
            } => self.promised(at, (truck, plant), (order, number, due), plan),
            Event::PromiseBroken { truck, reason, .. } => self.broken(at, truck, why(reason)),
            Event::BayJoined { truck, .. } => self.joined(at, truck),
            Event::BayEntered { truck, waited, .. } => self.bay_entered(at, truck, waited),
            Event::BayLeft { truck, .. } => self.bay_left(at, truck),
            Event::RackLeft { truck, .. } => self.rack_left(at, truck),
            Event::DryUp { truck, .. } => self.dries_up(at, truck),
            Event::Departed {
                truck,
                errand,
                takes,
                usual,
                delays,
                broken,
                held,
                round,
            } => {
                let road = Road {
                    takes,
                    delays,
                    held,
                    broken,
                    round,
                };
                self.departed(at, truck, (errand, usual), road);
            }
            Event::Redirected { truck, .. } => {
                self.turned_away(at, truck, LateCause::Site);
                self.trips[truck.at()].redirected = true;
            }
            Event::LoadLost { truck, .. } => self.turned_away(at, truck, LateCause::NoHours),
            Event::Rejected { truck, spot, .. } => {
                if let Some(spot) = spot {
                    self.leaves_place(at, truck, spot);
                }
                self.turned_away(at, truck, LateCause::MadeAgain);
            }
            Event::GivenUp { truck, .. } => self.given_up(at, truck),
            Event::Emptied { truck, took } => {
                let cause = self.trips[truck.at()].lost_for;
                self.trucks[truck.at()].held.add(cause, took);
            }
            Event::SiteReached { truck, .. } => self.came(at, truck),
            Event::PlaceTaken {
                spot,
                truck,
                waited,
                opened,
                hold,
            } => self.takes_place(at, (truck, spot), waited, (opened, hold)),
            Event::DischargeEnded { spot, truck, .. } => self.leaves_place(at, truck, spot),
            Event::SiteLeft { truck, .. } => {
                let next = Some((at, LateCause::NoHours));
                self.trucks[truck.at()].pass(at, next);
            }
            Event::Taken {
                truck, lateness, ..
            } => self.taken(truck, lateness),
            Event::Undelivered {
                order,
                number,
                carrier,
                ready,
                late,
                ..
            } => self.undelivered(order, number, carrier, ready, late),
            _ => {}
        }
    }
}
