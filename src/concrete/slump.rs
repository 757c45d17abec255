//! Slump: what water, HRWR, time, drum speed and temperature do to it.
//!
//! One curve carries everything. [`Consistency`] counts gallons of water per yd³ above the water at which the slump is
//! zero, by the mixing-water table of ACI 211.1: 1½ gallons for an inch of stiff concrete, 0.8 from 3½ in up, then more and
//! more towards 11 in. HRWR counts as so many gallons of water; time takes gallons away.

use super::drum::MIXING_RPM;
use super::materials::WATER_LB_PER_GAL;

/// Water for an inch of slump up to [`BEND_IN`], gal/yd³: 315 lb/yd³ at 1 to 2 in and 340 at 3 to 4 (ACI 211.1, approximate
/// mixing water in US units, ¾ in stone, not air-entrained).
const LOW_GAL_PER_IN: f64 = (340.0 - 315.0) / 2.0 / WATER_LB_PER_GAL;
/// Above it: 360 lb/yd³ at 6 to 7 in, the same table.
const HIGH_GAL_PER_IN: f64 = (360.0 - 340.0) / 3.0 / WATER_LB_PER_GAL;
/// Middle of the table's second class, in.
const BEND_IN: f64 = 3.5;
/// Where the table ends, in.
const STRAIGHT_IN: f64 = 7.0;
/// No concrete slumps further than this. No source: the cone is 12 in high and the largest slumps of the 103 mixes of I-C.
/// Yeh, Cement and Concrete Composites 29(6), 2007, are 29 cm.
const MOST_IN: f64 = 11.0;
/// Below this difference from [`MOST_IN`] a slump cannot be read.
const UNREADABLE_IN: f64 = 0.01;
/// Gallons at [`BEND_IN`] and at [`STRAIGHT_IN`].
const BEND_GAL: f64 = BEND_IN * LOW_GAL_PER_IN;
const STRAIGHT_GAL: f64 = BEND_GAL + (STRAIGHT_IN - BEND_IN) * HIGH_GAL_PER_IN;
/// From there the slump nears [`MOST_IN`], as steep at first as below, falling by a factor of e in so many gallons.
const REACH_IN: f64 = MOST_IN - STRAIGHT_IN;
const REACH_GAL: f64 = REACH_IN * HIGH_GAL_PER_IN;

/// Gallons of water per yd³ that one gallon of HRWR per yd³ counts as: 0.4 gal/yd³, the middle of the 0.2 to 0.6 for it,
/// takes 3 in to 8 in at constant w/c (JoVE Science Education, superplasticizers).
pub const HRWR_AS_WATER: f64 = 11.1603;

/// Loss per minute of mixing at mixing speed, gal/yd³, at [`REFERENCE_F`]: straight line through the slumps of 9.0, 8.4,
/// 6.4 and 2.6 in at 1, 5, 30 and 60 min (PCA tests in "Long time mixing", Concrete Construction); it meets them within
/// 0.5 in.
pub const MIXING_LOSS_GAL_MIN: f64 = 0.1031;
/// Loss per minute at agitating speed: a gallon, about an inch, in half an hour (common practice, no source).
pub const AGITATING_LOSS_GAL_MIN: f64 = 1.0 / 30.0;
/// Haul is at less than 2 rpm: NRMCA, "Delivery of ready mixed concrete".
const AGITATING_RPM: f64 = 2.0;
/// Temperature at which the losses hold; the tests do not name theirs.
pub const REFERENCE_F: f64 = 70.0;
/// Loss goes faster by this for each 10 °F: 1.28 to 1.37 about 75 °F by the aging of ASTM C1074 with 4,000 to 5,000 K (from
/// memory). An hour of agitation then loses about an inch more at 90 °F than at 70 °F, the inch per 20 °F of the chart in ACI
/// 305R (from memory).
const LOSS_FACTOR_PER_10F: f64 = 1.3;
/// Water that keeps the slump when fresh concrete is warmer by 1 °F, gal/yd³: 33 lb/yd³ from 50 to 100 °F (SDSU Extension
/// Extra 1006, 2002, after PCA).
pub const WATER_GAL_PER_F: f64 = 33.0 / 8.3454 / 50.0;

/// How wet concrete behaves, in gallons of water per yd³ above zero slump; negative where it is drier than zero slump.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Consistency {
    /// gal/yd³.
    pub gal_yd3: f64,
}

