//! A scenario made ready to run: names gone, minutes in milliseconds, spreads compiled, one policy for each rule.

mod ahead;
mod drawn;
mod driver;
mod drum;
mod helper;
mod in_time;
mod length;
mod order;
mod plant;
mod roster;
mod spot;
mod truck;

pub use driver::PayBasis;
pub use order::OrderPlan;
pub use plant::PlantPlan;
pub use spot::SpotPlan;
pub use truck::TruckPlan;

pub(super) use ahead::Ahead;
pub(super) use driver::DriverPlan;
pub(super) use drum::DrumPlan;
pub(super) use roster::Rostered;
pub(super) use truck::BreakdownPlan;

use drawn::{DrawnPlan, drawn_plan};
use driver::drivers;
use drum::mixing_on_site_min;
use helper::{HelperPlan, helpers};
use in_time::Book;
use length::{Length, Unknown};
use order::{endless_plan, order_plan};
use plant::plant_plan;
use roster::Roster;
use spot::spot_plan;
use truck::trucks;

use crate::concrete::{EmptyWeight, RackPractice, Reuse};
use crate::dispatch::{Policy, PolicyData, Prices};
use crate::engine::{Sampler, Spread};
use crate::hours::RuleSet;
use crate::roads::{Haul, Roads};
use crate::scenario::edit::one_breakdown::usual_breakdowns;
use crate::scenario::{Changes, Company, Corrections, LoadOnPaper, Scenario};
use crate::units::measure::Measures;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, Rate, TruckId, Weekday};

/// A scenario made ready to run under each of its rules.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Plants, by id.
    pub plants: Vec<PlantPlan>,
    /// Trucks, by id.
    pub trucks: Vec<TruckPlan>,
    /// Orders, endless ones last, by id.
    pub orders: Vec<OrderPlan>,
    /// Spots, by id.
    pub spots: Vec<SpotPlan>,
    /// End of the period.
    pub end: Millis,
    /// When the last order's day is over: until then loads are sent.
    pub sent_until: Millis,
    /// The span over which queues are averaged.
    pub measure: (Millis, Millis),
    /// The span in which loads and waits are counted: the measured one, else the whole replication, run home included.
    pub counted: (Millis, Millis),
    /// In what its figures are told.
    pub measures: Measures,
    /// Days in the period.
    pub days: u32,
    /// Weekday of the first.
    pub first_day: Weekday,
    /// One policy for each rule.
    pub policies: Vec<Policy>,
    pub(super) drivers: Vec<DriverPlan>,
    /// What makes minutes of a table miles; none where nobody asks for miles.
    pub(super) miles_at_mph: Option<f64>,
    pub(super) roads: Roads,
    pub(super) rule_sets: Vec<RuleSet>,
    pub(super) company: Company,
    /// Where every place lies, miles east and north.
    pub(super) map: Vec<(f64, f64)>,
    /// What usually remains to be done between home and release.
    pub(super) home_work: Millis,
    pub(super) horizon: Millis,
    pub(super) no_load_after: Millis,
    pub(super) latest_report: Millis,
    pub(super) changes: Changes,
    pub(super) not_ready: Unknown,
    /// How slowly a site unloads. None: as its rate says.
    pub(super) pace: Option<Sampler>,
    pub(super) hold_min: Unknown,
    pub(super) returned_yd3: Sampler,
    pub(super) balance_yd3: Sampler,
    pub(super) drawn: Vec<DrawnPlan>,
    /// What empty trucks weigh beyond the books where nobody weighs them.
    pub(super) empty_weight: EmptyWeight,
    /// How long a truck that is found heavy is held. None: nobody is.
    pub(super) held_heavy: Option<Length>,
    /// Share of the loads that nobody weighed that go round an open weigh station.
    pub(super) goes_round: f64,
    /// What a standstill is of a truck of which the scenario says nothing of breakdowns.
    pub(super) usual_breakdowns: BreakdownPlan,
    /// The order with one of whose loads a truck breaks down once.
    pub(super) one_breakdown: Option<OrderId>,
    pub(super) helpers: Vec<HelperPlan>,
    pub(super) age_limit: Millis,
    pub(super) rack_practice: Option<RackPractice>,
    pub(super) reuse: Option<Reuse>,
    pub(super) drums: Option<DrumPlan>,
    pub(super) dry_up: Length,
    pub(super) empty: Length,
    pub(super) pre_trip: Length,
    /// The mean time of checking a truck before its first load.
    pub pre_trip_mean: Millis,
    pub(super) roster: Roster,
    /// By order: how its loads are reckoned with beforehand at each plant that may make them, the nearest first. Empty: without a
    /// way, or endless.
    pub(super) ahead: Vec<Vec<Ahead>>,
    /// The orders in order of time.
    pub(super) book: Book,
    /// The trucks of each plant, in order.
    pub(super) at_home: Vec<Vec<TruckId>>,
    pub(super) washout: Length,
    pub(super) post_trip: Length,
}

