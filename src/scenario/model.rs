//! A scenario after checking: names are resolved, every number is in range, groups are written out.
//!
//! The comment of each block shows how it is written in the file; `?` marks a field that may be left out, with its default.
//! All times are minutes unless the name says otherwise; clock times are written `"06:30"`.

use super::Material;
use super::licence::{History, Licence, Need};
use crate::concrete::{AxleLayout, EmptyWeight, RackPractice, Reuse};
use crate::dispatch::Rule;
use crate::engine::{Count, Spread};
use crate::hours::{RuleBook, RuleSet};
use crate::roads::RoadTruck;
use crate::units::{Cents, Millis, OrderId, PlaceId, PlantId, TruckId, Volume, Weekday};

/// One scenario: the whole input of a study.
///
/// ```text
/// (
///     name: "…",  about?: "",
///     period?: (first_day?: Monday, days?: 1, measure?: (from_h: 0, to_h: 24)),
///     rule_book?: "none" | DutyWindow(hours: 14, rest_hours?: 10) | "us_property_2020" | …,   // default DutyWindow(hours: 14)
///     rule_books?: [(name: "…", like: "us_property_2020", driving_h?: 11, …)],              // rule books of its own
///     company?: ( … ),
///     plants: [ … ],  sites: [ … ],  roads: ( … ),  trucks: [ … ],  drivers: [ … ],
///     orders?: [ … ],  drawn?: [ … ],  endless?: [ … ],        // at least one of any
///     changes?: ( … ),  weighing?: ( … ),  helpers?: [ … ],  concrete?: ( … ),  yard?: ( … ),  money?: ( … ),  rules: [ … ],
/// )
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Title of the scenario.
    pub name: String,
    /// What it is about.
    pub about: String,
    /// Whether it is the one that runs where no file is named.
    pub built_in: bool,
    /// The days that one replication simulates.
    pub period: Period,
    /// The hours-of-service limits of who has no rule book of their own: `"none"`, or `DutyWindow(hours: 14, rest_hours?: 10)`
    /// with hours more than 0 and at most 24, rest 0 to 24, or the name of a built-in rule book or of one of `rule_books`.
    pub rule_book: RuleBook,
    /// The rule books that are used, written out; [`RuleBook::Set`] counts them.
    pub rule_sets: Vec<RuleSet>,
    /// The company's own limits and habits.
    pub company: Company,
    /// Plants, in the order written; `PlantId` counts them. At least one, at most 100.
    pub plants: Vec<Plant>,
    /// Sites, in the order written. Place ids count the plants first, then the sites.
    pub sites: Vec<Site>,
    /// The way between places: a table of minutes, or a network of links.
    pub roads: RoadTable,
    /// Trucks with groups written out; `TruckId` counts them. At least one, at most 5,000.
    pub trucks: Vec<Truck>,
    /// Drivers with groups written out. At least one.
    pub drivers: Vec<Driver>,
    /// Orders with a volume, those written one by one first, then those that `drawn` may bring; `OrderId` counts them first, then the endless ones.
    pub orders: Vec<Order>,
    /// Orders drawn day by day; [`Order::slot`] counts these lists.
    pub drawn: Vec<DrawnOrders>,
    /// Endless orders.
    pub endless: Vec<Endless>,
    /// What changes from day to day.
    pub changes: Changes,
    /// What trucks weigh beyond the books, and what comes of it. None: nobody is found heavy.
    pub weighing: Option<Weighing>,
    /// People who fetch stranded drivers and trucks.
    pub helpers: Vec<Helper>,
    /// The concrete in the drum.
    pub concrete: Concrete,
    /// What drivers and trucks do in the yard outside of loads.
    pub yard: Yard,
    /// Prices.
    pub money: Money,
    /// Rules to compare, in the order written. At least one, at most 40.
    pub rules: Vec<Rule>,
}

/// `(first_day?: Monday, days?: 1, measure?: (from_h: 0, to_h: 24))`
#[derive(Clone, Debug, PartialEq)]
pub struct Period {
    /// Weekday of the first day.
    pub first_day: Weekday,
    /// Days in a replication, 1 to 28.
    pub days: u32,
    /// The span over which queues are averaged and in which loads and waits are counted, hours since midnight before the
    /// first day (0 ≤ from < to ≤ 24 × days). None: averaged over the period, counted over the whole replication, the run
    /// home after the period included. For textbook queues whose start-up is left out.
    pub measure: Option<(Millis, Millis)>,
}

