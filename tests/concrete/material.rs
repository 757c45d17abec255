//! Concrete in the drum: the published figures and cases on paper of `plantday verify`; open data, and what has no published figure.

mod ages;
mod air;
mod dry_up;
mod load_on_paper;
mod mixes;
mod on_top;
mod slumps;
mod strengths;
mod weather;
mod weights;

use crate::agree::all_agree;
use plantday::studies::verify::material::{self, plain_mix};

/// Sources and expected values stand with each check of the list.
#[test]
fn published_figures_agree() {
    all_agree(&material::checks());
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} for {expected} ± {tolerance}"
    );
}

/// Within this share of the expected value.
#[track_caller]
fn close(found: f64, expected: f64, relative: f64) {
    near(found, expected, relative * expected.abs());
}