impl Plan {
    /// Time on the empty road for a loaded truck; none without a way.
    pub fn free_flow(&self, from: PlaceId, to: PlaceId) -> Option<Millis> {
        Some(self.roads.free_flow(from, to, Haul::Loaded)).filter(|span| *span < Millis::NEVER)
    }

    /// Makes a checked scenario ready.
    pub fn new(scenario: &Scenario) -> Self {
        let roads = super::road_plan::roads(scenario);
        let data = PolicyData {
            roads: &roads,
            age_limit: scenario.known_age(),
            prices: prices(scenario),
            driver_caution: scenario.company.driver_caution,
            slump_read: scenario.concrete.material.is_some(),
        };
        let policies: Vec<Policy> = scenario
            .rules
            .iter()
            .map(|rule| Policy::new(rule, &data))
            .collect();
        let end = Millis::midnight(i64::from(scenario.period.days));
        let plants: Vec<PlantPlan> = scenario
            .plants
            .iter()
            .enumerate()
            .map(|(i, plant)| plant_plan(scenario, PlantId::new(i), plant))
            .collect();
        let mut spots = Vec::new();
        let mut orders = Vec::new();
        for order in &scenario.orders {
            let id = OrderId::new(orders.len());
            let first = spots.len() as u32;
            let mixing_min = mixing_on_site_min(scenario, &order.mix);
            spots.push(spot_plan(
                scenario,
                &roads,
                id,
                &order.stay,
                (mixing_min, 1.0),
            ));
            orders.push(order_plan(scenario, order, first..first + 1));
        }
        for endless in &scenario.endless {
            let id = OrderId::new(orders.len());
            let first = spots.len() as u32;
            let mixing_min = mixing_on_site_min(scenario, &endless.mix);
            let total: f64 = endless.destinations.iter().map(|d| d.share).sum();
            let mut sum = 0.0;
            for destination in &endless.destinations {
                sum += destination.share;
                let share = (mixing_min, sum / total);
                spots.push(spot_plan(scenario, &roads, id, destination, share));
            }
            orders.push(endless_plan(scenario, endless, first..spots.len() as u32));
        }
        let ahead = scenario
            .orders
            .iter()
            .map(|order| ahead::by_nearness(LoadOnPaper::all(scenario, &roads, order).collect()));
        let endless = scenario.endless.iter().map(|_| Vec::new());
        let ahead: Vec<Vec<Ahead>> = ahead.chain(endless).collect();
        let trucks = trucks(scenario, &plants);
        let mut at_home = vec![Vec::new(); plants.len()];
        for (position, truck) in trucks.iter().enumerate() {
            at_home[truck.home.at()].push(TruckId::new(position));
        }
        let drivers = drivers(scenario);
        Self {
            roster: Roster::new(
                &drivers,
                &trucks,
                plants.len(),
                scenario.period.days,
                &policies,
            ),
            book: Book::new(&orders, &ahead, &plants),
            at_home,
            ahead,
            pre_trip_mean: Millis::from_minutes(scenario.yard.pre_trip.mean()),
            trucks,
            drivers,
            measure: scenario.period.measure.unwrap_or((Millis::ZERO, end)),
            counted: scenario
                .period
                .measure
                .unwrap_or((Millis::ZERO, Millis::NEVER)),
            measures: scenario.measures,
            days: scenario.period.days,
            first_day: scenario.period.first_day,
            miles_at_mph: (scenario.money.truck_per_mile > Rate::ZERO)
                .then_some(scenario.money.miles_at_mph),
            rule_sets: scenario.rule_sets.clone(),
            company: scenario.company.clone(),
            map: places(scenario),
            home_work: Millis::from_minutes(
                scenario.yard.washout.mean() + scenario.yard.post_trip.mean(),
            ),
            horizon: scenario.company.promise_horizon,
            no_load_after: scenario.company.no_load_after.unwrap_or(Millis::NEVER),
            latest_report: scenario.company.latest_report,
            changes: scenario.changes.clone(),
            not_ready: Unknown::minutes(&scenario.changes.not_ready_min),
            pace: scenario.changes.pace.as_ref().map(Spread::sampler),
            hold_min: Unknown::minutes(&scenario.changes.hold_min),
            returned_yd3: scenario.changes.returned_yd3.sampler(),
            drawn: scenario.drawn.iter().map(drawn_plan).collect(),
            balance_yd3: scenario.changes.balance_yd3.sampler(),
            empty_weight: scenario.empty_weight,
            held_heavy: scenario
                .weighing
                .as_ref()
                .map(|weighing| Length::minutes(&weighing.held)),
            goes_round: scenario
                .weighing
                .as_ref()
                .map_or(0.0, |weighing| weighing.goes_round),
            usual_breakdowns: BreakdownPlan::new(&usual_breakdowns()),
            one_breakdown: scenario.one_breakdown,
            helpers: helpers(scenario),
            age_limit: scenario.concrete.age_limit.unwrap_or(Millis::NEVER),
            rack_practice: scenario.concrete.rack,
            reuse: scenario.concrete.reuse,
            drums: DrumPlan::new(scenario),
            dry_up: Length::minutes(&scenario.concrete.dry_up),
            empty: Length::minutes(&scenario.concrete.empty),
            pre_trip: Length::minutes(&scenario.yard.pre_trip),
            washout: Length::minutes(&scenario.yard.washout),
            post_trip: Length::minutes(&scenario.yard.post_trip),
            sent_until: orders
                .iter()
                .filter(|order| !order.endless)
                .map(|order| order.day_over)
                .fold(end, Millis::max),
            plants,
            orders,
            spots,
            end,
            policies,
            roads,
        }
    }
}

