//! Every field that a scenario may have occurs in the random worlds, but for those that are named here with the reason.

use crate::attack::fields_written;
use crate::{random_scenario, wide_scenario};
use plantday::scenario::outline;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

/// Fields that stand in none of them, those within included, and why.
const LEFT_OUT: [(&str, &str); 39] = [
    ("units", STUDIES),
    ("currency", STUDIES),
    ("worlds", STUDIES),
    ("rules.today", STUDIES),
    ("rule_books", BOOKS),
    ("drivers.restrictions", LICENSES),
    ("trucks.needs.bars", LICENSES),
    ("trucks.needs.endorsements", LICENSES),
    ("helpers.restrictions", LICENSES),
    ("drawn.per_day.mean", BRACKETS),
    ("rules.yard.read_after.minutes", BRACKETS),
    ("rules.yard.read_after.revolutions", BRACKETS),
    ("rules.override_gates.share", BRACKETS),
    ("helpers.rule_book.hours", BRACKETS),
    ("helpers.rule_book.rest_hours", BRACKETS),
    ("plants.hours.days", ELSEWHERE),
    ("roads.links.closed_to_loaded.days", ELSEWHERE),
    ("roads.links.weigh_station.hours.days", ELSEWHERE),
    ("orders.pour_rate_yd3_h", ELSEWHERE),
    ("orders.discharge", ELSEWHERE),
    ("drawn.pour_rate_yd3_h", ELSEWHERE),
    ("drawn.age_limit_min", ELSEWHERE),
    ("endless.destinations.outlets.places", ELSEWHERE),
    ("endless.destinations.discharge_luck", ELSEWHERE),
    ("helpers.history.last_long_day", ELSEWHERE),
    ("helpers.history.tours_ended_home", ELSEWHERE),
    ("concrete.mixes.fine_lb", CONCRETE),
    ("concrete.mixes.strength.a_psi", CONCRETE),
    ("concrete.mixes.strength.b", CONCRETE),
    ("concrete.mixes.hrwr_kind", CONCRETE),
    ("concrete.meter", CONCRETE),
    ("concrete.temperature.f", CONCRETE),
    ("concrete.temperature.warmest_h", CONCRETE),
    ("concrete.concrete_at_70_f", CONCRETE),
    ("concrete.water_for_heat", CONCRETE),
    ("roads.profiles.days.volume_over_capacity", DAYS),
    ("money.show_up.least_h", DAYS),
    ("money.show_up.most_h", DAYS),
    ("rules.bay_queue_seen", DAYS),
];
const STUDIES: &str = "one run of a world does not read it";
const BOOKS: &str = "random logs hold every limit of a rule book (tests/hours)";
const LICENSES: &str = "tests/hours holds who may drive what";
const BRACKETS: &str = "it is written without its name";
const ELSEWHERE: &str = "the same reader reads it in another place";
const CONCRETE: &str = "tests/concrete holds it";
const DAYS: &str = "days on paper hold it (tests/days)";

#[test]
fn every_field_occurs_in_random_worlds() {
    let mut runner = TestRunner::deterministic();
    let mut written: BTreeSet<String> = BTreeSet::new();
    for _ in 0..400 {
        for worlds in [
            random_scenario::any_scenario().boxed(),
            random_scenario::with_clocks().boxed(),
            wide_scenario::any_fields().boxed(),
        ] {
            let text = worlds.new_tree(&mut runner).expect("a scenario").current();
            written.extend(fields_written(&text));
        }
    }
    let takes = outline();
    let fields = takes.all_fields();
    let left_out = |path: &str| {
        LEFT_OUT
            .iter()
            .any(|(left, _)| path == *left || path.starts_with(&format!("{left}.")))
    };
    let missing: Vec<&str> = fields
        .iter()
        .map(|field| field.path.as_str())
        .filter(|path| !written.contains(*path) && !left_out(path))
        .collect();
    assert_eq!(
        missing, [""; 0],
        "these occur nowhere and are not left out with a reason"
    );
}
