//! Looks ahead: forks know nothing of the true future, what they foretell comes true as often as they say, and the command
//! answers as it should.

mod calibration;
mod contradictions;
mod desk;
mod forks;
mod hand;
mod last_loads;
mod now;
mod on_paper;
mod program;
mod read_back;
pub(crate) mod sheet;
mod standing;
