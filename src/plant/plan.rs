//! A scenario made ready to run: names gone, minutes in milliseconds, spreads compiled, one policy for each rule.

use super::drum::{DrumPlan, mixing_on_site_min};
use super::roster::Roster;
use super::work_ahead::Ahead;
use crate::concrete::{EmptyWeight, RackPractice, Reuse};
use crate::dispatch::{HrwrAt, PlantView, Policy, PolicyData, Prices, StageBelief, TruckView};
use crate::engine::{Counter, Entity, Sampler, Spread};
use crate::hours::{Clocks, RuleBook, RuleSet, TourRecord};
use crate::roads::{Haul, Roads};
use crate::scenario::{
    Batcher, BayQueue, Changes, Company, Corrections, Destination, DrawnOrders, Endless, Helper,
    History, Licence, Need, Order, Plant, Routing, Scenario, Slot, Stage, StayTimes,
};
use crate::units::{Cents, DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume, Weekday};

/// A stage's length: (fixed + per yd³ × volume) × luck, in minutes.
#[derive(Clone, Debug)]
pub(super) struct Length {
    fixed_min: f64,
    per_yd3_min: f64,
    luck: Sampler,
    constant: Option<Millis>,
}

impl Length {
    fn new(fixed_min: f64, per_yd3_min: f64, luck: &Spread) -> Self {
        let constant = match luck {
            Spread::Constant(value) if per_yd3_min == 0.0 => {
                Some(Millis::from_minutes(fixed_min * value))
            }
            _ => None,
        };
        Self {
            fixed_min,
            per_yd3_min,
            luck: luck.sampler(),
            constant,
        }
    }

    fn minutes(spread: &Spread) -> Self {
        Self::new(1.0, 0.0, spread)
    }

    fn of_stage(stage: &Stage) -> Self {
        match stage {
            Stage::Minutes(spread) => Self::minutes(spread),
            Stage::PerYard {
                fixed_min,
                min_per_yd3,
                luck,
            } => Self::new(*fixed_min, *min_per_yd3, luck),
        }
    }

    /// The length for a volume, of which it is known that it exceeds `elapsed`, with the luck at `u` of what is longer.
    pub(super) fn beyond(&self, volume: Volume, elapsed: Millis, u: f64) -> Millis {
        let base = self.fixed_min + self.per_yd3_min * volume.yd3();
        let length = match self.constant {
            Some(constant) => constant,
            None if base > 0.0 => Millis::from_minutes(
                base * self
                    .luck
                    .beyond(elapsed.max(Millis::ZERO).minutes() / base, u),
            ),
            None => Millis::ZERO,
        };
        length.max(elapsed)
    }

    /// The length for a volume, with the luck at `u` in (0, 1).
    #[inline]
    pub(super) fn at(&self, volume: Volume, u: f64) -> Millis {
        match self.constant {
            Some(constant) => constant,
            None => Millis::from_minutes(
                (self.fixed_min + self.per_yd3_min * volume.yd3()) * self.luck.at(u),
            ),
        }
    }
}

/// A plant made ready.
#[derive(Clone, Debug)]
pub struct PlantPlan {
    /// Where it is.
    pub place: PlaceId,
    /// Open spans over the period, in order.
    pub open: Vec<(Millis, Millis)>,
    /// Bays.
    pub bays: u32,
    /// Trucks at the rack at once.
    pub rack_places: u32,
    pub(super) shared_batcher: bool,
    pub(super) by_rule: bool,
    pub(super) pull_in: Millis,
    pub(super) loading: Length,
    pub(super) rack: Length,
    pub(super) view: PlantView,
    pub(super) entity: Entity,
    /// Time between two outages and length of one, and the length that the desk reckons with.
    pub(super) outages: Option<(Length, Length, Millis)>,
    pub(super) planned_outages: Vec<(Millis, Millis)>,
    /// Whether it weighs its trucks.
    pub(super) truck_scale: bool,
}

/// A truck made ready.
#[derive(Clone, Debug)]
pub struct TruckPlan {
    /// Its home plant.
    pub home: PlantId,
    pub(super) needs: Option<Need>,
    pub(super) view: TruckView,
    pub(super) entity: Entity,
    /// Driven time between two breakdowns and length of one.
    pub(super) breakdowns: Option<(Length, Length)>,
}

