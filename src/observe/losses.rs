//! Drivers stranded and concrete wasted, by cause, as the figures count them.

use super::columns::{FIGURES, Needs, figure};

/// A loss and its cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loss {
    /// Stranded: the way home did not fit when the load left.
    StrandedLoadedTooLate,
    /// Stranded: the same, from a plant that is not the truck's own; or at one, after a lend.
    StrandedLent,
    /// Stranded: the way out took longer than believed.
    StrandedTraffic,
    /// Stranded: the site took longer than believed.
    StrandedSite,
    /// Stranded: the driver began with less than a whole day on the clocks.
    StrandedShort,
    /// Stranded: a gate of the rule was overridden for the load, or the driver overruled.
    StrandedOverridden,
    /// The same strandings by place: on a site.
    StrandedAtSite,
    /// The same strandings by place: at a plant that is not the truck's own.
    StrandedAtPlant,
    /// Wasted: found too wet at the rack, beyond help there.
    WetAtRack,
    /// Wasted: rejected on site as too wet, unseen at the rack.
    WetOnSite,
    /// Wasted: too old for the site, or turned too often.
    TooOld,
    /// Wasted: the driver was out of hours with a full drum.
    OutOfHours,
    /// Wasted: given up on the way, the truck broken down.
    BrokenDown,
    /// Wasted: too stiff for the site.
    TooStiff,
    /// Wasted: rejected for its air.
    Air,
    /// Wasted: of another mix than ordered.
    WrongMix,
}

impl Loss {
    /// All, in the order in which they are shown.
    pub const ALL: [Self; 16] = [
        Self::StrandedLoadedTooLate,
        Self::StrandedLent,
        Self::StrandedTraffic,
        Self::StrandedSite,
        Self::StrandedShort,
        Self::StrandedOverridden,
        Self::StrandedAtSite,
        Self::StrandedAtPlant,
        Self::WetAtRack,
        Self::WetOnSite,
        Self::TooOld,
        Self::OutOfHours,
        Self::BrokenDown,
        Self::TooStiff,
        Self::Air,
        Self::WrongMix,
    ];

    /// The figure that counts it, and the one whose count is not of it.
    fn figures(self) -> (usize, Option<usize>) {
        match self {
            Self::StrandedLoadedTooLate => (figure::STRANDED_LOADED_LATE, None),
            Self::StrandedLent => (figure::STRANDED_LENT, None),
            Self::StrandedTraffic => (figure::STRANDED_TRAFFIC, None),
            Self::StrandedSite => (figure::STRANDED_SITE, None),
            Self::StrandedShort => (figure::STRANDED_SHORT, None),
            Self::StrandedOverridden => (figure::STRANDED_OVERRIDDEN, None),
            // At the own plant nobody is stranded.
            Self::StrandedAtSite => (figure::STRANDED, Some(figure::STRANDED_AT_PLANT)),
            Self::StrandedAtPlant => (figure::STRANDED_AT_PLANT, None),
            // What is made again was rejected on site or found beyond help at the rack.
            Self::WetAtRack => (figure::REBATCHED, Some(figure::REJECTED)),
            Self::WetOnSite => (figure::WET_ON_SITE, None),
            Self::TooOld => (figure::OLD, None),
            Self::OutOfHours => (figure::LOADS_LOST, None),
            Self::BrokenDown => (figure::GIVEN_UP, None),
            Self::TooStiff => (figure::STIFF, None),
            Self::Air => (figure::AIR, None),
            Self::WrongMix => (figure::WRONG_MIX, None),
        }
    }

    /// The position of the figure that counts it.
    pub fn figure(self) -> usize {
        self.figures().0
    }

    /// How often it happened in a replication of which `figure` tells the figures by their position.
    pub fn count(self, figure: impl Fn(usize) -> f64) -> f64 {
        let (all, others) = self.figures();
        figure(all) - others.map_or(0.0, figure)
    }

    /// Whether it is known only where the concrete in the drum is computed.
    pub fn of_computed_concrete(self) -> bool {
        FIGURES[self.figures().0].needs == Needs::Mixes
    }

    /// Whether a driver is stranded; else a load is wasted.
    pub fn is_stranding(self) -> bool {
        matches!(
            self,
            Self::StrandedLoadedTooLate
                | Self::StrandedLent
                | Self::StrandedTraffic
                | Self::StrandedSite
                | Self::StrandedShort
                | Self::StrandedOverridden
                | Self::StrandedAtSite
                | Self::StrandedAtPlant
        )
    }

    /// Whether it says where a stranding is, which another loss counts by its cause.
    pub fn is_place(self) -> bool {
        matches!(self, Self::StrandedAtSite | Self::StrandedAtPlant)
    }

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::StrandedLoadedTooLate => "stranded_loaded_late",
            Self::StrandedLent => "stranded_lent",
            Self::StrandedTraffic => "stranded_traffic",
            Self::StrandedSite => "stranded_site",
            Self::StrandedShort => "stranded_clock_short",
            Self::StrandedOverridden => "stranded_overridden",
            Self::WetAtRack => "wasted_wet_at_rack",
            Self::WetOnSite => "wasted_wet_on_site",
            Self::TooOld => "wasted_too_old",
            Self::OutOfHours => "wasted_out_of_hours",
            Self::BrokenDown => "wasted_truck_broken_down",
            Self::StrandedAtSite => "stranded_place_site",
            Self::StrandedAtPlant => "stranded_place_other_plant",
            Self::TooStiff => "wasted_too_stiff",
            Self::Air => "wasted_air",
            Self::WrongMix => "wasted_wrong_mix",
        }
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::StrandedLoadedTooLate => "stranded: loaded too late for the way home",
            Self::StrandedLent => "stranded: loaned too far from home",
            Self::StrandedTraffic => "stranded: traffic",
            Self::StrandedSite => "stranded: the site took long",
            Self::StrandedShort => "stranded: few hours left that morning",
            Self::StrandedOverridden => {
                "stranded: hours check skipped or driver's objection ignored"
            }
            Self::WetAtRack => "dumped: too wet, found at the slump rack",
            Self::WetOnSite => "dumped: too wet, rejected on site",
            Self::TooOld => "dumped: too old for the site",
            Self::OutOfHours => "dumped: driver out of hours",
            Self::BrokenDown => "dumped: truck broken down on the way",
            Self::StrandedAtSite => "stranded, by place: on a site",
            Self::StrandedAtPlant => "stranded, by place: at another plant",
            Self::TooStiff => "dumped: too stiff for the site",
            Self::Air => "dumped: air out of range",
            Self::WrongMix => "dumped: the wrong mix",
        }
    }
}
