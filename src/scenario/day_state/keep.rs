//! How things stand, kept up by what drivers call in: `R6 out "Half wall" 13:36`, `R6 back 14:05`.
//!
//! Hours driven and what of an order is placed go along. Where a call was missed, the time in which it may have been driven counts
//! as driven.

mod beside_work;
mod stages;
mod told;
mod whole_desk;

pub use told::told;

use stages::{BACK, LOADING, OUT, QUEUE, RACK, STAGES, WASHING, after_break, drives_on, stage};
use told::words_of;
use whole_desk::{order_call, plant_call, traffic_call};

use super::numbers::after_all;
use super::{Carried, DayState, Doing, DriverState, OrderState, Pause, Unsaid};
use crate::hours::RuleSet;
use crate::scenario::decode::moment_of;
use crate::scenario::problem::{listed, nearest};
use crate::scenario::{History, Scenario};
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// What can be called in of a driver, and what goes with it.
pub const CALLS: [(&str, &str); 21] = [
    ("in", "has reported; also: week HOURS, a truck"),
    ("free", "stands free at the home plant, or the plant named"),
    (
        "promised",
        "is to load for ORDER next; also: a plant, so many yd³",
    ),
    ("sent", "drives empty to PLANT"),
    (
        "queue",
        "waits for a bay, with the load promised or for ORDER",
    ),
    ("loading", "loads for ORDER; also: so many yd³"),
    ("rack", "is at the slump rack"),
    ("out", "has left with the load; from free: for ORDER"),
    ("site", "is on site and waits"),
    ("unloading", "unloads"),
    ("washing", "washes the chute"),
    ("back", "has left the site, empty"),
    ("pause", "has begun a break; also: until TIME"),
    ("break", "has had a break, over now"),
    ("down", "has broken down; also: until TIME"),
    ("going", "is repaired and goes on"),
    ("stuck", "is out of hours at PLACE"),
    (
        "resting",
        "is off duty beside the truck, out of hours at PLACE",
    ),
    ("washout", "washes the truck out, to go home"),
    ("off", "is off duty"),
    ("driven", "HOURS driven in this tour so far"),
];

/// What words after the call may say.
#[derive(Default)]
struct Said {
    time: Option<Millis>,
    until: Option<Millis>,
    order: Option<OrderId>,
    place: Option<PlaceId>,
    truck: Option<TruckId>,
    number: Option<f64>,
    week: Option<Millis>,
}

/// Takes down one call. What has become of it, in words.
///
/// # Errors
/// In words, if it cannot be: a name that is not known, a time before the last call, a stage that does not follow.
pub fn call(state: &mut DayState, scenario: &Scenario, words: &[String]) -> Result<String, String> {
    let [who, what, rest @ ..] = words else {
        return Err(format!(
            "expected a driver and what was called in, like R6 out \"Half wall\" 13:36; calls are {}",
            listed(CALLS.iter().map(|(call, _)| *call))
        ));
    };
    match who.as_str() {
        "order" => return order_call(state, scenario, what, rest),
        "plant" => {
            let told = plant_call(state, scenario, what, rest)?;
            state.let_pass();
            return Ok(told);
        }
        "traffic" if rest.is_empty() => return traffic_call(state, what),
        _ => {}
    }
    let driver = DriverId::new(found(
        "driver",
        who,
        scenario.drivers.iter().map(|driver| driver.name.as_str()),
    )?);
    let call = CALLS[found("call", what, CALLS.iter().map(|(call, _)| *call))?].0;
    let said = said(state, scenario, rest)?;
    let time = said.time.unwrap_or(state.at);
    let mut desk = Desk {
        scenario,
        state,
        driver,
        time,
    };
    desk.take(call, &said)?;
    let of = desk.standing().copied();
    state.at = state.at.max(time);
    state.let_pass();
    state.follow_anew(scenario);
    Ok(of.map_or_else(String::new, |of| told(&of, scenario)))
}

