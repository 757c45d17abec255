//! Worlds that turn out otherwise than the scenario assumes.

use crate::scenario::Surprise;

/// ```text
/// (name: "South mole down until noon", change: PlantDown(plant: "South mole", until: "12:00"))
/// (name: "Slow and dear", change: [Traffic(times: 1.2), Price(of: Pay, more: 0.1)])
/// ```
/// A world in which a decision is tried besides the usual ones. The changes are those of [`Surprise`]; `plantday help reading` lists how
/// each is written.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnWorld {
    /// Name, unique among worlds.
    pub name: String,
    /// What is otherwise, at least one thing.
    pub changes: Vec<Surprise>,
}
