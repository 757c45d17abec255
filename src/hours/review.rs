//! A whole log against a rule book, each clock straight from its definition: nothing is carried along, so that every answer
//! can be followed with the log in hand. The log is gone through once; what a moment looks back at is then looked up.

mod look;
mod may_drive;
mod reading;
mod shifts;
mod short_haul;
mod violations;

pub use may_drive::{
    Opening, barred_since, drivable_after_break, drivable_at, may_drive_from, opens,
};
pub use shifts::{
    log_required, off_duty_in, off_duty_in_day, restarts, rests, shift_start, shifts,
};
pub use short_haul::{LostBy, LostShortHaul, lost_short_haul, release_by};
pub use violations::{Violation, violations, violations_as_known};

use self::reading::Reading;
use super::exceptions::Allowance;
use super::left::Left;
use super::log::DutyLog;
use super::rule_set::RuleSet;
use crate::units::Millis;

/// What is left on every clock at a moment, before anything that happens then.
pub fn left_at(log: &DutyLog, rules: &RuleSet, at: Millis) -> Left {
    Reading::new(log, rules).look(at).left(false)
}

/// The exceptions that are in use at a moment.
pub fn allowance_at(log: &DutyLog, rules: &RuleSet, at: Millis) -> Allowance {
    Reading::new(log, rules).look(at).allowance()
}