/// A driver made ready.
#[derive(Clone, Debug)]
pub(super) struct DriverPlan {
    /// Place among all by seniority, 0 first.
    pub(super) seniority: u32,
    pub(super) truck: TruckId,
    pub(super) shift: Millis,
    pub(super) entity: Entity,
    /// Planned report times over the period.
    pub(super) reports: Vec<Millis>,
    /// The day that each belongs to.
    pub(super) report_days: Vec<u16>,
    pub(super) rule_book: RuleBook,
    /// The clocks at the first midnight, and what else is known of the days before.
    pub(super) clocks: Clocks,
    pub(super) tours: TourRecord,
    pub(super) rested: Millis,
    pub(super) released: Millis,
    pub(super) in_row: u32,
    pub(super) licence: Option<Licence>,
}

/// A helper made ready.
#[derive(Clone, Debug)]
pub(super) struct HelperPlan {
    pub(super) place: PlaceId,
    /// On call over the period.
    pub(super) on_call: Vec<(Millis, Millis)>,
    pub(super) rule_book: RuleBook,
    pub(super) clocks: Clocks,
    pub(super) licence: Option<Licence>,
}

/// An order made ready.
#[derive(Clone, Debug)]
pub struct OrderPlan {
    /// Volume ordered; [`Volume::ENDLESS`] for an endless order.
    pub volume: Volume,
    /// Nominal load.
    pub load: Volume,
    /// Whether loads are made on demand.
    pub endless: bool,
    /// How late counts as late.
    pub late: Millis,
    /// Pause tolerated.
    pub gap: Millis,
    /// When the pour was agreed to be finished; [`Millis::NEVER`] if it was not.
    pub finish_by: Millis,
    /// When the first load is due.
    pub first: Millis,
    /// End of the order's day: the midnight after its last load is due.
    pub day_over: Millis,
    /// Its spots: positions in the plan's list.
    pub spots: std::ops::Range<u32>,
    pub(super) spacing: Millis,
    pub(super) opens: Millis,
    pub(super) entity: Entity,
    pub(super) makers: Vec<PlantId>,
    pub(super) mix: Entity,
    /// What a yd³ of its mix weighs, lb.
    pub(super) lb_per_yd3: f64,
    pub(super) drawn: bool,
    /// Time between two loads of a stream.
    pub(super) arrivals: Option<Length>,
    /// Share of periods in which it is ordered.
    pub(super) chance: f64,
    /// From when the desk knows of it.
    pub(super) called: Millis,
    pub(super) outdoor: bool,
    /// What its site calls in beyond the volume, yd³. None: as `changes` says.
    pub(super) balance: Option<Sampler>,
    /// Whether a pump stands on site.
    pub pump: bool,
    /// Which of the drawn orders it is.
    pub(super) slot: Option<Slot>,
}

/// A list of drawn orders made ready.
#[derive(Clone, Debug)]
pub(super) struct DrawnPlan {
    pub(super) entity: Entity,
    pub(super) per_day: Counter,
    /// How much later than the earliest the latest is due.
    pub(super) window: Millis,
    pub(super) volume: Sampler,
    pub(super) growth: f64,
}

impl OrderPlan {
    /// When a load is due that has this volume before it.
    #[inline]
    pub fn due(&self, before: Volume) -> Millis {
        if self.endless {
            return Millis::ZERO;
        }
        // Whole numbers below 2^53: volume in thousandths times spacing in ms stays exact.
        self.first
            + Millis(
                (i128::from(before.0) * i128::from(self.spacing.0) / i128::from(self.load.0))
                    as i64,
            )
    }
}