fn order_state(state: &mut DayState, order: OrderId) -> &mut OrderState {
    let at = state.orders.iter().position(|of| of.order == order);
    let at = at.unwrap_or_else(|| {
        state.orders.push(OrderState {
            order,
            ordered: None,
            later: Millis::ZERO,
            sent: Volume::ZERO,
            placed: Volume::ZERO,
            loads: 0,
            cancelled: false,
        });
        state.orders.len() - 1
    });
    &mut state.orders[at]
}

fn found<'n>(
    what: &str,
    text: &str,
    names: impl Iterator<Item = &'n str> + Clone,
) -> Result<usize, String> {
    let same = names.clone().position(|name| name == text);
    same.ok_or_else(|| match nearest(text, names.clone()) {
        Some(near) => format!("there is no {what} {text:?}; a similar one is {near:?}"),
        None => format!("there is no {what} {text:?}; there are {}", listed(names)),
    })
}

fn said(state: &DayState, scenario: &Scenario, rest: &[String]) -> Result<Said, String> {
    let mut said = Said::default();
    let mut words = rest.iter();
    while let Some(word) = words.next() {
        if word == "week" {
            let hours = words.next().and_then(|hours| hours.parse::<f64>().ok());
            let hours = hours.filter(|hours| (0.0..=168.0).contains(hours));
            said.week = Some(Millis::from_hours(
                hours.ok_or("expected hours from 0 to 168 after week")?,
            ));
            continue;
        }
        let time_of = |word: &str| {
            let time = moment_of(word).filter(|time| *time < Millis::DAY);
            let time = time.ok_or_else(|| format!("{word:?} is no time, like 13:36"))?;
            Ok::<_, String>(Millis::midnight(state.at.day()) + time)
        };
        if word == "until" {
            let time = words.next().ok_or("expected a time after until")?;
            said.until = Some(time_of(time)?);
            continue;
        }
        if word.contains(':') {
            said.time = Some(time_of(word)?);
            continue;
        }
        if let Ok(number) = word.trim_end_matches("yd3").parse::<f64>() {
            said.number = Some(number);
            continue;
        }
        let orders = scenario.orders.iter().map(|order| order.name.as_str());
        let plants = scenario.plants.iter().map(|plant| plant.name.as_str());
        let places = plants.chain(scenario.sites.iter().map(|site| site.name.as_str()));
        let trucks = scenario.trucks.iter().map(|truck| truck.name.as_str());
        let is = |name: &str| name == word;
        if let Some(order) = orders.clone().position(is) {
            said.order = Some(OrderId::new(order));
        } else if let Some(place) = places.clone().position(is) {
            said.place = Some(PlaceId::new(place));
        } else if let Some(truck) = trucks.clone().position(is) {
            said.truck = Some(TruckId::new(truck));
        } else {
            let all = orders.chain(places).chain(trucks);
            let near = nearest(word, all).map_or(String::new(), |near| {
                format!("; a similar name is {near:?}")
            });
            return Err(format!(
                "{word:?} is no time, order, plant, site or truck{near}"
            ));
        }
    }
    Ok(said)
}

struct Desk<'a> {
    scenario: &'a Scenario,
    state: &'a mut DayState,
    driver: DriverId,
    time: Millis,
}

