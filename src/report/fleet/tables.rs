//! The tables of a pour's fleet.

use super::sentences::{self, clock};
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::number::Unit;
use crate::statistics::Interval;
use crate::studies::{Chance, FleetAnswer, FleetSize, PourPlan};
use crate::units::measure;

/// One line for each way to pour and fleet size.
pub(super) const FLEET: &str = "fleet";
/// Trucks at work by hour.
pub(super) const BY_HOUR: &str = "trucks-by-hour";
/// The round trip and what it is divided by.
pub(super) const BY_HAND: &str = "by-hand";

/// Sizes that a screen has room for.
const SHOWN: usize = 9;

/// `4.2% (3.1 to 5.5%)`: the chance that it does not go well.
fn failure(chance: &Chance) -> Cell {
    let seen = chance.of > 0;
    Cell::Estimate {
        value: seen.then(|| 1.0 - chance.share()),
        interval: Interval {
            low: 1.0 - chance.interval.high,
            high: 1.0 - chance.interval.low,
        },
        at_least: seen.then_some(chance.at_least),
        form: Form::new(Unit::Share, 1),
    }
}

/// Every size of every plan; the screen has those of the plan that the answer is about, around the answer.
pub(super) fn sizes(answer: &FleetAnswer) -> Table {
    let shown = answer.shown();
    let several = answer.plans.len() > 1;
    let in_time = shown.sizes[0].finished.is_some();
    let cost = measure::said(if answer.alone {
        "cost per yd³"
    } else {
        "whole day's cost per yd³"
    });
    let mut pour = Column::new("pour").left().page_only();
    pour.page = several;
    let mut finished = Column::new("finished in time")
        .brief("in time")
        .without_interval()
        .key("finished_in_time_chance")
        .part("finished_in_time_at_least", Part::AtLeast);
    (finished.screen, finished.page) = (in_time, in_time);
    let mut table = Table::new(
        FLEET,
        vec![
            pour,
            Column::file("first_load"),
            Column::file("spacing_min"),
            Column::new("trucks").left().key("trucks"),
            Column::file("meets_target"),
            Column::file("replications"),
            Column::file("final"),
            Column::new("chance of a gap")
                .with_ends("gap_chance")
                .part("no_gap_at_least", Part::AtLeast),
            finished,
            Column::new("worst gap, min")
                .brief("worst, min")
                .without_interval()
                .with_ends("worst_gap_min"),
            Column::new("truck waits, min a load")
                .brief("wait, min")
                .without_interval()
                .with_ends("wait_min"),
            Column::new("share of paid time at work")
                .brief("at work")
                .without_interval()
                .with_ends("truck_use"),
            Column::new(cost)
                .brief(measure::said("per yd³"))
                .without_interval()
                .with_ends("cost_per_yd3"),
        ],
    );
    // The study's own part of the JSON tells all of it.
    table.json = false;
    for plan in &answer.plans {
        let at = plan.smallest.unwrap_or(plan.sizes.len() - 1);
        // Around the answer: what a truck less would do is above it, what one more would do below.
        let from = (at + 4)
            .saturating_sub(SHOWN)
            .min(plan.sizes.len().saturating_sub(SHOWN));
        for (place, size) in plan.sizes.iter().enumerate() {
            let marked = Some(place) == plan.smallest;
            table
                .row(cells(answer, plan, size, marked))
                .marked(marked)
                .screen(std::ptr::eq(plan, shown) && (from..from + SHOWN).contains(&place));
        }
    }
    table
}

fn cells(answer: &FleetAnswer, plan: &PourPlan, size: &FleetSize, marked: bool) -> Vec<Cell> {
    let mark = match (marked, size.is_final) {
        (true, _) => " ← smallest",
        (false, true) => "",
        (false, false) => " (search only)",
    };
    vec![
        sentences::plan_words(answer, plan).into(),
        clock(answer, plan.first).into(),
        plan.spacing.minutes().into(),
        Cell::worded(format!("{}{mark}", size.trucks), Some(size.trucks.into())),
        Cell::yes(size.is_final && size.meets(answer.target)),
        (size.replications as f64).into(),
        Cell::yes(size.is_final),
        failure(&size.no_gap),
        size.finished
            .as_ref()
            .map_or(Cell::Blank, |chance| Cell::chance(chance, 1)),
        Cell::estimate(&size.worst_pause_min, Unit::Plain, 1),
        Cell::estimate(&size.wait_min, Unit::Plain, 1),
        Cell::estimate(&size.truck_use, Unit::Share, 1),
        Cell::estimate(&size.cost_per_yd3, Unit::Money, 2),
    ]
}

/// One line for each plan, its smallest fleet.
pub(super) fn plans(answer: &FleetAnswer) -> Table {
    let mut table = Table::new(
        "plans",
        vec![
            Column::new("pour").left(),
            Column::new("trucks"),
            Column::new("chance of a gap"),
            Column::new(measure::said("cost per yd³")),
        ],
    );
    for (place, plan) in answer.plans.iter().enumerate() {
        let size = plan.smallest.map(|at| &plan.sizes[at]);
        table
            .row([
                sentences::plan_words(answer, plan).into(),
                size.map_or(Cell::worded("none does", None), |size| {
                    Cell::count(size.trucks.into())
                }),
                size.map_or(Cell::unknown(), |size| failure(&size.no_gap)),
                size.map_or(Cell::unknown(), |size| {
                    Cell::estimate(&size.cost_per_yd3, Unit::Money, 2)
                }),
            ])
            .marked(answer.best == Some(place));
    }
    table
}

/// Trucks at work for the pour with the smallest fleet that meets the target, else the largest.
pub(super) fn hours(answer: &FleetAnswer) -> Table {
    let mut table = Table::new(
        BY_HOUR,
        [
            "first_load",
            "spacing_min",
            "hour",
            "mean_trucks_at_work",
            "enough_for_9_in_10",
        ]
        .map(Column::file)
        .to_vec(),
    );
    table.json = false;
    for plan in &answer.plans {
        for (hour, mean, most) in sentences::hours(answer, plan) {
            table.row([
                clock(answer, plan.first).into(),
                plan.spacing.minutes().into(),
                hour.into(),
                mean.into(),
                (most as f64).into(),
            ]);
        }
    }
    table
}

/// The formula's terms.
pub(super) fn by_hand(plan: &PourPlan) -> Table {
    let hand = &plan.hand;
    let mut table = Table::new(
        BY_HAND,
        vec![
            Column::new("part of a round trip").left(),
            Column::new("minutes"),
        ],
    );
    for (what, minutes) in [
        ("loading", hand.loading),
        ("slump rack", hand.rack),
        ("trip out, loaded", hand.out),
        ("pulling up, unloading, chute wash", hand.on_site),
        ("trip back", hand.back),
        ("round trip", hand.round_trip()),
        (sentences::divisor(hand), hand.every()),
    ] {
        table.row([what.into(), Cell::number(minutes.minutes(), Unit::Plain, 1)]);
    }
    let trucks = Cell::count(hand.trucks().into());
    table
        .row(["trucks, rounded up".into(), trucks])
        .marked(true);
    table
}
