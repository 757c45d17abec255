//! Numbers of a scenario that may turn out otherwise: what each is as written, how far it may go, and the scenario with another.

use super::book::so_many_times as orders_times;
use crate::engine::Spread;
use crate::scenario::Scenario;
use crate::units::{Cents, Millis, Rate};

/// A number of a scenario, or several that move together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Input {
    /// How many orders there are. Whole orders are added or left out, evenly along the book.
    Orders,
    /// The minutes of every trip.
    Traffic,
    /// How far trips scatter about their mean.
    RoadLuck,
    /// The minutes of every discharge.
    Discharge,
    /// The share of sites that are not ready.
    NotReady,
    /// The share of orders that customers cancel.
    Cancelled,
    /// The share of days with rain.
    Rain,
    /// The share of loads that are misread at the rack; where concrete is computed, of tickets that nobody reads.
    Misread,
    /// The share of driver days on which the driver does not come.
    NoShows,
    /// The share of driver days that are planned off.
    Absent,
    /// How often trucks break down.
    Breakdowns,
    /// How often plants stand still unplanned.
    Outages,
    /// The age limit of the concrete.
    AgeLimit,
    /// The prices of lateness.
    LatePrice,
    /// The goodwill lost with a yd³ that is not delivered and with a stranded driver.
    Goodwill,
    /// A driver's paid hour.
    Pay,
    /// A truck's driven hour and mile.
    Driving,
    /// What a yd³ is sold for.
    SalePrice,
}

/// What the value of an input is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InputKind {
    /// So many times what is written: as written it is 1.
    Times,
    /// A share of one.
    Share,
    /// Minutes.
    Minutes,
}

impl Input {
    /// All, in the order in which they are listed.
    pub const ALL: [Self; 18] = [
        Self::Orders,
        Self::Traffic,
        Self::RoadLuck,
        Self::Discharge,
        Self::NotReady,
        Self::Cancelled,
        Self::Rain,
        Self::Misread,
        Self::NoShows,
        Self::Absent,
        Self::Breakdowns,
        Self::Outages,
        Self::AgeLimit,
        Self::LatePrice,
        Self::Goodwill,
        Self::Pay,
        Self::Driving,
        Self::SalePrice,
    ];

