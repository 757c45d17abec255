//! The yard of a plant: the queue for a bay, loading, the rack.

use super::command::Command;
use super::drum::Verdict;
use super::event::{Event, FullDrum, Observer, Reject};
use super::state::{AfterBreak, Load, Phase};
use super::world::{MOVE, READING, World, lane};
use crate::concrete::RackOutcome;
use crate::dispatch::{Ask, Refusal, at_plant, fits, fits_clocks};
use crate::engine::Block;
use crate::hours::DutyStatus;
use crate::units::{Millis, PlantId, SpotId, TruckId, Volume};

impl World<'_> {
    /// A plant opens: loads that waited for it ask again, and trucks in its queue are served.
    pub(super) fn open<O: Observer>(&mut self, id: PlantId, observer: &mut O) {
        self.look_at_plant(id);
        self.serve_bays(id, observer);
        self.serve_waiting(None, observer);
    }

    /// A promised truck stands at its plant: it waits for the send time, then joins the bay queue.
    pub(super) fn go_to_bay<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let load = self.trucks[truck_id.at()].load;
        let plant = self.plan.plants[load.plant.at()].place;
        if self.truck_views[truck_id.at()].place != plant {
            self.reposition(truck_id, plant, observer);
        } else if self.now < load.send {
            self.trucks[truck_id.at()].phase = Phase::Waiting;
            self.truck_duty(truck_id, DutyStatus::Waiting, observer);
            self.schedule(load.send, Command::Send(truck_id));
        } else {
            self.join_bay_queue(truck_id, observer);
        }
    }

    /// The send time of a promised truck has come.
    pub(super) fn send<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.join_bay_queue(truck_id, observer);
    }

    fn join_bay_queue<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let load = self.trucks[truck_id.at()].load;
        self.look_at_plant(load.plant);
        // A plant that stands still is not closed: its queue waits.
        let span = self.plants[load.plant.at()].span;
        let spans = &self.plan.plants[load.plant.at()].open;
        let closed = spans.get(span).is_none_or(|(opens, _)| *opens > self.now);
        if closed || self.period_over {
            self.break_promise(truck_id, Refusal::PlantClosed, observer);
            self.become_free(truck_id, observer);
            return;
        }
        let truck = &mut self.trucks[truck_id.at()];
        truck.phase = Phase::BayQueue;
        truck.since = self.now;
        self.plants[load.plant.at()].queue.push_back(truck_id);
        self.tell(
            observer,
            Event::BayJoined {
                truck: truck_id,
                plant: load.plant,
            },
        );
        self.truck_duty(truck_id, DutyStatus::Waiting, observer);
        self.serve_bays(load.plant, observer);
    }

    /// Lets trucks from the queue into free bays. A queue that formed before closing is served to its end.
    fn serve_bays<O: Observer>(&mut self, id: PlantId, observer: &mut O) {
        while self.plants[id.at()].down == 0
            && self.plants[id.at()].bays_busy < self.plan.plants[id.at()].bays
        {
            let Some(truck_id) = self.next_in_bay_queue(id) else {
                return;
            };
            let dry_up = self.trucks[truck_id.at()].load.dry_up;
            let leaving = self.leaving_if_loaded_now(truck_id);
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
            let plant = &mut self.plants[id.at()];
            plant.bays_busy += 1;
            let truck = &mut self.trucks[truck_id.at()];
            let waited = self.now - truck.since;
            truck.phase = Phase::InBay;
            truck.since = self.now;
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
                self.schedule(self.now + pull_in, Command::InBay(truck_id));
            } else {
                self.in_bay(truck_id, observer);
            }
        }
    }

    fn next_in_bay_queue(&mut self, id: PlantId) -> Option<TruckId> {
        let queue = &mut self.plants[id.at()].queue;
        if !self.plan.plants[id.at()].by_rule || queue.len() < 2 {
            return queue.pop_front();
        }
        let trucks = &self.trucks;
        let first = (0..queue.len())
            .min_by_key(|position| (trucks[queue[*position].at()].rank, *position))?;
        queue.remove(first)
    }

    fn leaving_if_loaded_now(&self, truck_id: TruckId) -> Millis {
        let load = &self.trucks[truck_id.at()].load;
        let view = &self.plant_views[load.plant.at()];
        self.now + at_plant(self.policy, view, load.volume)
    }

    /// Whether the driver, by own judgement, may begin the loaded leg at `leaving`.
    fn driver_can_take(&self, truck_id: TruckId, leaving: Millis) -> Result<(), Refusal> {
        let id = self.driver_of(truck_id);
        let book = self.book(id);
        let barred_from = self.truck_views[truck_id.at()].barred_from;
        if book.is_none() && barred_from == Millis::NEVER {
            return Ok(());
        }
        let load = &self.trucks[truck_id.at()].load;
        let spot = &self.plan.spots[load.spot.at()];
        let ask = Ask {
            site: spot.place,
            target: load.due,
            late: Millis::ZERO,
            volume: load.volume,
            lb_per_yd3: self.plan.orders[load.order.at()].lb_per_yd3,
            makers: &[],
            stay: spot.stay(self.policy),
            parking: spot.parking,
            overrides: false,
        };
        let view = self.view(&[]);
        let from = self.plan.plants[load.plant.at()].place;
        if let Some(rules) = book {
            let clocks = (rules, &self.clocks[id.at()]);
            return fits_clocks(self.policy, &view, &ask, leaving, from, clocks);
        }
        let fits = fits(self.policy, &view, &ask, leaving, from, barred_from);
        fits.then_some(()).ok_or(Refusal::DutyWindow)
    }

    /// A truck stands in its bay: loading begins when the batcher is free.
    pub(super) fn in_bay<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.trucks[truck_id.at()].load.plant;
        if self.plan.plants[id.at()].shared_batcher {
            let plant = &mut self.plants[id.at()];
            if plant.batcher_busy {
                plant.batcher_queue.push_back(truck_id);
                return;
            }
            plant.batcher_busy = true;
        }
        self.begin_loading(truck_id, observer);
    }

    fn begin_loading<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let now = self.now;
        let under = self.meet_returned(truck_id, observer);
        self.trucks[truck_id.at()].begun = now;
        let load = &mut self.trucks[truck_id.at()].load;
        let took = if load.dry_up {
            let luck = match self.dry_up_luck(truck_id) {
                Some(luck) => luck,
                None => self.reading(truck_id).uniform(2),
            };
            self.plan.dry_up.at(Volume::ZERO, luck)
        } else {
            (load.batched, load.reused) = under.unwrap_or((now, Volume::ZERO));
            let plant = &self.plan.plants[load.plant.at()];
            let luck = load.luck.uniform(lane::LOADING);
            plant.loading.at(load.fresh(), luck)
        };
        self.schedule(now + took, Command::LeaveBay(truck_id));
    }

    /// The draws of the reading at the rack: 0 the reading, 1 whether it is found, 2 the dry-up.
    fn reading(&self, truck_id: TruckId) -> Block {
        let load = &self.trucks[truck_id.at()].load;
        let entity = self.plan.orders[load.order.at()].entity;
        self.luck.block(READING, entity, load.number, load.attempt)
    }

    /// Loading is done.
    pub(super) fn leave_bay<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.trucks[truck_id.at()];
        let (id, took) = (truck.load.plant, self.now - truck.since);
        let volume = if truck.load.dry_up {
            Volume::ZERO // nothing new for the order
        } else {
            truck.load.fresh()
        };
        self.tell(
            observer,
            Event::BayLeft {
                truck: truck_id,
                plant: id,
                took,
                volume,
            },
        );
        let plant = &mut self.plants[id.at()];
        plant.bays_busy -= 1;
        if self.plan.plants[id.at()].shared_batcher {
            plant.batcher_busy = false;
            if let Some(next) = plant.batcher_queue.pop_front() {
                plant.batcher_busy = true;
                self.begin_loading(next, observer);
            }
        }
        self.pay_crew_that_stayed(id, took, observer);
        self.fill_drum(truck_id, observer);
        self.go_to_rack(truck_id, observer);
        self.serve_bays(id, observer);
    }

    /// The crew stays as long as trucks are loaded after closing.
    fn pay_crew_that_stayed<O: Observer>(&mut self, id: PlantId, took: Millis, observer: &mut O) {
        let plan = &self.plan.plants[id.at()];
        let plant = &mut self.plants[id.at()];
        let closed_at = plan
            .open
            .iter()
            .map(|(_, close)| *close)
            .filter(|close| *close < self.now)
            .max();
        let open_now = plan
            .open
            .iter()
            .any(|(open, close)| (*open..=*close).contains(&self.now));
        if open_now || self.now <= plant.kept_until {
            return;
        }
        let from = closed_at.unwrap_or(self.now - took).max(plant.stayed_until);
        plant.stayed_until = self.now;
        self.tell(
            observer,
            Event::CrewStayed {
                plant: id,
                time: self.now - from,
            },
        );
    }

    fn go_to_rack<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.trucks[truck_id.at()].load.plant;
        self.trucks[truck_id.at()].since = self.now;
        if self.plants[id.at()].rack_busy < self.plan.plants[id.at()].rack_places {
            self.enter_rack(truck_id, observer);
        } else {
            self.trucks[truck_id.at()].phase = Phase::RackQueue;
            self.truck_duty(truck_id, DutyStatus::Waiting, observer);
            self.plants[id.at()].rack_queue.push_back(truck_id);
        }
    }

    fn enter_rack<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &mut self.trucks[truck_id.at()];
        let id = truck.load.plant;
        let waited = self.now - truck.since;
        truck.phase = Phase::AtRack;
        truck.since = self.now;
        self.plants[id.at()].rack_busy += 1;
        self.truck_duty(truck_id, DutyStatus::OnDuty, observer);
        let truck = &self.trucks[truck_id.at()];
        let took = self.plan.plants[id.at()]
            .rack
            .at(truck.load.volume, truck.load.luck.uniform(lane::RACK));
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
        self.schedule(self.now + took, Command::LeaveRack(truck_id));
    }

    /// Check and rinse are done: the truck leaves, if its driver still may.
    pub(super) fn leave_rack<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.trucks[truck_id.at()];
        let (id, took) = (truck.load.plant, self.now - truck.since);
        self.tell(
            observer,
            Event::RackLeft {
                truck: truck_id,
                plant: id,
                took,
            },
        );
        self.plants[id.at()].rack_busy -= 1;
        self.judge_at_rack(truck_id, observer);
        if let Some(next) = self.plants[id.at()].rack_queue.pop_front() {
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
                self.trucks[truck_id.at()].load.wet = true;
                self.leave_with_load(truck_id, observer);
            }
            RackOutcome::DryUp => self.dry_up(truck_id, observer),
            RackOutcome::MakeAgain => {
                self.reject(truck_id, Reject::TooWet, None, observer);
                self.empty_drum(truck_id, observer);
            }
        }
    }

    /// The loaded truck leaves, if its driver still may: after a break, if that is all that is needed, or with another driver.
    fn leave_with_load<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.driver_can_take(truck_id, self.now) == Err(Refusal::BreakDue) {
            self.take_break(truck_id, AfterBreak::DriveOut, observer);
        } else {
            self.drive_out_or_lose(truck_id, observer);
        }
    }

    /// The loaded truck leaves, or its load is lost.
    pub(super) fn drive_out_or_lose<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.driver_can_take(truck_id, self.now).is_ok() || self.relieve(truck_id, observer) {
            self.drive_out(truck_id, observer);
        } else {
            self.lose_load(truck_id, observer);
        }
    }

    /// Whether another driver who stands free at the plant takes over a full drum: the two change trucks.
    fn relieve<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) -> bool {
        if !self.plan.company.relief {
            return false;
        }
        let here = self.truck_views[truck_id.at()].place;
        let out_of_hours = self.driver_of(truck_id);
        for slot in 0..self.offered.len() {
            let other = self.offered[slot];
            let stands = self.trucks[other.at()].phase == Phase::Idle
                && self.truck_views[other.at()].place == here
                && self.plan.trucks[other.at()].home == self.plan.trucks[truck_id.at()].home;
            let relief = self.driver_of(other);
            let needs = &self.plan.trucks[truck_id.at()].needs;
            let licence = self.plan.drivers[relief.at()].licence.as_ref();
            let own = &self.plan.trucks[other.at()].needs;
            let given = self.plan.drivers[out_of_hours.at()].licence.as_ref();
            let licensed = needs.as_ref().is_none_or(|need| need.allows(licence))
                && own.as_ref().is_none_or(|need| need.allows(given));
            if !stands || !licensed {
                continue;
            }
            self.seat(relief, truck_id);
            if self.driver_can_take(truck_id, self.now).is_err() {
                self.seat(out_of_hours, truck_id);
                continue;
            }
            self.withdraw(other);
            self.seat(out_of_hours, other);
            let how = FullDrum::Relief;
            let truck = truck_id;
            self.tell(observer, Event::OutOfHoursFull { truck, how });
            self.duty(relief, DutyStatus::OnDuty, observer);
            self.go_home(other, observer);
            return true;
        }
        false
    }

    pub(super) fn rack_outcome(&self, truck_id: TruckId) -> RackOutcome {
        let load = &self.trucks[truck_id.at()].load;
        let Some(practice) = self.plan.rack_practice.filter(|_| !load.dry_up) else {
            return RackOutcome::Fine; // a load that was dried up is read with care
        };
        let reading = self.reading(truck_id);
        let room = self.truck_views[truck_id.at()].capacity - load.volume;
        let warned = self.policy.warning;
        practice.outcome(warned, room, reading.uniform(0), reading.uniform(1))
    }

    /// Back to the bay, before all others, for cement and fine aggregate.
    fn dry_up<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let Load { order, plant, .. } = self.trucks[truck_id.at()].load;
        let truck = truck_id;
        self.tell(
            observer,
            Event::DryUp {
                order,
                truck,
                plant,
            },
        );
        let now = self.now;
        let state = &mut self.trucks[truck_id.at()];
        state.load.dry_up = true;
        state.rank = (i64::MIN, i64::MIN);
        state.phase = Phase::BayQueue;
        state.since = now;
        // Among themselves those that come back are served in turn.
        let queue = &mut self.plants[plant.at()].queue;
        let trucks = &self.trucks;
        let before = queue
            .iter()
            .take_while(|ahead| trucks[ahead.at()].load.dry_up)
            .count();
        queue.insert(before, truck_id);
        self.tell(observer, Event::BayJoined { truck, plant });
        self.serve_bays(plant, observer);
    }

    /// Nobody takes the load of a truck: it is made again.
    pub(super) fn reject<O: Observer>(
        &mut self,
        truck_id: TruckId,
        why: Reject,
        spot: Option<SpotId>,
        observer: &mut O,
    ) {
        let load = self.trucks[truck_id.at()].load;
        self.trucks[truck_id.at()].full = true;
        self.tell(
            observer,
            Event::Rejected {
                order: load.order,
                truck: truck_id,
                volume: load.volume,
                why,
                spot,
            },
        );
        self.dump_drum(truck_id, observer);
        self.ask_again(truck_id, load.attempt + 1, observer);
    }

    /// At a plant with a load that nobody takes: it is got rid of before anything else.
    pub(super) fn empty_drum<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let entity = self.plan.trucks[truck_id.at()].entity;
        let truck = &mut self.trucks[truck_id.at()];
        truck.phase = Phase::Emptying;
        truck.since = self.now;
        let luck = self.luck.block(MOVE, entity, truck.moves, 0);
        truck.moves += 1;
        let took = self.plan.empty.at(Volume::ZERO, luck.uniform(1));
        if took > Millis::ZERO {
            self.schedule(self.now + took, Command::Emptied(truck_id));
        } else {
            self.emptied(truck_id, observer);
        }
    }

    /// The drum is empty again.
    pub(super) fn emptied<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &mut self.trucks[truck_id.at()];
        truck.full = false;
        let took = self.now - truck.since;
        self.tell(
            observer,
            Event::Emptied {
                truck: truck_id,
                took,
            },
        );
        self.become_free(truck_id, observer);
    }

    /// The plant took longer than the driver's window: the load is dumped here, and made again for another truck.
    fn lose_load<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let load = self.trucks[truck_id.at()].load;
        debug_assert!(
            load.volume > Volume::ZERO,
            "a loaded truck carries something"
        );
        self.tell(
            observer,
            Event::LoadLost {
                order: load.order,
                truck: truck_id,
                volume: load.volume,
            },
        );
        self.dump_drum(truck_id, observer);
        self.ask_again(truck_id, load.attempt + 1, observer);
        self.become_free(truck_id, observer);
    }
}
