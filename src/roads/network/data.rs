//! What a network is made from.

use crate::engine::Spread;
use crate::roads::{RoadTruck, Traffic, Weekly};
use crate::units::Weekday;

/// What a network is made from. Nodes are counted: places first (plants, then sites), then junctions.
#[derive(Clone, Debug)]
pub struct NetworkData {
    /// Weekday on which simulated time begins.
    pub first_day: Weekday,
    /// Miles east and north of each place; as many as there are places.
    pub at: Vec<(f64, f64)>,
    /// How many of the places are plants.
    pub plants: usize,
    /// For each place, whether trucks drive on from it to any other place, not only to and from plants.
    pub onward: Vec<bool>,
    /// Nodes that are junctions only.
    pub junctions: usize,
    /// One-way links.
    pub links: Vec<LinkData>,
    /// Congestion profiles.
    pub profiles: Vec<Traffic>,
    /// Names of the areas that links belong to.
    pub areas: Vec<String>,
    /// Factor of a day in an area, shared by its links.
    pub day_luck: Spread,
    /// Factor on every trip.
    pub luck: Spread,
    /// The truck that grades and limits are reckoned for.
    pub truck: RoadTruck,
    /// Miles an hour on the map, for the straight-line belief.
    pub straight_line_mph: f64,
    /// Whether some loads go round weigh stations: their ways are then looked for.
    pub ways_round: bool,
}

/// A one-way link.
#[derive(Clone, Debug)]
pub struct LinkData {
    /// Name of this direction of the road: its incidents hang on it.
    pub name: String,
    /// Node where it begins.
    pub from: usize,
    /// Node where it ends.
    pub to: usize,
    /// Length.
    pub miles: f64,
    /// Free flow, miles an hour.
    pub mph: f64,
    /// Rise over run, negative downhill.
    pub grade: f64,
    /// Position of its congestion profile. None: no traffic.
    pub profile: Option<usize>,
    /// Position of its area. None: no factor of the day.
    pub area: Option<usize>,
    /// Heavier trucks may not take it.
    pub weight_limit_lb: Option<f64>,
    /// When it is closed to loaded trucks.
    pub closed_to_loaded: Weekly,
    /// Lifts of a bridge at its beginning: who comes during one waits until its end.
    pub lifts: Weekly,
    /// Weigh station at its beginning.
    pub weigh_station: Option<WeighStationData>,
    /// Incidents on it.
    pub incidents: Option<IncidentData>,
}

impl LinkData {
    /// Whether anything on it can hold a truck up.
    pub(super) fn delays(&self) -> bool {
        !self.lifts.is_empty()
            || !self.closed_to_loaded.is_empty()
            || self.weigh_station.is_some()
            || self.incidents.is_some()
    }
}

/// A weigh station that every truck enters while it is open.
#[derive(Clone, Debug)]
pub struct WeighStationData {
    /// When it is open.
    pub open: Weekly,
    /// Minutes lost in it. What stands in it at closing is let out in turn: nobody is overtaken from behind.
    pub minutes: f64,
}

/// Incidents that slow a link down for a while.
#[derive(Clone, Debug)]
pub struct IncidentData {
    /// Mean number in a day of 24 hours, spread over it evenly; 0 to 50.
    pub per_day: f64,
    /// How long one lasts.
    pub minutes: Spread,
    /// How many times longer the link takes meanwhile, 1 or more.
    pub factor: f64,
}
