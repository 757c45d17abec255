//! CSV tables of staffing.

use super::terminal::penalties;
use crate::observe::CostPart;
use crate::report::csv_text::{Cell, Table};
use crate::studies::{Estimate, StaffAnswer, StaffResult};

const HEADINGS: [&str; 20] = [
    "drivers",
    "starts",
    "overtime_use",
    "final",
    "meets_targets",
    "cost",
    "cost_low",
    "cost_high",
    "regular_pay",
    "idle_pay",
    "overtime_pay",
    "penalties",
    "stranded_cost",
    "late_share",
    "late_share_high",
    "undelivered_share",
    "undelivered_share_high",
    "stranded",
    "margin_min",
    "overtime_h",
];

fn cells<'a>(result: &'a StaffResult, starts: &'a str) -> Vec<Cell<'a>> {
    let yes = |yes: bool| Cell::Text(if yes { "yes" } else { "no" });
    let high = |estimate: &Estimate| Cell::Number(estimate.interval.high);
    vec![
        f64::from(result.staffing.drivers).into(),
        Cell::Text(starts),
        Cell::Text(result.staffing.overtime.word()),
        yes(result.is_final),
        yes(result.is_final && result.meets),
        result.cost.mean.into(),
        result.cost.interval.low.into(),
        high(&result.cost),
        result.parts[CostPart::Pay as usize].into(),
        result.idle_pay.into(),
        result.parts[CostPart::Overtime as usize].into(),
        penalties(result).into(),
        result.parts[CostPart::Stranded as usize].into(),
        result.late_share.mean.into(),
        high(&result.late_share),
        result.undelivered.mean.into(),
        high(&result.undelivered),
        result.stranded.mean.into(),
        result.margin_min.mean.into(),
        result.overtime_h.mean.into(),
    ]
}

/// `staff.csv`: one line for each staffing, then one driver less and more than the answer's.
pub(super) fn staffings(answer: &StaffAnswer) -> Vec<u8> {
    let mut table = Table::new(&HEADINGS);
    for result in &answer.results {
        table.row(cells(result, &result.staffing.starts.word()));
    }
    for one in [&answer.less, &answer.more].into_iter().flatten() {
        if answer
            .results
            .iter()
            .all(|other| other.staffing != one.result.staffing || !other.is_final)
        {
            table.row(cells(&one.result, &one.result.staffing.starts.word()));
        }
    }
    table.finish()
}

/// `growth.csv`: for each growth the drivers of the answer, and the fewest that meet the targets.
pub(super) fn growth(answer: &StaffAnswer) -> Vec<u8> {
    let headings: Vec<&str> = ["growth_per_cent", "which"]
        .into_iter()
        .chain(HEADINGS)
        .collect();
    let mut table = Table::new(&headings);
    for grown in &answer.grown {
        let mut row = |which: &'static str, result: &StaffResult| {
            let starts = result.staffing.starts.word();
            table.row(
                [grown.per_cent.into(), Cell::Text(which)]
                    .into_iter()
                    .chain(cells(result, &starts)),
            );
        };
        row("as now", &grown.as_now);
        if let Some(fewest) = &grown.fewest {
            row("fewest that meet the targets", fewest);
        }
    }
    table.finish()
}
