//! What can still be changed about the last day of a period the evening before: one driver or truck more, an earlier start, one bay,
//! an order half an hour later, or from another plant.

use super::more::free_name;
use crate::scenario::{Driver, History, Scenario, Truck};
use crate::units::{Cents, Millis, OrderId, PlantId, TruckId};

const HOUR: Millis = Millis::HOUR;
const HALF_HOUR: Millis = Millis(Millis::HOUR.0 / 2);
/// By how much loads are sent earlier, minutes.
const EARLIER_MIN: f64 = 15.0;
/// The later of the two times for which a driver is called in, after the first report of the plant.
const LATER: Millis = Millis(4 * Millis::HOUR.0);
/// As many bays as a plant may have, and trucks a scenario: see [`Plant`](crate::scenario::Plant).
const MOST_BAYS: u32 = 20;
const MOST_TRUCKS: usize = 5_000;

/// One change of the last day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayChange {
    /// A rested driver more for a truck that nobody drives that day.
    DriverMore {
        /// Where.
        plant: PlantId,
        /// When the driver reports, since midnight of the day.
        report: Millis,
    },
    /// A truck more with a rested driver, both like the first of the plant.
    TruckMore {
        /// Where.
        plant: PlantId,
        /// When the driver reports, since midnight of the day.
        report: Millis,
    },
    /// The drivers of a plant report an hour earlier, for shifts as long as before.
    ReportEarlier {
        /// Which plant.
        plant: PlantId,
    },
    /// The shifts of a plant's drivers are planned an hour longer; what the law allows stays.
    LongerShifts {
        /// Which plant.
        plant: PlantId,
    },
    /// A bay more.
    BayMore {
        /// Where.
        plant: PlantId,
    },
    /// Dispatch sends every load a quarter of an hour earlier.
    SendEarlier,
    /// The customer agrees to half an hour later.
    OrderLater {
        /// Which order.
        order: OrderId,
    },
    /// An order is served from one plant alone, another than it usually is.
    FromPlant {
        /// Which order.
        order: OrderId,
        /// From where.
        plant: PlantId,
    },
}

impl DayChange {
    /// What is tried for a day on which these orders may break: at every plant that works that day, and each of the orders later.
    pub fn usual(scenario: &Scenario, orders: &[OrderId]) -> Vec<Self> {
        let mut all = Vec::new();
        for plant in (0..scenario.plants.len()).map(PlantId::new) {
            let Some((first, _)) = reports(scenario, plant).next() else {
                continue;
            };
            for report in [first, first + LATER] {
                all.push(match spare_truck(scenario, plant) {
                    Some(_) => Self::DriverMore { plant, report },
                    None => Self::TruckMore { plant, report },
                });
            }
            all.extend([
                Self::ReportEarlier { plant },
                Self::LongerShifts { plant },
                Self::BayMore { plant },
            ]);
        }
        all.push(Self::SendEarlier);
        all.extend(
            orders
                .iter()
                .map(|order| Self::OrderLater { order: *order }),
        );
        for order in orders {
            let written = &scenario.orders[order.at()];
            let others = scenario
                .makers(&written.mix, &written.plants)
                .filter(|plant| {
                    written.usual_plant != Some(*plant)
                        && reports(scenario, *plant).next().is_some()
                });
            // One that only one plant serves is served from there already.
            if scenario.makers(&written.mix, &written.plants).count() > 1 {
                let from = |plant| Self::FromPlant {
                    order: *order,
                    plant,
                };
                all.extend(others.map(from));
            }
        }
        all
    }

