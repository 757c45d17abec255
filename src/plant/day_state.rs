//! How things stand in a world, as far as a file can say it.

use super::fork::Moment;
use super::plan::OrderPlan;
use super::state::{Phase, TruckNow};
use super::world::World;
use crate::hours::Clock;
use crate::scenario::day_state::{Carried, DayState, Doing, DriverState, OrderState};
use crate::units::{DriverId, Millis, OrderId, PlantId, TruckId, Volume};

impl Moment<'_> {
    /// How things stand, as far as a file can say it: who checks a truck or washes it out counts as free or off, who repositions
    /// or waits for a bay as free at the plant.
    pub fn state(&self) -> DayState {
        let world = self.world();
        let midnight = Millis::midnight(world.day.now.day());
        let orders = world.day.orders.iter().zip(&world.plan.orders).enumerate();
        let told = |plan: &OrderPlan| {
            let today = plan.first.day() <= world.day.now.day() && plan.day_over > world.day.now;
            today && plan.called <= world.day.now && !plan.endless
        };
        let carried = |id| {
            let of_order = |truck: &TruckNow| truck.promised().is_some_and(|load| load.order == id);
            world.day.trucks.iter().any(of_order)
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
        let drivers = (0..world.day.drivers.len()).map(DriverId::new);
        DayState {
            at: world.day.now,
            rain: world.rains(world.day.now.day()),
            orders: orders.collect(),
            drivers: drivers
                .filter_map(|id| world.driver_state(id, midnight))
                .collect(),
            orders_as_planned: false,
            scenario: None,
            unsaid: Vec::new(),
        }
    }
}

impl World<'_> {
    /// What of an order is placed, goes back, or is on a truck that has begun to load; what asks again, or is promised and not
    /// loaded, is not sent.
    fn sent(&self, id: OrderId) -> Volume {
        let order = &self.day.orders[id.at()];
        let unsent = |truck: &&TruckNow| {
            truck.promised().is_some_and(|load| load.order == id)
                && matches!(
                    truck.phase,
                    Phase::ToPlant | Phase::Repositioning | Phase::Waiting | Phase::BayQueue
                )
        };
        let promised: Volume = self
            .day
            .trucks
            .iter()
            .filter(unsent)
            .map(|truck| truck.load().volume)
            .sum();
        let again: Volume = order.again.iter().map(|again| again.volume).sum();
        order.promised - promised - again
    }

    fn driver_state(&self, id: DriverId, midnight: Millis) -> Option<DriverState> {
        let driver = &self.day.drivers[id.at()];
        let own = self.plan.drivers[id.at()].truck;
        let at = self
            .day
            .trucks
            .iter()
            .position(|truck| truck.driver == Some(id));
        let worked_today = driver.reported >= midnight && driver.reported > Millis::ZERO;
        let (since_break, break_over) = self.last_break(id, driver.reported);
        if !driver.on_duty && !driver.away {
            // Who was planned and has not come is off, so that nobody takes them to follow the roster.
            let planned = &self.plan.drivers[id.at()].reports;
            let missed = planned
                .iter()
                .rfind(|at| (midnight..=self.day.now).contains(*at));
            let (since, reported) = match missed {
                _ if worked_today => (driver.released.max(driver.reported), driver.reported),
                Some(missed) => (*missed, *missed),
                None => return None,
            };
            return Some(DriverState {
                driver: id,
                truck: own,
                doing: Doing::Off,
                since,
                reported,
                driven: if worked_today {
                    self.driven(id)
                } else {
                    Millis::ZERO
                },
                since_break: since_break.filter(|_| worked_today),
                break_over: break_over.filter(|_| worked_today),
                week: self.week_before(id).filter(|_| worked_today),
            });
        }
        let truck_id = TruckId::new(at?);
        let truck = &self.day.trucks[truck_id.at()];
        let carried = || {
            let load = truck.load();
            Carried {
                order: load.order,
                number: load.number,
                volume: load.volume,
                plant: load.plant,
                batched: load.batched,
            }
        };
        let here = self.day.truck_views[truck_id.at()].place;
        let plant_here = || {
            let plants = &self.plan.plants;
            let at = plants.iter().position(|plant| plant.place == here);
            Doing::Free(at.map_or(self.plan.trucks[truck_id.at()].home, PlantId::new))
        };
        let doing = match truck.phase {
            Phase::InBay => Doing::Loading(carried()),
            Phase::RackQueue | Phase::AtRack => Doing::AtRack(carried()),
            Phase::Out => Doing::Out(carried()),
            Phase::SiteQueue | Phase::AtOutlet => Doing::OnSite(carried()),
            Phase::Discharging => Doing::Discharging(carried()),
            Phase::ChuteWash | Phase::ToPlant if !truck.is_full() => {
                Doing::Returning(truck.load().order)
            }
            Phase::Broken => Doing::Returning(truck.load().order),
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
            since_break,
            break_over,
            week: self.week_before(id),
        })
    }

    /// Driven since the last break, and when that was over, if one was; nothing where no break is asked for.
    fn last_break(&self, id: DriverId, reported: Millis) -> (Option<Millis>, Option<Millis>) {
        let Some(rules) = self.book(id).filter(|rules| rules.break_rule.is_some()) else {
            return (None, None);
        };
        let mut clocks = self.day.clocks[id.at()];
        clocks.advance(rules, self.day.now);
        let over = clocks.last_break_over();
        let taken = over > clocks.shift_start().unwrap_or(reported).max(reported);
        (Some(clocks.drove_since_break()), taken.then_some(over))
    }

    fn driven(&self, id: DriverId) -> Millis {
        let limit = self.book(id).and_then(|rules| rules.driving.as_ref());
        let Some((rules, limit)) = self.book(id).zip(limit) else {
            return Millis::ZERO;
        };
        let mut clocks = self.day.clocks[id.at()];
        clocks.advance(rules, self.day.now);
        let left = clocks.left(rules).of(Clock::Driving);
        left.map_or(Millis::ZERO, |left| (limit.length - left).max(Millis::ZERO))
    }

    /// What the weekly limit counts, less this tour.
    fn week_before(&self, id: DriverId) -> Option<Millis> {
        let rules = self.book(id)?;
        let cycle = rules.cycle.as_ref()?;
        let mut clocks = self.day.clocks[id.at()];
        clocks.advance(rules, self.day.now);
        let left = clocks.left(rules).of(Clock::Cycle)?;
        let driver = &self.day.drivers[id.at()];
        let until = if driver.on_duty {
            self.day.now
        } else {
            driver.released
        };
        Some((cycle.limit - left - (until - driver.reported)).max(Millis::ZERO))
    }
}
