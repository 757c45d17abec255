//! The period, the company's limits and habits, and the yard.

use crate::dispatch::{HALF_HOUR, HALF_HOURS};
use crate::engine::Spread;
use crate::hours::Date;
use crate::units::{Millis, Weekday};

/// `(first_day?: Monday, days?: 1, measure?: (from_h: 0, to_h: 24))`; a date for the first day lets orders tell theirs by date.
#[derive(Clone, Debug, PartialEq)]
pub struct Period {
    /// Weekday of the first day.
    pub first_day: Weekday,
    /// Its date, if it is written.
    pub first_date: Option<Date>,
    /// Days in a replication, 1 to 28.
    pub days: u32,
    /// The span over which queues are averaged and in which loads and waits are counted, hours since midnight before the
    /// first day (0 ≤ from < to ≤ 24 × days). None: averaged over the period, counted over the whole replication, the run
    /// home after the period included. For textbook queues whose start-up is left out.
    pub measure: Option<(Millis, Millis)>,
}

impl Period {
    /// How many of the period's days are of this weekday.
    pub fn how_many(&self, weekday: Weekday) -> u32 {
        let days = (0..i64::from(self.days)).filter(|day| self.first_day.after(*day) == weekday);
        days.count() as u32
    }

    /// The weekday and the half hour, 0 to 47, in which a moment counts in a period with this first day and so many: what is before or
    /// after it counts on its first or last day.
    pub fn half_hour(first_day: Weekday, days: u32, at: Millis) -> (Weekday, usize) {
        let day = at.day().clamp(0, i64::from(days) - 1);
        let half_hour = at.0.div_euclid(HALF_HOUR.0).rem_euclid(HALF_HOURS as i64);
        (first_day.after(day), half_hour as usize)
    }
}

/// ```text
/// (no_load_after_h?: 12, finish_within_h?: 13, most_days_in_row?: 6,        // left out: no such limit
///  driver_caution?: 0.8, promise_horizon_min?: 20, latest_report_h?: 4, least_week_h?: 1, stranded_drive_car?: true,
///  call_time?: "17:00", call_off?: false,
///  order_open_h?: 3, relief?: false, stabiliser_h?: 0, drum_cleaning_min?: 180)          // (common practice, no source)
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Company {
    /// No load whose loading would start later than this after report. None: no such limit.
    pub no_load_after: Option<Millis>,
    /// A driver judges the way by the minutes that this share of trips at the hour stays within, 0.5 to 0.999.
    pub driver_caution: f64,
    /// A truck on its way back can be promised when it is believed at the plant within this time. 0: only trucks that stand
    /// at a plant.
    pub promise_horizon: Millis,
    /// A driver whose rest ends later than this after the planned report is not called that day; 0 to 24 h.
    pub latest_report: Millis,
    /// No load from which the driver would be released later than this after report. None: no such limit.
    pub finish_within: Option<Millis>,
    /// A driver who would work more days in a row is not called. None: no such limit.
    pub days_in_row: Option<u32>,
    /// When drivers are called for the next day under a rule that calls them, since the midnight before: for the orders that are on the
    /// book then. 0 to 24 h.
    pub call_time: Millis,
    /// Whether drivers are called off at the midnight that begins their day, if its cancellations leave them without work. They have
    /// the show-up pay of [`Money`](super::Money).
    pub call_off: bool,
    /// A driver with less than this left of the weekly hours is not called, 0 to 14 h.
    pub least_week: Millis,
    /// Whether the stranded driver may drive the car home in which the helper came. Otherwise a second person comes along.
    pub stranded_drive_car: bool,
    /// The day of an order ends so long after its last load is due, at `finish_by` or at midnight, whichever is latest: what has not come
    /// by then is undelivered.
    pub order_open: Millis,
    /// Whether another driver who stands free at the plant takes over a loaded truck whose driver is out of hours.
    pub relief: bool,
    /// How long a stabiliser keeps a load in a stranded truck from setting; 0: none is carried.
    pub stabiliser: Millis,
    /// Time to clean a drum in which a load has set.
    pub drum_cleaning: Millis,
}

/// `(pre_trip?: Lognormal(mean: 15.7, cv: 0.3), washout?: Triangular(10, 15, 30), post_trip?: Constant(10))`: the driver's
/// first minutes, the drum's washout at the end of the day, and the last minutes before release.
#[derive(Clone, Debug, PartialEq)]
pub struct Yard {
    /// Minutes from report to the first load.
    pub pre_trip: Spread,
    /// Minutes of washout after the last load.
    pub washout: Spread,
    /// Minutes from washout to release.
    pub post_trip: Spread,
}
