//! What may turn out otherwise than a scenario assumes: the changes under which a decision is tried.

use super::more;
use crate::scenario::{Driver, Order, Scenario};
use crate::units::{Millis, PlantId};

/// One thing that turns out otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surprise {
    /// More or fewer orders: factor on how many, more than 0, at most 2. Whole orders are added or left out, evenly along the book.
    Orders(f64),
    /// A plant stands still for a morning, on the day with the most ordered volume.
    PlantDown(PlantId),
    /// A truck less at each plant that has two or more, with its drivers.
    TruckFewer,
    /// A driver less at each plant that has two or more.
    DriverFewer,
    /// Factor on the minutes of every trip.
    Traffic(f64),
    /// Factor on how far trips scatter about their mean.
    RoadLuck(f64),
    /// Factor on the minutes of every discharge.
    Discharge(f64),
    /// Factor on the share of sites that are not ready.
    NotReady(f64),
    /// Factor on the share of loads that are misread at the rack.
    Misread(f64),
    /// Another age limit for the concrete, minutes.
    AgeLimit(f64),
    /// Factor on the prices of lateness.
    LatePrice(f64),
    /// Factor on the goodwill lost with a yd³ that is not delivered and with a stranded driver.
    Goodwill(f64),
    /// Factor on the share of driver days on which the driver does not come.
    NoShows(f64),
    /// A rainy day more in the period: it cancels outdoor pours and slows the roads.
    RainyDay,
}

/// When a plant that is down for a morning is down, since midnight.
const MORNING: (Millis, Millis) = (Millis(6 * Millis::HOUR.0), Millis(11 * Millis::HOUR.0));

impl Surprise {
    /// The usual ones for a scenario; those that cannot be do not apply ([`apply`](Self::apply)).
    pub fn usual(scenario: &Scenario) -> Vec<Self> {
        let plants = (0..scenario.plants.len()).map(|at| Self::PlantDown(PlantId::new(at)));
        let mut all = vec![Self::Orders(0.9), Self::Orders(1.1)];
        all.extend(plants);
        // Where another than one of these is written, all three are other limits.
        let today = scenario.concrete.age_limit.map(Millis::minutes);
        let limits = [60.0, 90.0, 120.0].into_iter();
        all.extend(
            limits
                .filter(|limit| today != Some(*limit))
                .map(Self::AgeLimit),
        );
        all.extend([
            Self::TruckFewer,
            Self::DriverFewer,
            Self::Traffic(0.9),
            Self::Traffic(1.15),
            Self::RoadLuck(0.5),
            Self::RoadLuck(1.5),
            Self::Discharge(1.2),
            Self::NotReady(2.0),
            Self::Misread(0.5),
            Self::Misread(2.0),
            Self::LatePrice(0.5),
            Self::LatePrice(2.0),
            Self::Goodwill(0.5),
            Self::Goodwill(2.0),
            Self::NoShows(2.0),
            Self::RainyDay,
        ]);
        all
    }

    /// The few that are looked at in passing.
    pub fn few(scenario: &Scenario) -> Vec<Self> {
        let mut few = Self::usual(scenario);
        few.retain(|surprise| {
            matches!(
                surprise,
                Self::Orders(_)
                    | Self::PlantDown(_)
                    | Self::DriverFewer
                    | Self::Traffic(1.15)
                    | Self::Discharge(_)
                    | Self::Misread(2.0)
                    | Self::AgeLimit(60.0)
                    | Self::LatePrice(_)
            )
        });
        few
    }

