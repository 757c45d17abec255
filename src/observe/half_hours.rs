//! A number of trucks or drivers over the week, by weekday and half hour.

use crate::dispatch::HALF_HOURS;
use crate::scenario::Period;
use crate::units::{Millis, Weekday};
use serde::{Deserialize, Serialize};

/// Truck or driver milliseconds by weekday (Monday first) and half hour of the day. What is before or after the period counts in the
/// same half hour of its first or last day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(into = "Vec<u64>", try_from = "Vec<u64>")]
pub struct HalfHours([[u64; HALF_HOURS]; 7]);

impl Default for HalfHours {
    fn default() -> Self {
        Self([[0; HALF_HOURS]; 7])
    }
}

impl From<HalfHours> for Vec<u64> {
    fn from(hours: HalfHours) -> Self {
        hours.0.as_flattened().to_vec()
    }
}

impl TryFrom<Vec<u64>> for HalfHours {
    type Error = &'static str;

    fn try_from(sums: Vec<u64>) -> Result<Self, Self::Error> {
        let mut hours = Self::default();
        if sums.len() != hours.all_mut().len() {
            return Err("the half hours of a week");
        }
        hours.all_mut().copy_from_slice(&sums);
        Ok(hours)
    }
}

impl HalfHours {
    /// Milliseconds in a half hour of the day, 0 to 47.
    pub fn of(&self, weekday: Weekday, half_hour: usize) -> u64 {
        self.0[weekday as usize][half_hour]
    }

    /// Milliseconds in an hour of the day, 0 to 23, all days together.
    pub fn in_hour(&self, hour: usize) -> u64 {
        let hours = self.0.iter().map(|day| day[2 * hour] + day[2 * hour + 1]);
        hours.sum()
    }

    /// All milliseconds.
    pub fn sum(&self) -> u64 {
        self.0.iter().flatten().sum()
    }

    pub(super) fn merge(&mut self, other: &Self) {
        for (sum, more) in self.0.iter_mut().zip(&other.0) {
            super::profile::add(sum, more);
        }
    }

    /// Where a moment has its sum among [`all_mut`](Self::all_mut).
    pub(super) fn position((first_day, days): (Weekday, u32), at: Millis) -> usize {
        let (weekday, half_hour) = Period::half_hour(first_day, days, at);
        weekday as usize * HALF_HOURS + half_hour
    }

    /// The sums in the order of the week.
    pub(super) fn all_mut(&mut self) -> &mut [u64] {
        self.0.as_flattened_mut()
    }
}
