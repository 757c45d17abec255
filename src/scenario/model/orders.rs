//! Orders: written one by one, drawn day by day, or endless.

use super::Destination;
use crate::concrete::OrderAge;
use crate::engine::{Count, Spread};
use crate::units::{Millis, PlantId, Rate, Volume};

/// ```text
/// (name: "…", site: "…", day?: 1, first: "07:00", volume_yd3: 60, load_yd3?: 10,
///  spacing_min: 15 | pour_rate_yd3_h: 40,        // one of the two
///  customer?: "…", mix?: "standard", late_min?: 15, gap_min?: …, setup_min?: 0, finish_by?: "15:00",
///  chance?: 1, called?: "09:00", outdoor?: false,      // called left out: known from the start; "16:30 -1": the day before
///  pump?: false, balance_yd3?: Triangular(1, 4, 9),
///  age_limit_min?: 60, age_waived_share?: 0.3, stabilizer?: (min: 60, per_yd3: 4),      // left out: as `concrete` says, none
///  … and the fields of a stay: outlets, position, discharge, chute_wash, waiting_room)
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Name, unique among orders.
    pub name: String,
    /// Who ordered it. None: not told.
    pub customer: Option<String>,
    /// When the first load is due, since midnight before the first day (day 1 is the first day).
    pub first: Millis,
    /// Volume ordered, more than 0, at most 20,000 yd³.
    pub volume: Volume,
    /// Nominal load size, 0.5 to 20 yd³; what a truck cannot hold of it is cut and stays with the order.
    pub load: Volume,
    /// Time between loads on site, 0 or more.
    pub spacing: Millis,
    /// Mix.
    pub mix: String,
    /// How late a load may come before it counts as late.
    pub late: Millis,
    /// The longest pause within the pour that is tolerated; left out: 20 min, or the spacing if that is more.
    pub gap: Millis,
    /// Set-up on site before the first load can be taken, from the first load's due time.
    pub setup: Millis,
    /// Share of periods in which it is ordered at all, more than 0, at most 1: additions that come now and then.
    pub chance: f64,
    /// When the desk hears of it: no load asks before.
    pub called: Millis,
    /// Whether rain cancels it.
    pub outdoor: bool,
    /// Whether a pump stands on site, paid by the hour.
    pub pump: bool,
    /// What its site calls in beyond the volume once all loads but the last are there, yd³, by the half yard. None: as `changes`
    /// says.
    pub balance_yd3: Option<Spread>,
    /// The age limit that the purchaser has agreed for this order, and how much longer a stabilizer keeps its concrete: more than 0, at
    /// most 24 h each. Slump is lost with a stabilizer as without.
    pub age: OrderAge,
    /// Share of the loads beyond their age limit that the site takes all the same, where they can be placed without water added (ASTM
    /// C94 lets the purchaser waive it so), 0 to 1. Nobody counts on it. None: all with `waiver` of [`Material`], else none.
    ///
    /// [`Material`]: super::super::Material
    pub age_waived: Option<f64>,
    /// What the stabilizer costs for each yd³ batched.
    pub stabilizer_per_yd3: Rate,
    /// When the pour was agreed to be finished. None: not agreed.
    pub finish_by: Option<Millis>,
    /// The plant that usually serves it, which makes its mix: what `plants: UsualFirst` goes by. None: not told.
    pub usual_plant: Option<PlantId>,
    /// Plants that may make it; empty: all that make its mix. Not written in a file: studies of one pour set it.
    pub plants: Vec<PlantId>,
    /// Where and how loads are taken.
    pub stay: Destination,
    /// Which of the drawn orders it is. None: an order of its own.
    pub slot: Option<Slot>,
}

/// One of the orders that a day may have: `first` is then the earliest time and `volume` the largest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Position of its list.
    pub group: usize,
    /// Day, from 0.
    pub day: u32,
    /// Number among the list's orders of that day, from 0; it exists on a day that has more orders than this.
    pub number: u32,
}

/// ```text
/// (name: "small", per_day: Poisson(12),             // or a number, or a spread, rounded
///  days?: [Monday, …], first: ("06:00", "15:00"),    // any minute between them equally likely
///  volume_yd3: Empirical([3, 3, 8, 10]),             // by the half yard, at least one half
///  at_most?: 30, most_yd3?: 12,                      // left out: what all but a millionth of the days, a thousandth of the orders need
///  … and of an order: customer, site, load_yd3, spacing_min | pour_rate_yd3_h, mix, late_min, gap_min, setup_min, outdoor, pump, balance_yd3,
///    age_limit_min, age_waived_share, stabilizer, outlets, position, discharge, chute_wash, waiting_room)
/// ```
/// Orders drawn for each day of each replication, the same under every rule; known from the start of the period. They are called
/// "small Tue 3", in a period of more than seven days "small 9 Tue 3". Random orders for several sites are several lists: Poisson
/// streams that are split stay Poisson. The day of each ends at the midnight after the last load of the largest and latest is due.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnOrders {
    /// Name, from which those of its orders are made.
    pub name: String,
    /// How many a day has.
    pub per_day: Count,
    /// More are cut off.
    pub at_most: u32,
    /// When the first load is due at the earliest and the latest, since midnight.
    pub first: (Millis, Millis),
    /// Volume of one, yd³.
    pub volume: Spread,
    /// Larger ones are cut to this.
    pub most: Volume,
    /// Factor on every volume. Not written in a file: studies of growth set it.
    pub growth: f64,
}

/// ```text
/// (name: "…", mix?: "standard", load_yd3?: 10, to?: RoundRobin | Drawn, arrivals?: Exponential(10),
///  destinations: [(site: "…", share?: 1, outlets, position, discharge, chute_wash, waiting_room)])
/// ```
/// Loads made on demand (a stream of single loads, where `arrivals` says how many minutes lie between two): due at once,
/// never judged late, outside the volume balance.
#[derive(Clone, Debug, PartialEq)]
pub struct Endless {
    /// Name, unique among orders.
    pub name: String,
    /// Mix.
    pub mix: String,
    /// Load size.
    pub load: Volume,
    /// How each load gets its destination.
    pub routing: Routing,
    /// Minutes between one load and the next (exponential: a Poisson stream). None: whenever a truck is free.
    pub arrivals: Option<Spread>,
    /// Destinations, at least one.
    pub destinations: Vec<Destination>,
}

/// `to?: RoundRobin | Drawn`
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Routing {
    /// In turn, in the order in which loads are promised.
    RoundRobin,
    /// Drawn for each load in proportion to the shares.
    Drawn,
}
