//! Whether it is shown that the recommended staffing is the better one, and what it would take.

use super::StaffAnswer;

/// How sure the recommendation is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Today's staffing is the one recommended.
    Today,
    /// Today's misses the service targets, which the recommended one meets.
    TodayMisses,
    /// Both meet them, and the interval of what it saves lies above zero.
    Saves,
    /// Both meet them, and the interval reaches below zero: who stakes money keeps today's until more runs tell.
    NotYet {
        /// So many replications would show a saving of the size of the mean, with the spread of those made; none: more than can be said.
        runs: Option<u64>,
    },
}

impl StaffAnswer {
    /// How sure the recommendation is; none without one, or where today's staffing was not run for it.
    pub fn shown(&self) -> Option<Shown> {
        let best = &self.results[self.best?];
        if best.staffing == self.today {
            return Some(Shown::Today);
        }
        if !self.todays()?.meets {
            return Some(Shown::TodayMisses);
        }
        let saving = self.saving.as_ref()?;
        Some(match saving.whole.interval.low > 0.0 {
            true => Shown::Saves,
            false => Shown::NotYet {
                runs: saving.would_show,
            },
        })
    }

    /// Whether today's staffing is to be kept for now: it meets the targets, and nothing better is shown.
    pub fn keeps_today(&self) -> bool {
        matches!(self.shown(), Some(Shown::Today | Shown::NotYet { .. }))
    }
}
