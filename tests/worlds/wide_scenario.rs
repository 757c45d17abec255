//! Random small scenarios in which any field may stand besides those of `random_scenario`, and roads may be a network.

use crate::random_scenario;
use proptest::prelude::*;
use rand::rngs::ChaCha8Rng;
use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};

/// Where an entry begins, and fields that may stand in it, each with those that it does not go with.
type Fields = (
    &'static str,
    &'static [(&'static str, &'static [&'static str])],
);

/// Where an entry begins, and fields that may stand in it. A field is left out where the entry has one of that name already, or one of
/// those that it does not go with.
const FIELDS: [Fields; 23] = [
    (
        "    name: \"random\"",
        &[
            ("about: \"Anything that may be written\"", &[]),
            (
                "yard: (pre_trip: Uniform(5, 20), washout: Uniform(5, 30), post_trip: Triangular(2, 5, 12))",
                &[],
            ),
            ("weighing: (empty_over_lb: 700, empty_sd_lb: 900)", &[]),
        ],
    ),
    ("period: (", &[("measure: (from_h: 3, to_h: 40)", &[])]),
    (
        "company: (",
        &[
            ("driver_caution: 0.6", &[]),
            ("call_time: \"15:30\"", &[]),
            ("order_open_h: 6", &[]),
            ("drum_cleaning_min: 100", &[]),
            ("relief: true", &[]),
            ("most_days_in_row: 2", &[]),
        ],
    ),
    (
        "money: (",
        &[
            ("second_overtime: (after_h: 12, factor: 2)", &[]),
            ("night: (from: \"20:00\", to: \"05:00\", per_h: 2.5)", &[]),
            ("weekend: (days: [Saturday, Sunday], factor: 1.25)", &[]),
            ("pump_standby_per_h: 120", &[]),
            ("site_crew_per_h: 90", &[]),
            ("pay_per_h: 31", &[]),
            ("overtime_after_h: 7", &[]),
            ("overtime_factor: 1.7", &[]),
            ("truck_per_duty_h: 22", &[]),
            ("truck_per_driven_h: 33", &[]),
            ("truck_per_mile: 0.7, miles_at_mph: 28", &[]),
            ("per_washout: 6", &[]),
            ("found_heavy: 700", &[]),
            ("crew_per_open_h: 90", &[]),
            ("material_per_yd3: 99", &[]),
            ("dumped_per_yd3: 45", &[]),
            ("returned_per_yd3: 35", &[]),
            ("payroll_tax: 0.1", &[]),
            ("late_per_load: 40", &[]),
            ("late_per_min: 3", &[]),
            ("first_late_per_min: 6", &[]),
            ("gap_per_min: 7", &[]),
            ("broken_pour: 900", &[]),
            ("early_per_min: 0.5", &[]),
            ("outside_per_load: 25", &[]),
            ("below_strength: 300", &[]),
            ("moved_per_min: 2", &[]),
            ("moved_lost_share: 0.2", &[]),
            ("undelivered_per_yd3: 150", &[]),
            ("stranded: 350", &[]),
            ("lodging: 120", &[]),
            ("helper_per_h: 60", &[]),
            ("drum_stabilized: 90", &[]),
            ("drum_emptied: 1400", &[]),
            ("drum_chipped_out: 4000", &[]),
            (
                "revenue: (per_yd3: 165, prices: {\"standard\": 171}, unloading_min_per_yd3: 6, unloading_per_min: 2, short_load_under_yd3: 9, short_load: 80)",
                &[],
            ),
        ],
    ),
    (
        "changes: (",
        &[
            ("not_ready_min: Gamma(mean: 30, cv: 0.6)", &[]),
            ("hold_min: Uniform(10, 60)", &[]),
            ("phones_ahead: 0.4", &[]),
            ("no_show: 0.1", &[]),
        ],
    ),
    ("concrete: (", &[("empty: Uniform(5, 15)", &[])]),
    (
        "mixes: [(name: \"standard\",",
        &[
            ("air_tolerance: 1.2", &[]),
            ("slump_tolerance_in: 1.2", &[]),
            ("yard_slump_in: 5", &[]),
            (
                "gravities: (cement: 3.15, binder: 2.4, fine: 2.64, coarse: 2.7, hrwr: 1.07)",
                &[],
            ),
        ],
    ),
    (
        "tickets: (",
        &[
            ("knows: 0.6", &[]),
            ("warned: 0.9", &[]),
            ("worn: 0.7", &[]),
        ],
    ),
    (
        "on_site: (",
        &[("by_eye_in: 1", &[]), ("retemper: false", &[])],
    ),
    (
        "sensitivity: (",
        &[
            ("strength_per_air: 0.04", &[]),
            ("slump_in_per_air: 0.4", &[]),
        ],
    ),
    (
        "rack: (",
        &[
            ("misread_if_warned: 0.2", &[]),
            ("dry_up: Triangular(3, 5, 9)", &[]),
        ],
    ),
    (
        "moisture: (",
        &[
            ("fine: 0.06", &[]),
            ("coarse: 0.02", &[]),
            ("probe_share: 0.4", &[]),
        ],
    ),
    (
        "corrections: (",
        &[
            ("looks_again: 0.5", &[]),
            ("minutes: Uniform(2, 6)", &[]),
            ("cement_per_lb: 0.08", &[]),
            ("fine_per_lb: 0.02", &[]),
        ],
    ),
    (
        "(name: \"P",
        &[
            ("truck_scale: true", &[]),
            ("mixes: [\"standard\"]", &[]),
            (
                "planned_outages: [(day: 2, from: \"07:00\", to: \"08:00\")]",
                &["planned_outages"],
            ),
        ],
    ),
    (
        "(name: \"T",
        &[
            ("needs: (class: B)", &["needs"]),
            ("empty_lb: 28500", &[]),
            (
                "axles: [(at_ft: 0, empty_lb: 12000, share: 0.15), (at_ft: 16, empty_lb: 8500, share: 0.42), (at_ft: 20.5, empty_lb: 8500, share: 0.43)]",
                &["empty_lb"],
            ),
        ],
    ),
    (
        "breakdowns: (",
        &[
            ("call_min: 3", &[]),
            ("drum_turns_share: 0.5", &[]),
            ("empty_min: 30", &[]),
            ("out_days: 2", &[]),
        ],
    ),
    (
        "(name: \"D",
        &[
            ("pay_per_h: 29.5", &["hauler_per_h"]),
            ("class: B, endorsements: [\"tanker\"]", &["class"]),
            ("rule_book: DutyWindow(hours: 9, rest_hours: 8)", &[]),
            ("care: 0.5", &[]),
            ("seniority: 3", &[]),
            ("days: [Friday, Saturday]", &[]),
            ("class: A", &[]),
        ],
    ),
    (
        "(name: \"H",
        &[
            ("history: (hours: [4, 6], released_h_before: 12)", &[]),
            ("class: B, endorsements: [\"tanker\"]", &["class"]),
            ("days: [Friday]", &[]),
        ],
    ),
    (
        "(name: \"O",
        &[
            ("mix: \"standard\"", &[]),
            ("customer: \"Quay builders\"", &[]),
            ("late_min: 5", &[]),
            ("gap_min: 8", &[]),
            ("pump: true", &[]),
            ("balance_yd3: Uniform(0, 5)", &[]),
            ("position: Gamma(mean: 3, cv: 0.4)", &[]),
            (
                "discharge_luck: Lognormal(mean: 1, cv: 0.35)",
                &["discharge"],
            ),
            ("discharge: Uniform(6, 20)", &["outlets", "discharge_luck"]),
            ("chute_wash: Uniform(3, 9)", &[]),
        ],
    ),
    (
        "(name: \"few",
        &[
            ("mix: \"standard\"", &[]),
            ("age_waived_share: 0.3", &[]),
            ("stabilizer: (min: 10, per_yd3: 4)", &[]),
            ("discharge: Uniform(6, 20)", &["outlets", "discharge_luck"]),
            ("customer: \"Small works\"", &[]),
            ("at_most: 6", &[]),
            ("days: [Saturday]", &[]),
            ("most_yd3: 25", &[]),
            ("load_yd3: 7", &[]),
            ("plant: \"P0\"", &[]),
            ("late_min: 30", &[]),
            ("gap_min: 30", &[]),
            ("setup_min: 20", &[]),
            ("outdoor: true", &[]),
            ("pump: true", &[]),
            ("balance_yd3: Uniform(1, 3)", &[]),
            ("outlets: [(rate_yd3_min: 0.8, places: 2)]", &[]),
            ("waiting_room: 1", &[]),
            ("position: Uniform(1, 4)", &[]),
            ("discharge_luck: Lognormal(mean: 1, cv: 0.2)", &[]),
            ("chute_wash: Uniform(3, 9)", &[]),
        ],
    ),
    (
        "(name: \"E",
        &[("load_yd3: 7", &[]), ("mix: \"standard\"", &[])],
    ),
    (
        "(site: \"S",
        &[
            ("discharge: Uniform(6, 20)", &["outlets"]),
            ("outlets: [(rate_yd3_min: 1.2)]", &[]),
            ("waiting_room: 2", &[]),
            ("position: Uniform(1, 4)", &[]),
            ("chute_wash: Uniform(3, 9)", &[]),
        ],
    ),
    (
        "(name: \"R",
        &[
            ("about: \"a rule like any\"", &[]),
            ("early_min: 4", &[]),
            ("spacing_factor: 0.9", &[]),
            ("weight_margin_lb: 400", &[]),
            ("bay_queue_seen: true", &["bay_wait_min"]),
        ],
    ),
];

