//! Temperature over the day, of the air and of the concrete, and what hot weather asks for.

use super::noise::normal;
use crate::units::Millis;

/// Rise of the concrete for 1 °F of all its materials but the cement, by their specific heats of 0.22 and 1 ("If you get it when
/// it's hot", Concrete Construction): aggregates and water that follow the air take the concrete along. Where they
/// follow less it is less: 2.2 for 5 was measured too (A. Al-Saleh, Int. J. Structural and Civil Engineering Research 5(1), 2016).
pub const CONCRETE_PER_AIR: f64 = 0.9;
/// Warmest concrete at discharge, °F: ACI 301-20 and ACI 305.1-14. Contracts may ask for less.
pub const MOST_AT_DISCHARGE_F: f64 = 95.0;
/// Air temperature over the day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AirTemperature {
    /// The same all day, °F.
    Steady(f64),
    /// A cosine about the day's mean.
    Daily {
        /// Mean of the day, °F.
        mean_f: f64,
        /// Half the difference between the warmest and the coldest hour, °F.
        swing_f: f64,
        /// Hour at which it is warmest, 0 to 24; about 15 (common knowledge).
        warmest_h: f64,
    },
}

impl AirTemperature {
    /// Air temperature at this moment, °F.
    pub fn at(self, moment: Millis) -> f64 {
        match self {
            Self::Steady(f) => f,
            Self::Daily {
                mean_f,
                swing_f,
                warmest_h,
            } => {
                let turn = (moment.hours() - warmest_h) / 24.0;
                mean_f + swing_f * libm::cos(std::f64::consts::TAU * turn)
            }
        }
    }

    /// The warmest of the day, °F.
    pub fn warmest_f(self) -> f64 {
        match self {
            Self::Steady(f) => f,
            Self::Daily {
                mean_f, swing_f, ..
            } => mean_f + swing_f,
        }
    }

    /// So much warmer all day, °F.
    pub fn warmer(self, by_f: f64) -> Self {
        match self {
            Self::Steady(f) => Self::Steady(f + by_f),
            Self::Daily {
                mean_f,
                swing_f,
                warmest_h,
            } => Self::Daily {
                mean_f: mean_f + by_f,
                swing_f,
                warmest_h,
            },
        }
    }
}

/// How much warmer a day is than the mean, °F: normal with this standard deviation, by luck `u` in (0, 1).
pub fn day_warmer_f(sd_f: f64, u: f64) -> f64 {
    sd_f * normal(u)
}

/// How the concrete's temperature follows the air's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConcreteTemperature {
    /// °F when the air has 70 °F: at it mixes have the slump and the strength of their design.
    pub at_70_f: f64,
    /// Rise for each °F of the air, 0 to 1.2.
    pub per_air: f64,
}

impl ConcreteTemperature {
    /// 70 °F in air of 70 °F, following it by [`CONCRETE_PER_AIR`].
    pub const USUAL: Self = Self {
        at_70_f: 70.0,
        per_air: CONCRETE_PER_AIR,
    };

    /// °F in air of this temperature.
    pub fn at(self, air_f: f64) -> f64 {
        self.at_70_f + self.per_air * (air_f - 70.0)
    }

    /// How much warmer concrete of this temperature is than mixes are designed at, °F.
    pub fn warmer_f(self, concrete_f: f64) -> f64 {
        concrete_f - self.at_70_f
    }
}

/// What hot weather asks for at these temperatures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HotWeather {
    /// Nothing.
    Usual,
    /// Warm: time limits are shorter in many contracts, slump is lost faster, water is asked for. From 80 °F of concrete
    /// (common practice, no source).
    Caution,
    /// The concrete is warmer than [`MOST_AT_DISCHARGE_F`]: it is not placed without the engineer's word.
    TooHot,
}

/// What this temperature of the concrete asks for.
pub fn hot_weather(concrete_f: f64) -> HotWeather {
    if concrete_f > MOST_AT_DISCHARGE_F {
        HotWeather::TooHot
    } else if concrete_f >= 80.0 {
        HotWeather::Caution
    } else {
        HotWeather::Usual
    }
}
