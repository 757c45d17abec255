//! What is written and makes no difference, as what it needs is nowhere in the scenario.

use crate::dispatch::{
    Additions, DriversWord, Override, Plants, Retrieval, Rule, Shift, YardPractice,
};
use crate::scenario::Scenario;
use crate::units::measure;

/// A field of the list of defaults, whether anything reads it in a scenario, and what is missing otherwise.
type Needs = (&'static str, fn(&Scenario) -> bool, &'static str);

const NEEDS: [Needs; 30] = [
    ("changes.not_ready_min", sites_wait, NO_SITE_WAITS),
    ("changes.phones_ahead", sites_wait, NO_SITE_WAITS),
    (
        "changes.phones_ahead_min",
        |s| sites_wait(s) && s.changes.phones_ahead > 0.0,
        "no site phones ahead (`phones_ahead`)",
    ),
    (
        "changes.hold_min",
        |s| s.changes.hold > 0.0,
        "no pour stops (`hold`)",
    ),
    ("changes.rain_slows", rains, NO_RAIN),
    ("orders.outdoor", rains, NO_RAIN),
    (
        "money.found_heavy",
        |s| s.roads.has_weigh_stations(),
        "no road has a weigh station",
    ),
    (
        "money.miles_at_mph",
        |s| s.money.truck_per_mile.units() > 0.0,
        "a mile has no price (`truck_per_mile`)",
    ),
    ("money.below_strength", described, NO_MIXES),
    (
        "money.pump_standby_per_h",
        |s| s.orders.iter().any(|order| order.pump),
        "no order has a pump (`pump`)",
    ),
    ("money.moved_per_min", moves_orders, NO_ORDER_MOVES),
    ("money.moved_lost_share", moves_orders, NO_ORDER_MOVES),
    ("money.stranded", may_strand, NO_LIMITS),
    ("money.lodging", may_strand, NO_LIMITS),
    (
        "money.helper_per_h",
        |s| !s.helpers.is_empty(),
        "there is no helper",
    ),
    ("money.drum_stabilized", breaks_down, NO_BREAKDOWNS),
    ("money.drum_emptied", breaks_down, NO_BREAKDOWNS),
    ("money.drum_chipped_out", breaks_down, NO_BREAKDOWNS),
    (
        "money.outside_per_load",
        has_full_sites,
        "every site has room for all trucks that wait (`waiting_room`)",
    ),
    (
        "money.workweek",
        counts_weeks,
        "nothing is paid by the week (`overtime_after_week_h`, `guaranteed_week_h`)",
    ),
    (
        "money.revenue.short_load",
        |s| s.money.revenue.short_load_under.yd3() > 0.0,
        "no order is too small (`short_load_under_yd3`)",
    ),
    (
        "money.revenue.short_load_under_yd3",
        |s| s.money.revenue.short_load.units() > 0.0,
        "a small order has no price (`short_load`)",
    ),
    (
        "money.revenue.unloading_min_per_yd3",
        |s| s.money.revenue.unloading_per_min.units() > 0.0,
        "a minute beyond it has no price (`unloading_per_min`)",
    ),
    ("company.latest_report_h", may_strand, NO_LIMITS),
    ("company.least_week_h", may_strand, NO_LIMITS),
    ("company.stranded_drive_car", may_strand, NO_LIMITS),
    (
        "company.call_time",
        |s| {
            s.rules
                .iter()
                .any(|rule| matches!(rule.shift, Shift::Matched { .. }))
        },
        "no rule calls drivers in for the next day (`shift`)",
    ),
    (
        "drivers.care",
        |s| described(s) || s.concrete.rack.is_some(),
        "no load is misread (`rack` or `mixes` in `concrete`)",
    ),
    (
        "drivers.history",
        |s| may_strand(s) || counts_weeks(s),
        "no hours of the days before count",
    ),
    ("sites.parking", may_strand, NO_LIMITS),
];

const NO_SITE_WAITS: &str = "every site is ready in time (`not_ready`)";
const NO_RAIN: &str = "there is no rain (`rain`)";
const NO_MIXES: &str = "no mixes are described (`mixes` in `concrete`)";
const NO_ORDER_MOVES: &str = "no rule takes an order for another time (`additions`)";
const NO_LIMITS: &str = "no driver's hours have a limit";
const NO_BREAKDOWNS: &str = "no truck breaks down (`breakdowns`)";

