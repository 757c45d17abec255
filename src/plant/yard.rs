//! The yard of a plant: send time and the queue for a bay; from the bay on each step has a file of its own.

mod bay;
mod leave;
mod rack;
mod reject;

use super::command::Command;
use super::event::{Event, Observer};
use super::state::Phase;
use super::world::World;
use crate::dispatch::{Refusal, at_plant};
use crate::hours::DutyStatus;
use crate::units::{Millis, PlantId, TruckId};

impl World<'_> {
    /// A plant opens: loads that waited for it ask again, and trucks in its queue are served.
    pub(super) fn open<O: Observer>(&mut self, id: PlantId, observer: &mut O) {
        self.look_at_plant(id);
        self.serve_bays(id, observer);
        self.serve_waiting(None, observer);
    }

    /// A promised truck stands at its plant: it waits for the send time, then joins the bay queue.
    pub(super) fn go_to_bay<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let load = self.day.trucks[truck_id.at()].load();
        let (plant, send) = (self.plan.plants[load.plant.at()].place, load.send);
        if self.day.truck_views[truck_id.at()].place != plant {
            self.reposition(truck_id, plant, observer);
        } else if self.day.now < send {
            self.day.trucks[truck_id.at()].phase = Phase::Waiting;
            self.truck_duty(truck_id, DutyStatus::Waiting, observer);
            self.schedule(send, Command::Send(truck_id));
        } else {
            self.join_bay_queue(truck_id, observer);
        }
    }

    /// The send time of a promised truck has come.
    pub(super) fn send<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.join_bay_queue(truck_id, observer);
    }

    #[inline]
    fn join_bay_queue<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.day.trucks[truck_id.at()].load().plant;
        self.look_at_plant(id);
        // A plant that stands still is not closed: its queue waits.
        let span = self.day.plants[id.at()].span;
        let spans = &self.plan.plants[id.at()].open;
        let closed = spans
            .get(span)
            .is_none_or(|(opens, _)| *opens > self.day.now);
        if closed || self.day.period_over {
            self.break_promise(truck_id, Refusal::PlantClosed, observer);
            self.become_free(truck_id, observer);
            return;
        }
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::BayQueue;
        truck.since = self.day.now;
        self.day.plants[id.at()].queue.push_back(truck_id);
        self.tell(
            observer,
            Event::BayJoined {
                truck: truck_id,
                plant: id,
            },
        );
        self.truck_duty(truck_id, DutyStatus::Waiting, observer);
        self.serve_bays(id, observer);
    }

    /// Lets trucks from the queue into free bays. A queue that formed before closing is served to its end.
    fn serve_bays<O: Observer>(&mut self, id: PlantId, observer: &mut O) {
        loop {
            let plant = &self.day.plants[id.at()];
            if plant.queue.is_empty()
                || plant.down > 0
                || plant.bays_busy >= self.plan.plants[id.at()].bays
            {
                return;
            }
            let Some(truck_id) = self.next_in_bay_queue(id) else {
                return;
            };
            let dry_up = self.day.trucks[truck_id.at()].load().dry_up;
            let leaving = |world: &Self| world.leaving_if_loaded_now(truck_id);
            if let (false, Err(reason)) = (dry_up, self.driver_can_take(truck_id, leaving)) {
                self.tell(
                    observer,
                    Event::BayQuit {
                        truck: truck_id,
                        plant: id,
                    },
                );
                self.break_promise(truck_id, reason, observer);
                self.become_free(truck_id, observer);
                continue;
            }
            let plant = &mut self.day.plants[id.at()];
            plant.bays_busy += 1;
            let truck = &mut self.day.trucks[truck_id.at()];
            let waited = self.day.now - truck.since;
            truck.phase = Phase::InBay;
            truck.since = self.day.now;
            self.tell(
                observer,
                Event::BayEntered {
                    truck: truck_id,
                    plant: id,
                    waited,
                },
            );
            self.truck_duty(truck_id, DutyStatus::OnDuty, observer);
            let pull_in = self.plan.plants[id.at()].pull_in;
            if pull_in > Millis::ZERO {
                self.schedule(self.day.now + pull_in, Command::InBay(truck_id));
            } else {
                self.in_bay(truck_id, observer);
            }
        }
    }

    #[inline]
    fn next_in_bay_queue(&mut self, id: PlantId) -> Option<TruckId> {
        let queue = &mut self.day.plants[id.at()].queue;
        if !self.plan.plants[id.at()].by_rule || queue.len() < 2 {
            return queue.pop_front();
        }
        self.first_by_rule(id)
    }

    fn first_by_rule(&mut self, id: PlantId) -> Option<TruckId> {
        let queue = &mut self.day.plants[id.at()].queue;
        let trucks = &self.day.trucks;
        let first = (0..queue.len())
            .min_by_key(|position| (trucks[queue[*position].at()].rank, *position))?;
        queue.remove(first)
    }

    fn leaving_if_loaded_now(&self, truck_id: TruckId) -> Millis {
        let load = self.day.trucks[truck_id.at()].load();
        let view = &self.day.plant_views[load.plant.at()];
        self.day.now + at_plant(self.day.policy, view, load.volume)
    }
}
