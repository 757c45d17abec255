//! What air and warmth do to strength and slump.
//!
//! Every void takes strength. Only entrained air makes slump, and only it comes with water: air-entraining agents froth the
//! more the wetter the mix ("Causes for air content fluctuations", Concrete Construction), while the entrapped air of other concrete
//! is the same at every slump (ACI 211.1, mixing-water table). So a gallon takes 150 to 200 psi of the one ("Adjusting slump in
//! the field", the same) and 200 to 400 of the other ("Adding water", the same).

use super::slump::Consistency;

/// Up to this slump water brings air: 6 or 7 in (The Concrete Producer, "Controlling entrained air content").
const BROUGHT_UP_TO_IN: f64 = 6.5;

/// Gallons of water per yd³ that an inch of slump stands for where air makes it: the rule of thumb of a gallon for an inch
/// (Concrete Construction, "Adding water").
const GAL_PER_IN: f64 = 1.0;
/// The step of temperature that [`Sensitivity::strength_per_18_f`] is given for, °F.
const STEP_F: f64 = 18.0;

/// What air and warmth do to a mix, against the air and the temperature that it was designed with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sensitivity {
    /// Share of its strength that it loses with each per cent of air, 0 to below 1.
    pub strength_per_air: f64,
    /// Inches of slump that air-entrained concrete gains with each per cent of air.
    pub slump_in_per_air: f64,
    /// Per cent of air that each gallon a yd³ of added water brings to air-entrained concrete, up to a slump of 6½ in.
    pub air_per_gal: f64,
    /// Share of its strength that it loses when it is mixed and cured 18 °F warmer, 0 to below 1.
    pub strength_per_18_f: f64,
}

impl Sensitivity {
    /// 5 % of strength for 1 % of air (ACI, answer 657 on concrete; 2 to 6 % in "Effects of too much air", Concrete
    /// Construction); half an inch for 1 % ("More on entrainment", the same); ½ to 1 % of air with a gallon ("Adding water",
    /// the same); 10 % of strength for 18 °F ("How to cope with high concrete temperatures", the same).
    pub const USUAL: Self = Self {
        strength_per_air: 0.05,
        slump_in_per_air: 0.5,
        air_per_gal: 0.75,
        strength_per_18_f: 0.10,
    };

    /// None of it.
    pub const NONE: Self = Self {
        strength_per_air: 0.0,
        slump_in_per_air: 0.0,
        air_per_gal: 0.0,
        strength_per_18_f: 0.0,
    };

    /// What is left of the strength with so many per cent of air and so many °F more than designed. Cooler concrete gains
    /// nothing: what it gains late it lacks early.
    pub(super) fn strength_left(&self, more_air: f64, warmer_f: f64) -> f64 {
        let air = libm::pow(1.0 - self.strength_per_air, more_air);
        let warmth = libm::pow(1.0 - self.strength_per_18_f, warmer_f.max(0.0) / STEP_F);
        air * warmth
    }

    /// What so many per cent more of air act like, gallons of water per yd³.
    pub(super) fn air_as_water_gal(&self, more_air: f64) -> f64 {
        self.slump_in_per_air * GAL_PER_IN * more_air
    }

    /// Air that so much water brings to concrete of this consistency, per cent. It grows with slump up to 6 or 7 in, and falls
    /// beyond (The Concrete Producer, "Controlling entrained air content"); the fall is not reckoned.
    pub(super) fn air_of_water(&self, before: Consistency, gal_yd3: f64) -> f64 {
        let most = Consistency::from_slump(BROUGHT_UP_TO_IN).gal_yd3;
        let counts = (most - before.gal_yd3).clamp(0.0, gal_yd3.max(0.0));
        self.air_per_gal * counts
    }
}
