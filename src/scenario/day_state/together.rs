//! What a state says of drivers, trucks, plants and orders must go together.

use super::{Doing, DriverState, OrderState, carried};
use crate::scenario::Scenario;
use crate::scenario::problem::{Problem, Problems, visible};
use crate::scenario::tree::Span;
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, OrderId, PlantId, Volume};

/// Whether every driver may drive the truck, every load fits into its truck, and no plant loads more trucks than it has bays.
/// `places` says where each driver of the file is named.
pub(super) fn check(
    scenario: &Scenario,
    drivers: &[DriverState],
    places: &[(DriverId, Span)],
    problems: &Problems,
) {
    let place = |driver: DriverId| {
        let of = places.iter().find(|(other, _)| *other == driver);
        of.map(|(_, span)| span.clone()).unwrap_or_default()
    };
    for state in drivers.iter().filter(|state| state.doing != Doing::Off) {
        let driver = &scenario.drivers[state.driver.at()];
        let truck = &scenario.trucks[state.truck.at()];
        let lacking = |licence| truck.needs.as_ref().and_then(|need| need.lacking(licence));
        if let Some(lacking) = driver.licence.as_ref().and_then(lacking) {
            let title = format!(
                "\"{}\" may not drive \"{}\"",
                visible(&driver.name, 60),
                visible(&truck.name, 60)
            );
            problems.add::<()>(
                Problem::new(place(state.driver), title)
                    .label(format!("the truck needs {lacking}"))
                    .help("a driver without the class or endorsement may not be sent with it, whoever is short"),
            );
        }
        let volume = carried(&state.doing).map(|load| load.volume);
        let volume = volume.or(state.next.map(|next| next.volume));
        if let Some(volume) = volume.filter(|volume| *volume > truck.capacity) {
            let told = |volume: Volume| measure::plainly(Quantity::Volume, volume.yd3(), 2);
            let title = format!(
                "{} are {} a truck that holds {}",
                told(volume),
                if state.next.is_some() {
                    "promised to"
                } else {
                    "on"
                },
                told(truck.capacity)
            );
            problems.add::<()>(
                Problem::new(place(state.driver), title)
                    .label(format!("expected at most {}", told(truck.capacity))),
            );
        }
    }
    for (at, plant) in scenario.plants.iter().enumerate() {
        let here = |state: &&DriverState| matches!(&state.doing, Doing::Loading(load) if load.plant == PlantId::new(at));
        let mut loading = drivers.iter().filter(here);
        if let Some(beyond) = loading.nth(plant.bays as usize) {
            let title = format!(
                "more trucks load at \"{}\" than it has bays",
                visible(&plant.name, 60)
            );
            problems.add::<()>(
                Problem::new(place(beyond.driver), title)
                    .label(format!("expected at most {} loading there", plant.bays)),
            );
        }
    }
}

/// Whether what is on trucks is what has been sent and is not placed. `orders` with where each is named.
pub(super) fn check_volumes(
    drivers: &[DriverState],
    (orders, places): (&[OrderState], &[(OrderId, Span)]),
    problems: &Problems,
) {
    for order in orders {
        let loads = drivers.iter().filter_map(|state| carried(&state.doing));
        let loads = loads.filter(|load| load.order == order.order);
        let loads: Vec<Volume> = loads.map(|load| load.volume).collect();
        let on_trucks: Volume = loads.iter().copied().sum();
        // Each is written to a thousandth.
        let rounding = Volume::thousandths(1 + loads.len() as i64);
        let place = places.iter().find(|(other, _)| *other == order.order);
        if let Some((_, place)) = place
            && order.placed <= order.sent
            && on_trucks > order.sent - order.placed + rounding
        {
            let told = |volume: Volume| measure::plainly(Quantity::Volume, volume.yd3(), 2);
            let title = format!(
                "{} of this order are on trucks, of {} sent and not placed",
                told(on_trucks),
                told(order.sent - order.placed)
            );
            problems.add::<()>(
                Problem::new(place.clone(), title)
                    .label("expected `sent_yd3` less `placed_yd3` to be what is on trucks"),
            );
        }
    }
}

/// Whether what is promised is left to be sent.
pub(super) fn check_promised(
    scenario: &Scenario,
    (drivers, places): (&[DriverState], &[(DriverId, Span)]),
    orders: &[OrderState],
    problems: &Problems,
) {
    for (at, order) in scenario.orders.iter().enumerate() {
        let id = OrderId::new(at);
        let done = orders.iter().find(|done| done.order == id);
        let ordered = done.and_then(|done| done.ordered).unwrap_or(order.volume);
        let left = ordered - done.map_or(Volume::ZERO, |done| done.sent);
        let mut promised = Volume::ZERO;
        for (nth, state) in (1..).zip(drivers) {
            let Some(next) = state.next.filter(|next| next.order == id) else {
                continue;
            };
            promised += next.volume;
            let cancelled = done.is_some_and(|done| done.cancelled);
            if promised <= left + Volume::thousandths(nth) && !cancelled {
                continue;
            }
            let told = |volume: Volume| measure::plainly(Quantity::Volume, volume.yd3(), 2);
            let title = match cancelled {
                true => format!(
                    "a load of \"{}\" is promised, which is canceled",
                    order.name
                ),
                false => format!(
                    "{} of \"{}\" are promised to trucks, of {} that are left to be sent",
                    told(promised),
                    visible(&order.name, 60),
                    told(left.max(Volume::ZERO))
                ),
            };
            let place = places.iter().find(|(driver, _)| *driver == state.driver);
            let place = place.map(|(_, span)| span.clone()).unwrap_or_default();
            problems.add::<()>(Problem::new(place, title).label(
                "expected what is promised and what is sent to be what is ordered, at most",
            ));
            break;
        }
    }
}
