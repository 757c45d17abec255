//! The two kinds of high-range water reducer: how long what they do lasts.

/// A kind of HRWR, by its slump life: the time in which concrete falls from 8 in to the 3 in that it had before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HrwrKind {
    /// 1 to 3 hours ("Flowing concrete produced at the batch plant", trade reprint of 2016): it fades no faster than the
    /// slump of any concrete.
    Extended,
    /// The older kind: 30 to 60 minutes (the same).
    Older,
}

/// Minutes at 70 °F after which the older kind does nothing more: of the 4.46 gal/yd³ from 8 in to 3 in, 45 minutes of
/// agitation take 1.5 from any concrete, and its fading the other 2.96.
const OLDER_FADED_MIN: f64 = 67.8;

impl HrwrKind {
    /// Share of its effect that is left so many minutes at 70 °F after the dose: it falls straight (no source).
    pub fn left(self, minutes: f64) -> f64 {
        match self {
            Self::Extended => 1.0,
            Self::Older => (1.0 - minutes / OLDER_FADED_MIN).max(0.0),
        }
    }
}
