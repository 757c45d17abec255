//! What it does to the pour if one of its trucks breaks down with a full drum on its way.

use super::sentences::{clock, money, percent, trucks, volume};
use super::tables::failure;
use crate::report::answer::{Cell, Column, Table};
use crate::report::number::Unit;
use crate::statistics::{Chance, Estimate};
use crate::studies::{FleetAnswer, OneBreakdown};
use crate::units::{Millis, measure};
use serde_json::{Value, json};

pub(super) const BREAKDOWN: &str = "one-breakdown";

fn gap(chance: &Chance) -> String {
    percent(1.0 - chance.share())
}

fn done(answer: &FleetAnswer, finished: &Estimate) -> Option<String> {
    Some(clock(answer, Millis::from_minutes(finished.mean?)))
}

/// In one sentence; nothing where it was not asked.
pub(super) fn sentence(answer: &FleetAnswer) -> Option<String> {
    let fleets = answer.one_breakdown.iter().map(|found| {
        let (with, without) = (&found.with, &found.without);
        let done = done(answer, &with.finished_min).zip(done(answer, &without.finished_min));
        format!(
            "with {} a gap in {} of runs instead of {}{}, {} per {} more",
            trucks(found.trucks),
            gap(&with.no_gap),
            gap(&without.no_gap),
            done.map_or(String::new(), |(with, without)| format!(
                ", done {with} instead of {without}"
            )),
            money(&found.dearer_per_yd3),
            volume(),
        )
    });
    let fleets: Vec<String> = fleets.collect();
    (!fleets.is_empty()).then(|| {
        format!(
            "If one truck breaks down once, full, on its way: {}.",
            fleets.join("; ")
        )
    })
}

/// One line for each fleet, without and with the breakdown.
pub(super) fn table(answer: &FleetAnswer) -> Table {
    let mut table = Table::new(
        BREAKDOWN,
        vec![
            Column::new("trucks").key("trucks"),
            Column::new("one breaks down").left().key("breakdown"),
            Column::new("chance of a gap").with_ends("gap_chance"),
            Column::new("worst gap, min").with_ends("worst_gap_min"),
            Column::new("done").key("done"),
            Column::new(measure::said("more per yd³")).with_ends("more_per_yd3"),
        ],
    );
    for found in &answer.one_breakdown {
        for (said, side) in [("no", &found.without), ("yes", &found.with)] {
            let more = match said {
                "no" => Cell::Blank,
                _ => Cell::estimate(
                    &super::sentences::per_volume(&found.dearer_per_yd3),
                    Unit::Money,
                    2,
                ),
            };
            table.row([
                Cell::count(found.trucks.into()),
                said.into(),
                failure(&side.no_gap),
                Cell::estimate(&side.worst_pause_min, Unit::Plain, 1),
                done(answer, &side.finished_min).map_or(Cell::unknown(), Cell::from),
                more,
            ]);
        }
    }
    table
}

/// `[{"trucks", "without": {"no_gap", "worst_gap_min", "finished_min"}, "with": the same, "dearer_per_yd3"}]`.
pub(super) fn json(answer: &FleetAnswer) -> Value {
    let from = answer.midnight.minutes();
    let side = |side: &crate::studies::WithOrWithout| {
        json!({
            "no_gap": super::json::chance(&side.no_gap),
            "worst_gap_min": super::json::estimate(&side.worst_pause_min),
            "finished_min": super::json::estimate(&super::json::since(from, &side.finished_min)),
        })
    };
    let fleet = |found: &OneBreakdown| {
        json!({
            "trucks": found.trucks,
            "without": side(&found.without),
            "with": side(&found.with),
            "dearer_per_yd3": super::json::estimate(&super::sentences::per_volume(&found.dearer_per_yd3)),
        })
    };
    answer.one_breakdown.iter().map(fleet).collect()
}
