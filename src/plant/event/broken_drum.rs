//! What becomes of a load that is given up in a truck that has broken down.

/// What becomes of a load that is given up in a truck that has broken down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BrokenDrum {
    /// The drum turns: the concrete is stabilized and comes back with the truck.
    Stabilized,
    /// The drum does not turn, and is emptied beside the road while the concrete is young enough.
    Emptied,
    /// The drum does not turn, and the load sets in it.
    Set,
}
