//! The check at the rack: how long the drum turns before the reading, what is read, who adds water, and what is done with a
//! load that is too wet.
//!
//! Nothing that others do meanwhile changes it, so it is gone through when the truck takes its place, and told when it
//! leaves.
//!
//! A driver who watered looks again when leaving the rack: by then HRWR is mixed in, and the reading is what the batcher
//! reckons a dry-up by, right or wrong.

use super::super::event::Observer;
use super::super::material::MaterialStep;
use super::super::plan::DrumPlan;
use super::super::state::{InDrum, READABLE_IN, Seen, Verdict};
use super::super::world::World;
use crate::concrete::{
    AFTER_WATER_REVOLUTIONS, Drum, DryUp, MIXING_REVOLUTIONS, MIXING_RPM, WATER_LB_PER_GAL,
    loss_gal_min, minutes_for, water_between_gal_yd3,
};
use crate::dispatch::{Warning, WaterBy};
use crate::engine::Block;
use crate::scenario::{Material, Tickets};
use crate::units::{Millis, Purpose, TruckId};

/// Lanes of the block of a stay at the rack.
mod lane {
    pub(super) const READING: usize = 0;
    pub(super) const HEEDED: usize = 1;
    pub(super) const LOOKS_AGAIN: usize = 2;
    pub(super) const SECOND_READING: usize = 3;
    pub(super) const DRY_UP: usize = 4;
}

/// Dry-ups that one load gets; the second only where the drum still has room.
const MOST_DRY_UPS: u32 = 2;

/// What a check goes by.
struct Practice<'a> {
    material: &'a Material,
    mixer: Drum,
    /// Minutes at mixing speed before the reading.
    wait_min: f64,
    /// Minutes of check and rinse.
    rinse_min: f64,
    water_by: WaterBy,
    most_gal: f64,
    concrete_f: f64,
    luck: Block,
}

impl World<'_> {
    /// Goes through the check of a truck that has taken its place at the rack. Returns how long it stays: at least the check
    /// and rinse.
    #[inline]
    pub(in super::super) fn check_drum(&mut self, truck: TruckId, rinse: Millis) -> Millis {
        match self.drum_plan() {
            None => rinse,
            Some(drums) => self.turn_at_rack(truck, drums, rinse),
        }
    }

    fn turn_at_rack(&mut self, truck: TruckId, drums: &DrumPlan, rinse: Millis) -> Millis {
        let practice = self.practice(truck, drums, rinse);
        let now = self.day.now;
        let drum = &mut self.day.drums[truck.at()];
        drum.turn_to(now, practice.concrete_f);
        let took = Millis::from_minutes(drum.check(&practice));
        drum.turned = now + took;
        drum.mixing_until = drum.turned;
        took.max(rinse)
    }

    fn practice<'a>(&self, truck: TruckId, drums: &'a DrumPlan, rinse: Millis) -> Practice<'a> {
        let load = *self.day.trucks[truck.at()].load();
        let yard = self.day.policy.yard;
        let drum = &self.day.drums[truck.at()];
        let luck = self.load_luck(Purpose::RackStay, &load, drum.dry_ups);
        let material = &drums.material;
        let has_hrwr = drum.concrete.in_drum().hrwr_lb > 0.0;
        let care = drums.care[self.driver_of(truck).at()];
        let heeds = care * heeded(&material.tickets, yard.warning);
        let mut wait_min = yard.reading().minutes(MIXING_RPM);
        if has_hrwr && luck.uniform(lane::HEEDED) < heeds {
            wait_min = wait_min.max(material.meter.wait_min());
        }
        if drum.dry_ups > 0 {
            wait_min = wait_min.max(minutes_for(MIXING_REVOLUTIONS, MIXING_RPM));
        }
        Practice {
            material,
            mixer: self.mixer(truck),
            wait_min,
            rinse_min: rinse.minutes(),
            water_by: yard.water_by,
            most_gal: yard.most_gal_yd3 * load.volume.yd3(),
            concrete_f: self.concrete_f(drums),
            luck,
        }
    }

    /// Tells what was seen and done at the rack, and says what it comes to.
    pub(in super::super) fn leave_check<O: Observer>(
        &mut self,
        truck: TruckId,
        observer: &mut O,
    ) -> Option<Verdict> {
        let drums = self.drum_plan()?;
        let (now, concrete_f) = (self.day.now, self.concrete_f(drums));
        let drum = &mut self.day.drums[truck.at()];
        drum.turn_to(now, concrete_f);
        let drum = *drum;
        let seen = drum.seen;
        let mut tell = |step| self.tell_step(truck, step, observer);
        if seen.watered_gal > 0.0 {
            tell(MaterialStep::Watered {
                gal: seen.watered_gal as f32,
            });
        }
        tell(MaterialStep::Read {
            reading_in: seen.reading_in as f32,
            slump_in: drum.concrete.slump_in(&drum.mix) as f32,
        });
        if let Some(by) = seen.wet {
            tell(MaterialStep::FoundWet { by });
        }
        if seen.waited_min > 0.0 {
            tell(MaterialStep::Waited {
                minutes: seen.waited_min as f32,
            });
        }
        Some(drum.verdict)
    }

    /// The luck of a dry-up's minutes in the bay, where drums are reckoned.
    pub(in super::super) fn dry_up_luck(&self, truck: TruckId) -> Option<f64> {
        self.drum_plan()?;
        let dry_ups = self.day.drums[truck.at()].dry_ups;
        let luck = self.load_luck(
            Purpose::RackStay,
            self.day.trucks[truck.at()].load(),
            dry_ups,
        );
        Some(luck.uniform(lane::DRY_UP))
    }
}

