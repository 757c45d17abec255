//! A truck that breaks down on a drive: it stops, its driver calls the plant, and the desk decides what becomes of its load.
//!
//! The desk does not know how long the repair will take. It reckons with what one lasts on average that has lasted so long, with the
//! rest of the drive as it believes it, and with the means of the stay on site. A load that is believed to be too old by then, or to be
//! more than its driver may do, is given up, and another goes at once; one that is kept is looked at again when it is past saving.
//!
//! A load that is given up is stabilized and comes back with the truck where the drum still turns; else the drum is emptied beside the
//! road while the concrete is young enough, or the load sets, and the truck is towed home and out for days. Where on its way a truck
//! stands is reckoned as the share that it has driven of the way to its site; the way back is that share of the way from there. Who
//! rests there or is fetched is reckoned as on the site. Standing counts as driving until the load is given up: the drive is not over.
//!
//! An empty truck is repaired where it stands; a promise that it would come too late for is broken when the driver calls.

use super::command::Command;
use super::event::{BrokenDrum, Event, Observer};
use super::plan::BreakdownPlan;
use super::state::{NOT_OFFERED, Phase, PromisedLoad};
use super::world::World;
use crate::concrete::Coming;
use crate::dispatch::Refusal;
use crate::hours::DutyStatus;
use crate::roads::Haul;
use crate::units::{Millis, OrderId, Purpose, TruckId};

/// Number of a breakdown that is drawn for an order, beyond those of any truck.
const ONCE: u32 = u32::MAX;

/// Lanes of the block of draws that belongs to a breakdown, and to one that is drawn for an order.
pub(super) mod lane {
    pub(in crate::plant) const BETWEEN: usize = 0;
    pub(in crate::plant) const REPAIR: usize = 1;
    pub(super) const DRUM: usize = 2;
    pub(super) const LOAD: usize = 0;
    pub(super) const WHERE: usize = 1;
}

