//! How things stand, as a file to edit.

use super::{Carried, DayState, Doing, Unsaid};
use crate::scenario::Scenario;
use crate::units::measure::{self, Quantity};
use crate::units::{Millis, Volume};
use std::fmt::Write;

impl DayState {
    /// The text of a file that reads back as this, times rounded to the minute.
    ///
    /// # Errors
    /// A load of an endless order is under way: a file does not say to which of its sites.
    pub fn to_text(&self, scenario: &Scenario) -> Result<String, String> {
        if let Some(order) = self.endless_under_way(scenario) {
            return Err(format!(
                "how things stand at {} cannot be written: loads of the endless order {order:?} are under way, and a file of how things \
                 stand does not say to which of its sites they go; choose a moment at which none is, or a scenario with orders of a volume",
                self.at
            ));
        }
        let midnight = Millis::midnight(self.at.day());
        let clock = |at: Millis| {
            let minute = Millis::MINUTE.0;
            let minutes = Millis((at - midnight).0.div_euclid(minute) * minute);
            let text = if minutes < Millis::ZERO {
                format!("{} -1", (minutes + Millis::DAY).max(Millis::ZERO))
            } else {
                minutes.to_string()
            };
            format!("{text:?}")
        };
        let quoted = |name: &str| format!("{name:?}");
        let _spoken = measure::speak(scenario.measures);
        let told = |volume: Volume| measure::rounded(Quantity::Volume, volume.yd3(), 6);
        let mut text = String::new();
        let _ = writeln!(
            text,
            "// How things stand, for: plantday trip SCENARIO --state THIS-FILE …\n\
             // Drivers who are not named follow the roster; orders that are not named have not begun.\n(\n{}    \
             day: {}, at: {}, rain: {},\n    drivers: [",
            self.scenario.as_ref().map_or(String::new(), |file| format!(
                "    scenario: {},\n",
                quoted(file)
            )),
            self.at.day() + 1,
            clock(self.at),
            self.rain
        );
        let unsaid = |driver, what| self.unsaid.contains(&(driver, what));
        for state in &self.drivers {
            if unsaid(state.driver, Unsaid::Anything) {
                continue; // follows the roster when it is read again
            }
            let driver = &scenario.drivers[state.driver.at()];
            let carried = |word: &str, load: &Carried| {
                let batched = if word == "Loading" {
                    String::new()
                } else {
                    format!(", batched: {}", clock(load.batched))
                };
                format!(
                    "{word}, order: {}, load: {}, {}: {}, plant: {}{batched}",
                    quoted(&scenario.orders[load.order.at()].name),
                    load.number + 1,
                    measure::key("yd3").0,
                    told(load.volume),
                    quoted(&scenario.plants[load.plant.at()].name)
                )
            };
            let doing = match &state.doing {
                Doing::Off => "Off".to_owned(),
                Doing::Free(plant) => {
                    format!("Free, at: {}", quoted(&scenario.plants[plant.at()].name))
                }
                Doing::Loading(load) => carried("Loading", load),
                Doing::AtRack(load) => carried("AtRack", load),
                Doing::Out(load) => carried("DrivingLoaded", load),
                Doing::OnSite(load) => carried("WaitingOnSite", load),
                Doing::Discharging(load) => carried("Unloading", load),
                Doing::Returning(order) => {
                    format!(
                        "DrivingBack, order: {}",
                        quoted(&scenario.orders[order.at()].name)
                    )
                }
                Doing::Stranded(place) => {
                    format!("OutOfHours, at: {}", quoted(scenario.place_name(*place)))
                }
            };
            let truck = if state.truck == driver.truck {
                String::new()
            } else {
                format!(
                    ", truck: {}",
                    quoted(&scenario.trucks[state.truck.at()].name)
                )
            };
            // To a few hundredths of a second, so that what is kept by many calls does not grow.
            let hours = |of: Millis| (of.hours() * 1e5).round() / 1e5;
            let most = (state.since.max(self.at) - state.reported).hours();
            let driven = hours(state.driven).min(most);
            let week = state
                .week
                .map_or(String::new(), |week| format!(", week_h: {}", hours(week)));
            let driven_h = match unsaid(state.driver, Unsaid::Driven) {
                true => String::new(),
                false => format!(", driven_h: {driven}"),
            };
            let since_break = state.since_break.map_or(String::new(), |of| {
                format!(", since_break_h: {}", hours(of).min(driven))
            });
            let break_over = state
                .break_over
                .filter(|over| *over >= state.reported)
                .map_or(String::new(), |over| {
                    format!(", break_over: {}", clock(over))
                });
            let _ = writeln!(
                text,
                "        (name: {}, doing: {doing}, since: {}, reported: {}{driven_h}{since_break}{break_over}{week}{truck}),",
                quoted(&driver.name),
                clock(state.since),
                clock(state.reported),
            );
        }
        text.push_str("    ],\n    orders: [\n");
        for state in &self.orders {
            let name = quoted(&scenario.orders[state.order.at()].name);
            let _ = if state.cancelled {
                writeln!(text, "        (name: {name}, cancelled: true),")
            } else {
                let ordered = state.ordered.map_or(String::new(), |of| {
                    format!(", {}: {}", measure::key("ordered_yd3").0, told(of))
                });
                let later = if state.later == Millis::ZERO {
                    String::new()
                } else {
                    format!(", later_min: {}", state.later.minutes())
                };
                writeln!(
                    text,
                    "        (name: {name}, {}: {}, {}: {}, loads: {}{ordered}{later}),",
                    measure::key("sent_yd3").0,
                    told(state.sent),
                    measure::key("placed_yd3").0,
                    told(state.placed),
                    state.loads
                )
            };
        }
        text.push_str("    ],\n)\n");
        Ok(text)
    }

    /// The name of an endless order that has a load on a truck, promised to one, or a truck on the way back.
    fn endless_under_way<'s>(&self, scenario: &'s Scenario) -> Option<&'s str> {
        let of_drivers = self.drivers.iter().filter_map(|state| match state.doing {
            Doing::Off | Doing::Free(_) | Doing::Stranded(_) => None,
            Doing::Loading(load)
            | Doing::AtRack(load)
            | Doing::Out(load)
            | Doing::OnSite(load)
            | Doing::Discharging(load) => Some(load.order),
            Doing::Returning(order) => Some(order),
        });
        let of_orders = self.orders.iter().map(|state| state.order);
        of_drivers
            .chain(of_orders)
            .find(|order| order.at() >= scenario.orders.len())
            .map(|order| scenario.order_name(order))
    }
}