/// ```text
/// (no_load_after_h?: 12, finish_within_h?: 13, most_days_in_row?: 6,        // left out: no such limit
///  driver_caution?: 0.8, promise_horizon_min?: 20, latest_report_h?: 4, least_week_h?: 1, stranded_drive_car?: true,
///  relief?: false, stabiliser_h?: 0, drum_cleaning_min?: 180)          // (common practice, no source)
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Company {
    /// No load whose loading would start later than this after report. None: no such limit.
    pub no_load_after: Option<Millis>,
    /// A driver judges the way by the minutes that this share of trips at the hour stays within, 0.5 to 0.999.
    pub driver_caution: f64,
    /// A truck on its way back can be promised when it is believed at the plant within this time. 0: only trucks that stand
    /// at a plant.
    pub promise_horizon: Millis,
    /// A driver whose rest ends later than this after the planned report is not called that day; 0 to 24 h.
    pub latest_report: Millis,
    /// No load from which the driver would be released later than this after report. None: no such limit.
    pub finish_within: Option<Millis>,
    /// A driver who would work more days in a row is not called. None: no such limit.
    pub days_in_row: Option<u32>,
    /// A driver with less than this left of the weekly hours is not called, 0 to 14 h.
    pub least_week: Millis,
    /// Whether the stranded driver may drive the car home in which the helper came. Otherwise a second person comes along.
    pub stranded_drive_car: bool,
    /// Whether another driver who stands free at the plant takes over a loaded truck whose driver is out of hours.
    pub relief: bool,
    /// How long a stabiliser keeps a load in a stranded truck from setting; 0: none is carried.
    pub stabiliser: Millis,
    /// Time to clean a drum in which a load has set.
    pub drum_cleaning: Millis,
}

/// ```text
/// (name: "…", at?: (0.0, 0.0),                  // miles east and north
///  hours?: [(days?: [Monday, …], open: "05:30", close: "17:00")],   // left out: always open; days left out: all
///  bays?: 1, batcher?: PerBay | Shared, bay_queue?: ByRule | FirstCome, pull_in_min?: 0,
///  loading?: PerYard(fixed_min: 1.5, min_per_yd3: 0.4, luck?: Lognormal(mean: 1, cv: 0.2)),   // or any spread of minutes
///  rack?: Triangular(2, 5, 10), rack_places?: 3,      // places left out: no limit
///  mixes?: ["…"],                                      // left out: makes every mix
///  outages?: (mean_h_between: 120, minutes: Lognormal(mean: 35, cv: 0.8)),      // left out: none
///  planned_outages?: [(day: 2, from: "11:00", to: "12:30")], truck_scale?: true)
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Plant {
    /// Name, unique among plants and sites.
    pub name: String,
    /// Miles east and north of the map's corner.
    pub at: (f64, f64),
    /// Opening hours; empty: always open. Spans of one day do not overlap; closing after midnight is written as two.
    pub hours: Vec<OpenHours>,
    /// Bays, 1 to 20.
    pub bays: u32,
    /// Whether the bays share a batcher.
    pub batcher: Batcher,
    /// Who is next at the bay.
    pub bay_queue: BayQueue,
    /// Minutes from the head of the queue into a bay before loading can begin, 0 to 60.
    pub pull_in_min: f64,
    /// Minutes of loading.
    pub loading: Stage,
    /// Minutes of check and rinse at the rack.
    pub rack: Spread,
    /// Trucks that the rack can take at once. None: no limit.
    pub rack_places: Option<u32>,
    /// Mixes made; empty: all.
    pub mixes: Vec<String>,
    /// Outages drawn. None: the plant never stands still unplanned.
    pub outages: Option<Outages>,
    /// Outages planned, from and to since midnight before the first day.
    pub planned_outages: Vec<(Millis, Millis)>,
    /// Whether it has a truck scale: the true empty weight is known there, and no load leaves too heavy.
    pub truck_scale: bool,
}

/// `(days?: [Monday, …], open: "05:30", close: "17:00")`
#[derive(Clone, Debug, PartialEq)]
pub struct OpenHours {
    /// Weekdays on which it holds.
    pub days: Vec<Weekday>,
    /// Opens, since midnight.
    pub open: Millis,
    /// Closes, since midnight; after `open`, at most 24:00.
    pub close: Millis,
}

/// Whether the bays of a plant share a batcher.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Batcher {
    /// Every bay has its own.
    PerBay,
    /// One batcher loads one truck at a time; further bays only save the changeover.
    Shared,
}

/// Who is next at the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BayQueue {
    /// As the rule's sequence ranks the loads.
    ByRule,
    /// First come, first served.
    FirstCome,
}

/// How long a stage lasts.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    /// `Lognormal(mean: 6, cv: 0.3)` and the like: any spread, in minutes.
    Minutes(Spread),
    /// `PerYard(fixed_min: 1.5, min_per_yd3: 0.4, luck?: Constant(1))`: (fixed + per yd³ × volume) × luck.
    PerYard {
        /// Fixed minutes, 0 or more.
        fixed_min: f64,
        /// Minutes for each yd³, 0 or more.
        min_per_yd3: f64,
        /// Factor, usually of mean 1.
        luck: Spread,
    },
}

