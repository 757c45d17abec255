//! How things stand, as a file to edit.

use super::follow::as_planned;
use super::{Carried, DayState, Doing, Drive, DriverState, Pause, Standstill, Unsaid, carried};
use crate::scenario::Scenario;
use crate::units::measure::{self, Quantity};
use crate::units::{Millis, OrderId, PlaceId, PlantId, Volume};
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
        // The night after the last day belongs to that day.
        let last = i64::from(scenario.period.days) - 1;
        let midnight = Millis::midnight(self.at.day().min(last));
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
             // Drivers who are not named follow the roster; orders that are not named {}.\n(",
            match self.orders_as_planned {
                true => "are as planned",
                false => "have not begun",
            }
        );
        if let Some(file) = &self.scenario {
            let _ = writeln!(text, "    scenario: {},", quoted(file));
        }
        if let Some(simulated) = &self.simulated {
            simulated.write(&mut text);
        }
        let _ = writeln!(
            text,
            "    day: {}, at: {}, rain: {},{}\n    drivers: [",
            midnight.day() + 1,
            clock(self.at),
            self.rain,
            self.traffic
                .map_or(String::new(), |times| format!(" traffic: {times},"))
        );
        let unsaid = |driver, what| self.unsaid.contains(&(driver, what));
        for state in &self.drivers {
            if unsaid(state.driver, Unsaid::Anything) {
                continue; // follows the roster when it is read again
            }
            let driver = &scenario.drivers[state.driver.at()];
            let doing = doing_text(scenario, state, &clock);
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
        text.push_str("    ],\n");
        if !self.plants.is_empty() {
            text.push_str("    plants: [\n");
        }
        for state in &self.plants {
            let name = quoted(&scenario.plants[state.plant.at()].name);
            let until = state
                .until
                .map(|until| format!(", until: {}", clock(until)));
            let _ = writeln!(
                text,
                "        (name: {name}, down_since: {}{}),",
                clock(state.since),
                until.unwrap_or_default()
            );
        }
        if !self.plants.is_empty() {
            text.push_str("    ],\n");
        }
        if self.orders_as_planned {
            text.push_str("    orders_as_planned: true,\n");
        }
        text.push_str("    orders: [\n");
        for state in &self.orders {
            let planned = || as_planned(scenario, state.order, self.at, &self.drivers);
            if self.orders_as_planned && planned().as_ref() == Some(state) {
                continue;
            }
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
        let of_drivers = self.drivers.iter().flat_map(|state| {
            let of = match state.doing {
                Doing::Washing(order)
                | Doing::Returning(order)
                | Doing::OnBreak(Pause::OnSite(order))
                | Doing::BrokenDown(Standstill {
                    drive: Drive::Back(order),
                    ..
                }) => Some(order),
                doing => carried(&doing).map(|load| load.order),
            };
            of.into_iter().chain(state.next.map(|next| next.order))
        });
        let of_orders = self.orders.iter().map(|state| state.order);
        of_drivers
            .chain(of_orders)
            .find(|order| order.at() >= scenario.orders.len())
            .map(|order| scenario.order_name(order))
    }
}

/// What a driver does, with what belongs to it.
fn doing_text(
    scenario: &Scenario,
    state: &DriverState,
    clock: &impl Fn(Millis) -> String,
) -> String {
    let order = |order: OrderId| format!("order: {:?}", scenario.orders[order.at()].name);
    let plant = |plant: PlantId| format!("{:?}", scenario.plants[plant.at()].name);
    let place = |place: PlaceId| format!("{:?}", scenario.place_name(place));
    let volume = |volume: Volume| measure::rounded(Quantity::Volume, volume.yd3(), 6);
    let load = |load: &Carried| {
        format!(
            "{}, load: {}, {}: {}, plant: {}",
            order(load.order),
            load.number + 1,
            measure::key("yd3").0,
            volume(load.volume),
            plant(load.plant)
        )
    };
    let on_truck = |of: &Carried| format!("{}, batched: {}", load(of), clock(of.batched));
    let next = |before: &str| {
        state.next.map_or(String::new(), |next| {
            format!(
                "{before}order: {:?}, {before}load: {}, {before}{}: {}, {before}plant: {}",
                scenario.orders[next.order.at()].name,
                next.number + 1,
                measure::key("yd3").0,
                volume(next.volume),
                plant(next.plant)
            )
        })
    };
    let mut text = match &state.doing {
        Doing::Off => "Off".to_owned(),
        Doing::Checking => "CheckingTruck".to_owned(),
        Doing::Free(at) => format!("Free, at: {}", plant(*at)),
        Doing::Queueing(_) => return format!("WaitingToLoad, {}", next("")),
        Doing::Loading(of) => format!("Loading, {}", load(of)),
        Doing::AtRack(of) => format!("AtRack, {}", on_truck(of)),
        Doing::Out(of) => format!("DrivingLoaded, {}", on_truck(of)),
        Doing::OnSite(of) => format!("WaitingOnSite, {}", on_truck(of)),
        Doing::Discharging(of) => format!("Unloading, {}", on_truck(of)),
        Doing::Washing(of) => format!("WashingChute, {}", order(*of)),
        Doing::Returning(of) => format!("DrivingBack, {}", order(*of)),
        Doing::Repositioning(from, to) => {
            format!("DrivingEmpty, from: {}, to: {}", place(*from), plant(*to))
        }
        Doing::OnBreak(pause) => match pause {
            Pause::Free(at) => format!("OnBreak, at: {}", plant(*at)),
            Pause::Loaded(of) => format!("OnBreak, {}", on_truck(of)),
            Pause::OnSite(of) => format!("OnBreak, {}", order(*of)),
        },
        Doing::BrokenDown(standstill) => {
            let drive = match &standstill.drive {
                Drive::Out(of) => on_truck(of),
                Drive::Back(of) => order(*of),
                Drive::To(from, to) => format!("from: {}, to: {}", place(*from), plant(*to)),
            };
            let drum = standstill.drum_turns;
            let drum = drum.map_or(String::new(), |turns| format!(", drum_turns: {turns}"));
            format!(
                "BrokenDown, {drive}, left: {}{drum}",
                clock(standstill.left)
            )
        }
        Doing::Resting(at) => format!("OutOfHours, at: {}, resting: true", place(*at)),
        Doing::Stranded(at) => format!("OutOfHours, at: {}", place(*at)),
        Doing::GoingHome(from) => format!("GoingHome, from: {}", place(*from)),
        Doing::WashingOut => "WashingOut".to_owned(),
    };
    if state.next.is_some() {
        let _ = write!(text, ", {}", next("next_"));
    }
    if let Some(until) = state.until {
        let _ = write!(text, ", until: {}", clock(until));
    }
    text
}
