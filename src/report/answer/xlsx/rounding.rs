//! Whether a spreadsheet program rounds a number to the digits that the page shows.

use crate::report::answer::Form;
use crate::report::number::Unit;

/// A spreadsheet program reckons with fifteen significant digits and rounds a five up; the page rounds the number itself, as it is in
/// memory. 0.285 in whole percent is 29% for the one and 28% for the other.
const DIGITS: usize = 15;

/// Whether the two agree on a finite number.
pub(super) fn agrees(value: f64, form: Form) -> bool {
    let on_page = match form.unit {
        Unit::Share => value.abs() * 100.0,
        _ => value.abs(),
    };
    let on_page = format!("{on_page:.*}", form.decimals).replace('.', "");
    let shift = match form.unit {
        Unit::Share => 2,
        _ => 0,
    };
    match rounded(value.abs(), form.decimals + shift) {
        Some(digits) => on_page.parse::<u64>() == Ok(digits),
        None => true,
    }
}

/// The digits of a number with so many decimals, as a spreadsheet program finds them; none if it has no more digits than are kept.
fn rounded(value: f64, decimals: usize) -> Option<u64> {
    let text = format!("{value:.*e}", DIGITS - 1);
    let (digits, exponent) = text.split_once('e')?;
    let digits: u64 = digits.replace('.', "").parse().ok()?;
    let exponent: i64 = exponent.parse().ok()?;
    let kept = exponent + 1 + decimals as i64;
    let dropped = DIGITS as i64 - kept;
    match dropped {
        ..=0 => None,
        1..=15 => {
            let unit = 10_u64.pow(dropped as u32);
            Some((digits + unit / 2) / unit)
        }
        _ => Some(0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked out by hand: fives, exact in memory or not, and numbers beside them.
    #[test]
    fn fives_are_found() {
        let agrees = |value, unit, decimals| agrees(value, Form::new(unit, decimals));
        assert!(agrees(12.3, Unit::Plain, 0));
        // 0.5 is exact in memory: the page rounds it to the even 0, a spreadsheet up to 1; 1.5 is 2 for both.
        assert!(!agrees(0.5, Unit::Plain, 0));
        assert!(agrees(1.5, Unit::Plain, 0));
        assert!(!agrees(-12.125, Unit::Money, 2));
        // In memory a little below 2.675.
        assert!(!agrees(2.675, Unit::Plain, 2));
        assert!(!agrees(0.285, Unit::Share, 0));
        assert!(agrees(0.284, Unit::Share, 0));
        assert!(agrees(0.0, Unit::Share, 1) && agrees(1e-9, Unit::Money, 2));
        assert!(agrees(123_456_789_012_345_680.0, Unit::Plain, 1));
        assert!(agrees(999.96, Unit::Plain, 1));
    }
}