fn sites_wait(scenario: &Scenario) -> bool {
    scenario.changes.not_ready > 0.0
}

fn rains(scenario: &Scenario) -> bool {
    scenario.changes.rain > 0.0
}

fn described(scenario: &Scenario) -> bool {
    scenario.concrete.material.is_some()
}

fn moves_orders(scenario: &Scenario) -> bool {
    let moves = |rule: &Rule| matches!(rule.additions, Additions::FirstFreeTime { .. });
    scenario.rules.iter().any(moves)
}

/// Whether a driver can come to the end of the hours that are allowed.
fn may_strand(scenario: &Scenario) -> bool {
    let company = &scenario.company;
    company.no_load_after.is_some()
        || company.finish_within.is_some()
        || company.days_in_row.is_some()
        || scenario
            .drivers
            .iter()
            .any(|driver| driver.rule_book.limits())
}

fn breaks_down(scenario: &Scenario) -> bool {
    scenario
        .trucks
        .iter()
        .any(|truck| truck.breakdowns.is_some())
}

fn has_full_sites(scenario: &Scenario) -> bool {
    let endless = scenario
        .endless
        .iter()
        .flat_map(|order| &order.destinations);
    let orders = scenario.orders.iter().map(|order| &order.stay);
    orders
        .chain(endless)
        .any(|stay| stay.waiting_room.is_some())
}

fn counts_weeks(scenario: &Scenario) -> bool {
    let money = &scenario.money;
    money.overtime_after_week.is_some() || money.guaranteed_week.hours() > 0.0
}

/// Fields that the scenario writes.
pub(super) fn fields(scenario: &Scenario, doubts: &mut Vec<String>) {
    let written = |path: &str| scenario.marks.of(path).is_some_and(|mark| mark.written > 0);
    for (path, is_read, missing) in NEEDS {
        if written(path) && !is_read(scenario) {
            let (block, name) = path.rsplit_once('.').unwrap_or(("", path));
            doubts.push(format!(
                "`{}` in `{block}` makes no difference: {}",
                measure::key(name).0,
                in_units(missing)
            ));
        }
    }
}

/// The words with names of fields as the scenario writes them.
fn in_units(words: &str) -> String {
    let parts = words.split('`').enumerate();
    let told = parts.map(|(at, part)| match at % 2 {
        0 => part.into(),
        _ => measure::key(part).0,
    });
    told.collect::<Vec<_>>().join("`")
}

/// Decisions of rules.
pub(super) fn decisions(scenario: &Scenario, doubts: &mut Vec<String>) {
    let limits = may_strand(scenario);
    let added = scenario.orders.iter().any(|order| {
        order.chance < 1.0 || order.called > crate::units::Millis::ZERO || order.slot.is_some()
    });
    let usual = scenario
        .orders
        .iter()
        .any(|order| order.usual_plant.is_some());
    for rule in &scenario.rules {
        let mut says = |what: &str| doubts.push(format!("{} {what}", rule.name));
        if rule.retrieval != Retrieval::RestOut && !limits {
            says(
                "has stranded drivers picked up (`retrieval`), and no driver's hours have a limit",
            );
        }
        if rule.drivers_word != DriversWord::NotAsked && !limits {
            says(
                "asks drivers whether they come home in time (`drivers_word`), and no driver's hours have a limit",
            );
        }
        if rule.override_gates != Override::Never && rule.gates.is_empty() {
            says(
                "overrides its check of drivers' hours (`override_gates`), and has none (`gates`)",
            );
        }
        if rule.additions != Additions::TakeAll && !added {
            says(
                "decides on orders that are added (`additions`), and all are known from the start",
            );
        }
        if matches!(rule.plants, Plants::UsualFirst { .. }) && !usual {
            says("asks an order's usual plant first (`plants`), and no order names one (`plant`)");
        }
        let practice = rule.yard != YardPractice::USUAL && !rule.yard.warns();
        if practice && scenario.concrete.rack.is_none() && !described(scenario) {
            says(
                "has habits at the slump rack (`yard`), and no load is misread without `rack` or `mixes` in `concrete`",
            );
        }
    }
}
