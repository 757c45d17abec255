//! Weight: what a load weighs, what the axles bear of it, what the law lets the truck carry.
//!
//! Federal limits of the United States (23 U.S.C. 127): 20,000 lb on an axle, 34,000 lb on a tandem, 80,000 lb gross, and
//! the bridge formula on every group of neighbouring axles. States differ, often to the stricter side; a limit is never a
//! target.

use super::noise::normal;
use crate::units::Volume;
use thiserror::Error;

/// Weight of a cubic yard of normal concrete, lb: 150 lb/ft³, the handbook unit weight of normal-weight concrete.
pub const CONCRETE_LB_PER_YD3: f64 = 4050.0;
/// Most on a single axle, lb.
pub const AXLE_LB: f64 = 20_000.0;
/// Most on a tandem, lb: axles more than 40 in and at most 96 in apart (23 CFR 658.5).
pub const TANDEM_LB: f64 = 34_000.0;
/// Most in all, lb.
pub const GROSS_LB: f64 = 80_000.0;
const TANDEM_FT: f64 = 8.0;
/// Axles that a layout can have.
const MOST_AXLES: usize = 8;

/// The volume that weighs so much where a yd³ weighs `lb_per_yd3` (more than 0), rounded down: the last thousandth of a yard
/// must not be the pound too many.
#[inline]
pub fn volume_of_lb(lb: f64, lb_per_yd3: f64) -> Volume {
    let thousandths = lb / lb_per_yd3 * 1000.0;
    let whole = thousandths as i64; // `floor` is a call where the processor has no instruction for it, and every load asks
    Volume::thousandths(whole.saturating_sub(i64::from(whole as f64 > thousandths)))
}

/// The bridge formula, lb, before rounding: W = 500 (L N ÷ (N − 1) + 12 N + 36), with L ft from the first to the last of N
/// axles, 2 or more (23 U.S.C. 127).
pub fn bridge_formula_lb(axles: usize, spacing_ft: f64) -> f64 {
    let n = axles as f64;
    500.0 * (spacing_ft * n / (n - 1.0) + 12.0 * n + 36.0)
}

/// The bridge formula as it is enforced, lb: to the nearest 500 (a half is rounded down, as the published table has 42,500
/// for three axles over 9 ft), and 34,000 for two axles up to 8 ft apart.
pub fn bridge_limit_lb(axles: usize, spacing_ft: f64) -> f64 {
    if axles == 2 && spacing_ft <= TANDEM_FT {
        return TANDEM_LB;
    }
    (bridge_formula_lb(axles, spacing_ft) / 500.0 - 0.5).ceil() * 500.0
}

/// One axle of a truck.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Axle {
    /// Feet behind the first axle.
    pub at_ft: f64,
    /// What it bears of the empty truck, lb.
    pub empty_lb: f64,
    /// Share of the concrete's weight that it bears; negative where the load takes weight off it.
    pub share: f64,
}

/// The axles of a truck, front to back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleLayout {
    axles: [Axle; MOST_AXLES],
    count: usize,
}

/// Why axles are no layout.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum AxleLayoutError {
    /// Too few or too many.
    #[error("a truck has 2 to 8 axles, not {0}")]
    Count(usize),
    /// Not one behind the other.
    #[error("axle {0} does not stand behind the one before it")]
    Order(usize),
    /// An empty weight below zero or no number.
    #[error("axle {0} bears 0 lb or more of the empty truck")]
    Empty(usize),
    /// The shares do not make a whole.
    #[error("the axles bear {0:.3} of the concrete, not 1")]
    Shares(f64),
}

/// What limits a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WeightLimit {
    /// Gross weight.
    Gross,
    /// One axle, counted from 0.
    Axle(usize),
    /// A tandem, from and to.
    Tandem(usize, usize),
    /// The bridge formula on a group of axles, from and to.
    Bridge(usize, usize),
}

/// The largest legal load of a truck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LegalLoad {
    /// Concrete, lb; below 0 if the empty truck is too heavy.
    pub payload_lb: f64,
    /// What limits it.
    pub by: WeightLimit,
}

impl AxleLayout {
    /// A layout of 2 to 8 axles, front to back.
    ///
    /// # Errors
    /// See [`AxleLayoutError`]; axles are counted from 1 in the messages.
    pub fn new(axles: &[Axle]) -> Result<Self, AxleLayoutError> {
        if !(2..=MOST_AXLES).contains(&axles.len()) {
            return Err(AxleLayoutError::Count(axles.len()));
        }
        let behind = |pair: &[Axle]| pair[1].at_ft > pair[0].at_ft && pair[1].at_ft.is_finite();
        if let Some(at) = axles.windows(2).position(|pair| !behind(pair)) {
            return Err(AxleLayoutError::Order(at + 2));
        }
        let light = |axle: &Axle| !axle.empty_lb.is_finite() || axle.empty_lb < 0.0;
        if let Some(at) = axles.iter().position(light) {
            return Err(AxleLayoutError::Empty(at + 1));
        }
        let shares: f64 = axles.iter().map(|axle| axle.share).sum();
        if shares.is_nan() || (shares - 1.0).abs() > 0.001 {
            return Err(AxleLayoutError::Shares(shares));
        }
        let mut layout = Self {
            axles: [Axle::default(); MOST_AXLES],
            count: axles.len(),
        };
        layout.axles[..axles.len()].copy_from_slice(axles);
        Ok(layout)
    }

