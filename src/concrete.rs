//! Concrete in the drum: what becomes of a load at the rack, and how long it may wait. Pure functions.

mod rack;

pub use rack::{RackOutcome, RackPractice};
