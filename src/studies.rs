//! One file per question; a result is a plain struct, drawn by `report`.

mod compare;
mod hours;
mod trial;
mod tune;
mod until;

pub use compare::{
    Comparison, Decision, Difference, Figure, Question, RuleResult, WorstDay, compare,
};
pub use hours::{DriverHours, HoursReview, hours};
pub use trial::RuleTrial;
pub use tune::{Effect, Finalist, Setting, Target, Tuned, Tuning, Vary, tune};
pub use until::{Precision, SureOf, Until, default_indifference};
