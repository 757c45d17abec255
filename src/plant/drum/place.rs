//! What leaves a drum: placed, or dumped.

use super::super::event::{Event, Observer};
use super::super::material::MaterialStep;
use super::super::plan::DrumPlan;
use super::super::world::World;
use crate::units::{OrderId, TruckId, Volume};

impl<'p> World<'p> {
    /// The load is discharged: what was ordered is placed. A dry-up makes more than that; the surplus comes back. What is not
    /// needed stays in the drum where it may be reused.
    pub(in crate::plant) fn place_drum<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        let Some(drums) = self.drum_plan() else {
            return;
        };
        self.tell_strength(truck, drums, observer);
        let load = self.day.trucks[truck.at()].load();
        let (volume, spare) = (load.volume - load.spare, load.spare);
        let kept = self.day.trucks[truck.at()].returned.is_some();
        let drum = &mut self.day.drums[truck.at()];
        // What is not needed goes back, and is counted as such; what a dry-up has added beyond the load is dumped.
        let surplus_yd3 = if drum.dry_ups > 0 {
            (drum.concrete.volume_yd3(&drum.mix) - (volume + spare).yd3()).max(0.0)
        } else {
            0.0
        };
        let surplus = surplus_yd3 > 0.0 || spare > Volume::ZERO;
        let all_yd3 = drum.concrete.volume_yd3(&drum.mix);
        let placed = if surplus {
            drum.concrete.place(&drum.mix, volume)
        } else {
            drum.concrete.place_rest()
        };
        let dumped = match kept {
            false => surplus.then(|| drum.concrete.dump_rest()),
            true => (surplus_yd3 > 0.0).then(|| {
                let surplus = Volume::from_yd3(surplus_yd3);
                drum.concrete.dump(&drum.mix, surplus)
            }),
        };
        if kept {
            drum.keeps(drum.concrete.volume_yd3(&drum.mix) / all_yd3);
            debug_assert!(drum.concrete.ledger.balances(), "masses come from nowhere");
        } else {
            self.drum_is_empty(truck);
        }
        self.tell_step(truck, MaterialStep::Placed(placed.into()), observer);
        if let Some(dumped) = dumped {
            let yd3 = surplus_yd3 as f32;
            if surplus_yd3 > 0.0 {
                self.tell_step(truck, MaterialStep::PartDumped { yd3 }, observer);
            }
            self.tell_step(truck, MaterialStep::Dumped(dumped.into()), observer);
        }
    }

    /// Accepted, and a liability: strength below the specified one that the added water, and the air it brought, took away.
    fn tell_strength<O: Observer>(&self, truck: TruckId, drums: &DrumPlan, observer: &mut O) {
        let drum = &self.day.drums[truck.at()];
        let warmer_f = drums.material.temperature.warmer_f(self.concrete_f(drums));
        let psi = drum.concrete.psi(&drum.mix, warmer_f);
        let without = drum
            .concrete
            .psi_without(&drum.mix, drum.added_lb, warmer_f);
        let specified = drum.mix.specified_psi;
        if psi < specified && without >= specified {
            let (psi, lost_psi) = (psi as f32, (without - psi) as f32);
            let step = MaterialStep::BelowStrength { psi, lost_psi };
            self.tell_step(truck, step, observer);
        }
    }

    /// Nobody takes what is in the drum: it is dumped, now or at the plant.
    pub(in crate::plant) fn dump_drum<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        if self.drum_plan().is_none() {
            return;
        }
        let dumped = self.day.drums[truck.at()].concrete.dump_rest();
        self.drum_is_empty(truck);
        self.tell_step(truck, MaterialStep::Dumped(dumped.into()), observer);
    }

    /// Concrete that came back and is not reused is got rid of at the plant.
    pub(in crate::plant) fn dump_returned<O: Observer>(
        &mut self,
        truck: TruckId,
        order: OrderId,
        observer: &mut O,
    ) {
        if self.drum_plan().is_none() {
            return;
        }
        let dumped = self.day.drums[truck.at()].concrete.dump_rest();
        self.drum_is_empty(truck);
        let step = MaterialStep::Dumped(dumped.into());
        self.tell(observer, Event::Material { order, truck, step });
    }

    fn drum_is_empty(&self, truck: TruckId) {
        let ledger = &self.day.drums[truck.at()].concrete.ledger;
        debug_assert!(
            ledger.balances()
                && ledger.in_drum().total_lb().abs() <= 1e-6 * ledger.came_in_lb().max(1.0),
            "came in = placed + dumped: {ledger:?}"
        );
    }
}
