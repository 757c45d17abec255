//! The world: state of one replication, the loop over its calendar, and the one place where commands find their handlers.

mod begin;
pub(super) mod lane;

use super::command::Command;
use super::day::Day;
use super::event::{Event, Observer};
use super::known_leads::KnownLeads;
use super::plan::{Plan, Rostered};
use super::plants_left::PlantsLeft;
use super::state::{Renewed, Rescue};
use crate::dispatch::{Candidate, Needs};
use crate::engine::Luck;
use crate::units::{DriverId, Millis, OrderId, TruckId, Volume};

/// The state of one replication. Kept warm: the second run allocates nothing that the first did not.
#[derive(Clone, Debug)]
pub struct World<'p> {
    pub(super) plan: &'p Plan,
    /// What a fork copies and a replication begins anew.
    pub(super) day: Day<'p>,
    pub(super) scratch: Scratch,
}

/// Room that is used for a moment: nothing in it lasts from one command to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Scratch {
    pub(super) candidates: Vec<Candidate>,
    /// Room for the calls of one plant, and for those who can be called.
    pub(super) call_times: Vec<Millis>,
    pub(super) callable: Vec<Rostered>,
    /// Room for what loads need.
    pub(super) needs: Needs,
    /// Room for what a fork draws again: by order; its loads under way; by plant, when it is repaired.
    pub(super) renewed: Vec<Renewed>,
    pub(super) open_loads: Vec<(Volume, usize, bool)>,
    pub(super) repaired: Vec<Option<Millis>>,
    /// Who is to fetch a stranded driver, while that is decided: chosen from outside, for a look ahead.
    pub(super) rescue: Option<Rescue>,
    /// An order that was found to ask for trucks when last looked for one: the first to be looked at.
    pub(super) asks: Option<OrderId>,
    pub(super) plants_left: PlantsLeft,
    pub(super) leads: KnownLeads,
}

impl<'p> World<'p> {
    /// An empty world for a plan.
    pub fn new(plan: &'p Plan) -> Self {
        Self {
            plan,
            day: Day::new(plan),
            scratch: Scratch::default(),
        }
    }

    /// Plays one replication under the rule at position `rule`, with this luck, and tells the observer what happens: until everybody is
    /// home, however long after the period, so that every hour is counted. Returns the number of commands carried out: the measure of
    /// the work done.
    pub fn run<O: Observer>(&mut self, rule: usize, luck: Luck, observer: &mut O) -> u64 {
        let commands = self.run_in_steps(rule, luck, observer, Millis::NEVER, |_| true);
        commands.unwrap_or_default()
    }

    /// The same; whenever more than `step` has passed in the world, `goes_on` is told the moment and says whether to go on. None if it
    /// was broken off.
    pub fn run_in_steps<O: Observer>(
        &mut self,
        rule: usize,
        luck: Luck,
        observer: &mut O,
        step: Millis,
        mut goes_on: impl FnMut(Millis) -> bool,
    ) -> Option<u64> {
        self.begin(rule, luck, observer);
        let mut next = step;
        let mut commands = 0;
        while let Some((at, command)) = self.day.calendar.pop() {
            if at > next {
                if !goes_on(at) {
                    return None;
                }
                next = at + step;
            }
            self.day.now = at;
            self.carry_out(command, observer);
            commands += 1;
        }
        Some(commands)
    }

    /// Plays one replication up to and with the moment `until`, under the rule at position `rule`.
    pub fn run_to<O: Observer>(
        &mut self,
        rule: usize,
        luck: Luck,
        until: Millis,
        observer: &mut O,
    ) {
        self.begin(rule, luck, observer);
        self.go_on_to(until, observer);
    }

