//! What runs say of one fleet size.

use super::neighbor::PerRun;
use super::own_cost::OwnCost;
use super::{FleetSize, JOINT_RISK};
use crate::montecarlo::Rows;
use crate::observe::{CostPart, PourSums, columns, figure, pour};
use crate::scenario::Scenario;
use crate::statistics::{Chance, Estimate, Summary};
use crate::studies::edited::Edited;
use crate::units::Millis;

/// What is asked of every size alike.
pub(super) struct Asked<'a> {
    pub(super) base: &'a Scenario,
    pub(super) own_cost: &'a OwnCost,
    pub(super) finish_by: Option<Millis>,
    pub(super) level: f64,
    /// Whether these runs are those of the final answer.
    pub(super) is_final: bool,
}

impl Asked<'_> {
    /// One size, and what each replication gave with it.
    pub(super) fn size(
        &self,
        trial: &Edited,
        rows: &Rows,
        (case, (trucks, drivers)): (usize, (u32, u32)),
        sums: PourSums,
    ) -> (FleetSize, PerRun) {
        let level = self.level;
        let figures: Vec<Summary> = (0..columns(self.base).len())
            .map(|column| Summary::of(rows.values(case, column)))
            .collect();
        let of_pour = |figure: usize| rows.values(case, trial.pour_figures() + figure);
        let took_place = of_pour(pour::STOPPED)
            .filter(|value| !value.is_nan())
            .count() as u64;
        // A blank fails every comparison: a pour that was cancelled is in no count, one that was not finished in no count of finishes.
        let chance = |figure: usize, good: &dyn Fn(f64) -> bool| {
            let times = of_pour(figure).filter(|value| good(*value)).count();
            Chance::of(times as u64, took_place, level)
        };
        let estimate = |figure: usize| Estimate::of(&Summary::of(of_pour(figure)), level);
        let parts = self.own_cost.of(trial, rows, case);
        let own: Vec<f64> = parts.iter().map(|parts| parts.iter().sum()).collect();
        let late: Vec<f64> = of_pour(pour::LATE_LOADS)
            .zip(of_pour(pour::LOADS_DUE))
            .map(|(late, due)| late / due)
            .collect();
        let mean_of_part = |part: &CostPart| {
            let values = parts.iter().map(|parts| parts[*part as usize]);
            let mean = Summary::of(values).mean()?;
            part.is_listed(mean).then_some((*part, mean))
        };
        let size = FleetSize {
            trucks,
            drivers,
            replications: took_place,
            is_final: self.is_final,
            no_gap: no_gap(trial, rows, case, level),
            finished: self
                .finish_by
                .map(|by| chance(pour::FINISHED_MIN, &|finished| finished <= by.minutes())),
            no_pause_beyond: JOINT_RISK
                .map(|pause| chance(pour::WORST_PAUSE_MIN, &|worst| worst <= pause.minutes())),
            worst_pause_min: estimate(pour::WORST_PAUSE_MIN),
            stands_min: estimate(pour::STOOD_MIN),
            late_share: Estimate::of_values(&late, level),
            finished_min: estimate(pour::FINISHED_MIN),
            wait_min: estimate(pour::WAIT_MIN),
            cost_per_yd3: Estimate::of_values(&own, level),
            parts: CostPart::ALL.iter().filter_map(mean_of_part).collect(),
            truck_use: Estimate::of(&figures[figure::TRUCK_USE], level),
            figures,
            sums,
            truck_more: None,
        };
        let gap = of_pour(pour::STOPPED).collect();
        (size, PerRun { cost: own, gap })
    }
}

/// How often a case goes without a gap, of the replications in which the pour takes place.
pub(super) fn no_gap(trial: &Edited, rows: &Rows, case: usize, level: f64) -> Chance {
    let stopped = || rows.values(case, trial.pour_figures() + pour::STOPPED);
    let of = stopped().filter(|stopped| !stopped.is_nan()).count();
    let without = stopped().filter(|stopped| *stopped == 0.0).count();
    Chance::of(without as u64, of as u64, level)
}