impl Consistency {
    /// The consistency that slumps this far, 0 to 11 in; beyond the ends as at the ends.
    pub fn from_slump(slump_in: f64) -> Self {
        let gal_yd3 = if slump_in <= BEND_IN {
            slump_in.max(0.0) * LOW_GAL_PER_IN
        } else if slump_in <= STRAIGHT_IN {
            BEND_GAL + (slump_in - BEND_IN) * HIGH_GAL_PER_IN
        } else {
            let left = (MOST_IN - slump_in).max(UNREADABLE_IN);
            STRAIGHT_GAL - REACH_GAL * libm::log(left / REACH_IN)
        };
        Self { gal_yd3 }
    }

    /// Slump, in, 0 to 11.
    pub fn slump_in(self) -> f64 {
        if self.gal_yd3 <= BEND_GAL {
            self.gal_yd3.max(0.0) / LOW_GAL_PER_IN
        } else if self.gal_yd3 <= STRAIGHT_GAL {
            BEND_IN + (self.gal_yd3 - BEND_GAL) / HIGH_GAL_PER_IN
        } else {
            MOST_IN - REACH_IN * libm::exp((STRAIGHT_GAL - self.gal_yd3) / REACH_GAL)
        }
    }

    /// With so much more water per yd³ (negative: less).
    pub fn with_water(self, gal_yd3: f64) -> Self {
        Self {
            gal_yd3: self.gal_yd3 + gal_yd3,
        }
    }

    /// With so much HRWR per yd³, mixed in.
    pub fn with_hrwr(self, hrwr_gal_yd3: f64) -> Self {
        self.with_water(HRWR_AS_WATER * hrwr_gal_yd3)
    }
}

/// Water that takes concrete from one slump to another, gal/yd³; negative where the first is the higher.
pub fn water_between_gal_yd3(from_in: f64, to_in: f64) -> f64 {
    Consistency::from_slump(to_in).gal_yd3 - Consistency::from_slump(from_in).gal_yd3
}

/// How much faster concrete ages at this temperature than at [`REFERENCE_F`].
pub(super) fn times_faster(concrete_f: f64) -> f64 {
    libm::pow(LOSS_FACTOR_PER_10F, (concrete_f - REFERENCE_F) / 10.0)
}

/// Loss per minute, gal/yd³: straight from agitating to mixing speed, at rest as at agitating speed, beyond mixing speed as
/// there.
pub fn loss_gal_min(rpm: f64, concrete_f: f64) -> f64 {
    let share = ((rpm - AGITATING_RPM) / (MIXING_RPM - AGITATING_RPM)).clamp(0.0, 1.0);
    let loss = AGITATING_LOSS_GAL_MIN + share * (MIXING_LOSS_GAL_MIN - AGITATING_LOSS_GAL_MIN);
    loss * times_faster(concrete_f)
}

/// Slump that an order asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlumpTarget {
    /// Inches.
    pub target_in: f64,
    /// Inches either way.
    pub tolerance_in: f64,
}

impl SlumpTarget {
    /// 4 in and 1 in either way, the default of ACI 301 and 117.
    pub const USUAL: Self = Self {
        target_in: 4.0,
        tolerance_in: 1.0,
    };

    /// The nominal tolerances of ASTM C94 (from memory): up to 2 in ½ in, up to 4 in 1 in, above 1½ in.
    pub fn by_c94(target_in: f64) -> Self {
        let tolerance_in = match target_in {
            low if low <= 2.0 => 0.5,
            middle if middle <= 4.0 => 1.0,
            _ => 1.5,
        };
        Self {
            target_in,
            tolerance_in,
        }
    }

    /// Largest slump that is taken.
    pub fn most_in(self) -> f64 {
        self.target_in + self.tolerance_in
    }

    /// Smallest slump that is taken.
    pub fn least_in(self) -> f64 {
        self.target_in - self.tolerance_in
    }

    /// What a slump is to this order.
    pub fn judge(self, slump_in: f64) -> SlumpVerdict {
        if slump_in > self.most_in() {
            SlumpVerdict::TooWet
        } else if slump_in < self.least_in() {
            SlumpVerdict::TooStiff
        } else {
            SlumpVerdict::Taken
        }
    }
}

/// What a slump is to an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlumpVerdict {
    /// Within tolerance.
    Taken,
    /// Above.
    TooWet,
    /// Below.
    TooStiff,
}
