//! What was found about staffing, in sentences.

use super::{people, shown};
use crate::dispatch::Shift;
use crate::report::number::{Unit, count, level, money, number, range};
use crate::report::period::{per, runs};
use crate::scenario::edit::roster::OvertimeUse;
use crate::studies::{Estimate, Shown, StaffAnswer, StaffResult, Staffing, StaffingPart};

/// `34 drivers, start times to demand, overtime as scheduled`.
pub(super) fn staffing(staffing: Staffing) -> String {
    let overtime = match staffing.overtime {
        OvertimeUse::None => "no planned overtime".to_owned(),
        other => format!("overtime {}", overtime(other)),
    };
    let spare = staffing.starts.spare().filter(|spare| *spare > 0);
    let starts = spare.map_or_else(
        || starts(staffing.starts),
        |spare| format!("to demand with {spare} spare"),
    );
    format!(
        "{}, start times {starts}, {overtime}",
        people::who(staffing)
    )
}

/// `1 driver`, `34 drivers`.
pub(super) fn drivers(n: u32) -> String {
    format!("{n} driver{}", if n == 1 { "" } else { "s" })
}

/// When drivers start: `as scheduled`, `staggered`, `to demand`, `to demand +1` with a spare driver at each plant.
pub(super) fn starts(starts: Shift) -> String {
    match starts {
        Shift::Rostered => "as scheduled".into(),
        Shift::Staggered { minutes: None } => "staggered".into(),
        Shift::Staggered {
            minutes: Some(minutes),
        } => format!("{} min apart", number(minutes, 0)),
        Shift::Matched { spare: 0 } => "to demand".into(),
        Shift::Matched { spare } => format!("to demand +{spare}"),
    }
}

/// How much overtime is planned: `none`, `as scheduled`, `2 h more`.
pub(super) fn overtime(overtime: OvertimeUse) -> &'static str {
    match overtime {
        OvertimeUse::None => "none",
        OvertimeUse::Rostered => "as scheduled",
        OvertimeUse::Longer => "2 h more",
    }
}

/// How the answer is written into the scenario.
pub(super) fn written(answer: &StaffAnswer) -> Option<String> {
    let staffing = answer.results[answer.best?].staffing;
    let more = staffing.drivers > answer.today.drivers || staffing.hired.terms.is_some();
    let trucks = match more {
        true => ", with a truck more for each driver more (added-trucks.csv)",
        false => "",
    };
    Some(format!(
        "In the scenario {} the rule \"{}\" with shift: {}, and drivers: Table(\"roster.csv\"){trucks}.",
        match answer.shown() {
            Some(Shown::NotYet { .. }) => "the cheapest is",
            _ => "that is",
        },
        answer.rule,
        staffing.starts.written(),
    ))
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
        format!(", at most {most} drivers stranded {}", per(answer.days))
    });
    format!(
        "at most {} of loads late and {} undelivered{stranded}",
        Unit::Share.show(asked.late_share, 1),
        Unit::Share.show(asked.undelivered, 2)
    )
}

/// The decision, first of all that is said.
pub(super) fn decision(answer: &StaffAnswer) -> String {
    if let Some(year) = &answer.year {
        return super::year::decision(answer, year);
    }
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
            "No staffing tried meets the service targets ({}) with {} confidence{}.",
            targets(answer),
            level(answer.question.level),
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
        let (meets, meets_of_several) = if today.meets {
            ("meets them too", "meet them too")
        } else {
            ("does not meet them", "do not meet them")
        };
        let Some(saving) = &answer.saving else {
            return String::new();
        };
        format!(
            ", {}{} than today's {}, which {}",
            less(&saving.whole),
            // Nobody should hire for what chance may have made.
            match saving.whole.interval.excludes_zero() {
                true => "",
                false => ", which is not shown yet (more runs may tell),",
            },
            drivers(today.staffing.drivers),
            match today.staffing.drivers {
                1 => meets,
                _ => meets_of_several,
            }
        )
    });
    if let Some(Shown::NotYet { runs }) = answer.shown() {
        return shown::not_yet(answer, best, runs);
    }
    let hire = match answer.question.hire_per_week {
        Some(_) => ", hires counted",
        None => "",
    };
    let what = match answer.equal.is_empty() {
        true => "the cheapest tried that meets the service targets",
        false => "the least change among the cheapest that meet the service targets",
    };
    format!(
        "Staff with {}: {what}, {} {}{hire}{against}. {} of loads are late, {} undelivered.",
        staffing(best.staffing),
        dollars(&best.cost),
        per(answer.days),
        share(&best.late_share),
        share(&best.undelivered),
    )
}

/// `$5,300 less ($4,900 to $5,800)`, `$200 more ($300 more to $100 less)`.
pub(super) fn less(saving: &Estimate) -> String {
    let word = |amount: f64| if amount < 0.0 { "more" } else { "less" };
    let Some(mean) = saving.mean else {
        return "–".into();
    };
    let (low, high) = (saving.interval.low, saving.interval.high);
    let ends = if word(low) == word(high) {
        let (near, far) = (low.abs().min(high.abs()), low.abs().max(high.abs()));
        format!("{} to {}", money(near), money(far))
    } else {
        format!("{} more to {} less", money(-low), money(high))
    };
    format!("{} {} ({ends})", money(mean.abs()), word(mean))
}

