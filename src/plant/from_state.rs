//! A world made from how things stand, and how things stand in a world.
//!
//! What the file does not know is drawn in every fork: how bad today's roads are, how slow each site is, what is left of each
//! stage under way. Incidents under way and drawn outages are none, and drums on the way back are empty.

use super::command::Command;
use super::event::{Event, Observer};
use super::fork::Moment;
use super::plan::Plan;
use super::state::{Load, Phase, Truck};
use super::world::World;
use crate::engine::Luck;
use crate::hours::{Allowance, Clocks, DutyStatus, Rule};
use crate::roads::Haul;
use crate::scenario::day_state::{Carried, DayState, Doing, DriverState, OrderState};
use crate::units::{DriverId, Millis, OrderId, PlantId, SpotId, TruckId, Volume};

/// When what is under way would end, until a fork draws it.
const SOON: Millis = Millis(1);

impl<'p> World<'p> {
    /// The world as it stands, under the rule at position `rule`. The observer is told what has to be known of what is under
    /// way, as if it had just happened.
    pub fn from_state<O: Observer>(
        plan: &'p Plan,
        rule: usize,
        luck: Luck,
        state: &DayState,
        observer: &mut O,
    ) -> Self {
        let mut world = Self::new(plan);
        world.begin(rule, luck, &mut ());
        world.now = state.at;
        world.told_rain = Some(state.rain);
        let pending = world.calendar.pending();
        world.calendar.clear();
        for (at, class, command) in pending {
            let stays = matches!(
                command,
                Command::Open(_)
                    | Command::Closing(_)
                    | Command::HoldOver(_)
                    | Command::CallIn(_)
                    | Command::Down(_, true)
                    | Command::PeriodOver
            );
            if stays && at > state.at {
                world.calendar.schedule(at, class, command);
            }
        }
        world.stand_plants();
        for id in 0..plan.orders.len() {
            let id = OrderId::new(id);
            let done = state.orders.iter().find(|order| order.order == id);
            world.stand_order(id, done);
        }
        for id in 0..plan.drivers.len() {
            let id = DriverId::new(id);
            match state.drivers.iter().find(|driver| driver.driver == id) {
                Some(driver) => world.stand_driver(driver, observer),
                None => world.plan_next_report(id),
            }
        }
        for position in 0..plan.orders.len() {
            let id = OrderId::new(position);
            if plan.orders[position].endless {
                world.plan_arrival(id);
            }
            if !world.orders[position].closed {
                let called = plan.orders[position].called;
                if called > state.at && world.is_decided_on(id) {
                    world.orders[position].closed = true;
                    world.schedule(called, Command::Decide(id));
                    continue;
                }
                world.plan_ask(id);
                // Trucks that wait on site take the places that are free.
                world.schedule(state.at + SOON, Command::SiteReady(id));
            }
        }
        world.less_work = false;
        for position in 0..world.plants.len() {
            world.schedule(state.at + SOON, Command::Open(PlantId::new(position)));
        }
        world
    }

    fn stand_plants(&mut self) {
        for position in 0..self.plants.len() {
            let id = PlantId::new(position);
            let now = self.now;
            let planned = self.plan.plants[position].planned_outages.iter();
            let under_way = planned
                .clone()
                .find(|(from, to)| *from <= now && now < *to)
                .map(|(_, to)| *to);
            if let Some(to) = under_way {
                let plant = &mut self.plants[position];
                (plant.down, plant.back_at) = (1, to);
                self.schedule(to, Command::Up(id));
            }
            self.look_at_plant(id);
        }
    }

    fn stand_order(&mut self, id: OrderId, done: Option<&OrderState>) {
        let plan = &self.plan.orders[id.at()];
        let now = self.now;
        let order = &mut self.orders[id.at()];
        // `begin` has drawn whether it takes place: the file says so.
        order.closed = plan.day_over <= now
            || done.is_some_and(|done| done.cancelled)
            || (plan.chance < 1.0 && plan.called <= now || plan.slot.is_some()) && done.is_none();
        let later = done.map_or(Millis::ZERO, |done| done.later);
        (order.opens, order.moved) = (plan.opens + later, later);
        (order.pace, order.hold_drawn) = (1.0, None);
        order.ask_at = Millis::NEVER;
        (order.volume, order.booked) = (plan.volume, plan.volume);
        if let Some(done) = done {
            order.volume = done.ordered.unwrap_or(plan.volume);
            order.booked = order.volume.min(plan.volume);
            // Whoever has called more has called the balance.
            order.balance_called = order.volume > plan.volume;
            order.reached = done.placed;
            order.promised = done.sent;
            order.placed = done.placed;
            order.next_number = done.loads;
            order.begun = done.placed > Volume::ZERO;
        }
        if order.closed {
            return;
        }
        if plan.day_over < Millis::NEVER {
            self.schedule(plan.day_over, Command::DayOver(id));
        }
    }

