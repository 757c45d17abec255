//! Edits of a checked scenario: the same days with one thing changed. Pure functions from a scenario to another one that is as
//! right as the first. Luck is addressed by names, so what an edit adds or takes away shakes no other draw.

mod book;
pub mod calm;
mod day_change;
mod desk;
pub mod fleet;
mod input;
mod mishaps;
mod more;
pub mod new_order;
pub mod one_breakdown;
mod opening;
mod otherwise;
pub mod roster;
mod surprise;
mod what_if;

pub use day_change::DayChange;
pub use input::{Input, InputKind};
pub use otherwise::Otherwise;
pub use surprise::{Down, Surprise};
pub use what_if::WhatIf;