/// A spot made ready: where loads of one order are taken.
#[derive(Clone, Debug)]
pub struct SpotPlan {
    /// Its order.
    pub order: OrderId,
    /// Its place.
    pub place: PlaceId,
    /// The nearest place where a truck may lawfully stand.
    pub parking: PlaceId,
    /// Places at each outlet.
    pub outlet_places: Vec<u32>,
    /// Outlets with a place for a truck each, summed over the places.
    pub places: u32,
    pub(super) rates: Vec<Length>,
    pub(super) position: Length,
    pub(super) chute_wash: Length,
    pub(super) room: u32,
    /// What is believed of a load's stay where its HRWR went in at the plant, positioning to chute wash.
    pub(super) usual_stay: StageBelief,
    /// The same where HRWR goes in on site.
    pub(super) stay_with_hrwr: StageBelief,
    pub(super) discharge: StageBelief,
    /// Share of the loads up to and with this spot, for drawn destinations.
    pub(super) cumulative_share: f64,
}

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
    /// The span over which queues are averaged.
    pub measure: (Millis, Millis),
    /// The span in which loads and waits are counted: the measured one, else the whole replication, run home included.
    pub counted: (Millis, Millis),
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
    pub(super) not_ready: Length,
    /// How slowly a site unloads. None: as its rate says.
    pub(super) pace: Option<Sampler>,
    pub(super) hold_min: Length,
    pub(super) returned_yd3: Sampler,
    pub(super) balance_yd3: Sampler,
    pub(super) drawn: Vec<DrawnPlan>,
    /// What empty trucks weigh beyond the books where nobody weighs them.
    pub(super) empty_weight: EmptyWeight,
    /// How long a truck that is found heavy is held. None: nobody is.
    pub(super) held_heavy: Option<Length>,
    /// Share of the loads that nobody weighed that go round an open weigh station.
    pub(super) goes_round: f64,
    pub(super) helpers: Vec<HelperPlan>,
    pub(super) age_limit: Millis,
    pub(super) rack_practice: Option<RackPractice>,
    pub(super) reuse: Option<Reuse>,
    pub(super) drums: Option<DrumPlan>,
    pub(super) dry_up: Length,
    pub(super) empty: Length,
    pub(super) pre_trip: Length,
    pub(super) pre_trip_mean: Millis,
    pub(super) roster: Roster,
    /// By order: how its loads are reckoned with beforehand. None: without a way, or endless.
    pub(super) ahead: Vec<Option<Ahead>>,
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
            age_limit: scenario.concrete.age_limit,
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
        let ahead = orders.iter().map(|order: &OrderPlan| {
            let spot = &spots[order.spots.start as usize];
            Ahead::new(order, spot, &plants, &roads).filter(|_| !order.endless)
        });
        let ahead = ahead.collect();
        let trucks = trucks(scenario, &plants);
        let drivers = drivers(scenario);
        Self {
            roster: Roster::new(
                &drivers,
                &trucks,
                plants.len(),
                scenario.period.days,
                &policies,
            ),
            ahead,
            pre_trip_mean: Millis::from_minutes(scenario.yard.pre_trip.mean()),
            trucks,
            drivers,
            measure: scenario.period.measure.unwrap_or((Millis::ZERO, end)),
            counted: scenario
                .period
                .measure
                .unwrap_or((Millis::ZERO, Millis::NEVER)),
            days: scenario.period.days,
            first_day: scenario.period.first_day,
            miles_at_mph: (scenario.money.truck_per_mile > Cents::ZERO)
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
            not_ready: Length::minutes(&scenario.changes.not_ready_min),
            pace: scenario.changes.pace.as_ref().map(Spread::sampler),
            hold_min: Length::minutes(&scenario.changes.hold_min),
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

    /// Number of drivers.
    pub fn driver_count(&self) -> usize {
        self.drivers.len()
    }
}

