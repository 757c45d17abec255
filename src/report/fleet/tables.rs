//! CSV tables of a pour's fleet.

use super::sentences::{self, clock};
use crate::report::csv_text::{Cell, Table};
use crate::statistics::Interval;
use crate::studies::{Estimate, FleetAnswer};

fn numbers<'a>(mean: Option<f64>, interval: Interval) -> [Cell<'a>; 3] {
    [mean.into(), interval.low.into(), interval.high.into()]
}

/// `fleet.csv`: one line for each plan and fleet size.
pub(super) fn sizes(answer: &FleetAnswer) -> Vec<u8> {
    let mut table = Table::new(&[
        "first_load",
        "spacing_min",
        "trucks",
        "meets_target",
        "replications",
        "final",
        "gap_chance",
        "gap_chance_low",
        "gap_chance_high",
        "no_gap_at_least",
        "finished_in_time_chance",
        "finished_in_time_at_least",
        "worst_gap_min",
        "worst_gap_min_low",
        "worst_gap_min_high",
        "wait_min",
        "wait_min_low",
        "wait_min_high",
        "truck_use",
        "truck_use_low",
        "truck_use_high",
        "cost_per_yd3",
        "cost_per_yd3_low",
        "cost_per_yd3_high",
    ]);
    for plan in &answer.plans {
        let first = clock(answer, plan.first);
        for size in &plan.sizes {
            let estimate = |estimate: &Estimate| numbers(estimate.mean, estimate.interval);
            let gap = &size.no_gap;
            let yes = |yes: bool| Cell::Text(if yes { "yes" } else { "no" });
            let mut row = vec![
                Cell::Text(&first),
                plan.spacing.minutes().into(),
                f64::from(size.trucks).into(),
                yes(size.is_final && size.meets(answer.target)),
                (size.replications as f64).into(),
                yes(size.is_final),
                (1.0 - gap.share()).into(),
                (1.0 - gap.interval.high).into(),
                (1.0 - gap.interval.low).into(),
                gap.at_least.into(),
                size.finished.as_ref().map(|chance| chance.share()).into(),
                size.finished.as_ref().map(|chance| chance.at_least).into(),
            ];
            for figure in [
                &size.worst_pause_min,
                &size.wait_min,
                &size.truck_use,
                &size.cost_per_yd3,
            ] {
                row.extend(estimate(figure));
            }
            table.row(row);
        }
    }
    table.finish()
}

/// `trucks-by-hour.csv`: trucks at work for the pour with the smallest fleet that meets the target, else the largest.
pub(super) fn hours(answer: &FleetAnswer) -> Vec<u8> {
    let mut table = Table::new(&[
        "first_load",
        "spacing_min",
        "hour",
        "mean_trucks_at_work",
        "enough_for_9_in_10",
    ]);
    for plan in &answer.plans {
        let first = clock(answer, plan.first);
        for (hour, mean, most) in sentences::hours(answer, plan) {
            table.row([
                Cell::Text(&first),
                plan.spacing.minutes().into(),
                Cell::Text(&hour),
                mean.into(),
                (most as f64).into(),
            ]);
        }
    }
    table.finish()
}
