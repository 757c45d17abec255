//! One file per question; a result is a plain struct, drawn by `report`.

mod compare;
mod hours;
mod per_hundred;
mod trial;

pub use compare::{
    Comparison, Decision, Difference, Figure, Question, RuleResult, WorstDay, compare,
};
pub use hours::{DriverHours, HoursReview, hours};
pub use per_hundred::PerHundred;
pub use trial::RuleTrial;
