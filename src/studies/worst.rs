//! Which replication of a rule is the worst.

use crate::montecarlo::Rows;
use crate::observe::figure;

/// By what a replication is the worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Worst {
    /// Most late loads.
    Lateness,
    /// Most drivers stranded.
    Strandings,
    /// Most concrete dumped.
    Waste,
    /// Highest cost.
    Cost,
}

impl Worst {
    /// The figure that decides.
    pub fn figure(self) -> usize {
        match self {
            Self::Lateness => figure::LATE_LOADS,
            Self::Strandings => figure::STRANDED,
            Self::Waste => figure::DUMPED_YD3,
            Self::Cost => figure::COST,
        }
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Lateness => "most late loads",
            Self::Strandings => "most drivers stranded",
            Self::Waste => "most concrete dumped",
            Self::Cost => "highest cost",
        }
    }
}

/// The worst replication of a rule; of equals the one with the smallest number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstReplication {
    /// By what.
    pub by: Worst,
    /// Its number, from 0.
    pub replication: u64,
    /// The figure that decides.
    pub value: f64,
}

impl WorstReplication {
    /// The worst of the replications that are here; none if none has the figure.
    pub fn of(by: Worst, rows: &Rows, case: usize) -> Option<Self> {
        rows.replications()
            .zip(rows.values(case, by.figure()))
            .filter(|(_, value)| !value.is_nan())
            .reduce(|worst, next| if next.1 > worst.1 { next } else { worst })
            .map(|(replication, value)| Self {
                by,
                replication,
                value,
            })
    }
}
