//! Trucks: what each is doing, with whom, and with what.

use super::load::{Cargo, Hold, PromisedLoad, Returned};
use crate::dispatch::Rank;
use crate::hours::Drivable;
use crate::roads::Haul;
use crate::units::{DriverId, Millis, PlaceId, TruckId};

/// What a truck is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plant) enum Phase {
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
    /// Standing beside the road, broken down; its load is given up.
    Broken,
    /// Waiting for a tow or towed home, its driver with it: a load has set in its drum.
    Towed,
    /// Washing out, post-trip.
    WashingOut,
}

/// A truck.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct TruckNow {
    pub(in crate::plant) phase: Phase,
    /// Who is at the wheel.
    pub(in crate::plant) driver: Option<DriverId>,
    /// Who waits for this truck.
    pub(in crate::plant) next_driver: Option<DriverId>,
    /// Position in the list of offered trucks; `NOT_OFFERED` outside of it.
    pub(in crate::plant) slot: u32,
    /// The same in the list of its home plant.
    pub(in crate::plant) slot_at_home: u32,
    /// Whether it was offered elsewhere than at its home plant.
    pub(in crate::plant) offered_elsewhere: bool,
    pub(in crate::plant) cargo: Cargo,
    /// What is left of its last load, where that may be reused.
    pub(in crate::plant) returned: Option<Returned>,
    /// When the present stage or wait began.
    pub(in crate::plant) since: Millis,
    /// When a stage began whose length has been drawn and of which `since` does not tell: batching, taking a place on site,
    /// being driven out.
    pub(in crate::plant) begun: Millis,
    /// The present drive: from where, and how loaded.
    pub(in crate::plant) drive: (PlaceId, Haul),
    /// Rank in the bay queue.
    pub(in crate::plant) rank: Rank,
    /// Empty trips that belong to no load, so far.
    pub(in crate::plant) moves: u32,
    /// When it comes within the promise horizon.
    pub(in crate::plant) near_at: Millis,
    /// From when driving on becomes illegal in the present drive.
    pub(in crate::plant) limit: Drivable,
    /// What its driver does after a break.
    pub(in crate::plant) after_break: AfterBreak,
    /// Who is on the way to fetch it or its driver.
    pub(in crate::plant) fetch: Option<Fetching>,
    /// Whether the way home was believed to fit when the present load left the plant.
    pub(in crate::plant) home_fitted: bool,
    /// When it came on site last.
    pub(in crate::plant) arrived: Millis,
    /// How much longer than on average it was on that site.
    pub(in crate::plant) stay_excess: Millis,
    /// How much longer than believed the way out took.
    pub(in crate::plant) out_excess: Millis,
    /// The load that nobody takes has set in the drum.
    pub(in crate::plant) load_set: bool,
    /// Trips of helpers for it, so far.
    pub(in crate::plant) fetches: u32,
    /// Nobody can drive it before.
    pub(in crate::plant) out_until: Millis,
}

/// What a driver does after a break.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plant) enum AfterBreak {
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
pub(in crate::plant) enum Fetcher {
    /// One of the helpers' list.
    Helper(u32),
    /// A driver of the own fleet, with the truck that waits meanwhile.
    Own(DriverId, TruckId),
}

/// A helper on the way.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct Fetching {
    pub(in crate::plant) who: Fetcher,
    /// The second person, who drives the car home.
    pub(in crate::plant) car: Option<u32>,
    /// Only the driver is fetched.
    pub(in crate::plant) driver_only: bool,
    pub(in crate::plant) sent: Millis,
    pub(in crate::plant) there: Millis,
    /// Has the wheel.
    pub(in crate::plant) at_wheel: bool,
}

pub(in crate::plant) const NOT_OFFERED: u32 = u32::MAX;

impl TruckNow {
    /// Parked, before anything has happened.
    pub(in crate::plant) fn fresh() -> Self {
        Self {
            phase: Phase::Off,
            driver: None,
            next_driver: None,
            slot: NOT_OFFERED,
            slot_at_home: NOT_OFFERED,
            offered_elsewhere: false,
            cargo: Cargo::Nothing,
            returned: None,
            since: Millis::ZERO,
            begun: Millis::ZERO,
            drive: (PlaceId(0), Haul::Empty),
            rank: Rank::default(),
            moves: 0,
            near_at: Millis::NEVER,
            limit: Drivable {
                until: Millis::NEVER,
                by: None,
            },
            after_break: AfterBreak::Nothing,
            fetch: None,
            home_fitted: true,
            arrived: Millis::ZERO,
            stay_excess: Millis::ZERO,
            out_excess: Millis::ZERO,
            load_set: false,
            fetches: 0,
            out_until: Millis::ZERO,
        }
    }
    /// The load that it is promised to or carries, as long as it is to be taken.
    #[inline]
    pub(in crate::plant) fn promised(&self) -> Option<&PromisedLoad> {
        match &self.cargo {
            Cargo::Load(Hold::Promised, load) => Some(load),
            _ => None,
        }
    }

    #[inline]
    pub(in crate::plant) fn is_promised(&self) -> bool {
        self.promised().is_some()
    }

    /// Whether it carries a load that nobody takes.
    #[inline]
    pub(in crate::plant) fn is_full(&self) -> bool {
        matches!(self.cargo, Cargo::Load(Hold::Refused, _))
    }

    /// The load that it has to do with or had last.
    #[inline]
    pub(in crate::plant) fn last_load(&self) -> Option<&PromisedLoad> {
        match &self.cargo {
            Cargo::Load(_, load) => Some(load),
            Cargo::Nothing => None,
        }
    }

    /// The same, of a truck that has had one.
    #[inline]
    pub(in crate::plant) fn load(&self) -> &PromisedLoad {
        self.last_load().expect("a truck that has had a load")
    }

    #[inline]
    pub(in crate::plant) fn load_mut(&mut self) -> &mut PromisedLoad {
        match &mut self.cargo {
            Cargo::Load(_, load) => load,
            Cargo::Nothing => panic!("a truck that has had a load"),
        }
    }

    /// Nobody takes its load.
    pub(in crate::plant) fn turn_load_away(&mut self) {
        self.hold(Hold::Refused);
    }

    /// It is rid of its load, or of the promise.
    #[inline]
    pub(in crate::plant) fn drop_load(&mut self) {
        self.hold(Hold::Rid);
    }

    #[inline]
    fn hold(&mut self, now: Hold) {
        if let Cargo::Load(hold, _) = &mut self.cargo {
            *hold = now;
        }
    }
}
