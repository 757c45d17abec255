//! A whole log against a rule book, each clock straight from its definition: nothing is carried along, so that every answer
//! can be followed with the log in hand.

mod look;
mod may_drive;
mod shifts;
mod violations;

pub use may_drive::{barred_since, drivable_at, may_drive_from};
pub use shifts::{log_required, off_duty_in_day, restarts, rests, shift_start, shifts};
pub use violations::{Violation, violations, violations_as_known};

use self::look::Look;
use super::left::Left;
use super::log::DutyLog;
use super::rule_set::RuleSet;
use crate::units::Millis;

/// What is left on every clock at a moment, before anything that happens then.
pub fn left_at(log: &DutyLog, rules: &RuleSet, at: Millis) -> Left {
    Look::new(log, rules, at).left(false)
}
