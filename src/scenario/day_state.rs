//! How things stand at a moment of a day, as users write it for a look ahead: who is where, hours worked, what is loaded, what
//! of each order is done.
//!
//! ```text
//! (
//!   scenario?: "yard.ron",                   // its scenario, for `plantday now`
//!   simulated?: (rule: "…", replication: 3, seed: 1, …),       // the simulated day that it was written from
//!   day?: 3, at: "15:40",                    // times are of that day; "01:10 +1" of the next, "22:30 -1" of the one before
//!   rain?: false, traffic?: 1.2,             // drives take 1.2 times as long as usual today
//!   plants?: [(name: "…", down_since: "13:05", until?: "14:00")],        // stand still
//!   drivers: [                               // everybody not named follows the roster; who is off is named as `Off`
//!     (name: "Lena N12", doing: DrivingBack, since: "15:31", reported: "08:30", driven_h?: 2.4, since_break_h?: 1.1,
//!      break_over?: "12:40", week_h?: 27, truck?: "NL1", order: "…"),         // truck: if it is not the driver's own
//!   ],
//!   orders?: [                               // everything not named has not begun
//!     (name: "…", sent_yd3: 50, placed_yd3: 40, loads: 5),      // sent: placed or on a truck; loads: of what was sent
//!     (name: "…", sent_yd3: 50, placed_yd3: 50, loads: 5, ordered_yd3: 54.5),      // its balance was called in
//!     (name: "…", later_min: 40),            // drawn for 40 min after its list's earliest time; one not named is not there
//!     (name: "…", cancelled: true),
//!   ],
//! )
//! ```
//!
//! | doing | also needed |
//! |---|---|
//! | `Off` | the driver has been released: `since` |
//! | `CheckingTruck` · `WashingOut` | `since` |
//! | `Free` | `at`: the plant; `since`: when it got there; `next_…`, as below |
//! | `WaitingToLoad` | `order`, `load`?, `yd3`?, `plant`?: the promised load |
//! | `Loading` · `AtRack` · `DrivingLoaded` · `WaitingOnSite` · `Unloading` | `order`, `load` (its number from 1), `yd3`, `plant`; `batched`, as the ticket has it, but for `Loading`; `since`: when that began |
//! | `WashingChute` | `order`: on its site |
//! | `DrivingBack` | `order`: from its site; `since`: when it left; `next_…` |
//! | `DrivingEmpty` | `to`: the plant; `from`?: the home plant; `next_…` |
//! | `GoingHome` | `from`?: the home plant |
//! | `OnBreak` | `at` the plant, or `order`: on its site, or the load on the truck; `until`? |
//! | `BrokenDown` | `order`: from its site, or `to` and `from`?, or the load on the truck and `drum_turns`?; `left`?: when the drive began; `until`?; `next_…` of an empty truck |
//! | `OutOfHours` | `at`: plant or site; `since`; `resting`?: whether off duty |
//!
//! `next_order`, `next_load`?, `next_yd3`?, `next_plant`?: the load that the truck is promised to and has not loaded; left out: the next,
//! a full one, at the home plant.
//!
//! `driven_h`: hours driven in this tour, `since_break_h`: of it since the last break, `break_over`: when that was over. What is left out
//! of these is taken on the careful side and told: all time on duty was driven, as late as can be, without a break. `week_h`: hours on
//! duty before this tour that the weekly limit counts; asked for where the scenario holds no `history` of the driver. Who is not named
//! and is planned to be at work is taken as free at the home plant after driving since the planned report, with the weekly hours of the
//! history, else those of five such tours. Helpers who are on call count as free, plants that are not named as working.

mod detail;
mod follow;
mod keep;
mod numbers;
mod read;
mod simulated;
mod table;
mod together;
mod write;

pub use keep::{CALLS, call, told};
pub use read::{parse, read, scenario_of};
pub use simulated::{NoLonger, Simulated};

use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// How things stand. Times are since midnight before the first day.
#[derive(Clone, Debug, PartialEq)]
pub struct DayState {
    /// The moment.
    pub at: Millis,
    /// Whether it rains that day.
    pub rain: bool,
    /// Drivers who are, or have been, at work that day.
    pub drivers: Vec<DriverState>,
    /// Orders of which something is done, or that are cancelled.
    pub orders: Vec<OrderState>,
    /// Plants that stand still.
    pub plants: Vec<PlantState>,
    /// How many times as long as usual drives take today. None: as it is drawn.
    pub traffic: Option<f64>,
    /// What of the orders is done is not in the file, which is a table: taken as planned.
    pub orders_as_planned: bool,
    /// The scenario's file, as written in the state: relative to it.
    pub scenario: Option<String>,
    /// The simulated day that the file was written from.
    pub simulated: Option<Simulated>,
    /// What the file does not say and the careful side is taken of.
    pub unsaid: Vec<(DriverId, Unsaid)>,
}

/// What a file does not say of a driver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsaid {
    /// How long the driver has driven: taken as all the time on duty, or all that the law lets drive.
    Driven,
    /// Whether the driver has had a break: taken as none.
    Break,
    /// Anything: the driver is taken as free at the home plant after driving since the planned report.
    Anything,
}

