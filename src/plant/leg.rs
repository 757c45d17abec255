//! What happens to a truck on a drive beside the traffic: rain, breakdowns, a weigh station or the way round it; and the miles.
//!
//! When a truck breaks down follows from the hours that it has driven; what comes of that stands in [`breakdown`](super::breakdown).
//! Miles, standing and weighing belong to the drive and are told when it ends.

use super::breakdown::lane;
use super::event::Observer;
use super::state::Leg;
use super::world::World;
use crate::roads::{Delays, Haul};
use crate::units::{Millis, PlaceId, Purpose, TruckId, Volume};

impl World<'_> {
    /// A drive begins: how long it takes, with the luck of the road at `u`.
    #[inline]
    pub(super) fn begin_leg(
        &mut self,
        truck_id: TruckId,
        from: PlaceId,
        to: PlaceId,
        haul: Haul,
        u: f64,
    ) -> Millis {
        self.begin_leg_told::<()>(truck_id, (from, to, haul), u).0
    }

    /// The same, and for an observer that looks at plans what holds it up on the road; of one that goes round a weigh station, what
    /// would on its quickest way.
    #[inline(always)]
    pub(super) fn begin_leg_told<O: Observer>(
        &mut self,
        truck_id: TruckId,
        way: (PlaceId, PlaceId, Haul),
        u: f64,
    ) -> (Millis, Delays) {
        let (from, to, haul) = way;
        self.day.trucks[truck_id.at()].drive = (from, haul);
        let (roads, now) = (self.roads(), self.day.now);
        let (trip, delays) = if O::PLANS {
            roads.trip_with_delays(way, now, u)
        } else {
            (roads.trip(from, to, haul, now, u), Delays::default())
        };
        match self.day.legs.get(truck_id.at()) {
            None => (trip, delays),
            Some(leg) => {
                // Who turns round before the site need not stand before what lies beyond.
                let delays = if leg.short > 0.0 {
                    Delays::default()
                } else {
                    delays
                };
                (self.beside_traffic(truck_id, way, trip, u), delays)
            }
        }
    }

    /// A drive ends: what happened on it, told once. A drive home with a helper begins no leg of its own.
    #[inline]
    pub(super) fn end_leg(&mut self, truck_id: TruckId) -> Leg {
        let Some(leg) = self.day.legs.get_mut(truck_id.at()) else {
            return Leg::default();
        };
        let ended = *leg;
        (leg.miles, leg.broken, leg.held) = (0.0, Millis::ZERO, Millis::ZERO);
        (leg.goes_round, leg.longer, leg.short) = (false, Millis::ZERO, 0.0);
        (leg.told, leg.drum_turns) = (None, None);
        ended
    }

    #[inline(never)] // keeps the usual drive short
    fn beside_traffic(
        &mut self,
        truck_id: TruckId,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        trip: Millis,
        u: f64,
    ) -> Millis {
        let rain = self.rain_at(self.day.now);
        let Leg {
            goes_round, short, ..
        } = self.day.legs[truck_id.at()];
        let quickest = slowed(trip, rain).shared(1.0 - short);
        let driven = if goes_round {
            slowed(self.roads().trip_round(from, to, self.day.now, u), rain)
        } else {
            quickest
        };
        let broken = self.breakdown(truck_id, self.day.now, driven);
        let held = if haul == Haul::Loaded && !goes_round {
            self.held_heavy(truck_id, from, to)
        } else {
            Millis::ZERO
        };
        let miles = self.leg_miles((from, to, haul), goes_round, self.day.now) * (1.0 - short);
        let leg = &mut self.day.legs[truck_id.at()];
        (leg.broken, leg.held, leg.longer) = (broken, held, driven - quickest);
        leg.miles = miles;
        driven + broken + held
    }

    /// How far a drive that begins at `depart` leads; 0 where miles cost nothing.
    fn leg_miles(
        &self,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        goes_round: bool,
        depart: Millis,
    ) -> f64 {
        let roads = &self.plan.roads;
        match self.plan.miles_at_mph {
            None => 0.0,
            Some(_) if goes_round => roads.miles_round(from, to, depart),
            Some(mph) => roads
                .miles(from, to, haul, depart)
                .unwrap_or_else(|| roads.free_flow(from, to, haul).hours() * mph),
        }
    }

    /// How much rain slows a drive that begins then.
    pub(super) fn rain_at(&self, at: Millis) -> f64 {
        let slows = self.plan.changes.rain_slows;
        if !self.day.legs.is_empty() && slows > 1.0 && self.rains(at.day()) {
            slows
        } else {
            1.0
        }
    }

    /// Everything of the drives back to the beginning of a replication.
    pub(super) fn begin_legs(&mut self) {
        for id in 0..self.day.legs.len() {
            let truck = TruckId::new(id);
            let breaks_at = self.next_breakdown(truck, Millis::ZERO, 0);
            self.day.legs[id].breaks_at = breaks_at;
        }
    }

    pub(super) fn next_breakdown(&self, truck_id: TruckId, after: Millis, nth: u32) -> Millis {
        let entity = self.plan.trucks[truck_id.at()].entity;
        self.breakdown_plan(truck_id)
            .map_or(Millis::NEVER, |breakdowns| {
                let luck = self.day.luck.block(Purpose::Breakdown, entity, nth, 0);
                let between = luck.uniform(lane::BETWEEN);
                after + breakdowns.between.at(Volume::ZERO, between)
            })
    }

    /// How long the truck stands on this drive, which begins at `depart`; and when. At most one breakdown in a drive.
    pub(super) fn breakdown(&mut self, truck_id: TruckId, depart: Millis, drive: Millis) -> Millis {
        let leg = &mut self.day.legs[truck_id.at()];
        let before = leg.driven;
        let share = std::mem::take(&mut leg.breaks_in);
        if share > 0.0 {
            leg.breaks_at = before + drive.shared(share);
        }
        leg.driven += drive;
        let (driven, breaks_at, nth) = (leg.driven, leg.breaks_at, leg.breakdowns);
        if driven < breaks_at {
            return Millis::ZERO;
        }
        let Some(breakdowns) = self.breakdown_plan(truck_id) else {
            return Millis::ZERO;
        };
        let entity = self.plan.trucks[truck_id.at()].entity;
        let luck = self.day.luck.block(Purpose::Breakdown, entity, nth, 0);
        let broken = breakdowns.repair.at(luck.uniform(lane::REPAIR));
        let next = self.next_breakdown(truck_id, driven, nth + 1);
        let leg = &mut self.day.legs[truck_id.at()];
        (leg.breaks_at, leg.breakdowns) = (next, nth + 1);
        leg.stops = depart + (breaks_at - before).clamp(Millis::ZERO, drive);
        leg.repaired = leg.stops + broken;
        leg.look_at = leg.stops + breakdowns.call;
        if broken > Millis::ZERO {
            self.plan_breakdown(truck_id);
        }
        broken
    }
}

/// A trip in rain that makes it so many times longer.
pub(super) fn slowed(trip: Millis, rain: f64) -> Millis {
    if rain > 1.0 {
        Millis((trip.0 as f64 * rain + 0.5) as i64)
    } else {
        trip
    }
}
