//! One load in the drum: its materials, its consistency, its revolutions.

use super::drum::MIXING_RPM;
use super::dry_up::DryUp;
use super::ledger::MassLedger;
use super::materials::{Masses, WATER_LB_PER_GAL};
use super::meter::SlumpMeter;
use super::mix::Mix;
use super::slump::{Consistency, HRWR_AS_WATER, WATER_GAL_PER_F, loss_gal_min, times_faster};
use crate::units::Volume;

/// A load. Copy it to look ahead; the mix is passed in because many loads share one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Where its materials went.
    pub ledger: MassLedger,
    /// Air as batched, per cent.
    pub air: f64,
    /// Air that added water has brought, per cent. It takes strength and fills volume; the inch for a gallon has it already.
    pub air_brought: f64,
    /// Revolutions of the drum since batching.
    pub revolutions: f64,
    /// Revolutions at 6 rpm or more since the last dose of HRWR.
    pub revolutions_since_hrwr: f64,
    /// Minutes at 6 rpm or more since the last dose of HRWR.
    pub mixing_min_since_hrwr: f64,
    /// Minutes since the last dose of HRWR, as if at 70 °F.
    aged_since_hrwr_min: f64,
    /// What time and warmth have taken of the slump, gal/yd³ of water.
    lost_gal_yd3: f64,
    /// What of it the plant has reckoned with, and put in as water, gal/yd³.
    reckoned_gal_yd3: f64,
}

/// Slower than this a drum agitates and does not mix: mixing speed is 6 to 18 rpm (from memory).
const SLOWEST_MIXING_RPM: f64 = 6.0;

impl Load {
    /// Just batched with these masses ([`Mix::batched`]) and this air content ([`super::AirTarget::drawn`]).
    pub fn batched(masses: Masses, air: f64) -> Self {
        Self {
            ledger: MassLedger {
                batched: masses,
                ..MassLedger::default()
            },
            air,
            air_brought: 0.0,
            revolutions: 0.0,
            revolutions_since_hrwr: 0.0,
            mixing_min_since_hrwr: 0.0,
            aged_since_hrwr_min: 0.0,
            lost_gal_yd3: 0.0,
            reckoned_gal_yd3: 0.0,
        }
    }

    /// This fresh load goes on top of what is left in the drum of an older one of the same mix. Air and lost slump mix by
    /// volume. Revolutions go on from the older one's, which has been turned most. Where HRWR comes in with the fresh part, none
    /// of all the HRWR counts as mixed in.
    pub fn on_top_of(self, under: &Self, mix: &Mix) -> Self {
        let (fresh_yd3, under_yd3) = (self.volume_yd3(mix), under.volume_yd3(mix));
        let all_yd3 = fresh_yd3 + under_yd3;
        let mixed = |fresh: f64, under: f64| {
            if all_yd3 > 0.0 {
                (fresh * fresh_yd3 + under * under_yd3) / all_yd3
            } else {
                fresh
            }
        };
        let dosed = self.in_drum().hrwr_lb > 0.0;
        Self {
            ledger: MassLedger {
                under: under.in_drum(),
                ..self.ledger
            },
            air: mixed(self.air, under.air),
            air_brought: mixed(self.air_brought, under.air_brought),
            revolutions: self.revolutions + under.revolutions,
            revolutions_since_hrwr: if dosed {
                self.revolutions_since_hrwr
            } else {
                under.revolutions_since_hrwr
            },
            mixing_min_since_hrwr: if dosed {
                self.mixing_min_since_hrwr
            } else {
                under.mixing_min_since_hrwr
            },
            aged_since_hrwr_min: mixed(self.aged_since_hrwr_min, under.aged_since_hrwr_min),
            lost_gal_yd3: mixed(self.lost_gal_yd3, under.lost_gal_yd3),
            reckoned_gal_yd3: mixed(self.reckoned_gal_yd3, under.reckoned_gal_yd3),
        }
    }

    /// It came out at another temperature (°F) than the mix was designed at: warmer concrete is stiffer. For the warmth that the
    /// plant has reckoned with, it has put in so many gal/yd³ more ([`Mix::water_for_warmth_gal_yd3`]).
    pub fn warmed(&mut self, designed_f: f64, real_f: f64, reckoned_gal_yd3: f64) {
        self.lost_gal_yd3 += WATER_GAL_PER_F * (real_f - designed_f);
        self.reckoned_gal_yd3 += reckoned_gal_yd3;
    }

    /// Air in it now, per cent.
    pub fn air_now(&self) -> f64 {
        self.air + self.air_brought
    }

    /// Materials in the drum.
    pub fn in_drum(&self) -> Masses {
        self.ledger.in_drum()
    }