/// `(name: "…", at?: (0.0, 0.0), parking?: true)`
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Name, unique among plants and sites.
    pub name: String,
    /// Miles east and north of the map's corner.
    pub at: (f64, f64),
    /// Whether a truck may lawfully stand here overnight.
    pub parking: bool,
}

/// ```text
/// (minutes: { "Plant": { "Site": 18, "Other site": (18, 22), "Other plant": 25 } },   // out, or (out, back)
///  luck?: Lognormal(mean: 1, cv: 0.2),                    // factor on every trip; left out: 1
///  traffic?: [(days?: [Monday, …], factors: [("00:00", 1.0), ("06:30", 1.4), ("09:00", 1.1)])],   // left out: none
///  straight_line_mph?: 35)
/// ```
/// Every plant needs minutes to every site that orders use, and to every other plant. In place of the table stands
/// [`Network( … )`](RoadNetwork), whose fields `luck` and `straight_line_mph` mean the same.
#[derive(Clone, Debug, PartialEq)]
pub struct RoadTable {
    /// Free-flow minutes from place to place, `[from][to]`; None where the file gives none, all of them beside a network.
    /// Places: plants, then sites.
    pub minutes: Vec<Vec<Option<f64>>>,
    /// Factor on every trip, independent from trip to trip.
    pub luck: Spread,
    /// Traffic by weekday and hour; a weekday stands in one profile at most, and has none otherwise.
    pub traffic: Vec<TrafficProfile>,
    /// Speed at which a dispatcher who measures on the map believes trucks to drive, miles an hour, more than 0.
    pub straight_line_mph: f64,
    /// The network, if the roads are written as one.
    pub network: Option<RoadNetwork>,
}

/// ```text
/// Network(
///     junctions?: ["…"],            // beside plants and sites, which are nodes too; names apart from theirs
///     links: [
///         (name?: "…", from: "…", to: "…", miles: 4.2, mph: 45, both_ways?: true,
///          grade_percent?: 0,                          // rise from `from` to `to`; loaded trucks climb slowly
///          profile?: "…", profile_back?: "…",          // congestion, by name; back left out: as out
///          area?: "…",                                 // links of an area share a factor of the day
///          weight_limit_lb?: 60000,
///          closed_to_loaded?: [(days?: [Monday, …], from: "07:00", to: "09:00")],
///          lifts?: [(days?: …, from: "07:10", to: "07:25")],   // a bridge at its near end: who comes meanwhile waits
///          weigh_station?: (hours: [(days?: …, from: "06:00", to: "14:00")], minutes: 4),
///          incidents?: (per_day: 0.3, minutes: Lognormal(mean: 26, cv: 1), factor: 3))],
///     profiles?: [(name: "…", days: [(days?: [Monday, …], factors: [("06:30", 1.4), …])])],
///                 // in place of factors: volume_over_capacity: [("06:30", 0.9), …], made factors by the BPR function
///     truck?: (loaded_lb?: 66500, empty_lb?: 26000, hp?: 400),
///     day_luck?: Lognormal(mean: 1, cv: 0.15),          // left out: 1
///     luck?: …, straight_line_mph?: 35)
/// ```
/// Drivers take the quickest legal way for the hour, loaded or empty. A loaded truck that comes to a link while it is closed to
/// it waits for the end. Every plant needs a way to every site that orders use and back, and to every other plant.
#[derive(Clone, Debug, PartialEq)]
pub struct RoadNetwork {
    /// Names of the junctions. Nodes are counted plants first, then sites, then these.
    pub junctions: Vec<String>,
    /// Links.
    pub links: Vec<RoadLink>,
    /// Congestion profiles.
    pub profiles: Vec<NamedProfile>,
    /// The truck that grades and weight limits are reckoned for.
    pub truck: RoadTruck,
    /// Factor of a day, drawn for each area and day.
    pub day_luck: Spread,
}

