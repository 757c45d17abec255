//! Money in whole cents.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub};

/// An amount of money in whole cents of the scenario's currency.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cents(pub i64);

impl Cents {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// So many whole currency units.
    pub const fn dollars(units: i64) -> Self {
        Self(units * 100)
    }

    /// The nearest cent to an amount in whole currency units.
    pub fn from_units(units: f64) -> Self {
        Self((units * 100.0).round() as i64)
    }

    /// The amount in currency units (dollars).
    pub fn units(self) -> f64 {
        self.0 as f64 / 100.0
    }

    /// This rate multiplied by a quantity (hours, yd³, miles), to the nearest cent.
    pub fn times(self, quantity: f64) -> Self {
        Self((self.0 as f64 * quantity).round() as i64)
    }
}

impl Add for Cents {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Cents {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Cents {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Cents {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Sum for Cents {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}
