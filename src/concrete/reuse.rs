//! Returned concrete under the next load: whether it may stay in the drum, and what becomes of it otherwise.
//!
//! ASTM C1798, "Returned Fresh Concrete for Use in a New Batch of Ready-Mixed Concrete", says what has to be measured and
//! reported, and that it gives no permission by itself: the purchaser does. Blends set faster, all the more when it is warm
//! ("Reusing non-admixtured returned concrete", The Concrete Producer, on tests of the NRMCA). How old and how much is for the
//! purchaser and the plant to say: the usual values here are common practice, no source.

use crate::units::{Millis, Volume};

/// What is reused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reuse {
    /// The oldest that it may be when fresh concrete begins to go on top, from when its own batching began.
    pub age_limit: Millis,
    /// The largest share of the next load that it may be, more than 0, at most 0.9.
    pub share: f64,
}

/// What becomes of returned concrete.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReturnedFate {
    /// It stays in the drum under the next load.
    Reused,
    /// The next load is of another mix.
    OtherMix,
    /// It is older than the plant reuses.
    TooOld,
    /// It is too much for the next load.
    TooMuch,
    /// No load comes after it: the drum is washed out, or the truck stays out.
    NoLoad,
}

impl Reuse {
    /// Half of the 90 minutes that a load usually has, so that the other half is left for the way and the discharge, and half
    /// of the load: common practice, no source.
    pub const USUAL: Self = Self {
        age_limit: Millis(45 * 60_000),
        share: 0.5,
    };

    /// What becomes of so much returned concrete of this age before a load of this size. All of it is reused, or none: what
    /// would be left could not be dumped from below the load.
    pub fn fate(
        &self,
        same_mix: bool,
        age: Millis,
        returned: Volume,
        load: Volume,
    ) -> ReturnedFate {
        if !same_mix {
            ReturnedFate::OtherMix
        } else if age > self.age_limit {
            ReturnedFate::TooOld
        } else if returned >= load || returned > Volume::from_yd3(self.share * load.yd3()) {
            ReturnedFate::TooMuch
        } else {
            ReturnedFate::Reused
        }
    }
}

impl ReturnedFate {
    /// In plain words, as the end of "concrete that came back: …".
    pub fn words(self) -> &'static str {
        match self {
            Self::Reused => "reused",
            Self::OtherMix => "the next load is of another mix",
            Self::TooOld => "too old for the next load",
            Self::TooMuch => "too much for the next load",
            Self::NoLoad => "no load comes after it",
        }
    }
}
