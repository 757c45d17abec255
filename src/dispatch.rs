//! Dispatch rules: compositions of small decisions, one file per decision. This room knows no world: it sees a view of
//! slices that `plant` keeps current, and answers with a choice or a refusal.

mod additions;
mod after_discharge;
mod candidate;
mod choose;
mod clock_gates;
mod closing;
mod cost;
mod gates;
mod habit;
mod leads;
mod legs;
mod parameter;
mod plant_hours;
mod plants;
mod policy;
mod refusal;
mod rule;
mod send;
mod sequence;
mod shift;
mod size;
mod view;
mod yard_practice;

pub use after_discharge::head_for;
pub use candidate::Candidate;
pub use choose::{Refusals, choose};
pub use clock_gates::fits;
pub use closing::last_call;
pub use cost::Prices;
pub use habit::Habit;
pub use leads::{Lead, Leads, lead, unasked_leads};
pub use legs::Legs;
pub use parameter::Parameter;
pub use plant_hours::RefusedLoad;
pub use policy::{Policy, PolicyData};
pub use refusal::Refusal;
pub use rule::{
    Additions, AfterDischarge, Choose, DriversWord, Fetch, Gate, Lend, LoadSize, Override,
    PlantHours, Plants, Redirect, Retrieval, Rule, Send, SendHome, Sequence, Shift,
};
pub use send::{Pace, at_plant, at_rack, spaced, target};
pub use sequence::{Rank, rank};
pub use shift::{HALF_HOUR, HALF_HOURS, Needs, goes_home, matched, staggered};
pub use size::load_size;
pub use view::{Ask, ByHome, GivenUp, PlantView, StageBelief, TruckView, View};
pub use yard_practice::{HrwrAt, ReadAfter, Warning, WaterBy, YardPractice};
