//! The way between places: a table of minutes or a network, and traffic.

use crate::engine::Spread;
use crate::roads::RoadTruck;
use crate::units::{Millis, Weekday};

/// ```text
/// (minutes: { "Plant": { "Site": 18, "Other site": (18, 22), "Other plant": 25,       // out, or (out, back)
///                        "Third site": [("05:00", 12), ("07:00", 17), ("09:00", 14)] } },  // by time of day
///  luck?: Lognormal(mean: 1, cv: 0.2),                    // factor on every trip; left out: 1
///  traffic?: [(days?: [Monday, …], factors: [("00:00", 1.0), ("06:30", 1.4), ("09:00", 1.1)])],   // left out: none
///  straight_line_mph?: 35)
/// ```
/// Minutes by time of day are those of a trip that sets out and arrives within the band; one that crosses its end drives what is left
/// at the pace of the next. Before the first time of the day the quickest hold. The quickest are the empty road's; `traffic` does not
/// slow such a way again.
/// Every plant needs minutes to every site that orders use, and to every other plant. In place of the table stands
/// [`Network( … )`](RoadNetwork), whose fields `luck` and `straight_line_mph` mean the same.
#[derive(Clone, Debug, PartialEq)]
pub struct RoadTable {
    /// Free-flow minutes from place to place, `[from][to]`, of a way by time of day the quickest; None where the file gives none, all of
    /// them beside a network. Places: plants, then sites.
    pub minutes: Vec<Vec<Option<f64>>>,
    /// Ways whose minutes are written by time of day; their traffic is in them. Empty beside a network.
    pub by_hour: Vec<MinutesByHour>,
    /// Factor on every trip, independent from trip to trip.
    pub luck: Spread,
    /// Traffic by weekday and hour; a weekday stands in one profile at most, and has none otherwise.
    pub traffic: Vec<TrafficProfile>,
    /// Speed at which a dispatcher who measures on the map believes trucks to drive, miles an hour, more than 0.
    pub straight_line_mph: f64,
    /// The network, if the roads are written as one.
    pub network: Option<RoadNetwork>,
}

/// The minutes of a way by time of day, the same on every weekday.
#[derive(Clone, Debug, PartialEq)]
pub struct MinutesByHour {
    /// Place where it begins.
    pub from: usize,
    /// Place where it ends.
    pub to: usize,
    /// Minutes from times since midnight on, which increase; more than 0, at most 1,440.
    pub minutes: Vec<(Millis, f64)>,
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
