//! Sites that lie too far for the age limit, even on the empty road: the desk sends no load there.

use super::Pour;
use crate::concrete::{KnownAge, Until};
use crate::report::summary::words::{clock, minutes};
use crate::scenario::{LoadOnPaper, Order, Scenario};
use crate::units::Millis;

/// A written order: each of its loads comes in an hour of its own.
pub(super) fn order(pour: &Pour<'_>, scenario: &Scenario, doubts: &mut Vec<String>) {
    let due = (0..pour.load.loads).map(|load| pour.order.first + pour.order.spacing * load);
    doubt(
        &pour.order.name,
        pour.order,
        &pour.load,
        due,
        scenario,
        doubts,
    );
}

/// A list of drawn orders, at any hour at which it may be due.
pub(super) fn drawn(pours: &[Pour<'_>], scenario: &Scenario, doubts: &mut Vec<String>) {
    for (group, list) in scenario.drawn.iter().enumerate() {
        let of_list = |pour: &&Pour<'_>| pour.order.slot.is_some_and(|slot| slot.group == group);
        let Some(pour) = pours.iter().find(of_list) else {
            continue;
        };
        let (from, to) = list.first;
        let hours = (0..)
            .map(|hour| from + Millis::HOUR * hour)
            .take_while(|at| *at < to);
        let due = hours.chain([to]);
        doubt(&list.name, pour.order, &pour.load, due, scenario, doubts);
    }
}

fn doubt(
    name: &str,
    order: &Order,
    load: &LoadOnPaper,
    due: impl Iterator<Item = Millis>,
    scenario: &Scenario,
    doubts: &mut Vec<String>,
) {
    let concrete = &scenario.concrete;
    let Some(known) = scenario.known_age() else {
        return;
    };
    let retarder = concrete.retarder(&order.mix);
    let at = |due: Millis| (known.limit(due, retarder, 0.0), due);
    let Some((all, due)) = due.map(at).min() else {
        return;
    };
    let (limit, until) = order.age.of(all, known.until());
    let discharged = load.lead() + load.unloading;
    let washed = load.lead() + load.on_site;
    let (age, up_to) = match until {
        Until::Delivered => (load.lead(), "the arrival"),
        Until::Discharged if discharged > limit => (discharged, "the end of unloading"),
        // The desk reckons with the whole stay.
        Until::Discharged => (
            washed,
            "the end of chute wash, which the desk reckons with,",
        ),
    };
    if age > limit {
        doubts.push(format!(
            "{name}: {} from batching to {up_to} on the empty road, and the age limit is {}{}",
            minutes(age),
            minutes(limit),
            if order.age.limit.is_some() {
                String::new()
            } else {
                hour(&known, due)
            }
        ));
    }
}

/// ` at 14:00, as the air is written` where the limit turns on it.
fn hour(known: &KnownAge, due: Millis) -> String {
    if known.by_air() {
        format!(" at {}, in the air that is written", clock(due))
    } else {
        String::new()
    }
}
