//! Trucks on the road: out with a load, back without, home for the day.

use super::command::Command;
use super::event::{Errand, Event, Observer};
use super::state::{AfterBreak, NOT_OFFERED, Phase};
use super::world::{World, lane};
use crate::dispatch::AfterDischarge;
use crate::roads::{Delays, Haul, RoadsNow};
use crate::units::{Millis, PlaceId, Purpose, TruckId};

impl World<'_> {
    /// The roads as they are now.
    #[inline]
    pub(super) fn roads(&self) -> RoadsNow<'_> {
        self.plan.roads.at(&self.day.road_state, self.day.now)
    }

    /// Whether a truck that leaves a site, or drives on an errand, does so with concrete in its drum.
    #[inline]
    pub(super) fn haul_of(&self, truck_id: TruckId) -> Haul {
        if self.day.trucks[truck_id.at()].is_full() {
            Haul::Loaded
        } else {
            Haul::Empty
        }
    }

    /// The loaded truck leaves for its site.
    pub(super) fn drive_out<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.leave_loaded(truck_id, observer);
        let load = self.day.trucks[truck_id.at()].load();
        let from = self.plan.plants[load.plant.at()].place;
        let to = self.plan.spots[load.spot.at()].place;
        let luck = load.luck.uniform(lane::OUT);
        self.decide_way(truck_id, from, to);
        self.break_down_once(truck_id);
        let way = (from, to, Haul::Loaded);
        let (trip, delays) = self.begin_leg_told::<O>(truck_id, way, luck);
        self.begin_drive(truck_id);
        self.look_at_radius(truck_id, to);
        self.reckon_way_home(truck_id, trip, |world| {
            let belief = world.day.policy.driver_belief;
            world
                .roads()
                .believed(belief, from, to, Haul::Loaded, world.day.now)
        });
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::Out;
        truck.since = self.day.now;
        self.day.truck_views[truck_id.at()].place = to;
        self.tell_departed_out(truck_id, (trip, delays), observer);
        self.plan_site_arrival(truck_id, self.day.now + trip);
    }

    /// Plans when a loaded truck comes on site.
    #[inline]
    pub(super) fn plan_site_arrival(&mut self, truck_id: TruckId, at: Millis) {
        if let Some(leg) = self.day.legs.get_mut(truck_id.at()) {
            leg.arrives = at;
        }
        self.schedule(at, Command::ArriveSite(truck_id));
    }

    /// The empty truck leaves the site: to its home plant (or another, as the rule says), if the driver judges that the way fits
    /// under every clock.
    pub(super) fn drive_back<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let home = self.plan.plants[self.plan.trucks[truck_id.at()].home.at()].place;
        let site = self.day.truck_views[truck_id.at()].place;
        if self.break_helps(truck_id, site, home) {
            self.take_break(truck_id, AfterBreak::DriveBack, observer);
            return;
        }
        if !self.may_drive(truck_id, site, home) {
            self.stop_for_the_night(truck_id, observer);
            return;
        }
        self.helper_in_vain(truck_id, observer);
        self.begin_drive(truck_id);
        let own = home;
        let home = if self.day.policy.after_discharge == AfterDischarge::HomePlant {
            home
        } else {
            self.head_for(truck_id)
        };
        let luck = self.day.trucks[truck_id.at()]
            .load()
            .luck
            .uniform(lane::BACK);
        let haul = self.haul_of(truck_id);
        let way = (site, home, haul);
        let (trip, delays) = self.begin_leg_told::<O>(truck_id, way, luck);
        let errand = if home == own {
            Errand::Home
        } else {
            Errand::OtherPlant
        };
        self.tell_departed_empty(truck_id, errand, way, (trip, delays), observer);
        let roads = self.roads();
        let believed = roads.believed(self.day.policy.belief, site, home, haul, self.day.now);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = Phase::ToPlant;
        truck.since = self.day.now;
        let view = &mut self.day.truck_views[truck_id.at()];
        view.place = home;
        view.free_at = self.day.now + believed;
        view.idle_since = view.free_at;
        self.schedule(self.day.now + trip, Command::ArrivePlace(truck_id));
        self.plan_near(truck_id, self.day.now + trip, observer);
    }

    /// Plans when a truck on its way back comes within the promise horizon.
    fn plan_near<O: Observer>(&mut self, truck_id: TruckId, arrives: Millis, observer: &mut O) {
        if self.plan.horizon == Millis::ZERO
            || self.day.period_over
            || self.day.trucks[truck_id.at()].is_full()
        {
            return;
        }
        let near_at =
            (self.day.truck_views[truck_id.at()].free_at - self.plan.horizon).max(self.day.now);
        self.day.trucks[truck_id.at()].near_at = near_at;
        if near_at <= self.day.now {
            self.near(truck_id, observer);
        } else if near_at < arrives {
            self.schedule(near_at, Command::Near(truck_id));
        }
    }

    /// A truck on its way back can be promised from now on.
    pub(super) fn near<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let truck = &self.day.trucks[truck_id.at()];
        if truck.phase != Phase::ToPlant
            || truck.near_at != self.day.now
            || truck.is_promised()
            || truck.slot != NOT_OFFERED
        {
            return;
        }
        let driver = &self.day.drivers[self.driver_of(truck_id).at()];
        if self.day.period_over || self.day.now >= driver.shift_over {
            return; // due to go home: offered a load only if one still waits when it is back
        }
        self.offer(truck_id);
        self.serve_waiting(Some(truck_id), observer);
    }

    /// A promised truck drives empty to the plant where it loads.
    pub(super) fn reposition<O: Observer>(
        &mut self,
        truck_id: TruckId,
        to: PlaceId,
        observer: &mut O,
    ) {
        let from = self.day.truck_views[truck_id.at()].place;
        if let Some(reason) = self.bars(truck_id, from, to) {
            self.break_promise(truck_id, reason, observer);
            self.become_free(truck_id, observer);
            return;
        }
        let (trip, luck) = self.move_empty(truck_id, to, Phase::Repositioning);
        if O::PLANS {
            let way = (from, to, self.haul_of(truck_id));
            let (_, delays) = self.roads().trip_with_delays(way, self.day.now, luck);
            self.tell_departed_empty(truck_id, Errand::ToLoad, way, (trip, delays), observer);
        }
    }

    /// Drives empty on an errand of no load: how long, with which luck of the road.
    pub(super) fn move_empty(
        &mut self,
        truck_id: TruckId,
        to: PlaceId,
        phase: Phase,
    ) -> (Millis, f64) {
        self.begin_drive(truck_id);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.phase = phase;
        truck.since = self.day.now;
        let luck = self.day.luck.block(
            Purpose::EmptyTrip,
            self.plan.trucks[truck_id.at()].entity,
            truck.moves,
            0,
        );
        truck.moves += 1;
        let from = self.day.truck_views[truck_id.at()].place;
        let haul = self.haul_of(truck_id);
        let trip = self.begin_leg(truck_id, from, to, haul, luck.uniform(0));
        self.day.truck_views[truck_id.at()].place = to;
        self.schedule(self.day.now + trip, Command::ArrivePlace(truck_id));
        (trip, luck.uniform(0))
    }

    /// Whether the driver, by own judgement, is through with a leg before any clock ends.
    #[inline(always)]
    pub(super) fn may_drive(&self, truck_id: TruckId, from: PlaceId, to: PlaceId) -> bool {
        self.bars(truck_id, from, to).is_none()
    }

    /// An empty truck comes to where it was heading.
    pub(super) fn arrive_place<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        let phase = self.day.trucks[truck_id.at()].phase;
        let promised = self.day.trucks[truck_id.at()].is_promised();
        // Back from a site is part of the load's trip; a reposition is not.
        self.end_drive(truck_id, phase == Phase::ToPlant, observer);
        match phase {
            Phase::ToPlant if self.day.trucks[truck_id.at()].is_full() => {
                self.empty_drum(truck_id, observer);
            }
            Phase::ToPlant if promised => self.go_to_bay(truck_id, observer),
            Phase::Repositioning => self.go_to_bay(truck_id, observer),
            Phase::ToPlant => self.become_free(truck_id, observer),
            Phase::ToParking => self.strand(truck_id, observer),
            Phase::BroughtBack => self.become_free(truck_id, observer),
            _ => self.wash_out(truck_id, observer),
        }
    }

    /// What a loaded trip from a plant that ends now has saved at a weigh station that it went round.
    fn saved_weighing(&self, truck_id: TruckId) -> Millis {
        let truck = &self.day.trucks[truck_id.at()];
        if truck.phase != Phase::Out || truck.load().redirected {
            return Millis::ZERO;
        }
        let from = self.plan.plants[truck.load().plant.at()].place;
        let to = self.plan.spots[truck.load().spot.at()].place;
        let luck = truck.load().luck.uniform(lane::OUT);
        let way = (from, to, Haul::Loaded);
        let (_, delays) = self.roads().trip_with_delays(way, truck.since, luck);
        delays.weighed
    }

    /// A drive at its usual length, without standing before bridges or in weigh stations, and without incidents.
    pub(super) fn usual_on_the_move(
        &self,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> Millis {
        let (roads, usual) = (self.roads(), self.day.policy.usual);
        let (trip, delays) = roads.believed_with_delays(usual, from, to, haul, depart);
        trip - delays.closed - delays.weighed - delays.incidents
    }

    /// Tells of a loaded drive that begins now, and what holds it up.
    pub(super) fn tell_departed_out<O: Observer>(
        &self,
        truck_id: TruckId,
        (takes, delays): (Millis, Delays),
        observer: &mut O,
    ) {
        if O::PLANS {
            let lengths = (takes, Millis::ZERO);
            self.tell_departed(truck_id, Errand::Out, lengths, delays, observer);
        }
    }

    /// Tells of an empty drive that begins now, and what holds it up.
    fn tell_departed_empty<O: Observer>(
        &self,
        truck_id: TruckId,
        errand: Errand,
        way: (PlaceId, PlaceId, Haul),
        (takes, delays): (Millis, Delays),
        observer: &mut O,
    ) {
        if O::PLANS {
            let usual = if errand == Errand::Home {
                Millis::ZERO
            } else {
                self.usual_on_the_move(way, self.day.now)
            };
            self.tell_departed(truck_id, errand, (takes, usual), delays, observer);
        }
    }

    fn tell_departed<O: Observer>(
        &self,
        truck: TruckId,
        errand: Errand,
        (takes, usual): (Millis, Millis),
        mut delays: Delays,
        observer: &mut O,
    ) {
        let leg = self.day.legs.get(truck.at()).copied().unwrap_or_default();
        let round = if leg.goes_round {
            leg.longer + std::mem::take(&mut delays.weighed)
        } else {
            Millis::ZERO
        };
        self.tell(
            observer,
            Event::Departed {
                truck,
                errand,
                takes,
                usual,
                delays,
                broken: leg.broken,
                held: leg.held,
                round,
            },
        );
    }

    /// Tells of a drive that ends now.
    pub(super) fn end_drive<O: Observer>(
        &mut self,
        truck_id: TruckId,
        for_load: bool,
        observer: &mut O,
    ) {
        let driver = self.driver_of(truck_id);
        let truck = &self.day.trucks[truck_id.at()];
        let (took, limit) = (self.day.now - truck.since, truck.limit);
        let leg = self.end_leg(truck_id);
        let round = leg.goes_round.then(|| {
            // The minutes that it saved at the station belong to the way round it.
            let saved = if O::PLANS {
                self.saved_weighing(truck_id)
            } else {
                Millis::ZERO
            };
            leg.longer + saved
        });
        self.tell(
            observer,
            Event::Drove {
                driver,
                truck: truck_id,
                took,
                miles: leg.miles,
                broken: leg.broken,
                held: leg.held,
                round,
                for_load,
                limit,
            },
        );
        self.after_drive(truck_id, observer);
    }
}
