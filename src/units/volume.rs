//! Volume of concrete, whole, so that what was ordered, placed and left balances exactly.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub, SubAssign};

/// Of a thousandth of a cubic yard, and of a thousandth of a cubic metre (one part in ten billion off): both are whole, so that loads of 8 m³ go
/// three times into 24 m³ as loads of 8 yd³ into 24 yd³.
const IN_THOUSANDTH_YD3: i64 = 51_518;
const IN_THOUSANDTH_M3: i64 = 67_383;
/// Cubic metres in a cubic yard.
const M3: f64 = 0.9144 * 0.9144 * 0.9144;
/// How far a number may be from a whole one that it was computed from.
const ROUNDING: f64 = 1e-12;

/// A volume, in parts of which a thousandth of a cubic yard has 51,518.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(pub i64);

impl Volume {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// More than any order: the open volume of an endless one.
    pub const ENDLESS: Self = Self(i64::MAX / 4);

    /// So many thousandths of a cubic yard.
    pub const fn thousandths(yd3: i64) -> Self {
        Self(yd3 * IN_THOUSANDTH_YD3)
    }

    /// The nearest thousandth to a number of cubic yards; the very volume if it is one of whole thousandths of a cubic metre.
    pub fn from_yd3(yd3: f64) -> Self {
        let (in_yd3, in_m3) = (yd3 * 1000.0, yd3 * M3 * 1000.0);
        let is_whole = |x: f64| (x - x.round()).abs() <= ROUNDING * x.abs();
        if !is_whole(in_yd3) && is_whole(in_m3) {
            return Self(in_m3.round() as i64 * IN_THOUSANDTH_M3);
        }
        Self::thousandths(in_yd3.round() as i64)
    }

    /// In cubic yards.
    #[inline]
    pub fn yd3(self) -> f64 {
        self.0 as f64 / (1000 * IN_THOUSANDTH_YD3) as f64
    }

    /// How many loads of the size `load` it takes, the last one perhaps smaller.
    pub fn loads_of(self, load: Self) -> i64 {
        (self.0 + load.0 - 1).div_euclid(load.0)
    }

    /// The size of each of so many equal loads, to the thousandth of a cubic yard upwards, the last one perhaps smaller.
    pub fn in_loads(self, loads: i64) -> Self {
        let whole = IN_THOUSANDTH_YD3 * loads;
        Self::thousandths((self.0 + whole - 1).div_euclid(whole))
    }

    /// The half of it, to the thousandth of a cubic yard downwards.
    pub fn half(self) -> Self {
        Self::thousandths(self.0.div_euclid(2 * IN_THOUSANDTH_YD3))
    }

    /// The nearest whole number of thousandths of a cubic yard.
    pub fn in_thousandths(self) -> i64 {
        (self.0 + IN_THOUSANDTH_YD3 / 2).div_euclid(IN_THOUSANDTH_YD3)
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

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 yd³ is 0.764554857984 m³ (NIST SP 811, exactly 0.9144³).
    #[test]
    fn both_units_are_whole() {
        let of_m3 = |m3: f64| Volume::from_yd3(m3 / 0.764554857984);
        for (load, loads) in [
            (12.0, 3),
            (8.0, 3),
            (7.5, 8),
            (9.0, 4),
            (6.125, 100),
            (10.1, 7),
        ] {
            let order = of_m3(load * loads as f64);
            assert_eq!(order.loads_of(of_m3(load)), loads, "{load}");
            assert_eq!(Volume(of_m3(load).0 * loads), order);
            assert!((of_m3(load).yd3() * 0.764554857984 / load - 1.0).abs() < 1e-9);
        }
        for yd3 in [10.0, 0.001, 9.333, 24.5, 19_999.999] {
            assert_eq!(Volume::from_yd3(yd3).yd3(), yd3);
            // What is written in m³ as the image of a volume in yd³ is that volume.
            assert_eq!(of_m3(yd3 * 0.764554857984), Volume::from_yd3(yd3));
        }
        assert_eq!(Volume::from_yd3(9.33349), Volume::thousandths(9_333));
        assert_eq!(
            Volume::from_yd3(10.0).in_loads(3),
            Volume::thousandths(3_334)
        );
        assert_eq!(
            Volume::thousandths(9_501).half(),
            Volume::thousandths(4_750)
        );
    }
}