    /// The first planned report after now.
    fn plan_next_report(&mut self, id: DriverId) {
        let plan = &self.plan.drivers[id.at()];
        // Where drivers are called, those of the next day have been by the evening before.
        let called = self.policy.shift.spare().is_some();
        for (nth, day) in (0..).zip(&plan.report_days) {
            let evening = Millis::midnight(i64::from(*day)) - Millis::HOUR * 6;
            let at = self.report_time(id, nth).unwrap_or(Millis::NEVER);
            if at <= self.now || at == Millis::NEVER || called && evening > self.now {
                continue;
            }
            self.schedule(at, Command::Report(id, nth));
            if !called {
                break;
            }
        }
    }

    /// The clocks of a driver who reported then: the driving right after the report, which no rule counts less.
    fn stand_clocks(&mut self, state: &DriverState) {
        let id = state.driver;
        let Some(rules) = self.book(id) else { return };
        let plan = &self.plan.drivers[id.at()];
        let mut clocks = match state.week {
            None => {
                let mut clocks = plan.clocks;
                clocks.advance(rules, state.reported);
                clocks
            }
            Some(week) => {
                // Spread over the days that the weekly limit counts beside today.
                let days = rules
                    .cycle
                    .as_ref()
                    .map_or(6, |cycle| i64::from(cycle.days) - 1);
                let today = rules.carrier_day(state.reported);
                let each = Millis(week.0 / days.max(1));
                let prior = (1..=days.max(1)).map(|ago| (today - ago, each));
                let rested = state.reported - rules.reset_rest.max(Millis::HOUR);
                Clocks::new(rules, state.reported, rested, prior)
            }
        };
        clocks.change(rules, state.reported, DutyStatus::OnDuty);
        if self.policy.long_day && rules.long_day_window.is_some() {
            let allowance = Allowance {
                long_day: plan
                    .tours
                    .may_use_long_day(rules.carrier_day(state.reported)),
                ..clocks.allowance()
            };
            clocks.allow(rules, state.reported, allowance);
        }
        if state.driven > Millis::ZERO {
            clocks.change(rules, state.reported, DutyStatus::Driving);
            clocks.change(rules, state.reported + state.driven, DutyStatus::OnDuty);
        }
        let status = match state.doing {
            Doing::Off => DutyStatus::OffDuty,
            Doing::Free(_) | Doing::Stranded(_) | Doing::OnSite(_) => DutyStatus::Waiting,
            Doing::Out(_) | Doing::Returning(_) => DutyStatus::Driving,
            Doing::Loading(_) | Doing::AtRack(_) | Doing::Discharging(_) => DutyStatus::OnDuty,
        };
        let from = state.since.max(clocks.now());
        // What is driven of the present drive is part of `driven`.
        let from = if status == DutyStatus::Driving {
            self.now.max(clocks.now())
        } else {
            from
        };
        clocks.change(rules, from, status);
        clocks.advance(rules, self.now.max(clocks.now()));
        self.clocks[id.at()] = clocks;
    }

    fn stand_driver<O: Observer>(&mut self, state: &DriverState, observer: &mut O) {
        let id = state.driver;
        let plan = &self.plan.drivers[id.at()];
        self.stand_clocks(state);
        let last_day = state.reported.day();
        let now = self.now;
        let nth = plan.reports.iter().filter(|at| **at <= now).count();
        let driver = &mut self.drivers[id.at()];
        driver.reported = state.reported;
        driver.in_row = match last_day - driver.last_day {
            0 | 1 => driver.in_row + 1,
            _ => 1,
        };
        driver.last_day = last_day;
        if state.doing == Doing::Off {
            let rested = match self.book(id) {
                Some(rules) => state.since + rules.reset_rest,
                None => plan.rule_book.next_report(state.since),
            };
            let driver = &mut self.drivers[id.at()];
            (driver.released, driver.rested) = (state.since, rested);
            self.plan_next_report(id);
            return;
        }
        driver.on_duty = true;
        driver.barred_from = plan.rule_book.barred_from(state.reported);
        driver.day = nth.saturating_sub(1) as u16;
        let planned = nth
            .checked_sub(1)
            .map_or(state.reported, |nth| plan.reports[nth]);
        let over = planned.max(state.reported - Millis::HOUR * 4) + plan.shift;
        driver.shift_over = over;
        self.schedule(over.max(self.now + SOON), Command::ShiftOver(id));
        self.plan_next_report(id);
        let truck = state.truck;
        self.seat(id, truck);
        self.tell(observer, Event::Reported { driver: id, truck });
        self.trucks[truck.at()].since = state.since;
        self.stand_truck(state, observer);
        self.tell_gone_through(truck, &state.doing, observer);
    }