/// Share of tickets on which HRWR is heeded.
fn heeded(tickets: &Tickets, warning: Warning) -> f64 {
    let of_those_read = match warning {
        Warning::Never => tickets.knows,
        Warning::OnAdmixture => tickets.warned,
        Warning::OnEverything => tickets.worn,
    };
    tickets.read * of_those_read
}

impl InDrum {
    /// The check; returns the minutes that it takes.
    fn check(&mut self, practice: &Practice<'_>) -> f64 {
        let (aim_in, tolerance_in) = (self.mix.slump.target_in, self.mix.slump.tolerance_in);
        let luck = &practice.luck;
        let mut took = practice.wait_min;
        self.concrete.turn(took, MIXING_RPM, practice.concrete_f);
        let mut seen = Seen {
            reading_in: self.read(practice, luck.uniform(lane::READING)),
            ..Seen::default()
        };
        let mut looked = true;
        // Nobody opens the valve for less than half the tolerance.
        if seen.reading_in < aim_in - tolerance_in / 2.0 {
            seen.watered_gal = self.water_given_gal(practice, seen.reading_in);
        }
        if seen.watered_gal > 0.0 {
            let meter = &practice.material.meter;
            let unseen_gal = self.concrete.unseen_hrwr_gal(&self.mix, meter);
            self.for_unseen_hrwr_lb += seen.watered_gal.min(unseen_gal) * WATER_LB_PER_GAL;
            self.add_water(seen.watered_gal);
            took += self
                .concrete
                .mix(AFTER_WATER_REVOLUTIONS, practice.concrete_f);
            // The drum goes on mixing while the truck is rinsed; a second look comes at the end.
            let rest_min = (practice.rinse_min - took).max(0.0);
            self.concrete
                .turn(rest_min, MIXING_RPM, practice.concrete_f);
            took += rest_min;
            looked = luck.uniform(lane::LOOKS_AGAIN) < practice.material.corrections.looks_again;
            if looked {
                seen.reading_in = self.read(practice, luck.uniform(lane::SECOND_READING));
            }
        }
        let wet = looked && seen.reading_in > aim_in + tolerance_in;
        seen.wet = wet.then(|| self.wet_by(seen.reading_in));
        self.verdict = Verdict::Fine;
        if seen.wet.is_some() {
            let read_in = seen.reading_in.min(READABLE_IN);
            let over_gal = water_between_gal_yd3(aim_in + tolerance_in, read_in);
            let wait_min = over_gal / loss_gal_min(MIXING_RPM, practice.concrete_f);
            let a_little = wait_min <= practice.material.corrections.wait_min;
            if a_little && seen.watered_gal == 0.0 {
                self.concrete
                    .turn(wait_min, MIXING_RPM, practice.concrete_f);
                seen.waited_min = wait_min;
                took += wait_min;
            } else {
                self.verdict = self.correct(practice, read_in);
            }
        }
        self.seen = seen;
        took
    }

    fn read(&self, practice: &Practice<'_>, u: f64) -> f64 {
        self.concrete
            .reading_in(&self.mix, &practice.material.meter, u)
    }

    /// Water that goes in on this reading, gal.
    fn water_given_gal(&self, practice: &Practice<'_>, reading_in: f64) -> f64 {
        let aim_in = self.mix.slump.target_in;
        let wanted = self
            .concrete
            .water_for_reading_gal(&self.mix, reading_in, aim_in)
            .min(practice.most_gal);
        match practice.water_by {
            WaterBy::Driver => wanted,
            WaterBy::Batcher => wanted.min(self.ticket_leaves_gal()),
            WaterBy::Nobody => 0.0,
        }
    }

    /// What is done with a load that reads too wet. The batcher knows only the reading that the driver reports, and reckons
    /// the dry-up for a load that would be so.
    fn correct(&self, practice: &Practice<'_>, reading_in: f64) -> Verdict {
        let corrections = &practice.material.corrections;
        if self.dry_ups >= MOST_DRY_UPS {
            return Verdict::MakeAgain;
        }
        let mut reported = self.concrete;
        let now_in = reported.slump_in(&self.mix);
        let off_gal_yd3 = water_between_gal_yd3(now_in, reading_in);
        reported.add_water(&self.mix, off_gal_yd3 * reported.volume_yd3(&self.mix));
        let needed = DryUp::needed(&reported, &self.mix, &practice.mixer, corrections.with);
        let room = if self.dry_ups > 0 {
            needed.fits()
        } else {
            needed.dump <= corrections.dump
        };
        if room && needed.masses.total_lb() > 0.0 {
            Verdict::DryUp(needed)
        } else {
            Verdict::MakeAgain
        }
    }
}
