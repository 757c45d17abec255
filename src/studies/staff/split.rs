//! What a staffing saves against today's, and by which of its changes: start times, use of overtime, head count.

use super::{StaffResult, Staffing, Study};
use crate::statistics::{Estimate, Shapley, Summary, replications_for_error};
use std::ops::Range;

/// One of the changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// How many haulers are hired.
    Haulers,
    /// How many work part time.
    PartTime,
    /// When drivers start.
    Starts,
    /// How long they stay.
    Overtime,
    /// How many there are.
    Drivers,
}

impl Part {
    const ALL: [Self; 5] = [
        Self::Starts,
        Self::Overtime,
        Self::PartTime,
        Self::Haulers,
        Self::Drivers,
    ];

    fn differs(self, one: Staffing, other: Staffing) -> bool {
        match self {
            Self::Starts => one.starts != other.starts,
            Self::Overtime => one.overtime != other.overtime,
            Self::PartTime => one.part_time != other.part_time,
            Self::Haulers => one.hired != other.hired,
            Self::Drivers => one.drivers != other.drivers,
        }
    }

    fn take(self, from: Staffing, to: &mut Staffing) {
        match self {
            Self::Starts => to.starts = from.starts,
            Self::Overtime => to.overtime = from.overtime,
            Self::PartTime => to.part_time = from.part_time,
            Self::Haulers => to.hired = from.hired,
            Self::Drivers => to.drivers = from.drivers,
        }
    }
}

/// What today's staffing costs more than the recommended one, per period, on the same days.
#[derive(Clone, Debug)]
pub struct Saving {
    /// All of it; below zero the recommended one costs more.
    pub whole: Estimate,
    /// The fair share of each change in it (see [`Shapley`]), in the order of head counts last; together they are the whole.
    pub parts: Vec<(Part, Estimate)>,
    /// So many replications would show the whole, as large as its mean and with the spread of those made; none: more than can be said.
    pub would_show: Option<u64>,
}

impl Study<'_> {
    /// Of `best` against today's staffing; none if they are the same, or the runs were interrupted.
    pub(super) fn saving(
        &self,
        best: &StaffResult,
        today: Staffing,
        replications: Range<u64>,
    ) -> Option<Saving> {
        let differing: Vec<Part> = Part::ALL
            .into_iter()
            .filter(|part| part.differs(best.staffing, today))
            .collect();
        if differing.is_empty() {
            return None;
        }
        let shapley = Shapley::exact(differing.len());
        let mixes: Vec<Staffing> = shapley
            .sets()
            .into_iter()
            .map(|set| {
                let mut mixed = today;
                for (bit, part) in differing.iter().enumerate() {
                    if set & (1 << bit) != 0 {
                        part.take(best.staffing, &mut mixed);
                    }
                }
                mixed
            })
            .collect();
        let results = self.run(self.scenario, &mixes, replications, true)?;
        let shares: Vec<Vec<f64>> = (0..results[0].costs.len())
            .map(|nth| shapley.shares(|set| -results[set as usize].costs[nth]))
            .collect();
        let level = self.question.level;
        let of = |part: usize| -> Vec<f64> { shares.iter().map(|shares| shares[part]).collect() };
        let whole: Vec<f64> = shares.iter().map(|shares| shares.iter().sum()).collect();
        let summary = Summary::of(whole.iter().copied());
        debug_assert!(summary.n() > 0);
        let mean = summary.mean().map(f64::abs).filter(|mean| *mean > 0.0);
        Some(Saving {
            would_show: mean.and_then(|mean| replications_for_error(&summary, mean, level)),
            whole: Estimate::of_values(&whole, level),
            parts: differing
                .into_iter()
                .enumerate()
                .map(|(at, part)| (part, Estimate::of_values(&of(at), level)))
                .collect(),
        })
    }
}
