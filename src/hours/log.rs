//! A driver's log of duty status with what is known of the time before it.

use super::exceptions::Allowance;
use super::status::DutyStatus;
use super::wall_clock::WallClock;
use crate::units::Millis;

/// One status from one moment to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What the driver did.
    pub status: DutyStatus,
    /// From this moment on.
    pub from: Millis,
    /// Until just before this moment.
    pub to: Millis,
}

/// A log of one driver: entries in order of time without gaps or overlaps; after the last one the driver is off duty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DutyLog {
    /// The entries, each beginning where the one before ends.
    pub entries: Vec<Entry>,
    /// Beginning of the rest that lies before the first entry; what came before that rest is in `prior` alone.
    pub rested_since: Millis,
    /// Time on duty by carrier day (day 0 begins at the carrier's day start on the first date) before the first entry.
    pub prior: Vec<(i64, Millis)>,
    /// Exceptions claimed, each with its moment, in order of time. One holds from then until the next full rest, or until
    /// the next one.
    pub allowances: Vec<(Millis, Allowance)>,
    /// The clock by which the carrier's days begin; in a simulated week one that is never changed.
    pub wall: WallClock,
}

impl DutyLog {
    /// Where the first entry begins.
    pub fn begins(&self) -> Millis {
        self.entries
            .first()
            .map_or(self.rested_since, |entry| entry.from)
    }

    /// Where the last entry ends.
    pub fn ends(&self) -> Millis {
        self.entries.last().map_or(self.begins(), |entry| entry.to)
    }

    /// The log as it was at a moment, with one more entry from there on. A log that has ended is continued off duty.
    #[must_use]
    pub fn continued(&self, at: Millis, status: DutyStatus, to: Millis) -> Self {
        let mut log = self.clone();
        log.entries.retain(|entry| entry.from < at);
        if let Some(last) = log.entries.last_mut() {
            last.to = last.to.min(at);
        }
        let ends = log.ends();
        if !log.entries.is_empty() && ends < at {
            log.entries.push(Entry {
                status: DutyStatus::OffDuty,
                from: ends,
                to: at,
            });
        }
        log.entries.push(Entry {
            status,
            from: at,
            to,
        });
        log
    }
}
