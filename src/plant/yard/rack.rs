//! The rack: the check, and what it comes to.

use super::super::command::Command;
use super::super::event::{Event, Observer, Reject};
use super::super::state::{Phase, PromisedLoad, Verdict};
use super::super::world::{World, lane};
use crate::concrete::{RackOutcome, RackPractice};
use crate::engine::Block;
use crate::hours::DutyStatus;
use crate::units::{Purpose, TruckId};

impl World<'_> {
    pub(super) fn go_to_rack<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.day.trucks[truck_id.at()].load().plant;
        self.day.trucks[truck_id.at()].since = self.day.now;
        if self.day.plants[id.at()].rack_busy < self.plan.plants[id.at()].rack_places {
            self.enter_rack(truck_id, observer);
        } else {
            self.day.trucks[truck_id.at()].phase = Phase::RackQueue;
            self.truck_duty(truck_id, DutyStatus::Waiting, observer);
            self.day.plants[id.at()].rack_queue.push_back(truck_id);
        }
    }

    fn enter_rack<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &mut self.day.trucks[truck_id.at()];
        let id = truck.load().plant;
        let waited = self.day.now - truck.since;
        truck.phase = Phase::AtRack;
        truck.since = self.day.now;
        self.day.plants[id.at()].rack_busy += 1;
        self.truck_duty(truck_id, DutyStatus::OnDuty, observer);
        let truck = &self.day.trucks[truck_id.at()];
        let took = self.plan.plants[id.at()]
            .rack
            .at(truck.load().volume, truck.load().luck.uniform(lane::RACK));
        self.tell(
            observer,
            Event::RackEntered {
                truck: truck_id,
                plant: id,
                waited,
            },
        );
        self.keep_drum(truck_id);
        let took = self.check_drum(truck_id, took);
        self.schedule(self.day.now + took, Command::LeaveRack(truck_id));
    }

    /// Check and rinse are done: the truck leaves, if its driver still may.
    pub(in crate::plant) fn leave_rack<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        let truck = &self.day.trucks[truck_id.at()];
        let (id, took) = (truck.load().plant, self.day.now - truck.since);
        self.tell(
            observer,
            Event::RackLeft {
                truck: truck_id,
                plant: id,
                took,
            },
        );
        self.day.plants[id.at()].rack_busy -= 1;
        self.judge_at_rack(truck_id, observer);
        if let Some(next) = self.day.plants[id.at()].rack_queue.pop_front() {
            self.enter_rack(next, observer);
        }
    }

    /// What the check at the rack comes to: out, back into the bay, or made again.
    fn judge_at_rack<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let outcome = match self.leave_check(truck_id, observer) {
            Some(Verdict::Fine) => RackOutcome::Fine,
            Some(Verdict::DryUp(_)) => RackOutcome::DryUp,
            Some(Verdict::MakeAgain) => RackOutcome::MakeAgain,
            None => self.rack_outcome(truck_id),
        };
        match outcome {
            RackOutcome::Fine => self.leave_with_load(truck_id, observer),
            RackOutcome::WetUnseen => {
                self.day.trucks[truck_id.at()].load_mut().wet = true;
                self.leave_with_load(truck_id, observer);
            }
            RackOutcome::DryUp => self.dry_up(truck_id, observer),
            RackOutcome::MakeAgain => {
                self.reject(truck_id, Reject::TooWet, None, observer);
                self.empty_drum(truck_id, observer);
            }
        }
    }

    #[inline]
    pub(in crate::plant) fn rack_outcome(&self, truck_id: TruckId) -> RackOutcome {
        match &self.plan.rack_practice {
            None => RackOutcome::Fine,
            Some(practice) => self.outcome_of(practice, truck_id),
        }
    }

    fn outcome_of(&self, practice: &RackPractice, truck_id: TruckId) -> RackOutcome {
        let load = self.day.trucks[truck_id.at()].load();
        if load.dry_up {
            return RackOutcome::Fine; // a load that was dried up is read with care
        }
        let reading = self.reading(truck_id);
        let room = self.day.truck_views[truck_id.at()].capacity - load.volume;
        let warned = self.day.policy.warning;
        practice.outcome(warned, room, reading.uniform(0), reading.uniform(1))
    }

    /// The draws of the reading at the rack: 0 the reading, 1 whether it is found, 2 the dry-up.
    pub(super) fn reading(&self, truck_id: TruckId) -> Block {
        let load = self.day.trucks[truck_id.at()].load();
        let entity = self.plan.orders[load.order.at()].entity;
        self.day
            .luck
            .block(Purpose::Reading, entity, load.number, load.attempt)
    }

    /// Back to the bay, before all others, for cement and fine aggregate.
    fn dry_up<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let PromisedLoad { order, plant, .. } = *self.day.trucks[truck_id.at()].load();
        let truck = truck_id;
        self.tell(
            observer,
            Event::DryUp {
                order,
                truck,
                plant,
            },
        );
        let now = self.day.now;
        let state = &mut self.day.trucks[truck_id.at()];
        state.load_mut().dry_up = true;
        state.rank = (i64::MIN, i64::MIN);
        state.phase = Phase::BayQueue;
        state.since = now;
        // Among themselves those that come back are served in turn.
        let queue = &mut self.day.plants[plant.at()].queue;
        let trucks = &self.day.trucks;
        let before = queue
            .iter()
            .take_while(|ahead| trucks[ahead.at()].load().dry_up)
            .count();
        queue.insert(before, truck_id);
        self.tell(observer, Event::BayJoined { truck, plant });
        self.serve_bays(plant, observer);
    }
}
