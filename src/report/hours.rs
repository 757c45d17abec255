//! Drivers' hours for people and for programs.

use jiff::ToSpan;
use jiff::civil::DateTime;
use serde_json::{Value, json};
use std::fmt::Write;

use super::plain_text::one_line;
use super::table::{Align, Table};
use super::wrap::wrap;
use crate::hours::{Clock, Exception, Refused, RuleSet};
use crate::studies::{DriverHours, HoursReview};
use crate::units::Millis;

/// Said with every answer.
pub const CAUTION: &str = "A planning aid, no permission: the rules in force at the place and the carrier's own record \
decide. A driver who is ill or tired does not drive, whatever is left.";

/// The answer as one JSON object, times as local civil times without zone:
///
/// ```text
/// {"study": "hours", "rule_book", "cycle", "in_force": true | false, "caution", "left_out", "not_yet": ["driver"],
///  "drivers": [{"driver", "at",
///    "clocks": {"drive_left_min", "window_left_min", "on_duty_left_min", "break_left_min", "cycle_left_min"},
///    "binds": {"rule", "citation"}, "barred_from", "may_drive_again_at",
///    "violations": [{"rule", "citation", "from", "to"}], "days_short": [{"rule", "citation", "from", "to", "off_duty_min"}],
///    "exceptions": [{"exception": "long_day" | "adverse", "from", "holds": true | false, "why_not"}],
///    "may_apply": ["long_day" | "adverse"], "log_required", "history_missing": ["2026-03-01"]}]}
/// ```
///
/// Minutes are whole, rounded down. A clock that the rule book does not have is `null`, as is `may_drive_again_at` when driving
/// is not barred at `at`, and `binds` and `barred_from` when nothing bars it. `barred_from` is the moment from which driving
/// is barred if the driver drives on without a pause; if it is barred at `at`, the moment since when. `days_short` are carrier
/// days with less time off duty than the book asks for. `exceptions` are those that the log claims; `may_apply` names those that
/// it does not claim and that might cover a violation. `history_missing` are days that the weekly hours look at and that the
/// history, if there is one, leaves out: they count as no hours. `left_out` says what else the law asks, which the book does not
/// hold; `not_yet` names drivers whose log begins after the moment that is asked about.
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
            json!({
                "driver": driver.driver,
                "at": time(driver.at),
                "clocks": {
                    "drive_left_min": left(Clock::Driving),
                    "window_left_min": left(Clock::Window),
                    "on_duty_left_min": left(Clock::OnDuty),
                    "break_left_min": left(Clock::Break),
                    "cycle_left_min": left(Clock::Cycle),
                },
                "binds": binds,
                "barred_from": driver.barred_from.map(time),
                "may_drive_again_at": driver.may_drive_again_at.map(time),
                "violations": violations,
                "days_short": days_short,
                "exceptions": exceptions,
                "may_apply": may_apply,
                "log_required": driver.log_required,
                "history_missing": missing,
            })
        })
        .collect();
    json!({
        "study": "hours",
        "rule_book": rules.name,
        "cycle": rules.cycle.as_ref().map(|cycle| cycle.name()),
        "in_force": review.out_of_force.is_none(),
        "caution": CAUTION,
        "left_out": Some(&rules.left_out).filter(|words| !words.is_empty()),
        "not_yet": review.not_yet,
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
    if !review.not_yet.is_empty() {
        let names: Vec<String> = review.not_yet.iter().map(|name| one_line(name)).collect();
        let log = if names.len() == 1 { "log" } else { "logs" };
        line(
            &mut text,
            width,
            format!(
                "\nNot judged: the {log} of {} begin{} after that moment.",
                names.join(", "),
                if names.len() == 1 { "s" } else { "" }
            ),
        );
    }
    if !rules.left_out.is_empty() {
        line(
            &mut text,
            width,
            format!("\nNot in this rule book: {}.", rules.left_out),
        );
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
    let binding = |rule: Option<Clock>| {
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
        (Clock::Driving, "driving"),
        (Clock::Window, "window"),
        (Clock::OnDuty, "on duty"),
        (Clock::Break, "before a break"),
        (Clock::Cycle, "weekly hours"),
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
    for day in &driver.short_days {
        let (rule, citation) = daily_law(rules);
        let needed = rules.daily_off_duty.as_ref();
        line(
            &mut text,
            width,
            format!(
                "Too little time off, {rule} ({citation}): {} in the day from {}, {} needed",
                hours_minutes(day.off_duty),
                time(day.from),
                hours_minutes(needed.map_or(Millis::ZERO, |needed| needed.length))
            ),
        );
    }
    text += &exceptions(review, driver, width);
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
    if !driver.missing.is_empty() {
        let days: Vec<String> = driver
            .missing
            .iter()
            .map(|day| date(review, *day))
            .collect();
        line(
            &mut text,
            width,
            format!(
                "The history says nothing of {}: taken as no hours on duty, so that less may be left of the weekly hours than shown. \
                 A day off is written as 0 hours.",
                days.join(", ")
            ),
        );
    }
    text
}

/// Exceptions that are claimed, and those that may apply.
fn exceptions(review: &HoursReview, driver: &DriverHours, width: u16) -> String {
    let mut text = String::new();
    for judged in &driver.claims {
        let from = shown(review, judged.claim.from);
        let what = match judged.claim.what {
            Exception::LongDay => "The longer window once a week (49 CFR 395.1(o))",
            Exception::Adverse => "Adverse driving conditions",
        };
        let says = match (judged.refused, judged.claim.what) {
            (Some(why), _) => format!("does not hold: {}", why_not(review, why)),
            (None, Exception::LongDay) => {
                "taken as said: this tour and the last five ended at the normal work reporting location".into()
            }
            (None, Exception::Adverse) => format!(
                "taken as said ({}): nobody could know of them, and the run would have fitted without. A late pour, waiting to \
                 load or unload, rush hour and one's own breakdown are none",
                review.rules.adverse.as_ref().map_or("", |adverse| &adverse.citation)
            ),
        };
        line(&mut text, width, format!("{what}, claimed {from}: {says}."));
    }
    for what in &driver.may_apply {
        let says = match what {
            Exception::LongDay => format!(
                "49 CFR 395.1(o) may apply: a window of {} once a week, if the last five tours and this one ended at the normal work \
                 reporting location. If so, write long_day in the column exception.",
                hours_minutes(review.rules.long_day_window.unwrap_or(Millis::ZERO))
            ),
            Exception::Adverse => format!(
                "Weather or an unusual condition of road or traffic that nobody could know of may extend the limit ({}); a late pour, \
                 waiting to load or unload and rush hour never do. If so, write adverse in the column exception.",
                review
                    .rules
                    .adverse
                    .as_ref()
                    .map_or("", |adverse| &adverse.citation)
            ),
        };
        line(&mut text, width, says);
    }
    text
}

fn why_not(review: &HoursReview, why: Refused) -> String {
    match why {
        Refused::NotInBook => "the rule book has no such exception".into(),
        Refused::NoTour => "the driver was not on a tour then".into(),
        Refused::ReleasedLate => "released too late, so the ordinary window held all day".into(),
        Refused::UsedOn(day) => format!(
            "used on {} already, within the six days before",
            date(review, day)
        ),
    }
}

fn daily_law(rules: &RuleSet) -> (&str, &str) {
    let limit = rules.daily_off_duty.as_ref();
    limit.map_or(("", ""), |limit| (&limit.law.rule, &limit.law.citation))
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

fn law(rules: &RuleSet, rule: Clock) -> (&str, &str) {
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

/// `2026-03-02`, a day counted from the first date.
fn date(review: &HoursReview, day: i64) -> String {
    civil(review, Millis::midnight(day)).date().to_string()
}

/// `Mon 2026-03-02 05:30`
fn shown(review: &HoursReview, at: Millis) -> String {
    civil(review, at).strftime("%a %Y-%m-%d %H:%M").to_string()
}
