//! What was found about staffing, in sentences.

use crate::dispatch::Shift;
use crate::report::number::{Unit, count, money, number};
use crate::scenario::edit::roster::OvertimeUse;
use crate::studies::{Estimate, StaffAnswer, StaffResult, Staffing};

/// What "matched" means.
pub(super) const MATCHED: &str = "Starts are those of a rule's shift. Matched: each evening drivers are called for the next day's \
orders as far as they are known, each load counted at the nearest open plant that makes its mix, on an empty road, from its send time until \
the truck is back; matched:1 calls one more than needed at each plant, and who is not needed is not called.";

/// `34 drivers, starts matched, overtime as rostered`.
pub(super) fn staffing(staffing: Staffing) -> String {
    let starts = match staffing.starts {
        Shift::Rostered => "as rostered".into(),
        Shift::Staggered { minutes: None } => "staggered".into(),
        Shift::Staggered {
            minutes: Some(minutes),
        } => format!("{} min apart", number(minutes, 0)),
        Shift::Matched { spare: 0 } => "matched to the order book".into(),
        Shift::Matched { spare } => format!("matched to the order book with {spare} spare"),
    };
    let overtime = match staffing.overtime {
        OvertimeUse::None => "no planned overtime",
        OvertimeUse::Rostered => "tours as rostered",
        OvertimeUse::Longer => "tours two hours longer",
    };
    format!("{} drivers, starts {starts}, {overtime}", staffing.drivers)
}

/// How the answer is written into the scenario.
pub(super) fn written(answer: &StaffAnswer) -> Option<String> {
    let staffing = answer.results[answer.best?].staffing;
    let tours = match staffing.overtime {
        OvertimeUse::None => ", shift_h no longer than the hours at regular pay",
        OvertimeUse::Rostered => "",
        OvertimeUse::Longer => ", shift_h two hours longer",
    };
    Some(format!(
        "In the scenario that is the rule \"{}\" with shift: {}, and a roster of {} drivers{tours}.",
        answer.rule,
        staffing.starts.written(),
        staffing.drivers
    ))
}

pub(super) fn period(days: u32) -> String {
    if days == 1 {
        "a day".into()
    } else {
        format!("in {days} days")
    }
}

pub(super) fn share(estimate: &Estimate) -> String {
    estimate.mean.map_or("–".into(), |mean| {
        Unit::Share.show(mean, if mean < 0.01 { 2 } else { 1 })
    })
}

pub(super) fn dollars(estimate: &Estimate) -> String {
    estimate.mean.map_or("–".into(), money)
}

fn targets(answer: &StaffAnswer) -> String {
    let asked = &answer.question;
    let stranded = asked.stranded.map_or(String::new(), |most| {
        format!(", at most {most} drivers stranded {}", period(answer.days))
    });
    format!(
        "at most {} of loads late and {} undelivered{stranded}",
        Unit::Share.show(asked.late_share, 1),
        Unit::Share.show(asked.undelivered, 2)
    )
}

/// The decision, first of all that is said.
pub fn decision(answer: &StaffAnswer) -> String {
    let Some(best) = answer.best.map(|at| &answer.results[at]) else {
        if answer.stopped {
            return "Stopped before the final answer: no staffing can be recommended yet.".into();
        }
        let tried = answer.results.iter().filter(|result| result.is_final);
        let nearest = tried.reduce(|best, next| {
            let late = |result: &StaffResult| result.late_share.mean.unwrap_or(1.0);
            if late(next) < late(best) { next } else { best }
        });
        return format!(
            "No staffing tried meets the service targets ({}) with {:.0} % confidence{}.",
            targets(answer),
            answer.question.level * 100.0,
            nearest.map_or(String::new(), |result| format!(
                ": nearest is {}, with {} late and {} undelivered",
                staffing(result.staffing),
                share(&result.late_share),
                share(&result.undelivered)
            ))
        );
    };
    let against = answer.todays().map_or(String::new(), |today| {
        if today.staffing == best.staffing {
            return ", which is today's staffing".into();
        }
        let meets = if today.meets {
            "meets them too"
        } else {
            "does not meet them"
        };
        match (today.cost.mean, best.cost.mean) {
            (Some(now), Some(then)) => format!(
                ", {} {} than today's {} drivers, which {meets}",
                money((now - then).abs()),
                if then < now { "less" } else { "more" },
                today.staffing.drivers
            ),
            _ => String::new(),
        }
    });
    format!(
        "Staff with {}: the cheapest tried that meets the service targets, {} {}{against}. {} of loads are late, {} undelivered.",
        staffing(best.staffing),
        dollars(&best.cost),
        period(answer.days),
        share(&best.late_share),
        share(&best.undelivered),
    )
}