/// A link of the network.
#[derive(Clone, Debug, PartialEq)]
pub struct RoadLink {
    /// Name; left out: `from – to`, which only one link may then have.
    pub name: String,
    /// Node where it begins.
    pub from: usize,
    /// Node where it ends.
    pub to: usize,
    /// Whether it leads back as well.
    pub both_ways: bool,
    /// Length, more than 0, at most 500.
    pub miles: f64,
    /// Free flow, miles an hour, 1 to 100.
    pub mph: f64,
    /// Rise in per cent from `from` to `to`, −20 to 20.
    pub grade_percent: f64,
    /// Position of its congestion profile. None: no traffic.
    pub profile: Option<usize>,
    /// The same for the way back. None: as out.
    pub profile_back: Option<usize>,
    /// Area whose factor of the day it shares. None: none.
    pub area: Option<String>,
    /// Heavier trucks may not take it. None: no limit.
    pub weight_limit_lb: Option<f64>,
    /// When loaded trucks may not enter it, either way.
    pub closed_to_loaded: Vec<RoadHours>,
    /// When its bridge is up.
    pub lifts: Vec<RoadHours>,
    /// Weigh station at its near end, either way.
    pub weigh_station: Option<WeighStation>,
    /// Incidents, apart for each direction.
    pub incidents: Option<RoadIncidents>,
}

/// `(days?: [Monday, …], from: "07:00", to: "09:00")`
#[derive(Clone, Debug, PartialEq)]
pub struct RoadHours {
    /// Weekdays on which it holds.
    pub days: Vec<Weekday>,
    /// Begins, since midnight.
    pub from: Millis,
    /// Ends, since midnight; after `from`, at most 24:00.
    pub to: Millis,
}

/// `(hours: [ … ], minutes: 4)`: every truck enters it while it is open.
#[derive(Clone, Debug, PartialEq)]
pub struct WeighStation {
    /// When it is open.
    pub hours: Vec<RoadHours>,
    /// Minutes lost in it, 0 to 240.
    pub minutes: f64,
}

/// `(per_day: 0.3, minutes: Lognormal(mean: 26, cv: 1), factor: 3)`
#[derive(Clone, Debug, PartialEq)]
pub struct RoadIncidents {
    /// Mean number in a day, evenly over its 24 hours, 0 to 50.
    pub per_day: f64,
    /// How long one lasts.
    pub minutes: Spread,
    /// How many times longer the link takes meanwhile, 1 to 100.
    pub factor: f64,
}

/// `(name: "…", days: [(days?: [Monday, …], factors: [ … ] | volume_over_capacity: [ … ])])`
#[derive(Clone, Debug, PartialEq)]
pub struct NamedProfile {
    /// Name, unique among profiles.
    pub name: String,
    /// As [`RoadTable::traffic`].
    pub days: Vec<TrafficProfile>,
}

/// `(days?: [Monday, …], factors: [("00:00", 1.0), ("06:30", 1.4)])`: from each time on, minutes are this many times the
/// free-flow ones; before the first time of the list, 1.
#[derive(Clone, Debug, PartialEq)]
pub struct TrafficProfile {
    /// Weekdays on which it holds.
    pub days: Vec<Weekday>,
    /// From when since midnight, and the factor (0.2 to 20); times increase.
    pub factors: Vec<(Millis, f64)>,
}

/// `(name: "N", count?: 1, home: "Plant", capacity_yd3?: 10, empty_lb?: 28000, legal_gross_lb?: 69000, axles?: [ … ],
/// breakdowns?: (mean_h_between: 400, minutes: Lognormal(mean: 75, cv: 0.8)))`: with a count above 1 the trucks are called N1,
/// N2 … `axles` from front to back, `(at_ft: 0, empty_lb: 12000, share: 0.2)`: feet behind the first, what it bears of the empty
/// truck, and its share of the concrete's weight; then `empty_lb` is their sum. Also
/// `needs?: (class?: B, endorsements?: ["…"], bars?: ["…"])`.
#[derive(Clone, Debug, PartialEq)]
pub struct Truck {
    /// Name, unique among trucks.
    pub name: String,
    /// Home plant.
    pub home: PlantId,
    /// Rated capacity, more than 0, at most 20 yd³.
    pub capacity: Volume,
    /// Empty weight, lb.
    pub empty_lb: f64,
    /// Legal gross weight, lb; None: weight is not looked at.
    pub legal_gross_lb: Option<f64>,
    /// Breakdowns on the road, by hours driven: the truck stands where it is until it is repaired, and its load grows older.
    /// None: it never breaks down.
    pub breakdowns: Option<Outages>,
    /// Axles, which cut a load to the largest that axle limits and the bridge formula allow. None: only gross weight counts.
    pub axles: Option<AxleLayout>,
    /// What its driver's licence must allow. None: anybody may drive it.
    pub needs: Option<Need>,
}

impl Truck {
    /// The most concrete that it may carry by law, lb; [`f64::INFINITY`] where weight is not looked at.
    pub fn payload_lb(&self) -> f64 {
        let gross = self
            .legal_gross_lb
            .map_or(f64::INFINITY, |gross| gross - self.empty_lb);
        match &self.axles {
            Some(axles) => axles
                .largest_legal(self.legal_gross_lb)
                .payload_lb
                .min(gross),
            None => gross,
        }
    }
}

