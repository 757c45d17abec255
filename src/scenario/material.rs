//! The concrete in the drum, computed: what a scenario says of mixes, readings, weather and corrections.
//!
//! Values that no source is named for are common practice.

use crate::concrete::{
    AgeTable, AirTemperature, ConcreteTemperature, DryUpWith, Mix, Sensitivity, SlumpMeter,
    SlumpTarget,
};
use crate::engine::Spread;
use crate::units::{Cents, Millis, Volume};

/// What stands in the block `concrete` beside `mixes`, which switches it on:
///
/// ```text
/// (mixes: [ … ],
///  meter?: (sd_in?: 0.5, revolutions?: 70, minutes?: 5),
///  moisture?: (fine?: 0.05, coarse?: 0.01, fine_sd?: 0.004, coarse_sd?: 0.0015, probe_share?: 0.25),
///  temperature?: Steady(f: 70) | Daily(mean_f: 70, swing_f: 10, warmest_h?: 15),  temperature_sd_f?: 0,
///  concrete_at_70_f?: 70, concrete_per_air_f?: 0.9, water_for_heat?: true,
///  sensitivity?: (strength_per_air?: 0.05, slump_in_per_air?: 0.5, air_per_gal?: 0.75, strength_per_18_f?: 0.1),
///  age?: "default", age_limit_min?: …, revolution_limit?: …, waiver?: false,
///  tickets?: (read?: 0.8, knows?: 0.7, warned?: 0.98, worn?: 0.8),
///  corrections?: (looks_again?: 0.8, wait_min?: 10, dump_yd3?: 1, with?: CementAndFine | CementOnly,
///                 minutes?: Triangular(3, 4, 8), cement_per_lb?: 0.07, fine_per_lb?: 0.01),
///  on_site?: (tested?: 0.3, by_eye_in?: 1.5, air_sd?: 0.7, wrong_mix?: 0.0005, retemper?: true),
///  empty?: Constant(15), reuse?: (age_limit_min?: 45, share?: 0.5))
/// ```
///
/// `age` names a published table; `age_limit_min` takes the place of its minutes, `revolution_limit` of its revolutions.
/// What empty trucks weigh beyond the books stands in `weighing`.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// Mixes, names unique; every mix that an order asks for is among them.
    pub mixes: Vec<NamedMix>,
    /// The slump meter on the trucks.
    pub meter: SlumpMeter,
    /// Free water on the aggregates.
    pub moisture: AggregateWater,
    /// Air temperature over the day.
    pub air: AirTemperature,
    /// Standard deviation of a day's level, °F, 0 to 30.
    pub air_sd_f: f64,
    /// Temperature of the concrete by that of the air: 40 to 100 °F in air of 70 °F.
    pub temperature: ConcreteTemperature,
    /// Whether the plant sets the mixing water by the weather that is written, so that slump holds, within the mix's w/c.
    pub water_for_heat: bool,
    /// Limit on the age.
    pub age: AgeTable,
    /// In place of the table's minutes.
    pub age_limit: Option<Millis>,
    /// In place of the table's revolutions.
    pub revolution_limit: Option<f64>,
    /// Whether the purchaser waives the limit for a load that can be placed without added water.
    pub waiver: bool,
    /// Whether a driver knows that the reading has to wait.
    pub tickets: Tickets,
    /// What is done with a wet load.
    pub corrections: Corrections,
    /// What is looked at on site.
    pub on_site: OnSite,
}

impl Material {
    /// What air and warmth do to its mixes: the same to all.
    pub fn sensitivity(&self) -> Sensitivity {
        let first = self.mixes.first();
        first.map_or(Sensitivity::USUAL, |described| described.mix.sensitivity)
    }

    /// A mix as the plant sets its water for concrete of this temperature, and how many gal/yd³ more that is.
    pub fn set_for_warmth(&self, mix: &Mix, concrete_f: f64) -> (Mix, f64) {
        let gal_yd3 = match self.water_for_heat {
            true => mix.water_for_warmth_gal_yd3(self.temperature.warmer_f(concrete_f)),
            false => 0.0,
        };
        (mix.with_water(gal_yd3), gal_yd3)
    }