impl Desk<'_> {
    fn standing(&self) -> Option<&DriverState> {
        let mut drivers = self.state.drivers.iter();
        drivers.find(|of| of.driver == self.driver)
    }

    fn name(&self) -> &str {
        &self.scenario.drivers[self.driver.at()].name
    }

    fn rules(&self) -> Option<&RuleSet> {
        let book = self.scenario.drivers[self.driver.at()].rule_book;
        book.of(&self.scenario.rule_sets)
    }

    fn put(&mut self, standing: DriverState) {
        self.state
            .unsaid
            .retain(|unsaid| *unsaid != (self.driver, Unsaid::Anything));
        match self
            .state
            .drivers
            .iter_mut()
            .find(|of| of.driver == self.driver)
        {
            Some(of) => *of = standing,
            None => self.state.drivers.push(standing),
        }
    }

    fn take(&mut self, call: &str, said: &Said) -> Result<(), String> {
        if call == "in" {
            return self.report(said);
        }
        let Some(now) = self.standing().copied() else {
            return Err(format!(
                "{} is not at work: {} in TIME comes first",
                self.name(),
                self.name()
            ));
        };
        let follows = (self.driver, Unsaid::Anything);
        let follows = self.state.unsaid.contains(&follows);
        if self.time < now.since && now.doing != Doing::Off && !follows {
            return Err(format!(
                "{} was {} at {} already; {} is before that",
                self.name(),
                words_of(&now.doing),
                clock(now.since),
                clock(self.time)
            ));
        }
        match call {
            "driven" => {
                let hours = said.number.ok_or("expected hours after driven, like 3.5")?;
                let driven = Millis::from_hours(hours);
                self.known(Unsaid::Driven);
                self.put(DriverState {
                    driven,
                    since_break: now.since_break.map(|since| since.min(driven)),
                    ..now
                });
                return Ok(());
            }
            "off" | "washout" => {
                let driven = self.driven(&now, true);
                if call == "washout" && now.doing == Doing::Off {
                    return Err(format!("{} is off duty", self.name()));
                }
                self.put(DriverState {
                    doing: match call {
                        "off" => Doing::Off,
                        _ => Doing::WashingOut,
                    },
                    since: self.time,
                    until: None,
                    next: None,
                    ..driven
                });
                return Ok(());
            }
            _ => {}
        }
        if now.doing == Doing::Off {
            return Err(format!(
                "{} is off duty since {}: {} in TIME comes first",
                self.name(),
                clock(now.since),
                self.name()
            ));
        }
        match call {
            "break" => {
                self.known(Unsaid::Break);
                self.put(DriverState {
                    since_break: Some(Millis::ZERO),
                    break_over: Some(self.time),
                    until: None,
                    since: match now.doing {
                        Doing::OnBreak(_) => self.time,
                        _ => now.since,
                    },
                    doing: after_break(now.doing),
                    ..now
                });
                Ok(())
            }
            "pause" => self.pause(&now, said),
            "down" => self.breaks_down(&now, said),
            "going" => {
                let Doing::BrokenDown(standstill) = &now.doing else {
                    return Err(format!(
                        "{} is {}: {} down TIME comes first",
                        self.name(),
                        words_of(&now.doing),
                        self.name()
                    ));
                };
                let driven = self.driven(&now, false);
                self.put(DriverState {
                    doing: drives_on(standstill),
                    since: self.time,
                    until: None,
                    ..driven
                });
                Ok(())
            }
            "promised" => {
                let next = self.promise(&now, said)?;
                self.put(DriverState {
                    next: Some(next),
                    ..now
                });
                Ok(())
            }
            "sent" => self.sent(&now, said),
            "stuck" | "resting" => {
                let stands = match now.doing {
                    Doing::Stranded(place) => Some(place),
                    _ => None,
                };
                let place = said
                    .place
                    .or(stands)
                    .ok_or("expected the plant or site where the truck stands")?;
                let driven = self.driven(&now, true);
                self.put(DriverState {
                    doing: match call {
                        "stuck" => Doing::Stranded(place),
                        _ => Doing::Resting(place),
                    },
                    since: self.time,
                    until: None,
                    next: None,
                    ..driven
                });
                Ok(())
            }
            _ => self.stage(call, &now, said),
        }
    }

    fn known(&mut self, what: Unsaid) {
        self.state
            .unsaid
            .retain(|unsaid| *unsaid != (self.driver, what));
    }

    fn report(&mut self, said: &Said) -> Result<(), String> {
        let person = &self.scenario.drivers[self.driver.at()];
        if let Some(now) = self.standing()
            && now.doing != Doing::Off
            && !self.state.unsaid.contains(&(self.driver, Unsaid::Anything))
        {
            return Err(format!(
                "{} is at work since {}",
                person.name,
                clock(now.reported)
            ));
        }
        let weekly = self.rules().is_some_and(|rules| rules.cycle.is_some());
        if said.week.is_none() && weekly && person.history == History::default() {
            return Err(format!(
                "how long {} worked in the days before is not known\n  expected week HOURS, like: {} in 06:00 week 32",
                person.name, person.name
            ));
        }
        let truck = said.truck.unwrap_or(person.truck);
        let home = self.scenario.trucks[truck.at()].home;
        let standing = DriverState {
            driver: self.driver,
            truck,
            doing: Doing::Free(home),
            since: self.time,
            until: None,
            next: None,
            reported: self.time,
            driven: Millis::ZERO,
            since_break: Some(Millis::ZERO),
            break_over: None,
            week: said.week,
        };
        self.put(standing);
        Ok(())
    }

    /// The same, with what has been driven since the last call: all of it where `whole`, or where it was driving.
    fn driven(&self, now: &DriverState, whole: bool) -> DriverState {
        // Standing beside the road is part of the drive.
        let drives = matches!(
            now.doing,
            Doing::Out(_)
                | Doing::Returning(_)
                | Doing::Repositioning(..)
                | Doing::GoingHome(_)
                | Doing::BrokenDown(_)
        );
        let loaded = !matches!(
            now.doing,
            Doing::Off
                | Doing::Checking
                | Doing::Free(_)
                | Doing::Stranded(_)
                | Doing::Resting(_)
                | Doing::OnBreak(Pause::Free(_))
        );
        let more = match drives || whole && loaded {
            true => self.time - now.since,
            false => Millis::ZERO,
        };
        DriverState {
            driven: now.driven + more,
            since_break: now.since_break.map(|since| since + more),
            ..*now
        }
    }

    /// The next stage of a load, or one after it.
    fn stage(&mut self, call: &str, now: &DriverState, said: &Said) -> Result<(), String> {
        let to = STAGES.iter().position(|stage| *stage == call);
        let to = to.expect("the other calls are taken");
        let from = stage(&now.doing).ok_or_else(|| {
            format!(
                "{} is {}: {} in TIME comes first",
                self.name(),
                words_of(&now.doing),
                self.name()
            )
        })?;
        // Back at the plant: after all stages.
        let to_end = if to == 0 { STAGES.len() } else { to };
        if from == 0 && to == 0 {
            let plant = self.plant(said, now)?;
            let driven = self.driven(now, false);
            self.put(DriverState {
                doing: Doing::Free(plant),
                since: self.time,
                until: None,
                ..driven
            });
            return Ok(());
        }
        // Who is promised a load on the way back may queue for it.
        let queues = to == QUEUE && from == BACK && now.next.is_some();
        let from = if queues { 0 } else { from };
        if from == 0 && !matches!(call, "queue" | "loading" | "out") {
            return Err(format!(
                "{} is free since {}: {} loading ORDER, or {} out ORDER, comes first",
                self.name(),
                clock(now.since),
                self.name(),
                self.name()
            ));
        }
        if from >= to_end {
            return Err(format!(
                "{} is {} since {}: {call} does not follow",
                self.name(),
                words_of(&now.doing),
                clock(now.since)
            ));
        }
        // Of a drive that was not called in the whole time counts, which is the careful side.
        let missed = (from + 1..to_end).any(|stage| matches!(stage, OUT | BACK));
        let mut next = self.driven(now, missed && from > 0);
        next.until = None;
        if to == QUEUE {
            let promised = self.promise(now, said)?;
            self.put(DriverState {
                doing: Doing::Queueing(promised.plant),
                since: self.time,
                next: Some(promised),
                ..next
            });
            return Ok(());
        }
        let carried = match super::carried(&now.doing) {
            Some(carried) => Some(*carried),
            None if from <= QUEUE && to_end < STAGES.len() => {
                next.next = None;
                Some(self.new_load(now, call, said)?)
            }
            None => None,
        };
        // What was on the truck is placed once it has been unloaded.
        if let Some(load) = carried.filter(|_| from < WASHING && to_end >= WASHING) {
            order_state(self.state, load.order).placed += load.volume;
        }
        let load = || carried.ok_or_else(|| "it carries no load".to_owned());
        let site_of = || match now.doing {
            Doing::Washing(order) | Doing::OnBreak(Pause::OnSite(order)) => Ok(order),
            _ => load().map(|load| load.order),
        };
        next.doing = match to {
            0 => Doing::Free(self.plant(said, now)?),
            LOADING => Doing::Loading(load()?),
            RACK => Doing::AtRack(load()?),
            OUT => Doing::Out(load()?),
            5 => Doing::OnSite(load()?),
            6 => Doing::Discharging(load()?),
            WASHING => Doing::Washing(load()?.order),
            _ => Doing::Returning(site_of()?),
        };
        next.since = self.time;
        self.put(next);
        Ok(())
    }

    fn plant(&self, said: &Said, now: &DriverState) -> Result<PlantId, String> {
        match said.place {
            Some(place) if place.at() < self.scenario.plants.len() => Ok(PlantId::new(place.at())),
            Some(_) => Err("expected a plant, not a site".to_owned()),
            None => Ok(match now.doing {
                Doing::Free(plant)
                | Doing::Queueing(plant)
                | Doing::Repositioning(_, plant)
                | Doing::OnBreak(Pause::Free(plant)) => plant,
                _ => self.scenario.trucks[now.truck.at()].home,
            }),
        }
    }

    /// The order's next load, on this truck.
    fn new_load(&mut self, now: &DriverState, call: &str, said: &Said) -> Result<Carried, String> {
        let order = said.order.or(now.next.map(|next| next.order));
        let order = order.ok_or_else(|| format!("expected the order after {call}"))?;
        let promised = now.next.filter(|next| next.order == order);
        let plant = match (promised, now.doing) {
            (Some(next), _) => next.plant,
            (None, Doing::Free(plant)) => plant,
            _ => self.scenario.trucks[now.truck.at()].home,
        };
        let others = self
            .state
            .drivers
            .iter()
            .filter(|of| of.driver != self.driver);
        let others: Vec<DriverState> = others.copied().collect();
        let asked = &self.scenario.orders[order.at()];
        let truck = &self.scenario.trucks[now.truck.at()];
        let of = order_state(self.state, order);
        let ordered = of.ordered.unwrap_or(asked.volume);
        let left = ordered - of.sent;
        if left <= Volume::ZERO {
            return Err(format!(
                "nothing is left of order {:?}: {} are sent",
                asked.name,
                measure::plainly(Quantity::Volume, of.sent.yd3(), 2)
            ));
        }
        let volume = match said.number {
            Some(written) => Volume::from_yd3(Quantity::Volume.heard(written)),
            None => promised.map_or(asked.load.min(truck.capacity).min(left), |next| next.volume),
        };
        let sent = [*of];
        let number = promised.map_or(after_all(&sent, &others, order), |next| next.number);
        of.loads = of.loads.max(number + 1);
        of.sent += volume;
        // Whoever calls in only that the truck has left has loaded it before, as long as that takes on average.
        let plants = &self.scenario.plants[plant.at()];
        let before = match call {
            "out" => plants.mean_loading().mean(volume) + Millis::from_minutes(plants.rack.mean()),
            _ => Millis::ZERO,
        };
        Ok(Carried {
            order,
            number,
            volume,
            plant,
            batched: (self.time - before).max(now.reported),
        })
    }
}

fn clock(at: Millis) -> String {
    (at - Millis::midnight(at.day())).to_string()
}
