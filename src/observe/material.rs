//! Figures and words of the concrete in drums, where it is computed.

use super::columns::figure;
use crate::concrete::WetBy;
use crate::plant::{MaterialStep, Reject};
use crate::scenario::Corrections;
use crate::units::measure::{self, Quantity};
use crate::units::{Cents, Volume};

/// What is added up of a replication.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct MaterialSums {
    found_wet: u32,
    /// Found too wet, at the rack or on site, by cause.
    wet_by: [u32; WetBy::ALL.len()],
    watered: u32,
    retempered: u32,
    heavy: u32,
    cement_lb: f64,
    fine_lb: f64,
    parts_dumped_yd3: f64,
    below: u32,
    lost_psi: f64,
    on_site: OnSite,
}

/// Loads turned away on site, by reason.
#[derive(Clone, Copy, Debug, Default)]
struct OnSite {
    wet: u32,
    stiff: u32,
    air: u32,
    old: u32,
    wrong: u32,
}

impl MaterialSums {
    pub(super) fn step(&mut self, step: MaterialStep) {
        match step {
            MaterialStep::FoundWet { by } => {
                self.found_wet += 1;
                self.wet_by[by as usize] += 1;
            }
            MaterialStep::WetOnSite { by } => self.wet_by[by as usize] += 1,
            MaterialStep::Watered { .. } => self.watered += 1,
            MaterialStep::Retempered { .. } => self.retempered += 1,
            MaterialStep::Heavy { .. } => self.heavy += 1,
            MaterialStep::DriedUp { cement_lb, fine_lb } => {
                self.cement_lb += f64::from(cement_lb);
                self.fine_lb += f64::from(fine_lb);
            }
            MaterialStep::PartDumped { yd3 } => self.parts_dumped_yd3 += f64::from(yd3),
            MaterialStep::BelowStrength { lost_psi, .. } => {
                self.below += 1;
                self.lost_psi += f64::from(lost_psi);
            }
            MaterialStep::Under(_)
            | MaterialStep::Batched(_)
            | MaterialStep::Read { .. }
            | MaterialStep::Waited { .. }
            | MaterialStep::HrwrAdded { .. }
            | MaterialStep::Tested { .. }
            | MaterialStep::Dumped(_)
            | MaterialStep::Placed(_) => {}
        }
    }

    /// A load is turned away on site.
    pub(super) fn rejected(&mut self, why: Reject) {
        let on_site = &mut self.on_site;
        *match why {
            Reject::TooWet => &mut on_site.wet,
            Reject::TooStiff => &mut on_site.stiff,
            Reject::Air => &mut on_site.air,
            Reject::TooOld | Reject::TooManyRevolutions => &mut on_site.old,
            Reject::WrongMix => &mut on_site.wrong,
        } += 1;
    }

    /// What the material of the dry-ups cost.
    pub(super) fn cost(&self, corrections: Option<&Corrections>) -> Cents {
        corrections.map_or(Cents(0), |c| c.cost(self.cement_lb, self.fine_lb))
    }

    /// Loads placed below the strength specified.
    pub(super) fn below_strength(&self) -> u32 {
        self.below
    }

    /// Parts of loads dumped beside whole ones.
    pub(super) fn parts_dumped(&self) -> Volume {
        Volume::from_yd3(self.parts_dumped_yd3)
    }

    /// Sets the figures; blank where they need computed concrete and none is.
    pub(super) fn row(&self, corrections: Option<&Corrections>, mut set: impl FnMut(usize, f64)) {
        let known = |value: f64| corrections.map_or(f64::NAN, |_| value);
        let count = |number: u32| known(number.into());
        set(figure::WET_AT_RACK, count(self.found_wet));
        // Sites look at loads whether their concrete is computed or not.
        set(figure::WET_ON_SITE, self.on_site.wet.into());
        set(figure::STIFF, count(self.on_site.stiff));
        set(figure::AIR, count(self.on_site.air));
        set(figure::OLD, self.on_site.old.into());
        set(figure::WRONG_MIX, count(self.on_site.wrong));
        set(figure::WATERED, count(self.watered));
        set(figure::RETEMPERED, count(self.retempered));
        set(figure::CEMENT_LB, known(self.cement_lb));
        set(figure::FINE_LB, known(self.fine_lb));
        set(figure::DRY_UP_COST, known(self.cost(corrections).units()));
        set(figure::PARTS_DUMPED_YD3, known(self.parts_dumped_yd3));
        set(figure::BELOW_STRENGTH, count(self.below));
        let mean_psi = self.lost_psi / f64::from(self.below);
        set(figure::PSI_LOST, known(mean_psi));
        set(figure::HEAVY, count(self.heavy));
        for by in WetBy::ALL {
            set(wet_by(by), count(self.wet_by[by as usize]));
        }
    }
}

/// The figure of a cause.
fn wet_by(by: WetBy) -> usize {
    match by {
        WetBy::UnseenHrwr => figure::WET_BY_HRWR,
        WetBy::AddedWater => figure::WET_BY_WATER,
        WetBy::Moisture => figure::WET_BY_MOISTURE,
        WetBy::CoolOrAir => figure::WET_BY_COOL,
        WetBy::Reading => figure::WET_BY_READING,
    }
}

/// A step in words; none where the log says it otherwise.
pub(super) fn words(step: &MaterialStep) -> Option<String> {
    use Quantity::{Slump, Strength, Volume, Water, Weight};
    let told = |quantity, us: f32, decimals| measure::amount(quantity, us.into(), decimals);
    Some(match *step {
        MaterialStep::Under(_)
        | MaterialStep::Batched(_)
        | MaterialStep::Dumped(_)
        | MaterialStep::Placed(_) => {
            return None;
        }
        MaterialStep::Heavy { over_lb } => {
            format!("is {} over its legal weight", told(Weight, over_lb, 0))
        }
        MaterialStep::Read {
            reading_in,
            slump_in,
        } => format!(
            "reads {}, has {}",
            told(Slump, reading_in, 1),
            told(Slump, slump_in, 1)
        ),
        MaterialStep::FoundWet { by } | MaterialStep::WetOnSite { by } => {
            format!("is too wet, {}", by.words())
        }
        MaterialStep::Waited { minutes } => format!("waited {minutes:.1} min for its slump"),
        MaterialStep::Watered { gal } => format!("took {} of water", told(Water, gal, 1)),
        MaterialStep::DriedUp { cement_lb, fine_lb } => {
            format!(
                "took {} of cement and {} of fine aggregate",
                told(Weight, cement_lb, 0),
                told(Weight, fine_lb, 0)
            )
        }
        MaterialStep::HrwrAdded { lb } => format!("gets {} of HRWR", told(Weight, lb, 1)),
        MaterialStep::Tested { found_in, slump_in } => {
            format!(
                "tested at {}, has {}",
                told(Slump, found_in, 1),
                told(Slump, slump_in, 1)
            )
        }
        MaterialStep::Retempered { gal } => format!("retempered with {}", told(Water, gal, 1)),
        MaterialStep::PartDumped { yd3 } => format!("dumps {} of its load", told(Volume, yd3, 2)),
        MaterialStep::BelowStrength { psi, lost_psi } => {
            format!(
                "placed {}, {} lost to added water",
                told(Strength, psi, 0),
                told(Strength, lost_psi, 0)
            )
        }
    })
}
