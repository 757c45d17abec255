//! What the player on the page is given, as JSON.

use super::{Shown, map};
use crate::observe::Doing;
use crate::report::plain_text::one_line;
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::{Millis, OrderId, PlaceId, TruckId};
use serde_json::{Value, json};

/// From when until when the player goes, whole hours: what any truck does, and what happens.
fn span(shown: &Shown<'_>) -> (Millis, Millis) {
    let happened = |at: &Millis| *at > Millis::ZERO;
    let stints = || shown.replays.iter().flat_map(|replay| &replay.stints);
    let first = stints().map(|stint| stint.from).min().unwrap_or_default();
    let happenings = shown.replays.iter().flat_map(|replay| &replay.happenings);
    let times = happenings.map(|happening| happening.at);
    let ends = stints().map(|stint| stint.to);
    let last = ends.chain(times).filter(happened).max().unwrap_or_default();
    let hour = Millis::HOUR.0;
    let from = first.0.div_euclid(hour) * hour;
    let to = -(-last.0).div_euclid(hour) * hour;
    (Millis(from), Millis(to.max(from + hour)))
}

/// Where the player begins, and with which truck, on the day of the chart of the trucks. Of two rules: when the load was due
/// with which it goes most otherwise. Else when its latest load came, else when the first driver was stranded, else at the start.
fn opening(shown: &Shown<'_>) -> (Millis, Option<TruckId>) {
    let answer = shown.first();
    let day = answer.worst_day();
    let differing = shown.against.map_or(&[][..], |found| &found.differing);
    let of_the_day = differing.iter().find(|load| load.due().day() == day);
    if let Some(load) = of_the_day.or(differing.first()) {
        return (load.due(), None);
    }
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
        .unwrap_or((span(shown).0, None))
}

/// All that the player needs, times in seconds since midnight before the first day. `<` is written so that it ends no script.
pub(super) fn text(shown: &Shown<'_>, scenario: &Scenario) -> String {
    json(shown, scenario).to_string().replace('<', "\\u003c")
}

fn seconds(at: Millis) -> i64 {
    at.0 / 1000
}

fn json(shown: &Shown<'_>, scenario: &Scenario) -> Value {
    let answer = shown.first();
    let map = map::of(answer, scenario);
    let places: Vec<Value> = map
        .places
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
    // Trucks that nobody drove are left out.
    let mut position = vec![None; scenario.trucks.len()];
    for stint in shown.replays.iter().flat_map(|replay| &replay.stints) {
        position[stint.truck.at()] = Some(0);
    }
    let driven = position.iter_mut().filter(|position| position.is_some());
    for (nth, position) in driven.enumerate() {
        *position = Some(nth);
    }
    let named = scenario.trucks.iter().zip(&position);
    let trucks: Vec<String> = named
        .filter(|(_, position)| position.is_some())
        .map(|(truck, _)| one_line(&truck.name))
        .collect();
    let panels: Vec<Value> = shown
        .replays
        .iter()
        .map(|replay| panel(replay, &position, trucks.len()))
        .collect();
    let orders: Vec<String> = (0..scenario.orders.len() + scenario.endless.len())
        .map(|order| one_line(scenario.order_name(OrderId::new(order))))
        .collect();
    let (from, to) = span(shown);
    let (open, truck) = opening(shown);
    json!({
        "from": seconds(from),
        "to": seconds(to),
        "open": seconds(open),
        "shown": truck.and_then(|truck| position[truck.at()]),
        "days": answer.days,
        "fleet": scenario.trucks.len(),
        "size": [map::SIZE.0, map::SIZE.1],
        "stretches": map.stretches,
        "doings": super::page::doings(shown).map(Doing::words).collect::<Vec<_>>(),
        "places": places,
        "orders": orders,
        "trucks": trucks,
        "panels": panels,
    })
}

/// What the map of one rule is moved by. `position` has the place of each truck among those that somebody drove.
fn panel(answer: &Replay, position: &[Option<usize>], trucks: usize) -> Value {
    let mut stints: Vec<Vec<Value>> = vec![Vec::new(); trucks];
    for stint in &answer.stints {
        let (order, number) = match stint.load {
            Some((order, number)) => (order.at() as i64, i64::from(number) + 1),
            None => (-1, 0),
        };
        let truck = position[stint.truck.at()].expect("somebody drove it");
        stints[truck].push(json!([
            seconds(stint.from),
            seconds(stint.to),
            stint.doing as usize,
            stint.place.at(),
            stint.heading.at(),
            order,
            number
        ]));
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
    let mut late: Vec<i64> = answer.late.iter().map(|late| seconds(late.at)).collect();
    late.extend(answer.never.iter().map(|never| seconds(never.at)));
    late.sort_unstable();
    json!({
        "rule": one_line(&answer.rule),
        "stints": stints,
        "events": happened,
        "trouble": trouble,
        "placed": answer.placed.iter().copied().map(seconds).collect::<Vec<i64>>(),
        "late": late,
    })
}
