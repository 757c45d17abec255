//! Orders in a fork: what of them is not as it was at the moment.

/// What of an order has been drawn again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plant) enum Renewed {
    /// Nothing that stands in the calendar.
    Nothing,
    /// From when its site takes loads.
    Opening,
    /// Whether it takes place at all.
    Whole,
}
