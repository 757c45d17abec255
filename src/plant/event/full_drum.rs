//! What becomes of a full drum whose driver is out of hours.

/// What becomes of a full drum whose driver is out of hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FullDrum {
    /// Another driver takes over.
    Relief,
    /// A stabiliser keeps the load from setting until the truck is home.
    Stabilised,
    /// The load sets: it is lost, and the drum has to be cleaned.
    Lost,
}
