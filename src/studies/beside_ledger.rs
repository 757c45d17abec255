//! What the lateness ledger has for a cause, beside what is avoided when that cause is taken away on the same days.
//!
//! The two are counted in different ways and need not agree: a delay that is taken away also frees the trucks, bays and clocks behind
//! it, whose own lateness the ledger has for other causes; and a load that is no longer late for one thing may be late for the next.
//! Since the ledger's parts add up to the late loads with and without the change, the difference can be told to the load.

use super::Gone;
use crate::observe::LateCause;
use crate::scenario::WhatIf;
use crate::statistics::{Interval, Summary};

/// From this share of the larger on, a difference between the two is explained.
const NOTABLE: f64 = 0.15;

/// The two side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BesideLedger {
    /// What the change takes away or eases.
    pub causes: &'static [LateCause],
    /// Late loads that the ledger has for these causes as it is, mean of a replication.
    pub there: f64,
    /// Its interval, simultaneous over the changes.
    pub there_interval: Interval,
    /// What disappears of them with the change.
    pub own: Gone,
}

impl BesideLedger {
    /// `sums` gives the late loads of causes as it is, over the replications, and what disappears of them; `level` is the confidence
    /// of one interval.
    pub(super) fn of(
        change: WhatIf,
        sums: impl FnOnce(&[LateCause]) -> (Summary, Gone),
        level: f64,
    ) -> Option<Self> {
        let causes = causes_of(change);
        if causes.is_empty() {
            return None;
        }
        let (there, own) = sums(causes);
        Some(Self {
            causes,
            there: there.mean().unwrap_or_default(),
            there_interval: there.interval(level),
            own,
        })
    }

    /// Whether what is avoided in all differs notably from what the ledger has.
    pub fn differs(&self, avoided: f64) -> bool {
        (self.there - avoided).abs() > NOTABLE * self.there.max(avoided.abs())
    }
}

/// The ledger's causes that a change takes away, or eases.
fn causes_of(change: WhatIf) -> &'static [LateCause] {
    match change {
        WhatIf::NoIncidents => &[LateCause::Incident],
        WhatIf::EveryTicketRead | WhatIf::Warning | WhatIf::MoistureProbe => {
            &[LateCause::Rack, LateCause::MadeAgain]
        }
        WhatIf::BayMore => &[LateCause::BayQueue],
        WhatIf::AgeAgreed => &[LateCause::TooOld, LateCause::MadeAgain],
        WhatIf::TruckMore | WhatIf::ReportEarlier | WhatIf::NoNoShows => &[LateCause::NoTruck],
        WhatIf::OpenLonger | WhatIf::NoOutages => &[LateCause::PlantClosed],
        WhatIf::KnowsTheHour | WhatIf::KnowsTheDay => &[LateCause::Belief],
        WhatIf::NoSiteLate => &[LateCause::Site],
        WhatIf::TruckScale => &[LateCause::TooHeavy, LateCause::WeighStation],
        WhatIf::TruckLess | WhatIf::BayLess | WhatIf::NoLends | WhatIf::DriversWord => &[],
    }
}
