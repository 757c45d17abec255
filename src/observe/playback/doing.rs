//! What a truck with a driver is doing, in the words that charts, pages and state files share.

/// What a truck with a driver is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Standing at a plant without a load: before and between loads, washout.
    Free,
    /// In the queue for a bay.
    WaitingToLoad,
    /// In a bay or at the rack.
    Loading,
    /// Driving with a load.
    DrivingLoaded,
    /// On site, waiting for a place or for its turn.
    WaitingOnSite,
    /// Discharging, and washing the chute.
    Unloading,
    /// Driving without a load for a site, or with one that nobody took.
    DrivingBack,
    /// Standing where its driver may no longer legally drive it home from.
    OutOfHours,
    /// Standing broken down on the road, its load given up, or towed home from there.
    BrokenDown,
}

impl Doing {
    /// All, in the order of their positions.
    pub const ALL: [Self; 9] = [
        Self::Free,
        Self::WaitingToLoad,
        Self::Loading,
        Self::DrivingLoaded,
        Self::WaitingOnSite,
        Self::Unloading,
        Self::DrivingBack,
        Self::OutOfHours,
        Self::BrokenDown,
    ];

    /// Those that have a place in a legend: breakdowns only where there are some.
    pub fn told(has_breakdowns: bool) -> impl Iterator<Item = Self> {
        let told = move |doing: &Self| has_breakdowns || *doing != Self::BrokenDown;
        Self::ALL.into_iter().filter(told)
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Free => "free",
            Self::WaitingToLoad => "waiting to load",
            Self::Loading => "loading",
            Self::DrivingLoaded => "driving loaded",
            Self::WaitingOnSite => "waiting on site",
            Self::Unloading => "unloading",
            Self::DrivingBack => "driving back",
            Self::OutOfHours => "out of hours",
            Self::BrokenDown => "broken down",
        }
    }
}
