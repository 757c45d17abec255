//! Rule books and driver clocks: pure functions, so that any answer can be checked with a log in hand.
//!
//! [`RuleSet`] is a rule book written out; [`built_in()`] has several by name. [`review`] answers from a whole log,
//! [`Clocks`] carries the same clocks along in fixed space. Exceptions have a file of their own.

mod built_in;
mod claims;
mod clocks;
mod daily_rest;
mod exceptions;
mod fit;
mod history;
mod left;
mod log;
pub mod review;
mod rule_book;
mod rule_set;
mod status;
mod wall_clock;

pub use built_in::{NAMES, built_in};
pub use claims::{Claim, Claims, Exception, JudgedClaim, Refused, use_claims};
pub use clocks::Clocks;
pub use daily_rest::{ShortDay, short_days};
pub use exceptions::{
    Adverse, Allowance, DelayCause, ShortHaulDay, TourRecord, air_miles, is_short_haul,
    window_of_tour,
};
pub use fit::Fit;
pub use history::{WithHistory, clocks_of, with_history};
pub use left::{Drivable, Left};
pub use log::{DutyLog, Entry};
pub use rule_book::RuleBook;
pub use rule_set::{
    AdverseExtension, Break, BreakTrigger, Clock, Cycle, Date, Law, Limit, Restart, RuleSet,
    ShortHaul,
};
pub use status::DutyStatus;
pub use wall_clock::WallClock;
