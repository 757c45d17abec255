//! Drivers' clocks, kept with what they do: changes of status, whether a leg fits, breaks, the once-a-week longer window.
//!
//! Every driver with a limit has a [`RuleSet`], whose clocks are carried along. Until when a driver may drive, and by which
//! clock, is asked in one way: of these clocks.
//!
//! A drive's limit is reckoned when it begins; `tests/worlds/invariants/clock_logs.rs` holds it against the definitions on the
//! log that the events make. Who knows does not drive past a limit: a driver who sees that even the way to lawful parking is
//! barred stays where the truck is.
//!
//! The once-a-week longer window is allowed for a whole tour when a rule uses it and the driver may; it counts as used only if
//! driven beyond the ordinary window. A driver stranded in it has not come home, which is not counted as a violation looking
//! back.

use super::command::Command;
use super::event::{Event, Observer};
use super::state::{AfterBreak, NOT_OFFERED, Phase};
use super::world::World;
use crate::dispatch::Refusal;
use crate::hours::{Allowance, Clocks, Drivable, DutyStatus, RuleSet, air_miles};
use crate::units::{DriverId, Millis, PlaceId, TruckId};

impl<'p> World<'p> {
    /// Whether any driver has a limit. Where none has, one look at this spares every question to clocks: some 500 of the 6,700
    /// instructions of a load on the shuttle day.
    #[inline(always)]
    pub(super) fn is_clocked(&self) -> bool {
        !self.plan.rule_sets.is_empty()
    }

