//! Drivers' hours for people and for programs.

use jiff::ToSpan;
use jiff::civil::DateTime;
use serde_json::{Value, json};
use std::fmt::Write;

use super::plain_text::one_line;
use super::table::{Align, Table};
use super::wrap::wrap;
use crate::hours::{Rule, RuleSet};
use crate::studies::{DriverHours, HoursReview};
use crate::units::Millis;

/// Said with every answer.
pub const CAUTION: &str = "A planning aid, no permission: the rules in force at the place and the carrier's own record \
decide. A driver who is ill or tired does not drive, whatever is left.";

/// The answer as one JSON object, times as local civil times without zone:
///
/// ```text
/// {"study": "hours", "rule_book", "cycle", "in_force": true | false, "caution",
///  "drivers": [{"driver", "at",
///    "clocks": {"drive_left_min", "window_left_min", "on_duty_left_min", "break_left_min", "cycle_left_min"},
///    "binds": {"rule", "citation"}, "barred_from", "may_drive_again_at",
///    "violations": [{"rule", "citation", "from", "to"}], "log_required"}]}
/// ```
///
/// Minutes are whole, rounded down. A clock that the rule book does not have is `null`, as is `may_drive_again_at` when driving
/// is not barred at `at`, and `binds` and `barred_from` when nothing bars it. `barred_from` is the moment from which driving
/// is barred if the driver drives on without a pause; if it is barred at `at`, the moment since when.
pub fn json(review: &HoursReview) -> Value {
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
            let binds = driver.binds.map(|rule| {
                let (rule, citation) = law(rules, rule);
                json!({ "rule": rule, "citation": citation })
            });
            json!({
                "driver": driver.driver,
                "at": time(driver.at),
                "clocks": {
                    "drive_left_min": left(Rule::Driving),
                    "window_left_min": left(Rule::Window),
                    "on_duty_left_min": left(Rule::OnDuty),
                    "break_left_min": left(Rule::Break),
                    "cycle_left_min": left(Rule::Cycle),
                },
                "binds": binds,
                "barred_from": driver.barred_from.map(time),
                "may_drive_again_at": driver.may_drive_again_at.map(time),
                "violations": violations,
                "log_required": driver.log_required,
            })
        })
        .collect();
    json!({
        "study": "hours",
        "rule_book": rules.name,
        "cycle": rules.cycle.as_ref().map(|cycle| cycle.name()),
        "in_force": review.out_of_force.is_none(),
        "caution": CAUTION,
        "drivers": drivers,
    })
}

/// The answer for a terminal that is `width` columns wide.
pub fn terminal(review: &HoursReview, width: u16) -> String {
    let rules = &review.rules;
    let week = match &rules.cycle {
        Some(cycle) => format!(", weekly hours {}", cycle.name()),
        None => String::new(),
    };
    let mut text = String::new();
    let head = format!("Rule book {}: {}{week}", rules.name, rules.about);
    line(&mut text, width, head);
    if let Some((first, last)) = review.out_of_force {
        let from = rules.valid_from.map(|date| format!(" from {date}"));
        let to = rules.valid_to.map(|date| format!(" to {date}"));
        line(
            &mut text,
            width,
            format!(
                "Not in force on every date from {first} to {last}: this rule book holds{}{}",
                from.unwrap_or_default(),
                to.unwrap_or_default()
            ),
        );
    }
    for driver in &review.drivers {
        text += "\n";
        text += &one_driver(review, driver, width);
    }
    if rules.short_haul.is_some() {
        line(
            &mut text,
            width,
            "\nShort-haul: a log holds no distances; every truck is taken to stay within the radius.".into(),
        );
    }
    let without: Vec<String> = review
        .drivers
        .iter()
        .filter(|driver| !driver.has_history)
        .map(|driver| one_line(&driver.driver))
        .collect();
    if rules.cycle.is_some() && !without.is_empty() {
        line(
            &mut text,
            width,
            format!(
                "\nNo history before the log of {}: their weekly hours count from the log alone.",
                without.join(", ")
            ),
        );
    }
    line(&mut text, width, format!("\n{CAUTION}"));
    text
}