/// `(name: "Dn", count?: …, trucks: "N", report: "06:00", stagger_min?: 0, shift_h?: 10, days?: [Monday, …],
/// seniority?: 3, care?: 1, rule_book?: …, class?: B, endorsements?: ["…"], restrictions?: ["…"], history?: ( … ))`: `trucks`
/// names a truck or a group; the drivers get its trucks in turn (count left out: one driver each); the i-th reports
/// i × stagger after the first. With a count above 1 the drivers are called Dn1, Dn2 …
#[derive(Clone, Debug, PartialEq)]
pub struct Driver {
    /// Name, unique among drivers.
    pub name: String,
    /// The truck driven. Two drivers of one truck must not be planned at the same time.
    pub truck: TruckId,
    /// Report time since midnight.
    pub report: Millis,
    /// Planned length of the duty tour, more than 0; afterwards the driver is sent home when next idle.
    pub shift: Millis,
    /// Weekdays worked.
    pub days: Vec<Weekday>,
    /// How carefully tickets are read, as a share of the habit of the house, 0 to 1.
    pub care: f64,
    /// The hours-of-service limits kept.
    pub rule_book: RuleBook,
    /// The licence. None: the right one.
    pub licence: Option<Licence>,
    /// The days before the period.
    pub history: History,
    /// Moments at which the driver is called in, since midnight before the first day, increasing, in place of `report` and
    /// `days`. None: as the roster says. Not written in a file: studies of staffing set it.
    pub calls: Option<Vec<Millis>>,
    /// Seniority, 1 to 9,999, 1 the most senior. None: after all who have one. Equals in the order written.
    pub seniority: Option<u32>,
}

/// ```text
/// (name: "…", site: "…", day?: 1, first: "07:00", volume_yd3: 60, load_yd3?: 10,
///  spacing_min: 15 | pour_rate_yd3_h: 40,        // one of the two
///  mix?: "standard", late_min?: 15, gap_min?: …, setup_min?: 0, finish_by?: "15:00",
///  chance?: 1, called?: "09:00", outdoor?: false,      // called left out: known from the start
///  pump?: false, balance_yd3?: Triangular(1, 4, 9),
///  … and the fields of a stay: outlets, position, discharge, chute_wash, waiting_room)
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Name, unique among orders.
    pub name: String,
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
    /// When the pour was agreed to be finished. None: not agreed.
    pub finish_by: Option<Millis>,
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
///  … and of an order: site, load_yd3, spacing_min | pour_rate_yd3_h, mix, late_min, gap_min, setup_min, outdoor, pump, balance_yd3,
///    outlets, position, discharge, chute_wash, waiting_room)
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

/// A site and how it takes the loads of one order.
#[derive(Clone, Debug, PartialEq)]
pub struct Destination {
    /// The site's place.
    pub site: PlaceId,
    /// Share of the loads where destinations are drawn, more than 0.
    pub share: f64,
    /// `outlets?: [(rate_yd3_min: 1.0, places?: 1)]`
    pub outlets: Vec<Outlet>,
    /// Trucks that may wait on site for a place beyond those at the outlets. None: no limit. The rest wait outside.
    pub waiting_room: Option<u32>,
    /// How long each step lasts.
    pub times: StayTimes,
}

/// `position?: Lognormal(mean: 3.4, cv: 0.5), discharge_luck?: Lognormal(mean: 1, cv: 0.4), discharge?: spread of minutes,
/// chute_wash?: Triangular(3, 5, 10)`
#[derive(Clone, Debug, PartialEq)]
pub struct StayTimes {
    /// Minutes from the wait to the outlet.
    pub position: Spread,
    /// Minutes at the outlet in place of volume ÷ rate; None: the formula holds.
    pub discharge: Option<Spread>,
    /// Factor on volume ÷ rate.
    pub discharge_luck: Spread,
    /// Minutes of the chute wash, aside of the outlet.
    pub chute_wash: Spread,
}

impl StayTimes {
    /// What holds where nothing is written.
    pub fn usual() -> Self {
        Self {
            position: Spread::Lognormal { mean: 3.4, cv: 0.5 },
            discharge: None,
            discharge_luck: Spread::Lognormal { mean: 1.0, cv: 0.4 },
            chute_wash: Spread::Triangular {
                low: 3.0,
                mode: 5.0,
                high: 10.0,
            },
        }
    }
}

/// `(rate_yd3_min: 1.0, places?: 1)`: a pump or chute that takes concrete.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlet {
    /// yd³ a minute, more than 0.
    pub rate_yd3_min: f64,
    /// Trucks that can stand at it, 1 to 10; a second saves changeover, not flow.
    pub places: u32,
}

