//! Which numbers are allowed, and how that is said.

use std::fmt;

/// A range of finite numbers with its unit: "minutes, 0 to 240".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    unit: &'static str,
    low: f64,
    above_low: bool,
    high: f64,
}

impl Limits {
    /// From `low` to `high`, both allowed.
    pub const fn between(unit: &'static str, low: f64, high: f64) -> Self {
        Self {
            unit,
            low,
            above_low: false,
            high,
        }
    }

    /// More than `low`, at most `high`.
    pub const fn above(unit: &'static str, low: f64, high: f64) -> Self {
        Self {
            unit,
            low,
            above_low: true,
            high,
        }
    }

    /// Whether a number is within.
    pub fn hold(&self, value: f64) -> bool {
        value.is_finite()
            && value <= self.high
            && if self.above_low {
                value > self.low
            } else {
                value >= self.low
            }
    }
}

impl fmt::Display for Limits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (unit, low, high) = (self.unit, Grouped(self.low), Grouped(self.high));
        if self.above_low {
            write!(f, "{unit}, more than {low}, at most {high}")
        } else {
            write!(f, "{unit}, {low} to {high}")
        }
    }
}

/// A number with commas between its thousands.
struct Grouped(f64);

impl fmt::Display for Grouped {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.fract() != 0.0 || self.0.abs() < 1000.0 {
            return write!(f, "{}", self.0);
        }
        let digits = format!("{:.0}", self.0);
        for (at, digit) in digits.chars().enumerate() {
            let left = digits.len() - at;
            write!(
                f,
                "{digit}{}",
                if left > 1 && left % 3 == 1 && digit != '-' {
                    ","
                } else {
                    ""
                }
            )?;
        }
        Ok(())
    }
}
