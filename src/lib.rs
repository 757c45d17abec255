//! Plantday simulates days at ready-mixed concrete plants and shows what dispatch rules cause.
//!
//! A call goes down through the rooms and a result comes back up the same stairs; a room knows only rooms below it
//! (`tests/worlds/rooms.rs` reads every `crate::` path and refuses an arrow up):
//!
//! ```text
//! main ─ cli          arguments in, study called, report out
//!        report       draws results: an answer as plain data, and its writers; problems
//!        studies      one file per question; a result is a plain struct
//!        montecarlo   replications over rules, threads, stopping
//!        observe      what is made of events: figures, log
//!        plant        the simulated world: commands in the calendar, events out, forks
//!        scenario     what users write -> checked, typed input
//!        dispatch     rules: one file per decision; knows no world
//!        roads        table or network, traffic, what is believed of trips
//!        hours        rule books and driver clocks
//!        concrete     mix, slump, strength, age, dry-up, weight
//!        engine       calendar, addressed draws, spreads: no domain word
//!        statistics   intervals, paired tests: pure functions
//!        units        milliseconds, thousandths of yd³, cents, ids
//! ```
//!
//! Time inside the simulation is whole milliseconds since midnight before the first day ([`units::Millis`]).

pub mod cli;
pub mod concrete;
pub mod dispatch;
pub mod engine;
pub mod hours;
pub mod montecarlo;
pub mod observe;
pub mod plant;
pub mod report;
pub mod roads;
pub mod scenario;
pub mod statistics;
pub mod studies;
pub mod units;
