//! Bringing stranded drivers and trucks home: who goes, when, who drives what, and whose clocks run.

use super::command::Command;
use super::event::{Event, Observer};
use super::rescue::Rescue;
use super::state::{Fetcher, Fetching, Phase};
use super::world::{CAR, MOVE, World};
use crate::dispatch::Retrieval;
use crate::hours::{Clocks, Drivable, DutyStatus, Rule, RuleBook, RuleSet};
use crate::roads::Haul;
use crate::units::{DriverId, Millis, PlaceId, TruckId};

/// What somebody who is to help must be able to do.
#[derive(Clone, Copy)]
struct Errand {
    truck: TruckId,
    here: PlaceId,
    home: PlaceId,
    driver_only: bool,
}

impl<'p> World<'p> {
    /// Whether somebody else than its driver has the wheel of a truck.
    #[inline]
    pub(super) fn helper_drives(&self, truck_id: TruckId) -> bool {
        self.trucks[truck_id.at()]
            .fetch
            .is_some_and(|fetch| fetch.at_wheel)
    }

    /// The truck is on site. If the way home is seen not to fit, somebody sets out already, where the rule foresees.
    pub(super) fn foresee<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let foreseen = self.policy.retrieval.fetch().is_some_and(|f| f.foreseen);
        if !foreseen || self.trucks[truck_id.at()].fetch.is_some() || self.way_home_fits(truck_id) {
            return;
        }
        if self.after_rush().is_none() {
            let spot = self.trucks[truck_id.at()].load.spot;
            self.set_off(truck_id, self.plan.spots[spot.at()].parking, observer);
        }
    }

    /// Whether the way home is believed to fit after the stay on site that begins now.
    fn way_home_fits(&self, truck_id: TruckId) -> bool {
        let load = &self.trucks[truck_id.at()].load;
        let spot = &self.plan.spots[load.spot.at()];
        let stay = spot.stay(self.policy).mean(load.volume);
        let home = self.home_place(truck_id);
        let believed = self.policy.driver_belief;
        let done = self.now + stay;
        let roads = self.roads();
        let back = roads.believed(believed, spot.place, home, Haul::Empty, done);
        let id = self.driver_of(truck_id);
        match self.book(id) {
            Some(rules) => {
                let plan = [(DutyStatus::OnDuty, stay), (DutyStatus::Driving, back)];
                self.clocks[id.at()].fits(rules, self.now, &plan).fits()
            }
            None => done + back <= self.truck_views[truck_id.at()].barred_from,
        }
    }

    /// The driver could drive home after all: whoever had set out turns round.
    pub(super) fn helper_in_vain<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let Some(fetch) = self.trucks[truck_id.at()].fetch.take() else {
            return;
        };
        // As long back as out, from where the message finds the car.
        let takes = ((self.now.min(fetch.there) - fetch.sent) + (self.now - fetch.sent))
            .min(self.now - fetch.sent + (fetch.there - fetch.sent));
        let truck = truck_id;
        if let Fetcher::Helper(_) = fetch.who {
            self.tell(observer, Event::HelperInVain { truck, takes });
        }
        self.let_go(&fetch, fetch.sent + takes, observer);
    }

    /// Who is free again after an errand, from `at` on.
    pub(super) fn let_go<O: Observer>(&mut self, fetch: &Fetching, at: Millis, observer: &mut O) {
        for helper in fetch.car.iter().copied() {
            self.helpers[helper as usize] = at;
        }
        match fetch.who {
            Fetcher::Helper(helper) => self.helpers[helper as usize] = at,
            Fetcher::Own(_, truck) => self.become_free(truck, observer),
        }
    }

    /// When the rush is over, if nobody sets out now because of it.
    fn after_rush(&self) -> Option<Millis> {
        let (from, to) = self.policy.retrieval.fetch()?.not_between?;
        let midnight = Millis::midnight(self.now.day());
        (midnight + from..midnight + to)
            .contains(&self.now)
            .then_some(midnight + to)
    }

    /// Somebody fetches a stranded driver, if the rule does so and there is anybody. Whether the driver waits for that.
    pub(super) fn send_helper<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) -> bool {
        if self.policy.retrieval.fetch().is_none() {
            return false;
        }
        if self.trucks[truck_id.at()].fetch.is_none() {
            if let Some(later) = self.after_rush() {
                self.schedule(later, Command::SetOut(truck_id));
                return true;
            }
            let here = self.truck_views[truck_id.at()].place;
            if !self.set_off(truck_id, here, observer) {
                return self.wait_for_helper(truck_id);
            }
        }
        self.meet(truck_id, observer);
        true
    }

    /// Nobody can go now: whether the driver waits for the next who comes on call.
    fn wait_for_helper(&mut self, truck_id: TruckId) -> bool {
        if !self
            .policy
            .retrieval
            .fetch()
            .is_some_and(|fetch| fetch.waits)
        {
            return false;
        }
        let id = self.driver_of(truck_id);
        let here = self.truck_views[truck_id.at()].place;
        let way = self.judged(truck_id, here, self.home_place(truck_id));
        let rested = self.rested_for(id, way);
        let starts = self.plan.helpers.iter().flat_map(|helper| &helper.on_call);
        let next = starts
            .map(|span| span.0)
            .filter(|from| *from > self.now)
            .min();
        let Some(next) = next.filter(|next| *next < rested) else {
            return false;
        };
        self.schedule(next, Command::SetOut(truck_id));
        true
    }

    /// The rush is over, or somebody comes on call: whoever is free now sets out.
    pub(super) fn set_out<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let here = self.truck_views[truck_id.at()].place;
        if self.set_off(truck_id, here, observer) {
            self.meet(truck_id, observer);
        } else if !self.wait_for_helper(truck_id) {
            self.rest_out(truck_id, observer);
        }
    }

    /// Chooses who goes, and lets them go. Whether anybody does.
    pub(super) fn set_off<O: Observer>(
        &mut self,
        truck_id: TruckId,
        here: PlaceId,
        observer: &mut O,
    ) -> bool {
        let driver_only = matches!(self.policy.retrieval, Retrieval::FetchDriver(_))
            && !self.trucks[truck_id.at()].full
            && self.comes_again(truck_id);
        let home = self.home_place(truck_id);
        let errand = Errand {
            truck: truck_id,
            here,
            home,
            driver_only,
        };
        let Some((who, car)) = self.nearest(&errand) else {
            return false;
        };
        let from = self.place_of(who, home);
        let foreseen = self.trucks[truck_id.at()].phase != Phase::Resting;
        let u = if foreseen || driver_only {
            self.car_luck(truck_id)
        } else {
            let entity = self.plan.trucks[truck_id.at()].entity;
            let truck = &mut self.trucks[truck_id.at()];
            let luck = self.luck.block(MOVE, entity, truck.moves, 0);
            truck.moves += 1;
            luck.uniform(0)
        };
        let out = self.roads().trip(from, here, Haul::Empty, self.now, u);
        match who {
            Fetcher::Helper(helper) => self.helpers[helper as usize] = Millis::NEVER,
            Fetcher::Own(helper, truck) => {
                self.withdraw(truck);
                self.trucks[truck.at()].phase = Phase::Helping;
                // A car is no commercial vehicle: duty, not driving.
                self.duty(helper, DutyStatus::OnDuty, observer);
            }
        }
        if let Some(helper) = car {
            self.helpers[helper as usize] = Millis::NEVER;
        }
        self.trucks[truck_id.at()].fetch = Some(Fetching {
            who,
            car,
            driver_only,
            sent: self.now,
            there: self.now + out,
            at_wheel: false,
        });
        true
    }

    fn car_luck(&mut self, truck_id: TruckId) -> f64 {
        let entity = self.plan.trucks[truck_id.at()].entity;
        let truck = &mut self.trucks[truck_id.at()];
        let luck = self.luck.block(CAR, entity, truck.fetches, 0);
        truck.fetches += 1;
        luck.uniform(0)
    }

    pub(super) fn place_of(&self, who: Fetcher, home: PlaceId) -> PlaceId {
        match who {
            Fetcher::Helper(helper) => self.plan.helpers[helper as usize].place,
            Fetcher::Own(..) => home,
        }
    }

    /// Whether somebody is planned to drive the truck on a later day, so that it can stay where it is until then.
    fn comes_again(&self, truck_id: TruckId) -> bool {
        self.plan.drivers.iter().enumerate().any(|(id, driver)| {
            let id = DriverId::new(id);
            let rest = match self.book(id) {
                Some(rules) => rules.reset_rest,
                None => driver.rule_book.next_report(Millis::ZERO),
            };
            let latest = |report: &Millis| *report + self.plan.latest_report > self.now + rest;
            driver.truck == truck_id && driver.reports.iter().any(latest)
        })
    }

    /// The nearest who can do it: one of the helpers' list, or a free driver of the truck's home plant; and who drives the car
    /// home, if that needs a second person.
    fn nearest(&self, errand: &Errand) -> Option<(Fetcher, Option<u32>)> {
        let roads = self.roads();
        let helpers = (0..self.plan.helpers.len()).filter_map(|helper| {
            let place = self.plan.helpers[helper].place;
            let back = self.helper_back(helper, errand)?;
            let who = Fetcher::Helper(helper as u32);
            let car = self.car_driver(errand, place, Some(helper), back)?;
            Some((
                roads.free_flow(place, errand.here, Haul::Empty),
                0,
                helper,
                who,
                car,
            ))
        });
        let own = self.own_fleet(errand).filter_map(|truck| {
            let id = self.driver_of(truck);
            let who = Fetcher::Own(id, truck);
            let car =
                self.car_driver(errand, errand.home, None, self.back_by(errand.home, errand))?;
            let way = roads.free_flow(errand.home, errand.here, Haul::Empty);
            Some((way, 1, id.at(), who, car))
        });
        helpers
            .chain(own)
            .filter(|(_, _, _, who, _)| self.may_fetch(*who))
            .min_by_key(|(way, list, position, ..)| (*way, *list, *position))
            .map(|(_, _, _, who, car)| (who, car))
    }

    /// The ways out by car and home by truck or car, as a cautious driver reckons them.
    fn ways(&self, from: PlaceId, errand: &Errand) -> (Millis, Millis) {
        let roads = self.roads();
        let believed = self.policy.driver_belief;
        let haul = if errand.driver_only {
            Haul::Empty
        } else {
            self.haul_of(errand.truck)
        };
        let out = roads.believed(believed, from, errand.here, Haul::Empty, self.now);
        let back = roads.believed(believed, errand.here, errand.home, haul, self.now);
        (out, back)
    }

    fn back_by(&self, from: PlaceId, errand: &Errand) -> Millis {
        let (out, back) = self.ways(from, errand);
        self.now + out + back
    }

    /// When a helper would be back, if free, on call until then, and allowed to do it by licence and hours.
    fn helper_back(&self, helper: usize, errand: &Errand) -> Option<Millis> {
        let plan = &self.plan.helpers[helper];
        let back = self.on_call(helper, plan.place, errand)?;
        if errand.driver_only {
            return Some(back);
        }
        let needs = &self.plan.trucks[errand.truck.at()].needs;
        let licensed = needs
            .as_ref()
            .is_none_or(|need| need.allows(plan.licence.as_ref()));
        let (out, way) = self.ways(plan.place, errand);
        let legs = [(DutyStatus::OnDuty, out), (DutyStatus::Driving, way)];
        let fits = self
            .helper_clock(helper)
            .is_none_or(|(rules, clocks)| clocks.fits(rules, self.now, &legs).fits());
        (licensed && fits).then_some(back)
    }

    /// When a helper who starts with the others from `from` would be back, if free and on call until then.
    fn on_call(&self, helper: usize, from: PlaceId, errand: &Errand) -> Option<Millis> {
        // Reckoned with the driver's caution: who would be out beyond the call does not set out.
        let back = self.back_by(from, errand);
        let on_call = |span: &(Millis, Millis)| span.0 <= self.now && back <= span.1;
        let plan = &self.plan.helpers[helper];
        (self.helpers[helper] <= self.now && plan.on_call.iter().any(on_call)).then_some(back)
    }

    /// Who drives the car home: nobody else is needed if only the driver is fetched or may drive it. None if nobody can.
    fn car_driver(
        &self,
        errand: &Errand,
        from: PlaceId,
        besides: Option<usize>,
        back: Millis,
    ) -> Option<Option<u32>> {
        if errand.driver_only || self.plan.company.stranded_drive_car {
            return Some(None);
        }
        // Hours of service do not bar anybody from driving a car.
        let free = |helper: &usize| {
            let plan = &self.plan.helpers[*helper];
            let on_call = |span: &(Millis, Millis)| span.0 <= self.now && back <= span.1;
            Some(*helper) != besides
                && plan.place == from
                && self.helpers[*helper] <= self.now
                && plan.on_call.iter().any(on_call)
        };
        let second = (0..self.plan.helpers.len()).find(free)?;
        Some(Some(second as u32))
    }

    /// The trucks whose drivers stand free at the home plant of the stranded one and may drive it home.
    fn own_fleet(&self, errand: &Errand) -> impl Iterator<Item = TruckId> + '_ {
        let errand = *errand;
        let asked = self
            .policy
            .retrieval
            .fetch()
            .is_some_and(|fetch| fetch.own_drivers)
            || matches!(self.rescue, Some(Rescue::Driver(_)));
        let needs = self.plan.trucks[errand.truck.at()].needs.as_ref();
        self.offered.iter().copied().filter(move |truck| {
            let stands = asked
                && !errand.driver_only
                && self.trucks[truck.at()].phase == Phase::Idle
                && self.truck_views[truck.at()].place == errand.home;
            if !stands {
                return false;
            }
            let id = self.driver_of(*truck);
            let licence = self.plan.drivers[id.at()].licence.as_ref();
            let (out, way) = self.ways(errand.home, &errand);
            let fits = match self.book(id) {
                Some(rules) => {
                    let legs = [(DutyStatus::OnDuty, out), (DutyStatus::Driving, way)];
                    self.clocks[id.at()].fits(rules, self.now, &legs).fits()
                }
                None => self.now + out + way <= self.drivers[id.at()].barred_from,
            };
            fits && needs.is_none_or(|need| need.allows(licence))
        })
    }

    /// The clocks of a helper as they are now: on duty all the time on call. None without a rule book.
    fn helper_clock(&self, helper: usize) -> Option<(&'p RuleSet, Clocks)> {
        let plan = &self.plan.helpers[helper];
        let RuleBook::Set(book) = plan.rule_book else {
            return None;
        };
        let rules = &self.plan.rule_sets[book as usize];
        let mut clocks = self.helper_clocks[helper];
        for (from, to) in &plan.on_call {
            if *to <= clocks.now() {
                continue;
            }
            if *from > self.now {
                break;
            }
            clocks.change(rules, (*from).max(clocks.now()), DutyStatus::OnDuty);
            if *to <= self.now {
                clocks.change(rules, *to, DutyStatus::OffDuty);
            }
        }
        clocks.advance(rules, self.now);
        Some((rules, clocks))
    }

    /// Driver and helper: from now on it is known when all are home.
    pub(super) fn meet<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let Some(fetch) = self.trucks[truck_id.at()].fetch else {
            return;
        };
        let driver = self.driver_of(truck_id);
        let truck = truck_id;
        let leaves = fetch.there.max(self.now);
        let here = self.truck_views[truck_id.at()].place;
        let home = self.home_place(truck_id);
        let (u, haul) = if fetch.driver_only {
            (self.car_luck(truck_id), Haul::Empty)
        } else {
            // The trip that the truck will make: the same draw, so all are out for exactly as long.
            let state = &self.trucks[truck_id.at()];
            let entity = self.plan.trucks[truck_id.at()].entity;
            let luck = self.luck.block(MOVE, entity, state.moves, 0);
            (luck.uniform(0), self.haul_of(truck_id))
        };
        let back = leaves + self.roads().trip(here, home, haul, leaves, u);
        let takes = back - fetch.sent;
        match fetch.who {
            Fetcher::Helper(helper) => {
                self.helpers[helper as usize] = back;
                let sent = Event::HelperSent {
                    driver,
                    truck,
                    takes,
                };
                self.tell(observer, sent);
            }
            Fetcher::Own(helper, _) => {
                let sent = Event::OwnDriverSent {
                    helper,
                    driver,
                    truck,
                };
                self.tell(observer, sent);
            }
        }
        if let Some(helper) = fetch.car {
            self.helpers[helper as usize] = back;
            self.tell(observer, Event::CarDriven { truck, takes });
        }
        if fetch.sent < self.now {
            let gained = self.now.min(fetch.there) - fetch.sent;
            self.tell(observer, Event::Foreseen { truck, gained });
        }
        self.full_drum(truck_id, !fetch.driver_only, observer);
        self.schedule(leaves, Command::Fetched(truck_id));
        if fetch.driver_only {
            self.schedule(back, Command::DriverHome(truck_id));
        }
    }

    /// The helper takes the wheel, of the truck or of the car; the driver rides along.
    pub(super) fn fetched<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.truck_duty(truck_id, DutyStatus::Riding, observer);
        let Some(fetch) = &mut self.trucks[truck_id.at()].fetch else {
            return;
        };
        if fetch.driver_only {
            return;
        }
        let who = fetch.who;
        if !self.still_fits(truck_id, who) {
            // Waiting has used up the helper's hours.
            if let Some(fetch) = self.trucks[truck_id.at()].fetch.take() {
                self.let_go(&fetch, self.now, observer);
            }
            self.rest_out(truck_id, observer);
            return;
        }
        self.take_wheel(truck_id);
        // It is the helper who drives, and the helper's clock that counts.
        self.trucks[truck_id.at()].limit = match who {
            Fetcher::Helper(helper) => match self.helper_clock(helper as usize) {
                Some((rules, mut clocks)) => {
                    clocks.change(rules, self.now, DutyStatus::Driving);
                    self.helper_clocks[helper as usize] = clocks;
                    clocks.drivable(rules)
                }
                None => Drivable {
                    until: Millis::NEVER,
                    by: None,
                },
            },
            Fetcher::Own(helper, _) => {
                self.duty(helper, DutyStatus::Driving, observer);
                match self.book(helper) {
                    Some(rules) => self.clocks[helper.at()].drivable(rules),
                    None => {
                        let until = self.drivers[helper.at()].barred_from;
                        let by = (until < Millis::NEVER).then_some(Rule::Window);
                        Drivable { until, by }
                    }
                }
            }
        };
        let home = self.home_place(truck_id);
        self.move_empty(truck_id, home, Phase::GoingHome);
    }

    fn take_wheel(&mut self, truck_id: TruckId) {
        if let Some(fetch) = &mut self.trucks[truck_id.at()].fetch {
            fetch.at_wheel = true;
        }
    }

    /// Whether the way home fits whoever is to drive it now.
    fn still_fits(&self, truck_id: TruckId, who: Fetcher) -> bool {
        let here = self.truck_views[truck_id.at()].place;
        let way = self.judged(truck_id, here, self.home_place(truck_id));
        let leg = [(DutyStatus::Driving, way)];
        match who {
            Fetcher::Helper(helper) => self
                .helper_clock(helper as usize)
                .is_none_or(|(rules, clocks)| clocks.fits(rules, self.now, &leg).fits()),
            Fetcher::Own(helper, _) => match self.book(helper) {
                Some(rules) => self.clocks[helper.at()].fits(rules, self.now, &leg).fits(),
                None => self.now + way <= self.drivers[helper.at()].barred_from,
            },
        }
    }

    /// A driver comes home with a truck: if after being stranded, that is over, and whoever helped is free again.
    pub(super) fn home_again<O: Observer>(
        &mut self,
        id: DriverId,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        if std::mem::take(&mut self.drivers[id.at()].away) {
            let after = self.now - self.drivers[id.at()].stranded;
            self.tell(observer, Event::StrandedHome { driver: id, after });
        }
        let Some(fetch) = self.trucks[truck_id.at()].fetch.take() else {
            return;
        };
        if let Fetcher::Helper(helper) = fetch.who
            && fetch.at_wheel
            && let Some((rules, mut clocks)) = self.clock_of_helper_at_wheel(helper as usize)
        {
            clocks.change(rules, self.now, DutyStatus::OnDuty);
            self.helper_clocks[helper as usize] = clocks;
        }
        self.let_go(&fetch, self.now, observer);
    }

    fn clock_of_helper_at_wheel(&self, helper: usize) -> Option<(&'p RuleSet, Clocks)> {
        let RuleBook::Set(book) = self.plan.helpers[helper].rule_book else {
            return None;
        };
        let rules = &self.plan.rule_sets[book as usize];
        Some((rules, self.helper_clocks[helper]))
    }

    /// A driver is brought home by car; the truck stays.
    pub(super) fn driver_home<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        self.home_again(id, truck_id, observer);
        self.end_tour(id, truck_id, observer);
        let truck = &mut self.trucks[truck_id.at()];
        truck.phase = Phase::Off;
        truck.driver = None;
        if let Some(next) = truck.next_driver.take() {
            self.take_truck(next, truck_id, observer);
        }
    }

    /// A driver who has reported is driven out to the truck that was left where its driver was stranded.
    pub(super) fn go_to_truck<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let u = self.car_luck(truck_id);
        let here = self.truck_views[truck_id.at()].place;
        let home = self.home_place(truck_id);
        let out = self.roads().trip(home, here, Haul::Empty, self.now, u);
        self.trucks[truck_id.at()].phase = Phase::ToTruck;
        self.trucks[truck_id.at()].begun = self.now;
        self.truck_duty(truck_id, DutyStatus::Riding, observer);
        let driven = Event::CarDriven {
            truck: truck_id,
            takes: out + out,
        };
        self.tell(observer, driven);
        self.schedule(self.now + out, Command::AtTruck(truck_id));
    }

    /// At the truck: it is driven home.
    pub(super) fn at_truck<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.truck_duty(truck_id, DutyStatus::OnDuty, observer);
        let here = self.truck_views[truck_id.at()].place;
        let home = self.home_place(truck_id);
        if self.may_drive(truck_id, here, home) {
            self.move_empty(truck_id, home, Phase::BroughtBack);
        } else {
            self.strand(truck_id, observer);
        }
    }
}
