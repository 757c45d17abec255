//! The drum: how much it holds, and how long so many revolutions take.

use crate::units::{Millis, Volume};

/// Rated mixing capacity as the largest share of the gross drum: NRMCA, "Delivery of ready mixed concrete".
const MIXING_SHARE: f64 = 0.63;
/// Revolutions at mixing speed that mix a load: 70 to 100, or about 5 min (NRMCA, "How is it produced").
pub const MIXING_REVOLUTIONS: f64 = 70.0;
/// Revolutions at mixing speed after water was added: ASTM C94, as quoted in the trade press.
pub const AFTER_WATER_REVOLUTIONS: f64 = 30.0;
/// Mixing speed, rpm: 12 to 15 in the yard (NRMCA, "How is it produced"); mixers may have 6 to 18 (from memory).
pub const MIXING_RPM: f64 = 12.0;

/// Minutes that so many revolutions take at a drum speed above 0 rpm.
pub fn minutes_for(revolutions: f64, rpm: f64) -> f64 {
    revolutions / rpm
}

/// [`minutes_for`] as simulated time.
pub fn time_for(revolutions: f64, rpm: f64) -> Millis {
    Millis::from_minutes(minutes_for(revolutions, rpm))
}

/// A mixer's drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drum {
    /// Rated capacity as a mixer.
    pub rated: Volume,
    /// Gross volume of the drum, yd³.
    pub gross_yd3: f64,
}

impl Drum {
    /// A drum whose gross volume is just what its rating asks for.
    pub fn rated(rated: Volume) -> Self {
        Self {
            rated,
            gross_yd3: rated.yd3() / MIXING_SHARE,
        }
    }

    /// The most that may be mixed in it, corrections included: rated capacity, and never more than the mixing share of the
    /// gross drum.
    pub fn most_mixed(&self) -> Volume {
        let physical =
            Volume::thousandths((self.gross_yd3 * MIXING_SHARE * 1000.0 + 1e-6).floor() as i64);
        self.rated.min(physical)
    }
}