/// A plant that stands still.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlantState {
    /// Which.
    pub plant: PlantId,
    /// Since when.
    pub since: Millis,
    /// When it is to be back. None: nobody knows.
    pub until: Option<Millis>,
}

/// A driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriverState {
    /// Who.
    pub driver: DriverId,
    /// With which truck.
    pub truck: TruckId,
    /// What the driver does.
    pub doing: Doing,
    /// Since when.
    pub since: Millis,
    /// When that is to be over, if anybody knows: a break, a repair.
    pub until: Option<Millis>,
    /// The load that the truck is promised to and has not loaded.
    pub next: Option<Promised>,
    /// When the driver reported; for one who is off, too.
    pub reported: Millis,
    /// Driven in this tour.
    pub driven: Millis,
    /// Driven of it since the last break. None: as much of it as can be.
    pub since_break: Option<Millis>,
    /// When the last break was over. None: not known, or none was taken.
    pub break_over: Option<Millis>,
    /// On duty before this tour, as far as the weekly limit counts it. None: as the scenario's roster has it.
    pub week: Option<Millis>,
}

/// What a driver does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Released.
    Off,
    /// Checks the truck before the first load, at its home plant.
    Checking,
    /// Stands free at a plant; with a promised load, waits to be sent into the bay.
    Free(PlantId),
    /// In the queue for a bay, with a promised load.
    Queueing(PlantId),
    /// In a bay.
    Loading(Carried),
    /// At the rack.
    AtRack(Carried),
    /// On the way to the site.
    Out(Carried),
    /// On site, waiting for a place.
    OnSite(Carried),
    /// Discharging.
    Discharging(Carried),
    /// On the site of an order, washing the chute.
    Washing(OrderId),
    /// On the way back from the site of an order.
    Returning(OrderId),
    /// Sent empty to a plant, from a place.
    Repositioning(PlaceId, PlantId),
    /// On a break that is not over.
    OnBreak(Pause),
    /// Beside the road, broken down.
    BrokenDown(Standstill),
    /// Stranded beside the truck, on duty.
    Stranded(PlaceId),
    /// Stranded beside the truck, off duty until rested.
    Resting(PlaceId),
    /// On the way to the home plant from a place, to be released there.
    GoingHome(PlaceId),
    /// Washes the truck out and parks it, to be released then.
    WashingOut,
}

/// Where a driver has a break.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pause {
    /// At a plant, free.
    Free(PlantId),
    /// At the plant, with a load.
    Loaded(Carried),
    /// On the site of an order, empty.
    OnSite(OrderId),
}

/// A truck that has broken down on a drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standstill {
    /// On which.
    pub drive: Drive,
    /// When that began.
    pub left: Millis,
    /// Whether the drum turns, if the driver has said so.
    pub drum_turns: Option<bool>,
}

/// A drive on which a truck breaks down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// To a site, with a load.
    Out(Carried),
    /// Back from the site of an order.
    Back(OrderId),
    /// Empty, from a place to a plant.
    To(PlaceId, PlantId),
}

/// A load that a truck is promised to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Promised {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0.
    pub number: u32,
    /// Its volume.
    pub volume: Volume,
    /// Where it is to be loaded.
    pub plant: PlantId,
}

/// A load on a truck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0.
    pub number: u32,
    /// Its volume.
    pub volume: Volume,
    /// Where it is loaded.
    pub plant: PlantId,
    /// When its batching began.
    pub batched: Millis,
}

/// What of an order is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OrderState {
    /// Which.
    pub order: OrderId,
    /// What is ordered by now, with a balance that was called in. None: as the scenario says.
    pub ordered: Option<Volume>,
    /// How much later than the scenario says it is due: drawn, or moved.
    pub later: Millis,
    /// Placed, or on a truck.
    pub sent: Volume,
    /// Placed.
    pub placed: Volume,
    /// Loads that `sent` was.
    pub loads: u32,
    /// It does not take place.
    pub cancelled: bool,
}

/// What is on the truck, if anything.
fn carried(doing: &Doing) -> Option<&Carried> {
    match doing {
        Doing::Loading(load)
        | Doing::AtRack(load)
        | Doing::Out(load)
        | Doing::OnSite(load)
        | Doing::Discharging(load)
        | Doing::OnBreak(Pause::Loaded(load))
        | Doing::BrokenDown(Standstill {
            drive: Drive::Out(load),
            ..
        }) => Some(load),
        _ => None,
    }
}

/// The same, to be changed.
fn carried_mut(doing: &mut Doing) -> Option<&mut Carried> {
    match doing {
        Doing::Loading(load)
        | Doing::AtRack(load)
        | Doing::Out(load)
        | Doing::OnSite(load)
        | Doing::Discharging(load)
        | Doing::OnBreak(Pause::Loaded(load))
        | Doing::BrokenDown(Standstill {
            drive: Drive::Out(load),
            ..
        }) => Some(load),
        _ => None,
    }
}
