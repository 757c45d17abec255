//! Until when nobody need look closer: nearly every load that is judged fits a driver who has hours left, and this says so without
//! following the plan leg by leg.

use super::Clocks;
use super::{BreakTrigger, rest_of};
use crate::hours::rule_set::RuleSet;
use crate::units::Millis;

impl Clocks {
    /// A moment up to which no clock bars a driver who is on duty and stays so, whatever part of it is driving: there may be more.
    /// None where that cannot be told at a glance: off duty, where a rest may be counted.
    ///
    /// Every clock runs at most as fast as time, and no exception is counted on: the break is looked at though it be excused.
    pub fn surely_until(&self, rules: &RuleSet) -> Option<Millis> {
        let shift = self.shift.filter(|_| rules.is_duty(self.status))?;
        let mut left = Millis::NEVER;
        if let Some(limit) = rules.driving_limit(&self.allowance) {
            left = left.min(rest_of(limit, self.drove.max(self.drove_today)));
        }
        if let Some(limit) = rules.window_limit(&self.allowance) {
            left = left.min(rest_of(limit, self.now - shift));
        }
        if let Some(limit) = &rules.on_duty {
            left = left.min(rest_of(limit.length, self.worked.max(self.worked_today)));
        }
        if let Some(rule) = &rules.break_rule {
            let used = match rule.trigger {
                BreakTrigger::DrivingTime => self.drove_since_break,
                BreakTrigger::ElapsedTime => self.now - self.break_base,
            };
            left = left.min(rest_of(rule.after, used));
        }
        if let Some(cycle) = &rules.cycle {
            left = left.min(rest_of(cycle.limit, self.in_cycle));
        }
        Some(self.now + left)
    }
}