impl Plan {
    /// The roads.
    pub fn roads(&self) -> &Roads {
        &self.roads
    }

    /// How wet loads are corrected, where the concrete in the drum is computed.
    pub fn corrections(&self) -> Option<&Corrections> {
        self.drums.as_ref().map(|drums| &drums.material.corrections)
    }

    /// The rule books whose clocks are carried along.
    pub fn rule_sets(&self) -> &[RuleSet] {
        &self.rule_sets
    }

    /// What the pay of each driver looks at besides the hours of the period.
    pub fn pay_basis(&self) -> impl Iterator<Item = &PayBasis> {
        self.drivers.iter().map(|driver| &driver.pay)
    }

    /// The rostered report of a driver that is nearest to a moment; none of a driver without one. A rule may call for another time.
    pub fn nearest_rostered(&self, driver: DriverId, at: Millis) -> Option<Millis> {
        let reports = &self.drivers[driver.at()].reports;
        let next = reports.partition_point(|report| *report < at);
        let near = reports[next.saturating_sub(1)..].iter().take(2);
        near.copied().min_by_key(|report| (*report - at).0.abs())
    }

    /// Number of drivers.
    pub fn driver_count(&self) -> usize {
        self.drivers.len()
    }
}

fn places(scenario: &Scenario) -> Vec<(f64, f64)> {
    let plants = scenario.plants.iter().map(|plant| plant.at);
    plants
        .chain(scenario.sites.iter().map(|site| site.at))
        .collect()
}

fn prices(scenario: &Scenario) -> Prices {
    let money = &scenario.money;
    Prices {
        pay_per_h: money.pay_per_h,
        overtime_after: money.overtime_after,
        overtime_factor: money.overtime_factor,
        truck_per_duty_h: money.truck_per_duty_h,
        truck_per_driven_h: money.truck_per_driven_h,
        late_per_load: money.late_per_load,
        late_per_min: money.late_per_min,
        crew_per_open_h: money.crew_per_open_h,
        undelivered_per_yd3: money.undelivered_per_yd3,
    }
}

impl Plan {
    /// Whether anything beside the traffic happens to trucks on a drive.
    pub(super) fn watches_legs(&self) -> bool {
        self.miles_at_mph.is_some()
            || self.changes.rain_slows > 1.0
            || self.held_heavy.is_some()
            || self.trucks.iter().any(|truck| truck.breakdowns.is_some())
    }
}
