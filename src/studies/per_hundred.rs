//! What becomes of the concrete, for each hundred loads placed.

use crate::montecarlo::Rows;
use crate::observe::{Column, figure};
use crate::statistics::Statement;

/// The figures that make sense so.
const FIGURES: [usize; 24] = [
    figure::COST,
    figure::WET_AT_RACK,
    figure::WATERED,
    figure::DRY_UPS,
    figure::CEMENT_LB,
    figure::FINE_LB,
    figure::DRY_UP_COST,
    figure::REBATCHED,
    figure::WET_ON_SITE,
    figure::WET_BY_HRWR,
    figure::WET_BY_WATER,
    figure::WET_BY_MOISTURE,
    figure::WET_BY_COOL,
    figure::WET_BY_READING,
    figure::STIFF,
    figure::AIR,
    figure::OLD,
    figure::WRONG_MIX,
    figure::RETEMPERED,
    figure::DUMPED_YD3,
    figure::PARTS_DUMPED_YD3,
    figure::RETURNED_YD3,
    figure::BELOW_STRENGTH,
    figure::HEAVY,
];

/// One figure of the concrete for each hundred loads placed; a replication without a load is left out.
#[derive(Clone, Debug)]
pub struct PerHundred {
    /// Position of its column.
    pub column: usize,
    /// What is said of it over the replications, for each rule.
    pub rules: Vec<Statement>,
}

/// All of them; none where the scenario describes no mixes.
pub(super) fn per_hundred(rows: &Rows, columns: &[Column], level: f64) -> Vec<PerHundred> {
    let known = rows
        .values(0, figure::WET_AT_RACK)
        .any(|value| !value.is_nan());
    if !known {
        return Vec::new();
    }
    let said = |rule: usize, column: usize| {
        if columns[column].lacks.is_some() {
            return Statement::NotLookedAt;
        }
        let loads = rows.values(rule, figure::LOADS);
        let share = |(value, loads): (f64, f64)| {
            if loads > 0.0 {
                100.0 * value / loads
            } else {
                f64::NAN
            }
        };
        let shares: Vec<f64> = rows.values(rule, column).zip(loads).map(share).collect();
        Statement::of(&shares, level)
    };
    FIGURES
        .into_iter()
        .map(|column| PerHundred {
            column,
            rules: (0..rows.cases()).map(|rule| said(rule, column)).collect(),
        })
        .collect()
}
