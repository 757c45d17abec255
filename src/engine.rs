//! Calendar, addressed draws and spreads: the machinery of simulation, without a word of the domain.
//!
//! - [`Calendar`] says what happens next: ordered by time, then [`Class`], then the order of scheduling.
//! - [`Luck`] gives every random number an address: a draw never depends on what was drawn before it.
//! - [`Spread`] is a distribution as it is written down; [`Sampler`] is the same one compiled for the event loop, and
//!   [`MeanBeyond`] what of it is to be reckoned with that has not ended yet.
//! - [`fits`] finds the spread that a sample comes from.
//! - [`Count`] is the same for whole numbers; [`Counter`] its compiled form.
//! - [`TimeIntegral`] adds up a level over time: mean number present, share of time busy.

mod calendar;
mod count;
mod draws;
mod fit;
mod integral;
mod spread;

pub use calendar::{Calendar, Class};
pub use count::{Count, Counter};
pub use draws::{Block, Entity, Luck, Stream, philox4x64_10};
pub use fit::{Family, Fit, anderson_darling, fit_of, fits, largest_gap};
pub use integral::TimeIntegral;
pub use spread::{MeanBeyond, Sampler, Spread, normal_quantile};
