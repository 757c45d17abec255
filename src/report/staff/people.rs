//! Hired haulers, absence and hours paid for nothing, in sentences.

use super::sentences::{drivers, less};
use crate::observe::CostPart;
use crate::report::number::{Unit, money, number};
use crate::report::period::per;
use crate::statistics::{Estimate, Interval};
use crate::studies::{Absence, HaulerCase, OneMore, StaffAnswer, StaffResult, Staffing};

/// `2 hired haulers`.
pub(super) fn haulers(n: u32) -> String {
    format!("{n} hired hauler{}", if n == 1 { "" } else { "s" })
}

/// `34 drivers, 4 of them part time (5 h), and 2 hired haulers`.
pub(super) fn who(staffing: Staffing) -> String {
    let mut text = drivers(staffing.drivers);
    let (hired, part_time) = (staffing.hired.haulers, staffing.part_time);
    if part_time.drivers > 0 {
        let hours = number(part_time.shift.hours(), 1);
        text += &format!(
            " ({} of them part time, {} h)",
            part_time.drivers,
            hours.trim_end_matches(".0")
        );
    }
    if hired > 0 {
        text += &format!(" and {}", haulers(hired));
    }
    text
}

/// What one driver more, one hauler more, and nobody more cost, and which is the cheapest.
pub(super) fn hired(answer: &StaffAnswer) -> Vec<String> {
    let (Some(case), Some(hire)) = (&answer.haulers, &answer.more) else {
        return Vec::new();
    };
    let price = format!(
        "{} an hour, at least {} h a day called",
        money(case.terms.per_h.units()),
        number(case.terms.least.hours(), 1).trim_end_matches(".0")
    );
    let beyond = match answer.question.hire_per_week {
        Some(_) => "",
        None => " without benefits and training",
    };
    let first = format!(
        "Overtime, a hire or a hired hauler: {}. One more hire costs {}{beyond}, one more hauler ({price}) {}.",
        cheapest(answer, case, hire),
        more(hire, answer.days),
        more(&case.more, answer.days)
    );
    [Some(first), against(answer, case)]
        .into_iter()
        .flatten()
        .collect()
}

/// Which of the three ways is the cheapest, as far as it is shown.
fn cheapest(answer: &StaffAnswer, case: &HaulerCase, hire: &OneMore) -> &'static str {
    let costs = |of: &OneMore| of.cost.1.low > 0.0;
    let pays = |of: &OneMore| of.cost.1.high < 0.0;
    match (pays(hire), pays(&case.more)) {
        (true, true) => {
            // Against each other, what is asked for a hire counted.
            let asked = answer.question.hire_per_week.unwrap_or(0.0) * answer.weeks();
            let (mean, interval) = case.hire_saves;
            let shown = interval.low > asked || interval.high < asked;
            match (shown, mean > asked) {
                (false, _) => "both pay, a hire and a hauler, too close to call between them",
                (true, true) => "both pay, a hire the more",
                (true, false) => "both pay, a hauler the more",
            }
        }
        (true, false) => "a hire is the cheapest",
        (false, true) => "a hauler is the cheapest",
        (false, false) if costs(hire) && costs(&case.more) => {
            "overtime is the cheapest, with nobody more"
        }
        (false, false) => "too close to call",
    }
}

/// `$1,200 a week more ($900 to $1,500)`.
fn more(one: &OneMore, days: u32) -> String {
    let (cost, interval) = one.cost;
    let saved = Estimate {
        mean: Some(-cost),
        interval: interval.negated(),
    };
    let (amount, ends) = split(&less(&saved));
    format!("{amount} {}{ends}", per(days))
}

/// `$5 more`, and ` ($4 to $6)`.
fn split(text: &str) -> (String, String) {
    match text.split_once(" (") {
        Some((amount, ends)) => (amount.to_owned(), format!(" ({ends}")),
        None => (text.to_owned(), String::new()),
    }
}

