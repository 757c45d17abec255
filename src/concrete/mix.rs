//! A mix: masses per yd³ that fill just a yd³, what it is to slump and to bear, and what a plant really puts in.

use super::air::AirTarget;
use super::hrwr::HrwrKind;
use super::materials::{FT3_PER_YD3, Gravities, Masses, WATER_LB_PER_FT3, WATER_LB_PER_GAL};
use super::noise::normal;
use super::sensitivity::Sensitivity;
use super::slump::{Consistency, SlumpTarget, WATER_GAL_PER_F};
use super::strength::StrengthLaw;
use crate::units::Volume;
use thiserror::Error;

/// How far the absolute volumes may miss a cubic yard, ft³: half a per cent, the rounding of published mixes (no source).
pub const VOLUME_SLACK_FT3: f64 = 0.135;

/// The most air that concrete entraps, per cent: 3 with ⅜ in stone (ACI 211.1, mixing-water table).
const MOST_ENTRAPPED: f64 = 3.0;

/// A mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mix {
    /// Masses for one yd³.
    pub per_yd3: Masses,
    /// Specific gravities.
    pub gravities: Gravities,
    /// Air.
    pub air: AirTarget,
    /// Slump at the site, HRWR mixed in.
    pub slump: SlumpTarget,
    /// Specified strength at 28 days, psi.
    pub specified_psi: f64,
    /// How strength follows from w/c.
    pub law: StrengthLaw,
    /// Largest w/c that the contract allows. None: w/c of the mix.
    pub most_wc: Option<f64>,
    /// Whether it has a retarder.
    pub retarder: bool,
    /// What its HRWR is, if it has any.
    pub hrwr_kind: HrwrKind,
    /// For strength at 28 days a pound of other binder counts as so much cement, 0 to 1.5: the k-value of EN 206. Limits on w/c
    /// count all of it.
    pub binder_counts: f64,
    /// What air and warmth do to it.
    pub sensitivity: Sensitivity,
}

/// Why a mix is none.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum MixError {
    /// The volumes do not add up.
    #[error("the absolute volumes add up to {ft3:.2} ft³, {} than the 27 ft³ of a cubic yard", missing(*ft3))]
    Volume {
        /// What they add up to.
        ft3: f64,
    },
    /// The other materials leave no room for fine aggregate.
    #[error("the materials without fine aggregate fill {ft3:.2} ft³ of the 27 ft³ of a cubic yard")]
    NoRoom {
        /// What they fill.
        ft3: f64,
    },
    /// A mass is negative or not a number, or there is no cement or no water.
    #[error("masses are 0 or more, and cement and water more than 0")]
    Masses,
    /// A specific gravity out of range.
    #[error("specific gravities lie between 0.5 and 8")]
    Gravities,
    /// An air content out of range.
    #[error("air is 0 to 20 per cent, and so is its tolerance")]
    Air,
    /// A slump out of range.
    #[error("slump is 0 to 10.5 in and its tolerance 0 or more")]
    Slump,
    /// What the binder counts for out of range.
    #[error("the other binder counts as 0 to 1.5 of cement")]
    Binder,
    /// A strength out of range.
    #[error("the specified strength is more than 0 and at most 20,000 psi")]
    Strength,
    /// The mix breaks its own limit.
    #[error("the mix has a w/c of {wc:.3}, above its own limit of {most:.3}")]
    AboveItsLimit {
        /// w/c of the mix.
        wc: f64,
        /// Its limit.
        most: f64,
    },
}

fn missing(ft3: f64) -> String {
    let off = ft3 - FT3_PER_YD3;
    let word = if off > 0.0 { "more" } else { "less" };
    format!("{:.2} ft³ {word}", off.abs())
}

impl Mix {
    /// Whether it is a mix.
    ///
    /// # Errors
    /// The first thing wrong with it, see [`MixError`].
    pub fn check(&self) -> Result<(), MixError> {
        self.check_ranges()?;
        let ft3 = self.design_ft3();
        if (ft3 - FT3_PER_YD3).abs() > VOLUME_SLACK_FT3 {
            return Err(MixError::Volume { ft3 });
        }
        Ok(())
    }

    fn check_ranges(&self) -> Result<(), MixError> {
        let masses = self.per_yd3.parts();
        let whole = masses.iter().all(|mass| mass.is_finite() && *mass >= 0.0);
        if !whole || self.per_yd3.cement_lb <= 0.0 || self.per_yd3.water_lb <= 0.0 {
            return Err(MixError::Masses);
        }
        let g = &self.gravities;
        if [g.cement, g.binder, g.fine, g.coarse, g.hrwr]
            .iter()
            .any(|gravity| !(0.5..=8.0).contains(gravity))
        {
            return Err(MixError::Gravities);
        }
        if !(0.0..=20.0).contains(&self.air.target) || !(0.0..=20.0).contains(&self.air.tolerance) {
            return Err(MixError::Air);
        }
        if !(0.0..=10.5).contains(&self.slump.target_in)
            || !(0.0..=11.0).contains(&self.slump.tolerance_in)
        {
            return Err(MixError::Slump);
        }
        if !(self.specified_psi > 0.0 && self.specified_psi <= 20_000.0) {
            return Err(MixError::Strength);
        }
        if !(0.0..=1.5).contains(&self.binder_counts) {
            return Err(MixError::Binder);
        }
        match self.most_wc {
            Some(most) if self.wc() > most => Err(MixError::AboveItsLimit {
                wc: self.wc(),
                most,
            }),
            _ => Ok(()),
        }
    }

