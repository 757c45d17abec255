//! Concrete in the drum: what it is made of, how it slumps and bears, how long it may wait, what it weighs. Pure functions
//! and small `Copy` types; luck comes in as uniforms in (0, 1).
//!
//! A [`Mix`] is written down, a [`Load`] lives in a drum: batched with the aggregates' real moisture, read by a
//! [`SlumpMeter`], watered, dried up ([`DryUp`]), judged by [`AgeLimit`] and tolerances, placed or dumped. Its
//! [`MassLedger`] balances.

mod age;
mod air;
mod drum;
mod dry_up;
mod hrwr;
mod known_age;
mod ledger;
mod load;
mod materials;
mod meter;
mod mix;
mod noise;
mod rack;
mod reuse;
mod sensitivity;
mod slump;
mod strength;
mod temperature;
mod weight;
mod wet;

pub use age::{AgeLimit, AgeTable, AgeVerdict, Conditions, Until};
pub use air::{AirTarget, AirVerdict};
pub use drum::{
    AFTER_WATER_REVOLUTIONS, Drum, MIXING_REVOLUTIONS, MIXING_RPM, minutes_for, time_for,
};
pub use dry_up::{DryUp, DryUpWith};
pub use hrwr::HrwrKind;
pub use known_age::{Coming, KnownAge, OrderAge};
pub use ledger::MassLedger;
pub use load::Load;
pub use materials::{FT3_PER_YD3, Gravities, Masses, WATER_LB_PER_FT3, WATER_LB_PER_GAL};
pub use meter::{SlumpMeter, slump_test_in};
pub use mix::{Mix, MixError, Moisture, VOLUME_SLACK_FT3};
pub use rack::{RackOutcome, RackPractice};
pub use reuse::{ReturnedFate, Reuse};
pub use sensitivity::Sensitivity;
pub use slump::{
    AGITATING_LOSS_GAL_MIN, Consistency, HRWR_AS_WATER, MIXING_LOSS_GAL_MIN, REFERENCE_F,
    SlumpTarget, SlumpVerdict, WATER_GAL_PER_F, loss_gal_min, water_between_gal_yd3,
};
pub use strength::{ACI_AIR_ENTRAINED, ACI_PLAIN, Abrams, StrengthLaw};
pub use temperature::{
    AirTemperature, CONCRETE_PER_AIR, ConcreteTemperature, HotWeather, MOST_AT_DISCHARGE_F,
    day_warmer_f, hot_weather,
};
pub use weight::{
    AXLE_LB, Axle, AxleLayout, AxleLayoutError, CONCRETE_LB_PER_YD3, EmptyWeight, GROSS_LB,
    LegalLoad, TANDEM_LB, WeightLimit, bridge_formula_lb, bridge_limit_lb, volume_of_lb,
};
pub use wet::{BeyondTicket, WetBy};
