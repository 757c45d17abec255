//! The work that lies ahead, counted as a desk would on paper: which trucks the known loads keep under way, and when.

use super::plan::Ahead;
use super::state::Phase;
use super::world::World;
use crate::dispatch::{HALF_HOUR, Needs};
use crate::units::{Millis, OrderId, PlantId, Volume};

impl World<'_> {
    /// Adds the loads of an order that have this volume before them, and all that follow, to what a plant needs (all plants without
    /// one). Each counts at the first of `aheads` that is open by its posted hours when the load is sent, else at the first. Nothing is
    /// sent before `earliest`.
    pub(super) fn add_loads(
        &self,
        needs: &mut Needs,
        id: OrderId,
        (aheads, at): (&[Ahead], Option<PlantId>),
        from: Volume,
        earliest: Millis,
    ) {
        let Some(nearest) = aheads.first() else {
            return;
        };
        let earliest_sent = |aim: Millis| aheads.iter().map(|ahead| aim - ahead.lead).min();
        let plan = &self.plan.orders[id.at()];
        let mut before = from;
        while before < self.day.orders[id.at()].volume {
            let aim = self.aim_after(id, before);
            // later loads are sent later still
            if earliest_sent(aim).is_some_and(|send| send >= needs.end()) {
                break;
            }
            let send = |ahead: &Ahead| (aim - ahead.lead).max(earliest);
            let open = |ahead: &&Ahead| self.plan.plants[ahead.plant.at()].is_open(send(ahead));
            let ahead = aheads.iter().find(open).unwrap_or(nearest);
            if at.is_none_or(|at| at == ahead.plant) {
                let send = send(ahead);
                needs.add(send, self.back_of(id, ahead, send));
            }
            before += plan.load;
        }
    }

    /// When a load that has this volume before it is to be sent.
    pub(super) fn send_of(&self, id: OrderId, ahead: &Ahead, before: Volume) -> Millis {
        self.aim_after(id, before) - ahead.lead
    }

    /// When a truck sent at `send` is back; the site takes nothing before it opens, as agreed.
    pub(super) fn back_of(&self, id: OrderId, ahead: &Ahead, send: Millis) -> Millis {
        let opens = self.plan.orders[id.at()].opens + self.day.orders[id.at()].moved;
        (send + ahead.lead).max(opens) + ahead.back
    }

    /// The trucks on duty at a plant (at all plants without one) and the most that the loads still to come and those under way
    /// need at once before the last shift there is over. Nothing if loads are made on demand: then there is always work.
    pub(super) fn work_ahead(&mut self, at: Option<PlantId>) -> Option<(u32, u32)> {
        let now = self.day.now;
        let mut needs = std::mem::take(&mut self.scratch.needs);
        let of_group = |plant: PlantId| at.is_none_or(|at| at == plant);
        let on_duty = |position: usize| {
            let truck = &self.day.trucks[position];
            let here = of_group(self.plan.trucks[position].home) && at_work(truck.phase);
            truck.driver.filter(|_| here)
        };
        let mut last = now;
        let mut many = 0;
        for position in 0..self.day.trucks.len() {
            if let Some(driver) = on_duty(position) {
                last = last.max(self.day.drivers[driver.at()].shift_over);
                many += 1;
            }
        }
        let start = Millis(now.0.div_euclid(HALF_HOUR.0) * HALF_HOUR.0);
        let half_hours = (last - start).0.div_euclid(HALF_HOUR.0) + 1;
        needs.begin(start, half_hours.min(48) as usize);
        for position in 0..self.day.trucks.len() {
            let truck = &self.day.trucks[position];
            let until = match truck.phase {
                Phase::Idle | Phase::PreTrip if !truck.is_promised() => continue,
                Phase::ToPlant if !truck.is_promised() => self.day.truck_views[position].free_at,
                _ => truck.last_load().map_or(now, |load| {
                    let nearest = self.plan.nearest(load.order);
                    let back = nearest.map_or(Millis::ZERO, |ahead| ahead.back);
                    load.due.max(now) + back
                }),
            };
            if on_duty(position).is_some() {
                needs.add(now, until.max(now));
            }
        }
        let mut demand = false;
        for (position, order) in self.day.orders.iter().enumerate() {
            let plan = &self.plan.orders[position];
            if order.closed || plan.called > now {
                continue;
            }
            if plan.endless {
                demand |= plan.makers.iter().any(|plant| of_group(*plant));
                continue;
            }
            let id = OrderId::new(position);
            if let Some(ahead) = self.plan.nearest(id)
                && of_group(ahead.plant)
            {
                for _ in &order.again {
                    needs.add(now, now + ahead.lead + ahead.back);
                }
            }
            let aheads = &self.plan.ahead[position][..];
            self.add_loads(&mut needs, id, (aheads, at), order.promised, now);
        }
        let peak = needs.peak();
        self.scratch.needs = needs;
        (!demand).then_some((many, peak))
    }
}

impl World<'_> {
    /// Whether a truck has a driver who works, or could.
    pub(super) fn is_on_duty(&self, position: usize) -> bool {
        let truck = &self.day.trucks[position];
        truck.driver.is_some() && at_work(truck.phase)
    }
}

/// Whether a truck in this phase works, or could.
fn at_work(phase: Phase) -> bool {
    !matches!(
        phase,
        Phase::Off | Phase::GoingHome | Phase::WashingOut | Phase::Resting | Phase::ToParking
    )
}
