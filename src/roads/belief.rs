//! What somebody takes a trip to last, before the trip is made.

/// What the dispatcher believes of a trip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Belief {
    /// The distance on the map at one speed: no traffic, no detours.
    StraightLine,
    /// The minutes of the empty road.
    FreeFlow,
    /// The minutes usual at the hour.
    TimeOfDay {
        /// Which share of such trips is no longer than what is believed, 0.05 to 0.99; none for the mean.
        quantile: Option<f64>,
    },
}
