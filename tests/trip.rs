//! Looks ahead: forks know nothing of the true future, what they foretell comes true as often as they say, and the command
//! answers as it should.

#[path = "trip/calibration.rs"]
mod calibration;
#[path = "trip/forks.rs"]
mod forks;
#[path = "trip/on_paper.rs"]
mod on_paper;
#[path = "trip/program.rs"]
mod program;
