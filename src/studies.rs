//! One file per question; a result is a plain struct, drawn by `report`.

mod against;
mod assumed;
mod barred;
mod beside_ledger;
mod best;
mod blocks;
mod break_even;
mod compare;
mod comparing;
mod counterfactuals;
mod edited;
mod final_round;
mod fleet;
mod habits;
mod holds;
mod hours;
mod memory;
mod per_hundred;
mod price;
mod reach;
pub mod replay;
mod searched;
mod so_far;
mod staff;
pub mod tickets;
mod tomorrow;
mod trial;
pub mod trip;
mod tune;
mod until;
mod vary;
pub mod verify;
mod whom;
mod worst;

pub use crate::statistics::{Chance, Estimate};
pub use against::{Against, Differing, Fate, against};
pub use assumed::{DrawnWorld, UnderAssumptions};
pub use barred::Barred;
pub use beside_ledger::BesideLedger;
pub use best::{
    Best, BestQuestion, Combination, Decidable, Tried, best, kept_though_no_recommendation,
};
pub use blocks::Block;
pub use break_even::BreakEven;
pub use compare::{Comparison, Decision, Difference, Figure, Question, RuleResult, compare};
pub use comparing::Comparing;
pub use counterfactuals::{
    AsItIs, Counterfactual, Counterfactuals, CounterfactualsQuestion, Gone, counterfactuals,
};
pub use final_round::{FinalRound, Finalist, Target};
pub use fleet::{
    DriverCall, FleetAnswer, FleetQuestion, FleetSize, JOINT_RISK, OneBreakdown, PourHour,
    PourPlan, TruckMore, WithOrWithout, fleet,
};
pub use habits::{
    COUNTED, Change, HabitResult, HabitValue, Habits, HabitsQuestion, Valued, habits,
};
pub use holds::{Holds, HoldsQuestion, Standing, TriedWorld, holds};
pub use hours::{DriverHours, HoursReview, hours};
pub use memory::memory;
pub use per_hundred::PerHundred;
pub use price::{Every, Payment, Price};
pub use reach::Reach;
pub use replay::{Replay, replay, worst_of};
pub use searched::Searched;
pub use so_far::{Asked, AskedRules, Part};
pub use staff::{
    Absence, CallIn, CallSheet, Grown, HaulerCase, HeadCount, Hired, OneMore, PartTime,
    PriceChange, SURE, Saving, SeasonBest, Sensitive, Shown, StaffAnswer, StaffPrice,
    StaffQuestion, StaffResult, StaffedWorld, StaffedYear, Staffing, StaffingPart, Stands, Year,
    call_sheet, exchange_starts, staff, staffed, usual_drivers,
};
pub use tomorrow::{
    AT_RISK, Board, BoardQuestion, Held, LIKELY, OrderAhead, TriedChange, WORST_TENTH, tomorrow,
};
pub use trial::RuleTrial;
pub use trip::{LoadAnswer, TripQuestion, may_load_go};
pub use tune::{Effect, Setting, Tuned, Tuning, tune};
pub use until::{FIRST_STAGE, Precision, SureOf, Until, default_indifference};
pub use vary::{Vary, Way};
pub use whom::{At, ForWhom, Who};
pub use worst::{Worst, WorstReplication};
