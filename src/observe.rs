//! What is made of events: observers of the world. The world never reads them back.

mod clock_figures;
mod columns;
mod figures;
mod log;
mod pours;
mod profile;
mod queues;
mod timeline;

pub use columns::{Better, Column, columns, figure};
pub use figures::Figures;
pub use log::Log;
pub use profile::{CostPart, LATE_BIN, LATE_BINS, Profile, Profiler};
pub use timeline::{Activity, Span, Timeline};
