//! Until when may each driver load for where? The latest start of loading, and the latest time off the plant, after which the driver
//! would not be home, washed out and parked, within every clock.
//!
//! Each load is reckoned by itself: the driver does nothing else before it, and waits nowhere. So the table is a limit, to be made
//! anew after every load; `trip --driver --order` looks at the whole world.

use super::TripQuestion;
use super::base::Base;
use super::plant_sites::PlantSites;
use crate::hours::Clock;
use crate::montecarlo::{self, Rows, Trial, Watch};
use crate::plant::{Plan, Ready, World};
use crate::scenario::Scenario;
use crate::statistics::share_at_least;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId};
use std::collections::BTreeSet;

/// Runs, each with its own roads and stage times.
const RUNS: u64 = 300;
/// Nobody is looked at for longer than this.
const LONGEST: Millis = Millis(16 * Millis::HOUR.0);
/// Orders of the next day that begin so soon after a driver is ready are the driver's as well: a choice, no source.
const INTO_THE_NIGHT: Millis = Millis(8 * Millis::HOUR.0);

/// What ends the time in which a load can begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// A clock of the driver.
    Clock(Clock),
    /// The driver must be released by then, or keep a log and take breaks: the short-haul exception.
    ShortHaul,
    /// The plant closes.
    PlantCloses,
    /// The day of the order is over.
    DayOver,
    /// The company's last load, or somebody takes the truck over.
    Company,
    /// Nothing within the time looked at.
    Nothing,
}

impl Ends {
    fn code(self) -> f32 {
        match self {
            Self::Nothing => 0.0,
            Self::PlantCloses => 1.0,
            Self::DayOver => 2.0,
            Self::Company => 3.0,
            Self::ShortHaul => 4.0,
            Self::Clock(clock) => 5.0 + clock as u8 as f32,
        }
    }

    fn of(code: f64) -> Self {
        match code as usize {
            0 => Self::Nothing,
            1 => Self::PlantCloses,
            2 => Self::DayOver,
            3 => Self::Company,
            4 => Self::ShortHaul,
            clock => Self::Clock(Clock::ALL[clock - 5]),
        }
    }
}

/// The last load of one driver for one order's site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastLoad {
    /// Where to.
    pub site: PlaceId,
    /// For which order.
    pub order: OrderId,
    /// Whether loads of it are still to come.
    pub to_come: bool,
    /// The trip out as driven in the middle of the runs, minutes.
    pub out_min: f64,
    /// Latest start of loading with the chance asked for; none: too late already.
    pub load_by: Option<Millis>,
    /// Latest time off the plant with the load, the same.
    pub leave_by: Option<Millis>,
    /// What ends it.
    pub ends: Ends,
    /// How often the load would be unloaded within its age then.
    pub fresh: f64,
}

/// A driver's last loads.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverLasts {
    /// Who.
    pub driver: DriverId,
    /// Where the load begins: the truck's home plant.
    pub plant: PlantId,
    /// From when the driver can load there, as believed.
    pub ready: Millis,
    /// When the driver comes on duty, if not yet.
    pub reports: Option<Millis>,
    /// From when the driver may not drive, who drives no more until then, and by which clock.
    pub out_of_hours: Option<(Millis, Clock)>,
    /// One for each site, the nearest first.
    pub loads: Vec<LastLoad>,
}

impl DriverLasts {
    /// The last load to a site.
    pub fn load(&self, site: PlaceId) -> Option<&LastLoad> {
        self.loads.iter().find(|load| load.site == site)
    }
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct LastLoads {
    /// Every driver on duty or due that day, who is out of hours first.
    pub drivers: Vec<DriverLasts>,
    /// The sites by the plants of these drivers.
    pub plants: Vec<PlantSites>,
    /// The chance of being home within every clock that each time has, at least.
    pub chance: f64,
    /// Runs.
    pub runs: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
}

const LOAD_BY: usize = 0;
const LEAVE_BY: usize = 1;
const ENDS: usize = 2;
const FRESH: usize = 3;
const OUT: usize = 4;
const EACH: usize = 5;

struct Pair {
    driver: DriverId,
    ready: Ready,
    site: PlaceId,
    order: OrderId,
    /// No load begins later, and why.
    most: (Millis, Ends),
}

struct Lasts<'b, 'p> {
    base: &'b Base<'p>,
    pairs: Vec<Pair>,
}

impl<'p> Trial for Lasts<'_, 'p> {
    type Worker = World<'p>;

    fn worker(&self) -> World<'p> {
        World::new(self.base.plan)
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        EACH * self.pairs.len()
    }

    fn run(&self, world: &mut World<'p>, _: usize, trial: u64, row: &mut [f32]) {
        world.fork(&self.base.moment, self.base.luck(6, trial));
        for (pair, cells) in self.pairs.iter().zip(row.chunks_exact_mut(EACH)) {
            pair.look(world, self.base.plan, cells);
        }
    }
}