    /// The mix with the fine aggregate that fills the yd³: the absolute-volume method of ACI 211.1.
    ///
    /// # Errors
    /// [`MixError::NoRoom`] if nothing is left for it, and what else [`Mix::check`] finds.
    pub fn filled_with_fine(mut self) -> Result<Self, MixError> {
        self.per_yd3.fine_lb = 0.0;
        self.check_ranges()?;
        let ft3 = self.design_ft3();
        if ft3 >= FT3_PER_YD3 {
            return Err(MixError::NoRoom { ft3 });
        }
        self.per_yd3.fine_lb = (FT3_PER_YD3 - ft3) * self.gravities.fine * WATER_LB_PER_FT3;
        Ok(self)
    }

    /// Absolute volumes of a yd³ as designed, ft³: solids, water, and the air's share of 27.
    pub fn design_ft3(&self) -> f64 {
        self.gravities.solid_ft3(self.per_yd3) + self.air.target / 100.0 * FT3_PER_YD3
    }

    /// Water ÷ (cement + other binder).
    pub fn wc(&self) -> f64 {
        self.per_yd3.wc()
    }

    /// Largest w/c allowed.
    pub fn most_wc(&self) -> f64 {
        self.most_wc.unwrap_or(self.wc())
    }

    /// Strength at 28 days as designed, psi.
    pub fn psi(&self) -> f64 {
        self.psi_of(self.per_yd3)
    }

    /// Strength at 28 days of these masses with the air and at the temperature of the design, psi; 0 without binder.
    pub fn psi_of(&self, masses: Masses) -> f64 {
        let binder = masses.cement_lb + self.binder_counts * masses.binder_lb;
        if binder > 0.0 {
            self.law.psi(masses.water_lb / binder)
        } else {
            0.0
        }
    }

    /// Strength at 28 days as designed where it is mixed and cured so many °F warmer, psi.
    pub fn psi_warmer(&self, warmer_f: f64) -> f64 {
        self.psi() * self.sensitivity.strength_left(0.0, warmer_f)
    }

    /// Water for concrete that is so much warmer than the mix was designed at, so that it keeps its slump, gal/yd³; below zero for
    /// cooler concrete. The w/c stays within the mix's limit.
    pub fn water_for_warmth_gal_yd3(&self, warmer_f: f64) -> f64 {
        let masses = self.per_yd3;
        let most_lb = self.most_wc() * (masses.cement_lb + masses.binder_lb);
        let room_gal_yd3 = ((most_lb - masses.water_lb) / WATER_LB_PER_GAL).max(0.0);
        (WATER_GAL_PER_F * warmer_f).min(room_gal_yd3)
    }

    /// The mix with so much more water per yd³, and so much less fine aggregate that it still fills the yd³.
    pub fn with_water(mut self, gal_yd3: f64) -> Self {
        let lb = gal_yd3 * WATER_LB_PER_GAL;
        self.per_yd3.water_lb += lb;
        self.per_yd3.fine_lb = (self.per_yd3.fine_lb - lb * self.gravities.fine).max(0.0);
        self
    }

    /// Whether its air is entrained: it has more than concrete entraps.
    pub fn air_entrained(&self) -> bool {
        self.air.target > MOST_ENTRAPPED
    }

    /// Weight of a yd³, lb.
    pub fn lb_per_yd3(&self) -> f64 {
        self.per_yd3.total_lb()
    }

    /// Volume of these masses with this air (per cent of the whole): the yield of ASTM C138.
    pub fn yield_yd3(&self, masses: Masses, air: f64) -> f64 {
        self.gravities.solid_ft3(masses) / (1.0 - air / 100.0) / FT3_PER_YD3
    }

    /// Design HRWR, gal/yd³.
    pub fn hrwr_gal_yd3(&self) -> f64 {
        self.hrwr_gal(self.per_yd3.hrwr_lb)
    }

    /// Gallons of so many lb of HRWR.
    pub fn hrwr_gal(&self, lb: f64) -> f64 {
        lb / (self.gravities.hrwr * WATER_LB_PER_GAL)
    }

    /// Consistency as designed before HRWR acts, at batching. ACI 301 has mixes at 2 to 4 in before HRWR and at most 8 in
    /// after.
    pub fn without_hrwr(&self) -> Consistency {
        Consistency::from_slump(self.slump.target_in).with_hrwr(-self.hrwr_gal_yd3())
    }

    /// What the bay puts in for this volume when it believes the moisture of its aggregates and the truth is another. A bay
    /// weighs wet aggregate and takes the water it believes to be on it off the mixing water.
    pub fn batched(&self, volume: Volume, fine: Moisture, coarse: Moisture) -> Masses {
        let mut masses = self.per_yd3 * volume.yd3();
        let real = |ordered_lb: f64, moisture: Moisture| {
            let weighed = ordered_lb * (1.0 + moisture.believed);
            let dry = weighed / (1.0 + moisture.real);
            (dry, (weighed - dry) - ordered_lb * moisture.believed)
        };
        let (fine_lb, fine_water) = real(masses.fine_lb, fine);
        let (coarse_lb, coarse_water) = real(masses.coarse_lb, coarse);
        masses.fine_lb = fine_lb;
        masses.coarse_lb = coarse_lb;
        masses.water_lb += fine_water + coarse_water;
        masses
    }
}

/// Free water on an aggregate, as a share of its saturated surface-dry mass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moisture {
    /// What the bay reckons with.
    pub believed: f64,
    /// What it is.
    pub real: f64,
}

impl Moisture {
    /// Believed, and what it is by luck `u` in (0, 1): normal with this standard deviation, never dry of the surface.
    pub fn drawn(believed: f64, sd: f64, u: f64) -> Self {
        Self {
            believed,
            real: (believed + sd * normal(u)).max(0.0),
        }
    }
}
