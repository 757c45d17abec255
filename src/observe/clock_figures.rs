//! Figures of drivers' clocks: violations by rule, strandings by cause, margins, and what followed.

use super::columns::figure;
use crate::hours::Clock;
use crate::plant::{Event, FullDrum, StrandCause};
use crate::units::Millis;

/// Sums of one replication. Kept warm.
#[derive(Clone, Debug, Default)]
pub(super) struct ClockFigures {
    violation: [Millis; Clock::ALL.len()],
    /// Margins of all tours with a limit, smallest first.
    margins: Vec<Millis>,
    late_reports: u32,
    long_days: u32,
    causes: [u32; StrandCause::ALL.len()],
    at_plant: u32,
    home: u32,
    until_home: Millis,
    gained: Millis,
    own: u32,
    full: [u32; 3],
}

impl ClockFigures {
    /// Forgets the last replication.
    pub(super) fn begin(&mut self) {
        let mut margins = std::mem::take(&mut self.margins);
        margins.clear();
        *self = Self {
            margins,
            ..Self::default()
        };
    }

    /// A tour ended with this margin at the end of its last drive.
    pub(super) fn margin(&mut self, margin: Millis) {
        let at = self.margins.partition_point(|other| *other <= margin);
        self.margins.insert(at, margin);
    }

    /// All of them, smallest first.
    pub(super) fn margins(&self) -> &[Millis] {
        &self.margins
    }

    /// Minutes driven beyond a limit.
    pub(super) fn violation(&mut self, by: Option<Clock>, time: Millis) {
        if let Some(rule) = by {
            self.violation[rule as usize] += time;
        }
    }

    /// Hears the events that are about clocks alone; `plants` is the number of plants, whose places come first.
    #[inline]
    pub(super) fn event(&mut self, event: &Event, plants: usize) {
        match *event {
            Event::Stranded { place, cause, .. } => {
                self.causes[cause as usize] += 1;
                self.at_plant += u32::from(place.at() < plants);
            }
            Event::ReportedLate { .. } => self.late_reports += 1,
            Event::LongDay { past, .. } => {
                self.long_days += u32::from(past == Millis::ZERO);
                self.violation(Some(Clock::Window), past);
            }
            Event::StrandedHome { after, .. } => {
                self.home += 1;
                self.until_home += after;
            }
            Event::Foreseen { gained, .. } => self.gained += gained,
            Event::OwnDriverSent { .. } => self.own += 1,
            Event::OutOfHoursFull { how, .. } => {
                self.full[match how {
                    FullDrum::Relief => 0,
                    FullDrum::Stabilised => 1,
                    FullDrum::Lost => 2,
                }] += 1;
            }
            _ => {}
        }
    }

    /// Writes the figures of the replication.
    pub(super) fn row(&self, mut set: impl FnMut(usize, f64)) {
        let violations = [
            figure::VIOLATION_DRIVING_MIN,
            figure::VIOLATION_WINDOW_MIN,
            figure::VIOLATION_ON_DUTY_MIN,
            figure::VIOLATION_BREAK_MIN,
            figure::VIOLATION_WEEK_MIN,
        ];
        for (figure, time) in violations.into_iter().zip(self.violation) {
            set(figure, time.minutes());
        }
        // Nearest rank: the smallest value that at least 5 % do not exceed.
        let rank = self.margins.len().div_ceil(20).max(1) - 1;
        let worst = self.margins.get(rank);
        set(
            figure::MARGIN_WORST_MIN,
            worst.map_or(f64::NAN, |margin| margin.minutes()),
        );
        set(figure::LATE_REPORTS, self.late_reports.into());
        set(figure::LONG_DAYS, self.long_days.into());
        let causes = [
            figure::STRANDED_LOADED_LATE,
            figure::STRANDED_LENT,
            figure::STRANDED_TRAFFIC,
            figure::STRANDED_SITE,
            figure::STRANDED_SHORT,
            figure::STRANDED_OVERRIDDEN,
        ];
        for (figure, count) in causes.into_iter().zip(self.causes) {
            set(figure, count.into());
        }
        set(figure::STRANDED_AT_PLANT, self.at_plant.into());
        let mean = if self.home > 0 {
            self.until_home.hours() / f64::from(self.home)
        } else {
            f64::NAN
        };
        set(figure::STRANDED_HOME_H, mean);
        set(figure::FORESEEN_MIN, self.gained.minutes());
        set(figure::FETCHED_OWN, self.own.into());
        set(figure::FULL_RELIEVED, self.full[0].into());
        set(figure::FULL_STABILISED, self.full[1].into());
        set(figure::FULL_SET, self.full[2].into());
    }
}