impl Pair {
    /// The latest whole minutes of one run; not a number where even the first is too late.
    fn look(&self, world: &World<'_>, plan: &Plan, cells: &mut [f32]) {
        let (spot, volume, _) = world.goes_to(self.order);
        let alone = |start| world.load_alone((self.ready.plant, spot), volume, start, 0);
        let clocks = world.clocks_when_ready(self.driver, &self.ready);
        let bars = |start: Millis| {
            let (rules, clocks) = clocks.as_ref()?;
            let load = alone(start);
            let wait = (crate::hours::DutyStatus::Waiting, start - self.ready.from);
            let [plant, out, site, back, home] = load.plan();
            let plan = [wait, plant, out, site, back, home];
            let fit = clocks.fits(rules, self.ready.from, &plan);
            if !fit.fits() {
                return fit.binds.map(Ends::Clock);
            }
            let released = fit.short_haul_slack;
            released
                .is_some_and(|slack| slack < Millis::ZERO)
                .then_some(Ends::ShortHaul)
        };
        cells.fill(f32::NAN);
        cells[OUT] = alone(self.ready.from).out.minutes() as f32;
        let from = whole_minute(self.ready.from + Millis::MINUTE - Millis(1));
        let (most, why) = self.most;
        let minutes = (most - from).0.div_euclid(Millis::MINUTE.0);
        if minutes < 0 {
            cells[ENDS] = why.code();
            return;
        }
        let at = |minute: i64| from + Millis::MINUTE * minute;
        let latest = match bars(at(minutes)) {
            None => (minutes, why),
            Some(clock) => {
                // What is barred at a minute stays so, but for a break that is made whole and a rush that is over.
                let (mut goes, mut barred, mut by) = (-1, minutes, clock);
                while goes + 1 < barred {
                    let middle = (goes + barred).div_euclid(2);
                    match bars(at(middle)) {
                        None => goes = middle,
                        Some(clock) => (barred, by) = (middle, clock),
                    }
                }
                (goes, by)
            }
        };
        cells[ENDS] = latest.1.code();
        if latest.0 < 0 {
            return;
        }
        let mut start = at(latest.0);
        // Where the plant is closed by then, the last load began in the minute before.
        match world.closes(self.ready.plant, start) {
            Some(closes) if start < closes => {}
            closes => {
                let last = closes.map_or(from - Millis(1), |closes| closes - Millis(1));
                start = whole_minute(last);
                cells[ENDS] = Ends::PlantCloses.code();
            }
        }
        if start < from {
            return;
        }
        let load = alone(start);
        cells[LOAD_BY] = start.minutes() as f32;
        cells[LEAVE_BY] = (start + load.at_plant).minutes() as f32;
        cells[FRESH] = f32::from(u8::from(load.age() <= plan.age_limit(self.order)));
    }
}

/// The last loads of every driver on duty at the moment or due within a day, or of one.
///
/// # Errors
/// In words, if nobody is, or no order has a site that can be reached.
pub fn last_loads(
    scenario: &Scenario,
    question: &TripQuestion,
    only: Option<DriverId>,
    watch: Watch<'_>,
) -> Result<Option<LastLoads>, String> {
    let plan = Plan::new(scenario);
    let base = Base::start(&plan, scenario, question)?;
    let world = base.moment.world();
    let drivers = (0..plan.driver_count()).map(DriverId::new);
    let drivers: Vec<(DriverId, Ready)> = drivers
        .filter(|driver| only.is_none_or(|only| only == *driver))
        .filter_map(|driver| Some((driver, world.ready_from(driver)?)))
        .collect();
    if drivers.is_empty() {
        return Err(match only {
            Some(driver) => format!(
                "driver \"{}\" is neither on duty at that time nor due within a day, or is on the way home",
                scenario.drivers[driver.at()].name
            ),
            None => "nobody is on duty at that time or due within a day".to_owned(),
        });
    }
    let mut pairs = Vec::new();
    for (driver, ready) in &drivers {
        let orders = orders(&base, scenario, ready).into_iter();
        pairs.extend(orders.map(|order| Pair {
            driver: *driver,
            ready: *ready,
            site: scenario.orders[order.at()].stay.site,
            order,
            most: most(world, ready, order),
        }));
    }
    if pairs.is_empty() {
        return Err("no order of that day has a site that these drivers can load for".to_owned());
    }
    let trial = Lasts { base: &base, pairs };
    let rows = montecarlo::run(&trial, 0..RUNS, question.threads, watch);
    if rows.is_empty() {
        return Ok(None);
    }
    let chance = 1.0 - question.stranded;
    let mut found: Vec<DriverLasts> = drivers
        .iter()
        .map(|(driver, ready)| {
            let clocks = world.clocks_when_ready(*driver, ready);
            // A break that is due ends nothing, and who drives nothing uses up no driving.
            let out_of_hours = clocks.and_then(|(rules, clocks)| {
                let left = clocks.left(rules);
                let runs = |clock: &Clock| match clock {
                    Clock::Break => false,
                    Clock::Driving => left.of(*clock) == Some(Millis::ZERO),
                    _ => true,
                };
                let ends = Clock::ALL.into_iter().filter(runs);
                let ends = ends
                    .filter_map(|clock| Some((whole_minute(ready.from + left.of(clock)?), clock)));
                ends.min_by_key(|(at, _)| *at)
            });
            let own = trial.pairs.iter().enumerate();
            let own = own.filter(|(_, pair)| pair.driver == *driver);
            let mut loads: Vec<LastLoad> = own
                .map(|(at, pair)| last_load(&rows, at, pair, &base, (chance, question.level)))
                .collect();
            loads.sort_by(|a, b| a.out_min.total_cmp(&b.out_min).then(a.site.cmp(&b.site)));
            DriverLasts {
                driver: *driver,
                plant: ready.plant,
                ready: ready.from,
                reports: ready.reports,
                out_of_hours,
                loads,
            }
        })
        .collect();
    let runs_out = |lasts: &DriverLasts| lasts.out_of_hours.map_or(Millis::NEVER, |(at, _)| at);
    found.sort_by_key(|lasts| (runs_out(lasts), lasts.driver));
    let plants: BTreeSet<PlantId> = found.iter().map(|lasts| lasts.plant).collect();
    Ok(Some(LastLoads {
        plants: PlantSites::of_all(plants.into_iter(), &found),
        drivers: found,
        chance,
        runs: rows.len() as u64,
        stopped: (rows.len() as u64) < RUNS,
    }))
}

