//! Drivers and plants that are not there when they are needed.

use super::{Pour, Tour, Tours};
use crate::plant::Plan;
use crate::report::summary::fleet::{driver_groups, driver_names};
use crate::report::summary::orders::when;
use crate::report::summary::places::hours as posted;
use crate::report::summary::words::{hours, minutes, range};
use crate::roads::Haul;
use crate::scenario::{Driver, LoadOnPaper, Order, Scenario};
use crate::units::{Millis, PlantId};

/// Shifts beyond the legal window, rests that are too short, shifts while the home plant is closed.
pub(super) fn drivers(scenario: &Scenario, plan: &Plan, doubts: &mut Vec<String>) {
    for group in driver_groups(scenario) {
        let driver = &group[0];
        let names = driver_names(group);
        if let Some(rules) = driver.rule_book.of(&scenario.rule_sets) {
            if let Some(limit) = &rules.window
                && driver.shift > limit.length
            {
                doubts.push(format!(
                    "{names}: the shift of {} is longer than the {} after report in which they may drive",
                    hours(driver.shift),
                    hours(limit.length)
                ));
            }
            let (off, rest) = (Millis::DAY - driver.shift, rules.reset_rest);
            if off < rest && works_on_end(driver, scenario) {
                doubts.push(format!(
                    "{names}: shifts of {} leave {} off between two days, and {} are needed",
                    hours(driver.shift),
                    hours(off.max(Millis::ZERO)),
                    hours(rest)
                ));
            }
        }
        shut_out(group, scenario, plan, doubts);
    }
}

fn works_on_end(driver: &Driver, scenario: &Scenario) -> bool {
    let works = |day| driver.days.contains(&scenario.period.first_day.after(day));
    (1..i64::from(scenario.period.days)).any(|day| works(day - 1) && works(day))
}

/// Drivers whose home plant is not open during any of their shifts.
fn shut_out(group: &[Driver], scenario: &Scenario, plan: &Plan, doubts: &mut Vec<String>) {
    let home = scenario.trucks[group[0].truck.at()].home;
    let open = &plan.plants[home.at()].open;
    let out: Vec<&Driver> = group
        .iter()
        .filter(|driver| {
            (0..i64::from(scenario.period.days))
                .filter(|day| driver.days.contains(&scenario.period.first_day.after(*day)))
                .map(|day| Millis::midnight(day) + driver.report)
                .all(|report| {
                    open.iter()
                        .all(|(from, to)| *to <= report || report + driver.shift <= *from)
                })
        })
        .collect();
    if let (Some(first), Some(last)) = (out.first(), out.last()) {
        let end = |driver: &Driver| driver.report + driver.shift;
        let plant = &scenario.plants[home.at()];
        doubts.push(format!(
            "{}: on duty {}–{}, when {} is closed ({})",
            range(&first.name, &last.name),
            first.report,
            end(last),
            plant.name,
            posted(plant)
        ));
    }
}

/// An order that begins before anybody can be there, or ends when nobody loads or drives any more.
pub(super) fn order(
    pour: &Pour<'_>,
    scenario: &Scenario,
    plan: &Plan,
    tours: &Tours,
    doubts: &mut Vec<String>,
) {
    let order = pour.order;
    let needed = order.first + order.setup;
    match earliest(pour, scenario, plan, tours) {
        None => doubts.push(format!(
            "{}: due at {}, and nobody can load for it that day",
            order.name,
            when(order.first, scenario)
        )),
        Some((arrival, tour)) if arrival > needed => doubts.push(format!(
            "{}: due at {}, and nobody can be on site before about {} ({} reports at {})",
            order.name,
            when(needed, scenario),
            when(arrival, scenario),
            scenario.drivers[tour.driver].name,
            when(tour.report, scenario)
        )),
        Some(_) => {}
    }
    let plant = &scenario.plants[pour.load.plant.at()].name;
    let loading = pour.last_due() - pour.load.lead();
    let open_then = |plant: PlantId| {
        plan.plants[plant.at()]
            .open
            .iter()
            .any(|(from, to)| *from <= loading && loading <= *to)
    };
    let mut makers = scenario.makers(&order.mix, &order.plants);
    if !makers.any(open_then) {
        doubts.push(format!(
            "{}: the last load, due at {}, loads at {} at about {}, when no plant that makes {} is open",
            order.name,
            when(pour.last_due(), scenario),
            plant,
            when(round(loading), scenario),
            order.mix
        ));
    }
    let mut on_duty = tours
        .from(loading)
        .take_while(|tour| tour.report <= loading)
        .filter(|tour| tour.end > loading);
    if on_duty.next().is_none() {
        doubts.push(format!(
            "{}: the last load, due at {}, loads at {} at about {}, when no driver's shift is running",
            order.name,
            when(pour.last_due(), scenario),
            plant,
            when(round(loading), scenario)
        ));
    }
    if order.called > order.first - pour.load.lead() {
        doubts.push(format!(
            "{}: called at {}, and a load due at {} must begin to load {} before",
            order.name,
            when(order.called, scenario),
            when(order.first, scenario),
            minutes(pour.load.lead())
        ));
    }
}

/// The earliest arrival of a first load, not before it is due, with the tour that makes it.
fn earliest<'a>(
    pour: &Pour<'_>,
    scenario: &Scenario,
    plan: &Plan,
    tours: &'a Tours,
) -> Option<(Millis, &'a Tour)> {
    let order = pour.order;
    let end_of_day = Millis::midnight(order.first.day() + 1);
    let mut best: Option<(Millis, &Tour)> = None;
    for tour in tours.from(order.first - Millis::DAY) {
        let settled = |at: Millis| at <= order.first + order.setup || at <= tour.ready;
        if tour.report >= end_of_day || best.is_some_and(|(at, _)| settled(at)) {
            break;
        }
        for load in LoadOnPaper::all(scenario, plan.roads(), order) {
            if let Some(at) = arrival(order, scenario, plan, tour, &load)
                && best.is_none_or(|(other, _)| at < other)
            {
                best = Some((at, tour));
            }
        }
    }
    best.map(|(at, tour)| (round(at), tour))
}

/// When a tour can bring the first load from a plant; none if its shift is over by then or the plant closed.
fn arrival(
    order: &Order,
    scenario: &Scenario,
    plan: &Plan,
    tour: &Tour,
    load: &LoadOnPaper,
) -> Option<Millis> {
    let place = scenario.plant_place(load.plant);
    let home = scenario.plant_place(scenario.trucks[tour.truck.at()].home);
    let over = if home == place {
        Millis::ZERO
    } else {
        plan.roads().free_flow(home, place, Haul::Empty)
    };
    if over == Millis::NEVER {
        return None;
    }
    let at_bay = (tour.ready + over).max(order.first - load.lead());
    let (from, _) = plan.plants[load.plant.at()]
        .open
        .iter()
        .find(|(_, to)| *to >= at_bay)?;
    let loading = at_bay.max(*from);
    (loading < tour.end).then_some(loading + load.lead())
}

/// Down to the minute.
fn round(at: Millis) -> Millis {
    Millis(at.0.div_euclid(60_000) * 60_000)
}
