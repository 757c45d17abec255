//! What concrete is made of: masses by component, and the densities that make volumes of them.

use std::ops::{Add, AddAssign, Mul, Sub, SubAssign};

/// Pounds in a US gallon of water (231 in³ at 62.4 lb/ft³ and 60 °F, the figure of ASTM tables: 8.345).
pub const WATER_LB_PER_GAL: f64 = 8.3454;
/// Pounds in a cubic foot of water, the 62.4 of ACI 211.1.
pub const WATER_LB_PER_FT3: f64 = 62.4;
/// Cubic feet in a cubic yard.
pub const FT3_PER_YD3: f64 = 27.0;
/// Masses by component, lb; aggregates saturated and surface-dry. Per yd³ in a [`Mix`](super::Mix), in all in a load.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Masses {
    /// Portland cement.
    pub cement_lb: f64,
    /// Other binder: slag, fly ash, silica fume.
    pub binder_lb: f64,
    /// Free water, that on wet aggregate included.
    pub water_lb: f64,
    /// Fine aggregate.
    pub fine_lb: f64,
    /// Coarse aggregate.
    pub coarse_lb: f64,
    /// HRWR as delivered; its own water, a few lb per yd³, is not counted in the w/c.
    pub hrwr_lb: f64,
}

impl Masses {
    /// All components together.
    pub fn total_lb(self) -> f64 {
        self.parts().iter().sum()
    }

    /// Water ÷ (cement + other binder) by mass; 0 without binder.
    pub fn wc(self) -> f64 {
        let binder = self.cement_lb + self.binder_lb;
        if binder > 0.0 {
            self.water_lb / binder
        } else {
            0.0
        }
    }

    /// The components in the order of the fields.
    pub fn parts(self) -> [f64; 6] {
        [
            self.cement_lb,
            self.binder_lb,
            self.water_lb,
            self.fine_lb,
            self.coarse_lb,
            self.hrwr_lb,
        ]
    }

    /// Only water.
    pub fn water(lb: f64) -> Self {
        Self {
            water_lb: lb,
            ..Self::default()
        }
    }

    fn from_parts(parts: [f64; 6]) -> Self {
        let [cement_lb, binder_lb, water_lb, fine_lb, coarse_lb, hrwr_lb] = parts;
        Self {
            cement_lb,
            binder_lb,
            water_lb,
            fine_lb,
            coarse_lb,
            hrwr_lb,
        }
    }

    fn with(self, other: Self, each: impl Fn(f64, f64) -> f64) -> Self {
        let (mine, others) = (self.parts(), other.parts());
        Self::from_parts(std::array::from_fn(|at| each(mine[at], others[at])))
    }
}

impl Add for Masses {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.with(other, |a, b| a + b)
    }
}

impl AddAssign for Masses {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Masses {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.with(other, |a, b| a - b)
    }
}

impl SubAssign for Masses {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Mul<f64> for Masses {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Self::from_parts(self.parts().map(|part| part * times))
    }
}

/// Specific gravities of the components; water is 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gravities {
    /// Cement: 3.15 by ACI 211.1.
    pub cement: f64,
    /// Other binder: fly ash about 2.4, slag about 2.9 (ACI 232.2R, ACI 233R; from memory).
    pub binder: f64,
    /// Fine aggregate, saturated surface-dry: 2.64 in the example of ACI 211.1.
    pub fine: f64,
    /// Coarse aggregate, saturated surface-dry: 2.68 in the example of ACI 211.1.
    pub coarse: f64,
    /// HRWR: about 1.06 (common practice, no source).
    pub hrwr: f64,
}

impl Gravities {
    /// The usual ones.
    pub const USUAL: Self = Self {
        cement: 3.15,
        binder: 2.4,
        fine: 2.64,
        coarse: 2.68,
        hrwr: 1.06,
    };

    /// Volume of these masses without any air, ft³: each mass ÷ (specific gravity × 62.4 lb/ft³), the absolute volumes of
    /// ACI 211.1.
    pub fn solid_ft3(&self, masses: Masses) -> f64 {
        (masses.cement_lb / self.cement
            + masses.binder_lb / self.binder
            + masses.water_lb
            + masses.fine_lb / self.fine
            + masses.coarse_lb / self.coarse
            + masses.hrwr_lb / self.hrwr)
            / WATER_LB_PER_FT3
    }
}
