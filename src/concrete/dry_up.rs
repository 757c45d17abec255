//! A dry-up: cement and fine aggregate for a load that is too wet, and whether the drum has room for them.

use super::drum::Drum;
use super::load::Load;
use super::materials::{FT3_PER_YD3, Masses, WATER_LB_PER_FT3};
use super::mix::Mix;
use super::slump::Consistency;
use crate::units::Volume;

/// What a dry-up may be made with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DryUpWith {
    /// Cement brings the w/c back, fine aggregate the slump: at the plant.
    CementAndFine,
    /// Cement alone brings the w/c back; the slump comes back only in part. Drying with a few bags is slow and mostly fails
    /// (Concrete Construction, "Adjusting slump in the field").
    CementOnly,
}

/// What a wet load needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryUp {
    /// To be dumped first, so that the rest has room; zero where all has.
    pub dump: Volume,
    /// Cement and fine aggregate for what is kept.
    pub masses: Masses,
    /// Air that added water had brought and that is left afterwards, per cent: none where fine aggregate takes the slump back.
    pub air_brought: f64,
    /// What they take up, with the load's air in it, yd³.
    pub added_yd3: f64,
    /// The load afterwards, yd³.
    pub after_yd3: f64,
}

impl DryUp {
    /// What brings this load back to the mix's w/c and target slump. A load that is not too wet needs nothing.
    ///
    /// Cement c: (cement + binder + c) × w/c of the mix = water. The volume V of the load has to grow to V′ so that the
    /// water and the HRWR, spread over V′, give the target: 1/V′ = 1/V + (target − now) ÷ all the water-like gallons in the
    /// drum. Fine aggregate fills what cement does not. Both grow with the load, so a part is dumped where the drum cannot
    /// hold V′.
    pub fn needed(load: &Load, mix: &Mix, drum: &Drum, with: DryUpWith) -> Self {
        let masses = load.in_drum();
        let now_yd3 = load.volume_yd3(mix);
        if now_yd3 <= 0.0 {
            return Self {
                dump: Volume::ZERO,
                masses: Masses::default(),
                air_brought: 0.0,
                added_yd3: 0.0,
                after_yd3: 0.0,
            };
        }
        let cement_lb = (masses.water_lb / mix.wc() - masses.cement_lb - masses.binder_lb).max(0.0);
        let air_brought = match with {
            DryUpWith::CementOnly => load.air_brought,
            DryUpWith::CementAndFine => 0.0,
        };
        let air = load.air + air_brought;
        let (volume, whole) = (mix.yield_yd3(masses, air), 1.0 - air / 100.0);
        let cement_ft3 = cement_lb / (mix.gravities.cement * WATER_LB_PER_FT3);
        let fine_ft3 = match with {
            DryUpWith::CementOnly => 0.0,
            DryUpWith::CementAndFine => {
                let grows = growth_for_slump(load, mix) - 1.0;
                (volume * grows * whole * FT3_PER_YD3 - cement_ft3).max(0.0)
            }
        };
        let added = (cement_ft3 + fine_ft3) / whole / FT3_PER_YD3;
        let most = drum.most_mixed().yd3();
        let kept = (most / (volume + added)).min(1.0);
        // Rounded up: the drum must not be asked for the last thousandth.
        let dump = Volume::thousandths((now_yd3 * (1.0 - kept) * 1000.0 - 1e-6).ceil() as i64);
        let kept = (1.0 - dump.yd3() / now_yd3).max(0.0);
        let wet = Masses {
            cement_lb,
            fine_lb: fine_ft3 * mix.gravities.fine * WATER_LB_PER_FT3,
            ..Masses::default()
        };
        Self {
            dump,
            masses: wet * kept,
            air_brought,
            added_yd3: added * kept,
            after_yd3: (volume + added) * kept,
        }
    }

    /// Whether the drum holds it without dumping.
    pub fn fits(&self) -> bool {
        self.dump == Volume::ZERO
    }
}

/// How many times its volume the load must come to for the target slump: V′ ÷ V.
fn growth_for_slump(load: &Load, mix: &Mix) -> f64 {
    let target = Consistency::from_slump(mix.slump.target_in);
    let surplus = load.consistency(mix).gal_yd3 - target.gal_yd3;
    let gal_yd3 = load.water_like_gal(mix) / load.designed_yd3(mix);
    if surplus <= 0.0 || surplus >= gal_yd3 {
        return 1.0;
    }
    1.0 / (1.0 - surplus / gal_yd3)
}
