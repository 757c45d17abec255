//! What may turn out otherwise than a scenario assumes: the changes under which a decision is tried.

use super::{Input, InputKind, more};
use crate::scenario::Scenario;
use crate::units::{Millis, PlantId};

/// One thing that turns out otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surprise {
    /// A number is so many times what is written.
    Times(Input, f64),
    /// A number is this, whatever is written.
    Is(Input, f64),
    /// A plant stands still for a while.
    PlantDown(Down),
    /// So many trucks less at one plant or at each, with their drivers; the last truck of a plant stays.
    TruckFewer(Option<PlantId>, u32),
    /// So many drivers less at one plant or at each; the last driver of a plant stays.
    DriverFewer(Option<PlantId>, u32),
    /// A rainy day more in the period: it cancels outdoor pours and slows the roads.
    RainyDay,
}

/// When a plant is down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Down {
    /// Which.
    pub plant: PlantId,
    /// On which day of the period, the first is 1. None: on the one with the most ordered volume.
    pub day: Option<u32>,
    /// From when, since midnight.
    pub from: Millis,
    /// Until when, since midnight; after `from`, at most 24:00.
    pub until: Millis,
}

impl Down {
    /// The morning of the day with the most ordered volume.
    pub fn morning(plant: PlantId) -> Self {
        Self {
            plant,
            day: None,
            from: Millis::HOUR * 6,
            until: Millis::HOUR * 11,
        }
    }

    fn words(self, scenario: &Scenario) -> String {
        let name = &scenario.plants[self.plant.at()].name;
        if self == Self::morning(self.plant) {
            return format!("{name} is down for a morning");
        }
        let day = match self.day {
            Some(day) => format!("on day {day}"),
            None if scenario.period.days == 1 => String::new(),
            None => "on the busiest day".into(),
        };
        let (from, until) = (self.from, self.until);
        let when = match (from == Millis(0), until == Millis::DAY) {
            (true, true) => "all day".into(),
            (true, false) => format!("until {until}"),
            (false, true) => format!("from {from} on"),
            (false, false) => format!("from {from} to {until}"),
        };
        format!("{name} is down {day} {when}").replace("  ", " ")
    }
}

impl Surprise {
    /// The usual ones for a scenario; those that cannot be do not apply ([`apply`](Self::apply)).
    pub fn usual(scenario: &Scenario) -> Vec<Self> {
        use Input as I;
        let plants = (0..scenario.plants.len()).map(PlantId::new);
        let mut all = vec![Self::Times(I::Orders, 0.9), Self::Times(I::Orders, 1.1)];
        all.extend(plants.map(|plant| Self::PlantDown(Down::morning(plant))));
        // Where another than one of these is written, all three are other limits.
        let today = scenario.concrete.age_limit.map(Millis::minutes);
        let limits = [60.0, 90.0, 120.0].into_iter();
        let others = limits.filter(|limit| today != Some(*limit));
        all.extend(others.map(|limit| Self::Is(I::AgeLimit, limit)));
        all.extend([
            Self::TruckFewer(None, 1),
            Self::DriverFewer(None, 1),
            Self::Times(I::Traffic, 0.9),
            Self::Times(I::Traffic, 1.15),
            Self::Times(I::RoadLuck, 0.5),
            Self::Times(I::RoadLuck, 1.5),
            Self::Times(I::Discharge, 1.2),
            Self::Times(I::NotReady, 2.0),
            Self::Times(I::Misread, 0.5),
            Self::Times(I::Misread, 2.0),
            Self::Times(I::LatePrice, 0.5),
            Self::Times(I::LatePrice, 2.0),
            Self::Times(I::Goodwill, 0.5),
            Self::Times(I::Goodwill, 2.0),
            Self::Times(I::NoShows, 2.0),
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
                Self::Times(Input::Orders | Input::Discharge | Input::LatePrice, _)
                    | Self::PlantDown(_)
                    | Self::DriverFewer(..)
                    | Self::Times(Input::Traffic, 1.15)
                    | Self::Times(Input::Misread, 2.0)
                    | Self::Is(Input::AgeLimit, 60.0)
            )
        });
        few
    }

    /// In plain words; fits after "if".
    pub fn words(self, scenario: &Scenario) -> String {
        match self {
            Self::Times(input, factor) => times(input, factor),
            Self::Is(input, value) => is(input, value),
            Self::PlantDown(down) => down.words(scenario),
            Self::TruckFewer(plant, count) => fewer(plant, count, "truck", scenario),
            Self::DriverFewer(plant, count) => fewer(plant, count, "driver", scenario),
            Self::RainyDay => "there is a rainy day more".into(),
        }
    }

    /// The name in files.
    pub fn key(self, scenario: &Scenario) -> String {
        let of = |what: &str, plant: Option<PlantId>, count: u32| match (plant, count) {
            (None, 1) => what.to_owned(),
            (None, count) => format!("{what}_{count}"),
            (Some(plant), count) => {
                format!("{what}_{count}: {}", scenario.plants[plant.at()].name)
            }
        };
        match self {
            Self::Times(input, value) | Self::Is(input, value) => {
                format!("{}_{value}", input.name())
            }
            Self::PlantDown(down) => format!("down: {}", scenario.plants[down.plant.at()].name),
            Self::TruckFewer(plant, count) => of("truck_fewer", plant, count),
            Self::DriverFewer(plant, count) => of("driver_fewer", plant, count),
            Self::RainyDay => "rainy_day".into(),
        }
    }

    /// The scenario as it turns out. Luck is addressed by names: what is not changed meets the same.
    ///
    /// # Errors
    /// Why it does not apply: there is nothing to change.
    pub fn apply(self, scenario: &Scenario) -> Result<Scenario, &'static str> {
        let edited = match self {
            Self::Times(input, factor) => {
                input.set(scenario, factor * input.as_written(scenario)?)?
            }
            Self::Is(input, value) => input.set(scenario, value)?,
            Self::PlantDown(down) => plant_down(scenario, down),
            Self::TruckFewer(plant, count) => more::trucks_less(scenario, plant, count)?,
            Self::DriverFewer(plant, count) => more::drivers_less(scenario, plant, count)?,
            Self::RainyDay => {
                if !scenario.orders.iter().any(|order| order.outdoor) {
                    return Err("no order is outdoors");
                }
                let one = 1.0 / f64::from(scenario.period.days);
                Input::Rain.set(scenario, scenario.changes.rain + one)?
            }
        };
        if edited == *scenario {
            return Err("there is nothing to change");
        }
        Ok(edited)
    }
}