/// What one driver less or more changes.
pub(super) fn one_more(answer: &StaffAnswer) -> Vec<String> {
    let word = |what: &str, one: &crate::studies::OneMore| {
        let (cost, interval) = one.cost;
        let decimals = 0;
        format!(
            "One driver {what}: {} {} ({} to {}), {} late, {} undelivered, {} h of overtime{}.",
            Unit::Money.show_difference(cost, decimals),
            period(answer.days),
            Unit::Money.show_difference(interval.low, decimals),
            Unit::Money.show_difference(interval.high, decimals),
            share(&one.result.late_share),
            share(&one.result.undelivered),
            Unit::Plain.show_difference(one.overtime_h, 1),
            if one.result.meets {
                ""
            } else {
                "; the targets are then missed"
            }
        )
    };
    let less = answer.less.as_ref().map(|one| word("less", one));
    less.into_iter()
        .chain(answer.more.as_ref().map(|one| word("more", one)))
        .collect()
}

/// Overtime against a hire.
pub(super) fn hire(answer: &StaffAnswer) -> Option<String> {
    let (even, interval) = answer.break_even()?;
    let more = answer.more.as_ref()?;
    let overtime = -more.overtime_h / answer.weeks();
    let start = if even <= 0.0 {
        format!(
            "Overtime or a hire: another driver does not pay even before the fixed cost of a hire; it adds {} a week",
            money(-even)
        )
    } else {
        format!(
            "Overtime or a hire: another driver pays while the hire costs less than {} a week beyond the hours worked",
            money(even)
        )
    };
    let saved = if overtime >= 0.0 {
        format!("takes {} h of overtime away", number(overtime, 1))
    } else {
        format!("adds {} h of overtime", number(-overtime, 1))
    };
    let asked = answer.question.hire_per_week.map_or(String::new(), |cost| {
        let verdict = if interval.low > cost {
            "hire"
        } else if interval.high < cost {
            "keep to overtime"
        } else {
            "not told apart"
        };
        format!(" At {} a week: {verdict}.", money(cost))
    });
    Some(format!(
        "{start} ({:.0} % interval {} to {}, a week) and {saved}.{asked}",
        answer.question.level * 100.0,
        money(interval.low),
        money(interval.high)
    ))
}

/// One sentence for the growing order book.
pub(super) fn growth(answer: &StaffAnswer) -> Option<String> {
    let parts: Vec<String> = answer
        .grown
        .iter()
        .map(|grown| {
            let fewest = match &grown.fewest {
                Some(result) => format!("{} drivers", result.staffing.drivers),
                None => "more than were tried".into(),
            };
            format!("+{} % {fewest}", number(grown.per_cent, 0))
        })
        .collect();
    (!parts.is_empty()).then(|| format!("A growing order book needs: {}.", parts.join(", ")))
}

/// On what the answer rests.
pub(super) fn sureness(answer: &StaffAnswer) -> String {
    format!(
        "Targets: {}, by one-sided {:.0} % bounds. Rule \"{}\", seed {}. {} staffings searched on {} replications each, the answer on \
         {} others.{}",
        targets(answer),
        answer.question.level * 100.0,
        answer.rule,
        answer.question.seed,
        answer.results.len(),
        count(answer.searched),
        count(answer.question.replications),
        if answer.stopped {
            " Stopped before all were done."
        } else {
            ""
        }
    )
}
