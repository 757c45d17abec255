//! What is made of events: observers of the world. The world never reads them back.

mod columns;
mod figures;
mod log;
mod pours;
mod queues;

pub use columns::{Better, Column, columns, figure};
pub use figures::Figures;
pub use log::Log;
