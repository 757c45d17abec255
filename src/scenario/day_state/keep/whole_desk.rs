//! Calls that are of no driver: of an order, a plant, the traffic of the day.

use super::{clock, found, order_state, said};
use crate::scenario::Scenario;
use crate::scenario::day_state::{DayState, PlantState};
use crate::units::measure::Quantity;
use crate::units::{Millis, OrderId, PlantId, Volume};

/// `order "Wall" cancelled`, `order "Wall" ordered 54.5`, `order "Wall" later 40`.
pub(super) fn order_call(
    state: &mut DayState,
    scenario: &Scenario,
    name: &str,
    rest: &[String],
) -> Result<String, String> {
    let names = scenario.orders.iter().map(|order| order.name.as_str());
    let order = OrderId::new(found("order", name, names)?);
    let of = order_state(state, order);
    let number = |text: &String| {
        text.parse::<f64>()
            .map_err(|_| format!("{text:?} is no number"))
    };
    match rest {
        [what] if what == "cancelled" => of.cancelled = true,
        [what, yd3] if what == "ordered" => {
            let volume = Quantity::Volume.heard(number(yd3)?);
            of.ordered = Some(Volume::from_yd3(volume));
        }
        [what, minutes] if what == "later" => of.later = Millis::from_minutes(number(minutes)?),
        _ => {
            return Err(
                "expected after an order: cancelled, ordered VOLUME, or later MINUTES".to_owned(),
            );
        }
    }
    Ok(format!("order \"{name}\": {}", rest.join(" ")))
}

/// `plant "North" down 13:05 until 14:00`, `plant "North" up`.
pub(super) fn plant_call(
    state: &mut DayState,
    scenario: &Scenario,
    name: &str,
    rest: &[String],
) -> Result<String, String> {
    let names = scenario.plants.iter().map(|plant| plant.name.as_str());
    let plant = PlantId::new(found("plant", name, names)?);
    let words = match rest {
        [what, words @ ..] if what == "down" => words,
        [what, words @ ..] if what == "up" && words.len() < 2 => {
            let said = said(state, scenario, words)?;
            state.at = state.at.max(said.time.unwrap_or(state.at));
            state.plants.retain(|of| of.plant != plant);
            return Ok(format!("plant \"{name}\": works again"));
        }
        _ => return Err("expected after a plant: down TIME until TIME, or up".to_owned()),
    };
    let said = said(state, scenario, words)?;
    let since = said.time.unwrap_or(state.at);
    if said.until.is_none() && scenario.plants[plant.at()].outages.is_none() {
        return Err(format!(
            "the scenario does not say how long an outage of {name:?} takes\n  expected until TIME, like: plant {name:?} down {} until 14:00",
            clock(since)
        ));
    }
    state.plants.retain(|of| of.plant != plant);
    state.plants.push(PlantState {
        plant,
        since,
        until: said.until,
    });
    state.at = state.at.max(since);
    let until = said
        .until
        .map_or(String::new(), |until| format!(" until {}", clock(until)));
    Ok(format!(
        "plant \"{name}\": down since {}{until}",
        clock(since)
    ))
}

/// `traffic 1.2`, `traffic usual`.
pub(super) fn traffic_call(state: &mut DayState, times: &str) -> Result<String, String> {
    if times == "usual" {
        state.traffic = None;
        return Ok("traffic: as the day draws it".to_owned());
    }
    let times = times
        .parse::<f64>()
        .ok()
        .filter(|times| (0.2..=10.0).contains(times));
    let times = times.ok_or(
        "expected after traffic: how many times as long as usual drives take, like 1.2, or usual",
    )?;
    state.traffic = Some(times);
    Ok(format!(
        "traffic: drives take {times} times as long as usual"
    ))
}
