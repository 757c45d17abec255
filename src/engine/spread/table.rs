//! A quantile function as a table of cubics: a few nanoseconds a draw.
//!
//! The cells are cut in the probability t of the nearer tail: every octave of t into the same number of cells. The bits
//! of a floating-point number are its octave followed by its place inside, so shifting them gives the cell without a
//! search or a logarithm. In each cell a cubic meets value and slope of the exact function at both ends.

use super::curve::{Curve, Point, Tail};

/// Cells reach down to t = 2^-33, the smallest draw from 32 bits; beyond, the exact function is called.
const OCTAVES: u64 = 32;
const MANTISSA_BITS: u32 = 52;
const MANTISSA: u64 = (1 << MANTISSA_BITS) - 1;
const ONE: u64 = 1023 << MANTISSA_BITS;
/// The exponent of 2^-33.
const FIRST_EXPONENT: u64 = 1023 - 33;
/// What the middle of a cell may be off; a quarter of the promised 1e-6.
const TOLERANCE: f64 = 2.5e-7;
const FEWEST_BITS: u32 = 3;
const MOST_BITS: u32 = 8;

/// The compiled quantile function of a [`Curve`].
///
/// Relative error at most 1e-6, for lognormal and gamma with coefficients of variation up to 3; never decreasing up to the last digit.
#[derive(Clone, Debug)]
pub(super) struct Table {
    curve: Curve,
    /// Each octave has 2^bits cells.
    bits: u32,
    /// Coefficients from the constant upwards; cells of the lower and the upper tail alternate.
    cells: Vec<[f64; 4]>,
}

impl Table {
    pub(super) fn new(curve: Curve) -> Self {
        let fine_enough = |&bits: &u32| error(&curve, bits) <= TOLERANCE;
        let bits = (FEWEST_BITS..MOST_BITS).find(fine_enough);
        let bits = bits.unwrap_or(MOST_BITS);
        let ends = |end: u64| {
            let t = f64::from_bits(((FIRST_EXPONENT << bits) + end) << (MANTISSA_BITS - bits));
            [curve.point(Tail::Lower(t)), curve.point(Tail::Upper(t))]
        };
        let count = OCTAVES << bits;
        let mut cells = Vec::with_capacity(2 * count as usize + 2);
        let mut start = ends(0);
        for cell in 0..count {
            let end = ends(cell + 1);
            let width = width(cell, bits);
            cells.push(cubic(start[0], end[0], width));
            cells.push(cubic(start[1], end[1], -width));
            start = end;
        }
        // The median, where both tails end, is a cell of its own.
        cells.push([start[0].value, 0.0, 0.0, 0.0]);
        cells.push([start[1].value, 0.0, 0.0, 0.0]);
        Self { curve, bits, cells }
    }

    /// The value below which the share `u` lies, 0 < `u` < 1.
    #[inline]
    pub(super) fn at(&self, u: f64) -> f64 {
        let upper = u > 0.5;
        let t = if upper { 1.0 - u } else { u };
        let bits = t.to_bits();
        let cell = (bits >> (MANTISSA_BITS - self.bits)).wrapping_sub(FIRST_EXPONENT << self.bits);
        let index = cell.wrapping_mul(2) | u64::from(upper);
        match self.cells.get(index as usize) {
            Some([a, b, c, d]) => {
                let s = f64::from_bits(((bits << self.bits) & MANTISSA) | ONE) - 1.0;
                a + s * (b + s * (c + s * d))
            }
            None => self.beyond(u),
        }
    }

    #[cold]
    fn beyond(&self, u: f64) -> f64 {
        self.curve.point(Tail::from_below(u)).value
    }
}

/// The width in t of a cell.
fn width(cell: u64, bits: u32) -> f64 {
    let octave = FIRST_EXPONENT + (cell >> bits);
    f64::from_bits((octave - u64::from(bits)) << MANTISSA_BITS)
}

/// The cubic over 0 ≤ s ≤ 1 with these ends; `width` is negative where values fall as t grows.
fn cubic(start: Point, end: Point, width: f64) -> [f64; 4] {
    let rise = end.value - start.value;
    // Slopes within three times the chord keep a cubic monotone (Fritsch and Carlson 1980).
    let slope = |point: Point| {
        let slope = point.slope * width;
        if slope.abs() <= 3.0 * rise.abs() {
            slope
        } else {
            3.0 * rise
        }
    };
    let (first, last) = (slope(start), slope(end));
    [
        start.value,
        first,
        3.0 * rise - 2.0 * first - last,
        first + last - 2.0 * rise,
    ]
}

/// The largest relative error in the middle of the first, widest cell of an octave.
fn error(curve: &Curve, bits: u32) -> f64 {
    let mut worst: f64 = 0.0;
    for octave in 0..OCTAVES {
        let width = width(octave << bits, bits);
        let start = f64::from_bits((FIRST_EXPONENT + octave) << MANTISSA_BITS);
        for (side, sign) in [(Tail::Lower as fn(f64) -> Tail, 1.0), (Tail::Upper, -1.0)] {
            let point = |t| curve.point(side(t));
            let [a, b, c, d] = cubic(point(start), point(start + width), sign * width);
            let (middle, exact) = (a + b / 2.0 + c / 4.0 + d / 8.0, point(start + width / 2.0));
            if exact.value > f64::MIN_POSITIVE {
                worst = worst.max((middle / exact.value - 1.0).abs());
            }
        }
    }
    worst
}
