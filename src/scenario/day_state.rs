//! How things stand at a moment of a day, as users write it for a look ahead: who is where, hours worked, what is loaded, what
//! of each order is done.
//!
//! ```text
//! (
//!   scenario?: "yard.ron",                   // its scenario, for `plantday now`
//!   day?: 3, at: "15:40",                    // times are of that day; "01:10 +1" of the next, "22:30 -1" of the one before
//!   rain?: false,
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
//! | `Free` | `at`: the plant; `since`: when it got there |
//! | `Loading` · `AtRack` · `DrivingLoaded` · `WaitingOnSite` · `Unloading` | `order`, `load` (its number from 1), `yd3`, `plant`; `batched`, as the ticket has it, but for `Loading`; `since`: when that began |
//! | `DrivingBack` | `order`: from its site; `since`: when it left |
//! | `OutOfHours` | `at`: plant or site; `since` |
//!
//! `driven_h`: hours driven in this tour, `since_break_h`: of it since the last break, `break_over`: when that was over. What is left out
//! of these is taken on the careful side and told: all time on duty was driven, as late as can be, without a break. `week_h`: hours on
//! duty before this tour that the weekly limit counts; asked for where the scenario holds no `history` of the driver. Who is not named
//! and is planned to be at work is taken as free at the home plant after driving since the planned report, with the weekly hours of the
//! history, else those of five such tours. Helpers who are on call count as free, plants as working.

mod follow;
mod keep;
mod read;
mod table;
mod together;
mod write;

pub use keep::{CALLS, call, told};
pub use read::{parse, read, scenario_of};

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
    /// What of the orders is done is not in the file, which is a table: taken as planned.
    pub orders_as_planned: bool,
    /// The scenario's file, as written in the state: relative to it.
    pub scenario: Option<String>,
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
    /// Stands free at a plant.
    Free(PlantId),
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
    /// On the way back from the site of an order.
    Returning(OrderId),
    /// Stranded beside the truck.
    Stranded(PlaceId),
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
        | Doing::Discharging(load) => Some(load),
        Doing::Off | Doing::Free(_) | Doing::Returning(_) | Doing::Stranded(_) => None,
    }
}

/// The same, to be changed.
fn carried_mut(doing: &mut Doing) -> Option<&mut Carried> {
    match doing {
        Doing::Loading(load)
        | Doing::AtRack(load)
        | Doing::Out(load)
        | Doing::OnSite(load)
        | Doing::Discharging(load) => Some(load),
        Doing::Off | Doing::Free(_) | Doing::Returning(_) | Doing::Stranded(_) => None,
    }
}