/// ```text
/// (no_show?: 0.02, rain?: 0.08, rain_slows?: 1.15, cancelled?: 0.03,
///  not_ready?: 0.1, not_ready_min?: Lognormal(mean: 35, cv: 0.6), pace?: Lognormal(mean: 1, cv: 0.15),
///  hold?: 0.05, hold_min?: Lognormal(mean: 25, cv: 0.6), returned?: 0.3, returned_yd3?: Triangular(0.2, 0.5, 2),
///  balance?: 0.1, balance_yd3?: Triangular(1, 3, 8))
/// ```
/// Shares, 0 to 1, all left out: 0. Luck is drawn for each driver and day, each day, each order.
#[derive(Clone, Debug, PartialEq)]
pub struct Changes {
    /// Share of driver days on which the driver does not come.
    pub no_show: f64,
    /// Share of days on which rain cancels all outdoor orders together.
    pub rain: f64,
    /// Share of orders that the customer cancels before the first load.
    pub cancelled: f64,
    /// Share of orders whose site is not ready in time; the desk hears of it when the first load is due.
    pub not_ready: f64,
    /// How many minutes later it is ready.
    pub not_ready_min: Spread,
    /// Factor on every trip of a rainy day, 1 to 5.
    pub rain_slows: f64,
    /// Factor on every discharge of an order: its crew is slower or faster than its rate says. None: 1.
    pub pace: Option<Spread>,
    /// Share of orders whose pour stops once, after any load but the last: no further truck takes a place for a while.
    pub hold: f64,
    /// For how many minutes.
    pub hold_min: Spread,
    /// Share of orders that turn out to need less than was ordered: the rest of the last load goes back.
    pub returned: f64,
    /// How many yd³ go back, at most half of the load.
    pub returned_yd3: Spread,
    /// Share of orders whose site calls in a balance: more than was ordered, once all loads but the last are on site. Nothing of
    /// such an order is returned.
    pub balance: f64,
    /// How many yd³ more, by the half yard.
    pub balance_yd3: Spread,
}

/// `(empty_over_lb?: 500, empty_sd_lb?: 500, held?: Lognormal(mean: 45, cv: 0.4), goes_round?: 0.1)`: trucks of plants without a truck
/// scale weigh more or less than the books say, by as much each day as is drawn; a loaded one that comes to an open weigh station of
/// the network above its legal gross is held there, pays what `money` says, and its load grows older. That is a risk shown, no advice
/// to take it: the remedy is a smaller load or a truck scale. `goes_round` needs a network of roads with a weigh station, and is a
/// habit that costs time: no rule chooses it and the desk does not know of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// What an empty truck weighs beyond the books.
    pub empty: EmptyWeight,
    /// For how many minutes a truck found heavy is held.
    pub held: Spread,
    /// Share, 0 to 1, of the loads of plants without a truck scale that go round an open weigh station on their way, if the driver's
    /// hours hold the way round.
    pub goes_round: f64,
}

/// `(name: "…", at: "Plant", from: "06:00", to: "22:00", days?: [Monday, …], rule_book?: "none", class?: B, endorsements?: ["…"],
/// restrictions?: ["…"], history?: ( … ))`: somebody with a car, on call in these hours; fetches a stranded driver, and drives
/// the truck home if licence and hours allow it. Licence left out: the right one. Rule book left out: within the law for any trip.
/// On duty all the time on call, whatever else the helper's own work is. Who may not drive the truck may still drive the car.
#[derive(Clone, Debug, PartialEq)]
pub struct Helper {
    /// Name, unique among helpers.
    pub name: String,
    /// Where the helper starts.
    pub at: PlantId,
    /// On call from, since midnight.
    pub from: Millis,
    /// On call until, since midnight, after `from`.
    pub to: Millis,
    /// Weekdays on call.
    pub days: Vec<Weekday>,
    /// The hours-of-service limits kept.
    pub rule_book: RuleBook,
    /// The licence. None: the right one.
    pub licence: Option<Licence>,
    /// The days before the period.
    pub history: History,
}

/// `(mean_h_between: 120, minutes: Lognormal(mean: 35, cv: 0.8))`: the plant stands still, on average once in so many hours of
/// the clock; no loading begins until it is repaired. The desk reckons with the mean length.
#[derive(Clone, Debug, PartialEq)]
pub struct Outages {
    /// Mean hours between two, more than 0.
    pub mean_h_between: f64,
    /// Minutes of one.
    pub minutes: Spread,
}