    /// In plain words; fits after "if".
    pub fn words(self, scenario: &Scenario) -> String {
        let percent = |factor: f64| libm::round((factor - 1.0).abs() * 100.0);
        let more = |factor: f64, more: &str, less: &str| {
            let which = if factor > 1.0 { more } else { less };
            format!("{}% {which}", percent(factor))
        };
        let times = |factor: f64| match factor {
            0.5 => "half".to_owned(),
            2.0 => "twice".to_owned(),
            other => format!("{other} times"),
        };
        match self {
            Self::Orders(f) => format!("orders are {}", more(f, "more", "fewer")),
            Self::PlantDown(plant) => {
                format!("{} is down for a morning", scenario.plants[plant.at()].name)
            }
            Self::TruckFewer => "each plant has a truck less".into(),
            Self::DriverFewer => "each plant has a driver less".into(),
            Self::Traffic(f) => format!("trips take {}", more(f, "longer", "less time")),
            Self::RoadLuck(f) => format!("trips scatter {} as far", times(f)),
            Self::Discharge(f) => format!("unloading takes {}", more(f, "longer", "less time")),
            Self::NotReady(f) => format!("sites are not ready {} as often", times(f)),
            Self::Misread(f) => format!("slump is misread {} as often", times(f)),
            Self::AgeLimit(minutes) => format!("the age limit is {minutes} min"),
            Self::LatePrice(f) => format!("lateness costs {} as much", times(f)),
            Self::Goodwill(f) => format!("goodwill costs {} as much", times(f)),
            Self::NoShows(f) => format!("drivers stay away {} as often", times(f)),
            Self::RainyDay => "there is a rainy day more".into(),
        }
    }

    /// The name in files.
    pub fn key(self, scenario: &Scenario) -> String {
        match self {
            Self::Orders(f) => format!("orders_{f}"),
            Self::PlantDown(plant) => format!("down: {}", scenario.plants[plant.at()].name),
            Self::TruckFewer => "truck_fewer".into(),
            Self::DriverFewer => "driver_fewer".into(),
            Self::Traffic(f) => format!("traffic_{f}"),
            Self::RoadLuck(f) => format!("road_luck_{f}"),
            Self::Discharge(f) => format!("discharge_{f}"),
            Self::NotReady(f) => format!("not_ready_{f}"),
            Self::Misread(f) => format!("misread_{f}"),
            Self::AgeLimit(minutes) => format!("age_limit_{minutes}"),
            Self::LatePrice(f) => format!("late_price_{f}"),
            Self::Goodwill(f) => format!("goodwill_{f}"),
            Self::NoShows(f) => format!("no_shows_{f}"),
            Self::RainyDay => "rainy_day".into(),
        }
    }

    /// The scenario as it turns out. Luck is addressed by names: what is not changed meets the same.
    ///
    /// # Errors
    /// Why it does not apply: there is nothing to change.
    pub fn apply(self, scenario: &Scenario) -> Result<Scenario, &'static str> {
        let mut edited = scenario.clone();
        match self {
            Self::Orders(factor) => orders(&mut edited, factor),
            Self::PlantDown(plant) => plant_down(&mut edited, plant),
            Self::TruckFewer => return more::truck_less(scenario),
            Self::DriverFewer => driver_fewer(&mut edited),
            Self::Traffic(factor) => edited.roads.luck = scenario.roads.luck.times(factor),
            Self::RoadLuck(factor) => {
                let roads = &mut edited.roads;
                roads.luck = roads.luck.wider(factor);
                if let Some(network) = &mut roads.network {
                    network.day_luck = network.day_luck.wider(factor);
                }
            }
            Self::Discharge(factor) => {
                let orders = edited.orders.iter_mut().map(|order| &mut order.stay);
                let endless = edited.endless.iter_mut();
                let stays = orders.chain(endless.flat_map(|order| &mut order.destinations));
                for stay in stays {
                    let times = &mut stay.times;
                    times.discharge_luck = times.discharge_luck.times(factor);
                    times.discharge = times.discharge.as_ref().map(|own| own.times(factor));
                }
            }
            Self::NotReady(factor) => {
                edited.changes.not_ready = share(scenario.changes.not_ready, factor);
            }
            Self::Misread(factor) => misread(&mut edited, factor),
            Self::AgeLimit(minutes) => {
                if scenario.concrete.age_limit.is_none() {
                    return Err("concrete has no single age limit here");
                }
                edited.concrete.age_limit = Some(Millis::from_minutes(minutes));
            }
            Self::LatePrice(factor) => {
                let money = &mut edited.money;
                for price in [
                    &mut money.late_per_load,
                    &mut money.late_per_min,
                    &mut money.first_late_per_min,
                ] {
                    *price = price.times(factor);
                }
            }
            Self::Goodwill(factor) => {
                let money = &mut edited.money;
                for price in [&mut money.undelivered_per_yd3, &mut money.stranded] {
                    *price = price.times(factor);
                }
            }
            Self::NoShows(factor) => {
                edited.changes.no_show = share(scenario.changes.no_show, factor);
            }
            Self::RainyDay => {
                if !scenario.orders.iter().any(|order| order.outdoor) {
                    return Err("no order is outdoors");
                }
                let one = 1.0 / f64::from(scenario.period.days);
                edited.changes.rain = (scenario.changes.rain + one).min(1.0);
            }
        }
        if edited == *scenario {
            return Err("there is nothing to change");
        }
        Ok(edited)
    }
}

