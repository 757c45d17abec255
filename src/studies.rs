//! One file per question; a result is a plain struct, drawn by `report`.

mod causes;
mod compare;
mod hours;
mod per_hundred;
pub mod replay;
mod trial;
mod tune;
mod until;
mod variants;
mod worst;

pub use causes::{AsItIs, CausesQuestion, Counterfactual, Counterfactuals, Gone, causes};
pub use compare::{
    Comparison, Decision, Difference, Figure, Question, RuleResult, WorstDay, compare,
};
pub use hours::{DriverHours, HoursReview, hours};
pub use per_hundred::PerHundred;
pub use replay::{Replay, replay};
pub use trial::RuleTrial;
pub use tune::{Effect, Finalist, Setting, Target, Tuned, Tuning, Vary, tune};
pub use until::{Precision, SureOf, Until, default_indifference};
pub use variants::{VariantWorlds, Variants};
pub use worst::{Worst, WorstReplication};
