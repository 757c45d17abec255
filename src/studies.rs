//! One file per question; a result is a plain struct, drawn by `report`.

mod causes;
mod compare;
mod hours;
pub mod replay;
mod trial;
mod worst;
mod variants;

pub use causes::{AsItIs, CausesQuestion, Counterfactual, Counterfactuals, Gone, causes};
pub use compare::{
    Comparison, Decision, Difference, Figure, Question, RuleResult, WorstDay, compare,
};
pub use hours::{DriverHours, HoursReview, hours};
pub use replay::{Replay, replay};
pub use trial::RuleTrial;
pub use worst::{Worst, WorstReplication};
pub use variants::{VariantWorlds, Variants};
