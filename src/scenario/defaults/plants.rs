//! Plants.

use super::Source::{Off, Practice, Published};
use super::{Value, defaults};
use crate::engine::Spread;
use crate::scenario::{Batcher, BayQueue, Stage};
use crate::units::measure::{self, Quantity};

defaults! {
    HOURS: () = (), "plants.hours", "", "opening hours (left out: always open)", Off;
    BAYS: u32 = 1, "plants.bays", "bays", "loading bays of a plant", Practice("1 or 2 are usual for a dry plant");
    BATCHER: Batcher = Batcher::PerBay, "plants.batcher", "", "batchers of a plant with several bays", Practice("");
    BAY_QUEUE: BayQueue = BayQueue::ByRule, "plants.bay_queue", "", "who is next at the bay", Practice("");
    PULL_IN_MIN: f64 = 0.0, "plants.pull_in_min", "min", "pulling into the bay", Off;
    LOADING: Stage = Stage::PerYard {
        fixed_min: 1.5,
        min_per_yd3: 0.4,
        luck: Spread::Lognormal { mean: 1.0, cv: 0.2 },
    }, "plants.loading", "", "loading",
        Published("5 to 10 min a truck from start to finish: trade handbooks on ready-mixed plants");
    LOADING_LUCK: Spread = Spread::Constant(1.0), "plants.loading.luck", "times the usual minutes",
        "loads that take longer or shorter to load", Off;
    RACK: Spread = Spread::Triangular { low: 2.0, mode: 5.0, high: 10.0 }, "plants.rack", "min",
        "check and rinse at the slump rack", Practice("3 to 10 min");
    RACK_PLACES: () = (), "plants.rack_places", "trucks", "room at the slump rack (left out: no limit)", Off;
    TRUCK_SCALE: bool = true, "plants.truck_scale", "", "the plant has a truck scale", Practice("");
    OUTAGES: () = (), "plants.outages", "", "plants that go down unplanned", Off;
}

impl From<Batcher> for Value {
    fn from(batcher: Batcher) -> Self {
        Self::Words(
            match batcher {
                Batcher::PerBay => "one for each bay",
                Batcher::Shared => "one for all bays",
            }
            .into(),
        )
    }
}

impl From<BayQueue> for Value {
    fn from(queue: BayQueue) -> Self {
        Self::Words(
            match queue {
                BayQueue::ByRule => "as the dispatch rule ranks the loads",
                BayQueue::FirstCome => "first come, first served",
            }
            .into(),
        )
    }
}

impl From<Stage> for Value {
    fn from(stage: Stage) -> Self {
        match stage {
            Stage::Minutes(spread) => Self::Spread(spread),
            Stage::PerYard {
                fixed_min,
                min_per_yd3,
                ..
            } => {
                let each = measure::rounded(Quantity::PerVolume, min_per_yd3, 3);
                let unit = Quantity::PerVolume.unit();
                Self::Words(format!("{fixed_min} min and {each} min {unit}"))
            }
        }
    }
}
