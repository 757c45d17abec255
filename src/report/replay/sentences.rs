//! What happened in the replication, in sentences.

use crate::observe::{Cause, LateLoad, Never, Stranding, figure};
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
        "Replication {} (seed {}) under {}{why}",
        answer.replication,
        answer.seed,
        rule(answer)
    )
}

fn of(number: usize, one: &str, many: &str) -> String {
    let what = if number == 1 { one } else { many };
    format!("{} {what}", count(number as u64))
}

/// What the day was, in one sentence.
pub(super) fn summary(answer: &Replay) -> String {
    let loads = answer.figure(figure::LOADS) as usize;
    let came = answer.late.len();
    let mut parts = vec![
        of(loads, "load placed", "loads placed"),
        format!("{} late", count(came as u64)),
    ];
    if !answer.never.is_empty() {
        parts.push(format!("{} never came", count(answer.never.len() as u64)));
    }
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

/// `, $1,200 more than the mean of 200 replications`.
fn mean(answer: &Replay, cost: f64) -> String {
    let Some(mean) = answer.means[figure::COST].filter(|_| answer.searched > 1) else {
        return String::new();
    };
    let (difference, than) = match cost - mean {
        less if less < 0.0 => (-less, "less"),
        more => (more, "more"),
    };
    format!(
        ", {} {than} than the mean of {} replications",
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

/// What made a load late, in the order in which it happened. The whole minutes add up to those of the load.
pub(super) fn story(late: &LateLoad) -> String {
    let shown = whole_minutes(late);
    let parts: Vec<String> = late
        .parts
        .iter()
        .zip(shown)
        .filter(|(_, minutes)| *minutes > 0)
        .map(|((cause, _), minutes)| words(*cause, minutes))
        .collect();
    parts.join("; ")
}

fn words(cause: Cause, minutes: i64) -> String {
    match cause {
        Cause::NoTruck => format!("no truck free for {minutes} min"),
        Cause::NoHours => format!("no driver with hours left for {minutes} min"),
        Cause::PlantClosed => format!("plant closed or down for {minutes} min"),
        Cause::Refused => format!("{minutes} min without a truck that might take it"),
        Cause::CalledLate => format!("called in {minutes} min too late"),
        Cause::SentLate => format!("sent {minutes} min late by the rule"),
        Cause::Belief => format!("the way believed {minutes} min too short"),
        Cause::BayQueue => format!("{minutes} min in the queue for a bay"),
        Cause::Loading => format!("{minutes} min longer at loading than usual"),
        Cause::Rack => format!("{minutes} min longer at the rack than usual"),
        Cause::Traffic => format!("{minutes} min longer on the road than usual at that hour"),
        Cause::Site => format!("{minutes} min because its truck was held on its last site"),
        Cause::MadeAgain => format!("{minutes} min until it was made again"),
        Cause::LiftBridge => format!("{minutes} min at a lifted bridge or a closed road"),
        Cause::WeighStation => format!("{minutes} min at a weigh station"),
        Cause::Incident => format!("{minutes} min for an incident on the road"),
        Cause::Breakdown => format!("{minutes} min for a breakdown"),
        Cause::WayRound => format!("{minutes} min for the way round a weigh station"),
        Cause::TooOld => format!("{minutes} min because it would have been too old on site"),
        Cause::TooHeavy => format!("{minutes} min because the trucks were too heavy for a load"),
        Cause::NearerPlant => format!("{minutes} min left to a nearer plant"),
    }
}

/// The parts in whole minutes that add up to the rounded total: what is left over after cutting goes to those that lost most.
fn whole_minutes(late: &LateLoad) -> Vec<i64> {
    let minute = Millis::MINUTE.0;
    let total = late.late.minutes().round() as i64;
    let mut shown: Vec<i64> = late.parts.iter().map(|(_, part)| part.0 / minute).collect();
    let mut by_loss: Vec<usize> = (0..shown.len()).collect();
    by_loss.sort_by_key(|at| (std::cmp::Reverse(late.parts[*at].1.0 % minute), *at));
    let missing = (total - shown.iter().sum::<i64>()).max(0) as usize;
    for at in by_loss.into_iter().take(missing) {
        shown[at] += 1;
    }
    shown
}

/// `6 yd³ of School yard: not on site by the end of the day, 312 min late by then`.
pub(super) fn never(scenario: &Scenario, never: &Never) -> String {
    format!(
        "{} yd³ of {}: not on site by the end of the day, {} late by then",
        never.volume.yd3(),
        scenario.order_name(never.order),
        minutes(never.late)
    )
}

/// `dn3 with N3 at Lighthouse road; rested there; home 04:10 next day`.
pub(super) fn stranding(answer: &Replay, scenario: &Scenario, stranded: &Stranding) -> String {
    let how = if stranded.fetched {
        "fetched"
    } else {
        "rested there"
    };
    let home = match stranded.home {
        Some(home) => format!("home {}", clock(answer, home)),
        None => "not home within the replication".into(),
    };
    format!(
        "{} with {} at {}; {how}; {home}",
        scenario.drivers[stranded.driver.at()].name,
        scenario.trucks[stranded.truck.at()].name,
        scenario.place_name(stranded.place)
    )
}

/// Late loads, latest first.
pub(super) fn latest_first(answer: &Replay) -> Vec<&LateLoad> {
    let mut late: Vec<&LateLoad> = answer.late.iter().collect();
    late.sort_by_key(|late| (std::cmp::Reverse(late.late), late.at));
    late
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{PlantId, TruckId};

    #[test]
    fn shown_minutes_add_up() {
        let seconds = |s: i64| Millis(s * 1000);
        let late = LateLoad {
            order: OrderId(0),
            number: 2,
            truck: TruckId(0),
            plant: PlantId(0),
            at: Millis::ZERO,
            late: seconds(90 + 90 + 65),
            parts: vec![
                (Cause::NoTruck, seconds(90)),
                (Cause::BayQueue, seconds(90)),
                (Cause::Traffic, seconds(65)),
            ],
        };
        assert_eq!(whole_minutes(&late), [2, 1, 1]);
        assert_eq!(
            story(&late),
            "no truck free for 2 min; 1 min in the queue for a bay; 1 min longer on the road than usual at that hour"
        );
    }
}
