//! The weekly hours, and the time off that starts them again.

use super::{Law, as_minutes};
use crate::hours::wall_clock::WallClock;
use crate::units::Millis;
use serde::{Deserialize, Serialize};

/// Hours on duty within so many carrier days.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cycle {
    /// Today and the days before it, 1 to 14 in all.
    pub days: u8,
    /// No driving beyond this much time on duty.
    #[serde(with = "as_minutes")]
    pub limit: Millis,
    /// Its name and source.
    pub law: Law,
    /// Unbroken time off after which the count starts again.
    pub restart: Restart,
}

impl Cycle {
    /// As people write it: `60/7`.
    pub fn name(&self) -> String {
        format!("{}/{}", self.limit.0 / Millis::HOUR.0, self.days)
    }
}

/// What starts the weekly count again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Restart {
    /// Unbroken time off.
    #[serde(with = "as_minutes")]
    pub length: Millis,
    /// So many whole periods from 01:00 to 05:00 must lie in it.
    pub nights: u8,
    /// At least this long after the last restart began.
    #[serde(with = "as_minutes")]
    pub since_last_began: Millis,
}

impl Restart {
    /// When a rest that began at `from` starts the count again if it lasts; never if the last restart began too recently.
    pub(in crate::hours) fn complete_at(
        &self,
        wall: &WallClock,
        from: Millis,
        last_began: Option<Millis>,
    ) -> Millis {
        if last_began.is_some_and(|last| from < last + self.since_last_began) {
            return Millis::NEVER;
        }
        let by_length = from + self.length;
        if self.nights == 0 {
            return by_length;
        }
        let shown = wall.shows(from);
        let first_night = if shown <= Millis::midnight(shown.day()) + Millis::HOUR {
            shown.day()
        } else {
            shown.day() + 1
        };
        let last_night = first_night + i64::from(self.nights) - 1;
        by_length.max(wall.first_at(Millis::midnight(last_night) + Millis::HOUR * 5))
    }
}
