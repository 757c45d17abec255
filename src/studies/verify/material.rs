//! Concrete in the drum, its age limits, and what trucks may weigh, against published figures and cases on paper.

mod ages;
mod air;
mod dry_up;
mod load_on_paper;
mod mixes;
mod slumps;
mod strengths;
mod weights;

pub use load_on_paper::loaded_mix;
pub use mixes::{plain_mix, retaining_wall};
pub use strengths::{METRIC, Metric, PSI_PER_MPA, fit};

use super::Family;
use super::check::{Check, Sheet};

/// The checks.
pub fn checks() -> Vec<Check> {
    let mut sheet = Sheet::new(Family::Material);
    ages::check(&mut sheet);
    weights::check(&mut sheet);
    mixes::check(&mut sheet);
    slumps::check(&mut sheet);
    air::check(&mut sheet);
    strengths::check(&mut sheet);
    dry_up::check(&mut sheet);
    load_on_paper::check(&mut sheet);
    sheet.into_checks()
}
