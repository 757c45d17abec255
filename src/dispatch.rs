//! Dispatch rules: compositions of small decisions, one file per decision. This room knows no world: it sees a view of
//! slices that `plant` keeps current, and answers with a choice or a refusal.

mod choose;
mod clock_gates;
mod gates;
mod parameter;
mod plants;
mod policy;
mod refusal;
mod rule;
mod send;
mod sequence;
mod size;
mod view;
mod yard_practice;

pub use choose::{Candidate, choose};
pub use clock_gates::fits as fits_clocks;
pub use gates::fits;
pub use parameter::Parameter;
pub use policy::{Policy, PolicyData};
pub use refusal::Refusal;
pub use rule::{Choose, Fetch, Gate, Lend, LoadSize, Plants, Retrieval, Rule, Send, Sequence};
pub use send::{Pace, lead, target};
pub use sequence::{Rank, rank};
pub use size::load_size;
pub use view::{Ask, PlantView, StageBelief, TruckView, View};
pub use yard_practice::{HrwrAt, ReadAfter, Warning, WaterBy, YardPractice};
