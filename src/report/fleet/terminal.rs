//! The answer on one screen.

use super::sentences;
use crate::report::number::{Unit, number};
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::studies::{Chance, Estimate, FleetAnswer, FleetSize, PourPlan};
use std::fmt::Write;

/// Sizes that a screen has room for.
const SHOWN: usize = 9;

/// The answer for a terminal of this width. To be printed through `anstream`.
pub fn terminal(answer: &FleetAnswer, width: u16) -> String {
    let mut text = String::new();
    let bold = anstyle::Style::new().bold();
    let _ = writeln!(text, "{}\n", one_line(&answer.scenario));
    for line in wrap(
        "",
        &one_line(&sentences::decision(answer)),
        usize::from(width),
    ) {
        let _ = writeln!(text, "{bold}{line}{bold:#}");
    }
    text.push('\n');
    let plan = answer.shown();
    if answer.plans.len() > 1 {
        text.push_str(&plans(answer).render(width));
        let _ = writeln!(text, "\n{}:", sentences::plan_words(answer, plan));
    }
    text.push_str(&sizes(answer, plan).render(width));
    text.push('\n');
    for sentence in [
        sentences::by_hand(plan),
        sentences::hours_in_words(answer, plan),
        sentences::sureness(answer),
    ] {
        for line in wrap("", &one_line(&sentence), usize::from(width)) {
            let _ = writeln!(text, "{line}");
        }
    }
    text
}

/// `4.2 %`, with its interval.
pub(super) fn chance_of_failure(chance: &Chance) -> String {
    let (low, high) = (1.0 - chance.interval.high, 1.0 - chance.interval.low);
    format!(
        "{} ({} to {})",
        Unit::Share.show(1.0 - chance.share(), 1),
        number(100.0 * low, 1),
        number(100.0 * high, 1)
    )
}

pub(super) fn chance(chance: &Chance) -> String {
    format!(
        "{} ({} to {})",
        Unit::Share.show(chance.share(), 1),
        number(100.0 * chance.interval.low, 1),
        number(100.0 * chance.interval.high, 1)
    )
}

/// A mean and how far its interval reaches.
pub(super) fn estimate(estimate: &Estimate, unit: Unit, decimals: usize) -> String {
    let Some(mean) = estimate.mean else {
        return "–".into();
    };
    let half = estimate.interval.half_width();
    if half.is_finite() {
        let shown = if unit == Unit::Share {
            half * 100.0
        } else {
            half
        };
        format!(
            "{} ± {}",
            unit.show(mean, decimals),
            number(shown, decimals)
        )
    } else {
        unit.show(mean, decimals)
    }
}

/// One line for each plan, its smallest fleet.
fn plans(answer: &FleetAnswer) -> Table {
    let mut table = Table::new(&[
        ("pour", Align::Left),
        ("trucks", Align::Right),
        ("chance of a gap", Align::Right),
        ("cost per yd³", Align::Right),
    ]);
    for plan in &answer.plans {
        let size = plan.smallest.map(|at| &plan.sizes[at]);
        table.row([
            sentences::plan_words(answer, plan),
            size.map_or("none meets it".into(), |size| size.trucks.to_string()),
            size.map_or("–".into(), |size| chance_of_failure(&size.no_gap)),
            size.map_or("–".into(), |size| {
                estimate(&size.cost_per_yd3, Unit::Money, 2)
            }),
        ]);
    }
    table
}

/// Headings and cells of the table of sizes, which the page shows too.
pub(super) fn columns(answer: &FleetAnswer, plan: &PourPlan) -> Vec<&'static str> {
    let mut columns = vec!["trucks", "chance of a gap", "worst gap, min"];
    if plan.sizes[0].finished.is_some() {
        columns.push("finished in time");
    }
    columns.extend(["truck waits, min a load", "truck use"]);
    columns.push(if answer.alone {
        "cost per yd³"
    } else {
        "day's cost per yd³"
    });
    columns
}

pub(super) fn cells(size: &FleetSize, marked: bool) -> Vec<String> {
    let mark = if marked { "→ " } else { "" };
    let mut cells = vec![
        format!("{mark}{}", size.trucks),
        chance_of_failure(&size.no_gap),
        estimate(&size.worst_pause_min, Unit::Plain, 1),
    ];
    cells.extend(size.finished.as_ref().map(chance));
    cells.extend([
        estimate(&size.wait_min, Unit::Plain, 1),
        estimate(&size.truck_use, Unit::Share, 1),
        estimate(&size.cost_per_yd3, Unit::Money, 2),
    ]);
    cells
}

fn sizes(answer: &FleetAnswer, plan: &PourPlan) -> Table {
    let mut headings = vec![
        ("trucks", Align::Left),
        ("gap, 95 % interval", Align::Right),
    ];
    if plan.sizes[0].finished.is_some() {
        headings.push(("in time", Align::Right));
    }
    headings.extend(["worst, min", "wait, min", "use"].map(|heading| (heading, Align::Right)));
    let cost = if answer.alone {
        "per yd³"
    } else {
        "day, per yd³"
    };
    headings.push((cost, Align::Right));
    let mut table = Table::new(&headings);
    // Around the answer: what a truck less would do is above it, what one more would do below.
    let at = plan.smallest.unwrap_or(plan.sizes.len() - 1);
    let from = (at + 4)
        .saturating_sub(SHOWN)
        .min(plan.sizes.len().saturating_sub(SHOWN));
    for (place, size) in plan.sizes.iter().enumerate().skip(from).take(SHOWN) {
        table.row(short(size, Some(place) == plan.smallest));
    }
    table
}

/// As [`cells`], with intervals only where the decision rests on them.
fn short(size: &FleetSize, marked: bool) -> Vec<String> {
    let mean = |estimate: &Estimate, unit: Unit, decimals| {
        estimate
            .mean
            .map_or("–".into(), |mean| unit.show(mean, decimals))
    };
    let mut cells = vec![
        match (marked, size.is_final) {
            (true, _) => format!("{} ← smallest that does", size.trucks),
            (false, true) => size.trucks.to_string(),
            (false, false) => format!("{} (search only)", size.trucks),
        },
        format!(
            "{} ({} to {})",
            Unit::Share.show(1.0 - size.no_gap.share(), 1),
            number(100.0 * (1.0 - size.no_gap.interval.high), 0),
            number(100.0 * (1.0 - size.no_gap.interval.low), 0)
        ),
    ];
    cells.extend(
        size.finished
            .as_ref()
            .map(|chance| Unit::Share.show(chance.share(), 1)),
    );
    cells.extend([
        mean(&size.worst_pause_min, Unit::Plain, 1),
        mean(&size.wait_min, Unit::Plain, 1),
        mean(&size.truck_use, Unit::Share, 0),
        estimate(&size.cost_per_yd3, Unit::Money, 2),
    ]);
    cells
}
