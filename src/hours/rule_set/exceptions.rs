//! What a book writes of the short-haul exception and of adverse driving conditions.

use super::as_minutes;
use crate::units::Millis;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// The short-haul exception.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShortHaul {
    /// Straight line from the normal work reporting location, in air (nautical) miles.
    pub radius_air_miles: f64,
    /// Back and released within this of coming on duty.
    #[serde(with = "as_minutes")]
    pub release_within: Millis,
    /// The same for a ready-mixed concrete delivery vehicle.
    #[serde(with = "as_minutes")]
    pub release_within_ready_mix: Millis,
    /// Where it is written.
    pub citation: Cow<'static, str>,
}

/// By how much adverse driving conditions extend the limits.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AdverseExtension {
    /// Added to the driving limit.
    #[serde(with = "as_minutes")]
    pub driving: Millis,
    /// Added to the window.
    #[serde(with = "as_minutes")]
    pub window: Millis,
    /// Where it is written.
    pub citation: Cow<'static, str>,
}
