//! What happens to the concrete in a drum whose contents are computed, for those who listen.

use crate::concrete::{Masses, WetBy};

/// One step. Masses in lb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MaterialStep {
    /// Of the load before, in the drum still: the load is batched on top of it.
    Under(Components),
    /// Loaded at the bay.
    Batched(Components),
    /// The loaded truck leaves its plant heavier than the law allows, by this much: its empty weight is not what is booked, or
    /// water or a dry-up has been added to a full load.
    Heavy {
        /// lb over the limit that is passed by most.
        over_lb: f32,
    },
    /// The slump was read at the rack, for the last time before the truck leaves it.
    Read {
        /// What the meter showed, in.
        reading_in: f32,
        /// What it was by the time of leaving, in.
        slump_in: f32,
    },
    /// Found too wet at the rack.
    FoundWet {
        /// Why.
        by: WetBy,
    },
    /// Found too wet on site, where it is turned away.
    WetOnSite {
        /// Why.
        by: WetBy,
    },
    /// The truck waited at the rack, drum turning, for a load that was a little wet.
    Waited {
        /// Minutes.
        minutes: f32,
    },
    /// Water was added in the yard.
    Watered {
        /// Gallons.
        gal: f32,
    },
    /// A dry-up went in.
    DriedUp {
        /// Cement, lb.
        cement_lb: f32,
        /// Fine aggregate, lb.
        fine_lb: f32,
    },
    /// HRWR was added on site.
    HrwrAdded {
        /// lb.
        lb: f32,
    },
    /// The slump was looked at on site.
    Tested {
        /// What was found, in.
        found_in: f32,
        /// What it was, in.
        slump_in: f32,
    },
    /// Water was added on site, with authority and within the mix's limit.
    Retempered {
        /// Gallons.
        gal: f32,
    },
    /// A part was dumped: to make room for a dry-up, or because a dry-up made more than was ordered.
    PartDumped {
        /// yd³.
        yd3: f32,
    },
    /// These materials were dumped.
    Dumped(Components),
    /// These materials were placed.
    Placed(Components),
    /// The load placed has less than its specified strength, and would not without the water added.
    BelowStrength {
        /// Its strength at 28 days, psi.
        psi: f32,
        /// How much the added water took, psi.
        lost_psi: f32,
    },
}

/// Masses by component, lb, single precision: cement, other binder, water, fine and coarse aggregate, HRWR.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Components(pub [f32; 6]);

impl From<Masses> for Components {
    fn from(masses: Masses) -> Self {
        Self(masses.parts().map(|lb| lb as f32))
    }
}

impl MaterialStep {
    /// The masses of a step that moves all components.
    pub fn components(&self) -> Option<Components> {
        match self {
            Self::Under(lb) | Self::Batched(lb) | Self::Dumped(lb) | Self::Placed(lb) => Some(*lb),
            _ => None,
        }
    }
}