    fn stand_truck<O: Observer>(&mut self, state: &DriverState, observer: &mut O) {
        let truck = state.truck;
        let now = self.now;
        match state.doing {
            Doing::Off => {}
            Doing::Free(plant) => {
                self.trucks[truck.at()].phase = Phase::Idle;
                let view = &mut self.truck_views[truck.at()];
                view.place = self.plan.plants[plant.at()].place;
                (view.free_at, view.idle_since) = (state.since, state.since);
                if !self.period_over {
                    self.offer(truck);
                }
            }
            Doing::Loading(load) => {
                self.carry(truck, &load, observer);
                let pull_in = self.plan.plants[load.plant.at()].pull_in;
                let begun = (state.since + pull_in).min(now);
                let plant = &mut self.plants[load.plant.at()];
                plant.bays_busy += 1;
                let waits = self.plan.plants[load.plant.at()].shared_batcher && plant.batcher_busy;
                if self.plan.plants[load.plant.at()].shared_batcher {
                    plant.batcher_busy = true;
                }
                if waits {
                    plant.batcher_queue.push_back(truck);
                } else {
                    self.schedule(now + SOON, Command::LeaveBay(truck));
                }
                let state = &mut self.trucks[truck.at()];
                (state.phase, state.begun) = (Phase::InBay, begun);
                state.load.batched = begun;
            }
            Doing::AtRack(load) => {
                self.carry(truck, &load, observer);
                self.plants[load.plant.at()].rack_busy += 1;
                self.trucks[truck.at()].phase = Phase::AtRack;
                self.keep_drum(truck);
                self.schedule(now + SOON, Command::LeaveRack(truck));
            }
            Doing::Out(load) => {
                self.carry(truck, &load, observer);
                let from = self.plan.plants[load.plant.at()].place;
                self.set_on_road(truck, Phase::Out, (from, Haul::Loaded));
                self.schedule(now + SOON, Command::ArriveSite(truck));
            }
            Doing::OnSite(load) => {
                self.carry(truck, &load, observer);
                self.trucks[truck.at()].phase = Phase::SiteQueue;
                let spot = self.trucks[truck.at()].load.spot;
                self.spots[spot.at()].queue.push_back(truck);
            }
            Doing::Discharging(load) => {
                self.carry(truck, &load, observer);
                let spot = self.trucks[truck.at()].load.spot;
                let first = self.spots[spot.at()].first_outlet;
                let outlets = self.plan.spots[spot.at()].outlet_places.len() as u32;
                let free = (first..first + outlets)
                    .find(|outlet| !self.outlets[*outlet as usize].flowing)
                    .unwrap_or(first);
                let outlet = &mut self.outlets[free as usize];
                (outlet.flowing, outlet.occupied) = (true, outlet.occupied + 1);
                let state = &mut self.trucks[truck.at()];
                (state.phase, state.load.outlet) = (Phase::Discharging, free);
                self.orders[load.order.at()].begun = true;
                self.schedule(now + SOON, Command::Discharged(truck));
            }
            Doing::Returning(order) => {
                let spot = SpotId(self.plan.orders[order.at()].spots.start);
                let site = self.plan.spots[spot.at()].place;
                let state_of = &mut self.trucks[truck.at()];
                (state_of.load.order, state_of.load.spot) = (order, spot);
                self.set_on_road(truck, Phase::ToPlant, (site, Haul::Empty));
                let home = self.home_place(truck);
                let roads = self.roads();
                let belief = self.policy.belief;
                let way = roads.believed(belief, site, home, Haul::Empty, state.since);
                let view = &mut self.truck_views[truck.at()];
                view.place = home;
                view.free_at = state.since + way;
                view.idle_since = view.free_at;
                let near_at = view.free_at - self.plan.horizon;
                self.trucks[truck.at()].near_at = near_at.max(now + SOON);
                self.schedule(now + SOON + SOON, Command::ArrivePlace(truck));
            }
            Doing::Stranded(place) => {
                self.trucks[truck.at()].phase = Phase::Resting;
                self.truck_views[truck.at()].place = place;
                let driver = &mut self.drivers[state.driver.at()];
                (driver.away, driver.stranded) = (true, state.since);
                if self.policy.retrieval.fetch().is_some() {
                    self.schedule(now + SOON, Command::SetOut(truck));
                } else {
                    self.rest_out(truck, observer);
                }
            }
        }
    }

