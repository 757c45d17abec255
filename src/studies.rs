//! One file per question; a result is a plain struct, drawn by `report`.

mod compare;
mod fleet;
mod hours;
mod staff;
mod trial;
mod variants;

pub use compare::{
    Comparison, Decision, Difference, Figure, Question, RuleResult, WorstDay, compare,
};
pub use fleet::{
    Chance, Estimate, FleetAnswer, FleetQuestion, FleetSize, HandFormula, PourPlan, fleet,
};
pub use hours::{DriverHours, HoursReview, hours};
pub use staff::{
    CallIn, CallSheet, Grown, OneMore, StaffAnswer, StaffQuestion, StaffResult, Staffing,
    call_sheet, staff, staffed, trucks_needed,
};
pub use trial::RuleTrial;
