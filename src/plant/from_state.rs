//! A world made from how things stand.
//!
//! What the file does not know is drawn in every fork: how bad today's roads are unless it is told, how slow each site is, what is left
//! of each stage under way, when a plant or a truck that stands works again unless it is told. Incidents under way are none, and drums
//! on the way back are empty.

mod driver;
mod load;
mod promised;
mod standstill;
mod truck;

use super::command::Command;
use super::day::Day;
use super::event::Observer;
use super::plan::Plan;
use super::state::Leg;
use super::world::World;
use crate::engine::Luck;
use crate::scenario::day_state::{DayState, Doing, DriverState, OrderState};
use crate::units::{DriverId, Millis, OrderId, PlantId, Volume};

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
        let Day {
            now,
            told_rain,
            calendar,
            // Set below, by who is where.
            trucks: _,
            truck_views: _,
            drivers: _,
            clocks: _,
            plants: _,
            plant_views: _,
            orders: _,
            spots: _,
            outlets: _,
            offered: _,
            offered_at: _,
            elsewhere: _,
            given_up: _,
            waiting: _,
            legs: _,
            drums: _,
            unchecked: _,
            less_work: _,
            asks_early: _,
            // As the period began: a file knows nothing of it.
            policy: _,
            rule: _,
            luck: _,
            past: _,
            known_until: _,
            forced: _,
            period_over: _,
            ideal_places: _,
            helpers: _,
            helper_clocks: _,
            road_state,
            calls: _,
        } = &mut world.day;
        if let Some(times) = state.traffic {
            plan.roads.tell(road_state, state.at.day(), times);
        }
        (*now, *told_rain) = (state.at, Some(state.rain));
        let pending = calendar.pending();
        calendar.clear();
        for (at, class, command) in pending {
            let stays = matches!(
                command,
                Command::Open(_)
                    | Command::Closing(_)
                    | Command::HoldOver(_)
                    | Command::CallIn(_)
                    | Command::CallOff(_)
                    | Command::Down(_, true)
                    | Command::PeriodOver
            );
            if stays && at > state.at {
                world.day.calendar.schedule(at, class, command);
            }
        }
        world.stand_plants(state);
        world.stand_legs(state);
        for id in 0..plan.orders.len() {
            let id = OrderId::new(id);
            let done = state.orders.iter().find(|order| order.order == id);
            world.stand_order(id, done);
        }
        for id in 0..plan.drivers.len() {
            world.day.drivers[id].off = 0; // the file says who works
            let id = DriverId::new(id);
            if !state.drivers.iter().any(|driver| driver.driver == id) {
                world.plan_next_report(id);
            }
        }
        // Queues form in the order in which trucks have come; who is promised a load comes before those whose loads only ask.
        let mut drivers: Vec<&DriverState> = state.drivers.iter().collect();
        drivers.sort_by_key(|of| (of.since, of.driver));
        for driver in &drivers {
            world.stand_driver(driver, observer);
        }
        for position in 0..plan.orders.len() {
            let id = OrderId::new(position);
            if plan.orders[position].endless {
                world.plan_arrival(id);
            }
            if !world.day.orders[position].closed {
                let called = plan.orders[position].called;
                if called > state.at && world.is_decided_on(id) {
                    world.day.orders[position].closed = true;
                    world.schedule(called, Command::Decide(id));
                    continue;
                }
                world.plan_ask(id);
                // Trucks that wait on site take the places that are free.
                world.schedule(state.at + SOON, Command::SiteReady(id));
            }
        }
        for driver in drivers {
            world.go_to_promised(driver, observer);
        }
        world.day.less_work = false;
        for position in 0..world.day.plants.len() {
            world.schedule(state.at + SOON, Command::Open(PlantId::new(position)));
        }
        world
    }

    /// Keeps what happens on drives where the file tells of a breakdown, though nothing does in the scenario.
    fn stand_legs(&mut self, state: &DayState) {
        let breaks = |of: &DriverState| matches!(of.doing, Doing::BrokenDown(_));
        if self.day.legs.is_empty() && state.drivers.iter().any(breaks) {
            self.day.legs = vec![Leg::default(); self.plan.trucks.len()];
            self.begin_legs();
        }
    }

    fn stand_plants(&mut self, state: &DayState) {
        for position in 0..self.day.plants.len() {
            let id = PlantId::new(position);
            let now = self.day.now;
            let planned = self.plan.plants[position].planned_outages.iter();
            let under_way = planned
                .clone()
                .find(|(from, to)| *from <= now && now < *to)
                .map(|(_, to)| *to);
            if let Some(to) = under_way {
                let plant = &mut self.day.plants[position];
                (plant.down, plant.planned_until) = (1, to);
                self.schedule(to, Command::Up(id, true));
            }
            if let Some(down) = state.plants.iter().find(|down| down.plant == id) {
                let plant = &mut self.day.plants[position];
                plant.down += 1;
                match down.until {
                    Some(until) => {
                        plant.planned_until = plant.planned_until.max(until);
                        self.schedule(until, Command::Up(id, true));
                    }
                    None => {
                        plant.broken_since = Some(down.since);
                        plant.outages += 1;
                        self.schedule(now + SOON, Command::Up(id, false));
                    }
                }
            }
            self.look_at_plant(id);
        }
    }

    fn stand_order(&mut self, id: OrderId, done: Option<&OrderState>) {
        let plan = &self.plan.orders[id.at()];
        let now = self.day.now;
        let order = &mut self.day.orders[id.at()];
        // `begin` has drawn whether it takes place: the file says so.
        order.closed = plan.day_over <= now
            || done.is_some_and(|done| done.cancelled)
            || (plan.chance < 1.0 && plan.called <= now || plan.slot.is_some()) && done.is_none();
        let later = done.map_or(Millis::ZERO, |done| done.later);
        (order.opens, order.moved) = (plan.opens + later, later);
        // Whoever has moved an order has said when its site is ready.
        (order.to_phone, order.phoned) = (Millis::ZERO, later > Millis::ZERO);
        (order.pace, order.hold_drawn) = (1.0, None);
        order.cancelled = false;
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
}
