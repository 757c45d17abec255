//! A scenario after checking: names are resolved, every number is in range, groups are written out.
//!
//! The comment of each block shows how it is written in the file; `?` marks a field that may be left out, with its default.
//! All times are minutes unless the name says otherwise; clock times are written `"06:30"`.
//!
//! A spread, of minutes or whatever the field has, is a number or one of these, in which the names may be left out:
//!
//! ```text
//! Constant(value: 5)                     always the same
//! Uniform(low: 2, high: 5)               anything between, equally likely
//! Triangular(low: 2, mode: 5, high: 10)  least, most likely, most
//! Pert(low: 2, mode: 5, high: 10)        the same, rounder; mean (low + 4 mode + high) / 6
//! Beta(low: 2, high: 10, alpha: 2, beta: 3)        shapes 0.1 to 1,000
//! Normal(mean: 6, sd: 2)                 what lies below zero cut off
//! Lognormal(mean: 6, cv: 0.3)            cv: standard deviation / mean, 0 to 10
//! Gamma(mean: 6, cv: 0.3)
//! Exponential(mean: 6)
//! Weibull(mean: 6, shape: 1.5)           shape 0.3 to 100: above 1 the longer it has lasted, the sooner it ends
//! Empirical([3, 4, 4, 9])                measured values, each equally likely
//! ```

mod changes;
mod concrete;
mod fleet;
mod money;
mod orders;
mod plant;
mod roads;
mod setting;
mod site;
mod world;

pub use changes::{Changes, Outages, Weighing};
pub use concrete::Concrete;
pub use fleet::{Breakdowns, Driver, Hauler, Helper, Truck};
pub use money::{Money, Night, Revenue, ShowUp, Weekend};
pub use orders::{DrawnOrders, Endless, Order, Routing, Slot};
pub use plant::{Batcher, BayQueue, OpenHours, Plant, Stage};
pub use roads::{
    MinutesByHour, NamedProfile, RoadHours, RoadIncidents, RoadLink, RoadNetwork, RoadTable,
    TrafficProfile, WeighStation,
};
pub use setting::{Company, Period, Yard};
pub use site::{Destination, Outlet, Site, StayTimes};
pub use world::OwnWorld;

use crate::concrete::EmptyWeight;
use crate::dispatch::Rule;
use crate::hours::{RuleBook, RuleSet};
use crate::scenario::Origin;
use crate::scenario::defaults::Marks;
use crate::units::measure::Measures;
use crate::units::{OrderId, PlaceId, PlantId};

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
///     worlds?: [ … ],                                       // worlds in which a decision is tried, beside the usual ones
/// )
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Title of the scenario.
    pub name: String,
    /// What it is about.
    pub about: String,
    /// The file that it was read from, or that it is the one that runs where no file is named.
    pub origin: Origin,
    /// What it is written and told in: `units?: us | si` and `currency?: "$"`. In SI fields end with units of SI: `volume_m3`, `empty_kg`,
    /// `straight_line_kmh`, `slump_mm`, `mean_c`.
    pub measures: Measures,
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
    /// What comes of it if a truck is found heavy on the road. None: nobody is.
    pub weighing: Option<Weighing>,
    /// What empty trucks of plants without a truck scale weigh beyond the books: of weigh stations and of loads whose concrete is
    /// computed alike. Written in `weighing`.
    pub empty_weight: EmptyWeight,
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
    /// Worlds of the user's own in which a decision is tried, in the order written, at most 100. No day is simulated otherwise for them.
    pub worlds: Vec<OwnWorld>,
    /// One truck with a load of this order breaks down, once, on its way: which load, and where, is drawn. Not written in a file: the
    /// study of a pour sets it.
    pub one_breakdown: Option<OrderId>,
    /// Which of its values are its own and where defaults stand.
    pub marks: Marks,
    /// Columns of its tables that no field is named for: table and heading.
    pub ignored_columns: Vec<(String, String)>,
    /// What else is to be told of how its tables were read: rows of sums, sheets that are none of its lists.
    pub table_notes: Vec<String>,
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
