//! What goes into a drum at the bay: a batch, with the water that is really on its aggregates, or a dry-up.
//!
//! A dry-up makes more concrete than was ordered. The order's yd³ are placed, the surplus is dumped; volumes of the balance are
//! those of the ticket, masses are balanced apart, by component. A mix has its slump at the bay, an inch more than on site
//! unless written, for what the way takes.

use super::super::event::Observer;
use super::super::material::MaterialStep;
use super::super::plan::DrumPlan;
use super::super::state::{InDrum, Verdict};
use super::super::world::World;
use super::lane;
use crate::concrete::{Consistency, Load, Mix, Moisture};
use crate::dispatch::HrwrAt;
use crate::units::{Purpose, TruckId, Volume};

impl<'p> World<'p> {
    /// A load leaves the bay: batched with the water that is really on its aggregates, or dried up.
    pub(in crate::plant) fn fill_drum<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        let Some(drums) = self.drum_plan() else {
            return;
        };
        if self.day.trucks[truck.at()].load().dry_up {
            self.fill_dry_up(truck, drums, observer);
        } else {
            self.batch(truck, drums, observer);
        }
    }

    fn batch<O: Observer>(&mut self, truck: TruckId, drums: &DrumPlan, observer: &mut O) {
        let load = *self.day.trucks[truck.at()].load();
        let fresh = load.fresh();
        let luck = self.load_luck(Purpose::Batch, &load, 0);
        let material = &drums.material;
        let water = &material.moisture;
        let left = if self.day.policy.yard.probe {
            water.probe_share
        } else {
            1.0
        };
        let mut mix = material.mixes[drums.mixes[load.order.at()]].mix;
        let mut hrwr_to_come_lb = 0.0;
        if self.day.policy.yard.hrwr == HrwrAt::OnSite {
            hrwr_to_come_lb = mix.per_yd3.hrwr_lb * fresh.yd3();
            mix = without_hrwr(mix);
        }
        // The plant reckons with the weather as it is written; the day has its own level.
        let temperature = material.temperature;
        let reckoned_f = temperature.at(material.air.at(self.day.now));
        let (set, for_warmth_gal_yd3) = material.set_for_warmth(&mix, reckoned_f);
        let masses = set.batched(
            fresh,
            Moisture::drawn(water.fine, left * water.fine_sd, luck.uniform(lane::FINE)),
            Moisture::drawn(
                water.coarse,
                left * water.coarse_sd,
                luck.uniform(lane::COARSE),
            ),
        );
        let air = mix
            .air
            .drawn(material.on_site.air_sd, luck.uniform(lane::AIR));
        let mut concrete = Load::batched(masses, air);
        concrete.warmed(
            temperature.at_70_f,
            self.concrete_f(drums),
            for_warmth_gal_yd3,
        );
        let ordered = set.per_yd3 * fresh.yd3();
        let drum = InDrum {
            concrete,
            turned: self.day.now,
            hrwr_to_come_lb,
            ticket: (ordered.water_lb, ordered.cement_lb + ordered.binder_lb),
            ..InDrum::empty(mix)
        };
        self.day.drums[truck.at()] = if load.reused > Volume::ZERO {
            let mut under = self.day.drums[truck.at()];
            under.turn_to(self.day.now, self.concrete_f(drums));
            let left = under.concrete.in_drum();
            self.tell_step(truck, MaterialStep::Under(left.into()), observer);
            drum.on_top_of(&under)
        } else {
            drum
        };
        self.tell_step(truck, MaterialStep::Batched(masses.into()), observer);
    }

    fn fill_dry_up<O: Observer>(&mut self, truck: TruckId, drums: &DrumPlan, observer: &mut O) {
        let concrete_f = self.concrete_f(drums);
        let now = self.day.now;
        let drum = &mut self.day.drums[truck.at()];
        let Verdict::DryUp(needed) = drum.verdict else {
            return;
        };
        drum.turn_to(now, concrete_f);
        let dumped = drum.concrete.ledger.dumped;
        drum.dry_up(&needed);
        let dumped = drum.concrete.ledger.dumped - dumped;
        debug_assert!(drum.concrete.ledger.balances(), "masses come from nowhere");
        if dumped.total_lb() > 0.0 {
            let yd3 = needed.dump.yd3() as f32;
            self.tell_step(truck, MaterialStep::PartDumped { yd3 }, observer);
            self.tell_step(truck, MaterialStep::Dumped(dumped.into()), observer);
        }
        let step = MaterialStep::DriedUp {
            cement_lb: needed.masses.cement_lb as f32,
            fine_lb: needed.masses.fine_lb as f32,
        };
        self.tell_step(truck, step, observer);
    }
}

/// The mix as it is before its HRWR goes in.
fn without_hrwr(mut mix: Mix) -> Mix {
    let bare = mix.without_hrwr();
    mix.slump.target_in = bare.slump_in();
    // Concrete that is stiffer than zero slump keeps the reckoning of its water.
    debug_assert!(bare >= Consistency::from_slump(0.0) || mix.slump.target_in == 0.0);
    mix.per_yd3.hrwr_lb = 0.0;
    mix
}