fn plant_plan(scenario: &Scenario, id: PlantId, plant: &Plant) -> PlantPlan {
    let place = scenario.plant_place(id);
    let open = open_spans(scenario, plant);
    let mut loading = believed_stage(&plant.loading);
    loading.fixed_min += plant.pull_in_min;
    PlantPlan {
        place,
        bays: plant.bays,
        rack_places: plant.rack_places.unwrap_or(u32::MAX),
        shared_batcher: plant.batcher == Batcher::Shared,
        by_rule: plant.bay_queue == BayQueue::ByRule,
        pull_in: Millis::from_minutes(plant.pull_in_min),
        loading: Length::of_stage(&plant.loading),
        rack: Length::minutes(&plant.rack),
        view: PlantView {
            place,
            opens: Millis::NEVER,
            closes: Millis::NEVER,
            loading,
            rack: believed(&plant.rack),
        },
        open,
        entity: Entity::named(&plant.name),
        outages: plant.outages.as_ref().map(|outages| {
            let between = Spread::Exponential {
                mean: 60.0 * outages.mean_h_between,
            };
            (
                Length::minutes(&between),
                Length::minutes(&outages.minutes),
                Millis::from_minutes(outages.minutes.mean()),
            )
        }),
        planned_outages: plant.planned_outages.clone(),
        truck_scale: plant.truck_scale,
    }
}

/// Open spans over the period, those that touch joined.
fn open_spans(scenario: &Scenario, plant: &Plant) -> Vec<(Millis, Millis)> {
    let days = i64::from(scenario.period.days);
    if plant.hours.is_empty() {
        return vec![(Millis::ZERO, Millis::NEVER)];
    }
    let mut spans: Vec<(Millis, Millis)> = (0..days)
        .flat_map(|day| {
            let weekday = scenario.period.first_day.after(day);
            let midnight = Millis::midnight(day);
            plant
                .hours
                .iter()
                .filter(move |hours| hours.days.contains(&weekday))
                .map(move |hours| (midnight + hours.open, midnight + hours.close))
        })
        .collect();
    spans.sort_unstable();
    let mut joined: Vec<(Millis, Millis)> = Vec::with_capacity(spans.len());
    for (open, close) in spans {
        match joined.last_mut() {
            Some(last) if last.1 >= open => last.1 = last.1.max(close),
            _ => joined.push((open, close)),
        }
    }
    joined
}

fn trucks(scenario: &Scenario, plants: &[PlantPlan]) -> Vec<TruckPlan> {
    scenario
        .trucks
        .iter()
        .map(|truck| TruckPlan {
            home: truck.home,
            needs: truck.needs.clone(),
            entity: Entity::named(&truck.name),
            breakdowns: truck.breakdowns.as_ref().map(|breakdowns| {
                let between = Spread::Exponential {
                    mean: 60.0 * breakdowns.mean_h_between,
                };
                (
                    Length::minutes(&between),
                    Length::minutes(&breakdowns.minutes),
                )
            }),
            view: TruckView {
                home: truck.home,
                place: plants[truck.home.at()].place,
                free_at: Millis::ZERO,
                idle_since: Millis::ZERO,
                report: Millis::ZERO,
                driver: DriverId(0),
                book: None,
                seniority: 0,
                barred_from: Millis::NEVER,
                no_load_from: Millis::NEVER,
                finish_by: Millis::NEVER,
                capacity: truck.capacity,
                payload_lb: truck.payload_lb(),
            },
        })
        .collect()
}

fn drivers(scenario: &Scenario) -> Vec<DriverPlan> {
    scenario
        .drivers
        .iter()
        .zip(by_seniority(scenario))
        .map(|(driver, seniority)| DriverPlan {
            seniority,
            truck: driver.truck,
            shift: driver.shift,
            entity: Entity::named(&driver.name),
            reports: driver.reports(&scenario.period),
            report_days: driver
                .reports_by_day(&scenario.period)
                .iter()
                .map(|(day, _)| *day as u16)
                .collect(),
            rule_book: driver.rule_book,
            clocks: clocks(scenario, driver.rule_book, &driver.history),
            tours: driver.history.tours(),
            rested: rest(scenario, driver.rule_book) - driver.history.released_before,
            released: -driver.history.released_before,
            in_row: driver.history.days_in_row(),
            licence: driver.licence.clone(),
        })
        .collect()
}

fn clocks(scenario: &Scenario, book: RuleBook, history: &History) -> Clocks {
    history.clocks(&book.written_out(&scenario.rule_sets))
}

/// The rest before a report.
fn rest(scenario: &Scenario, book: RuleBook) -> Millis {
    book.written_out(&scenario.rule_sets).reset_rest
}

