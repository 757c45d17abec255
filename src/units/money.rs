//! Money in whole cents.

use std::cmp::Ordering;
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
        Self(nearest(self.0 as f64 * quantity))
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

/// `round() as i64`, which is a call where the processor has no instruction for it: here without one, since every load is priced.
#[inline]
fn nearest(x: f64) -> i64 {
    let whole = x as i64;
    let part = x - whole as f64;
    whole.saturating_add(i64::from(part >= 0.5) - i64::from(part <= -0.5))
}

/// What a yd³ or a mile costs, in cents: whole ones where it was written for that, parts of one where it was written for a m³ or a km.
#[derive(Clone, Copy, Debug, Default)]
pub struct Rate(f64);

impl Rate {
    /// Nothing.
    pub const ZERO: Self = Self(0.0);

    /// So many whole currency units.
    pub const fn dollars(units: i64) -> Self {
        Self((units * 100) as f64)
    }

    /// So many whole currency units, not rounded.
    pub fn of(units: f64) -> Self {
        Self(units * 100.0)
    }

    /// In currency units (dollars).
    pub fn units(self) -> f64 {
        self.0 / 100.0
    }

    /// This rate multiplied by a quantity, to the nearest cent.
    #[inline]
    pub fn times(self, quantity: f64) -> Cents {
        Cents(nearest(self.0 * quantity))
    }

    /// So many times this rate; whole cents stay whole.
    pub fn scaled(self, factor: f64) -> Self {
        let scaled = self.0 * factor;
        Self(if self.0.fract() == 0.0 {
            scaled.round()
        } else {
            scaled
        })
    }
}

impl From<Cents> for Rate {
    fn from(amount: Cents) -> Self {
        Self(amount.0 as f64)
    }
}

impl Sub for Rate {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl PartialEq for Rate {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Rate {}

impl PartialOrd for Rate {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Rate {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.total_cmp(&other.0)
    }
}

#[cfg(test)]
mod tests {
    use super::nearest;

    /// Against the standard library's rounding, halves and their neighbors above all.
    #[test]
    fn nearest_is_what_round_gives() {
        let halves = (-2_000..2_000).map(|half| f64::from(half) / 2.0);
        let large = [
            1e9,
            4_503_599_627_370_495.5,
            9.1e15,
            1e18,
            1e300,
            f64::INFINITY,
        ];
        let odd = [f64::NAN, 0.499_999_999_999_999_94, f64::MIN_POSITIVE];
        for x in halves.chain(large).chain(odd) {
            for x in [x, -x, x.next_up(), x.next_down(), x * 1.37] {
                assert_eq!(nearest(x), x.round() as i64, "{x}");
            }
        }
    }
}
