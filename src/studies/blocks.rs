//! Which replications a study makes: each kind of work has a block of its own, so that no two of them share any luck under one seed.
//!
//! The number of a replication is the same wherever it is told, and `replay` plays any of them.

use std::ops::Range;

/// A kind of work whose replications are its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Block {
    /// The rules side by side, and whatever else is told of a scenario as it stands.
    Compared,
    /// The best rule selected.
    Selection,
    /// Settings searched.
    Search,
    /// What the search found, decided on.
    Final,
}

/// Far more than any study makes.
const SIZE: u64 = 1_000_000_000;

impl Block {
    /// All, in their order.
    pub const ALL: [Self; 4] = [Self::Compared, Self::Selection, Self::Search, Self::Final];

    /// No replication has this number, or a greater one.
    pub const END: u64 = Self::ALL.len() as u64 * SIZE;

    /// Its first so many replications, at most a billion.
    ///
    /// # Panics
    /// If it has not as many.
    pub fn first(self, count: u64) -> Range<u64> {
        assert!(count <= SIZE, "{count} replications in one block");
        let from = self as u64 * SIZE;
        from..from + count
    }

    /// As people read it and type it: `replications 1000000000 to 1000000063`.
    pub fn words(self, count: u64) -> String {
        let range = self.first(count);
        match count {
            0 => "no replication".to_owned(),
            1 => format!("replication {}", range.start),
            _ => format!("replications {} to {}", range.start, range.end - 1),
        }
    }
}