fn places(scenario: &Scenario) -> Vec<(f64, f64)> {
    let plants = scenario.plants.iter().map(|plant| plant.at);
    plants
        .chain(scenario.sites.iter().map(|site| site.at))
        .collect()
}

/// Each driver's place among all by seniority; those without one come last, equals in the order written.
fn by_seniority(scenario: &Scenario) -> Vec<u32> {
    let mut order: Vec<usize> = (0..scenario.drivers.len()).collect();
    order.sort_by_key(|at| scenario.drivers[*at].seniority.unwrap_or(u32::MAX));
    let mut places = vec![0; order.len()];
    for (place, driver) in order.into_iter().enumerate() {
        places[driver] = place as u32;
    }
    places
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

fn helpers(scenario: &Scenario) -> Vec<HelperPlan> {
    // A driver stranded on the last day is fetched the day after.
    let days = 0..=i64::from(scenario.period.days);
    let on_call = |helper: &Helper| {
        days.clone()
            .filter(|day| helper.days.contains(&scenario.period.first_day.after(*day)))
            .map(|day| {
                (
                    Millis::midnight(day) + helper.from,
                    Millis::midnight(day) + helper.to,
                )
            })
            .collect()
    };
    scenario
        .helpers
        .iter()
        .map(|helper| HelperPlan {
            place: scenario.plant_place(helper.at),
            on_call: on_call(helper),
            rule_book: helper.rule_book,
            clocks: clocks(scenario, helper.rule_book, &helper.history),
            licence: helper.licence.clone(),
        })
        .collect()
}

/// Plants that make a mix, among those allowed if any are named.
fn makers(scenario: &Scenario, mix: &str, allowed: &[PlantId]) -> Vec<PlantId> {
    (0..scenario.plants.len())
        .map(PlantId::new)
        .filter(|id| scenario.plants[id.at()].makes(mix))
        .filter(|id| allowed.is_empty() || allowed.contains(id))
        .collect()
}

fn order_plan(scenario: &Scenario, order: &Order, spots: std::ops::Range<u32>) -> OrderPlan {
    let mut plan = OrderPlan {
        volume: order.volume,
        load: order.load,
        endless: false,
        late: order.late,
        gap: order.gap,
        finish_by: order.finish_by.unwrap_or(Millis::NEVER),
        first: order.first,
        day_over: Millis::ZERO,
        spots,
        spacing: order.spacing,
        opens: order.first + order.setup,
        entity: Entity::named(&order.name),
        makers: makers(scenario, &order.mix, &order.plants),
        mix: Entity::named(&order.mix),
        lb_per_yd3: scenario.concrete.lb_per_yd3(&order.mix),
        drawn: false,
        arrivals: None,
        chance: order.chance,
        called: order.called,
        outdoor: order.outdoor,
        balance: order.balance_yd3.as_ref().map(Spread::sampler),
        pump: order.pump,
        slot: order.slot,
    };
    let last = Volume((order.volume.loads_of(order.load) - 1) * order.load.0);
    // The period ends everything; a pour that was to run on past it is judged by then.
    let end = Millis::midnight(i64::from(scenario.period.days));
    let window = order.slot.map_or(Millis::ZERO, |slot| {
        let (from, to) = scenario.drawn[slot.group].first;
        to - from
    });
    plan.day_over = Millis::midnight((plan.due(last) + window).day() + 1).min(end);
    plan
}

fn drawn_plan(drawn: &DrawnOrders) -> DrawnPlan {
    DrawnPlan {
        entity: Entity::named(&drawn.name),
        per_day: drawn.per_day.counter(),
        window: drawn.first.1 - drawn.first.0,
        volume: drawn.volume.sampler(),
        growth: drawn.growth,
    }
}

fn endless_plan(scenario: &Scenario, endless: &Endless, spots: std::ops::Range<u32>) -> OrderPlan {
    OrderPlan {
        volume: Volume::ENDLESS,
        load: endless.load,
        endless: true,
        late: Millis::NEVER,
        gap: Millis::NEVER,
        finish_by: Millis::NEVER,
        first: Millis::ZERO,
        day_over: Millis::NEVER,
        spots,
        spacing: Millis::ZERO,
        opens: Millis::ZERO,
        entity: Entity::named(&endless.name),
        makers: makers(scenario, &endless.mix, &[]),
        mix: Entity::named(&endless.mix),
        lb_per_yd3: scenario.concrete.lb_per_yd3(&endless.mix),
        drawn: endless.routing == Routing::Drawn,
        arrivals: endless.arrivals.as_ref().map(Length::minutes),
        chance: 1.0,
        called: Millis::ZERO,
        outdoor: false,
        balance: None,
        pump: false,
        slot: None,
    }
}

fn spot_plan(
    scenario: &Scenario,
    roads: &Roads,
    order: OrderId,
    to: &Destination,
    (mixing_min, cumulative_share): (f64, f64),
) -> SpotPlan {
    let StayTimes {
        position,
        discharge,
        discharge_luck,
        chute_wash,
    } = &to.times;
    let rates = to.outlets.iter().map(|outlet| match discharge {
        Some(spread) => Length::minutes(spread),
        None => Length::new(0.0, 1.0 / outlet.rate_yd3_min, discharge_luck),
    });
    let mean_rate =
        to.outlets.iter().map(|o| o.rate_yd3_min).sum::<f64>() / to.outlets.len() as f64;
    let flow = match discharge {
        Some(spread) => believed(spread),
        None => StageBelief {
            fixed_min: 0.0,
            per_yd3_min: discharge_luck.mean() / mean_rate,
            cv: cv(discharge_luck),
        },
    };
    // HRWR is mixed in while the truck takes its place.
    let stay = |before_discharge_min: f64| StageBelief {
        fixed_min: flow.fixed_min + before_discharge_min + chute_wash.mean(),
        per_yd3_min: flow.per_yd3_min,
        cv: flow.cv,
    };
    SpotPlan {
        order,
        place: to.site,
        parking: parking(scenario, roads, to.site),
        outlet_places: to.outlets.iter().map(|outlet| outlet.places).collect(),
        places: to.outlets.iter().map(|outlet| outlet.places).sum(),
        rates: rates.collect(),
        position: Length::minutes(position),
        chute_wash: Length::minutes(chute_wash),
        room: to.waiting_room.unwrap_or(u32::MAX),
        usual_stay: stay(position.mean()),
        stay_with_hrwr: stay(position.mean().max(mixing_min)),
        discharge: flow,
        cumulative_share,
    }
}

impl SpotPlan {
    /// What is believed of the stay of a load that is at once given a place, positioning to chute wash.
    pub(super) fn stay(&self, policy: &Policy) -> StageBelief {
        match policy.yard.hrwr {
            HrwrAt::Plant => self.usual_stay,
            HrwrAt::OnSite => self.stay_with_hrwr,
        }
    }
}

/// The nearest place from a site where a truck may lawfully stand: the site itself, else by free flow.
fn parking(scenario: &Scenario, roads: &Roads, site: PlaceId) -> PlaceId {
    let plants = scenario.plants.len();
    let lawful =
        |place: PlaceId| place.at() < plants || scenario.sites[place.at() - plants].parking;
    if lawful(site) {
        return site;
    }
    (0..plants + scenario.sites.len())
        .map(PlaceId::new)
        .filter(|place| lawful(*place))
        .min_by_key(|place| roads.free_flow(site, *place, Haul::Empty))
        .unwrap_or(site)
}

fn cv(spread: &Spread) -> f64 {
    let mean = spread.mean();
    if mean > 0.0 {
        spread.variance().sqrt() / mean
    } else {
        0.0
    }
}

fn believed(spread: &Spread) -> StageBelief {
    StageBelief {
        fixed_min: spread.mean(),
        per_yd3_min: 0.0,
        cv: cv(spread),
    }
}

fn believed_stage(stage: &Stage) -> StageBelief {
    match stage {
        Stage::Minutes(spread) => believed(spread),
        Stage::PerYard {
            fixed_min,
            min_per_yd3,
            luck,
        } => StageBelief {
            fixed_min: fixed_min * luck.mean(),
            per_yd3_min: min_per_yd3 * luck.mean(),
            cv: cv(luck),
        },
    }
}
