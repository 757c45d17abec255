//! Drivers' days: report, pre-trip, being free, going home, release; and being stranded.

use super::command::Command;
use super::event::{Event, Observer};
use super::state::{AfterBreak, Phase};
use super::world::World;
use crate::dispatch::{AfterDischarge, SendHome};
use crate::hours::DutyStatus;
use crate::units::{DriverId, Millis, OrderId, PlaceId, Purpose, TruckId, Volume};

/// Lanes of the block of draws that belongs to a driver's day.
pub(super) mod lane {
    pub(crate) const PRE_TRIP: usize = 0;
    pub(crate) const WASHOUT: usize = 1;
    pub(crate) const POST_TRIP: usize = 2;
    pub(super) const NO_SHOW: usize = 3;
}

impl World<'_> {
    /// Plans the `nth` report of a driver.
    pub(super) fn plan_report(&mut self, id: DriverId, nth: u16) {
        // Who is off that day comes on the next.
        let nth = (nth..).find(|nth| !self.is_off(id, *nth)).unwrap_or(nth);
        // Where drivers are called, the call plans the report.
        if self.day.policy.shift.spare().is_none()
            && let Some(at) = self.report_time(id, nth)
        {
            self.schedule(at, Command::Report(id, nth));
        }
    }

    /// A driver's planned (or, after a late rest, earliest legal) report time has come.
    pub(super) fn report<O: Observer>(&mut self, id: DriverId, nth: u16, observer: &mut O) {
        if self.day.period_over {
            return; // rested too late: nothing is sent any more
        }
        let Some(planned) = self.report_time(id, nth) else {
            return;
        };
        if planned == Millis::NEVER {
            return; // called off
        }
        let driver = &self.day.drivers[id.at()];
        if driver.on_duty && planned < driver.shift_over {
            self.plan_report(id, nth + 1); // a tour planned over more than a day goes on
            return;
        }
        let busy = driver.on_duty || driver.away;
        let truck = self.plan.drivers[id.at()].truck;
        if self.is_out(truck) {
            self.tell(observer, Event::TruckOut { driver: id, truck });
            self.keeps_nothing_for(id);
            self.plan_report(id, nth + 1);
            return;
        }
        let Some(from) = self.can_report(id, planned).filter(|_| !busy) else {
            self.tell(observer, Event::DriverDayLost { driver: id });
            self.keeps_nothing_for(id);
            self.plan_report(id, nth + 1);
            return;
        };
        if from > self.day.now {
            self.schedule(from, Command::Report(id, nth));
            return;
        }
        let no_show = self.plan.changes.no_show;
        if no_show > 0.0 && self.luck_of_day(id, nth, lane::NO_SHOW) < no_show {
            let day = i64::from(self.plan.drivers[id.at()].report_days[usize::from(nth)]);
            self.tell(observer, Event::NoShow { day, driver: id });
            self.keeps_nothing_for(id);
            self.plan_report(id, nth + 1);
            return;
        }
        self.plan_report(id, nth + 1);
        if self.day.now > planned {
            let late = self.day.now - planned;
            self.tell(observer, Event::ReportedLate { driver: id, late });
        }
        let shift_over = planned + self.plan.drivers[id.at()].shift;
        self.begin_tour(id, shift_over, nth, observer);
        self.schedule(shift_over.max(self.day.now), Command::ShiftOver(id));
        let truck_id = self.plan.drivers[id.at()].truck;
        if self.day.trucks[truck_id.at()].driver.is_some() {
            self.wait_for_driver(id, truck_id, observer);
        } else {
            self.take_truck(id, truck_id, observer);
        }
    }

    /// Somebody is still out with the truck: the driver waits for it. Tours are planned one after the other, so of two who
    /// wait the tour of one is over, and that one is released.
    fn wait_for_driver<O: Observer>(&mut self, id: DriverId, truck_id: TruckId, observer: &mut O) {
        let ends = |id: DriverId| self.day.drivers[id.at()].shift_over;
        let (stays, leaves) = match self.day.trucks[truck_id.at()].next_driver {
            Some(other) if ends(other) > ends(id) => (other, Some(id)),
            other => (id, other),
        };
        self.day.trucks[truck_id.at()].next_driver = Some(stays);
        if let Some(leaves) = leaves {
            self.end_tour(leaves, truck_id, observer);
        }
    }

    pub(super) fn begin_tour<O: Observer>(
        &mut self,
        id: DriverId,
        shift_over: Millis,
        day: u16,
        observer: &mut O,
    ) {
        let driver = &mut self.day.drivers[id.at()];
        driver.on_duty = true;
        driver.reported = self.day.now;
        driver.shift_over = shift_over;
        driver.day = day;
        self.tell(
            observer,
            Event::Reported {
                driver: id,
                truck: self.plan.drivers[id.at()].truck,
            },
        );
        self.begin_clocked_tour(id, observer);
    }

    pub(super) fn take_truck<O: Observer>(
        &mut self,
        id: DriverId,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        self.seat(id, truck_id);
        if self.day.truck_views[truck_id.at()].place != self.home_place(truck_id) {
            self.go_to_truck(truck_id, observer);
            return;
        }
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::PreTrip;
        truck.since = self.day.now;
        let pre_trip = self
            .plan
            .pre_trip
            .drawn(Volume::ZERO, || self.day_luck(id, lane::PRE_TRIP));
        if pre_trip > Millis::ZERO {
            self.schedule(self.day.now + pre_trip, Command::PreTripDone(truck_id));
        } else {
            self.become_free(truck_id, observer);
        }
    }

    /// Puts a driver at the wheel and the driver's clocks into the dispatcher's view.
    pub(super) fn seat(&mut self, id: DriverId, truck_id: TruckId) {
        self.scratch.plants_left.end();
        self.day.trucks[truck_id.at()].driver = Some(id);
        let finish_within = self.plan.company.finish_within;
        let driver = &self.day.drivers[id.at()];
        let view = &mut self.day.truck_views[truck_id.at()];
        view.report = driver.reported;
        view.driver = id;
        view.rule_book = self.plan.drivers[id.at()].rule_book;
        view.finish_by = finish_within.map_or(Millis::NEVER, |limit| {
            driver.reported + limit - self.plan.home_work
        });
        // Who reports again after a truck was handed over hands nothing over in that tour.
        let relieved = self.plan.drivers[id.at()].relieved;
        view.relieved = if driver.reported < relieved {
            relieved
        } else {
            Millis::NEVER
        };
        view.seniority = self.plan.drivers[id.at()].seniority;
        view.no_load_from = if self.plan.no_load_after == Millis::NEVER {
            Millis::NEVER
        } else {
            driver.reported + self.plan.no_load_after
        };
    }

    pub(super) fn day_luck(&self, id: DriverId, lane: usize) -> f64 {
        self.luck_of_day(id, self.day.drivers[id.at()].day, lane)
    }

    fn luck_of_day(&self, id: DriverId, day: u16, lane: usize) -> f64 {
        let entity = self.plan.drivers[id.at()].entity;
        self.day
            .luck
            .block(Purpose::DriverDay, entity, u32::from(day), 0)
            .uniform(lane)
    }

    /// A truck with its driver stands free at a plant: it takes a waiting load, waits, or goes home.
    pub(super) fn become_free<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.day.trucks[truck_id.at()].phase = Phase::Idle;
        let view = &mut self.day.truck_views[truck_id.at()];
        view.free_at = self.day.now;
        view.idle_since = self.day.now;
        if self.day.policy.after_discharge != AfterDischarge::HomePlant {
            self.plan_home_while_legal(truck_id);
        }
        self.stand_free(truck_id, observer);
        if !self.day.period_over {
            self.offer(truck_id);
            self.serve_waiting(Some(truck_id), observer);
        }
        self.settle(truck_id, observer);
    }

    /// Sends an idle driver home whose tour is over or for whom no work is left.
    #[inline]
    fn settle<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.day.trucks[truck_id.at()];
        if truck.phase != Phase::Idle || truck.is_promised() {
            return;
        }
        let shift_over = self.day.drivers[self.driver_of(truck_id).at()].shift_over;
        if self.day.policy.send_home != SendHome::ShiftEnd
            && !self.day.period_over
            && self.day.now < shift_over
        {
            self.send_surplus_home(self.plan.trucks[truck_id.at()].home, observer);
            return;
        }
        if self.day.period_over || self.day.now >= shift_over || !self.asks_before(shift_over) {
            self.go_home(truck_id, observer);
        }
    }

    /// Whether a load waits for a truck or will ask for one by then. The order that was the answer last is looked at first.
    fn asks_before(&mut self, shift_over: Millis) -> bool {
        let asks = |id: OrderId| {
            self.day.orders[id.at()].waiting
                || self.asks_at(id) < shift_over
                || self.plan.orders[id.at()].arrivals.is_some()
        };
        if self.scratch.asks.is_some_and(asks) {
            return true;
        }
        let book = &self.plan.book;
        let early = self.day.asks_early.max(book.longest_lead);
        let known = book.of(None).between(self.day.now, shift_over + early);
        let mut known = known.iter().chain(&book.endless).copied();
        let found = known.find(|id| asks(*id));
        self.scratch.asks = found;
        found.is_some()
    }

    /// Looks at all idle drivers again after work has become less.
    pub(super) fn dismiss_idle<O: Observer>(&mut self, observer: &mut O) {
        self.day.less_work = false;
        self.scratch.plants_left.begin();
        for slot in (0..self.day.offered.len()).rev() {
            // Who goes home may hand over the truck, and the list may have become shorter by more than one.
            if let Some(truck_id) = self.day.offered.get(slot).copied() {
                self.settle(truck_id, observer);
            }
        }
        self.scratch.plants_left.end();
    }

    /// Releases drivers who still wait for somebody to bring their truck.
    pub(super) fn dismiss_waiting_drivers<O: Observer>(&mut self, observer: &mut O) {
        for position in 0..self.day.trucks.len() {
            if let Some(waiting) = self.day.trucks[position].next_driver.take() {
                self.end_tour(waiting, TruckId::new(position), observer);
            }
        }
    }

    /// A driver's planned tour is over.
    pub(super) fn shift_over<O: Observer>(&mut self, id: DriverId, observer: &mut O) {
        let truck_id = self.plan.drivers[id.at()].truck;
        if self.day.trucks[truck_id.at()].next_driver == Some(id) {
            self.day.trucks[truck_id.at()].next_driver = None;
            self.end_tour(id, truck_id, observer);
        } else if self.day.trucks[truck_id.at()].driver == Some(id) {
            self.settle(truck_id, observer);
        }
    }

    pub(super) fn go_home<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.withdraw(truck_id);
        self.keeps_nothing_for(self.driver_of(truck_id));
        let home = self.plan.plants[self.plan.trucks[truck_id.at()].home.at()].place;
        let here = self.day.truck_views[truck_id.at()].place;
        if here == home {
            self.wash_out(truck_id, observer);
        } else if self.break_helps(truck_id, here, home) {
            self.take_break(truck_id, AfterBreak::GoHome, observer);
        } else if self.may_drive(truck_id, here, home) {
            self.move_empty(truck_id, home, Phase::GoingHome);
        } else {
            self.strand(truck_id, observer);
        }
    }

    /// At the home plant: washout and post-trip, then release.
    pub(super) fn wash_out<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        self.home_again(id, truck_id, observer);
        self.duty(id, DutyStatus::OnDuty, observer);
        self.empty_returned(truck_id, observer);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::WashingOut;
        truck.since = self.day.now;
        let post_trip = self
            .plan
            .post_trip
            .drawn(Volume::ZERO, || self.day_luck(id, lane::POST_TRIP));
        let washout = self
            .plan
            .washout
            .drawn(Volume::ZERO, || self.day_luck(id, lane::WASHOUT));
        let truck = &self.day.trucks[truck_id.at()];
        let goes_on = self.plan.drivers[id.at()].relieved < Millis::NEVER
            && truck.next_driver.is_some()
            && !truck.load_set;
        let took = match goes_on {
            true => post_trip, // the next driver loads again at once
            false if truck.load_set => washout + post_trip + self.plan.company.drum_cleaning,
            false => washout + post_trip,
        };
        if took > Millis::ZERO {
            self.schedule(self.day.now + took, Command::Release(truck_id));
        } else {
            self.release(truck_id, observer);
        }
    }

    /// The driver is released.
    pub(super) fn release<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        let took = self.day.now - self.day.trucks[truck_id.at()].since;
        self.tell(
            observer,
            Event::WashedOut {
                truck: truck_id,
                took,
            },
        );
        self.end_tour(id, truck_id, observer);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::Off;
        truck.drop_load();
        truck.load_set = false;
        truck.driver = None;
        if let Some(next) = truck.next_driver.take() {
            self.take_truck(next, truck_id, observer);
        }
    }

    pub(super) fn end_tour<O: Observer>(
        &mut self,
        id: DriverId,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        let at_home = !self.day.drivers[id.at()].away;
        self.end_clocked_tour(id, at_home, observer);
        let driver = &mut self.day.drivers[id.at()];
        let tour = self.day.now - driver.reported;
        driver.on_duty = false;
        self.tell(
            observer,
            Event::Released {
                driver: id,
                truck: truck_id,
                tour,
            },
        );
    }

    /// The way home no longer fits: the driver stops at the nearest lawful parking, the site itself if it is one.
    pub(super) fn stop_for_the_night<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let parking = self.plan.spots[self.day.trucks[truck_id.at()].load().spot.at()].parking;
        let here = self.day.truck_views[truck_id.at()].place;
        if self.break_helps(truck_id, here, parking) {
            self.take_break(truck_id, AfterBreak::Stop, observer);
            return;
        }
        // Who knows that the way to parking is barred too stays where the truck is.
        if here == parking || !self.may_drive(truck_id, here, parking) {
            self.strand(truck_id, observer);
        } else {
            self.move_empty(truck_id, parking, Phase::ToParking);
        }
    }

    /// The driver is stranded: released where the truck stands, and rests before driving it home.
    pub(super) fn strand<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        let place = self.day.truck_views[truck_id.at()].place;
        self.day.trucks[truck_id.at()].phase = Phase::Resting;
        if let Some(leg) = self.day.legs.get_mut(truck_id.at()) {
            leg.short = 0.0; // who fetches it reckons with its site
        }
        self.day.drivers[id.at()].away = true;
        self.day.drivers[id.at()].stranded = self.day.now;
        let cause = self.why_stranded(truck_id);
        self.tell(
            observer,
            Event::Stranded {
                driver: id,
                truck: truck_id,
                place,
                cause,
            },
        );
        debug_assert_ne!(
            place,
            self.home_place(truck_id),
            "who is home is not stranded"
        );
        self.duty(id, DutyStatus::Waiting, observer);
        self.empty_returned(truck_id, observer);
        if !self.send_helper(truck_id, observer) {
            self.rest_out(truck_id, observer);
        }
    }

    /// The driver is released beside the truck, and drives on when rested.
    pub(super) fn rest_out<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.full_drum(truck_id, false, observer);
        let id = self.driver_of(truck_id);
        self.end_tour(id, truck_id, observer);
        self.tell(observer, Event::RestsOut { driver: id });
        let here = self.day.truck_views[truck_id.at()].place;
        let way = self.judged(truck_id, here, self.home_place(truck_id));
        let from = self.rested_for(id, way);
        self.schedule(from, Command::Rested(truck_id));
    }

    pub(super) fn home_place(&self, truck_id: TruckId) -> PlaceId {
        self.plan.plants[self.plan.trucks[truck_id.at()].home.at()].place
    }

    /// Rested: a new tour begins, and the truck is driven home.
    pub(super) fn rested<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        let (here, home) = (
            self.day.truck_views[truck_id.at()].place,
            self.home_place(truck_id),
        );
        if !self.may_drive(truck_id, here, home) {
            let way = self.judged(truck_id, here, home);
            // The way may be shorter at another hour: that is looked for while the period lasts, and for a day after it.
            let looks = self.day.now < self.plan.sent_until + Millis::DAY;
            if looks || self.legal_after_rest(id, way).is_some() {
                let from = self.rested_for(id, way);
                self.schedule(from, Command::Rested(truck_id));
            }
            return;
        }
        let day = self.day.drivers[id.at()].day;
        self.begin_tour(id, self.day.now, day, observer);
        self.seat(id, truck_id);
        self.move_empty(truck_id, home, Phase::GoingHome);
    }
}
