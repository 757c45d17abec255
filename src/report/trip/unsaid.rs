//! What a file of how things stand does not say of drivers and orders, and how that is taken.

use super::{Asked, words};
use crate::report::answer::page::listed;
use crate::scenario::day_state::{DayState, Unsaid};
use crate::units::DriverId;
use serde_json::{Value, json};

/// So many drivers are named before the others are counted.
const NAMED: usize = 4;

fn drivers(state: &DayState, what: Unsaid) -> impl Iterator<Item = DriverId> {
    let of = state
        .unsaid
        .iter()
        .filter(move |(_, unsaid)| *unsaid == what);
    of.map(|(driver, _)| *driver)
}

/// Whether the file says too little of a driver.
pub(super) fn is_of(asked: &Asked<'_>, driver: DriverId) -> bool {
    let state = asked.question.state.as_ref();
    state.is_some_and(|state| state.unsaid.iter().any(|(of, _)| *of == driver))
}

/// Of one driver: `Of D1: no break is known, none is taken to have been had.`
pub(super) fn own(asked: &Asked<'_>, driver: DriverId) -> Option<String> {
    let state = asked.question.state.as_ref()?;
    let taken = state.drivers.iter().find(|of| of.driver == driver);
    let driven = words::length(taken.map_or(0.0, |of| of.driven.minutes()));
    let of = state.unsaid.iter().filter(|(of, _)| *of == driver);
    let parts: Vec<String> = of
        .map(|(_, what)| match what {
            Unsaid::Driven => format!("hours driven are not in the file, taken as {driven}"),
            Unsaid::Break => "no break is known, none is taken to have been had".to_owned(),
            Unsaid::Anything => format!(
                "nothing is in the file, taken as free after driving {driven} since the planned report"
            ),
        })
        .collect();
    let who = words::driver(asked, driver);
    (!parts.is_empty()).then(|| format!("Of {who}: {}.", parts.join("; ")))
}

/// Of those beside one driver who are not in the file.
pub(super) fn others(asked: &Asked<'_>, driver: DriverId) -> Option<String> {
    let state = asked.question.state.as_ref()?;
    let others = drivers(state, Unsaid::Anything).filter(|of| *of != driver);
    on_the_roster(others.count(), "other ")
}

/// Of the orders.
pub(super) fn orders(asked: &Asked<'_>) -> Option<String> {
    let state = asked.question.state.as_ref()?;
    let planned = "What of the orders is placed is not in the file: taken as planned.";
    state.orders_as_planned.then(|| planned.to_owned())
}

/// Of all drivers, and of the orders.
pub(super) fn all(asked: &Asked<'_>) -> Option<String> {
    let state = asked.question.state.as_ref()?;
    let left_out = |what: &str, of: Unsaid| {
        let names: Vec<String> = drivers(state, of)
            .map(|driver| words::driver(asked, driver))
            .collect();
        (!names.is_empty()).then(|| format!("{what} of {}", named(&names)))
    };
    let careful = [
        left_out("hours driven", Unsaid::Driven),
        left_out("a break", Unsaid::Break),
    ];
    let careful: Vec<String> = careful.into_iter().flatten().collect();
    let careful = (!careful.is_empty()).then(|| {
        format!(
            "Not in the file: {}. The careful side is taken; plantday help state tells how.",
            careful.join("; ")
        )
    });
    let roster = on_the_roster(drivers(state, Unsaid::Anything).count(), "");
    joined([roster, careful, orders(asked)])
}

/// As one text.
pub(super) fn joined<const N: usize>(parts: [Option<String>; N]) -> Option<String> {
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}

fn on_the_roster(drivers: usize, other: &str) -> Option<String> {
    match drivers {
        0 => None,
        1 => Some(format!(
            "1 {other}driver is not in the file and follows the roster."
        )),
        many => Some(format!(
            "{many} {other}drivers are not in the file and follow the roster."
        )),
    }
}

/// `A, B, C, D and 3 others`.
fn named(names: &[String]) -> String {
    let more = names.len().saturating_sub(NAMED);
    let mut told = names[..names.len() - more].to_vec();
    match more {
        0 => {}
        1 => told.push("1 other".to_owned()),
        more => told.push(format!("{more} others")),
    }
    listed(&told)
}

/// `{"roster": [driver], "hours_driven": [driver], "break": [driver], "orders_as_planned"}`; null without a file.
pub(super) fn json(asked: &Asked<'_>) -> Value {
    asked.question.state.as_ref().map_or(Value::Null, |state| {
        let names = |what: Unsaid| -> Vec<String> {
            drivers(state, what)
                .map(|driver| words::driver(asked, driver))
                .collect()
        };
        json!({
            "roster": names(Unsaid::Anything),
            "hours_driven": names(Unsaid::Driven),
            "break": names(Unsaid::Break),
            "orders_as_planned": state.orders_as_planned,
        })
    })
}
