//! One load by itself: what its stages take from the bay until its driver is released, nothing else being in the way. For tables of
//! last loads: no bay, rack or place on site is waited for.

use super::state::Phase;
use super::world::{World, lane};
use crate::engine::Entity;
use crate::hours::{Clocks, DutyStatus, RuleSet};
use crate::roads::Haul;
use crate::units::{DriverId, Millis, OrderId, PlantId, Purpose, SpotId, TruckId, Volume};

/// What a driver does from loading to release, stage by stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoadAlone {
    /// Pulled into the bay, loaded, checked at the rack.
    pub at_plant: Millis,
    /// Driving to the site.
    pub out: Millis,
    /// On site until the discharge ends.
    pub discharged: Millis,
    /// Washing the chute.
    pub wash: Millis,
    /// Driving home.
    pub back: Millis,
    /// Washing out, parking, checking the truck.
    pub home: Millis,
}

impl LoadAlone {
    /// The age of the concrete at the end of the discharge, from its batching on.
    pub fn age(&self) -> Millis {
        self.at_plant + self.out + self.discharged
    }

    /// As a plan of statuses.
    pub fn plan(&self) -> [(DutyStatus, Millis); 5] {
        [
            (DutyStatus::OnDuty, self.at_plant),
            (DutyStatus::Driving, self.out),
            (DutyStatus::OnDuty, self.discharged + self.wash),
            (DutyStatus::Driving, self.back),
            (DutyStatus::OnDuty, self.home),
        ]
    }
}

/// A driver who may be given a load: from when, and what comes before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ready {
    /// The truck.
    pub truck: TruckId,
    /// Its home plant, where the load begins.
    pub plant: PlantId,
    /// From when it can load there, as believed.
    pub from: Millis,
    /// What is driven until then, as believed.
    pub driving: Millis,
    /// When the driver comes on duty, if not yet.
    pub reports: Option<Millis>,
    /// No load begins later, whatever the clocks say: the company's last load, a handover, the end of the planned shift.
    pub no_load_from: Millis,
}

