//! Causes for which a driver is stranded.

/// Why a driver is stranded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StrandCause {
    /// The way home did not fit when the load left the plant.
    LoadedTooLate,
    /// The same, from a plant that is not the truck's home; or stranded there.
    FarLend,
    /// It fitted, and the way out took longer than believed.
    Traffic,
    /// It fitted, and the stay on site took longer.
    SiteLong,
    /// It did not fit, and the driver had begun the tour with less than a whole day on the clocks.
    ClockShort,
    /// A gate of the rule was overridden for the load, or the driver overruled.
    Overridden,
}

impl StrandCause {
    /// All causes, in the order of their positions.
    pub const ALL: [Self; 6] = [
        Self::LoadedTooLate,
        Self::FarLend,
        Self::Traffic,
        Self::SiteLong,
        Self::ClockShort,
        Self::Overridden,
    ];
}