    /// Weight of the concrete in the drum, lb.
    pub fn weight_lb(&self) -> f64 {
        self.in_drum().total_lb()
    }

    /// Volume in the drum, air included, yd³.
    pub fn volume_yd3(&self, mix: &Mix) -> f64 {
        mix.yield_yd3(self.in_drum(), self.air_now())
    }

    /// Water ÷ (cement + other binder).
    pub fn wc(&self) -> f64 {
        self.in_drum().wc()
    }

    /// Strength at 28 days where it is mixed and cured so many °F warmer than the mix was designed at, psi.
    pub fn psi(&self, mix: &Mix, warmer_f: f64) -> f64 {
        let more_air = self.air_now() - mix.air.target;
        mix.psi_of(self.in_drum()) * mix.sensitivity.strength_left(more_air, warmer_f)
    }

    /// What it would be without so many lb of water added since batching, and without the air that water has brought.
    pub fn psi_without(&self, mix: &Mix, added_lb: f64, warmer_f: f64) -> f64 {
        let mut dry = self.in_drum();
        dry.water_lb -= added_lb;
        let more_air = self.air - mix.air.target;
        mix.psi_of(dry) * mix.sensitivity.strength_left(more_air, warmer_f)
    }

    /// Volume with the air that the mix was designed with, yd³: what the slump is reckoned by, as the design's was.
    pub(super) fn designed_yd3(&self, mix: &Mix) -> f64 {
        mix.yield_yd3(self.in_drum(), mix.air.target)
    }

    /// Water per yd³ beyond the mix's, gal (negative: less). A mix that misses its yd³ by rounding is held to what it
    /// fills.
    fn extra_water_gal_yd3(&self, mix: &Mix) -> f64 {
        let designed = mix.per_yd3.water_lb / mix.yield_yd3(mix.per_yd3, mix.air.target);
        (self.in_drum().water_lb / self.designed_yd3(mix) - designed) / WATER_LB_PER_GAL
    }

    /// HRWR in the drum that still acts, gal/yd³.
    fn hrwr_gal_yd3(&self, mix: &Mix) -> f64 {
        self.acting_hrwr_gal(mix) / self.designed_yd3(mix)
    }

    /// HRWR in the drum that still acts, gal.
    fn acting_hrwr_gal(&self, mix: &Mix) -> f64 {
        mix.hrwr_gal(self.in_drum().hrwr_lb) * mix.hrwr_kind.left(self.aged_since_hrwr_min)
    }

    /// What air beyond the design's acts like, gal of water per yd³; below zero: less.
    fn air_as_water_gal_yd3(&self, mix: &Mix) -> f64 {
        if !mix.air_entrained() {
            return 0.0;
        }
        mix.sensitivity.air_as_water_gal(self.air - mix.air.target)
    }

    /// The same, gal in all.
    pub fn air_as_water_gal(&self, mix: &Mix) -> f64 {
        self.air_as_water_gal_yd3(mix) * self.designed_yd3(mix)
    }

    /// Consistency without what HRWR does.
    pub fn without_hrwr(&self, mix: &Mix) -> Consistency {
        let air = self.air_as_water_gal_yd3(mix);
        mix.without_hrwr()
            .with_water(self.extra_water_gal_yd3(mix) + air - self.lost_gal_yd3)
    }

    /// Consistency once all HRWR is mixed in.
    pub fn consistency(&self, mix: &Mix) -> Consistency {
        self.without_hrwr(mix).with_hrwr(self.hrwr_gal_yd3(mix))
    }

    /// Slump once all HRWR is mixed in, in.
    pub fn slump_in(&self, mix: &Mix) -> f64 {
        self.consistency(mix).slump_in()
    }

    /// Water in the drum and what its HRWR counts as, gal.
    pub(super) fn water_like_gal(&self, mix: &Mix) -> f64 {
        let masses = self.in_drum();
        masses.water_lb / WATER_LB_PER_GAL + HRWR_AS_WATER * self.acting_hrwr_gal(mix)
    }

    /// What the meter shows now, in, with luck `u` in (0, 1).
    pub fn reading_in(&self, mix: &Mix, meter: &SlumpMeter, u: f64) -> f64 {
        let mixed_in = meter.mixed_in(self.revolutions_since_hrwr, self.mixing_min_since_hrwr);
        let hrwr = self.hrwr_gal_yd3(mix);
        meter.reading_in(self.without_hrwr(mix), hrwr, mixed_in, u)
    }

    /// HRWR that the meter does not see yet, as the water that it acts like, gal in all.
    pub fn unseen_hrwr_gal(&self, mix: &Mix, meter: &SlumpMeter) -> f64 {
        let mixed_in = meter.mixed_in(self.revolutions_since_hrwr, self.mixing_min_since_hrwr);
        HRWR_AS_WATER * self.acting_hrwr_gal(mix) * (1.0 - mixed_in)
    }

