//! The same days on which one truck of a pour breaks down, once, with a full drum on its way.

use crate::engine::Spread;
use crate::scenario::defaults::{
    BREAKDOWN_CALL_MIN, BREAKDOWN_EMPTY_MIN, DRUM_TURNS_SHARE, OUT_DAYS,
};
use crate::scenario::{Breakdowns, Scenario};
use crate::units::{Millis, OrderId};

/// Mean hours between two breakdowns of trucks that never break down by themselves: more than any study drives.
const NEVER_H: f64 = 1e9;

/// How long the repair of a truck takes whose scenario says nothing of breakdowns, minutes: common practice, no source.
const REPAIR: Spread = Spread::Lognormal {
    mean: 75.0,
    cv: 0.8,
};

/// The scenario in which one load of a pour, drawn anew in every replication, breaks down on its way. Trucks of which nothing is
/// written break down as the defaults say.
pub fn one_breakdown(scenario: &Scenario, pour: OrderId) -> Scenario {
    let mut edited = scenario.clone();
    edited.one_breakdown = Some(pour);
    for truck in &mut edited.trucks {
        truck.breakdowns.get_or_insert_with(usual_breakdowns);
    }
    edited
}

/// Of a truck of which nothing is written: it does not break down by itself, and if it does it stands as any truck.
pub fn usual_breakdowns() -> Breakdowns {
    Breakdowns {
        mean_h_between: NEVER_H,
        minutes: REPAIR,
        call: Millis::from_minutes(BREAKDOWN_CALL_MIN.value),
        drum_turns: DRUM_TURNS_SHARE.value,
        empty: Millis::from_minutes(BREAKDOWN_EMPTY_MIN.value),
        out_days: OUT_DAYS.value,
    }
}
