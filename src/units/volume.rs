//! Volume of concrete in thousandths of a cubic yard, whole, so that what was ordered, placed and left balances exactly.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub, SubAssign};

/// A volume in thousandths of a cubic yard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(pub i64);

impl Volume {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// More than any order: the open volume of an endless one.
    pub const ENDLESS: Self = Self(i64::MAX / 4);

    /// The nearest thousandth to a number of cubic yards.
    pub fn from_yd3(yd3: f64) -> Self {
        Self((yd3 * 1000.0).round() as i64)
    }

    /// In cubic yards.
    #[inline]
    pub fn yd3(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// How many loads of the size `load` it takes, the last one perhaps smaller.
    pub fn loads_of(self, load: Self) -> i64 {
        (self.0 + load.0 - 1).div_euclid(load.0)
    }
}

impl Add for Volume {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Volume {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Volume {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Volume {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Sum for Volume {
    fn sum<I: Iterator<Item = Self>>(volumes: I) -> Self {
        volumes.fold(Self::ZERO, Add::add)
    }
}
