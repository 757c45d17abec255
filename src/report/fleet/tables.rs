//! The tables of a pour's fleet.

use super::sentences::{self, clock};
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::number::Unit;
use crate::statistics::Interval;
use crate::studies::{Chance, FleetAnswer, FleetSize, JOINT_RISK, PourPlan};
use crate::units::Millis;
use crate::units::measure::{self, Quantity};

/// One line for each way to pour and fleet size.
pub(super) const FLEET: &str = "fleet";
/// Trucks at work by hour.
pub(super) const BY_HOUR: &str = "trucks-by-hour";
/// The round trip and what it is divided by.
pub(super) const BY_HAND: &str = "by-hand";

/// The parts of the cost.
pub(super) const PARTS: &str = "cost-parts";
/// What the gaps that are left come from.
pub(super) const TROUBLES: &str = "gaps-without";
/// What each truck more changes.
pub(super) const TRUCK_MORE: &str = "one-truck-more";
/// Chances of longer and longer pauses.
pub(super) const JOINTS: &str = "pauses";

/// Sizes that a screen has room for.
const SHOWN: usize = 9;

/// `4.2% (3.1 to 5.5%)`: the chance that it does not go well.
pub(super) fn failure(chance: &Chance) -> Cell {
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

/// Every size of every plan; the page has those of the plan that the answer is about, the screen those around the answer.
pub(super) fn sizes(answer: &FleetAnswer) -> Table {
    let shown = answer.shown();
    let in_time = shown.sizes[0].finished.is_some();
    let mut finished = Column::new("finished in time")
        .brief("in time")
        .without_interval()
        .key("finished_in_time_chance")
        .part("finished_in_time_at_least", Part::AtLeast);
    (finished.screen, finished.page) = (in_time, in_time);
    let mut table = Table::new(
        FLEET,
        vec![
            Column::file("pour"),
            Column::file("first_load"),
            Column::file("spacing_min"),
            Column::new("trucks").left().key("trucks"),
            Column::new("drivers").page_only().key("drivers"),
            Column::file("meets_target"),
            Column::file("replications"),
            Column::file("final"),
            Column::new("chance of a gap")
                .with_ends("gap_chance")
                .part("no_gap_at_least", Part::AtLeast),
            finished,
            Column::new("done").without_interval().key("finished_min"),
            Column::new("behind plan, min")
                .brief("behind, min")
                .key("behind_min"),
            Column::new("worst gap, min")
                .only_in_files()
                .with_ends("worst_gap_min"),
            Column::new("site stands, min")
                .only_in_files()
                .with_ends("stands_min"),
            Column::new("late loads")
                .page_only()
                .without_interval()
                .with_ends("late_share"),
            Column::new("truck waits, min a load")
                .screen_only()
                .brief("wait, min")
                .without_interval()
                .with_ends("wait_min"),
            Column::new("share of paid time at work")
                .only_in_files()
                .with_ends("truck_use"),
            Column::new(measure::said("cost per yd³"))
                .brief(measure::said("per yd³"))
                .without_interval()
                .with_ends("cost_per_yd3"),
            Column::new("more than the cheapest")
                .page_only()
                .with_ends("dearer_per_yd3"),
            Column::new("gaps against one truck fewer")
                .only_in_files()
                .with_ends("gap_chance_against_one_fewer"),
            Column::file("against_one_fewer_cost_per_yd3"),
        ],
    );
    // The study's own part of the JSON tells all of it.
    table.json = false;
    for plan in &answer.plans {
        let at = plan.cheapest.unwrap_or(plan.sizes.len() - 1);
        // Around the answer: what a truck less would do is above it, what one more would do below.
        let from = (at + 4)
            .saturating_sub(SHOWN)
            .min(plan.sizes.len().saturating_sub(SHOWN));
        for (place, size) in plan.sizes.iter().enumerate() {
            let marked = Some(place) == plan.cheapest;
            table
                .row(cells(answer, plan, (place, size)))
                .marked(marked)
                .page(std::ptr::eq(plan, shown))
                .screen(std::ptr::eq(plan, shown) && (from..from + SHOWN).contains(&place));
        }
    }
    table
}

fn cells(answer: &FleetAnswer, plan: &PourPlan, (place, size): (usize, &FleetSize)) -> Vec<Cell> {
    let is = |at: Option<usize>| at == Some(place);
    let mark = match (is(plan.cheapest), is(plan.smallest), size.is_final) {
        (true, _, _) => " ← cheapest",
        (false, true, _) => " ← fewest",
        (false, false, true) => "",
        (false, false, false) => " (search only)",
    };
    let finished = size.finished_min.mean.map(Millis::from_minutes);
    let behind = size.behind(plan).map(|behind| behind.minutes());
    let dearer = plan.dearer.iter().find(|(at, _)| *at == place);
    vec![
        sentences::plan_words(answer, plan).into(),
        clock(answer, plan.first).into(),
        plan.spacing.minutes().into(),
        Cell::worded(format!("{}{mark}", size.trucks), Some(size.trucks.into())),
        Cell::count(size.drivers.into()),
        Cell::yes(size.is_final && size.meets(answer.target, answer.late_share)),
        (size.replications as f64).into(),
        Cell::yes(size.is_final),
        failure(&size.no_gap),
        size.finished
            .as_ref()
            .map_or(Cell::Blank, |chance| Cell::chance(chance, 1)),
        finished.map_or(Cell::unknown(), |finished| {
            Cell::worded(
                clock(answer, finished),
                Some((finished - answer.midnight).minutes()),
            )
        }),
        behind.map_or(Cell::unknown(), |behind| {
            Cell::number(behind, Unit::Plain, 0)
        }),
        Cell::estimate(&size.worst_pause_min, Unit::Plain, 1),
        Cell::estimate(&size.stands_min, Unit::Plain, 0),
        Cell::estimate(&size.late_share, Unit::Share, 1),
        Cell::estimate(&size.wait_min, Unit::Plain, 1),
        Cell::estimate(&size.truck_use, Unit::Share, 1),
        Cell::estimate(&sentences::per_volume(&size.cost_per_yd3), Unit::Money, 2),
        dearer.map_or(Cell::Blank, |(_, more)| {
            Cell::estimate(&sentences::per_volume(more), Unit::Money, 2).signed()
        }),
        size.truck_more.map_or(Cell::Blank, |more| Cell::Worded {
            words: sentences::against_fewer(&more),
            value: more.gap.mean,
            low: Some(more.gap.interval.low),
            high: Some(more.gap.interval.high),
        }),
        size.truck_more
            .and_then(|more| sentences::per_volume(&more.cost).mean)
            .into(),
    ]
}

/// What each truck more changes, in the same runs.
pub(super) fn truck_more(plan: &PourPlan) -> Table {
    let mut table = Table::new(
        TRUCK_MORE,
        vec![
            Column::new("trucks").left(),
            Column::new("chance of a gap").left(),
            Column::new(measure::said("cost per yd³")),
        ],
    );
    for pair in plan.sizes.windows(2) {
        let [fewer, size] = pair else { continue };
        let Some(more) = &size.truck_more else {
            continue;
        };
        let searched = match fewer.is_final && size.is_final {
            true => "",
            false => " (search only)",
        };
        table.row([
            format!("{} in place of {}{searched}", size.trucks, fewer.trucks).into(),
            sentences::against_fewer(more).into(),
            Cell::estimate(&sentences::per_volume(&more.cost), Unit::Money, 2).signed(),
        ]);
    }
    table
}

/// What a yd³ costs with the fleet spoken of, part by part.
pub(super) fn parts(plan: &PourPlan) -> Table {
    let size = plan.spoken_of();
    let mut table = Table::new(
        PARTS,
        vec![
            Column::new("part of the cost").left().key("part"),
            Column::new("what it is").left().key("kind"),
            Column::new(measure::said("per yd³")).key("per_yd3"),
        ],
    );
    for (part, cost) in size.parts.iter().filter(|(_, cost)| cost.abs() >= 0.005) {
        table.row([
            part.words().into(),
            part.kind().words().into(),
            Cell::number(Quantity::PerVolume.told(*cost), Unit::Money, 2),
        ]);
    }
    table
        .row([
            "all of it".into(),
            Cell::Blank,
            Cell::estimate(&sentences::per_volume(&size.cost_per_yd3), Unit::Money, 2),
        ])
        .marked(true);
    table
}

/// How often the pour goes without a pause longer than some, with the fleet spoken of.
pub(super) fn joints(plan: &PourPlan) -> Table {
    let size = plan.spoken_of();
    let mut table = Table::new(
        JOINTS,
        vec![
            Column::new("a pause longer than").left().key("pause_min"),
            Column::new("chance").with_ends("chance"),
        ],
    );
    for (pause, chance) in JOINT_RISK.iter().zip(&size.no_pause_beyond) {
        let words = format!("{} min", sentences::minutes(*pause));
        table.row([Cell::worded(words, Some(pause.minutes())), failure(chance)]);
    }
    table
}

/// How often there would be a gap without one kind of trouble.
pub(super) fn troubles(answer: &FleetAnswer) -> Table {
    let mut table = Table::new(
        TROUBLES,
        vec![
            Column::new("without").left().key("without"),
            Column::new("chance of a gap").with_ends("gap_chance"),
        ],
    );
    let as_is = failure(&answer.shown().spoken_of().no_gap);
    table.row(["nothing left out".into(), as_is]).marked(true);
    for (trouble, no_gap) in &answer.without_trouble {
        table.row([trouble.words().into(), failure(no_gap)]);
    }
    table
}

/// One line for each plan, its cheapest fleet.
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
        let size = plan.cheapest.map(|at| &plan.sizes[at]);
        table
            .row([
                sentences::plan_words(answer, plan).into(),
                size.map_or(Cell::worded("none does", None), |size| {
                    Cell::count(size.trucks.into())
                }),
                size.map_or(Cell::unknown(), |size| failure(&size.no_gap)),
                size.map_or(Cell::unknown(), |size| {
                    Cell::estimate(&sentences::per_volume(&size.cost_per_yd3), Unit::Money, 2)
                }),
            ])
            .marked(answer.best == Some(place));
    }
    table
}