    /// The concrete's temperature at the warmest hour of a usual day, °F.
    pub fn warmest_concrete_f(&self) -> f64 {
        self.temperature.at(self.air.warmest_f())
    }
}

/// ```text
/// (name: "standard", cement_lb: 564, binder_lb?: 0, water_lb: 282, fine_lb?: …, coarse_lb: 1800, hrwr_lb?: 0,
///  air?: 2, air_tolerance?: 1.5, slump_in?: 4, slump_tolerance_in?: …, yard_slump_in?: …,
///  specified_psi: 4000, strength?: AciPlain | AciAirEntrained | Abrams(a_psi: 18054, b: 14.36), most_wc?: …,
///  retarder?: false, hrwr_kind?: Extended | Older, binder_counts?: 0.4,
///  gravities?: (cement?: 3.15, binder?: 2.4, fine?: 2.64, coarse?: 2.68, hrwr?: 1.06))
/// ```
/// Masses for one yd³, aggregates saturated and surface-dry. `fine_lb` left out: what fills the 27 ft³. Tolerance of the slump
/// left out: the nominal one of ASTM C94 (from memory). `yard_slump_in` is what the mix has at the bay once HRWR is mixed in;
/// left out: an inch more than on site, for what the way takes. `most_wc` left out: the mix's own.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedMix {
    /// Name, unique among mixes.
    pub name: String,
    /// The mix; its slump is that in the yard.
    pub mix: Mix,
    /// Slump that the site takes.
    pub site_slump: SlumpTarget,
}

/// Free water on the aggregates, shares of their mass, and how far the bay's belief is off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AggregateWater {
    /// Believed of fine aggregate, 0 to 0.2.
    pub fine: f64,
    /// Believed of coarse aggregate, 0 to 0.2.
    pub coarse: f64,
    /// Standard deviation of the error, fine: what is left when the batcher follows the loads before.
    pub fine_sd: f64,
    /// The same of coarse aggregate.
    pub coarse_sd: f64,
    /// What a probe in the bin leaves of both, 0 to 1.
    pub probe_share: f64,
}

/// Shares of loads, 0 to 1. A driver waits for HRWR to be mixed in if the ticket is read and what stands on it is heeded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tickets {
    /// Tickets that are read: the habit of the house. A driver's own `care` multiplies it.
    pub read: f64,
    /// Of those read, heeded without a warning: the driver knows what HRWR on the ticket means.
    pub knows: f64,
    /// Of those read, heeded with a warning on the tickets that need it.
    pub warned: f64,
    /// Of those read, heeded with the warning on every ticket: it wears off.
    pub worn: f64,
}

/// What is done with a load found too wet in the yard.
#[derive(Clone, Debug, PartialEq)]
pub struct Corrections {
    /// Share of watered loads whose slump is read once more before they leave, 0 to 1.
    pub looks_again: f64,
    /// The longest wait, drum turning, for a load that is only a little wet and got no water in the yard; 0 to 60 min.
    pub wait_min: f64,
    /// The most that is dumped to make room for a dry-up; beyond, the load is made again. 0 to 20 yd³.
    pub dump: Volume,
    /// What goes in.
    pub with: DryUpWith,
    /// Minutes in the bay; remixing comes on top, at the rack.
    pub minutes: Spread,
    /// A pound of cement.
    pub cement_per_lb: f64,
    /// A pound of fine aggregate.
    pub fine_per_lb: f64,
}

impl Corrections {
    /// What these materials cost.
    pub fn cost(&self, cement_lb: f64, fine_lb: f64) -> Cents {
        Cents::from_units(cement_lb * self.cement_per_lb + fine_lb * self.fine_per_lb)
    }
}

/// What is looked at on site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnSite {
    /// Share of loads whose slump and air are tested, 0 to 1; a test that fails is made twice.
    pub tested: f64,
    /// The others are turned away where the slump is seen to be this far beyond its tolerance, in.
    pub by_eye_in: f64,
    /// Standard deviation of the air content, per cent.
    pub air_sd: f64,
    /// Share of loads that are of another mix than ordered, 0 to 1.
    pub wrong_mix: f64,
    /// Whether somebody on site has the authority to add water, once and within the mix's w/c and slump.
    pub retemper: bool,
}
