//! What is made of events: observers of the world. The world never reads them back.

mod cause;
mod columns;
mod figures;
mod ledger;
mod log;
mod losses;
mod pours;
mod profile;
mod queues;
mod timeline;
mod wages;

pub use cause::{Cause, Causes};
pub use columns::{Better, Column, columns, figure};
pub use figures::Figures;
pub use ledger::Ledger;
pub use log::Log;
pub use losses::{Loss, Losses};
pub use profile::{CostPart, LATE_BIN, LATE_BINS, Profile, Profiler};
pub use timeline::{Activity, Span, Timeline};
