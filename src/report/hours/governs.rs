//! What governs a driver at a moment: may drive or not, until when or from when again, by which limit.

use super::times::near;
use super::{hours, limit};
use crate::hours::review::Opening;
use crate::hours::{Allowance, BreakTrigger, Clock, DutyStatus};
use crate::report::rule_book::limit_name;
use crate::studies::{DriverHours, HoursReview};
use crate::units::Millis;

/// Whether the driver may drive, until when or from when again, and which limit says so.
pub(super) fn governs(review: &HoursReview, driver: &DriverHours) -> String {
    if driver.left.bars() {
        return barred(review, driver);
    }
    let (Some(until), Some(rule)) = (driver.barred_from, driver.binds) else {
        return "may drive; no limit of this rule book ends driving.".into();
    };
    let time = |at: Millis| near(review, driver.at, at);
    let mut says = format!(
        "may drive until {}: {}.",
        time(until),
        ends(review, driver, rule, until)
    );
    if let Some(after) = driver.after_break {
        says += &match after.by {
            Some(then) => format!(
                " With the break, until {}: {}.",
                time(after.until),
                ends(review, driver, then, after.until)
            ),
            None => " With the break no other limit ends driving.".into(),
        };
    }
    if let (Some(by), Some(exception)) = (short_haul_until(driver), &review.rules.short_haul) {
        says += &format!(
            " Short-haul holds if back and released by {} ({}).",
            time(by),
            exception.citation
        );
    }
    says
}

/// Until when the driver of a shift that is short-haul so far must be released for it to stay so.
pub(super) fn short_haul_until(driver: &DriverHours) -> Option<Millis> {
    let by = driver.release_by?;
    (by > driver.at && !driver.log_required).then_some(by)
}

/// What happens at the moment from which a limit bars driving: `the 14-hour window ends then (49 CFR 395.3(a)(2))`.
fn ends(review: &HoursReview, driver: &DriverHours, rule: Clock, until: Millis) -> String {
    let rules = &review.rules;
    let named = extended(review, driver, rule);
    let cited = cited(review, rule);
    match (rule, &rules.break_rule) {
        (Clock::Window, _) => format!("the {named} ends then{cited}"),
        (Clock::Driving, _) => {
            format!("{named} are used up then if driving goes on without a pause{cited}")
        }
        (Clock::OnDuty | Clock::Cycle, _) => format!("{named} are used up then{cited}"),
        (Clock::Break, Some(_)) if driver.release_by == Some(until) => {
            let short_haul = rules.short_haul.as_ref();
            let citation = short_haul.map_or("", |exception| &exception.citation);
            let within = rules.short_haul_release(&Allowance::default());
            let within = within.unwrap_or(Millis::ZERO);
            format!(
                "the short-haul exception ends then, {} hours after coming on duty ({citation}), and with it a {named} is \
                 due{cited}",
                hours(within)
            )
        }
        (Clock::Break, Some(break_rule)) => {
            let after = hours(break_rule.after);
            match break_rule.trigger {
                BreakTrigger::DrivingTime => {
                    format!("a {named} is due then, after {after} hours of driving{cited}")
                }
                BreakTrigger::ElapsedTime => {
                    format!(
                        "a {named} is due then, {after} hours after the last one or the start{cited}"
                    )
                }
            }
        }
        (Clock::Break, None) => format!("the {named} is due then{cited}"),
    }
}

/// The name of a limit; where an exception moves it, with what it is now and why.
fn extended(review: &HoursReview, driver: &DriverHours, rule: Clock) -> String {
    let rules = &review.rules;
    let name = limit_name(rules, rule);
    let mut extended = Vec::new();
    let usual = match rule {
        Clock::Window => rules.window.as_ref(),
        Clock::Driving => rules.driving.as_ref(),
        _ => None,
    };
    let Some(usual) = usual else {
        return name;
    };
    if let (Some(adverse), Some(_)) = (&rules.adverse, driver.allowance.adverse) {
        let more = match rule {
            Clock::Window => adverse.window,
            _ => adverse.driving,
        };
        let why = format!("adverse driving conditions, {}", adverse.citation);
        extended.push((usual.length + more, why));
    }
    if let (Some(long), true, Clock::Window) =
        (rules.long_day_window, driver.allowance.long_day, rule)
    {
        let why = "the longer window once a week, 49 CFR 395.1(o)";
        extended.push((long, why.to_owned()));
    }
    let longest = extended.into_iter().max_by_key(|(length, _)| *length);
    match longest.filter(|(length, _)| *length > usual.length) {
        Some((length, why)) => format!("{name}, extended to {} hours ({why}),", hours(length)),
        None => name,
    }
}

fn cited(review: &HoursReview, rule: Clock) -> String {
    let law = review.rules.law(rule);
    law.map_or(String::new(), |law| format!(" ({})", law.citation))
}

/// Why the driver may not drive, and from when again.
fn barred(review: &HoursReview, driver: &DriverHours) -> String {
    let rules = &review.rules;
    let time = |at: Millis| near(review, driver.at, at);
    // All limits: who reads of a break alone would think that half an hour is enough.
    let why: Vec<String> = driver
        .barred
        .iter()
        .map(|(clock, since)| {
            let over = match clock {
                Clock::Window => "ended",
                Clock::Break => "was due",
                Clock::Driving | Clock::OnDuty | Clock::Cycle => "were used up",
            };
            format!("the {} {over} at {}", limit(rules, *clock), time(*since))
        })
        .collect();
    let why = why.join("; ");
    let Some((again, opening)) = driver.opens else {
        return format!(
            "MAY NOT DRIVE: {why}. No rest within the next weeks makes driving legal again."
        );
    };
    let opened = match opening {
        Opening::Rest => format!("{} hours off duty end then", hours(rules.reset_rest)),
        Opening::Restart => {
            let length = rules
                .restart()
                .map_or(Millis::ZERO, |restart| restart.length);
            format!(
                "{} hours off duty end then and start the weekly hours again",
                hours(length)
            )
        }
        Opening::Break => format!("a {} ends then", limit_name(rules, Clock::Break)),
        Opening::Day => "a new day begins then, and hours of an earlier one no longer count".into(),
        Opening::Excuse => "the break is no longer put off then".into(),
    };
    format!(
        "MAY NOT DRIVE: {why}. May drive again from {} if off duty until then: {opened}.",
        time(again)
    )
}

/// That the status with which the log ends is taken to go on.
pub(super) fn goes_on(review: &HoursReview, driver: &DriverHours) -> Option<String> {
    let (status, since) = driver.goes_on?;
    let doing = match status {
        DutyStatus::Driving => "driving",
        DutyStatus::OnDuty => "on duty",
        DutyStatus::Waiting => "waiting with the truck",
        DutyStatus::RelievedWaiting => "waiting, relieved of the truck",
        DutyStatus::Riding => "riding along",
        DutyStatus::OffDuty => "off duty",
        DutyStatus::Sleeper => "in the sleeper berth",
    };
    Some(format!(
        "The last row of the log says {doing} until {}; taken as still {doing} since.",
        near(review, driver.at, since)
    ))
}
