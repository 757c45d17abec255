//! An interval of a real number, possibly without an end.

/// A closed interval, in the unit of the values it was made from.
///
/// An end that the data cannot give (one replication tells nothing about spread) is infinite, never "not a number".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end, or −∞.
    pub low: f64,
    /// Upper end, or +∞.
    pub high: f64,
}

impl Interval {
    /// What is known when nothing is: everything.
    pub const UNBOUNDED: Self = Self {
        low: f64::NEG_INFINITY,
        high: f64::INFINITY,
    };

    /// `centre` ± `half_width`; unbounded if the half-width is infinite.
    pub fn around(centre: f64, half_width: f64) -> Self {
        if half_width.is_finite() {
            Self {
                low: centre - half_width,
                high: centre + half_width,
            }
        } else {
            Self::UNBOUNDED
        }
    }

    /// Whether both ends are known: `false` is the flag to print a blank instead of a figure.
    pub fn is_bounded(self) -> bool {
        self.low.is_finite() && self.high.is_finite()
    }

    /// Half the distance between the ends, +∞ if an end is missing.
    pub fn half_width(self) -> f64 {
        if self.is_bounded() {
            (self.high - self.low) / 2.0
        } else {
            f64::INFINITY
        }
    }

    /// Whether `value` lies in the interval, ends included.
    pub fn contains(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// Whether every value in it has the same sign, so that a difference is shown. An end at zero does not show one.
    pub fn excludes_zero(self) -> bool {
        !self.contains(0.0)
    }

    /// The interval of the number with the opposite sign.
    pub fn negated(self) -> Self {
        Self {
            low: -self.high,
            high: -self.low,
        }
    }
}