impl<'p> World<'p> {
    pub(super) fn breakdown_plan(&self, truck_id: TruckId) -> Option<&'p BreakdownPlan> {
        self.plan.trucks[truck_id.at()].breakdowns.as_deref()
    }

    /// What becomes of a truck that stands: as for any truck, where the scenario lets none of its kind break down.
    pub(super) fn repairs_of(&self, truck_id: TruckId) -> &'p BreakdownPlan {
        let own = self.breakdown_plan(truck_id);
        own.unwrap_or(&self.plan.usual_breakdowns)
    }

    /// A loaded drive begins: whether it is that on which one truck of a pour breaks down, and where on it. Every load of the order as
    /// planned is as likely.
    #[inline]
    pub(super) fn break_down_once(&mut self, truck_id: TruckId) {
        if let Some(id) = self.plan.one_breakdown {
            self.break_down_with(truck_id, id);
        }
    }

    fn break_down_with(&mut self, truck_id: TruckId, id: OrderId) {
        let (load, plan) = (
            self.day.trucks[truck_id.at()].load(),
            &self.plan.orders[id.at()],
        );
        if load.order != id || load.attempt > 0 {
            return;
        }
        let luck = self.day.luck;
        let luck = luck.block(Purpose::Breakdown, plan.entity, ONCE, 0);
        let loads = plan.volume.loads_of(plan.load) as f64;
        if load.number == (luck.uniform(lane::LOAD) * loads) as u32 {
            self.day.legs[truck_id.at()].breaks_in = luck.uniform(lane::WHERE);
        }
    }

    /// Puts a breakdown that is still to come into the calendar.
    pub(super) fn plan_breakdown(&mut self, truck_id: TruckId) {
        let stops = self.day.legs[truck_id.at()].stops;
        self.schedule(stops, Command::BreaksDown(truck_id));
        self.plan_standstill(truck_id);
    }

    /// Puts what is still to come of a standstill into the calendar.
    pub(super) fn plan_standstill(&mut self, truck_id: TruckId) {
        let leg = self.day.legs[truck_id.at()];
        self.schedule(leg.repaired, Command::Repaired(truck_id));
        if leg.look_at < leg.repaired {
            self.schedule(leg.look_at, Command::Heard(truck_id));
        }
    }

    /// Whether a loaded truck that was to come on site then does not, as its load was given up on the way.
    #[inline]
    pub(super) fn never_arrives(&self, truck_id: TruckId, at: Millis) -> bool {
        let leg = self.day.legs.get(truck_id.at());
        let phase = self.day.trucks[truck_id.at()].phase;
        leg.is_some_and(|leg| leg.arrives != at || phase != Phase::Out)
    }

    /// Whether a truck stands broken down without its load, repaired then by what is drawn.
    pub(super) fn is_given_up(&self, truck_id: TruckId, repaired: Millis) -> bool {
        self.day.trucks[truck_id.at()].phase == Phase::Broken
            && self.day.legs[truck_id.at()].repaired == repaired
    }

    /// Whether nobody can drive a truck: a load has set in its drum.
    pub(super) fn is_out(&self, truck_id: TruckId) -> bool {
        self.day.trucks[truck_id.at()].out_until > self.day.now
    }

    /// The truck stops on its drive.
    pub(super) fn breaks_down<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        if self.day.legs[truck_id.at()].stops != self.day.now {
            return;
        }
        let truck = &self.day.trucks[truck_id.at()];
        let load = (truck.phase == Phase::Out).then(|| (truck.load().order, truck.load().number));
        let driven = self.day.now - truck.since;
        self.tell(
            observer,
            Event::BrokeDown {
                truck: truck_id,
                load,
                driven,
            },
        );
    }

    /// The truck is repaired. It goes on; without its load, it turns round.
    pub(super) fn repaired<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let leg = self.day.legs[truck_id.at()];
        if leg.repaired != self.day.now {
            return;
        }
        self.tell(
            observer,
            Event::Repaired {
                truck: truck_id,
                stood: leg.repaired - leg.stops,
            },
        );
        if self.day.trucks[truck_id.at()].phase == Phase::Broken {
            self.drive_back(truck_id, observer);
        }
    }

    /// The desk hears that a truck has broken down, or looks at its load again.
    pub(super) fn hear_of_breakdown<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let leg = self.day.legs[truck_id.at()];
        let plan = self.repairs_of(truck_id);
        if leg.look_at != self.day.now || leg.repaired <= self.day.now {
            return;
        }
        let stood = self.day.now - leg.stops;
        let repair = match leg.told {
            Some(told) => told - self.day.now,
            None => plan.repair.reckoned(stood) - stood,
        };
        if stood == plan.call {
            self.tell(
                observer,
                Event::BreakdownHeard {
                    truck: truck_id,
                    repair,
                },
            );
        }
        match self.day.trucks[truck_id.at()].phase {
            Phase::Out => match self.can_be_saved(truck_id, repair) {
                Some(until) => {
                    let look_at = (until + Millis(1)).max(self.day.now + Millis::MINUTE);
                    self.day.legs[truck_id.at()].look_at = look_at;
                    if look_at < leg.repaired {
                        self.schedule(look_at, Command::Heard(truck_id));
                    }
                }
                None => self.give_up(truck_id, plan, observer),
            },
            Phase::ToPlant | Phase::Repositioning => {
                self.comes_later(truck_id, stood, repair, observer);
            }
            _ => {}
        }
    }

    /// What the desk believes of the rest of a drive on which the truck stands.
    fn rest_of_drive(&self, truck_id: TruckId) -> Millis {
        let (truck, leg) = (
            &self.day.trucks[truck_id.at()],
            &self.day.legs[truck_id.at()],
        );
        let ((from, haul), to) = (truck.drive, self.day.truck_views[truck_id.at()].place);
        let (roads, belief) = (self.roads(), self.day.policy.belief);
        if !roads.reaches(from, to, haul) {
            return Millis::ZERO;
        }
        let all = roads.believed(belief, from, to, haul, truck.since);
        (all.shared(1.0 - leg.short) - (leg.stops - truck.since)).max(Millis::ZERO)
    }

    /// How the desk reckons with a load in a truck that is repaired after so long.
    fn coming(&self, load: &PromisedLoad, arrives: Millis) -> Coming {
        let (plan, spot) = (
            &self.plan.orders[load.order.at()],
            &self.plan.spots[load.spot.at()],
        );
        Coming {
            batched: load.batched,
            arrives,
            stay: spot.stay(self.day.policy).mean(load.volume) - spot.wash(load.volume),
            retarder: plan.retarder,
            order: plan.age,
            warmer_f: self.known_warmer_f(),
        }
    }

    /// Until when the truck must be repaired so that its load can be placed, if that is believed to hold.
    fn can_be_saved(&self, truck_id: TruckId, repair: Millis) -> Option<Millis> {
        let load = self.day.trucks[truck_id.at()].load();
        let spot = &self.plan.spots[load.spot.at()];
        let rest = self.rest_of_drive(truck_id);
        let comes = self.day.now + repair + rest;
        let coming = self.coming(load, comes.max(self.known_opening(load.order)));
        let age = self.day.policy.age_limit.as_ref();
        if age.is_some_and(|limit| limit.passed_by(&coming)) {
            return None;
        }
        let stay = spot.stay(self.day.policy).mean(load.volume);
        let (belief, leaves) = (self.day.policy.driver_belief, coming.arrives + stay);
        let away = self
            .roads()
            .believed(belief, spot.place, spot.parking, Haul::Empty, leaves);
        let plan = [
            (DutyStatus::OnDuty, repair),
            (DutyStatus::Driving, rest),
            (DutyStatus::OnDuty, stay),
            (DutyStatus::Driving, away),
        ];
        if !self.fits_if_released(self.driver_of(truck_id), Millis::NEVER, &plan) {
            return None;
        }
        Some(age.map_or(Millis::NEVER, |limit| limit.latest(&coming) - rest))
    }

    /// The load is made again for another truck at once, whatever becomes of it.
    fn give_up<O: Observer>(&mut self, truck_id: TruckId, plan: &BreakdownPlan, observer: &mut O) {
        let load = *self.day.trucks[truck_id.at()].load();
        let now = self.day.now;
        let how = self.fate_of_drum(truck_id, plan, &load);
        let driven = self.cut_drive(truck_id);
        self.end_drive(truck_id, true, observer);
        let leg = &mut self.day.legs[truck_id.at()];
        leg.short = 1.0 - driven;
        let truck = &mut self.day.trucks[truck_id.at()];
        (truck.since, truck.stay_excess) = (now, Millis::ZERO);
        truck.phase = match how {
            BrokenDrum::Set => Phase::Towed,
            BrokenDrum::Stabilized | BrokenDrum::Emptied => Phase::Broken,
        };
        self.tell(
            observer,
            Event::GivenUp {
                order: load.order,
                number: load.number,
                truck: truck_id,
                volume: load.volume,
            },
        );
        self.dump_drum(truck_id, observer);
        self.leave_order(truck_id);
        if how != BrokenDrum::Emptied {
            self.day.trucks[truck_id.at()].turn_load_away();
        }
        self.tell(
            observer,
            Event::BrokenDrum {
                truck: truck_id,
                how,
            },
        );
        if how == BrokenDrum::Set {
            self.day.legs[truck_id.at()].repaired = Millis::NEVER;
            let u = self.car_luck(truck_id);
            let takes = self.tow(truck_id, now, u);
            self.schedule(now + takes, Command::TowedHome(truck_id));
        }
        self.asks_again(&load, load.attempt + 1, observer);
    }

    /// What becomes of a load that is given up now: whether the drum turns is known to who stands beside it.
    fn fate_of_drum(
        &self,
        truck_id: TruckId,
        plan: &BreakdownPlan,
        load: &PromisedLoad,
    ) -> BrokenDrum {
        let entity = self.plan.trucks[truck_id.at()].entity;
        let nth = self.day.legs[truck_id.at()].breakdowns.saturating_sub(1);
        let luck = self.day.luck.block(Purpose::Breakdown, entity, nth, 0);
        let turns = luck.uniform(lane::DRUM) < plan.drum_turns;
        if self.day.legs[truck_id.at()].drum_turns.unwrap_or(turns) {
            return BrokenDrum::Stabilized;
        }
        let coming = self.coming(load, self.day.now);
        let age = self.day.policy.age_limit.as_ref();
        let sets = age.is_some_and(|limit| self.day.now + plan.empty > limit.too_old_from(&coming));
        match sets {
            true => BrokenDrum::Set,
            false => BrokenDrum::Emptied,
        }
    }

    /// A loaded drive is over where the truck stands: of what it was to be, only that has taken place. The share that is driven.
    fn cut_drive(&mut self, truck_id: TruckId) -> f64 {
        let since = self.day.trucks[truck_id.at()].since;
        let leg = &mut self.day.legs[truck_id.at()];
        let all = leg.arrives - since - leg.broken - leg.held;
        let rest = all - (leg.stops - since);
        let driven = match all > Millis::ZERO {
            true => 1.0 - rest.0 as f64 / all.0 as f64,
            false => 1.0,
        };
        leg.driven -= rest;
        leg.breaks_at -= rest;
        leg.miles *= driven;
        leg.broken = self.day.now - leg.stops;
        leg.longer = Millis::ZERO;
        if std::mem::take(&mut leg.held) > Millis::ZERO {
            leg.on_scale.weigh_again();
        }
        driven
    }

    /// How long a tow takes that sets out from the truck's home at `since`: out, and back with truck and driver.
    pub(super) fn tow(&self, truck_id: TruckId, since: Millis, u: f64) -> Millis {
        let (home, here) = (
            self.home_place(truck_id),
            self.day.truck_views[truck_id.at()].place,
        );
        let driven = 1.0 - self.day.legs[truck_id.at()].short;
        let roads = self.roads();
        let out = roads.trip(home, here, Haul::Empty, since, u).shared(driven);
        let back = roads.trip(here, home, Haul::Empty, since + out, u);
        out + back.shared(driven)
    }

    /// A truck in whose drum a load has set is home: its driver is released, and nobody drives it for days.
    pub(super) fn towed_home<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let id = self.driver_of(truck_id);
        let days = self.repairs_of(truck_id).out_days;
        let until = Millis::midnight(self.day.now.day() + days);
        let home = self.home_place(truck_id);
        self.day.legs[truck_id.at()].short = 0.0;
        self.day.truck_views[truck_id.at()].place = home;
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.drop_load();
        (truck.phase, truck.out_until, truck.driver) = (Phase::Off, until, None);
        let next = truck.next_driver.take();
        self.tell(
            observer,
            Event::TowedHome {
                driver: id,
                truck: truck_id,
                until,
            },
        );
        self.keeps_nothing_for(id);
        self.end_tour(id, truck_id, observer);
        if let Some(next) = next {
            self.end_tour(next, truck_id, observer);
        }
    }

    /// The desk hears that an empty truck comes later: a promise is broken that it would come too late for.
    fn comes_later<O: Observer>(
        &mut self,
        truck_id: TruckId,
        stood: Millis,
        repair: Millis,
        observer: &mut O,
    ) {
        let comes = self.day.now + repair + self.rest_of_drive(truck_id);
        let truck = &self.day.trucks[truck_id.at()];
        let back = truck.phase == Phase::ToPlant;
        let late = truck.promised().is_some_and(|load| {
            let tolerated = self.plan.orders[load.order.at()].late;
            comes > load.send + tolerated
        });
        if back {
            let view = &mut self.day.truck_views[truck_id.at()];
            view.free_at += stood + repair;
            view.idle_since = view.free_at;
        }
        if late {
            if !back {
                // It comes to a plant where it has nothing to load.
                self.day.trucks[truck_id.at()].phase = Phase::BroughtBack;
            }
            self.break_promise(truck_id, Refusal::BrokenDown, observer);
        }
        let truck = &self.day.trucks[truck_id.at()];
        let free = !truck.is_promised() && !truck.is_full() && truck.slot == NOT_OFFERED;
        if back && free && self.plan.horizon > Millis::ZERO && !self.day.period_over {
            let near_at = self.day.truck_views[truck_id.at()].free_at - self.plan.horizon;
            let near_at = near_at.max(self.day.now + Millis::MINUTE);
            self.day.trucks[truck_id.at()].near_at = near_at;
            self.schedule(near_at, Command::Near(truck_id));
        }
    }
}
