//! How long a stage takes: a fixed part, a part by volume, and luck; and how long what somebody waits for.

use crate::engine::{MeanBeyond, Sampler, Spread};
use crate::scenario::Stage;
use crate::units::{Millis, Volume};

/// A stage's length: (fixed + per yd³ × volume) × luck, in minutes.
#[derive(Clone, Debug)]
pub(in crate::plant) struct Length {
    fixed_min: f64,
    per_yd3_min: f64,
    luck: Sampler,
    mean_luck: f64,
    constant: Option<Millis>,
}

impl Length {
    pub(super) fn new(fixed_min: f64, per_yd3_min: f64, luck: &Spread) -> Self {
        let constant = match luck {
            Spread::Constant(value) if per_yd3_min == 0.0 => {
                Some(Millis::from_minutes(fixed_min * value))
            }
            _ => None,
        };
        Self {
            fixed_min,
            per_yd3_min,
            luck: luck.sampler(),
            mean_luck: luck.mean(),
            constant,
        }
    }

    pub(super) fn minutes(spread: &Spread) -> Self {
        Self::new(1.0, 0.0, spread)
    }

    pub(super) fn of_stage(stage: &Stage) -> Self {
        match stage {
            Stage::Minutes(spread) => Self::minutes(spread),
            Stage::PerYard {
                fixed_min,
                min_per_yd3,
                luck,
            } => Self::new(*fixed_min, *min_per_yd3, luck),
        }
    }

    /// The length for a volume, of which it is known that it exceeds `elapsed`, with the luck at `u` of what is longer.
    pub(in crate::plant) fn beyond(&self, volume: Volume, elapsed: Millis, u: f64) -> Millis {
        let base = self.fixed_min + self.per_yd3_min * volume.yd3();
        let length = match self.constant {
            Some(constant) => constant,
            None if base > 0.0 => Millis::from_minutes(
                base * self
                    .luck
                    .beyond(elapsed.max(Millis::ZERO).minutes() / base, u),
            ),
            None => Millis::ZERO,
        };
        length.max(elapsed)
    }

    /// The mean length for a volume.
    pub(in crate::plant) fn mean(&self, volume: Volume) -> Millis {
        match self.constant {
            Some(constant) => constant,
            None => Millis::from_minutes(
                (self.fixed_min + self.per_yd3_min * volume.yd3()) * self.mean_luck,
            ),
        }
    }

    /// The length for a volume, whose luck is drawn only where there is any.
    #[inline]
    pub(in crate::plant) fn drawn(&self, volume: Volume, u: impl FnOnce() -> f64) -> Millis {
        match self.constant {
            Some(constant) => constant,
            None => self.at(volume, u()),
        }
    }

    /// The length for a volume, with the luck at `u` in (0, 1).
    #[inline]
    pub(in crate::plant) fn at(&self, volume: Volume, u: f64) -> Millis {
        match self.constant {
            Some(constant) => constant,
            None => Millis::from_minutes(
                (self.fixed_min + self.per_yd3_min * volume.yd3()) * self.luck.at(u),
            ),
        }
    }
}

/// A length that nobody knows before it is over: the desk hears that it runs, and reckons with how long such a one lasts.
#[derive(Clone, Debug)]
pub(in crate::plant) struct Unknown {
    drawn: Length,
    mean_beyond: MeanBeyond,
}

impl Unknown {
    pub(super) fn minutes(spread: &Spread) -> Self {
        Self {
            drawn: Length::minutes(spread),
            mean_beyond: MeanBeyond::new(spread),
        }
    }

    /// How long it truly lasts, with the luck at `u` in (0, 1).
    pub(in crate::plant) fn at(&self, u: f64) -> Millis {
        self.drawn.at(Volume::ZERO, u)
    }

    /// How long it truly lasts, of which it is known that it exceeds `elapsed`.
    pub(in crate::plant) fn beyond(&self, elapsed: Millis, u: f64) -> Millis {
        self.drawn.beyond(Volume::ZERO, elapsed, u)
    }

    /// How long the desk reckons that it lasts that has lasted for `elapsed` and is not over: the mean of those that do.
    pub(in crate::plant) fn reckoned(&self, elapsed: Millis) -> Millis {
        let elapsed = elapsed.max(Millis::ZERO);
        Millis::from_minutes(self.mean_beyond.after(elapsed.minutes())).max(elapsed)
    }
}
