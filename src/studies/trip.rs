//! `trip`: questions of the hour, answered by forked worlds: may this load go, can we take this order, who fetches whom.
//!
//! Every trial forks the world at the moment without seeing its true future ([`World::fork`](crate::plant::World::fork)) and
//! goes on until those concerned are home. Search and final answer stand on disjoint trials. A plan within the law: a driver
//! whom a clock bars is refused in every trial, and nothing here suggests passing a limit.

mod base;
mod calibrate;
mod fate;
mod fetch;
mod last_loads;
mod legal;
mod load;
mod order;
mod plant_sites;
mod unsaid;

pub use base::state_of;
pub use calibrate::{
    ALL_THREE, Bin, Calibration, FORETOLD, Known, PASSED, Reliability, STUCK, calibrate,
    calibrate_desk,
};
pub use fate::{Fate, Spanning};
pub use fetch::{FetchAnswer, WayHome, who_fetches};
pub use last_loads::{DriverLasts, Ends, LastLoad, LastLoads, last_loads};
pub use legal::{Legal, Risk};
pub use load::{Candidate, LoadAnswer, LoadVerdict, may_load_go, who_takes};
pub use order::{Change, DayLimit, FirstLoad, OrderAnswer, OrderQuestion, take_order};
pub use plant_sites::PlantSites;
pub use unsaid::WouldDo;

use crate::scenario::day_state::{DayState, NoLonger};
pub use crate::scenario::edit::new_order::NewOrder;
use crate::units::Millis;
use std::num::NonZeroUsize;

/// The moment that is asked about, and how.
#[derive(Clone, Debug)]
pub struct TripQuestion {
    /// Position of the rule under which the desk works.
    pub rule: usize,
    /// The moment, since midnight before the first day.
    pub at: Millis,
    /// How things stand then; none: as in a simulated day.
    pub state: Option<DayState>,
    /// The simulated day that has led to it.
    pub replication: u64,
    /// Seed of that day; none: that of all luck.
    pub day_seed: Option<u64>,
    /// Why the file of how things stand does not stand for the simulated day that it was written from.
    pub no_longer: Option<NoLonger>,
    /// Trials of the final answer, at least 1; the search takes fewer.
    pub trials: u64,
    /// The chance that is enough, above 0, below 1.
    pub probability: f64,
    /// The chance of driving past a limit that is borne, from 0 up, below 1.
    pub passing: f64,
    /// The chance of a stranded driver that is borne, the same.
    pub stranded: f64,
    /// Whether more runs are taken than a clean answer about the hours takes, so that a few events leave it possible.
    pub sure: bool,
    /// The most runs for the answer about the hours, at least 1.
    pub most_runs: u64,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence of two-sided intervals and of the one-sided bound, between 0 and 1.
    pub level: f64,
}

impl Default for TripQuestion {
    fn default() -> Self {
        Self {
            rule: 0,
            at: Millis::ZERO,
            state: None,
            replication: 0,
            day_seed: None,
            no_longer: None,
            trials: 200,
            probability: 0.9,
            passing: 0.001,
            stranded: 0.02,
            sure: false,
            most_runs: 100_000,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}