/// Hour by hour what the plan needs, and trucks and drivers at work for the pour with the fleet spoken of.
pub(super) fn hours(answer: &FleetAnswer) -> Table {
    let shown = answer.shown();
    // Where nobody is called in, or nobody takes a truck over, there is nothing to see.
    let column = |heading: &'static str, seen: bool| match seen {
        true => Column::new(heading),
        false => Column::new(heading).only_in_files(),
    };
    let called = |heading| column(heading, !shown.calls.is_empty());
    let later = |heading| column(heading, shown.calls.iter().any(|call| call.later));
    let mut table = Table::new(
        BY_HOUR,
        vec![
            Column::file("first_load"),
            Column::file("spacing_min"),
            Column::new("hour from").left().key("hour"),
            Column::new("round trip planned, min").key("planned_round_trip_min"),
            Column::new("trucks the plan needs").key("trucks_needed"),
            Column::new("trucks at work, average").key("mean_trucks_at_work"),
            Column::new("enough for 9 in 10").key("enough_for_9_in_10"),
            called("drivers called in").key("drivers_called"),
            called("on duty, first shift").key("on_duty_first_shift"),
            later("on duty, later shift").key("on_duty_later_shift"),
            later("trucks handed over").key("handed_over"),
        ],
    );
    table.json = false;
    let mean = |value: f64| Cell::number(value, Unit::Plain, 1);
    for plan in &answer.plans {
        for hour in &plan.hours {
            let round_trip = hour.round_trip.map(Millis::minutes);
            table
                .row([
                    clock(answer, plan.first).into(),
                    plan.spacing.minutes().into(),
                    clock(answer, hour.from).into(),
                    round_trip.map_or(Cell::unknown(), |minutes| {
                        Cell::number(minutes, Unit::Plain, 0)
                    }),
                    Cell::count(hour.needed.into()),
                    mean(hour.at_work),
                    Cell::count(hour.enough as u64),
                    Cell::count(hour.called.into()),
                    mean(hour.on_duty[0]),
                    mean(hour.on_duty[1]),
                    mean(hour.handed_over),
                ])
                .page(std::ptr::eq(plan, shown));
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