    /// Its name in options and files.
    pub fn name(self) -> &'static str {
        match self {
            Self::Orders => "orders",
            Self::Traffic => "traffic",
            Self::RoadLuck => "road_luck",
            Self::Discharge => "discharge",
            Self::NotReady => "not_ready",
            Self::Cancelled => "cancelled",
            Self::Rain => "rain",
            Self::Misread => "misread",
            Self::NoShows => "no_shows",
            Self::Absent => "absent",
            Self::Breakdowns => "breakdowns",
            Self::Outages => "outages",
            Self::AgeLimit => "age_limit",
            Self::LatePrice => "late_price",
            Self::Goodwill => "goodwill",
            Self::Pay => "pay",
            Self::Driving => "driving",
            Self::SalePrice => "sale_price",
        }
    }

    /// What it is, in plain words: `loads misread`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Orders => "orders",
            Self::Traffic => "trip times",
            Self::RoadLuck => "the scatter of trips",
            Self::Discharge => "unloading times",
            Self::NotReady => "sites not ready",
            Self::Cancelled => "orders canceled",
            Self::Rain => "days with rain",
            Self::Misread => "loads misread",
            Self::NoShows => "drivers who stay away",
            Self::Absent => "driver days off",
            Self::Breakdowns => "truck breakdowns",
            Self::Outages => "plant outages",
            Self::AgeLimit => "the age limit",
            Self::LatePrice => "the price of lateness",
            Self::Goodwill => "the price of goodwill",
            Self::Pay => "pay",
            Self::Driving => "fuel and wear",
            Self::SalePrice => "the sale price",
        }
    }

    /// What its value is.
    pub fn kind(self) -> InputKind {
        match self {
            Self::NotReady
            | Self::Cancelled
            | Self::Rain
            | Self::Misread
            | Self::NoShows
            | Self::Absent => InputKind::Share,
            Self::AgeLimit => InputKind::Minutes,
            _ => InputKind::Times,
        }
    }

    /// The least and the most that its value may be.
    pub fn limits(self) -> (f64, f64) {
        match (self, self.kind()) {
            // Each order comes at most once more.
            (Self::Orders, _) => (0.1, 2.0),
            (Self::LatePrice | Self::Goodwill | Self::Pay | Self::Driving | Self::SalePrice, _) => {
                (0.0, 100.0)
            }
            (_, InputKind::Times) => (0.1, 10.0),
            (_, InputKind::Share) => (0.0, 1.0),
            (_, InputKind::Minutes) => (1.0, 1_440.0),
        }
    }

    /// Its value as the scenario is written.
    ///
    /// # Errors
    /// Why the scenario has no such number.
    pub fn as_written(self, scenario: &Scenario) -> Result<f64, &'static str> {
        let changes = &scenario.changes;
        let any = |is: bool, lacks| match is {
            true => Ok(1.0),
            false => Err(lacks),
        };
        match self {
            Self::NotReady => Ok(changes.not_ready),
            Self::Cancelled => Ok(changes.cancelled),
            Self::Rain => Ok(changes.rain),
            Self::NoShows => Ok(changes.no_show),
            Self::Absent => Ok(changes.absent),
            Self::Misread => {
                let rack = scenario.concrete.rack.as_ref().map(|rack| rack.misread);
                let material = scenario.concrete.material.as_ref();
                rack.or(material.map(|material| 1.0 - material.tickets.read))
                    .ok_or("nothing is said of how loads are read at the slump rack")
            }
            Self::Breakdowns => any(
                scenario
                    .trucks
                    .iter()
                    .any(|truck| truck.breakdowns.is_some()),
                "no truck breaks down",
            ),
            Self::Outages => any(
                scenario.plants.iter().any(|plant| plant.outages.is_some()),
                "no plant has unplanned outages",
            ),
            Self::AgeLimit => {
                let limit = scenario.concrete.age_limit.map(Millis::minutes);
                limit.ok_or("concrete has no single age limit here")
            }
            _ => Ok(1.0),
        }
    }

    /// The scenario in which this number has another value, cut to its [`limits`](Self::limits). At the value as written it is the same
    /// scenario.
    ///
    /// # Errors
    /// Why the scenario has no such number, or cannot have it so.
    pub fn set(self, scenario: &Scenario, value: f64) -> Result<Scenario, &'static str> {
        let written = self.as_written(scenario)?;
        let (least, most) = self.limits();
        let value = value.clamp(least, most);
        let mut edited = scenario.clone();
        // Widening by 1 need not give the same last digit again.
        if value == written {
            return Ok(edited);
        }
        let prices = |prices: &mut [&mut Cents]| {
            for price in prices {
                **price = price.times(value);
            }
        };
        let rates = |rates: &mut [&mut Rate]| {
            for rate in rates {
                **rate = rate.scaled(value);
            }
        };
        let money = &mut edited.money;
        match self {
            Self::Orders => orders_times(&mut edited, value),
            Self::Traffic => edited.roads.luck = scenario.roads.luck.times(value),
            Self::RoadLuck => road_luck(&mut edited, value)?,
            Self::Discharge => discharge(&mut edited, value),
            Self::NotReady => edited.changes.not_ready = value,
            Self::Cancelled => edited.changes.cancelled = value,
            Self::Rain => edited.changes.rain = value,
            Self::NoShows => edited.changes.no_show = value,
            Self::Absent => edited.changes.absent = value,
            Self::Misread => misread(&mut edited, written, value),
            Self::Breakdowns => {
                let each = edited
                    .trucks
                    .iter_mut()
                    .filter_map(|t| t.breakdowns.as_mut());
                often(each.map(|b| &mut b.mean_h_between), value);
            }
            Self::Outages => {
                let each = edited.plants.iter_mut().filter_map(|p| p.outages.as_mut());
                often(each.map(|o| &mut o.mean_h_between), value);
            }
            Self::AgeLimit => edited.concrete.age_limit = Some(Millis::from_minutes(value)),
            Self::LatePrice => prices(&mut [
                &mut money.late_per_load,
                &mut money.late_per_min,
                &mut money.first_late_per_min,
            ]),
            Self::Goodwill => {
                rates(&mut [&mut money.undelivered_per_yd3]);
                prices(&mut [&mut money.stranded]);
            }
            Self::Pay => {
                prices(&mut [&mut money.pay_per_h]);
                for pay in edited
                    .drivers
                    .iter_mut()
                    .filter_map(|d| d.pay_per_h.as_mut())
                {
                    *pay = pay.times(value);
                }
            }
            Self::Driving => {
                prices(&mut [&mut money.truck_per_driven_h]);
                rates(&mut [&mut money.truck_per_mile]);
            }
            Self::SalePrice => {
                let own = money.revenue.prices.iter_mut().map(|(_, price)| price);
                let mut all: Vec<&mut Rate> = own.chain([&mut money.revenue.per_yd3]).collect();
                rates(&mut all);
            }
        }
        Ok(edited)
    }
}

/// So many times as often.
fn often<'s>(between: impl Iterator<Item = &'s mut f64>, factor: f64) {
    for mean_h in between {
        *mean_h /= factor;
    }
}

fn road_luck(scenario: &mut Scenario, factor: f64) -> Result<(), &'static str> {
    let roads = &mut scenario.roads;
    let day = roads.network.as_mut().map(|network| &mut network.day_luck);
    for luck in day.into_iter().chain([&mut roads.luck]) {
        *luck = luck.wider(factor);
        if luck.problem().is_some() {
            return Err("trips cannot scatter so far");
        }
    }
    Ok(())
}

fn discharge(scenario: &mut Scenario, factor: f64) {
    let orders = scenario.orders.iter_mut().map(|order| &mut order.stay);
    let endless = scenario.endless.iter_mut();
    for stay in orders.chain(endless.flat_map(|order| &mut order.destinations)) {
        let times = &mut stay.times;
        times.discharge_luck = times.discharge_luck.times(factor);
        times.discharge = times
            .discharge
            .as_ref()
            .map(|own: &Spread| own.times(factor));
    }
}

/// A warning takes away as large a part of the misread loads as before.
fn misread(scenario: &mut Scenario, written: f64, share: f64) {
    if let Some(rack) = &mut scenario.concrete.rack {
        rack.misread = share;
        if written > 0.0 {
            rack.misread_if_warned = (rack.misread_if_warned * (share / written)).min(1.0);
        }
    }
    if let Some(material) = &mut scenario.concrete.material {
        material.tickets.read = 1.0 - share;
    }
}
