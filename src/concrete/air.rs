//! Air content: drawn about its target, and judged.

use super::noise::normal;

/// Air that an order asks for, per cent of the volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirTarget {
    /// Per cent.
    pub target: f64,
    /// Per cent either way: 1.5 by ASTM C94 (from memory).
    pub tolerance: f64,
}

/// What an air content is to an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirVerdict {
    /// Within tolerance.
    Taken,
    /// Above: strength is lost.
    TooMuch,
    /// Below: frost is not resisted.
    TooLittle,
}

impl AirTarget {
    /// A load's air content, per cent, with luck `u` in (0, 1), normal about the target; never below 0. `sd` is 0.6 where
    /// one load in 80 is out of a tolerance of 1.5 (common practice, no source).
    pub fn drawn(self, sd: f64, u: f64) -> f64 {
        (self.target + sd * normal(u)).max(0.0)
    }

    /// What this content is to the order.
    pub fn judge(self, air: f64) -> AirVerdict {
        if air > self.target + self.tolerance {
            AirVerdict::TooMuch
        } else if air < self.target - self.tolerance {
            AirVerdict::TooLittle
        } else {
            AirVerdict::Taken
        }
    }
}
