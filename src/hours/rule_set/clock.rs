//! The clocks that can bar driving.

/// Which clock bars driving.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Clock {
    /// Driving time.
    Driving,
    /// The window of elapsed time.
    Window,
    /// Time on duty.
    OnDuty,
    /// The break.
    Break,
    /// The weekly hours.
    Cycle,
}

impl Clock {
    /// All, in the order in which ties are told.
    pub const ALL: [Self; 5] = [
        Self::Driving,
        Self::Window,
        Self::OnDuty,
        Self::Break,
        Self::Cycle,
    ];

    /// A name for machines.
    pub fn key(self) -> &'static str {
        match self {
            Self::Driving => "driving",
            Self::Window => "window",
            Self::OnDuty => "on_duty",
            Self::Break => "break",
            Self::Cycle => "cycle",
        }
    }
}