    /// Its axles.
    pub fn axles(&self) -> &[Axle] {
        &self.axles[..self.count]
    }

    /// Empty weight, lb.
    pub fn empty_lb(&self) -> f64 {
        self.axles().iter().map(|axle| axle.empty_lb).sum()
    }

    /// The largest load within all federal limits and, if given, a lower gross of the state's.
    pub fn largest_legal(&self, state_gross_lb: Option<f64>) -> LegalLoad {
        let mut most = LegalLoad {
            payload_lb: f64::INFINITY,
            by: WeightLimit::Gross,
        };
        self.each_limit(state_gross_lb, |by, limit_lb, empty_lb, share| {
            // A group from which the load takes weight limits nothing unless it is too heavy empty.
            let payload_lb = match limit_lb - empty_lb {
                left if share > 1e-12 => left / share,
                left if left < 0.0 => left,
                _ => return,
            };
            if payload_lb < most.payload_lb {
                most = LegalLoad { payload_lb, by };
            }
        });
        most
    }

    /// The limit that is passed by most under so much concrete, and by how many lb. None: legal.
    pub fn overweight(
        &self,
        payload_lb: f64,
        state_gross_lb: Option<f64>,
    ) -> Option<(WeightLimit, f64)> {
        let mut worst: Option<(WeightLimit, f64)> = None;
        self.each_limit(state_gross_lb, |by, limit_lb, empty_lb, share| {
            let over = empty_lb + share * payload_lb - limit_lb;
            if over > 1e-6 && worst.is_none_or(|(_, most)| over > most) {
                worst = Some((by, over));
            }
        });
        worst
    }

    /// Two tandems of which the first and the last axle are 36 ft or more apart may have 34,000 lb each (23 U.S.C. 127).
    fn two_tandems(&self, from: usize, to: usize) -> bool {
        let at = |axle: usize| self.axles[axle].at_ft;
        to == from + 3
            && at(to) - at(from) >= 36.0
            && at(from + 1) - at(from) <= TANDEM_FT
            && at(to) - at(to - 1) <= TANDEM_FT
    }

    /// Every limit with what its axles bear empty and of each pound of load.
    fn each_limit(
        &self,
        state_gross_lb: Option<f64>,
        mut tell: impl FnMut(WeightLimit, f64, f64, f64),
    ) {
        let gross = state_gross_lb.map_or(GROSS_LB, |state| state.min(GROSS_LB));
        tell(WeightLimit::Gross, gross, self.empty_lb(), 1.0);
        for from in 0..self.count {
            let (mut empty_lb, mut share) = (0.0, 0.0);
            for to in from..self.count {
                empty_lb += self.axles[to].empty_lb;
                share += self.axles[to].share;
                let ft = self.axles[to].at_ft - self.axles[from].at_ft;
                if to == from {
                    tell(WeightLimit::Axle(from), AXLE_LB, empty_lb, share);
                    continue;
                }
                if ft <= TANDEM_FT {
                    tell(WeightLimit::Tandem(from, to), TANDEM_LB, empty_lb, share);
                }
                let limit = match self.two_tandems(from, to) {
                    true => bridge_limit_lb(4, ft).max(2.0 * TANDEM_LB),
                    false => bridge_limit_lb(to - from + 1, ft),
                };
                tell(WeightLimit::Bridge(from, to), limit, empty_lb, share);
            }
        }
    }
}

/// What is known of a truck's empty weight. A truck scale weighs it; without one, build-up in the drum, fuel and water make
/// it another than what is booked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmptyWeight {
    /// How much heavier it is on average than booked, lb.
    pub mean_over_lb: f64,
    /// Standard deviation, lb.
    pub sd_lb: f64,
}

impl EmptyWeight {
    /// Weighed on a truck scale.
    pub const WEIGHED: Self = Self {
        mean_over_lb: 0.0,
        sd_lb: 0.0,
    };
    /// As booked: half a ton of build-up, and fuel and water somewhere between full and empty (common practice, no source).
    pub const BOOKED: Self = Self {
        mean_over_lb: 500.0,
        sd_lb: 500.0,
    };

    /// lb over the booked weight, normal, by luck `u` in (0, 1).
    pub fn drawn_over_lb(self, u: f64) -> f64 {
        self.mean_over_lb + self.sd_lb * normal(u)
    }
}
