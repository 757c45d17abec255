//! Drivers' hours for programs.

use super::governs::{goes_on, governs, short_haul_until};
use super::times::{date, iso, whole_minutes};
use super::{CAUTION, daily_law, why_not};
use crate::hours::review::{LostBy, Opening};
use crate::hours::{Clock, RuleSet};
use crate::studies::HoursReview;
use crate::units::Millis;
use serde_json::{Value, json};

/// The part of the JSON that is of this study alone, times by the clock on the wall, in a zone with the offset from UTC:
///
/// ```text
/// {"rule_book", "cycle", "zone", "in_force": true | false, "caution", "left_out", "not_yet": ["driver"], "has_violation": true | false,
///  "drivers": [{"driver", "at", "may_drive": true | false, "governs", "assumed",
///    "clocks": {"drive_left_min", "window_left_min", "on_duty_left_min", "break_left_min", "cycle_left_min"},
///    "binds": {"rule", "citation"}, "barred_from", "after_break": {"rule", "citation", "barred_from"},
///    "may_drive_again_at", "opened_by": "rest" | "restart" | "break" | "day" | "excuse",
///    "violations": [{"rule", "citation", "from", "to"}], "days_short": [{"rule", "citation", "from", "to", "off_duty_min"}],
///    "exceptions": [{"exception": "long_day" | "adverse", "from", "holds": true | false, "why_not"}],
///    "may_apply": ["long_day" | "adverse"], "log_required",
///    "short_haul_lost": [{"since", "by": "released_late" | "drove_too_long" | "left_radius", "came_on_duty"}],
///    "short_haul_until", "history_missing": ["2026-03-01"]}]}
/// ```
///
/// Minutes are whole, rounded down. A clock that the rule book does not have is `null`, as is `may_drive_again_at` when driving
/// is not barred at `at`, and `binds` and `barred_from` when nothing bars it. `barred_from` is the moment from which driving
/// is barred if the driver drives on without a pause; if it is barred at `at`, the moment since when. `days_short` are carrier
/// days with less time off duty than the book asks for. `exceptions` are those that the log claims; `may_apply` names those that
/// it does not claim and that might cover a violation. `history_missing` are days that the weekly hours look at and that the
/// history, if there is one, leaves out: they count as no hours. `left_out` says what else the law asks, which the book does not
/// hold; `not_yet` names drivers whose log begins after the moment that is asked about. `governs` says in words what governs the driver
/// at `at`, and `assumed` that the status of the log's last row is taken to go on until then, if it is. `after_break` is what ends
/// driving after a break, where a break is what ends it first. `short_haul_until` is when the driver of a shift that is short-haul so
/// far must be released for it to stay so.
pub(super) fn json(review: &HoursReview) -> Value {
    let rules = &review.rules;
    let drivers: Vec<Value> = review
        .drivers
        .iter()
        .map(|driver| {
            let left = |rule| driver.left.of(rule).map(whole_minutes);
            let time = |at: Millis| iso(review, at);
            let violations: Vec<Value> = driver
                .violations
                .iter()
                .map(|violation| {
                    let (rule, citation) = law(rules, violation.rule);
                    json!({ "rule": rule, "citation": citation,
                            "from": time(violation.from), "to": time(violation.to) })
                })
                .collect();
            let days_short: Vec<Value> = driver
                .short_days
                .iter()
                .map(|day| {
                    let (rule, citation) = daily_law(rules);
                    json!({ "rule": rule, "citation": citation, "from": time(day.from), "to": time(day.to),
                            "off_duty_min": whole_minutes(day.off_duty) })
                })
                .collect();
            let exceptions: Vec<Value> = driver
                .claims
                .iter()
                .map(|judged| {
                    json!({ "exception": judged.claim.what.key(), "from": time(judged.claim.from),
                            "holds": judged.refused.is_none(),
                            "why_not": judged.refused.map(|why| why_not(review, why)) })
                })
                .collect();
            let may_apply: Vec<&str> = driver.may_apply.iter().map(|what| what.key()).collect();
            let missing: Vec<String> = driver
                .missing
                .iter()
                .map(|day| date(review, *day))
                .collect();
            let binds = driver.binds.map(|rule| {
                let (rule, citation) = law(rules, rule);
                json!({ "rule": rule, "citation": citation })
            });
            let after_break = driver.after_break.map(|after| {
                let law = after.by.map(|rule| law(rules, rule)).unzip();
                json!({ "rule": law.0, "citation": law.1, "barred_from": after.by.map(|_| time(after.until)) })
            });
            let lost: Vec<Value> = driver
                .lost
                .iter()
                .map(|tour| {
                    json!({ "since": time(tour.since), "by": lost_by(tour.by),
                            "came_on_duty": time(tour.came_on_duty) })
                })
                .collect();
            let release_by = short_haul_until(driver).map(time);
            json!({
                "driver": driver.driver,
                "at": time(driver.at),
                "may_drive": !driver.left.bars(),
                "governs": governs(review, driver),
                "assumed": goes_on(review, driver),
                "clocks": {
                    "drive_left_min": left(Clock::Driving),
                    "window_left_min": left(Clock::Window),
                    "on_duty_left_min": left(Clock::OnDuty),
                    "break_left_min": left(Clock::Break),
                    "cycle_left_min": left(Clock::Cycle),
                },
                "binds": binds,
                "barred_from": driver.barred_from.map(time),
                "after_break": after_break,
                "may_drive_again_at": driver.opens.map(|(again, _)| time(again)),
                "opened_by": driver.opens.map(|(_, opening)| opened_by(opening)),
                "violations": violations,
                "days_short": days_short,
                "exceptions": exceptions,
                "may_apply": may_apply,
                "log_required": driver.log_required,
                "short_haul_lost": lost,
                "short_haul_until": release_by,
                "history_missing": missing,
            })
        })
        .collect();
    json!({
        "rule_book": rules.name,
        "cycle": rules.cycle.as_ref().map(|cycle| cycle.name()),
        "zone": review.time.zone().map(|zone| zone.name()),
        "in_force": review.out_of_force.is_none(),
        "caution": CAUTION,
        "left_out": Some(&rules.left_out).filter(|words| !words.is_empty()),
        "not_yet": review.not_yet,
        "has_violation": review.has_violation(),
        "drivers": drivers,
    })
}

fn law(rules: &RuleSet, rule: Clock) -> (&str, &str) {
    let law = rules.law(rule).expect("only rules of the book bind");
    (&law.rule, &law.citation)
}

fn opened_by(opening: Opening) -> &'static str {
    match opening {
        Opening::Rest => "rest",
        Opening::Restart => "restart",
        Opening::Break => "break",
        Opening::Day => "day",
        Opening::Excuse => "excuse",
    }
}

fn lost_by(by: LostBy) -> &'static str {
    match by {
        LostBy::ReleasedLate => "released_late",
        LostBy::DroveTooLong => "drove_too_long",
        LostBy::LeftRadius => "left_radius",
    }
}
