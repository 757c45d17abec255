//! Minutes between places: what is true at the hour, with the luck of the day, and what a dispatcher believes.

mod belief;
mod table;
mod traffic;

pub use belief::{Belief, Believed};
pub use table::{RoadData, Roads};
pub use traffic::Traffic;
