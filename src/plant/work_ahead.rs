//! The work that lies ahead, counted as a desk would on paper: which trucks the known loads keep under way, and when.

use super::plan::Ahead;
use super::state::{Phase, TruckNow};
use super::world::World;
use crate::dispatch::{HALF_HOUR, Needs};
use crate::units::{DriverId, Millis, OrderId, PlantId, Volume};

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
        let plan = &self.plan.orders[id.at()];
        let mut before = from;
        while before < self.day.orders[id.at()].volume {
            let aim = self.aim_after(id, before);
            // later loads are sent later still
            if aim - nearest.longest_lead >= needs.end() {
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

    /// Whether more trucks are on duty at a plant (at all plants without one) than the loads still to come and those under way need
    /// at once before the last shift there is over, and `kept` more. Never if loads are made on demand: then there is always work.
    pub(super) fn more_than_needed(&mut self, at: Option<PlantId>, kept: u32) -> bool {
        let (many, idle, last) = self.on_duty(at);
        // Those under way are needed now.
        if idle <= kept {
            return false;
        }
        let mut needs = std::mem::take(&mut self.scratch.needs);
        let more = self.needs_less(&mut needs, at, many - kept, last);
        self.scratch.needs = needs;
        more
    }

    /// How many trucks are on duty at a plant (at all plants without one), how many of them stand idle, and when the last of their shifts
    /// is over.
    fn on_duty(&self, at: Option<PlantId>) -> (u32, u32, Millis) {
        let mut last = self.day.now;
        let (mut many, mut idle) = (0, 0);
        for position in self.trucks_of(at) {
            if let Some(driver) = self.at_the_wheel(position) {
                last = last.max(self.day.drivers[driver.at()].shift_over);
                many += 1;
                idle += u32::from(stands_idle(&self.day.trucks[position]));
            }
        }
        (many, idle, last)
    }

    /// Whether fewer trucks than that are needed at once. Counted only until it is known.
    fn needs_less(&self, needs: &mut Needs, at: Option<PlantId>, than: u32, last: Millis) -> bool {
        let now = self.day.now;
        let start = Millis(now.0.div_euclid(HALF_HOUR.0) * HALF_HOUR.0);
        let half_hours = (last - start).0.div_euclid(HALF_HOUR.0) + 1;
        needs.begin(start, half_hours.min(48) as usize);
        for position in self.trucks_of(at) {
            let truck = &self.day.trucks[position];
            let until = match truck.phase {
                _ if stands_idle(truck) => continue,
                Phase::ToPlant if !truck.is_promised() => self.day.truck_views[position].free_at,
                _ => truck.last_load().map_or(now, |load| {
                    let nearest = self.plan.nearest(load.order);
                    let back = nearest.map_or(Millis::ZERO, |ahead| ahead.back);
                    load.due.max(now) + back
                }),
            };
            if self.at_the_wheel(position).is_some() {
                needs.add(now, until.max(now));
            }
        }
        let of_group = |plant: PlantId| at.is_none_or(|at| at == plant);
        let demanded = |id: &OrderId| {
            let (order, plan) = (&self.day.orders[id.at()], &self.plan.orders[id.at()]);
            !order.closed && plan.makers.iter().any(|plant| of_group(*plant))
        };
        if self.plan.book.endless.iter().any(demanded) {
            return false;
        }
        let latest = needs.end() + self.plan.book.longest_lead;
        for id in self.plan.book.of(at).between(now, latest) {
            if needs.peak() >= than {
                return false;
            }
            let order = &self.day.orders[id.at()];
            if order.closed || self.plan.orders[id.at()].called > now {
                continue;
            }
            if let Some(ahead) = self.plan.nearest(*id)
                && of_group(ahead.plant)
            {
                for _ in &order.again {
                    needs.add(now, now + ahead.lead + ahead.back);
                }
            }
            if order.promised < order.volume {
                let aheads = &self.plan.ahead[id.at()][..];
                self.add_loads(needs, *id, (aheads, at), order.promised, now);
            }
        }
        needs.peak() < than
    }

    /// The positions of the trucks of a plant, or of all.
    pub(super) fn trucks_of(&self, at: Option<PlantId>) -> impl Iterator<Item = usize> + use<'_> {
        let here = at.map(|plant| &self.plan.at_home[plant.at()][..]);
        let all = 0..if here.is_none() {
            self.day.trucks.len()
        } else {
            0
        };
        here.unwrap_or(&[])
            .iter()
            .map(|truck| truck.at())
            .chain(all)
    }

    /// The driver of a truck, who works or could.
    fn at_the_wheel(&self, position: usize) -> Option<DriverId> {
        let truck = &self.day.trucks[position];
        truck.driver.filter(|_| at_work(truck.phase))
    }
}

impl World<'_> {
    /// Whether a truck has a driver who works, or could.
    pub(super) fn is_on_duty(&self, position: usize) -> bool {
        self.at_the_wheel(position).is_some()
    }
}

/// Whether a truck with a driver has nothing to do.
fn stands_idle(truck: &TruckNow) -> bool {
    matches!(truck.phase, Phase::Idle | Phase::PreTrip) && !truck.is_promised()
}

/// Whether a truck in this phase works, or could.
fn at_work(phase: Phase) -> bool {
    !matches!(
        phase,
        Phase::Off | Phase::GoingHome | Phase::WashingOut | Phase::Resting | Phase::ToParking
    )
}
