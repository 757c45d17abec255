//! How things stand, kept up by what drivers call in: `R6 out "Half wall" 13:36`, `R6 back 14:05`.
//!
//! Hours driven and what of an order is placed go along. Where a call was missed, the time in which it may have been driven counts
//! as driven.

use super::{Carried, DayState, Doing, DriverState, OrderState, Unsaid};
use crate::hours::RuleSet;
use crate::scenario::decode::moment_of;
use crate::scenario::problem::{listed, nearest};
use crate::scenario::{History, Scenario};
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// What can be called in of a driver, and what goes with it.
pub const CALLS: [(&str, &str); 12] = [
    ("in", "has reported; also: week HOURS, a truck"),
    ("free", "stands free at the home plant, or the plant named"),
    ("loading", "loads for ORDER; also: so many yd³"),
    ("rack", "is at the slump rack"),
    ("out", "has left with the load; from free: for ORDER"),
    ("site", "is on site and waits"),
    ("unloading", "unloads"),
    ("back", "has left the site, empty"),
    ("break", "has had a break, over now"),
    ("stuck", "is out of hours at PLACE"),
    ("off", "is off duty"),
    ("driven", "HOURS driven in this tour so far"),
];

/// What words after the call may say.
#[derive(Default)]
struct Said {
    time: Option<Millis>,
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
    if who == "order" {
        return order_call(state, scenario, what, rest);
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
    state.follow_anew(scenario);
    Ok(of.map_or_else(String::new, |of| told(&of, scenario)))
}

/// `order "Wall" cancelled`, `order "Wall" ordered 54.5`, `order "Wall" later 40`.
fn order_call(
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
        if word.contains(':') {
            let time = moment_of(word).filter(|time| *time < Millis::DAY);
            let time = time.ok_or_else(|| format!("{word:?} is no time, like 13:36"))?;
            said.time = Some(Millis::midnight(state.at.day()) + time);
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

/// The stages of a load, in their order.
const STAGES: [&str; 7] = [
    "free",
    "loading",
    "rack",
    "out",
    "site",
    "unloading",
    "back",
];

fn stage(doing: &Doing) -> Option<usize> {
    match doing {
        Doing::Free(_) => Some(0),
        Doing::Loading(_) => Some(1),
        Doing::AtRack(_) => Some(2),
        Doing::Out(_) => Some(3),
        Doing::OnSite(_) => Some(4),
        Doing::Discharging(_) => Some(5),
        Doing::Returning(_) => Some(6),
        Doing::Off | Doing::Stranded(_) => None,
    }
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
            "off" => {
                let driven = self.driven(&now, true);
                self.put(DriverState {
                    doing: Doing::Off,
                    since: self.time,
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
                    ..now
                });
                Ok(())
            }
            "stuck" => {
                let place = said
                    .place
                    .ok_or("expected the plant or site where the truck stands")?;
                let driven = self.driven(&now, true);
                self.put(DriverState {
                    doing: Doing::Stranded(place),
                    since: self.time,
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
        let drives = matches!(now.doing, Doing::Out(_) | Doing::Returning(_));
        let loaded = !matches!(now.doing, Doing::Off | Doing::Free(_) | Doing::Stranded(_));
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
            self.put(DriverState {
                doing: Doing::Free(plant),
                since: self.time,
                ..*now
            });
            return Ok(());
        }
        if from == 0 && !matches!(call, "loading" | "out") {
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
        let missed = (from + 1..to_end).any(|stage| matches!(STAGES[stage], "out" | "back"));
        let mut next = self.driven(now, missed && from > 0);
        let carried = match super::carried(&now.doing) {
            Some(carried) => Some(*carried),
            None if from == 0 => Some(self.new_load(now, call, said)?),
            None => None,
        };
        // What was on the truck is placed once it has left the site.
        if let Some(load) = carried.filter(|_| from < 6 && to_end >= 6) {
            order_state(self.state, load.order).placed += load.volume;
        }
        let load = || carried.ok_or_else(|| "it carries no load".to_owned());
        next.doing = match to {
            0 => Doing::Free(self.plant(said, now)?),
            1 => Doing::Loading(load()?),
            2 => Doing::AtRack(load()?),
            3 => Doing::Out(load()?),
            4 => Doing::OnSite(load()?),
            5 => Doing::Discharging(load()?),
            _ => Doing::Returning(load()?.order),
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
                Doing::Free(plant) => plant,
                _ => self.scenario.trucks[now.truck.at()].home,
            }),
        }
    }

    /// The order's next load, on this truck.
    fn new_load(&mut self, now: &DriverState, call: &str, said: &Said) -> Result<Carried, String> {
        let order = said
            .order
            .ok_or_else(|| format!("expected the order after {call}"))?;
        let plant = match now.doing {
            Doing::Free(plant) => plant,
            _ => self.scenario.trucks[now.truck.at()].home,
        };
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
            None => asked.load.min(truck.capacity).min(left),
        };
        let number = of.loads;
        of.loads += 1;
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

fn words_of(doing: &Doing) -> &'static str {
    match doing {
        Doing::Off => "off duty",
        Doing::Free(_) => "free",
        Doing::Loading(_) => "loading",
        Doing::AtRack(_) => "at the slump rack",
        Doing::Out(_) => "driving loaded",
        Doing::OnSite(_) => "waiting on site",
        Doing::Discharging(_) => "unloading",
        Doing::Returning(_) => "driving back",
        Doing::Stranded(_) => "out of hours",
    }
}

/// A driver in one line: `R6: driving loaded since 13:36, load 2 of "Half wall"; 2 h 10 min driven`.
pub fn told(of: &DriverState, scenario: &Scenario) -> String {
    let where_to = match &of.doing {
        Doing::Free(plant) => format!(" at {}", scenario.plants[plant.at()].name),
        Doing::Stranded(place) => format!(" at {}", scenario.place_name(*place)),
        doing => super::carried(doing).map_or(String::new(), |load| {
            format!(
                ", load {} of {:?}",
                load.number + 1,
                scenario.orders[load.order.at()].name
            )
        }),
    };
    let minutes = of.driven.minutes().round() as i64;
    format!(
        "{}: {}{where_to} since {}; {} h {:02} min driven",
        scenario.drivers[of.driver.at()].name,
        words_of(&of.doing),
        clock(of.since),
        minutes / 60,
        minutes % 60
    )
}
