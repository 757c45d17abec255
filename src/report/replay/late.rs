//! Loads that came late or never, in words, latest first.

use super::sentences;
use crate::observe::{LateCause, LateLoad, Never};
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::{Millis, TruckId};

/// What stands above the list.
pub(super) fn heading(answer: &Replay) -> &'static str {
    if answer.never.is_empty() {
        "Late loads, latest first"
    } else {
        "Late loads, latest first (a load that never came is late by the end of its day)"
    }
}

/// A load that came late or never.
pub(super) struct Line {
    /// When it came, or when it was first missing.
    pub(super) at: Millis,
    /// The truck that brought it, or was to.
    pub(super) truck: Option<TruckId>,
    /// When it came: `day 3, 16:42`; `never, day 3`.
    pub(super) came: String,
    /// `Sea wall, bay 7, load 3`, its volume if it never came.
    pub(super) load: String,
    /// `312 min late`, by when if it never came.
    pub(super) late: String,
    pub(super) minutes: Millis,
    /// ` with N4 from North`; nothing if it never came.
    pub(super) with: String,
    pub(super) because: String,
}

/// All of them, those with most minutes first.
pub(super) fn lines(answer: &Replay, scenario: &Scenario) -> Vec<Line> {
    let late = answer.late.iter().map(|late| came(answer, scenario, late));
    let never = answer
        .never
        .iter()
        .map(|never| missing(answer, scenario, never));
    let mut lines: Vec<Line> = late.chain(never).collect();
    lines.sort_by_key(|line| (std::cmp::Reverse(line.minutes), line.at));
    lines
}

fn came(answer: &Replay, scenario: &Scenario, late: &LateLoad) -> Line {
    Line {
        at: late.at,
        truck: Some(late.truck),
        came: sentences::clock(answer, late.at),
        load: sentences::load(scenario, late.order, late.number),
        late: format!("{} late", sentences::minutes(late.late)),
        minutes: late.late,
        with: format!(
            " with {} from {}",
            scenario.trucks[late.truck.at()].name,
            scenario.plants[late.plant.at()].name
        ),
        because: story(late),
    }
}

fn missing(answer: &Replay, scenario: &Scenario, never: &Never) -> Line {
    let order = match never.number {
        Some(number) => sentences::load(scenario, never.order, number),
        None => scenario.order_name(never.order).to_owned(),
    };
    let day = match answer.days {
        1 => "the day".to_owned(),
        _ => format!("day {}", never.day() + 1),
    };
    Line {
        at: never.missing_from(),
        truck: never.truck,
        came: match answer.days {
            1 => "never".into(),
            _ => format!("never, {day}"),
        },
        load: format!("{order}, {} yd³", never.volume.yd3()),
        late: format!(
            "not on site by the end of {day}, {} late by then",
            sentences::minutes(never.late)
        ),
        minutes: never.late,
        with: String::new(),
        because: missing_story(never),
    }
}

/// What made a load late, in the order in which it happened. The whole minutes add up to those of the load.
pub(super) fn story(late: &LateLoad) -> String {
    joined(&late.parts, late.late, words)
}

/// The same of a load that never came.
pub(super) fn missing_story(never: &Never) -> String {
    if never.late <= Millis::ZERO {
        return "its site was not ready for it before the end of the day".into();
    }
    joined(&never.parts, never.late, words_of_missing)
}

/// Of what made a load late, the part with most minutes.
pub(super) fn mostly(late: &LateLoad) -> String {
    largest(&late.parts, late.late, words)
}

/// The same of a load that never came.
pub(super) fn missing_mostly(never: &Never) -> String {
    if never.late <= Millis::ZERO {
        return missing_story(never);
    }
    largest(&never.parts, never.late, words_of_missing)
}

fn largest(
    parts: &[(LateCause, Millis)],
    total: Millis,
    words: impl Fn(LateCause, i64) -> String,
) -> String {
    let shown = whole_minutes(parts, total);
    let places = (0..parts.len()).rev();
    let most = places.max_by_key(|at| parts[*at].1);
    most.map_or(String::new(), |at| words(parts[at].0, shown[at]))
}

fn joined(
    parts: &[(LateCause, Millis)],
    total: Millis,
    words: impl Fn(LateCause, i64) -> String,
) -> String {
    let shown = whole_minutes(parts, total);
    let parts: Vec<String> = parts
        .iter()
        .zip(shown)
        .filter(|(_, minutes)| *minutes > 0)
        .map(|((cause, _), minutes)| words(*cause, minutes))
        .collect();
    parts.join("; ")
}