/// What brings the saving, change by change.
pub(super) fn split(answer: &StaffAnswer) -> Option<String> {
    let saving = answer
        .saving
        .as_ref()
        .filter(|saving| saving.parts.len() > 1)?;
    let parts: Vec<String> = saving
        .parts
        .iter()
        .map(|(part, share)| {
            let shown = match share.interval.excludes_zero() {
                true => "",
                false => ", not shown",
            };
            format!("{} {}{shown}", part_words(*part), less(share))
        })
        .collect();
    let of = match answer.year {
        Some(_) => format!(
            "In the book's own days {} {}",
            less(&saving.whole),
            per(answer.days)
        ),
        None => "Of that on the same days".into(),
    };
    Some(format!("{of}: {}.", parts.join("; ")))
}

/// A change of staffing in a word.
pub(super) fn part_words(part: StaffingPart) -> &'static str {
    match part {
        StaffingPart::Starts => "start times",
        StaffingPart::Overtime => "use of overtime",
        StaffingPart::Drivers => "head count",
        StaffingPart::Haulers => "hired haulers",
        StaffingPart::PartTime => "part-time shifts",
    }
}

/// How many others cost as good as the same.
pub(super) fn equal(answer: &StaffAnswer) -> Option<String> {
    let others = answer.equal.len();
    (others > 0).then(|| {
        format!(
            "{} of the others cost{} within {} a day of the cheapest, which is called equal, and {} marked \"=\"; the one recommended changes \
             least.",
            count(others as u64),
            if others == 1 { "s" } else { "" },
            money(50.0),
            if others == 1 { "is" } else { "are" },
        )
    })
}

/// What one driver less or more changes.
pub(super) fn one_more(answer: &StaffAnswer) -> Vec<String> {
    let word = |what: &str, one: &crate::studies::OneMore| {
        let (cost, interval) = one.cost;
        let decimals = 0;
        format!(
            "One driver {what}: cost {} {} ({} to {}), {} of loads late, {} undelivered, {} h of overtime{}.",
            Unit::Money.show_difference(cost, decimals),
            per(answer.days),
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
    let less = answer.less.as_ref().map(|one| word("fewer", one));
    less.into_iter()
        .chain(answer.more.as_ref().map(|one| word("more", one)))
        .collect()
}

/// Overtime against a hire: what one more driver costs or saves a week, and what follows.
pub(super) fn hire(answer: &StaffAnswer) -> Option<String> {
    let (saved, interval) = answer.break_even()?;
    // Said with the haulers where they are asked about.
    let more = answer.more.as_ref().filter(|_| answer.haulers.is_none())?;
    // Estimate and interval have one sign.
    let (word, other, amount, ends) = if saved <= 0.0 {
        ("costs", "less", -saved, interval.negated())
    } else {
        ("saves", "lost", saved, interval)
    };
    let low = if ends.low < 0.0 {
        format!("{} {other}", money(-ends.low))
    } else {
        money(ends.low)
    };
    let amounts = format!(
        "Overtime or a hire: one more driver {word} {} a week{} ({low} to {}), before benefits and training",
        money(amount),
        if saved <= 0.0 { " more" } else { "" },
        money(ends.high)
    );
    let verdict = |cost: f64| {
        if interval.low > cost {
            "hire"
        } else if interval.high < cost {
            "stay with overtime"
        } else {
            "too close to call"
        }
    };
    let decided = match answer.question.hire_per_week {
        Some(cost) => format!(
            "{amounts}. At {} a week for these: {}.",
            money(cost),
            verdict(cost)
        ),
        None if saved > 0.0 => format!("{amounts}: a hire pays while these cost less."),
        None => format!("{amounts}: {}.", verdict(0.0)),
    };
    let overtime = -more.overtime_h / answer.weeks();
    Some(if overtime >= 0.0 {
        format!(
            "{decided} It takes {} h of overtime a week away.",
            number(overtime, 1)
        )
    } else {
        format!(
            "{decided} It adds {} h of overtime a week.",
            number(-overtime, 1)
        )
    })
}

/// One sentence for each growth.
pub(super) fn grown(answer: &StaffAnswer) -> Vec<String> {
    let line = |grown: &crate::studies::Grown| {
        let more = if grown.per_cent < 0.0 {
            "fewer"
        } else {
            "more"
        };
        let fewest = match &grown.fewest {
            Some(result) => format!(
                "{} meet the targets, {} ({}) {}",
                drivers(result.staffing.drivers),
                dollars(&result.cost),
                range(result.cost.interval, |end| Unit::Money.show(end, 0)),
                per(answer.days)
            ),
            None => "no head count tried meets the targets".into(),
        };
        format!(
            "{}% {more} orders: {} late with as many drivers; {fewest}.",
            number(grown.per_cent.abs(), 0),
            share(&grown.as_now.late_share)
        )
    };
    answer.grown.iter().map(line).collect()
}

/// One sentence for the growing order book.
pub(super) fn growth(answer: &StaffAnswer) -> Option<String> {
    let parts: Vec<String> = answer
        .grown
        .iter()
        .map(|grown| {
            let fewest = match &grown.fewest {
                Some(result) => drivers(result.staffing.drivers),
                None => "more than were tried".into(),
            };
            format!(
                "{}% {fewest}",
                Unit::Plain.show_difference(grown.per_cent, 0)
            )
        })
        .collect();
    (!parts.is_empty())
        .then(|| format!("With more or fewer orders it takes: {}.", parts.join(", ")))
}

/// On what the answer rests.
pub(super) fn sureness(answer: &StaffAnswer) -> String {
    format!(
        "Targets: {}, by one-sided {} bounds. Rule \"{}\", random seed {}. {} staffings, {} of each in the search, {} others for the final \
         answer.{}",
        targets(answer),
        level(answer.question.level),
        answer.rule,
        answer.question.seed,
        answer.results.len(),
        runs(answer.searched),
        count(answer.question.replications),
        if answer.stopped {
            " Stopped before all were done."
        } else {
            ""
        }
    )
}