/// A number so many times what it is.
fn times(input: Input, factor: f64) -> String {
    let percent = libm::round((factor - 1.0).abs() * 100.0);
    let more = |more: &str, less: &str| {
        let which = if factor > 1.0 { more } else { less };
        format!("{percent}% {which}")
    };
    let often = match factor {
        0.5 => "half".to_owned(),
        2.0 => "twice".to_owned(),
        other => format!("{other} times"),
    };
    match input {
        Input::Orders => format!("orders are {}", more("more", "fewer")),
        Input::Traffic => format!("trips take {}", more("longer", "less time")),
        Input::Discharge => format!("unloading takes {}", more("longer", "less time")),
        Input::RoadLuck => format!("trips scatter {often} as far"),
        Input::NotReady => format!("sites are not ready {often} as often"),
        Input::Cancelled => format!("orders are canceled {often} as often"),
        Input::Rain => format!("it rains {often} as often"),
        Input::Misread => format!("slump is misread {often} as often"),
        Input::NoShows => format!("drivers stay away {often} as often"),
        Input::Absent => format!("drivers are off {often} as often"),
        Input::Breakdowns => format!("trucks break down {often} as often"),
        Input::Outages => format!("plants stand still {often} as often"),
        Input::AgeLimit => format!("the age limit is {often} as long"),
        Input::LatePrice => format!("lateness costs {often} as much"),
        Input::Goodwill => format!("goodwill costs {often} as much"),
        Input::Pay => format!("an hour of pay costs {often} as much"),
        Input::Driving => format!("fuel and wear cost {often} as much"),
        Input::SalePrice => format!("concrete sells for {often} as much"),
    }
}

/// A number at a value of its own.
fn is(input: Input, value: f64) -> String {
    // At most four digits of a share, as it is written.
    let percent = libm::round(value * 1e6) / 1e4;
    match (input.kind(), input) {
        (InputKind::Times, _) => times(input, value),
        (InputKind::Minutes, _) => format!("{} is {value} min", input.words()),
        (_, Input::NotReady) => format!("{percent}% of sites are not ready"),
        (_, Input::Cancelled) => format!("{percent}% of orders are canceled"),
        (_, Input::Rain) => format!("it rains on {percent}% of days"),
        (_, Input::NoShows) => format!("drivers stay away on {percent}% of their days"),
        (_, Input::Absent) => format!("drivers are off on {percent}% of their days"),
        (InputKind::Share, _) => format!("slump is misread in {percent}% of loads"),
    }
}

fn fewer(plant: Option<PlantId>, count: u32, what: &str, scenario: &Scenario) -> String {
    let who = plant.map_or("each plant", |plant| &scenario.plants[plant.at()].name);
    match count {
        1 => format!("{who} has a {what} less"),
        count => format!("{who} has {count} {what}s less"),
    }
}

/// Of several days that have the most volume of written orders, the first.
fn plant_down(scenario: &Scenario, down: Down) -> Scenario {
    let mut edited = scenario.clone();
    let days = i64::from(scenario.period.days);
    let volume = |day: i64| -> f64 {
        let orders = scenario.orders.iter();
        let due = orders.filter(|order| order.first.day() == day);
        due.map(|order| order.volume.yd3() * order.chance).sum()
    };
    let busiest = || {
        (0..days).fold(0, |best, day| {
            if volume(day) > volume(best) {
                day
            } else {
                best
            }
        })
    };
    let day = down.day.map_or_else(busiest, |day| i64::from(day) - 1);
    let midnight = Millis::midnight(day);
    let (mut from, mut until) = (midnight + down.from, midnight + down.until);
    let outages = &mut edited.plants[down.plant.at()].planned_outages;
    // What is planned at the time anyway goes on for as long as planned.
    outages.retain(|outage| {
        let apart = outage.1 <= from || outage.0 >= until;
        if !apart {
            (from, until) = (from.min(outage.0), until.max(outage.1));
        }
        apart
    });
    outages.push((from, until));
    outages.sort_unstable();
    edited
}