    /// What time and warmth have taken of the slump beyond what the plant has reckoned with, as water, gal in all; below zero:
    /// cool concrete has more than reckoned.
    pub fn lost_gal(&self, mix: &Mix) -> f64 {
        (self.lost_gal_yd3 - self.reckoned_gal_yd3) * self.designed_yd3(mix)
    }

    /// The drum turns for so many minutes at this speed, the concrete at this temperature.
    pub fn turn(&mut self, minutes: f64, rpm: f64, concrete_f: f64) {
        let revolutions = minutes * rpm;
        self.revolutions += revolutions;
        if rpm >= SLOWEST_MIXING_RPM {
            self.revolutions_since_hrwr += revolutions;
            self.mixing_min_since_hrwr += minutes;
        }
        self.aged_since_hrwr_min += minutes * times_faster(concrete_f);
        self.lost_gal_yd3 += minutes * loss_gal_min(rpm, concrete_f);
    }

    /// The drum turns so many revolutions at [`MIXING_RPM`]; returns the minutes that it takes.
    pub fn mix(&mut self, revolutions: f64, concrete_f: f64) -> f64 {
        let minutes = super::drum::minutes_for(revolutions, MIXING_RPM);
        self.turn(minutes, MIXING_RPM, concrete_f);
        minutes
    }

    /// Water goes in, and brings air where that is entrained.
    pub fn add_water(&mut self, mix: &Mix, gal: f64) {
        if mix.air_entrained() {
            let gal_yd3 = gal / self.designed_yd3(mix);
            let before = self.consistency(mix);
            self.air_brought += mix.sensitivity.air_of_water(before, gal_yd3);
        }
        self.ledger.added += Masses::water(gal * WATER_LB_PER_GAL);
    }

    /// A dose of HRWR goes in; it is not mixed in yet.
    pub fn add_hrwr(&mut self, lb: f64) {
        self.ledger.added += Masses {
            hrwr_lb: lb,
            ..Masses::default()
        };
        self.revolutions_since_hrwr = 0.0;
        self.mixing_min_since_hrwr = 0.0;
        self.aged_since_hrwr_min = 0.0;
    }

    /// A dry-up is carried out: part dumped if need be, then cement and fine aggregate.
    pub fn dry_up(&mut self, mix: &Mix, needed: &DryUp) {
        self.dump(mix, needed.dump);
        self.ledger.dry_up += needed.masses;
        self.air_brought = needed.air_brought;
    }

    /// So much is placed; more than is left counts as what is left. Returns its masses.
    pub fn place(&mut self, mix: &Mix, volume: Volume) -> Masses {
        let part = self.part(mix, volume);
        self.ledger.placed += part;
        part
    }

    /// So much is dumped; more than is left counts as what is left. Returns its masses.
    pub fn dump(&mut self, mix: &Mix, volume: Volume) -> Masses {
        let part = self.part(mix, volume);
        self.ledger.dumped += part;
        part
    }

    /// All that is left is placed.
    pub fn place_rest(&mut self) -> Masses {
        let rest = self.in_drum();
        self.ledger.placed += rest;
        rest
    }

    /// All that is left is dumped.
    pub fn dump_rest(&mut self) -> Masses {
        let rest = self.in_drum();
        self.ledger.dumped += rest;
        rest
    }

    fn part(&self, mix: &Mix, volume: Volume) -> Masses {
        let all = self.volume_yd3(mix);
        if all <= 0.0 {
            return Masses::default();
        }
        self.in_drum() * (volume.yd3() / all).min(1.0)
    }

    /// Water that somebody adds who reads one slump and wants another, gal in all; 0 where the reading is not below.
    pub fn water_for_reading_gal(&self, mix: &Mix, reading_in: f64, wanted_in: f64) -> f64 {
        self.water_for_gal(
            mix,
            super::slump::water_between_gal_yd3(reading_in, wanted_in),
        )
    }

    /// g gallons grow the volume V by k·g: (W + g)/(V + k·g) − W/V = rise, W all that acts like water.
    fn water_for_gal(&self, mix: &Mix, rise_gal_yd3: f64) -> f64 {
        if rise_gal_yd3 <= 0.0 {
            return 0.0;
        }
        let volume = self.designed_yd3(mix);
        let grows = mix.yield_yd3(Masses::water(WATER_LB_PER_GAL), mix.air.target);
        let after = self.water_like_gal(mix) / volume + rise_gal_yd3;
        rise_gal_yd3 * volume / (1.0 - grows * after).max(f64::MIN_POSITIVE)
    }
}