    /// Goes on up to and with the moment `until`.
    pub fn go_on_to<O: Observer>(&mut self, until: Millis, observer: &mut O) {
        while self.day.calendar.peek_time().is_some_and(|at| at <= until) {
            if let Some((at, command)) = self.day.calendar.pop() {
                self.day.now = at;
                self.carry_out(command, observer);
            }
        }
        self.day.now = self.day.now.max(until);
    }

    #[inline(always)]
    fn carry_out<O: Observer>(&mut self, command: Command, observer: &mut O) {
        match command {
            Command::InBay(truck) => self.in_bay(truck, observer),
            Command::LeaveBay(truck) => self.leave_bay(truck, observer),
            Command::LeaveRack(truck) => self.leave_rack(truck, observer),
            Command::ArriveSite(truck) => self.arrive_site(truck, observer),
            Command::Positioned(truck) => self.positioned(truck, observer),
            Command::Turned(truck) => self.turned(truck, observer),
            Command::Discharged(truck) => self.discharged(truck, observer),
            Command::LeaveSite(truck) => self.leave_site(truck, observer),
            Command::ArrivePlace(truck) => self.arrive_place(truck, observer),
            Command::Send(truck) => self.send(truck, observer),
            Command::HomeWhileLegal(truck) => self.home_while_legal(truck, observer),
            Command::Near(truck) => self.near(truck, observer),
            Command::Ask(order) => self.ask(order, observer),
            Command::LookAgain(order) => self.looked_again(order, observer),
            Command::SitePhones(order) => self.site_phones(order, observer),
            Command::SiteReady(order) => self.site_ready(order, observer),
            Command::Cancel(order) => self.cancel(order, observer),
            Command::DayOver(order) => self.day_over(order, observer),
            Command::Closing(plant) => self.closing(plant, observer),
            Command::Decide(order) => self.decide(order, observer),
            Command::CallIn(day) => self.call_in(day, observer),
            Command::CallOff(day) => self.call_off(day, observer),
            Command::HoldOver(plant) => self.hold_over(plant, observer),
            Command::Open(plant) => self.open(plant, observer),
            Command::Down(plant, planned) => self.plant_down(plant, planned, observer),
            Command::Up(plant, planned) => self.plant_up(plant, planned, observer),
            Command::Fetched(truck) => self.fetched(truck, observer),
            Command::SetOut(truck) => self.set_out(truck, observer),
            Command::DriverHome(truck) => self.driver_home(truck, observer),
            Command::AtTruck(truck) => self.at_truck(truck, observer),
            Command::BreakOver(truck) => self.break_over(truck, observer),
            Command::Arrival(order) => self.arrival(order, observer),
            Command::Report(driver, day) => self.report(driver, day, observer),
            Command::PreTripDone(truck) => self.become_free(truck, observer),
            Command::ShiftOver(driver) => self.shift_over(driver, observer),
            Command::Rested(truck) => self.rested(truck, observer),
            Command::BreaksDown(truck) => self.breaks_down(truck, observer),
            Command::Heard(truck) => self.hear_of_breakdown(truck, observer),
            Command::Repaired(truck) => self.repaired(truck, observer),
            Command::TowedHome(truck) => self.towed_home(truck, observer),
            Command::Release(truck) => self.release(truck, observer),
            Command::Emptied(truck) => self.emptied(truck, observer),
            Command::PeriodOver => self.end_period(observer),
        }
    }

    #[inline(always)]
    pub(super) fn schedule(&mut self, at: Millis, command: Command) {
        self.day.calendar.schedule(at, command.class(), command);
    }

    // Every call names its event: inlined, the observer's arm for it is all that is left, and no event is made.
    #[inline(always)]
    pub(super) fn tell<O: Observer>(&self, observer: &mut O, event: Event) {
        observer.event(self.day.now, &event);
    }

    /// The driver at the wheel of a truck that is in use.
    #[inline]
    pub(super) fn driver_of(&self, truck: TruckId) -> DriverId {
        self.day.trucks[truck.at()]
            .driver
            .expect("a truck in use has a driver")
    }
}
