//! The normal distribution, plain and cut at zero.

use super::curve::{Point, Tail};

const SQRT_2PI: f64 = 2.506_628_274_631_000_7;

/// The standard normal density.
pub(super) fn density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / SQRT_2PI
}

/// The probability that a standard normal value lies below `z`.
pub(super) fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// The standard normal value that leaves the probability `tail` on one side.
pub(super) fn quantile(tail: Tail) -> f64 {
    match tail {
        Tail::Lower(probability) => lower_quantile(probability),
        Tail::Upper(probability) => -lower_quantile(probability),
    }
}

/// Algorithm AS 241 (PPND16): M. J. Wichura, Applied Statistics 37 (1988) 477-484; relative accuracy about 1e-16.
fn lower_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180625 - q * q;
        return q * polynomial(&A, r) / polynomial(&B, r);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if tail <= 0.0 {
        return f64::INFINITY.copysign(q);
    }
    let r = (-libm::log(tail)).sqrt();
    let z = if r <= 5.0 {
        polynomial(&C, r - 1.6) / polynomial(&D, r - 1.6)
    } else {
        polynomial(&E, r - 5.0) / polynomial(&F, r - 5.0)
    };
    z.copysign(q)
}

/// Coefficients from the constant upwards.
fn polynomial(coefficients: &[f64; 8], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

const A: [f64; 8] = [
    3.387_132_872_796_366_5,
    133.141_667_891_784_38,
    1_971.590_950_306_551_3,
    13_731.693_765_509_46,
    45_921.953_931_549_87,
    67_265.770_927_008_7,
    33_430.575_583_588_13,
    2_509.080_928_730_122_7,
];
const B: [f64; 8] = [
    1.0,
    42.313_330_701_600_91,
    687.187_007_492_057_9,
    5_394.196_021_424_751,
    21_213.794_301_586_597,
    39_307.895_800_092_71,
    28_729.085_735_721_943,
    5_226.495_278_852_854,
];
const C: [f64; 8] = [
    1.423_437_110_749_683_5,
    4.630_337_846_156_546,
    5.769_497_221_460_691,
    3.647_848_324_763_204_5,
    1.270_458_252_452_368_4,
    0.241_780_725_177_450_6,
    0.022_723_844_989_269_184,
    7.745_450_142_783_414e-4,
];
const D: [f64; 8] = [
    1.0,
    2.053_191_626_637_759,
    1.676_384_830_183_803_8,
    0.689_767_334_985_1,
    0.148_103_976_427_480_08,
    0.015_198_666_563_616_457,
    5.475_938_084_995_345e-4,
    1.050_750_071_644_416_9e-9,
];
const E: [f64; 8] = [
    6.657_904_643_501_103,
    5.463_784_911_164_114,
    1.784_826_539_917_291_3,
    0.296_560_571_828_504_87,
    0.026_532_189_526_576_124,
    0.001_242_660_947_388_078_4,
    2.711_555_568_743_487_6e-5,
    2.010_334_399_292_288_1e-7,
];
const F: [f64; 8] = [
    1.0,
    0.599_832_206_555_888,
    0.136_929_880_922_735_8,
    0.014_875_361_290_850_615,
    7.868_691_311_456_133e-4,
    1.846_318_317_510_054_7e-5,
    1.421_511_758_316_446e-7,
    2.044_263_103_389_939_8e-15,
];

/// A normal distribution with what lies below zero cut off and the rest made whole again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct CutNormal {
    mean: f64,
    sd: f64,
    /// Zero in standard units, never positive.
    cut: f64,
    /// The probability cut off.
    below: f64,
    /// The probability kept.
    kept: f64,
}

impl CutNormal {
    /// `mean` ≥ 0 and `sd` > 0 of the distribution before it is cut.
    pub(super) fn new(mean: f64, sd: f64) -> Self {
        let cut = -mean / sd;
        Self {
            mean,
            sd,
            cut,
            below: below(cut),
            kept: below(-cut),
        }
    }

    pub(super) fn mean(&self) -> f64 {
        self.mean + self.sd * density(self.cut) / self.kept
    }

    pub(super) fn variance(&self) -> f64 {
        let hazard = density(self.cut) / self.kept;
        self.sd * self.sd * (1.0 + self.cut * hazard - hazard * hazard)
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x <= 0.0 {
            return 0.0;
        }
        let above = below((self.mean - x) / self.sd);
        1.0 - above / self.kept
    }

    pub(super) fn point(&self, tail: Tail) -> Point {
        let z = match tail {
            Tail::Upper(p) if p * self.kept <= 0.5 => quantile(Tail::Upper(p * self.kept)),
            Tail::Upper(p) => quantile(Tail::Lower(self.below + (1.0 - p) * self.kept)),
            Tail::Lower(p) => {
                // Just above the cut the difference of two near numbers would leave few digits: Taylor series instead.
                let (a, v) = (self.cut, p * self.kept / density(self.cut));
                if v * (1.0 - a) < 1e-3 {
                    let third = (2.0 * a * a + 1.0) / 6.0;
                    let fourth = (6.0 * a * a + 7.0) * a / 24.0;
                    let above_cut = v * (1.0 + v * (a / 2.0 + v * (third + v * fourth)));
                    return self.at(a + above_cut, self.sd * above_cut);
                }
                let lower = self.below + p * self.kept;
                if lower <= 0.5 {
                    quantile(Tail::Lower(lower))
                } else {
                    quantile(Tail::Upper((1.0 - p) * self.kept))
                }
            }
        };
        self.at(z, (self.mean + self.sd * z).max(0.0))
    }

    fn at(&self, z: f64, value: f64) -> Point {
        Point {
            value,
            slope: self.sd * self.kept / density(z),
        }
    }
}