/// ```text
/// (age_limit_min?: 90,
///  rack?: (misread?: 0.04, misread_if_warned?: 0.01, found?: 0.8, dry_up_room_yd3?: 0.4, dry_up?: Triangular(6, 9, 15)),
///  empty?: Constant(15), reuse?: (age_limit_min?: 45, share?: 0.5))
/// ```
/// Fields left out: no age limit, no load misread, nothing reused. In `rack` the values shown are the usual ones (common practice, no source).
/// With `mixes` in place of `rack` the concrete in the drum is computed: see [`Material`].
///
/// `reuse`: what a site did not need of a load (`returned` of [`Changes`]) stays in the drum if the truck's next load is of the same
/// mix, if it is at most `age_limit_min` old when that load is begun, and at most `share` of it. So much less is batched, and the
/// age of the load counts from the older concrete. Else it is got rid of at [`Money::returned_per_yd3`], in no time. ASTM C1798
/// rules such use and gives no permission: the purchaser does. Minutes and share: common practice, no source. A load that was
/// turned away is never reused.
#[derive(Clone, Debug, PartialEq)]
pub struct Concrete {
    /// From the start of batching to the end of discharge, at most 24 h. None: no limit.
    pub age_limit: Option<Millis>,
    /// Reading the slump meter. None: every load is as ordered.
    pub rack: Option<RackPractice>,
    /// Minutes in the bay for a dry-up, remixing included.
    pub dry_up: Spread,
    /// Minutes at the plant to get rid of a load.
    pub empty: Spread,
    /// The concrete in the drum, computed. None: a load is fine or too wet, as `rack` says.
    pub material: Option<Material>,
    /// Returned concrete under the next load. None: never.
    pub reuse: Option<Reuse>,
}

/// `(pre_trip?: Lognormal(mean: 15.7, cv: 0.3), washout?: Triangular(10, 15, 30), post_trip?: Constant(10))`: the driver's
/// first minutes, the drum's washout at the end of the day, and the last minutes before release.
#[derive(Clone, Debug, PartialEq)]
pub struct Yard {
    /// Minutes from report to the first load.
    pub pre_trip: Spread,
    /// Minutes of washout after the last load.
    pub washout: Spread,
    /// Minutes from washout to release.
    pub post_trip: Spread,
}

/// Prices in whole units of the scenario's currency, all 0 or more:
///
/// ```text
/// (pay_per_h?: 27, overtime_after_h?: 8, overtime_factor?: 1.5, truck_per_duty_h?: 25, truck_per_driven_h?: 30,
///  crew_per_open_h?: 110, material_per_yd3?: 105, dumped_per_yd3?: 40, late_per_load?: 50, late_per_min?: 2,
///  undelivered_per_yd3?: 180, stranded?: 400, lodging?: 0, helper_per_h?: 55,
///  overtime_after_week_h?: 40, second_overtime?: (after_h: 12, factor: 2), call_out_min_h?: 4,     // left out: none
///  night?: (from: "20:00", to: "05:00", per_h: 2.5), weekend?: (days?: [Saturday, Sunday], factor: 1.25),
///  truck_per_mile?: 0, miles_at_mph?: 30, per_washout?: 0, found_heavy?: 0, returned_per_yd3?: 40, pump_standby_per_h?: 0, site_crew_per_h?: 0,
///  revenue?: (per_yd3: 165, unloading_min_per_yd3?: 7, unloading_per_min?: 2.5, short_load_under_yd3?: 5, short_load?: 90))
/// ```
/// A driver's hour earns the highest factor that applies to it, once. A tour belongs to the day on which it began, and to that
/// day's week, Monday to Sunday. Hours that are overtime by the day do not count towards the week's.
#[derive(Clone, Debug, PartialEq)]
pub struct Money {
    /// A driver's paid hour.
    pub pay_per_h: Cents,
    /// Hours of duty in tours that began on one day after which an hour is overtime.
    pub overtime_after: Millis,
    /// Factor on an overtime hour, 1 or more.
    pub overtime_factor: f64,
    /// A truck's hour with a driver on duty.
    pub truck_per_duty_h: Cents,
    /// A truck's driven hour on top: fuel, tyres, wear.
    pub truck_per_driven_h: Cents,
    /// A plant's crew, per open hour.
    pub crew_per_open_h: Cents,
    /// Material of a batched yd³.
    pub material_per_yd3: Cents,
    /// Getting rid of a yd³ that is not placed.
    pub dumped_per_yd3: Cents,
    /// A late load.
    pub late_per_load: Cents,
    /// A minute of a late load beyond the order's tolerance.
    pub late_per_min: Cents,
    /// A yd³ not delivered on its order's day.
    pub undelivered_per_yd3: Cents,
    /// A stranded driver: trouble and lost goodwill. Hours, helpers and beds are paid apart from it.
    pub stranded: Cents,
    /// A bed for a driver who rests out away from home.
    pub lodging: Cents,
    /// A helper's hour, car included.
    pub helper_per_h: Cents,
    /// Hours in a week, those that are overtime by the day left out, after which an hour is overtime. None: no such limit.
    pub overtime_after_week: Option<Millis>,
    /// Hours of a day after which an hour earns another factor. None: no second step.
    pub second_overtime: Option<(Millis, f64)>,
    /// The least that a tour is paid for, at the plain rate.
    pub call_out: Millis,
    /// What an hour of the night earns on top. None: nothing.
    pub night: Option<Night>,
    /// What hours of tours that began on some weekdays earn. None: no more than on others.
    pub weekend: Option<Weekend>,
    /// A truck's driven mile.
    pub truck_per_mile: Cents,
    /// On a table of minutes: the speed that makes free-flow minutes miles, miles an hour, 1 to 100. A network knows its miles.
    pub miles_at_mph: f64,
    /// A washout of the drum at the end of a tour.
    pub per_washout: Cents,
    /// A truck found heavy at a weigh station.
    pub found_heavy: Cents,
    /// Doing something with a yd³ that comes back and is not reused: blocks, reclaiming, disposal.
    pub returned_per_yd3: Cents,
    /// An hour in which a pour with a pump stands still between its first and its last discharge.
    pub pump_standby_per_h: Cents,
    /// An hour in which the crew of any pour stands still between its first and its last discharge.
    pub site_crew_per_h: Cents,
    /// What customers pay: a figure of its own, never part of the cost. None: not looked at.
    pub revenue: Option<Revenue>,
}

