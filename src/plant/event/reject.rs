//! Reasons for which a load is rejected.

/// Why a load is rejected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reject {
    /// Too wet.
    TooWet,
    /// Its discharge could not end within the age limit.
    TooOld,
    /// Its drum has turned too often.
    TooManyRevolutions,
    /// Too stiff, and water could not help any more.
    TooStiff,
    /// Too much or too little air.
    Air,
    /// Another mix than ordered.
    WrongMix,
}
