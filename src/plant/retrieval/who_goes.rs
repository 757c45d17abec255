//! Who can go: helpers on call and free drivers of the home plant, with licence and hours; and who drives the car.

use super::super::state::{Fetcher, Phase, Rescue};
use super::super::world::World;
use crate::hours::{Clocks, DutyStatus, RuleSet};
use crate::roads::Haul;
use crate::units::{Millis, PlaceId, TruckId};

/// What somebody who is to help must be able to do.
#[derive(Clone, Copy)]
pub(super) struct Errand {
    pub(super) truck: TruckId,
    pub(super) here: PlaceId,
    pub(super) home: PlaceId,
    pub(super) driver_only: bool,
}

impl<'p> World<'p> {
    /// The nearest who can do it: one of the helpers' list, or a free driver of the truck's home plant; and who drives the car
    /// home, if that needs a second person.
    pub(super) fn nearest(&self, errand: &Errand) -> Option<(Fetcher, Option<u32>)> {
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
        let believed = self.day.policy.driver_belief;
        let haul = if errand.driver_only {
            Haul::Empty
        } else {
            self.haul_of(errand.truck)
        };
        let out = roads.believed(believed, from, errand.here, Haul::Empty, self.day.now);
        let back = roads.believed(believed, errand.here, errand.home, haul, self.day.now);
        (out, back)
    }

    fn back_by(&self, from: PlaceId, errand: &Errand) -> Millis {
        let (out, back) = self.ways(from, errand);
        self.day.now + out + back
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
            .is_none_or(|(rules, clocks)| clocks.fits(rules, self.day.now, &legs).fits());
        (licensed && fits).then_some(back)
    }

    /// When a helper who starts with the others from `from` would be back, if free and on call until then.
    fn on_call(&self, helper: usize, from: PlaceId, errand: &Errand) -> Option<Millis> {
        // Reckoned with the driver's caution: who would be out beyond the call does not set out.
        let back = self.back_by(from, errand);
        let on_call = |span: &(Millis, Millis)| span.0 <= self.day.now && back <= span.1;
        let plan = &self.plan.helpers[helper];
        (self.day.helpers[helper] <= self.day.now && plan.on_call.iter().any(on_call))
            .then_some(back)
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
            let on_call = |span: &(Millis, Millis)| span.0 <= self.day.now && back <= span.1;
            Some(*helper) != besides
                && plan.place == from
                && self.day.helpers[*helper] <= self.day.now
                && plan.on_call.iter().any(on_call)
        };
        let second = (0..self.plan.helpers.len()).find(free)?;
        Some(Some(second as u32))
    }

    /// The trucks whose drivers stand free at the home plant of the stranded one and may drive it home.
    fn own_fleet(&self, errand: &Errand) -> impl Iterator<Item = TruckId> + '_ {
        let errand = *errand;
        let asked = self
            .day
            .policy
            .retrieval
            .fetch()
            .is_some_and(|fetch| fetch.own_drivers)
            || matches!(self.scratch.rescue, Some(Rescue::Driver(_)));
        let needs = self.plan.trucks[errand.truck.at()].needs.as_ref();
        self.day.offered.iter().copied().filter(move |truck| {
            let stands = asked
                && !errand.driver_only
                && self.day.trucks[truck.at()].phase == Phase::Idle
                && self.day.truck_views[truck.at()].place == errand.home;
            if !stands {
                return false;
            }
            let id = self.driver_of(*truck);
            let licence = self.plan.drivers[id.at()].licence.as_ref();
            let (out, way) = self.ways(errand.home, &errand);
            let legs = [(DutyStatus::OnDuty, out), (DutyStatus::Driving, way)];
            self.fits(id, &legs) && needs.is_none_or(|need| need.allows(licence))
        })
    }

    /// The clocks of a helper as they are now: on duty all the time on call, and driving while at the wheel. None without a rule
    /// book.
    pub(super) fn helper_clock(&self, helper: usize) -> Option<(&'p RuleSet, Clocks)> {
        let plan = &self.plan.helpers[helper];
        let rules = plan.rule_book.of(&self.plan.rule_sets)?;
        let mut clocks = self.day.helper_clocks[helper];
        let at_wheel = clocks.status() == DutyStatus::Driving;
        for (from, to) in plan.on_call.iter().filter(|_| !at_wheel) {
            if *to <= clocks.now() {
                continue;
            }
            if *from > self.day.now {
                break;
            }
            clocks.change(rules, (*from).max(clocks.now()), DutyStatus::OnDuty);
            if *to <= self.day.now {
                clocks.change(rules, *to, DutyStatus::OffDuty);
            }
        }
        clocks.advance(rules, self.day.now);
        Some((rules, clocks))
    }
}