fn words_of_missing(cause: LateCause, minutes: i64) -> String {
    match cause {
        LateCause::MadeAgain => format!("{minutes} min until it was turned away"),
        _ => words(cause, minutes),
    }
}

fn words(cause: LateCause, minutes: i64) -> String {
    match cause {
        LateCause::NoTruck => format!("no truck free for {minutes} min"),
        LateCause::NoHours => format!("no driver with hours left for {minutes} min"),
        LateCause::PlantClosed => format!("plant closed or down for {minutes} min"),
        LateCause::Refused => {
            format!("no truck allowed to take it, or no route, for {minutes} min")
        }
        LateCause::CalledLate => format!("called in {minutes} min too late"),
        LateCause::SentLate => format!("the rule sent it {minutes} min late"),
        LateCause::Belief => format!("drive time underestimated by {minutes} min"),
        LateCause::BayQueue => format!("{minutes} min waiting to load"),
        LateCause::Loading => format!("{minutes} min longer at loading than usual"),
        LateCause::Rack => format!("{minutes} min longer at the slump rack than usual"),
        LateCause::Traffic => format!("{minutes} min longer on the road than usual at that hour"),
        LateCause::Site => {
            format!("{minutes} min because a truck was held up at a job before")
        }
        LateCause::MadeAgain => format!("{minutes} min until it was rebatched"),
        LateCause::LiftBridge => format!("{minutes} min at a lifted bridge or a closed road"),
        LateCause::WeighStation => format!("{minutes} min at a weigh station"),
        LateCause::Incident => format!("{minutes} min for an incident on the road"),
        LateCause::Breakdown => format!("{minutes} min for a breakdown"),
        LateCause::WayRound => format!("{minutes} min for the detour around a weigh station"),
        LateCause::TooOld => format!("{minutes} min because it would have been too old on site"),
        LateCause::TooHeavy => {
            format!("{minutes} min because the trucks were too heavy for a load")
        }
        LateCause::NearerPlant => format!("{minutes} min held for the nearest or usual plant"),
    }
}

/// The parts in whole minutes that add up to the rounded total: what is left over after cutting goes to those that lost most.
fn whole_minutes(parts: &[(LateCause, Millis)], total: Millis) -> Vec<i64> {
    let minute = Millis::MINUTE.0;
    let total = total.minutes().round() as i64;
    let mut shown: Vec<i64> = parts.iter().map(|(_, part)| part.0 / minute).collect();
    let mut by_loss: Vec<usize> = (0..shown.len()).collect();
    by_loss.sort_by_key(|at| (std::cmp::Reverse(parts[*at].1.0 % minute), *at));
    let missing = (total - shown.iter().sum::<i64>()).max(0) as usize;
    for at in by_loss.into_iter().take(missing) {
        shown[at] += 1;
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{OrderId, PlantId, TruckId, Volume};

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
                (LateCause::NoTruck, seconds(90)),
                (LateCause::BayQueue, seconds(90)),
                (LateCause::Traffic, seconds(65)),
            ],
        };
        assert_eq!(whole_minutes(&late.parts, late.late), [2, 1, 1]);
        assert_eq!(
            story(&late),
            "no truck free for 2 min; 1 min waiting to load; 1 min longer on the road than usual at that hour"
        );
    }

    #[test]
    fn a_load_that_never_came_was_not_rebatched() {
        let minutes = |minutes: i64| Millis(minutes * Millis::MINUTE.0);
        let mut never = Never {
            order: OrderId(0),
            number: Some(2),
            truck: None,
            volume: Volume::thousandths(10_000),
            due: minutes(1330),
            ready: minutes(1340),
            at: minutes(1440),
            late: minutes(100),
            parts: vec![
                (LateCause::MadeAgain, minutes(40)),
                (LateCause::NoHours, minutes(60)),
            ],
        };
        assert_eq!(
            missing_story(&never),
            "40 min until it was turned away; no driver with hours left for 60 min"
        );
        assert_eq!((never.day(), never.missing_from()), (0, minutes(1340)));
        (never.ready, never.late) = (minutes(1500), Millis::ZERO);
        never.parts.clear();
        assert_eq!((never.day(), never.missing_from()), (0, minutes(1440)));
        assert_eq!(
            missing_story(&never),
            "its site was not ready for it before the end of the day"
        );
    }
}
