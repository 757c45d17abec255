//! Whether a tour of a log was short-haul.

use super::exceptions::{Allowance, ShortHaulDay, is_short_haul};
use super::log::DutyLog;
use super::rule_set::RuleSet;
use super::status::DutyStatus;
use crate::units::Millis;

/// Whether a tour, from its first duty to the end of its last, met the short-haul exception. A log holds no distances: the
/// truck is taken to have stayed within the radius and come back unless an allowance says otherwise.
pub(super) fn was_short_haul(
    log: &DutyLog,
    rules: &RuleSet,
    allowance: &Allowance,
    (on_duty, released): (Millis, Millis),
) -> bool {
    let Some(exception) = &rules.short_haul else {
        return false;
    };
    let driving = log
        .entries
        .iter()
        .filter(|entry| entry.status == DutyStatus::Driving)
        .map(|entry| entry.to.min(released) - entry.from.max(on_duty))
        .filter(|span| *span > Millis::ZERO)
        .sum();
    let day = ShortHaulDay {
        on_duty,
        released,
        driving,
        farthest_statute_miles: 0.0,
        returned: !allowance.outside_short_haul,
        // A tour begins after a full rest, or after what the log is told to begin with.
        rest_before: rules.reset_rest,
        ready_mix_vehicle: rules.ready_mix_vehicles,
    };
    is_short_haul(rules, exception, &day)
}
