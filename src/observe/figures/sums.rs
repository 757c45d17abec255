//! Sums over the events of a replication.

use crate::plant::BrokenDrum;
use crate::units::{Cents, Millis, Volume};

/// What is only added up.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sums {
    pub(super) loads: u32,
    pub(super) stranded: u32,
    pub(super) rested_out: u32,
    pub(super) days_lost: u32,
    pub(super) not_called: u32,
    pub(super) called_off: u32,
    pub(super) redirected: u32,
    pub(super) declined: u32,
    pub(super) loads_lost: u32,
    pub(super) rejected: u32,
    pub(super) made_again: u32,
    pub(super) dry_ups: u32,
    pub(super) fetched: u32,
    pub(super) no_shows: u32,
    pub(super) days_off: u32,
    pub(super) cancelled: Volume,
    pub(super) never_ordered: Volume,
    pub(super) balance: Volume,
    pub(super) helpers: Millis,
    pub(super) broken: u32,
    pub(super) outside: u32,
    pub(super) refused_hours: u32,
    pub(super) refused_closed: u32,
    pub(super) refused_other: u32,
    pub(super) batched: Volume,
    /// What went into it to keep it workable.
    pub(super) stabilizers: Cents,
    pub(super) placed: Volume,
    pub(super) dumped: Volume,
    pub(super) left: Volume,
    /// Of orders refused when they were called in.
    pub(super) refused_volume: Volume,
    /// What the volume placed is sold for.
    pub(super) sold: Cents,
    pub(super) violation: Millis,
    pub(super) miles: f64,
    pub(super) washouts: u32,
    pub(super) breakdowns: u32,
    /// Loads given up in trucks that have broken down, and what became of them, by [`BrokenDrum`].
    pub(super) given_up: u32,
    pub(super) broken_drums: [u32; 3],
    pub(super) heavy: u32,
    pub(super) returned: Volume,
    /// Of what came back.
    pub(super) reused: Volume,
    /// Unloading minutes beyond the allowance.
    pub(super) unloading_beyond: f64,
    pub(super) short_orders: u32,
    pub(super) driven: Millis,
    pub(super) productive: Millis,
    pub(super) crew_stayed: Millis,
    pub(super) kept_open: Millis,
}

impl Sums {
    /// How often a load that was given up on the road ended so.
    pub(super) fn drums(&self, how: BrokenDrum) -> f64 {
        self.broken_drums[how as usize].into()
    }
}