    /// In plain words; fits before "holds".
    pub fn words(self, scenario: &Scenario) -> String {
        let at = |plant: PlantId| &scenario.plants[plant.at()].name;
        match self {
            Self::DriverMore { plant, report } => {
                format!("one more driver at {} at {report}", at(plant))
            }
            Self::TruckMore { plant, report } => {
                format!("one more truck and driver at {} at {report}", at(plant))
            }
            Self::ReportEarlier { plant } => {
                format!("calling the drivers of {} in an hour earlier", at(plant))
            }
            Self::LongerShifts { plant } => {
                format!("planning the shifts of {} an hour longer", at(plant))
            }
            Self::BayMore { plant } => format!("one more bay at {}", at(plant)),
            Self::SendEarlier => "sending every load 15 min earlier".into(),
            Self::OrderLater { order } => {
                let order = &scenario.orders[order.at()];
                format!(
                    "moving \"{}\" to {}",
                    order.name,
                    time(order.first + HALF_HOUR)
                )
            }
            Self::FromPlant { order, plant } => {
                let order = &scenario.orders[order.at()];
                format!("serving \"{}\" from {} alone", order.name, at(plant))
            }
        }
    }

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::DriverMore { .. } => "driver_more",
            Self::TruckMore { .. } => "truck_more",
            Self::ReportEarlier { .. } => "report_earlier",
            Self::LongerShifts { .. } => "longer_shifts",
            Self::BayMore { .. } => "bay_more",
            Self::SendEarlier => "send_earlier",
            Self::OrderLater { .. } => "order_later",
            Self::FromPlant { .. } => "from_plant",
        }
    }

    /// What the scenario's money has for the change itself, beside the hours that it makes; none: it has no price of such a thing.
    pub fn agreed(self, scenario: &Scenario) -> Option<Cents> {
        match self {
            Self::BayMore { .. } => None,
            Self::OrderLater { order } => {
                let (order, money) = (&scenario.orders[order.at()], &scenario.money);
                let sale = money.revenue.of_mix(&order.mix).times(order.volume.yd3());
                Some(
                    money.moved_per_min.times(HALF_HOUR.minutes())
                        + sale.times(money.moved_lost_share),
                )
            }
            _ => Some(Cents::ZERO),
        }
    }

    /// The scenario with this change of its last day, under the rule at this position.
    ///
    /// # Errors
    /// Why it cannot be.
    pub fn apply(self, scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
        let mut edited = scenario.clone();
        let day = last(scenario);
        match self {
            Self::DriverMore { plant, report } => {
                let truck = spare_truck(scenario, plant).ok_or("every truck has a driver")?;
                one_more(&mut edited, plant, truck, report)?;
            }
            Self::TruckMore { plant, report } => {
                if edited.trucks.len() == MOST_TRUCKS {
                    return Err("there are as many as can be");
                }
                let like = model(scenario, plant).ok_or("nobody works there that day")?;
                let taken: Vec<&str> = scenario.trucks.iter().map(|t| t.name.as_str()).collect();
                let wanted = format!("One more at {}", scenario.plants[plant.at()].name);
                edited.trucks.push(Truck {
                    name: free_name(&wanted, &taken),
                    ..scenario.trucks[like.truck.at()].clone()
                });
                let truck = TruckId::new(edited.trucks.len() - 1);
                one_more(&mut edited, plant, truck, report)?;
            }
            Self::ReportEarlier { plant } => {
                for driver in &mut edited.drivers {
                    if scenario.trucks[driver.truck.at()].home != plant {
                        continue;
                    }
                    let times = driver.reports_by_day(&scenario.period).into_iter();
                    let earlier = |(on, at): (i64, Millis)| match on == day {
                        true => (at - HOUR).max(Millis::midnight(day)).min(at),
                        false => at,
                    };
                    driver.calls = Some(times.map(earlier).collect());
                }
            }
            Self::SendEarlier if day > 0 => {
                return Err("a rule sends alike on every day of a period");
            }
            Self::SendEarlier => edited.rules[rule].early_min += EARLIER_MIN,
            Self::LongerShifts { .. } if day > 0 => {
                return Err("shifts are as long on every day of a period");
            }
            Self::LongerShifts { plant } => {
                for driver in &mut edited.drivers {
                    if scenario.trucks[driver.truck.at()].home == plant {
                        driver.shift += HOUR;
                    }
                }
            }
            Self::BayMore { plant } => {
                let bays = &mut edited.plants[plant.at()].bays;
                if *bays >= MOST_BAYS {
                    return Err("the plant has as many as can be");
                }
                *bays += 1;
            }
            Self::OrderLater { order } => {
                let order = &mut edited.orders[order.at()];
                if order.slot.is_some() {
                    return Err("the order is drawn");
                }
                order.first += HALF_HOUR;
                order.finish_by = order.finish_by.map(|by| by + HALF_HOUR);
            }
            Self::FromPlant { order, plant } => {
                let order = &mut edited.orders[order.at()];
                order.plants = vec![plant];
                order.usual_plant = Some(plant);
            }
        }
        Ok(edited)
    }
}

fn last(scenario: &Scenario) -> i64 {
    i64::from(scenario.period.days) - 1
}

/// The time of day of a moment.
fn time(at: Millis) -> Millis {
    at - Millis::midnight(at.day())
}

/// Reports at a plant on the last day, since its midnight, the earliest first; with the driver.
fn reports(scenario: &Scenario, plant: PlantId) -> impl Iterator<Item = (Millis, &Driver)> {
    let day = last(scenario);
    let here = scenario
        .drivers
        .iter()
        .filter(move |driver| scenario.trucks[driver.truck.at()].home == plant);
    let mut all: Vec<(Millis, &Driver)> = here
        .filter_map(|driver| {
            let mut times = driver.reports_by_day(&scenario.period).into_iter();
            let (_, at) = times.find(|(on, _)| *on == day)?;
            Some((at - Millis::midnight(day), driver))
        })
        .collect();
    all.sort_by_key(|(at, _)| *at);
    all.into_iter()
}

/// Whom a driver more is like: the first who reports.
fn model(scenario: &Scenario, plant: PlantId) -> Option<&Driver> {
    reports(scenario, plant).next().map(|(_, driver)| driver)
}

/// A truck of the plant that nobody drives on the last day and the model may drive.
fn spare_truck(scenario: &Scenario, plant: PlantId) -> Option<TruckId> {
    let like = model(scenario, plant)?;
    let driven: Vec<TruckId> = reports(scenario, plant)
        .map(|(_, driver)| driver.truck)
        .collect();
    let trucks = (0..scenario.trucks.len()).map(TruckId::new);
    let mut spare = trucks.filter(|truck| {
        let it = &scenario.trucks[truck.at()];
        let needs = it.needs.as_ref();
        it.home == plant
            && !driven.contains(truck)
            && needs.is_none_or(|needs| needs.allows(like.licence.as_ref()))
    });
    spare.next()
}

/// A rested driver more, last in the list, so that the ids of the others stay.
fn one_more(
    edited: &mut Scenario,
    plant: PlantId,
    truck: TruckId,
    report: Millis,
) -> Result<(), &'static str> {
    let like = model(edited, plant).ok_or("nobody works there that day")?;
    let taken: Vec<&str> = edited.drivers.iter().map(|d| d.name.as_str()).collect();
    let wanted = format!("Driver of one more at {}", edited.plants[plant.at()].name);
    let driver = Driver {
        name: free_name(&wanted, &taken),
        truck,
        history: History::default(),
        calls: Some(vec![Millis::midnight(last(edited)) + report]),
        ..like.clone()
    };
    edited.drivers.push(driver);
    Ok(())
}
