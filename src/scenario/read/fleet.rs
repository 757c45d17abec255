//! Trucks and drivers, groups written out.

mod drivers;
mod groups;
mod trucks;

pub(super) use drivers::Drivers;
pub(super) use trucks::Trucks;