fn share(share: f64, factor: f64) -> f64 {
    (share * factor).min(1.0)
}

/// Every so-many-th order, from the middle of the first stretch on, is left out, or comes once more under a name of its own.
fn orders(scenario: &mut Scenario, factor: f64) {
    let written = scenario.orders.iter().filter(|order| order.slot.is_none());
    let written = written.count();
    let change = libm::round((factor - 1.0).abs() * written as f64) as usize;
    let chosen = |nth: usize| (2 * nth + 1) * written / (2 * change);
    // Along the book by time, not by how it is written.
    let mut by_time: Vec<usize> = (0..written).collect();
    by_time.sort_by_key(|at| scenario.orders[*at].first);
    let chosen: Vec<usize> = (0..change).map(|nth| by_time[chosen(nth)]).collect();
    if factor > 1.0 {
        let again = chosen.iter().map(|at| {
            let order = &scenario.orders[*at];
            Order {
                name: format!("{} (once more)", order.name),
                ..order.clone()
            }
        });
        let again: Vec<Order> = again.collect();
        // Those written one by one stand first.
        scenario.orders.splice(written..written, again);
    } else {
        let mut at = 0;
        scenario.orders.retain(|_| {
            at += 1;
            !chosen.contains(&(at - 1))
        });
    }
    for drawn in &mut scenario.drawn {
        drawn.per_day = drawn.per_day.times(factor);
    }
}

/// On the day with the most volume of written orders at the latest.
fn plant_down(scenario: &mut Scenario, plant: PlantId) {
    let days = i64::from(scenario.period.days);
    let volume = |day: i64| -> f64 {
        let orders = scenario.orders.iter();
        let due = orders.filter(|order| order.first.day() == day);
        due.map(|order| order.volume.yd3() * order.chance).sum()
    };
    let busiest = (0..days).fold(0, |best, day| {
        if volume(day) > volume(best) {
            day
        } else {
            best
        }
    });
    let midnight = Millis::midnight(busiest);
    let down = (midnight + MORNING.0, midnight + MORNING.1);
    let outages = &mut scenario.plants[plant.at()].planned_outages;
    outages.retain(|outage| outage.1 <= down.0 || outage.0 >= down.1);
    outages.push(down);
    outages.sort_unstable();
}

/// The last driver of each plant.
fn driver_fewer(scenario: &mut Scenario) {
    let home = |driver: &Driver| scenario.trucks[driver.truck.at()].home;
    let mut gone = Vec::new();
    for plant in (0..scenario.plants.len()).map(PlantId::new) {
        let here = (0..scenario.drivers.len()).filter(|at| home(&scenario.drivers[*at]) == plant);
        let here: Vec<usize> = here.collect();
        if here.len() > 1 {
            gone.extend(here.last());
        }
    }
    let mut at = 0;
    scenario.drivers.retain(|_| {
        at += 1;
        !gone.contains(&(at - 1))
    });
}

/// Where concrete is computed, the tickets that nobody reads, or reads in vain.
fn misread(scenario: &mut Scenario, factor: f64) {
    if let Some(rack) = &mut scenario.concrete.rack {
        rack.misread = share(rack.misread, factor);
        rack.misread_if_warned = share(rack.misread_if_warned, factor);
    }
    if let Some(material) = &mut scenario.concrete.material {
        material.tickets.read = 1.0 - share(1.0 - material.tickets.read, factor);
    }
}