impl World<'_> {
    /// From when a driver can load at the home plant; none for one who is neither on duty nor due within a day, or is stranded.
    pub fn ready_from(&self, id: DriverId) -> Option<Ready> {
        let driver = &self.day.drivers[id.at()];
        let plan = &self.plan.drivers[id.at()];
        let now = self.day.now;
        if !driver.on_duty {
            let reports =
                (0..plan.reports.len() as u16).filter_map(|nth| self.report_time(id, nth));
            let mut reports = reports.filter(|at| *at >= now && *at < now + Millis::DAY);
            let report = reports.next().filter(|_| !driver.away)?;
            let truck = plan.truck;
            return Some(Ready {
                truck,
                plant: self.plan.trucks[truck.at()].home,
                from: report + self.plan.pre_trip_mean,
                driving: Millis::ZERO,
                reports: Some(report),
                no_load_from: (report + self.plan.no_load_after.min(Millis::NEVER - report))
                    .min(plan.relieved),
            });
        }
        let at = self
            .day
            .trucks
            .iter()
            .position(|truck| truck.driver == Some(id))?;
        let (truck, state) = (TruckId::new(at), &self.day.trucks[at]);
        let view = &self.day.truck_views[at];
        let home = self.home_place(truck);
        let belief = self.day.policy.belief;
        let lasted = now - state.since;
        let way = |from, to, haul, depart| match from == to {
            true => Millis::ZERO,
            false => self.roads().believed(belief, from, to, haul, depart),
        };
        let left = |length: Millis| (length - lasted).max(Millis::ZERO);
        let (before, driving) = match state.phase {
            Phase::Off | Phase::Resting | Phase::ToParking | Phase::GoingHome => return None,
            Phase::WashingOut => return None,
            Phase::ToPlant | Phase::BroughtBack if !state.is_promised() => {
                let back = (view.free_at - now).max(Millis::ZERO);
                let on = way(view.place, home, Haul::Empty, now + back);
                (Millis::ZERO, back + on)
            }
            phase if state.is_promised() || phase == Phase::ChuteWash => {
                let load = state.load();
                let spot = &self.plan.spots[load.spot.at()];
                let plant = &self.plan.plants[load.plant.at()];
                let loading = plant.pull_in + plant.loading.mean(load.volume);
                let rack = plant.rack.mean(load.volume);
                let out = way(plant.place, spot.place, Haul::Loaded, now);
                let stay = spot.stay(self.day.policy).mean(load.volume);
                let back = way(spot.place, home, Haul::Empty, now + out + stay);
                match phase {
                    Phase::InBay => (left(loading) + rack + stay, out + back),
                    Phase::RackQueue | Phase::AtRack => (left(rack) + stay, out + back),
                    Phase::Out => (stay, left(out) + back),
                    Phase::SiteQueue | Phase::AtOutlet | Phase::Discharging => (left(stay), back),
                    Phase::ChuteWash => (Millis::ZERO, back),
                    _ => (loading + rack + stay, out + back),
                }
            }
            _ => (Millis::ZERO, way(view.place, home, Haul::Empty, now)),
        };
        Some(Ready {
            truck,
            plant: self.plan.trucks[at].home,
            from: now + before + driving,
            driving,
            reports: None,
            no_load_from: view.no_load_from.min(view.relieved),
        })
    }

    /// A driver's clocks at the moment from which the load can begin, and the rule book; none without one.
    pub fn clocks_when_ready(&self, id: DriverId, ready: &Ready) -> Option<(&RuleSet, Clocks)> {
        let rules = self.book(id)?;
        let mut clocks = self.day.clocks[id.at()];
        if let Some(reports) = ready.reports {
            clocks.change(rules, reports, DutyStatus::OnDuty);
        } else if ready.driving > Millis::ZERO {
            clocks.change(rules, self.day.now, DutyStatus::Driving);
            clocks.change(rules, self.day.now + ready.driving, DutyStatus::OnDuty);
        }
        if ready.from > self.day.now {
            clocks.change(rules, ready.from, DutyStatus::Waiting);
        }
        clocks.advance(rules, ready.from);
        Some((rules, clocks))
    }

    /// A load that begins at `start`, with this world's luck in trial `nth`.
    pub fn load_alone(
        &self,
        (plant, spot): (PlantId, SpotId),
        volume: Volume,
        start: Millis,
        nth: u32,
    ) -> LoadAlone {
        let (plant, spot) = (&self.plan.plants[plant.at()], &self.plan.spots[spot.at()]);
        let luck = self.day.luck.block(Purpose::Load, Entity(0), nth, 0);
        let u = |lane| luck.uniform(lane);
        let at_plant = plant.pull_in
            + plant.loading.at(volume, u(lane::LOADING))
            + plant.rack.at(volume, u(lane::RACK));
        let roads = self.roads();
        let leaves = start + at_plant;
        let out = roads.trip(plant.place, spot.place, Haul::Loaded, leaves, u(lane::OUT));
        let rate = spot
            .rates
            .first()
            .map_or(Millis::ZERO, |rate| rate.at(volume, u(lane::DISCHARGE)));
        let discharged = spot.position.at(volume, u(lane::POSITION)) + rate;
        let wash = spot.chute_wash.at(volume, u(lane::CHUTE_WASH));
        let done = leaves + out + discharged + wash;
        let back = roads.trip(spot.place, plant.place, Haul::Empty, done, u(lane::BACK));
        LoadAlone {
            at_plant,
            out,
            discharged,
            wash,
            back,
            home: self.plan.home_work,
        }
    }

    /// Where the next loads of an order go, the mean of what it asks for at a time, and until when loading for it makes sense.
    pub fn goes_to(&self, order: OrderId) -> (SpotId, Volume, Millis) {
        let plan = &self.plan.orders[order.at()];
        (SpotId(plan.spots.start), plan.load, plan.day_over)
    }

    /// Whether there is a way from a plant to an order's site and back, and the plant makes its mix.
    pub fn can_go(&self, plant: PlantId, order: OrderId) -> bool {
        let spot = self.plan.orders[order.at()].spots.start;
        let (from, to) = (
            self.plan.plants[plant.at()].place,
            self.plan.spots[spot as usize].place,
        );
        self.plan.makers(order).contains(&plant)
            && self.roads().reaches(from, to, Haul::Loaded)
            && self.roads().reaches(to, from, Haul::Empty)
    }

    /// When a plant that has opened by a moment takes no more loads; none if it has not opened by then.
    pub fn closes(&self, plant: PlantId, at: Millis) -> Option<Millis> {
        let spans = &self.plan.plants[plant.at()].open;
        spans.iter().rfind(|span| span.0 <= at).map(|span| span.1)
    }
}
