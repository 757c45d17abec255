//! The details of a driver: violations, what is left on every clock, what was claimed, and what log and history leave open.

use super::governs::short_haul_until;
use super::times::{date, hours_minutes, near, shown};
use super::{CLOCKS, daily_law, hours, limit, why_not};
use crate::hours::review::{LostBy, LostShortHaul};
use crate::hours::{Allowance, Clock, Exception};
use crate::report::plain_text::one_line;
use crate::studies::{DriverHours, HoursReview};
use crate::units::Millis;

/// What was driven beyond a limit, and days with too little time off.
pub(super) fn violations(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let rules = &review.rules;
    let time = |at: Millis| shown(review, at);
    let driven = driver.violations.iter().map(|violation| {
        let past = match violation.rule {
            Clock::Break => "Drove without the",
            _ => "Drove past the",
        };
        let (from, to) = (violation.from, violation.to);
        let lost = driver.lost.iter().find(|tour| {
            violation.rule == Clock::Break && (tour.came_on_duty..tour.since).contains(&from)
        });
        let lost = lost.map_or(String::new(), |tour| {
            let since = near(review, from, tour.since);
            format!(" The short-haul exception was lost only at {since}: see the guidance below.")
        });
        let assumed = match driver.goes_on {
            Some((_, ends)) if to > ends => {
                " The last row of the log ends before: taken as still driving."
            }
            _ => "",
        };
        format!(
            "{past} {}: {} to {}, {}.{assumed}{lost}",
            limit(rules, violation.rule),
            time(from),
            near(review, from, to),
            hours_minutes(to - from)
        )
    });
    let short_days = driver.short_days.iter().map(|day| {
        let (_, citation) = daily_law(rules);
        let needed = rules.daily_off_duty.as_ref();
        format!(
            "Too little time off ({citation}): {} in the day from {}, {} needed.",
            hours_minutes(day.off_duty),
            time(day.from),
            hours_minutes(needed.map_or(Millis::ZERO, |needed| needed.length))
        )
    });
    driven.chain(short_days).collect()
}

/// What is left on every clock that the book has.
pub(super) fn clocks(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let left = CLOCKS.into_iter().filter_map(|(rule, what)| {
        let left = driver.left.of(rule)?;
        Some(format!(
            "{what}: {} left; {}",
            hours_minutes(left),
            limit(&review.rules, rule)
        ))
    });
    left.collect()
}

/// Shifts that lost the short-haul exception of which each is told.
const LOST_TOLD: usize = 3;

/// What was claimed, how it stands with the short-haul exception, and what the log and the history leave open.
pub(super) fn said(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let mut said = exceptions(review, driver);
    let earlier = driver.lost.len().saturating_sub(LOST_TOLD);
    if earlier > 0 {
        said.push(format!(
            "The short-haul exception was lost in {} shifts; --json lists all, here the last {LOST_TOLD}.",
            driver.lost.len()
        ));
    }
    let last = driver.lost.iter().skip(earlier);
    said.extend(last.map(|tour| lost(review, tour)));
    if !driver.log_required {
        said.push("Short-haul: no record of duty status is needed for the last shift.".into());
    }
    if short_haul_until(driver).is_some() {
        said.push(
            "If the driver is not back and released in time, a record of duty status and the break rule apply from then."
                .into(),
        );
    }
    if driver.no_rest_before {
        said.push(
            "The history leaves no room for a full rest before the log: its last day counts as the same shift.".into(),
        );
    }
    if !driver.missing.is_empty() {
        let days = driver.missing.iter().map(|day| date(review, *day));
        said.push(format!(
            "The history says nothing of {}: taken as no hours on duty, so that less may be left of the weekly hours than shown. \
             A day off is written as 0 hours.",
            days.collect::<Vec<_>>().join(", ")
        ));
    }
    said
}

/// Since when and why a shift was no longer short-haul, and what follows.
fn lost(review: &HoursReview, tour: &LostShortHaul) -> String {
    let rules = &review.rules;
    let Some(exception) = &rules.short_haul else {
        return String::new();
    };
    let within = rules.short_haul_release(&Allowance::default());
    let within = within.unwrap_or(Millis::ZERO);
    let began = near(review, tour.since, tour.came_on_duty);
    let why = match tour.by {
        LostBy::ReleasedLate => format!(
            "not released within {} hours of coming on duty at {began}",
            hours(within)
        ),
        LostBy::DroveTooLong => {
            let limit = rules.driving.as_ref();
            let limit = limit.map_or(Millis::ZERO, |limit| limit.length);
            format!(
                "driven for more than {} hours in the shift begun at {began}",
                hours(limit)
            )
        }
        LostBy::LeftRadius => format!("left the radius in the shift begun at {began}"),
    };
    let break_rule = match rules.law(Clock::Break) {
        Some(law) => format!(" and the break rule applies ({})", law.citation),
        None => String::new(),
    };
    format!(
        "Short-haul exception lost {}: {why} ({}). From then a record of duty status is needed for that day (49 CFR 395.8){break_rule}.",
        shown(review, tour.since),
        exception.citation
    )
}