    /// The rule book of a driver, if there is any limit.
    #[inline(always)]
    pub(super) fn book(&self, id: DriverId) -> Option<&'p RuleSet> {
        if !self.is_clocked() {
            return None;
        }
        self.plan.drivers[id.at()]
            .rule_book
            .of(&self.plan.rule_sets)
    }

    /// How long a driver must be off duty before the next tour.
    pub(super) fn rest_of(&self, id: DriverId) -> Millis {
        self.book(id).map_or(Millis::ZERO, |rules| rules.reset_rest)
    }

    /// Until when a driver may drive if a drive begins now, and what ends it.
    #[inline]
    pub(super) fn drivable(&self, id: DriverId) -> Drivable {
        self.book(id).map_or(Drivable::ALWAYS, |rules| {
            self.day.clocks[id.at()].drivable_at(rules, self.day.now)
        })
    }

    /// Whether a plan that a driver begins now fits under every clock.
    pub(super) fn fits(&self, id: DriverId, plan: &[(DutyStatus, Millis)]) -> bool {
        self.book(id).is_none_or(|rules| {
            self.day.clocks[id.at()]
                .fits(rules, self.day.now, plan)
                .fits()
        })
    }

    /// The same; the once-a-week longer window serves only who is `released` within it.
    pub(super) fn fits_if_released(
        &self,
        id: DriverId,
        released: Millis,
        plan: &[(DutyStatus, Millis)],
    ) -> bool {
        self.book(id).is_none_or(|rules| {
            let clocks = self.day.clocks[id.at()].as_released_at(rules, released);
            clocks.fits(rules, self.day.now, plan).fits()
        })
    }

    /// A driver does something else from now on.
    #[inline(always)]
    pub(super) fn duty<O: Observer>(&mut self, id: DriverId, status: DutyStatus, observer: &mut O) {
        if self.is_clocked() {
            self.change_duty(id, status, observer);
        }
    }

    fn change_duty<O: Observer>(&mut self, id: DriverId, status: DutyStatus, observer: &mut O) {
        let Some(rules) = self.book(id) else { return };
        self.day.clocks[id.at()].change(rules, self.day.now, status);
        self.tell(observer, Event::Duty { driver: id, status });
    }

    /// The driver of a truck does something else from now on.
    #[inline(always)]
    pub(super) fn truck_duty<O: Observer>(
        &mut self,
        truck_id: TruckId,
        status: DutyStatus,
        observer: &mut O,
    ) {
        if self.is_clocked()
            && let Some(id) = self.day.trucks[truck_id.at()].driver
        {
            self.change_duty(id, status, observer);
        }
    }

    /// A drive begins. It is told when it ends.
    #[inline(always)]
    pub(super) fn begin_drive(&mut self, truck_id: TruckId) {
        if self.is_clocked() {
            self.begin_clocked_drive(truck_id);
        }
    }

    fn begin_clocked_drive(&mut self, truck_id: TruckId) {
        if self.helper_drives(truck_id) {
            return; // whoever fetches the truck has seen to it
        }
        let id = self.driver_of(truck_id);
        if let Some(rules) = self.book(id) {
            self.day.clocks[id.at()].change(rules, self.day.now, DutyStatus::Driving);
        }
        self.day.trucks[truck_id.at()].limit = self.drivable(id);
    }

    /// A drive has ended, and has been told.
    #[inline(always)]
    pub(super) fn after_drive<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.is_clocked() {
            self.after_clocked_drive(truck_id, observer);
        }
    }

    fn after_clocked_drive<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.helper_drives(truck_id) {
            return;
        }
        let id = self.driver_of(truck_id);
        let Some(rules) = self.book(id) else { return };
        self.duty(id, DutyStatus::OnDuty, observer);
        let clocks = &self.day.clocks[id.at()];
        let usual = rules.window.as_ref().map(|limit| limit.length);
        if clocks.allowance().long_day
            && let (Some(shift), Some(usual), Some(long)) =
                (clocks.shift_start(), usual, rules.long_day_window)
        {
            let from = self.day.trucks[truck_id.at()].since.max(shift + usual);
            let beyond = (self.day.now.min(shift + long) - from).max(Millis::ZERO);
            let driver = &mut self.day.drivers[id.at()];
            driver.beyond += beyond;
            // Whoever needs the longer window is released within it.
            let over = shift + long - self.plan.home_work;
            if beyond > Millis::ZERO && over < driver.shift_over {
                driver.shift_over = over;
                self.schedule(over.max(self.day.now), Command::ShiftOver(id));
            }
        }
    }

    /// The loaded truck leaves the short-haul radius: the exception is lost for the day.
    #[inline(always)]
    pub(super) fn look_at_radius(&mut self, truck_id: TruckId, to: PlaceId) {
        if self.is_clocked() {
            self.look_at_short_haul(truck_id, to);
        }
    }

    fn look_at_short_haul(&mut self, truck_id: TruckId, to: PlaceId) {
        let id = self.driver_of(truck_id);
        let Some(rules) = self.book(id) else { return };
        let Some(exception) = &rules.short_haul else {
            return;
        };
        let home = self.plan.map[self.home_place(truck_id).at()];
        let site = self.plan.map[to.at()];
        let miles = libm::hypot(site.0 - home.0, site.1 - home.1);
        if air_miles(miles) > exception.radius_air_miles {
            let allowance = Allowance {
                outside_short_haul: true,
                ..self.day.clocks[id.at()].allowance()
            };
            self.day.clocks[id.at()].allow(rules, self.day.now, allowance);
        }
    }

    /// What bars the driver of a truck, by own judgement, from a leg that begins now; nothing if it fits.
    #[inline(always)]
    pub(super) fn bars(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> Option<Refusal> {
        if self.is_clocked() {
            self.clock_bars(truck_id, from, to)
        } else {
            None
        }
    }

    fn clock_bars(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> Option<Refusal> {
        let drivable = self.drivable(self.driver_of(truck_id));
        let by = drivable.by?;
        let arrives = self.day.now + self.judged(truck_id, from, to);
        (arrives > drivable.until).then(|| Refusal::of_clock(by))
    }

    /// The minutes that the driver of a truck reckons with for a leg that begins now.
    pub(super) fn judged(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> Millis {
        let haul = self.haul_of(truck_id);
        self.roads()
            .believed(self.day.policy.driver_belief, from, to, haul, self.day.now)
    }

    /// Whether a break is all that a leg needs; without it the leg does not fit.
    #[inline(always)]
    pub(super) fn break_helps(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> bool {
        self.bars(truck_id, from, to) == Some(Refusal::BreakDue)
            && self.break_is_enough(truck_id, from, to)
    }

    fn break_is_enough(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> bool {
        let id = self.driver_of(truck_id);
        let Some((rules, length)) = self.break_of(id) else {
            return false;
        };
        let mut clocks = self.day.clocks[id.at()];
        clocks.change(rules, self.day.now, DutyStatus::OffDuty);
        clocks.advance(rules, self.day.now + length);
        let way = self.judged(truck_id, from, to);
        clocks.drivable(rules).until >= clocks.now() + way
    }

    fn break_of(&self, id: DriverId) -> Option<(&'p RuleSet, Millis)> {
        let rules = self.book(id)?;
        Some((rules, rules.break_rule.as_ref()?.length))
    }

    /// The driver stops for a break, and goes on as told then.
    pub(super) fn take_break<O: Observer>(
        &mut self,
        truck_id: TruckId,
        then: AfterBreak,
        observer: &mut O,
    ) {
        let id = self.driver_of(truck_id);
        self.duty(id, DutyStatus::OffDuty, observer);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::OnBreak;
        truck.after_break = then;
        truck.since = self.day.now;
        self.schedule(self.break_whole_at(id), Command::BreakOver(truck_id));
    }

    /// When the pause that a driver has makes a break; now if no break is asked for, or it has.
    pub(super) fn break_whole_at(&self, id: DriverId) -> Millis {
        let clocks = &self.day.clocks[id.at()];
        let whole = self
            .book(id)
            .and_then(|rules| clocks.pause_is_break_at(rules));
        whole.map_or(self.day.now, |at| at.max(self.day.now))
    }

    /// Whether the driver of a truck has a pause that will be a break.
    pub(super) fn pauses(&self, truck_id: TruckId) -> bool {
        let id = self.day.trucks[truck_id.at()].driver;
        id.is_some_and(|id| self.break_whole_at(id) > self.day.now)
    }

    /// The driver of a truck stands free at a plant: waits, or has the break now that is needed soon, where it costs least.
    #[inline(always)]
    pub(super) fn stand_free<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.is_clocked() {
            self.stand_free_by_clock(truck_id, observer);
        }
    }

    fn stand_free_by_clock<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        let Some(rules) = self.book(id) else { return };
        self.duty(id, DutyStatus::Waiting, observer);
        let Some(rule) = &rules.break_rule else {
            return;
        };
        let left = self.day.clocks[id.at()].left(rules).break_in;
        if left.is_none_or(|left| left >= rule.after) {
            return;
        }
        let waiting_counts = rule.waiting_counts || rule.work_counts;
        if !waiting_counts && left.is_some_and(|left| left < Millis(rule.after.0 / 2)) {
            self.duty(id, DutyStatus::OffDuty, observer);
        }
        // The break may open loads for which the truck is refused until then.
        let whole = self.break_whole_at(id);
        if whole > self.day.now {
            self.schedule(whole, Command::BreakOver(truck_id));
        }
    }

    /// A break may be over.
    pub(super) fn break_over<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = self.day.trucks[truck_id.at()];
        let Some(id) = truck.driver else { return };
        match (truck.phase, truck.after_break) {
            (Phase::OnBreak, then) if self.break_whole_at(id) <= self.day.now => {
                self.day.trucks[truck_id.at()].after_break = AfterBreak::Nothing;
                self.duty(id, DutyStatus::OnDuty, observer);
                match then {
                    AfterBreak::Nothing => self.become_free(truck_id, observer),
                    AfterBreak::DriveOut => self.drive_out_or_lose(truck_id, observer),
                    AfterBreak::DriveBack => self.drive_back(truck_id, observer),
                    AfterBreak::GoHome => self.go_home(truck_id, observer),
                    AfterBreak::Stop => self.stop_for_the_night(truck_id, observer),
                }
            }
            (Phase::Idle, _) if !truck.is_promised() && truck.slot != NOT_OFFERED => {
                self.duty(id, DutyStatus::Waiting, observer);
                self.serve_waiting(Some(truck_id), observer);
            }
            _ => {}
        }
    }

    /// Whether a driver can be called at a planned report: the moment from which the law allows it, if that is soon enough.
    pub(super) fn can_report(&self, id: DriverId, planned: Millis) -> Option<Millis> {
        let driver = &self.day.drivers[id.at()];
        let latest = planned + self.plan.latest_report;
        if driver.rested > latest {
            return None;
        }
        let mut at = driver.rested.max(self.day.now);
        let most = self.plan.company.days_in_row;
        if most.is_some_and(|most| self.days_in_row(id, planned) > most) {
            return None;
        }
        let Some(rules) = self.book(id) else {
            return Some(at);
        };
        let mut clocks = self.day.clocks[id.at()];
        clocks.advance(rules, at);
        // Weekly hours come back when a day begins, or with a restart.
        while clocks.left(rules).bars() || self.week_spent(rules, &clocks) {
            let restart = rules
                .restart()
                .map(|restart| driver.released + restart.length);
            let changes = [
                Some(rules.day_begins(rules.carrier_day(at) + 1)),
                restart.filter(|restart| *restart > at),
            ];
            at = changes.into_iter().flatten().min().unwrap_or(latest);
            if at > latest {
                return None;
            }
            clocks.advance(rules, at);
        }
        Some(at)
    }

    fn week_spent(&self, rules: &RuleSet, clocks: &Clocks) -> bool {
        let left = clocks.left(rules).cycle;
        left.is_some_and(|left| left < self.plan.company.least_week)
    }

    /// Days in a row up to that of a report, if the driver works then.
    fn days_in_row(&self, id: DriverId, report: Millis) -> u32 {
        let driver = &self.day.drivers[id.at()];
        match report.day() - driver.last_day {
            0 => driver.in_row,
            1 => driver.in_row + 1,
            _ => 1,
        }
    }

    /// A tour begins: day in a row, the once-a-week longer window, and what the dispatcher sees of the clocks.
    pub(super) fn begin_clocked_tour<O: Observer>(&mut self, id: DriverId, observer: &mut O) {
        let in_row = self.days_in_row(id, self.day.now);
        let driver = &mut self.day.drivers[id.at()];
        driver.in_row = in_row;
        driver.last_day = self.day.now.day();
        driver.beyond = Millis::ZERO;
        driver.short = false;
        let Some(rules) = self.book(id) else { return };
        self.duty(id, DutyStatus::OnDuty, observer);
        let clocks = &mut self.day.clocks[id.at()];
        let driver = &mut self.day.drivers[id.at()];
        let restart = clocks.last_restart_began();
        if restart != driver.restart {
            driver.restart = restart;
            driver.tours.restarted();
        }
        let window = rules.window.as_ref().map(|limit| limit.length);
        driver.short = clocks
            .left(rules)
            .cycle
            .is_some_and(|left| window.is_some_and(|window| left < window));
        let may = driver
            .tours
            .may_use_long_day(rules.carrier_day(self.day.now));
        if self.day.policy.long_day && rules.long_day_window.is_some() && may {
            let allowance = Allowance {
                long_day: true,
                ..clocks.allowance()
            };
            clocks.allow(rules, self.day.now, allowance);
            self.tell(observer, Event::LongDayAllowed { driver: id });
        }
    }

    /// A tour ends: off duty, and the record of tours.
    pub(super) fn end_clocked_tour<O: Observer>(
        &mut self,
        id: DriverId,
        at_home: bool,
        observer: &mut O,
    ) {
        self.day.drivers[id.at()].released = self.day.now;
        self.day.drivers[id.at()].rested = self.day.now + self.rest_of(id);
        let Some(rules) = self.book(id) else { return };
        self.duty(id, DutyStatus::OffDuty, observer);
        let began = self.day.clocks[id.at()]
            .shift_start()
            .unwrap_or(self.day.now);
        let driver = &mut self.day.drivers[id.at()];
        let beyond = driver.beyond;
        // Who has driven by it has used it up, even where that was wrong.
        let used = (beyond > Millis::ZERO).then(|| rules.carrier_day(began));
        driver.tours.released(at_home, used);
        if used.is_some() {
            let within = rules
                .long_day_window
                .is_some_and(|long| self.day.now - began <= long);
            let past = if at_home && within {
                Millis::ZERO
            } else {
                beyond
            };
            self.tell(observer, Event::LongDay { driver: id, past });
        }
    }

    /// When a stranded driver who rests from now on may begin a way that is judged to take so long; when the shortest rest is over, if it
    /// is longer than any rest makes legal.
    pub(super) fn rested_for(&self, id: DriverId, way: Millis) -> Millis {
        let shortest = self.book(id).map_or(Millis::ZERO, |rules| rules.reset_rest);
        let legal = self.legal_after_rest(id, way);
        legal.unwrap_or(self.day.now + shortest)
    }

    /// The same; none if no rest makes it legal.
    pub(super) fn legal_after_rest(&self, id: DriverId, way: Millis) -> Option<Millis> {
        let Some(rules) = self.book(id) else {
            return Some(self.day.now);
        };
        let mut clocks = self.day.clocks[id.at()];
        clocks.change(rules, self.day.now, DutyStatus::OffDuty);
        let rest = self.day.now + rules.reset_rest;
        let restart = rules.restart().map(|restart| self.day.now + restart.length);
        let mut at = rest;
        for _ in 0..16 {
            clocks.advance(rules, at);
            if clocks.drivable(rules).until >= at + way {
                return Some(at);
            }
            let changes = [
                Some(rules.day_begins(rules.carrier_day(at) + 1)),
                restart.filter(|restart| *restart > at),
            ];
            at = changes.into_iter().flatten().min().unwrap_or(at);
        }
        None
    }
}