/// Where the entry that begins here ends.
pub(crate) fn end_of(text: &str, from: usize) -> usize {
    let mut depth = 0;
    for (at, sign) in text[from..].char_indices() {
        match sign {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        if depth < 0 || depth == 0 && ")]}".contains(sign) {
            return from + at;
        }
    }
    text.len()
}

/// The text with fields put in by chance.
fn widened(mut text: String, seed: u64) -> String {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let often = *[0.1, 0.3, 0.7].choose(&mut rng).expect("some");
    for (anchor, fields) in FIELDS {
        let mut from = 0;
        while let Some(found) = text[from..].find(anchor) {
            let start = from + found;
            let bracket = start + anchor.find('(').unwrap_or(0);
            // Behind the name of an entry, or the bracket of a block.
            let put = match anchor.contains("(name")
                || anchor.contains("(site")
                || anchor.contains("name:")
            {
                true => text[start..]
                    .find('"')
                    .map(|at| start + at + 1)
                    .and_then(|at| text[at..].find('"').map(|end| at + end + 1)),
                false => Some(start + anchor.len()),
            };
            let put = put.expect("a name ends");
            for (field, apart) in fields {
                let entry = text[bracket..end_of(&text, bracket)].to_owned();
                let key = field.split(':').next().expect("it has a name");
                let has = |name: &str| entry.contains(&format!("{name}:"));
                let whole =
                    anchor.starts_with("    name") && text.contains(&format!("\n    {key}:"));
                if !has(key)
                    && !whole
                    && !apart.iter().any(|name| has(name))
                    && rng.random_bool(often)
                {
                    let in_block = put == start + anchor.len() && anchor.ends_with('(');
                    text.insert_str(
                        put,
                        &if in_block {
                            format!("{field}, ")
                        } else {
                            format!(", {field}")
                        },
                    );
                }
            }
            from = put;
        }
    }
    if rng.random_bool(0.3) {
        on_a_network(&text, &mut rng)
    } else {
        text
    }
}

/// The same places on roads that form a ring around a bridge that lifts, with a weigh station, a weak bridge and incidents.
fn on_a_network(text: &str, rng: &mut ChaCha8Rng) -> String {
    let from = text.find("    roads: (").expect("there are roads");
    let to = from + text[from..].find("\n    trucks:").expect("trucks follow");
    let plants = (0..3).filter(|plant| text.contains(&format!("(name: \"P{plant}\"")));
    let mut links = String::new();
    for plant in plants {
        links += &format!(
            "(from: \"P{plant}\", to: \"West\", miles: {}, mph: 30, profile: \"busy\"), ",
            2 + plant
        );
    }
    for site in 0..3 {
        links += &format!(
            "(from: \"East\", to: \"S{site}\", miles: {}, mph: 25, grade_percent: {}, incidents: (per_day: 0.5, minutes: Uniform(10, 40), factor: 2)), ",
            2 + 2 * site,
            3 * site
        );
    }
    let lifts = "lifts: [(from: \"08:00\", to: \"08:12\"), (days: [Friday], from: \"13:00\", to: \"13:10\")]";
    let weak = *[
        "weight_limit_lb: 40000",
        "closed_to_loaded: [(from: \"07:00\", to: \"09:00\")]",
    ]
    .choose(rng)
    .expect("some");
    let station = "weigh_station: (hours: [(from: \"06:00\", to: \"14:00\")], minutes: 4)";
    links += &format!(
        "(name: \"Low bridge\", from: \"West\", to: \"East\", miles: 1, mph: 30, {lifts}, {weak}), \
         (name: \"Long way\", from: \"West\", to: \"Mid\", miles: 4, mph: 40, profile: \"busy\", profile_back: \"quiet\", area: \"hills\", {station}), \
         (from: \"Mid\", to: \"East\", miles: 3, mph: 40, both_ways: true, area: \"hills\"),"
    );
    let network = format!(
        "    roads: Network(junctions: [\"West\", \"East\", \"Mid\"], links: [{links}], \
         profiles: [(name: \"busy\", days: [(factors: [(\"06:00\", 1.6), (\"10:00\", 1.0)])]), (name: \"quiet\", days: [(days: [Friday], factors: [(\"07:00\", 1.2)])])], \
         truck: (loaded_lb: 66000, empty_lb: 28000, hp: 380), day_luck: Lognormal(mean: 1, cv: 0.1), luck: Lognormal(mean: 1, cv: 0.2), straight_line_mph: 24),"
    );
    let weighed = text.replace(
        "weighing: (",
        "weighing: (held: Uniform(20, 60), goes_round: 0.2, ",
    );
    let (from, to) = (
        from + weighed.len() - text.len(),
        to + weighed.len() - text.len(),
    );
    format!("{}{network}{}", &weighed[..from], &weighed[to..])
}

/// Any small scenario with any fields.
pub(crate) fn any_fields() -> impl Strategy<Value = String> {
    let worlds = prop_oneof![
        random_scenario::any_scenario(),
        random_scenario::with_clocks()
    ];
    (worlds, any::<u64>()).prop_map(|(text, seed)| widened(text, seed))
}
