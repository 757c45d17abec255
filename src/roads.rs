//! Minutes between places: what is true at the hour, with the luck of the day, and what a dispatcher believes.

mod belief;

pub use belief::Belief;