/// From how many days a week on a hire pays against a hauler.
fn against(answer: &StaffAnswer, case: &HaulerCase) -> Option<String> {
    if case.days <= 0.0 {
        return Some("One more hauler would hardly be called.".into());
    }
    let weeks = answer.weeks();
    let called = format!(
        "One more hauler is called on {} days a week, {} h",
        number(case.days, 1),
        number(case.hours, 1)
    );
    let (saves, interval) = (case.hire_saves.0 / weeks, case.hire_saves.1);
    let interval = Interval {
        low: interval.low / weeks,
        high: interval.high / weeks,
    };
    if saves <= 0.0 {
        return Some(format!(
            "{called}; a hire in the same place costs {} a week more before benefits and training, so that no number of days makes a hire pay \
             against a hauler.",
            money(-saves)
        ));
    }
    let amounts = format!(
        "{called}; a hire in the same place costs {} a week less before benefits and training{}",
        money(saves),
        match interval.excludes_zero() {
            true => "",
            false => " (not shown yet)",
        }
    );
    Some(match answer.question.hire_per_week {
        None => format!("{amounts}: against a hauler a hire pays while these cost less."),
        Some(asked) => {
            let days = answer.hire_pays_from()?;
            format!(
                "{amounts}. At {} a week for these a hire pays against a hauler from {} days ({} h) a week on.",
                money(asked),
                number(days, 1),
                number(days * case.hours_a_day(), 1)
            )
        }
    })
}

/// How many must be on the books, and what absence costs.
pub(super) fn absence(answer: &StaffAnswer) -> Vec<String> {
    let Some(absence) = &answer.absence else {
        return Vec::new();
    };
    vec![cover(absence), costs(answer, absence)]
}

fn cover(absence: &Absence) -> String {
    let sure = match absence.books_for_sure {
        Some(books) => format!(", {books} for as many on 19 days of 20"),
        None => String::new(),
    };
    format!(
        "On the books and on the road: on {} of driver days nobody comes, so that {} on the road on average need {} on the books{sure}.",
        Unit::Share.show(1.0 - absence.comes, 1),
        drivers(absence.road),
        absence.books_on_average
    )
}

fn costs(answer: &StaffAnswer, absence: &Absence) -> String {
    let saved = Estimate {
        mean: absence.costs.mean.map(|mean| -mean),
        interval: absence.costs.interval.negated(),
    };
    let (amount, ends) = split(&less(&saved));
    format!(
        "With days off and empty seats ({} driver days {}) the staffing costs {amount} {}{ends} than on the same days with everybody there.",
        number(absence.days_off, 1),
        per(answer.days),
        per(answer.days),
    )
}

/// Hours that are paid and not worked.
pub(super) fn not_worked(answer: &StaffAnswer) -> Option<String> {
    let words = |result: &StaffResult| {
        let hours = result.unworked_h.mean.unwrap_or(0.0);
        let pay = result.parts[CostPart::Unworked as usize];
        format!("{} h ({})", number(hours, 1), money(pay))
    };
    let best = &answer.results[answer.best?];
    let today = answer.todays()?;
    // A hundredth of the paid hours is worth a sentence.
    let some = |result: &StaffResult| {
        let paid = result.paid_h.mean.unwrap_or(0.0);
        result
            .unworked_h
            .mean
            .is_some_and(|hours| hours > 0.01 * paid)
    };
    (some(best) || some(today)).then(|| {
        let todays = match best.staffing == today.staffing {
            true => String::new(),
            false => format!(", today {}", words(today)),
        };
        format!(
            "Paid and not worked (guaranteed hours, short shifts): {} {}{todays}.",
            words(best),
            per(answer.days)
        )
    })
}

/// How to read what is said of haulers, part-timers and absence, where they are asked about.
pub(super) fn notes(answer: &StaffAnswer) -> Vec<String> {
    let mut notes: Vec<&str> = Vec::new();
    if answer.question.hauler.is_some() {
        notes.push(
            "Hired haulers bring their trucks and are paid for the hours on duty of each day called, and no fewer than the least; fuel and wear \
             are in the price, and there is no payroll tax, overtime or premium on it. Each has the shift of an own driver of the plant; where \
             drivers are called, own drivers are called first. Whether somebody may be hired so is for local law and licensed practice.",
        );
    }
    if !answer.question.part_time.0.is_empty() {
        notes.push(
            "Part time: so many of the drivers who have a truck to themselves work the short shift, ready when the busiest hours of the order \
             book on their weekdays begin, and are paid as worked and as guaranteed.",
        );
    }
    if answer.absence.is_some() {
        notes.push(
            "Days off are drawn for each driver and day, empty seats for each driver for the whole period, the same for every staffing; they are \
             known beforehand, so that others are called, and are not paid in it. On the books for 19 days of 20: each comes or not whatever \
             the others do (binomial).",
        );
    }
    notes.into_iter().map(str::to_owned).collect()
}
