//! What a truck with a driver is doing.

/// What a truck with a driver is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Standing at a plant without a load: before and between loads, washout.
    Idle,
    /// In the queue for a bay, or on site waiting for a place or for its turn.
    Waiting,
    /// In a bay or at the rack.
    Loading,
    /// Driving with a load.
    Loaded,
    /// Discharging, and washing the chute.
    Discharging,
    /// Driving without a load for a site, or with one that nobody took.
    Empty,
    /// Standing where its driver may no longer legally drive it home from.
    Stranded,
}

impl Doing {
    /// All, in the order of their positions.
    pub const ALL: [Self; 7] = [
        Self::Idle,
        Self::Waiting,
        Self::Loading,
        Self::Loaded,
        Self::Discharging,
        Self::Empty,
        Self::Stranded,
    ];

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Idle => "idle",
            Self::Waiting => "waiting",
            Self::Loading => "loading",
            Self::Loaded => "driving loaded",
            Self::Discharging => "discharging",
            Self::Empty => "driving empty",
            Self::Stranded => "stranded",
        }
    }
}
