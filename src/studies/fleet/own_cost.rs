//! What a pour costs by itself: only the hours, crew and trouble that it causes.

use crate::montecarlo::Rows;
use crate::observe::{CostPart, pour};
use crate::scenario::Scenario;
use crate::studies::edited::Edited;
use crate::units::Volume;

/// What is taken off the days with the pour, and how much was ordered.
pub(super) struct OwnCost {
    /// Parts of the cost of the same days without the pour, $, by replication: none where the pour is alone.
    without: Option<Vec<[f64; CostPart::ALL.len()]>>,
    /// A plant's crew, $ an hour.
    crew_per_h: f64,
    ordered_yd3: f64,
}

impl OwnCost {
    /// Of a pour that is alone: its plant is open for it, and for as long as it takes.
    pub(super) fn alone(scenario: &Scenario, ordered: Volume) -> Self {
        Self {
            without: None,
            crew_per_h: scenario.money.crew_per_open_h.units(),
            ordered_yd3: ordered.yd3(),
        }
    }

    /// Of a pour among other work: beyond what these runs, the first of all, of the same days cost without it.
    pub(super) fn beside(trial: &Edited, rows: &Rows, ordered: Volume) -> Self {
        let parts = |replication: u64| parts(trial, &rows.row(0, replication));
        Self {
            without: Some(rows.replications().map(parts).collect()),
            crew_per_h: 0.0,
            ordered_yd3: ordered.yd3(),
        }
    }

    /// Of the days as a whole: for differences between runs of the same days.
    pub(super) fn whole(ordered: Volume) -> Self {
        Self {
            without: None,
            crew_per_h: f64::NAN,
            ordered_yd3: ordered.yd3(),
        }
    }

    /// Its parts in each replication, $ per yd³ ordered; blank where the pour was cancelled.
    pub(super) fn of(
        &self,
        trial: &Edited,
        rows: &Rows,
        case: usize,
    ) -> Vec<[f64; CostPart::ALL.len()]> {
        let figure = |row: &[f32], figure| f64::from(row[trial.pour_figures() + figure]);
        let own = |replication: u64| {
            let row = &rows.row(case, replication)[..];
            if figure(row, pour::STOPPED).is_nan() {
                return [f64::NAN; CostPart::ALL.len()];
            }
            let mut parts = parts(trial, row);
            match &self.without {
                Some(without) => {
                    let Some(without) = without.get(replication as usize) else {
                        return [f64::NAN; CostPart::ALL.len()]; // interrupted before that
                    };
                    for (part, without) in parts.iter_mut().zip(without) {
                        *part -= without;
                    }
                }
                None if self.crew_per_h.is_nan() => {}
                None => {
                    let hours = figure(row, pour::UNDER_WAY_MIN) / 60.0;
                    parts[CostPart::Crews as usize] = self.crew_per_h * hours;
                }
            }
            parts.map(|part| part / self.ordered_yd3)
        };
        rows.replications().map(own).collect()
    }
}

fn parts(trial: &Edited, row: &[f32]) -> [f64; CostPart::ALL.len()] {
    let first = trial.cost_parts();
    std::array::from_fn(|part| f64::from(row[first + part]))
}