fn one_driver(review: &HoursReview, driver: &DriverHours, width: u16) -> String {
    let rules = &review.rules;
    let time = |at: Millis| shown(review, at);
    let binding = |rule: Option<Rule>| {
        rule.map_or(String::new(), |rule| {
            let (rule, citation) = law(rules, rule);
            format!(" by {rule} ({citation})")
        })
    };
    let mut text = String::new();
    let name = one_line(&driver.driver);
    let head = match (driver.may_drive_again_at, driver.barred_from) {
        _ if driver.left.bars() => format!(
            "may not drive{}, since {}; {}",
            binding(driver.binds),
            driver.barred_from.map_or("then".into(), time),
            match driver.may_drive_again_at {
                Some(again) => format!("again from {} if off duty until then", time(again)),
                None => "no rest within the next weeks opens it".into(),
            }
        ),
        (_, Some(until)) => {
            format!(
                "driving on is barred from {}{}",
                time(until),
                binding(driver.binds)
            )
        }
        (_, None) => "no clock bars driving".into(),
    };
    line(
        &mut text,
        width,
        format!("{name}, {}: {head}", time(driver.at)),
    );
    let mut table = Table::new(&[
        ("Clock", Align::Left),
        ("Left", Align::Right),
        ("Limit", Align::Left),
    ]);
    for (rule, what) in [
        (Rule::Driving, "driving"),
        (Rule::Window, "window"),
        (Rule::OnDuty, "on duty"),
        (Rule::Break, "before a break"),
        (Rule::Cycle, "weekly hours"),
    ] {
        if let Some(left) = driver.left.of(rule) {
            let (name, citation) = law(rules, rule);
            table.row([
                what.to_owned(),
                hours_minutes(left),
                format!("{name}, {citation}"),
            ]);
        }
    }
    text += &table.render(width);
    for violation in &driver.violations {
        let (rule, citation) = law(rules, violation.rule);
        line(
            &mut text,
            width,
            format!(
                "Driven beyond {rule} ({citation}): {} to {}, {}",
                time(violation.from),
                time(violation.to),
                hours_minutes(violation.to - violation.from)
            ),
        );
    }
    if driver.violations.is_empty() {
        line(
            &mut text,
            width,
            "Nothing was driven beyond a limit.".into(),
        );
    }
    if !driver.log_required {
        line(
            &mut text,
            width,
            "Short-haul: no record of duty status is needed for the last tour.".into(),
        );
    }
    if driver.no_rest_before {
        line(
            &mut text,
            width,
            "The history leaves no room for a full rest before the log: its last day counts as the same shift.".into(),
        );
    }
    text
}

/// A sentence, wrapped; a line end at its start stays.
fn line(text: &mut String, width: u16, sentence: String) {
    if sentence.starts_with('\n') {
        text.push('\n');
    }
    for line in wrap("", &sentence, usize::from(width)) {
        writeln!(text, "{line}").expect("writing to a string does not fail");
    }
}

fn law(rules: &RuleSet, rule: Rule) -> (&str, &str) {
    let law = rules.law(rule).expect("only rules of the book bind");
    (&law.rule, &law.citation)
}

fn whole_minutes(span: Millis) -> i64 {
    span.0.div_euclid(Millis::MINUTE.0)
}

/// `9 h 05 min`
fn hours_minutes(span: Millis) -> String {
    let minutes = whole_minutes(span);
    format!("{} h {:02} min", minutes / 60, minutes % 60)
}

fn civil(review: &HoursReview, at: Millis) -> DateTime {
    let midnight = review.first_date.at(0, 0, 0, 0);
    midnight.saturating_add(at.0.milliseconds())
}

fn iso(review: &HoursReview, at: Millis) -> String {
    let with_seconds = at.0 % Millis::MINUTE.0 != 0;
    let format = if with_seconds {
        "%Y-%m-%dT%H:%M:%S"
    } else {
        "%Y-%m-%dT%H:%M"
    };
    civil(review, at).strftime(format).to_string()
}

/// `Mon 2026-03-02 05:30`
fn shown(review: &HoursReview, at: Millis) -> String {
    civil(review, at).strftime("%a %Y-%m-%d %H:%M").to_string()
}
