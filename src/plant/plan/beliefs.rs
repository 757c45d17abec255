//! What is believed of a stage: its means and how they scatter.

use crate::dispatch::StageBelief;
use crate::engine::Spread;
use crate::scenario::Stage;

pub(super) fn believed(spread: &Spread) -> StageBelief {
    StageBelief {
        fixed_min: spread.mean(),
        per_yd3_min: 0.0,
        cv: cv(spread),
    }
}

pub(super) fn believed_stage(stage: &Stage) -> StageBelief {
    match stage {
        Stage::Minutes(spread) => believed(spread),
        Stage::PerYard {
            fixed_min,
            min_per_yd3,
            luck,
        } => StageBelief {
            fixed_min: fixed_min * luck.mean(),
            per_yd3_min: min_per_yd3 * luck.mean(),
            cv: cv(luck),
        },
    }
}

pub(super) fn cv(spread: &Spread) -> f64 {
    let mean = spread.mean();
    if mean > 0.0 {
        spread.variance().sqrt() / mean
    } else {
        0.0
    }
}