    fn set_on_road(&mut self, truck: TruckId, phase: Phase, drive: (crate::units::PlaceId, Haul)) {
        self.begin_drive(truck);
        let state = &mut self.trucks[truck.at()];
        (state.phase, state.drive) = (phase, drive);
    }

    /// A load on a truck, with what observers have to know of it.
    fn carry<O: Observer>(&mut self, truck_id: TruckId, load: &Carried, observer: &mut O) {
        let order = load.order;
        let plan = &self.plan.orders[order.at()];
        let before = Volume(i64::from(load.number) * plan.load.0).min(plan.volume - load.volume);
        let before = before.max(Volume::ZERO);
        let spot = SpotId(plan.spots.start);
        let due = plan.due(before);
        let truck = &mut self.trucks[truck_id.at()];
        truck.load = Load {
            order,
            spot,
            plant: load.plant,
            number: load.number,
            attempt: 0,
            volume: load.volume,
            before,
            due,
            ready: due,
            send: self.now,
            batched: load.batched,
            ..truck.load
        };
        truck.promised = true;
        self.orders[order.at()].ahead += 1;
        self.truck_views[truck_id.at()].place = self.plan.spots[spot.at()].place;
        let now = std::mem::replace(&mut self.now, load.batched);
        self.fill_drum(truck_id, &mut ());
        self.leave_loaded(truck_id, &mut ());
        self.now = now;
        let lent = self.plan.trucks[truck_id.at()].home != load.plant;
        let promised = Event::Promised {
            order,
            number: load.number,
            truck: truck_id,
            plant: load.plant,
            lent,
            volume: load.volume,
            due,
            plan: super::LoadPlan::default(),
        };
        self.tell(observer, promised);
        self.tell(
            observer,
            Event::BayJoined {
                truck: truck_id,
                plant: load.plant,
            },
        );
        self.tell(
            observer,
            Event::BayEntered {
                truck: truck_id,
                plant: load.plant,
                waited: Millis::ZERO,
            },
        );
    }

    /// Tells what has been gone through after loading, up to the stage that a truck is in.
    fn tell_gone_through<O: Observer>(&self, truck: TruckId, doing: &Doing, observer: &mut O) {
        let load = self.trucks[truck.at()].load;
        let (plant, spot, order) = (load.plant, load.spot, load.order);
        let (took, waited) = (Millis::ZERO, Millis::ZERO);
        let left_bay = Event::BayLeft {
            truck,
            plant,
            took,
            volume: load.volume,
        };
        let on_site = Event::SiteReached {
            order,
            spot,
            number: load.number,
            truck,
            due: load.due,
            ready: load.ready,
            judged: false,
            outside: false,
        };
        let stages = [
            left_bay,
            Event::RackEntered {
                truck,
                plant,
                waited,
            },
            Event::RackLeft { truck, plant, took },
            on_site,
            Event::PlaceTaken {
                spot,
                truck,
                waited,
                opened: Millis::ZERO,
                hold: (Millis::ZERO, Millis::ZERO),
            },
            Event::DischargeBegun { order, spot, truck },
        ];
        let gone_through = match doing {
            Doing::AtRack(_) => 2,
            Doing::Out(_) => 3,
            Doing::OnSite(_) => 4,
            Doing::Discharging(_) => 6,
            _ => 0,
        };
        for event in &stages[..gone_through] {
            self.tell(observer, *event);
        }
    }
}

impl Moment<'_> {
    /// How things stand, as far as a file can say it: who checks a truck or washes it out counts as free or off, who repositions
    /// or waits for a bay as free at the plant.
    pub fn state(&self) -> DayState {
        let world = self.world();
        let midnight = Millis::midnight(world.now.day());
        let orders = world.orders.iter().zip(&world.plan.orders).enumerate();
        let told = |plan: &super::OrderPlan| {
            let today = plan.first.day() <= world.now.day() && plan.day_over > world.now;
            today && plan.called <= world.now && !plan.endless
        };
        let carried = |id| {
            let of_order = |truck: &Truck| truck.promised && truck.load.order == id;
            world.trucks.iter().any(of_order)
        };
        let orders = orders
            .filter(|(id, (order, plan))| {
                let begun = order.closed || order.next_number > 0 || plan.chance < 1.0;
                let told = match plan.slot {
                    // Without a load it is not there, or was cancelled, which is the same to everybody from then on.
                    Some(_) => told(plan) && !(order.closed && order.next_number == 0),
                    None => told(plan) && begun,
                };
                told || carried(OrderId::new(*id))
            })
            .map(|(id, (order, plan))| OrderState {
                order: OrderId::new(id),
                ordered: (order.volume != plan.volume).then_some(order.volume),
                later: order.moved,
                sent: world.sent(OrderId::new(id)),
                placed: order.placed,
                loads: order.next_number,
                cancelled: order.closed && order.next_number == 0,
            });
        let drivers = (0..world.drivers.len()).map(DriverId::new);
        DayState {
            at: world.now,
            rain: world.rains(world.now.day()),
            orders: orders.collect(),
            drivers: drivers
                .filter_map(|id| world.driver_state(id, midnight))
                .collect(),
        }
    }
}

