//! Which numbers are allowed, and how that is said.

use crate::units::measure::{self, Quantity};
use std::fmt;

/// A range of finite numbers with its unit: "minutes, 0 to 240". Where it is a US unit and SI is spoken, numbers are written and the
/// range is told in SI: this is where figures that people write become those of the program.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    unit: &'static str,
    low: f64,
    above_low: bool,
    high: f64,
    /// Of temperatures: whether it is a difference of two.
    difference: bool,
}

impl Limits {
    /// From `low` to `high`, both allowed.
    pub const fn between(unit: &'static str, low: f64, high: f64) -> Self {
        Self {
            unit,
            low,
            above_low: false,
            high,
            difference: false,
        }
    }

    /// More than `low`, at most `high`.
    pub const fn above(unit: &'static str, low: f64, high: f64) -> Self {
        Self {
            unit,
            low,
            above_low: true,
            high,
            difference: false,
        }
    }

    /// The same for differences of temperatures.
    pub const fn difference(self) -> Self {
        Self {
            difference: true,
            ..self
        }
    }

    /// What is measured, if it has a unit in either system.
    fn quantity(&self) -> Option<Quantity> {
        Some(match self.unit {
            "yd³" | "yd³ an hour" | "yd³ a minute" => Quantity::Volume,
            "minutes a yd³" | "minutes per yd³" => Quantity::PerVolume,
            "lb" => Quantity::Weight,
            "lb/yd³" => Quantity::Density,
            "money per lb" => Quantity::PerWeight,
            "miles" => Quantity::Distance,
            "miles an hour" => Quantity::Speed,
            "air miles" => Quantity::AirMiles,
            "feet" => Quantity::Length,
            "in" => Quantity::Slump,
            "°F" if self.difference => Quantity::Warmth,
            "°F" => Quantity::Temperature,
            "psi" => Quantity::Strength,
            "horsepower" => Quantity::Power,
            "gal/yd³" => Quantity::Dose,
            "per cent for each gal/yd³" => Quantity::PerDose,
            _ => return None,
        })
    }

    /// What is written, as the program has it: to the digits that one conversion leaves.
    pub fn heard(&self, written: f64) -> f64 {
        match self.quantity().filter(|_| measure::is_si()) {
            Some(quantity) => {
                let heard = quantity.heard(written);
                format!("{heard:.13e}").parse().unwrap_or(heard)
            }
            None => written,
        }
    }

    /// Whether a number of the program's is within.
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
        let told = |us: f64| match self.quantity() {
            Some(quantity) if measure::is_si() => four_digits(quantity.told(us)),
            _ => us,
        };
        let unit = measure::said(self.unit);
        let (low, high) = (Grouped(told(self.low)), Grouped(told(self.high)));
        if self.above_low {
            write!(f, "{unit}, more than {low}, at most {high}")
        } else {
            write!(f, "{unit}, {low} to {high}")
        }
    }
}

/// Rounded to four digits.
fn four_digits(value: f64) -> f64 {
    format!("{value:.3e}").parse().unwrap_or(value)
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
