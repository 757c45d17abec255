//! Drives under way, drawn again given how long they have lasted; breakdowns; who is out to fetch somebody.

use super::super::command::Command;
use super::super::leg::slowed;
use super::super::state::{Fetcher, NOT_OFFERED, Phase};
use super::super::world::{World, lane};
use crate::engine::Entity;
use crate::roads::Haul;
use crate::units::{Millis, PlaceId, Purpose, TruckId, Volume};

/// What [`World::fresh`] numbers are for; stages have their own.
const ON_ROAD: u32 = 10;
const STANDS: u32 = 11;
const CAR_OUT: u32 = 12;
const CAR_BACK: u32 = 13;

/// Halvings in the search for the luck that a drive has had at least: the shares are exact to a millionth.
const HALVINGS: u32 = 20;

/// A drive: from, to, and how loaded.
type Way = (PlaceId, PlaceId, Haul);

impl World<'_> {
    /// A drive that began at `since` and has lasted until now, drawn again.
    fn drive_beyond(&self, way: Way, since: Millis, luck: (Entity, f64)) -> Millis {
        let (from, to, haul) = way;
        let lasted = self.day.now - since;
        self.beyond(lasted, luck, |u| {
            self.roads().trip(from, to, haul, since, u)
        })
        .0
    }

    /// What has lasted so long, drawn again, and its luck. `u` is its own luck; if that would have brought it in already, it comes
    /// from those that are still on the road.
    fn beyond(
        &self,
        lasted: Millis,
        (entity, u): (Entity, f64),
        drive: impl Fn(f64) -> Millis,
    ) -> (Millis, f64) {
        let first = drive(u);
        if first > lasted {
            return (first, u);
        }
        let (mut below, mut above) = (u, 1.0);
        for _ in 0..HALVINGS {
            let middle = (below + above) / 2.0;
            if drive(middle) > lasted {
                above = middle;
            } else {
                below = middle;
            }
        }
        let share = above + (1.0 - above) * self.fresh(entity, ON_ROAD, 0);
        let share = share.min(1.0 - f64::EPSILON);
        (drive(share).max(lasted), share)
    }

    /// When a truck that is on the road arrives in this fork. It may stand: broken down on its way, or held at the end of it, and that is
    /// seen. A truck that is repaired can still be held.
    pub(super) fn renewed_arrival(&mut self, truck: TruckId, at: Millis) -> Millis {
        let (since, now) = (self.day.trucks[truck.at()].since, self.day.now);
        let leg = self.day.legs.get(truck.at()).copied().unwrap_or_default();
        let drive = at - since - leg.broken - leg.held;
        let broke = leg.broken > Millis::ZERO && leg.stops <= now;
        let stands = broke && now < leg.repaired;
        let driven = match (broke, stands) {
            (false, _) => now - since,
            (true, true) => leg.stops - since,
            (true, false) => now - since - leg.broken,
        };
        if stands {
            self.renew_repair(truck);
        }
        let lasts = if driven >= drive && !stands && !self.day.legs.is_empty() {
            self.renewed_hold(truck, drive, driven)
        } else {
            self.renewed_drive(truck, drive, (driven, broke))
        };
        let arrives = since + lasts;
        let state = &mut self.day.trucks[truck.at()];
        if state.phase == Phase::Out {
            state.out_excess += arrives - at;
        }
        if let Some(leg) = self.day.legs.get_mut(truck.at()) {
            leg.arrives = arrives;
        }
        // Who fetches the truck is out as long as it is.
        if let Some(fetch) = state.fetch.filter(|fetch| fetch.at_wheel) {
            if let Fetcher::Helper(helper) = fetch.who {
                self.day.helpers[helper as usize] = arrives;
            }
            if let Some(helper) = fetch.car {
                self.day.helpers[helper as usize] = arrives;
            }
        }
        arrives
    }

    /// It stands, broken down: how long is drawn again, given how long it has.
    fn renew_repair(&mut self, truck: TruckId) {
        let plan = self.repairs_of(truck);
        let u = self.fresh(self.plan.trucks[truck.at()].entity, STANDS, 0);
        let leg = &mut self.day.legs[truck.at()];
        leg.broken = match leg.told {
            Some(told) => told - leg.stops,
            None => plan.repair.beyond(self.day.now - leg.stops, u),
        };
        leg.repaired = leg.stops + leg.broken;
        let heard = leg.look_at <= self.day.now;
        self.schedule(self.day.legs[truck.at()].repaired, Command::Repaired(truck));
        let leg = self.day.legs[truck.at()];
        if !heard && leg.look_at < leg.repaired {
            self.schedule(leg.look_at, Command::Heard(truck));
        }
    }

    /// The drive is over, and it is held at a weigh station.
    fn renewed_hold(&mut self, truck: TruckId, drive: Millis, driven: Millis) -> Millis {
        let u = self.fresh(self.plan.trucks[truck.at()].entity, STANDS, 0);
        let leg = &mut self.day.legs[truck.at()];
        if let Some(held) = &self.plan.held_heavy {
            leg.held = held.beyond(Volume::ZERO, driven - drive, u);
        }
        drive + leg.broken + leg.held
    }

    /// When a truck is repaired whose load has been given up.
    pub(super) fn renewed_roadside(&mut self, truck: TruckId) -> Millis {
        let plan = self.repairs_of(truck);
        let u = self.fresh(self.plan.trucks[truck.at()].entity, STANDS, 0);
        let leg = &mut self.day.legs[truck.at()];
        leg.repaired = leg.stops + plan.repair.beyond(self.day.now - leg.stops, u);
        leg.repaired
    }

    /// When a truck that is towed is home.
    pub(super) fn renewed_tow(&mut self, truck: TruckId) -> Millis {
        let (since, entity) = (
            self.day.trucks[truck.at()].since,
            self.plan.trucks[truck.at()].entity,
        );
        let u = self.fresh(entity, CAR_OUT, 0);
        let lasted = self.day.now - since;
        let tow = self.beyond(lasted, (entity, u), |u| self.tow(truck, since, u));
        since + tow.0
    }

    /// It drives, or stands on its way; what else happens on this drive is not known yet. `driven` is how much of it has been
    /// driven, and whether it has broken down on it.
    fn renewed_drive(
        &mut self,
        truck: TruckId,
        drive: Millis,
        (lasted, broke): (Millis, bool),
    ) -> Millis {
        let state = &self.day.trucks[truck.at()];
        let since = state.since;
        let (from, haul) = state.drive;
        let to = self.day.truck_views[truck.at()].place;
        let entity = self.plan.trucks[truck.at()].entity;
        let u = match state.phase {
            Phase::Out => state.load().luck.uniform(lane::OUT),
            Phase::ToPlant => state.load().luck.uniform(lane::BACK),
            _ => {
                let nth = state.moves.saturating_sub(1);
                self.day
                    .luck
                    .block(Purpose::EmptyTrip, entity, nth, 0)
                    .uniform(0)
            }
        };
        let leg = self.day.legs.get(truck.at()).copied().unwrap_or_default();
        let goes_round = leg.goes_round;
        let rain = self.rain_at(since);
        let quickest = |u| {
            let trip = self.roads().trip(from, to, haul, since, u);
            slowed(trip, rain).shared(1.0 - leg.short)
        };
        let (driven, longer) = if goes_round {
            let round = |u| slowed(self.roads().trip_round(from, to, since, u), rain);
            let (driven, u) = self.beyond(lasted, (entity, u), round);
            (driven, driven - quickest(u))
        } else {
            (self.beyond(lasted, (entity, u), quickest).0, Millis::ZERO)
        };
        let Some(leg) = self.day.legs.get_mut(truck.at()) else {
            return driven;
        };
        if leg.held > Millis::ZERO {
            leg.on_scale.weigh_again();
        }
        leg.driven -= drive;
        let broken = if broke {
            // Once is enough for a drive.
            leg.driven += driven;
            leg.breaks_at += driven - drive;
            leg.broken
        } else {
            if leg.broken > Millis::ZERO {
                leg.breakdowns -= 1;
            }
            let (so_far, nth) = (leg.driven + lasted, leg.breakdowns);
            self.day.legs[truck.at()].breaks_at = self.next_breakdown(truck, so_far, nth);
            self.breakdown(truck, since, driven)
        };
        let weighed = haul == Haul::Loaded && !goes_round;
        let held = if weighed {
            let now = std::mem::replace(&mut self.day.now, since);
            let held = self.held_heavy(truck, from, to);
            self.day.now = now;
            held
        } else {
            Millis::ZERO
        };
        let leg = &mut self.day.legs[truck.at()];
        (leg.broken, leg.held, leg.longer) = (broken, held, longer);
        driven + broken + held
    }

    /// When a truck on its way back comes near enough to be promised, if that is still to come.
    pub(super) fn renew_near(&mut self, truck: TruckId, arrives: Millis) {
        let state = &self.day.trucks[truck.at()];
        let waits = state.phase == Phase::ToPlant
            && !state.is_promised()
            && !state.is_full()
            && state.slot == NOT_OFFERED
            && state.near_at > self.day.now
            && state.near_at < arrives;
        if waits && !self.day.period_over && self.plan.horizon > Millis::ZERO {
            let near_at = state.near_at;
            self.schedule(near_at, Command::Near(truck));
        }
    }

    /// When every truck breaks down next: driven time between two breakdowns is exponential, so that it does not matter how
    /// long it has run. Those on the road are drawn again with their drive.
    pub(super) fn renew_breakdowns(&mut self) {
        for position in 0..self.day.legs.len() {
            let truck = TruckId::new(position);
            let leg = self.day.legs[position];
            let next = self.next_breakdown(truck, leg.driven, leg.breakdowns);
            self.day.legs[position].breaks_at = next;
        }
    }

    /// Who has set out early for a truck that is still on site.
    pub(super) fn renew_errands(&mut self) {
        for position in 0..self.day.trucks.len() {
            let truck = TruckId::new(position);
            let on_the_way = |fetch: &super::super::state::Fetching| fetch.there > self.day.now;
            let waits = self.day.trucks[position].phase == Phase::Resting;
            if let Some(fetch) = self.day.trucks[position].fetch.filter(on_the_way)
                && !waits
            {
                let load = self.day.trucks[position].load();
                let parking = self.plan.spots[load.spot.at()].parking;
                let there = self.car_arrives(truck, fetch.who, parking, fetch.sent);
                if let Some(fetch) = &mut self.day.trucks[position].fetch {
                    fetch.there = there;
                }
            }
        }
    }

    fn car_arrives(&self, truck: TruckId, who: Fetcher, to: PlaceId, sent: Millis) -> Millis {
        let from = self.place_of(who, self.home_place(truck));
        let entity = self.plan.trucks[truck.at()].entity;
        let u = self.fresh(entity, CAR_OUT, 0);
        sent + self.drive_beyond((from, to, Haul::Empty), sent, (entity, u))
    }

    /// When a helper is with a stranded truck; from then on it is known when all are home.
    pub(super) fn renewed_fetch(&mut self, truck: TruckId, at: Millis) -> Millis {
        let Some(fetch) = self.day.trucks[truck.at()].fetch else {
            return at;
        };
        let here = self.day.truck_views[truck.at()].place;
        let there = if fetch.there > self.day.now {
            self.car_arrives(truck, fetch.who, here, fetch.sent)
        } else {
            at
        };
        let home = self.home_place(truck);
        let entity = self.plan.trucks[truck.at()].entity;
        let (u, haul) = if fetch.driver_only {
            (self.fresh(entity, CAR_BACK, 0), Haul::Empty)
        } else {
            let moves = self.day.trucks[truck.at()].moves;
            let luck = self.day.luck.block(Purpose::EmptyTrip, entity, moves, 0);
            (luck.uniform(0), self.haul_of(truck))
        };
        let back = there + self.roads().trip(here, home, haul, there, u);
        if let Fetcher::Helper(helper) = fetch.who {
            self.day.helpers[helper as usize] = back;
        }
        if let Some(helper) = fetch.car {
            self.day.helpers[helper as usize] = back;
        }
        if let Some(fetch) = &mut self.day.trucks[truck.at()].fetch {
            fetch.there = there;
        }
        there
    }

    /// When a driver who is fetched by car is home.
    pub(super) fn renewed_ride(&mut self, truck: TruckId, at: Millis) -> Millis {
        let Some(fetch) = self.day.trucks[truck.at()].fetch else {
            return at;
        };
        let way = (
            self.day.truck_views[truck.at()].place,
            self.home_place(truck),
            Haul::Empty,
        );
        let entity = self.plan.trucks[truck.at()].entity;
        let u = self.fresh(entity, CAR_BACK, 0);
        let back = if fetch.there > self.day.now {
            let (from, to, haul) = way;
            fetch.there + self.roads().trip(from, to, haul, fetch.there, u)
        } else {
            fetch.there + self.drive_beyond(way, fetch.there, (entity, u))
        };
        if let Fetcher::Helper(helper) = fetch.who {
            self.day.helpers[helper as usize] = back;
        }
        back
    }

    /// When a driver who is driven out comes to the truck.
    pub(super) fn renewed_way_to_truck(&mut self, truck: TruckId) -> Millis {
        let begun = self.day.trucks[truck.at()].begun;
        let way = (
            self.home_place(truck),
            self.day.truck_views[truck.at()].place,
            Haul::Empty,
        );
        let entity = self.plan.trucks[truck.at()].entity;
        let u = self.fresh(entity, CAR_OUT, 0);
        begun + self.drive_beyond(way, begun, (entity, u))
    }
}
