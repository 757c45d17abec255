//! What happened in the replication, in sentences.

use crate::observe::{Stranding, figure};
use crate::report::number::{Unit, count, money, number};
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::{Millis, OrderId};

/// `today's "Nearest"`.
pub(super) fn rule(answer: &Replay) -> String {
    let todays = if answer.today { "today's " } else { "" };
    format!("{todays}\"{}\"", answer.rule)
}

/// Which replication this is, and why it.
pub(super) fn which(answer: &Replay) -> String {
    let why = match answer.worst {
        None => String::new(),
        Some(worst) => format!(
            ", the one with {} of {}",
            worst.words(),
            count(answer.searched)
        ),
    };
    format!(
        "Replication {} (random seed {}) under {}{why}",
        answer.replication,
        answer.seed,
        rule(answer)
    )
}

pub(super) fn of(number: usize, one: &str, many: &str) -> String {
    let what = if number == 1 { one } else { many };
    format!("{} {what}", count(number as u64))
}

/// How many of the late loads never came, in brackets; nothing if all did.
pub(super) fn never_came(answer: &Replay) -> String {
    match answer.never.len() {
        0 => String::new(),
        never => format!(" ({} of them never came)", count(never as u64)),
    }
}

/// What the day was, in one sentence.
pub(super) fn summary(answer: &Replay) -> String {
    let loads = answer.figure(figure::LOADS) as usize;
    // As the figure: what never came is late as well.
    let late = format!("{} late", count(answer.late_loads() as u64));
    let late = format!("{late}{}", never_came(answer));
    let mut parts = vec![of(loads, "load delivered", "loads delivered"), late];
    parts.push(of(
        answer.stranded.len(),
        "driver stranded",
        "drivers stranded",
    ));
    let cost = answer.figure(figure::COST);
    format!(
        "{}; it cost {}{}.",
        parts.join(", "),
        money(cost),
        mean(answer, cost)
    )
}

/// `, $1,200 more than the average of 200 runs`.
fn mean(answer: &Replay, cost: f64) -> String {
    let Some(mean) = answer.means[figure::COST].filter(|_| answer.searched > 1) else {
        return String::new();
    };
    let (difference, than) = match cost - mean {
        less if less < 0.0 => (-less, "less"),
        more => (more, "more"),
    };
    format!(
        ", {} {than} than the average of {} runs",
        Unit::Money.show(difference, 0),
        count(answer.searched)
    )
}

/// When something happened, by a clock that a reader of this replication understands: `16:42`, `02:10 next day`,
/// `day 3, 16:42`.
pub(super) fn clock(answer: &Replay, at: Millis) -> String {
    let minutes = at.0.rem_euclid(Millis::DAY.0) / Millis::MINUTE.0;
    let time = format!("{:02}:{:02}", minutes / 60, minutes % 60);
    match (answer.days, at.day()) {
        (1, 0) => time,
        (1, 1) => format!("{time} next day"),
        (_, day) => format!("day {}, {time}", day + 1),
    }
}

/// Whole minutes.
pub(super) fn minutes(span: Millis) -> String {
    format!("{} min", number(span.minutes(), 0))
}

/// `Sea wall, bay 7, load 3`.
pub(super) fn load(scenario: &Scenario, order: OrderId, number: u32) -> String {
    format!("{}, load {}", scenario.order_name(order), number + 1)
}

/// `dn3 with N3 at Lighthouse road; picked up; home 04:10 next day`.
pub(super) fn stranding(answer: &Replay, scenario: &Scenario, stranded: &Stranding) -> String {
    let how = if stranded.fetched {
        "picked up"
    } else {
        "stays overnight with the truck (legal rest)"
    };
    let home = match stranded.home {
        Some(home) => format!("home {}", clock(answer, home)),
        None => "not home within the run".into(),
    };
    format!(
        "{} with {} at {}; {how}; {home}",
        scenario.drivers[stranded.driver.at()].name,
        scenario.trucks[stranded.truck.at()].name,
        scenario.place_name(stranded.place)
    )
}
