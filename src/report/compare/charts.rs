//! The charts of the answer, each with what it shows in one sentence.

mod by_hour;
mod differences;
mod lateness;
mod margins;
mod money;
mod worst_day;

use super::{causes, site_wait};
use crate::observe::figure;
use crate::report::number::count;
use crate::studies::{Comparison, Decision};

/// The chart under which the report tells how to replay the day.
pub(super) const WORST_DAY: &str = "worst-day";

/// The chart under which the report tells what shows the worth of a change.
pub(super) const CAUSES: &str = "causes";

/// One chart.
pub(super) struct Chart {
    /// Name of its files, without ending.
    pub(super) name: &'static str,
    /// Heading of its section in the report.
    pub(super) heading: &'static str,
    pub(super) svg: String,
}

/// All charts, in the order of the report.
pub(super) fn all(answer: &Comparison) -> Vec<Chart> {
    let chart = |name, heading, svg| Chart { name, heading, svg };
    let mut charts = Vec::new();
    if let Some(svg) = differences::chart(answer) {
        charts.push(chart("differences", "What the rules change", svg));
    }
    let judged = answer
        .rules
        .iter()
        .any(|rule| rule.profile.late.iter().sum::<u64>() + rule.profile.undelivered > 0);
    if judged {
        charts.push(chart(
            "lateness",
            "How late loads come",
            lateness::chart(answer),
        ));
    }
    if let Some(svg) = causes::chart(answer) {
        charts.push(chart(CAUSES, "What made loads late", svg));
    }
    if answer
        .rules
        .iter()
        .any(|rule| rule.figures[figure::MARGIN_MIN].summary.n() > 0)
    {
        charts.push(chart(
            "strandings",
            "When drivers are stranded",
            by_hour::strandings(answer),
        ));
        charts.push(chart(
            "margins",
            "How close to the limit drivers come home",
            margins::chart(answer),
        ));
    }
    charts.push(chart(
        "bay-queue",
        "Queues at the bays over the day",
        by_hour::bay_queue(answer),
    ));
    if let Some(svg) = site_wait::chart(answer) {
        charts.push(chart("site-wait", "Waiting on site", svg));
    }
    charts.push(chart(
        "truck-use",
        "Trucks at work over the day",
        by_hour::truck_use(answer),
    ));
    charts.push(chart("money", "Where the money goes", money::chart(answer)));
    charts.push(chart(
        WORST_DAY,
        "The worst day, truck by truck",
        worst_day::chart(answer),
    ));
    charts
}

/// The rule that a reader looks at first: the best, else the first contender that is not the base.
pub(super) fn pick(answer: &Comparison) -> usize {
    match &answer.decision {
        Decision::Alone => answer.base,
        Decision::Best(rule) | Decision::Selected(rule) => *rule,
        Decision::NotToldApart(rules) => {
            let other = rules.iter().find(|rule| **rule != answer.base);
            *other.unwrap_or(&answer.base)
        }
    }
}

pub(super) fn same_days(answer: &Comparison) -> String {
    let n = count(answer.replications());
    if answer.days == 1 {
        format!("the same {n} days")
    } else {
        format!("the same {n} periods of {} days", answer.days)
    }
}
