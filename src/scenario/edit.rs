//! Edits of a checked scenario: pure functions from one to another, for studies that ask "what if".

pub mod fleet;
pub mod roster;
