//! Dispatch rules: compositions of small decisions, one file per decision. This room knows no world: it sees a view of
//! slices that `plant` keeps current, and answers with a choice or a refusal.

mod rule;

pub use rule::{Choose, Gate, Lend, LoadSize, Rule, Send, Sequence};
