//! The leads of the load that the desk reckons with.

use crate::dispatch::Lead;
use crate::units::{Millis, OrderId, SpotId, Volume};
use std::cell::Cell;

/// The leads of the load that was reckoned with last: it is so several times before it has a truck.
#[derive(Clone, Debug, Default)]
pub(super) struct KnownLeads {
    pub(super) of: Option<LeadsOf>,
    /// In the order of the plants that make its mix.
    pub(super) leads: Vec<Lead>,
}

impl KnownLeads {
    /// To be filled while they are looked at.
    pub(super) fn cells(&mut self) -> &[Cell<Lead>] {
        Cell::from_mut(&mut self.leads[..]).as_slice_of_cells()
    }
}

/// All that those leads turn on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LeadsOf {
    pub(super) rule: usize,
    pub(super) order: OrderId,
    pub(super) spot: SpotId,
    pub(super) target: Millis,
    pub(super) volume: Volume,
    /// Where the belief is of the roads as they are.
    pub(super) now: Millis,
}
