//! The state of the world: what every actor is doing now.

use super::event::Lateness;
use super::returned::Returned;
use crate::dispatch::Rank;
use crate::engine::Block;
use crate::hours::{Drivable, TourRecord};
use crate::roads::Haul;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, SpotId, TruckId, Volume};
use std::collections::VecDeque;

/// What a truck is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Phase {
    /// Parked, nobody on duty.
    Off,
    /// Its driver reports and checks it.
    PreTrip,
    /// Standing at a plant, free.
    Idle,
    /// Driving back from a site to the home plant.
    ToPlant,
    /// Promised: driving empty to the plant where it loads.
    Repositioning,
    /// Promised and at the plant: waiting for the send time.
    Waiting,
    /// In the queue for a bay.
    BayQueue,
    /// In a bay.
    InBay,
    /// In the queue for the rack.
    RackQueue,
    /// At the rack.
    AtRack,
    /// Driving loaded.
    Out,
    /// On site or outside it, waiting for a place.
    SiteQueue,
    /// At an outlet, not yet discharging.
    AtOutlet,
    /// Discharging.
    Discharging,
    /// Washing the chute.
    ChuteWash,
    /// Driving home for the day.
    GoingHome,
    /// Driving empty to lawful parking, then stranded.
    ToParking,
    /// Stranded: the driver rests.
    Resting,
    /// At a plant, getting rid of a load.
    Emptying,
    /// Its driver takes a break that the rule book asks for.
    OnBreak,
    /// Its driver is out to fetch a stranded truck.
    Helping,
    /// Left where its driver was stranded; the next driver is on the way to it.
    ToTruck,
    /// Driven back to its plant by the driver who was driven out to it.
    BroughtBack,
    /// Washing out, post-trip.
    WashingOut,
}

/// A load, from promise to the end of its stay.
#[derive(Clone, Copy, Debug)]
pub(super) struct Load {
    pub(super) order: OrderId,
    pub(super) spot: SpotId,
    pub(super) plant: PlantId,
    /// Number in its order, from 0; the same for what replaces it.
    pub(super) number: u32,
    /// 0 at first, one more whenever it is made again.
    pub(super) attempt: u32,
    pub(super) volume: Volume,
    /// Volume of the order before it.
    pub(super) before: Volume,
    pub(super) due: Millis,
    pub(super) ready: Millis,
    /// Loading starts no earlier.
    pub(super) send: Millis,
    /// Its outlet, once it has a place.
    pub(super) outlet: u32,
    /// When its batching began; that of the oldest concrete in it.
    pub(super) batched: Millis,
    /// What of it is returned concrete that was in the drum before.
    pub(super) reused: Volume,
    /// Whether it is back in the bay to be dried up.
    pub(super) dry_up: bool,
    /// Whether it is too wet, unseen so far.
    pub(super) wet: bool,
    /// What of it is not needed and goes back.
    pub(super) spare: Volume,
    /// Whether it has been counted as undelivered.
    pub(super) given_up: bool,
    /// How late it has come on site; none before, and where that is not judged.
    pub(super) lateness: Option<Lateness>,
    /// Whether a gate of the rule was overridden for it, or its driver overruled.
    pub(super) overridden: bool,
    /// Whether it was made for another order.
    pub(super) redirected: bool,
    pub(super) luck: Block,
}

impl Load {
    /// What is batched for it.
    pub(super) fn fresh(&self) -> Volume {
        self.volume - self.reused
    }
}