/// One order for each site of the driver's day, and of the night that follows; one with loads still to come, where there is any.
fn orders(base: &Base<'_>, scenario: &Scenario, ready: &Ready) -> Vec<OrderId> {
    let midnight = Millis::midnight(ready.from.day() + 1);
    let end = midnight.max(ready.from + INTO_THE_NIGHT);
    let mut orders: Vec<OrderId> = Vec::new();
    let of_the_day = (0..scenario.orders.len())
        .map(OrderId::new)
        .filter(|order| {
            let plan = &base.plan.orders[order.at()];
            plan.day_over > ready.from && plan.first < end
        })
        .filter(|order| base.moment.world().can_go(ready.plant, *order));
    for order in of_the_day {
        let site = scenario.orders[order.at()].stay.site;
        let same = orders
            .iter_mut()
            .find(|other| scenario.orders[other.at()].stay.site == site);
        match same {
            None => orders.push(order),
            Some(other) if base.moment.next_load(*other).is_none() => *other = order,
            Some(_) => {}
        }
    }
    orders
}

/// Until when a load may begin whatever the driver's clocks and the plant's hours say.
fn most(world: &World<'_>, ready: &Ready, order: OrderId) -> (Millis, Ends) {
    let (_, _, day_over) = world.goes_to(order);
    let minute = Millis::MINUTE;
    [
        (day_over - minute, Ends::DayOver),
        (ready.no_load_from - minute, Ends::Company),
        (ready.from + LONGEST, Ends::Nothing),
    ]
    .into_iter()
    .min_by_key(|(at, _)| *at)
    .expect("there are three")
}

/// A time by which something has to be done is told no later than it is.
fn whole_minute(at: Millis) -> Millis {
    Millis::MINUTE * at.0.div_euclid(Millis::MINUTE.0)
}

fn last_load(
    rows: &Rows,
    at: usize,
    pair: &Pair,
    base: &Base<'_>,
    (chance, level): (f64, f64),
) -> LastLoad {
    let column = |column: usize| rows.values(0, EACH * at + column);
    let mut runs: Vec<(f64, f64, f64)> = column(LOAD_BY)
        .zip(column(LEAVE_BY))
        .zip(column(ENDS))
        .map(|((load, leave), ends)| (load, leave, ends))
        .collect();
    let first = |value: f64| {
        if value.is_nan() {
            f64::NEG_INFINITY
        } else {
            value
        }
    };
    runs.sort_by(|a, b| first(a.0).total_cmp(&first(b.0)));
    // So many runs may fall below the time that is told.
    let of = runs.len() as u64;
    let mut below = 0;
    while below + 1 < of && share_at_least(of - below - 1, of, level) >= chance {
        below += 1;
    }
    let (load, _, ends) = runs[below as usize];
    let mut leaves: Vec<f64> = runs.iter().map(|run| first(run.1)).collect();
    leaves.sort_by(f64::total_cmp);
    let leave = leaves[below as usize];
    let told = |minutes: f64| {
        let at = minutes.is_finite().then(|| Millis::from_minutes(minutes));
        at.map(whole_minute)
    };
    let fresh: Vec<f64> = column(FRESH).filter(|fresh| !fresh.is_nan()).collect();
    LastLoad {
        site: pair.site,
        order: pair.order,
        to_come: base.moment.next_load(pair.order).is_some(),
        out_min: crate::statistics::quantile(column(OUT), 0.5).unwrap_or(0.0),
        load_by: told(load),
        leave_by: told(leave),
        ends: Ends::of(ends),
        fresh: fresh.iter().sum::<f64>() / fresh.len().max(1) as f64,
    }
}
