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
//!        units        milliseconds, volumes, cents, ids, US units and SI
//! ```
//!
//! The rooms are private. What a program may use of them stands here at the root: a scenario is read from a file
//! ([`read`]) or a text ([`parse`]), or is the [`built_in_week`]; a study is asked a question, each of which has a
//! [`Default`]; [`draw`] makes an [`Answer`](draw::Answer) of what it found: screen, page, CSV and JSON.
//!
//! ```
//! use plantday::{CompareQuestion, Watch, compare, draw, parse};
//! use std::sync::Arc;
//!
//! let text = include_str!("../scenarios/estuary_day.ron");
//! let scenario = Arc::new(parse("the estuary day", text)?);
//! let question = CompareQuestion {
//!     replications: 20, // many more for a decision that counts
//!     ..CompareQuestion::default()
//! };
//! let found = compare(&scenario, &question, Watch::default());
//! let found = Arc::new(found.expect("nobody stops it"));
//! assert_eq!(found.rules.len(), scenario.rules.len());
//!
//! let worst = Arc::new(plantday::worst_of(&scenario, &found));
//! let answer = draw::compare(&found, &worst, &scenario);
//! println!("{}", answer.decision);
//! # assert!(!answer.decision.is_empty());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Time inside the simulation is whole milliseconds since midnight before the first day ([`Millis`]).

// The rooms are public, but in no documentation, for the crate's own tests and benches, which turn the feature on; for everybody else they
// are private, and what only tests call would look unused. `.ci/dead-code` looks for code that nobody calls.
#![cfg_attr(
    not(feature = "rooms"),
    allow(
        dead_code,
        unused_imports,
        unreachable_pub,
        rustdoc::private_intra_doc_links,
        reason = "tests and benches use it, and for them the rooms are public"
    )
)]

#[cfg(not(feature = "rooms"))]
mod cli;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod cli;
#[cfg(not(feature = "rooms"))]
mod concrete;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod concrete;
#[cfg(not(feature = "rooms"))]
mod dispatch;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod dispatch;
#[cfg(not(feature = "rooms"))]
mod engine;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod engine;
#[cfg(not(feature = "rooms"))]
mod hours;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod hours;
#[cfg(not(feature = "rooms"))]
mod montecarlo;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod montecarlo;
#[cfg(not(feature = "rooms"))]
mod observe;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod observe;
#[cfg(not(feature = "rooms"))]
mod plant;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod plant;
#[cfg(not(feature = "rooms"))]
mod report;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod report;
#[cfg(not(feature = "rooms"))]
mod roads;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod roads;
#[cfg(not(feature = "rooms"))]
mod scenario;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod scenario;
#[cfg(not(feature = "rooms"))]
mod statistics;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod statistics;
#[cfg(not(feature = "rooms"))]
mod studies;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod studies;
#[cfg(not(feature = "rooms"))]
mod units;
#[cfg(feature = "rooms")]
#[doc(hidden)]
pub mod units;

pub use cli::run;
pub use dispatch::{Habit, Parameter, Shift};
pub use montecarlo::{Broken, Journal, KeptRun, Progress, Reader, Rows, Shelf, Watch};
pub use observe::{Column, ToldRefusals, columns};
pub use scenario::assume::{Assumption, read as read_assumptions};
pub use scenario::edit::roster::OvertimeUse;
pub use scenario::{
    Down, Input, InputKind, Origin, Otherwise, OwnWorld, ReadError, Scenario, Surprise, WhatIf,
    built_in_week, parse, read,
};
pub use studies::replay::{Question as ReplayQuestion, Which};
pub use studies::trip::{
    Calibration, FetchAnswer, NewOrder, OrderAnswer, OrderQuestion, calibrate, state_of,
    take_order, who_fetches,
};
pub use studies::{
    Against, Asked, AskedRules, Best, BestQuestion, Block, CallSheet, Chance, Comparing,
    Comparison, Counterfactuals, CounterfactualsQuestion, Decision, Estimate, FleetAnswer,
    FleetQuestion, Habits, HabitsQuestion, Holds, HoldsQuestion, LoadAnswer, Part,
    Question as CompareQuestion, Replay, StaffAnswer, StaffQuestion, Staffing, Target,
    TripQuestion, Tuned, Tuning, UnderAssumptions, Until, Vary, Worst, against, best, call_sheet,
    compare, counterfactuals, default_indifference, fleet, habits, holds, may_load_go, replay,
    staff, tune, worst_of,
};
pub use units::measure::{Currency, Measures, System};
pub use units::{DriverId, Millis, OrderId, PlantId, Volume};

/// Drivers' hours: logs read, and judged by a rule book.
pub mod duty {
    pub use crate::hours::{NAMES, RuleSet, built_in};
    pub use crate::scenario::duty_log::{DutyLogs, Known, read};
    pub use crate::scenario::local_time::{LocalTime, Zone};
    pub use crate::scenario::rule_book;
    pub use crate::studies::{DriverHours, HoursReview, hours as judge};
}

/// Past tickets: read, fitted, and a scenario held against them.
pub mod past {
    pub use crate::report::tickets::table;
    pub use crate::scenario::past_tickets::{PastTickets, Stamp, Ticket, read};
    pub use crate::studies::tickets::{
        Check, CheckQuestion, TicketFits, TicketsOf, TicketsQuestion, check, fit_tickets, written,
    };
}

/// The program held against what others have published.
pub mod checks {
    pub use crate::studies::verify::{
        Basis, Check, Expected, Family, Found, Verified, VerifyQuestion, verify,
    };
}

/// Makes an [`Answer`](draw::Answer) of what a study found.
pub mod draw {
    pub use crate::report::answer::Answer;
    pub use crate::report::best::answer as best;
    pub use crate::report::causes::answer as counterfactuals;
    pub use crate::report::compare::answer as compare;
    pub use crate::report::fleet::answer as fleet;
    pub use crate::report::habits::answer as habits;
    pub use crate::report::holds::answer as holds;
    pub use crate::report::hours::answer as hours;
    pub use crate::report::replay::{against, answer as replay};
    pub use crate::report::staff::answer as staff;
    pub use crate::report::tickets::{check as tickets_check, fits as tickets};
    pub use crate::report::trip::{Asked, TripAnswer};
    pub use crate::report::tune::answer as tune;
    pub use crate::report::verify::answer as verify;
}