/// A truck.
#[derive(Clone, Copy, Debug)]
pub(super) struct Truck {
    pub(super) phase: Phase,
    /// Who is at the wheel.
    pub(super) driver: Option<DriverId>,
    /// Who waits for this truck.
    pub(super) next_driver: Option<DriverId>,
    /// Position in the list of offered trucks; `NOT_OFFERED` outside of it.
    pub(super) slot: u32,
    /// The load it is promised to or carries; valid while `promised`.
    pub(super) load: Load,
    /// From promise to the end of discharge.
    pub(super) promised: bool,
    /// Carries a load that nobody takes.
    pub(super) full: bool,
    /// What is left of its last load, where that may be reused.
    pub(super) returned: Option<Returned>,
    /// When the present stage or wait began.
    pub(super) since: Millis,
    /// When a stage began whose length has been drawn and of which `since` does not tell: batching, taking a place on site,
    /// being driven out.
    pub(super) begun: Millis,
    /// The present drive: from where, and how loaded.
    pub(super) drive: (PlaceId, Haul),
    /// Rank in the bay queue.
    pub(super) rank: Rank,
    /// Empty trips that belong to no load, so far.
    pub(super) moves: u32,
    /// When it comes within the promise horizon.
    pub(super) near_at: Millis,
    /// From when driving on becomes illegal in the present drive.
    pub(super) limit: Drivable,
    /// What its driver does after a break.
    pub(super) after_break: AfterBreak,
    /// Who is on the way to fetch it or its driver.
    pub(super) fetch: Option<Fetching>,
    /// Whether the way home was believed to fit when the present load left the plant.
    pub(super) home_fitted: bool,
    /// How much longer than believed the way out took.
    pub(super) out_excess: Millis,
    /// The load that nobody takes has set in the drum.
    pub(super) load_set: bool,
    /// Trips of helpers for it, so far.
    pub(super) fetches: u32,
}

/// What a driver does after a break.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AfterBreak {
    /// Stands free at a plant.
    Nothing,
    /// Leaves the rack with a load.
    DriveOut,
    /// Leaves a site.
    DriveBack,
    /// Goes home for the day.
    GoHome,
    /// Drives to lawful parking.
    Stop,
}

/// Who fetches a stranded truck or its driver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fetcher {
    /// One of the helpers' list.
    Helper(u32),
    /// A driver of the own fleet, with the truck that waits meanwhile.
    Own(DriverId, TruckId),
}

/// A helper on the way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fetching {
    pub(super) who: Fetcher,
    /// The second person, who drives the car home.
    pub(super) car: Option<u32>,
    /// Only the driver is fetched.
    pub(super) driver_only: bool,
    pub(super) sent: Millis,
    pub(super) there: Millis,
    /// Has the wheel.
    pub(super) at_wheel: bool,
}

pub(super) const NOT_OFFERED: u32 = u32::MAX;

/// A driver.
#[derive(Clone, Copy, Debug)]
pub(super) struct Driver {
    pub(super) on_duty: bool,
    /// Stranded and not yet home.
    pub(super) away: bool,
    pub(super) reported: Millis,
    pub(super) barred_from: Millis,
    pub(super) shift_over: Millis,
    /// Day of the period that the tour belongs to.
    pub(super) day: u16,
    /// From when the next report is legal.
    pub(super) rested: Millis,
    pub(super) released: Millis,
    /// Since when stranded.
    pub(super) stranded: Millis,
    /// The last tours, for the once-a-week longer window.
    pub(super) tours: TourRecord,
    /// Driven in this tour beyond the ordinary window, within the longer one.
    pub(super) beyond: Millis,
    /// Began the tour with less than a whole day of driving ahead.
    pub(super) short: bool,
    /// The restart of the weekly hours that was looked at last.
    pub(super) restart: Option<Millis>,
    /// Days in a row worked up to `last_day`.
    pub(super) in_row: u32,
    pub(super) last_day: i64,
}

/// A plant.
#[derive(Clone, Debug)]
pub(super) struct Plant {
    /// Position of the present or next open span.
    pub(super) span: usize,
    /// Until when its crew has been paid beyond closing.
    pub(super) stayed_until: Millis,
    /// Until when it is or was kept open beyond its posted hours.
    pub(super) kept_until: Millis,
    pub(super) queue: VecDeque<TruckId>,
    pub(super) bays_busy: u32,
    pub(super) batcher_busy: bool,
    pub(super) batcher_queue: VecDeque<TruckId>,
    pub(super) rack_busy: u32,
    pub(super) rack_queue: VecDeque<TruckId>,
    /// Outages that hold it now.
    pub(super) down: u32,
    /// When the desk reckons it to work again.
    pub(super) back_at: Millis,
    /// Outages drawn so far.
    pub(super) outages: u32,
}

