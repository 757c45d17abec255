//! Statistics against published examples and tables. Where a figure is printed with few digits, more were computed with independent
//! software (SciPy) and are what is checked.

mod procedures;
mod tables;

use super::Family;
use super::check::{Check, Sheet};
use crate::statistics::Interval;

/// Relative: the digits that were computed.
const DIGITS: f64 = 1e-8;

/// The checks.
pub fn checks() -> Vec<Check> {
    let mut sheet = Sheet::new(Family::Statistics);
    tables::check(&mut sheet);
    procedures::check(&mut sheet);
    sheet.into_checks()
}

/// A figure to all its digits.
fn digits(sheet: &mut Sheet, figure: impl Into<String>, found: f64, expected: f64) {
    let within = DIGITS * expected.abs().max(1e-3);
    sheet.near(figure.into(), found, expected, within);
}

/// Both ends of an interval.
fn ends(sheet: &mut Sheet, of: &str, found: Interval, (low, high): (f64, f64)) {
    digits(sheet, format!("{of}, lower end"), found.low, low);
    digits(sheet, format!("{of}, upper end"), found.high, high);
}
