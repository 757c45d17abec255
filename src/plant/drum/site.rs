//! What the site makes of a load: HRWR that goes in there, tests, water added once, and why a load is turned away.

use super::super::event::{Observer, Reject};
use super::super::material::MaterialStep;
use super::super::plan::DrumPlan;
use super::super::world::World;
use super::lane;
use crate::concrete::{
    AFTER_WATER_REVOLUTIONS, AgeVerdict, AirVerdict, Conditions, MIXING_REVOLUTIONS, MIXING_RPM,
    SlumpVerdict, Until, slump_test_in, time_for,
};
use crate::units::{Millis, Purpose, TruckId};

/// Block of draws of the tests after water was added on site; the stays at the rack have 0 to 2.
const AFTER_RETEMPER: u32 = 3;
/// Lanes of that block.
const FIRST_AGAIN: usize = 5;
const SECOND_AGAIN: usize = 6;
/// Less water than this is not worth the minutes, gal/yd³.
const LEAST_GAL_YD3: f64 = 0.1;

/// What a site makes of a load.
pub(in super::super) enum OnSite {
    /// It is taken.
    Taken,
    /// The drum has to turn until then; then it is looked at again.
    Turning(Millis),
    /// It is turned away.
    Refused(Reject),
}

impl World<'_> {
    /// A load comes on site: HRWR that was kept for the site goes in, and is mixed in while the truck waits.
    pub(in super::super) fn drum_on_site<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        let Some(drums) = self.drum_plan() else {
            return;
        };
        let (now, concrete_f) = (self.day.now, self.concrete_f(drums));
        let order = self.day.trucks[truck.at()].load().order;
        let drum = &mut self.day.drums[truck.at()];
        drum.turn_to(now, concrete_f);
        let lb = drum.hrwr_to_come_lb;
        if lb > 0.0 {
            drum.hrwr_to_come_lb = 0.0;
            drum.mix = drums.material.mixes[drums.mixes[order.at()]].mix;
            drum.concrete.add_hrwr(lb);
            drum.mixing_until = now + time_for(MIXING_REVOLUTIONS, MIXING_RPM);
            self.tell_step(truck, MaterialStep::HrwrAdded { lb: lb as f32 }, observer);
        }
    }

    /// Looks at a load that could be discharged now.
    pub(in super::super) fn look_at_load<O: Observer>(
        &mut self,
        truck: TruckId,
        drums: &DrumPlan,
        observer: &mut O,
    ) -> OnSite {
        let (now, concrete_f) = (self.day.now, self.concrete_f(drums));
        let drum = &mut self.day.drums[truck.at()];
        if now < drum.mixing_until {
            return OnSite::Turning(drum.mixing_until);
        }
        drum.turn_to(now, concrete_f);
        let drum = *drum;
        let load = *self.day.trucks[truck.at()].load();
        let on_site = &drums.material.on_site;
        let luck = self.load_luck(Purpose::Batch, &load, 0);
        if luck.uniform(lane::WRONG_MIX) < on_site.wrong_mix {
            return OnSite::Refused(Reject::WrongMix);
        }
        let target = self.site_slump(drums, &load);
        let slump_in = drum.concrete.slump_in(&drum.mix);
        let tested = luck.uniform(lane::TESTED) < on_site.tested;
        let (first, second) = match drum.retempered {
            false => (
                luck.uniform(lane::FIRST_TEST),
                luck.uniform(lane::SECOND_TEST),
            ),
            true => {
                let again = self.load_luck(Purpose::RackStay, &load, AFTER_RETEMPER);
                (again.uniform(FIRST_AGAIN), again.uniform(SECOND_AGAIN))
            }
        };
        let mut found_in = slump_in;
        let verdict = if tested {
            found_in = slump_test_in(slump_in, first);
            if target.judge(found_in) != SlumpVerdict::Taken {
                found_in = slump_test_in(slump_in, second);
            }
            target.judge(found_in)
        } else if slump_in > target.most_in() + on_site.by_eye_in {
            SlumpVerdict::TooWet
        } else if slump_in < target.least_in() - on_site.by_eye_in {
            SlumpVerdict::TooStiff
        } else {
            SlumpVerdict::Taken
        };
        let step = MaterialStep::Tested {
            found_in: found_in as f32,
            slump_in: slump_in as f32,
        };
        self.tell_step(truck, step, observer);
        if let Some(why) = self.past_its_age(truck, drums, verdict == SlumpVerdict::Taken) {
            return OnSite::Refused(why);
        }
        if tested && drum.mix.air.judge(drum.concrete.air_now()) != AirVerdict::Taken {
            return OnSite::Refused(Reject::Air);
        }
        match verdict {
            SlumpVerdict::Taken => OnSite::Taken,
            SlumpVerdict::TooWet => {
                let by = drum.wet_by(found_in);
                self.tell_step(truck, MaterialStep::WetOnSite { by }, observer);
                OnSite::Refused(Reject::TooWet)
            }
            SlumpVerdict::TooStiff => self.retemper(truck, drums, found_in, observer),
        }
    }

    /// Whether the discharge would end, or the load has come, beyond its age or revolutions.
    fn past_its_age(&self, truck: TruckId, drums: &DrumPlan, placeable: bool) -> Option<Reject> {
        let state = &self.day.trucks[truck.at()];
        let load = state.load();
        let drum = &self.day.drums[truck.at()];
        let material = &drums.material;
        let mut limit = material.age.limit(&Conditions {
            air_f: self.air_f(drums),
            concrete_f: self.concrete_f(drums),
            retarder: drum.mix.retarder,
            agitating: true,
        });
        limit.waived = self.waives_age(load);
        let all = material.age_limit.unwrap_or(limit.age);
        let order = &self.plan.orders[load.order.at()].age;
        (limit.age, limit.until) = order.of(all, limit.until);
        limit.revolutions = material.revolution_limit.or(limit.revolutions);
        let over = match limit.until {
            Until::Discharged => {
                let discharge = self.plan.spots[load.spot.at()].discharge.mean(load.volume);
                self.day.now + discharge
            }
            Until::Delivered => state.since,
        };
        match limit.judge(over - load.batched, drum.concrete.revolutions, placeable) {
            AgeVerdict::Within | AgeVerdict::Waived => None,
            AgeVerdict::TooOld => Some(Reject::TooOld),
            AgeVerdict::TooManyRevolutions => Some(Reject::TooManyRevolutions),
        }
    }

    /// Too stiff: water once, with authority, as far as the ticket's w/c and the slump found allow.
    fn retemper<O: Observer>(
        &mut self,
        truck: TruckId,
        drums: &DrumPlan,
        found_in: f64,
        observer: &mut O,
    ) -> OnSite {
        let stiff = OnSite::Refused(Reject::TooStiff);
        let target = self.site_slump(drums, self.day.trucks[truck.at()].load());
        let now = self.day.now;
        let drum = &mut self.day.drums[truck.at()];
        if drum.retempered || !drums.material.on_site.retemper {
            return stiff;
        }
        let water = |to_in| {
            drum.concrete
                .water_for_reading_gal(&drum.mix, found_in, to_in)
        };
        let gal = water(target.target_in).min(drum.ticket_leaves_gal());
        let enough = gal >= LEAST_GAL_YD3 * drum.concrete.volume_yd3(&drum.mix);
        if !enough || gal < water(target.least_in()) {
            return stiff;
        }
        drum.add_water(gal);
        drum.retempered = true;
        drum.mixing_until = now + time_for(AFTER_WATER_REVOLUTIONS, MIXING_RPM);
        let until = drum.mixing_until;
        self.tell_step(
            truck,
            MaterialStep::Retempered { gal: gal as f32 },
            observer,
        );
        OnSite::Turning(until)
    }
}
