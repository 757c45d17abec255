//! One file per question; a result is a plain struct, drawn by `report`.

mod compare;
mod trial;

pub use compare::{Comparison, Decision, Figure, Question, RuleResult, compare};
pub use trial::RuleTrial;