/// Exceptions that are claimed, and those that may apply.
fn exceptions(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let adverse = review.rules.adverse.as_ref();
    let adverse = adverse.map_or("", |adverse| &adverse.citation);
    let claimed = driver.claims.iter().map(|judged| {
        let from = shown(review, judged.claim.from);
        let what = match judged.claim.what {
            Exception::LongDay => "The longer window once a week (49 CFR 395.1(o))",
            Exception::Adverse => "Adverse driving conditions",
        };
        let says = match (judged.refused, judged.claim.what) {
            (Some(why), _) => format!("does not hold: {}", why_not(review, why)),
            (None, Exception::LongDay) => {
                "taken as said: this shift and the last five ended at the normal work reporting location".into()
            }
            (None, Exception::Adverse) => format!(
                "taken as said ({adverse}): nobody could know of them, and the run would have fitted without. A late pour, waiting to \
                 load or unload, rush hour and one's own breakdown are none"
            ),
        };
        format!("{what}, claimed {from}: {says}.")
    });
    let possible = driver.may_apply.iter().map(|what| match what {
        Exception::LongDay => format!(
            "49 CFR 395.1(o) may apply: a window of {} once a week, if the last five shifts and this one ended at the normal work \
             reporting location. If so, write long_day in the column exception.",
            hours_minutes(review.rules.long_day_window.unwrap_or(Millis::ZERO))
        ),
        Exception::Adverse => format!(
            "Weather or an unusual condition of road or traffic that nobody could know of may extend the limit ({adverse}); a late pour, \
             waiting to load or unload and rush hour never do. If so, write adverse in the column exception."
        ),
    });
    claimed.chain(possible).collect()
}

/// The guidance for shifts that were to be short-haul, as far as it is about the break. 78 FR 76757 (19 December 2013), read in a
/// reprint; that it was not issued anew for the break rule of 2020 is as far as is known.
const GUIDANCE: &str = "Short-haul lost: the whole shift is judged by the ordinary break rule, which is the careful reading. Guidance to \
49 CFR 395.1, question 33 (78 FR 76757, 2013, written for the break rule of then): whoever exceeds the exception for unforeseen reasons \
when the break was already due is not in violation of the break rule; the driver notes in the record why the break was not taken earlier \
and takes it at the earliest safe opportunity.";

/// Which clock counts, and when it was changed.
fn clock(review: &HoursReview) -> String {
    let Some(zone) = review.time.zone() else {
        return "No time zone is given: the clock is taken never to be changed (--zone, or a column zone in the log).".into();
    };
    let changes = review.clock_changes.iter().map(|(at, forward)| {
        let way = match *forward < Millis::ZERO {
            true => "back",
            false => "forward",
        };
        let length = hours_minutes(Millis(forward.0.abs()));
        let day = review.time.civil(*at).strftime("%a %Y-%m-%d");
        format!("{way} by {length} on {day}")
    });
    let changes: Vec<String> = changes.collect();
    let changed = match changes.as_slice() {
        [] => "it was not changed within the log".into(),
        some => format!("it went {}", some.join(", ")),
    };
    format!(
        "Times are those of {}. A night on which the clock is changed counts its real hours; {changed}.",
        zone.name()
    )
}

/// What holds for all drivers.
pub(super) fn notes(review: &HoursReview) -> Vec<String> {
    let rules = &review.rules;
    let mut notes = Vec::new();
    if let Some((first, last)) = review.out_of_force {
        let from = rules.valid_from.map(|date| format!(" from {date}"));
        let to = rules.valid_to.map(|date| format!(" to {date}"));
        notes.push(format!(
            "Not in force on every date from {first} to {last}: this rule book holds{}{}.",
            from.unwrap_or_default(),
            to.unwrap_or_default()
        ));
    }
    if !review.not_yet.is_empty() {
        let names: Vec<String> = review.not_yet.iter().map(|name| one_line(name)).collect();
        let (log, begins) = match names.len() {
            1 => ("log", "begins"),
            _ => ("logs", "begin"),
        };
        notes.push(format!(
            "Not judged: the {log} of {} {begins} after that moment.",
            names.join(", ")
        ));
    }
    if !rules.left_out.is_empty() {
        notes.push(format!("Not in this rule book: {}.", rules.left_out));
    }
    if rules.short_haul.is_some() {
        notes.push(
            "Short-haul: a log holds no distances; every truck is taken to stay within the radius."
                .into(),
        );
    }
    notes.push(clock(review));
    let drivers = || review.drivers.iter();
    if rules.break_rule.is_some() && drivers().any(|driver| !driver.lost.is_empty()) {
        notes.push(GUIDANCE.into());
    }
    if review.has_sleeper {
        notes.push(
            "Time in a sleeper berth counts as rest; a rest split into two periods (49 CFR 395.1(g)) is not judged."
                .into(),
        );
    }
    let without = drivers().filter(|driver| !driver.has_history);
    let without: Vec<String> = without.map(|driver| one_line(&driver.driver)).collect();
    if rules.cycle.is_some() && !without.is_empty() {
        let whose = match without.len() {
            few if few <= 4 || few < review.drivers.len() => without.join(", "),
            all => format!("any of the {all} drivers"),
        };
        notes.push(format!(
            "No history before the log of {whose}: their weekly hours count from the log alone."
        ));
    }
    notes
}