impl World<'_> {
    /// What of an order is placed, goes back, or is on a truck that has begun to load; what asks again, or is promised and not
    /// loaded, is not sent.
    fn sent(&self, id: OrderId) -> Volume {
        let order = &self.orders[id.at()];
        let unsent = |truck: &&Truck| {
            truck.promised
                && truck.load.order == id
                && matches!(
                    truck.phase,
                    Phase::ToPlant | Phase::Repositioning | Phase::Waiting | Phase::BayQueue
                )
        };
        let promised: Volume = self
            .trucks
            .iter()
            .filter(unsent)
            .map(|truck| truck.load.volume)
            .sum();
        let again: Volume = order.again.iter().map(|again| again.volume).sum();
        order.promised - promised - again
    }

    fn driver_state(&self, id: DriverId, midnight: Millis) -> Option<DriverState> {
        let driver = &self.drivers[id.at()];
        let own = self.plan.drivers[id.at()].truck;
        let at = self
            .trucks
            .iter()
            .position(|truck| truck.driver == Some(id));
        let worked_today = driver.reported >= midnight && driver.reported > Millis::ZERO;
        if !driver.on_duty && !driver.away {
            return worked_today.then_some(DriverState {
                driver: id,
                truck: own,
                doing: Doing::Off,
                since: driver.released.max(driver.reported),
                reported: driver.reported,
                driven: self.driven(id),
                week: self.week_before(id),
            });
        }
        let truck_id = TruckId::new(at?);
        let truck = &self.trucks[truck_id.at()];
        let load = &truck.load;
        let carried = Carried {
            order: load.order,
            number: load.number,
            volume: load.volume,
            plant: load.plant,
            batched: load.batched,
        };
        let here = self.truck_views[truck_id.at()].place;
        let plant_here = || {
            let plants = &self.plan.plants;
            let at = plants.iter().position(|plant| plant.place == here);
            Doing::Free(at.map_or(self.plan.trucks[truck_id.at()].home, PlantId::new))
        };
        let doing = match truck.phase {
            Phase::InBay => Doing::Loading(carried),
            Phase::RackQueue | Phase::AtRack => Doing::AtRack(carried),
            Phase::Out => Doing::Out(carried),
            Phase::SiteQueue | Phase::AtOutlet => Doing::OnSite(carried),
            Phase::Discharging => Doing::Discharging(carried),
            Phase::ChuteWash | Phase::ToPlant if !truck.full => Doing::Returning(load.order),
            Phase::Resting | Phase::ToParking => Doing::Stranded(here),
            _ => plant_here(),
        };
        Some(DriverState {
            driver: id,
            truck: truck_id,
            doing,
            since: truck.since.max(driver.reported),
            reported: driver.reported,
            driven: self.driven(id),
            week: self.week_before(id),
        })
    }

    fn driven(&self, id: DriverId) -> Millis {
        let limit = self.book(id).and_then(|rules| rules.driving.as_ref());
        let Some((rules, limit)) = self.book(id).zip(limit) else {
            return Millis::ZERO;
        };
        let mut clocks = self.clocks[id.at()];
        clocks.advance(rules, self.now);
        let left = clocks.left(rules).of(Rule::Driving);
        left.map_or(Millis::ZERO, |left| (limit.length - left).max(Millis::ZERO))
    }

    /// What the weekly limit counts, less this tour.
    fn week_before(&self, id: DriverId) -> Option<Millis> {
        let rules = self.book(id)?;
        let cycle = rules.cycle.as_ref()?;
        let mut clocks = self.clocks[id.at()];
        clocks.advance(rules, self.now);
        let left = clocks.left(rules).of(Rule::Cycle)?;
        let driver = &self.drivers[id.at()];
        let until = if driver.on_duty {
            self.now
        } else {
            driver.released
        };
        Some((cycle.limit - left - (until - driver.reported)).max(Millis::ZERO))
    }
}
