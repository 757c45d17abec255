//! How things stand in a world, as far as a file can say it.

use super::fork::Moment;
use super::plan::OrderPlan;
use super::state::{AfterBreak, Phase, PromisedLoad, TruckNow};
use super::world::World;
use crate::hours::Clock;
use crate::scenario::day_state::{
    Carried, DayState, Doing, Drive, DriverState, OrderState, Pause, PlantState, Promised,
    Standstill,
};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

impl Moment<'_> {
    /// How things stand, as far as a file can say it: who empties a drum or helps a stranded driver counts as free, a load that nobody
    /// takes as gone, and a truck that waits for a tow as one that is repaired.
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
                loads: world.loads_sent(OrderId::new(id)),
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
            plants: world.plants_down(),
            traffic: world.traffic_today(),
            orders_as_planned: false,
            scenario: None,
            simulated: None,
            unsaid: Vec::new(),
        }
    }
}

/// The load that a truck is promised to and has not begun to load.
fn not_loaded(truck: &TruckNow) -> Option<&PromisedLoad> {
    let waits = matches!(
        truck.phase,
        Phase::ToPlant | Phase::Repositioning | Phase::Waiting | Phase::BayQueue
    );
    truck.promised().filter(|load| waits && !load.dry_up)
}

impl World<'_> {
    /// What of an order is placed, goes back, or is on a truck that has begun to load; what asks again, or is promised and not
    /// loaded, is not sent.
    fn sent(&self, id: OrderId) -> Volume {
        let order = &self.day.orders[id.at()];
        let trucks = self.day.trucks.iter();
        let unsent = trucks
            .filter_map(not_loaded)
            .filter(|load| load.order == id);
        let promised: Volume = unsent.map(|load| load.volume).sum();
        let again: Volume = order.again.iter().map(|again| again.volume).sum();
        order.promised - promised - again
    }

    /// Up to the last load of an order that has begun to load: what is promised after it is told with its truck.
    fn loads_sent(&self, id: OrderId) -> u32 {
        let trucks = self.day.trucks.iter();
        let unsent = trucks
            .filter_map(not_loaded)
            .filter(|load| load.order == id);
        let mut numbers: Vec<u32> = unsent.map(|load| load.number).collect();
        numbers.sort_unstable();
        let mut loads = self.day.orders[id.at()].next_number;
        while loads > 0 && numbers.pop() == Some(loads - 1) {
            loads -= 1;
        }
        loads
    }

    /// Plants that stand still though that was not planned.
    fn plants_down(&self) -> Vec<PlantState> {
        let plants = self.day.plants.iter().enumerate();
        let down = plants.filter_map(|(at, plant)| {
            Some(PlantState {
                plant: PlantId::new(at),
                since: plant.broken_since.filter(|_| plant.down > 0)?,
                until: None,
            })
        });
        down.collect()
    }

    /// How many times as long as usual drives take today, as far as that is known.
    fn traffic_today(&self) -> Option<f64> {
        let known = self.day.told_rain.is_none();
        let times = self.plan.roads.today(&self.day.road_state, self.day.now);
        let times = times.filter(|_| known)?;
        Some((times * 1000.0).round() / 1000.0)
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
                until: None,
                next: None,
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
        let view = &self.day.truck_views[truck_id.at()];
        let (here, from) = (view.place, truck.drive.0);
        let home = self.plan.trucks[truck_id.at()].home;
        let plants = &self.plan.plants;
        let plant_at = |place: PlaceId| {
            let at = plants.iter().position(|plant| plant.place == place);
            at.map_or(home, PlantId::new)
        };
        let next = not_loaded(truck).map(|load| Promised {
            order: load.order,
            number: load.number,
            volume: load.volume,
            plant: load.plant,
        });
        let leg = self
            .day
            .legs
            .get(truck_id.at())
            .copied()
            .unwrap_or_default();
        let now = self.day.now;
        let stands = leg.broken > Millis::ZERO && leg.stops <= now && now < leg.repaired;
        let standstill = |drive, left| {
            Doing::BrokenDown(Standstill {
                drive,
                left,
                drum_turns: None,
            })
        };
        let back = || match next {
            // The load that it comes from is no longer told: an order of that site.
            Some(_) => self.order_at(from),
            None => truck.load().order,
        };
        let mut since = truck.since;
        let doing = match truck.phase {
            Phase::Out if stands => standstill(Drive::Out(carried()), truck.since),
            Phase::ToPlant if stands => standstill(Drive::Back(back()), truck.since),
            Phase::Repositioning | Phase::BroughtBack if stands => {
                standstill(Drive::To(from, plant_at(here)), truck.since)
            }
            Phase::Broken | Phase::Towed => standstill(Drive::Back(truck.load().order), leg.stops),
            Phase::PreTrip => Doing::Checking,
            Phase::BayQueue | Phase::InBay if truck.load().dry_up => Doing::AtRack(carried()),
            Phase::BayQueue => Doing::Queueing(truck.load().plant),
            Phase::InBay => Doing::Loading(carried()),
            Phase::RackQueue | Phase::AtRack => Doing::AtRack(carried()),
            Phase::Out => Doing::Out(carried()),
            Phase::SiteQueue | Phase::AtOutlet => Doing::OnSite(carried()),
            Phase::Discharging => Doing::Discharging(carried()),
            Phase::ChuteWash => Doing::Washing(truck.load().order),
            Phase::ToPlant => Doing::Returning(back()),
            Phase::Repositioning | Phase::BroughtBack => Doing::Repositioning(from, plant_at(here)),
            Phase::OnBreak => Doing::OnBreak(match truck.after_break {
                AfterBreak::DriveOut => Pause::Loaded(carried()),
                AfterBreak::DriveBack | AfterBreak::Stop => Pause::OnSite(truck.load().order),
                AfterBreak::Nothing | AfterBreak::GoHome => Pause::Free(plant_at(here)),
            }),
            Phase::Resting if !driver.on_duty => {
                since = driver.released;
                Doing::Resting(here)
            }
            Phase::Resting => {
                since = driver.stranded;
                Doing::Stranded(here)
            }
            Phase::ToParking => Doing::Stranded(here),
            Phase::GoingHome => Doing::GoingHome(from),
            Phase::WashingOut => Doing::WashingOut,
            _ => {
                since = view.idle_since.min(now);
                Doing::Free(plant_at(here))
            }
        };
        if let Doing::BrokenDown(_) = doing {
            since = leg.stops;
        }
        Some(DriverState {
            driver: id,
            truck: truck_id,
            doing,
            since: since.max(driver.reported),
            until: None,
            next,
            reported: driver.reported,
            driven: self.driven(id),
            since_break,
            break_over,
            week: self.week_before(id),
        })
    }

    /// An order whose site is there, one that has begun if there is any.
    fn order_at(&self, place: PlaceId) -> OrderId {
        let there = |at: &usize| {
            let mut spots = self.plan.orders[*at].spots.clone();
            spots.any(|spot| self.plan.spots[spot as usize].place == place)
        };
        let orders = (0..self.plan.orders.len()).filter(there);
        let begun = |at: &usize| self.day.orders[*at].begun;
        let order = orders
            .clone()
            .rfind(begun)
            .or_else(|| orders.clone().next());
        OrderId::new(order.unwrap_or(0))
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