/// A load that asks again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Again {
    pub(super) number: u32,
    pub(super) attempt: u32,
    pub(super) volume: Volume,
    pub(super) before: Volume,
    pub(super) due: Millis,
    pub(super) ready: Millis,
}

/// An order.
#[derive(Clone, Debug)]
pub(super) struct Order {
    /// Volume ordered in this period; grows when the site calls a balance.
    pub(super) volume: Volume,
    /// Volume ordered at first, without the balance.
    pub(super) booked: Volume,
    /// Volume that has come on site, loads that were turned away there included.
    pub(super) reached: Volume,
    /// Whether the site has said if it needs a balance.
    pub(super) balance_called: bool,
    /// Volume promised so far.
    pub(super) promised: Volume,
    pub(super) placed: Volume,
    /// Ordered, batched and not needed in the end: it goes back with the last truck.
    pub(super) spared: Volume,
    /// How slowly the site unloads: factor on every discharge.
    pub(super) pace: f64,
    /// The pour stops once this volume is placed, for so long. None: it does not.
    pub(super) hold_drawn: Option<(Volume, Millis)>,
    /// Whether it has stopped.
    pub(super) hold_over: bool,
    /// Until when no further truck takes a place.
    pub(super) held_until: Millis,
    /// When that hold began.
    pub(super) held_from: Millis,
    /// The ideal timeline's hold: from which volume, until when. None: not come to yet.
    pub(super) ideal_hold: Option<(Volume, Millis)>,
    /// Number of the next new load.
    pub(super) next_number: u32,
    /// Loads of the order that are promised and not yet discharged.
    pub(super) ahead: u32,
    /// Whether its next load waits for a truck.
    pub(super) waiting: bool,
    /// When its next load asks; [`Millis::NEVER`] if there is none.
    pub(super) ask_at: Millis,
    /// When its waiting load is looked at again for further plants, as last planned.
    pub(super) look_again: Millis,
    pub(super) rank: Rank,
    pub(super) again: Vec<Again>,
    pub(super) begun: bool,
    pub(super) closed: bool,
    /// When its site takes the first load.
    pub(super) opens: Millis,
    /// Loads of a stream that have arrived and are not promised: when each came.
    pub(super) arrived: VecDeque<Millis>,
    /// Loads of a stream that have arrived so far.
    pub(super) arrivals: u32,
    /// When the last of them did.
    pub(super) came: Millis,
    /// In a fork: loads below this number have been discharged, and their site minutes are known.
    pub(super) known_loads: u32,
    /// By how much it is due later than its plan says: drawn, or moved when it was called in.
    pub(super) moved: Millis,
    /// Turn of the next destination.
    pub(super) turn: u32,
    /// The ideal timeline: loads gone through.
    pub(super) ideal_done: i64,
}

/// A spot.
#[derive(Clone, Debug)]
pub(super) struct Spot {
    pub(super) queue: VecDeque<TruckId>,
    /// Position of its first outlet in the world's list.
    pub(super) first_outlet: u32,
    /// Position of its first place in the ideal timeline's list.
    pub(super) first_place: u32,
}

/// An outlet.
#[derive(Clone, Debug)]
pub(super) struct Outlet {
    pub(super) places: u32,
    pub(super) occupied: u32,
    pub(super) flowing: bool,
    /// Trucks at it that wait for the flow.
    pub(super) positioned: VecDeque<TruckId>,
    /// The ideal timeline: when its flow is free.
    pub(super) ideal_flow: Millis,
}
