//! What the player on the page is given, as JSON.

use super::map;
use crate::observe::Doing;
use crate::report::plain_text::one_line;
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::{Millis, OrderId, PlaceId, TruckId};
use serde_json::{Value, json};

/// From when until when the player goes, whole hours: what any truck does, and what happens.
pub(super) fn span(answer: &Replay) -> (Millis, Millis) {
    let happened = |at: &Millis| *at > Millis::ZERO;
    let begins = answer.stints.iter().map(|stint| stint.from);
    let first = begins.min().unwrap_or_default();
    let ends = answer.stints.iter().map(|stint| stint.to);
    let times = answer.happenings.iter().map(|happening| happening.at);
    let last = ends.chain(times).filter(happened).max().unwrap_or_default();
    let hour = Millis::HOUR.0;
    let from = first.0.div_euclid(hour) * hour;
    let to = -(-last.0).div_euclid(hour) * hour;
    (Millis(from), Millis(to.max(from + hour)))
}

/// Where the player begins, and with which truck, on the day of the chart of the trucks: when its latest load came, else when
/// the first driver was stranded, else when a load was first missing, else at the start.
fn opening(answer: &Replay) -> (Millis, Option<TruckId>) {
    let day = answer.worst_day();
    let latest = answer
        .late
        .iter()
        .filter(|late| late.at.day() == day)
        .max_by_key(|late| (late.late, -late.at.0));
    let mut stranded = answer.stranded.iter();
    let stranded = stranded.find(|stranded| stranded.at.day() == day);
    latest
        .map(|late| (late.at, Some(late.truck)))
        .or(stranded.map(|stranded| (stranded.at, Some(stranded.truck))))
        .unwrap_or((span(answer).0, None))
}

/// All that the player needs, times in seconds since midnight before the first day. `<` is written so that it ends no script.
pub(super) fn text(answer: &Replay, scenario: &Scenario) -> String {
    json(answer, scenario).to_string().replace('<', "\\u003c")
}

fn json(answer: &Replay, scenario: &Scenario) -> Value {
    let seconds = |at: Millis| at.0 / 1000;
    let positions = map::positions(answer, scenario);
    let places: Vec<Value> = positions
        .iter()
        .enumerate()
        .map(|(place, position)| {
            json!({
                "name": one_line(scenario.place_name(PlaceId::new(place))),
                "plant": place < scenario.plants.len(),
                "at": position.map(|(x, y)| [x, y]),
            })
        })
        .collect();
    let mut stints: Vec<Vec<Value>> = vec![Vec::new(); scenario.trucks.len()];
    for stint in &answer.stints {
        let (order, number) = match stint.load {
            Some((order, number)) => (order.at() as i64, i64::from(number) + 1),
            None => (-1, 0),
        };
        stints[stint.truck.at()].push(json!([
            seconds(stint.from),
            seconds(stint.to),
            stint.doing as usize,
            stint.place.at(),
            stint.heading.at(),
            order,
            number
        ]));
    }
    // Trucks that nobody drove are left out.
    let mut position = vec![None; scenario.trucks.len()];
    let mut trucks: Vec<Value> = Vec::new();
    for (truck, stints) in stints.into_iter().enumerate() {
        if !stints.is_empty() {
            position[truck] = Some(trucks.len());
            trucks
                .push(json!({ "name": one_line(&scenario.trucks[truck].name), "stints": stints }));
        }
    }
    let happened: Vec<Value> = answer
        .happenings
        .iter()
        .map(|happening| {
            let truck = happening.truck.and_then(|truck| position[truck.at()]);
            json!([seconds(happening.at), one_line(&happening.what), truck])
        })
        .collect();
    let late = answer.late.iter().map(|late| (late.at, late.truck, "late"));
    let stranded = answer.stranded.iter();
    let stranded = stranded.map(|stranded| (stranded.at, stranded.truck, "stranded"));
    let mut trouble: Vec<_> = late.chain(stranded).collect();
    trouble.sort_by_key(|(at, truck, _)| (*at, *truck));
    let trouble: Vec<Value> = trouble
        .into_iter()
        .map(|(at, truck, kind)| json!([seconds(at), position[truck.at()], kind]))
        .collect();
    let orders: Vec<String> = (0..scenario.orders.len() + scenario.endless.len())
        .map(|order| one_line(scenario.order_name(OrderId::new(order))))
        .collect();
    let (from, to) = span(answer);
    let (open, shown) = opening(answer);
    json!({
        "from": seconds(from),
        "to": seconds(to),
        "open": seconds(open),
        "shown": shown.and_then(|truck| position[truck.at()]),
        "days": answer.days,
        "fleet": scenario.trucks.len(),
        "size": [map::SIZE.0, map::SIZE.1],
        "doings": Doing::ALL.map(Doing::words),
        "places": places,
        "orders": orders,
        "trucks": trucks,
        "events": happened,
        "trouble": trouble,
    })
}
