//! A load that a truck is promised to and has not loaded.

use super::super::command::Command;
use super::super::event::{Event, LoadPlan, Observer};
use super::super::state::{Cargo, Hold, Phase, PromisedLoad};
use super::super::world::World;
use super::SOON;
use crate::engine::Entity;
use crate::scenario::day_state::{Doing, DriverState, Promised};
use crate::units::{OrderId, Purpose, SpotId, TruckId, Volume};

impl<'p> World<'p> {
    /// The promise, as if it had been given just now.
    pub(super) fn take_promise<O: Observer>(
        &mut self,
        truck_id: TruckId,
        next: &Promised,
        observer: &mut O,
    ) {
        let (id, plan) = (next.order, &self.plan.orders[next.order.at()]);
        let before = self.volume_before(id, next.number, next.volume);
        let due = self.due_after(id, before);
        let send = self.send_time(id, next.plant, (next.volume, before));
        let luck = self.luck_of_load(plan.entity, next.number);
        let order = &mut self.day.orders[id.at()];
        order.promised += next.volume;
        order.next_number = order.next_number.max(next.number + 1);
        order.ahead += 1;
        let by_rule = self.plan.plants[next.plant.at()].by_rule;
        if by_rule {
            self.day.trucks[truck_id.at()].rank = self.rank_of(id);
        }
        self.day.trucks[truck_id.at()].cargo = Cargo::Load(
            Hold::Promised,
            PromisedLoad {
                order: id,
                spot: SpotId(plan.spots.start),
                plant: next.plant,
                number: next.number,
                volume: next.volume,
                before,
                due,
                ready: due,
                send,
                luck,
                ..PromisedLoad::none(&self.day.luck)
            },
        );
        let lent = self.plan.trucks[truck_id.at()].home != next.plant;
        let promised = Event::Promised {
            order: id,
            number: next.number,
            truck: truck_id,
            plant: next.plant,
            lent,
            volume: next.volume,
            due,
            plan: LoadPlan::default(),
        };
        self.tell(observer, promised);
    }

    fn luck_of_load(&self, entity: Entity, number: u32) -> crate::engine::Block {
        self.day.luck.block(Purpose::Load, entity, number, 0)
    }

    /// What is before a load of its order.
    pub(super) fn volume_before(&self, id: OrderId, number: u32, volume: Volume) -> Volume {
        let (plan, order) = (&self.plan.orders[id.at()], &self.day.orders[id.at()]);
        let before = Volume(i64::from(number) * plan.load.0).min(order.volume - volume);
        before.max(Volume::ZERO)
    }

    /// Who stands free with a promised load goes where it is loaded, or waits there until it is sent into the bay.
    pub(super) fn go_to_promised<O: Observer>(&mut self, state: &DriverState, observer: &mut O) {
        let Some(next) = state.next.filter(|_| matches!(state.doing, Doing::Free(_))) else {
            return;
        };
        let truck = state.truck;
        let plant = self.plan.plants[next.plant.at()].place;
        if self.day.truck_views[truck.at()].place != plant {
            self.reposition(truck, plant, observer);
            return;
        }
        let send = self.day.trucks[truck.at()].load().send;
        self.day.trucks[truck.at()].phase = Phase::Waiting;
        // After all who stand in the queue already.
        self.schedule(send.max(self.day.now + SOON + SOON), Command::Send(truck));
    }
}
