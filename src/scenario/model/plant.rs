//! Plants: their bays, hours and stages of a load.

use super::Outages;
use crate::engine::Spread;
use crate::units::{Millis, Weekday};

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
    /// Whether that is written. One place alone may leave it out and be the middle of the map.
    pub is_mapped: bool,
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
    /// Whether it has a truck scale: the true empty weight is known there, and no load is batched too heavy.
    pub truck_scale: bool,
}

impl Plant {
    /// Whether it makes a mix.
    pub fn makes(&self, mix: &str) -> bool {
        self.mixes.is_empty() || self.mixes.iter().any(|made| made == mix)
    }
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
