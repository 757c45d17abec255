//! A choice that the desk does not make itself: a load for one driver, or not for that driver. For looks ahead.
//!
//! The law, the company's limits, weight, age and opening hours hold as ever; only the rule's own gates and lending are left
//! aside, so that they can be weighed.

use super::command::Command;
use super::event::Observer;
use super::state::{Forced, NOT_OFFERED, Which};
use super::world::World;
use crate::dispatch::{Lend, Plants, Policy, Refusal};
use crate::units::{DriverId, OrderId, PlantId, Purpose, TruckId};

/// What a forced choice makes of the trucks that a load is offered.
pub(super) enum Offer {
    /// All of them.
    AsUsual,
    /// These only.
    Only(Vec<TruckId>),
    /// This one, which the load has been kept for, at this plant.
    Forced(TruckId, PlantId),
}

impl World<'_> {
    /// The number of the load of an order that asks next; none if nothing is left to ask for.
    pub fn next_load(&self, order: OrderId) -> Option<u32> {
        self.asks_for_more(order).then(|| {
            let state = &self.day.orders[order.at()];
            state
                .again
                .first()
                .map_or(state.next_number, |again| again.number)
        })
    }

    /// From now on the order's next load is kept for this driver at this plant; it asks at once. What comes of it is told by
    /// events. A driver who may not take it by law leaves it to the desk.
    pub fn force_take<O: Observer>(
        &mut self,
        driver: DriverId,
        order: OrderId,
        plant: PlantId,
        observer: &mut O,
    ) {
        if let Some(number) = self.next_load(order) {
            self.day.forced = Some(Forced::Take(driver, Which { order, number }, plant));
            self.ask_now(order, observer);
        }
    }

    /// From now on this driver is not offered the order's next load; the desk goes on as usual.
    pub fn force_leave(&mut self, driver: DriverId, order: OrderId) {
        if let Some(number) = self.next_load(order) {
            self.day.forced = Some(Forced::Leave(driver, Which { order, number }));
        }
    }

    /// The desk takes an order that has not been ordered so far: from now on its loads ask like those of the others.
    pub fn take_order(&mut self, id: OrderId) {
        let plan = &self.plan.orders[id.at()];
        let order = &mut self.day.orders[id.at()];
        if !order.closed || plan.day_over <= self.day.now {
            return;
        }
        (order.closed, order.opens) = (false, plan.opens);
        let luck = self.day.luck.block(Purpose::Order, plan.entity, 0, 0);
        self.draw_opening(id, &luck);
        self.draw_pace(id, &luck);
        self.draw_hold(id, &luck);
        self.plan_news(id);
        self.schedule(plan.day_over, Command::DayOver(id));
        self.plan_ask(id);
    }

    fn drives(&self, driver: DriverId, truck: TruckId) -> bool {
        self.day.trucks[truck.at()].driver == Some(driver)
    }

    /// The trucks that a load may be offered.
    #[inline]
    pub(super) fn offer_by_force(&self, load: Which, offer: Option<TruckId>) -> Offer {
        match self.day.forced {
            None => Offer::AsUsual,
            Some(forced) => self.offer_forced(forced, load, offer),
        }
    }

    fn offer_forced(&self, forced: Forced, load: Which, offer: Option<TruckId>) -> Offer {
        let offered = || {
            offer
                .as_ref()
                .map_or(&self.day.offered[..], std::slice::from_ref)
        };
        let without = |driver| {
            let others = offered().iter().copied();
            Offer::Only(
                others
                    .filter(|truck| !self.drives(driver, *truck))
                    .collect(),
            )
        };
        match forced {
            Forced::Take(driver, which, plant) if which == load => {
                let own = offered().iter().find(|truck| {
                    self.drives(driver, **truck) && self.day.trucks[truck.at()].slot != NOT_OFFERED
                });
                own.map_or(Offer::Only(Vec::new()), |truck| {
                    Offer::Forced(*truck, plant)
                })
            }
            Forced::Take(driver, ..) => without(driver),
            Forced::Leave(driver, which) if which == load => without(driver),
            Forced::Leave(..) => Offer::AsUsual,
        }
    }

    /// The rule without its own gates.
    pub(super) fn policy_without_gates(&self) -> Policy {
        Policy {
            last_load: None,
            home_z: None,
            keep: None,
            reserve: None,
            lend: Lend::Always,
            plants: Plants::Any,
            ..self.day.policy.clone()
        }
    }

    /// The driver was refused the load that was kept. Whether it is kept on: a break ends, a plant opens.
    pub(super) fn keeps_load(&mut self, reason: Option<Refusal>) -> bool {
        let keeps = matches!(reason, Some(Refusal::BreakDue | Refusal::PlantClosed));
        if !keeps {
            self.day.forced = None;
        }
        keeps
    }

    /// Whether a load is kept for a driver who may take it later.
    pub fn keeps_a_load(&self) -> bool {
        matches!(self.day.forced, Some(Forced::Take(..)))
    }

    /// The load that was kept has been promised.
    #[inline]
    pub(super) fn load_promised(&mut self, load: Which) {
        if matches!(self.day.forced, Some(Forced::Take(_, which, _)) if which == load) {
            self.day.forced = None;
        }
    }

    /// A driver does not come or goes home: a load that was kept goes back to the desk.
    pub(super) fn keeps_nothing_for(&mut self, driver: DriverId) {
        if let Some(Forced::Take(who, load, _)) = self.day.forced
            && who == driver
        {
            self.day.forced = None;
            self.schedule(self.day.now, Command::LookAgain(load.order));
        }
    }
}