/// `(from: "20:00", to: "05:00", per_h: 2.5)`
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Night {
    /// Begins, since midnight.
    pub from: Millis,
    /// Ends, since midnight; on the next day if before `from`.
    pub to: Millis,
    /// What an hour within earns on top of everything.
    pub per_h: Cents,
}

/// `(days?: [Saturday, Sunday], factor: 1.25)`
#[derive(Clone, Debug, PartialEq)]
pub struct Weekend {
    /// Weekdays on which a tour begins that earns the factor.
    pub days: Vec<Weekday>,
    /// Factor on every hour of it that earns no higher one, 1 to 10.
    pub factor: f64,
}

/// ```text
/// (per_yd3: 165, unloading_min_per_yd3?: 7, unloading_per_min?: 0, short_load_under_yd3?: 0, short_load?: 0)
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Revenue {
    /// Price of a yd³ placed.
    pub per_yd3: Cents,
    /// Minutes for each yd³ that a load may take on site, from its arrival (or when it is due, if that is later) to the end
    /// of its discharge. One producer's published terms: 7; 5 is also usual (common practice, no source).
    pub unloading_min_per_yd3: f64,
    /// A minute beyond.
    pub unloading_per_min: Cents,
    /// A complete order of less than this pays `short_load`, once; what a rule cuts an order into does not matter.
    pub short_load_under: Volume,
    /// See there.
    pub short_load: Cents,
}

impl Scenario {
    /// The place of a plant.
    pub fn plant_place(&self, plant: PlantId) -> PlaceId {
        PlaceId(plant.0)
    }

    /// The name of a place: a plant's or a site's.
    pub fn place_name(&self, place: PlaceId) -> &str {
        match place.at().checked_sub(self.plants.len()) {
            None => &self.plants[place.at()].name,
            Some(site) => &self.sites[site].name,
        }
    }

    /// The name of an order, endless ones included.
    pub fn order_name(&self, order: OrderId) -> &str {
        match order.at().checked_sub(self.orders.len()) {
            None => &self.orders[order.at()].name,
            Some(endless) => &self.endless[endless].name,
        }
    }

    /// The position of today's rule.
    pub fn todays_rule(&self) -> usize {
        self.rules.iter().position(|rule| rule.today).unwrap_or(0)
    }
}

impl Plant {
    /// Whether it makes a mix.
    pub fn makes(&self, mix: &str) -> bool {
        self.mixes.is_empty() || self.mixes.iter().any(|made| made == mix)
    }
}

impl Driver {
    /// Planned report times over a period.
    pub fn reports(&self, period: &Period) -> Vec<Millis> {
        let times = self.reports_by_day(period);
        times.into_iter().map(|(_, at)| at).collect()
    }

    /// Planned reports over a period: the day that each belongs to, and its time.
    pub fn reports_by_day(&self, period: &Period) -> Vec<(i64, Millis)> {
        let rostered = || {
            (0..i64::from(period.days))
                .filter(|day| self.days.contains(&period.first_day.after(*day)))
                .map(|day| (day, Millis::midnight(day) + self.report))
                .collect()
        };
        let last = i64::from(period.days) - 1;
        let called = |calls: &Vec<Millis>| {
            let day = |at: &Millis| at.day().clamp(0, last);
            calls.iter().map(|at| (day(at), *at)).collect()
        };
        self.calls.as_ref().map_or_else(rostered, called)
    }
}
