//! What `check` says makes no difference makes none: in random worlds it is written otherwise, and every figure stays as it was.

use crate::all_rules;
use crate::wide_scenario::{self, end_of};
use plantday::report::summary;
use plantday::scenario::parse;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::{BTreeMap, BTreeSet};

/// What fields are written as instead.
const OTHERWISE: [(&str, &str); 36] = [
    ("not_ready_min", "Constant(77)"),
    ("phones_ahead", "0.9"),
    ("phones_ahead_min", "11"),
    ("hold_min", "Constant(77)"),
    ("rain_slows", "2.5"),
    ("outdoor", "false"),
    ("found_heavy", "7777"),
    ("miles_at_mph", "11"),
    ("below_strength", "7777"),
    ("pump_standby_per_h", "7777"),
    ("moved_per_min", "77"),
    ("moved_lost_share", "0.9"),
    ("stranded", "7777"),
    ("lodging", "777"),
    ("helper_per_h", "777"),
    ("drum_stabilized", "7777"),
    ("drum_emptied", "7777"),
    ("drum_chipped_out", "7777"),
    ("outside_per_load", "777"),
    ("workweek", "Thursday"),
    ("short_load", "777"),
    ("short_load_under_yd3", "20"),
    ("unloading_min_per_yd3", "1"),
    ("latest_report_h", "9"),
    ("least_week_h", "9"),
    ("stranded_drive_car", "true"),
    ("call_time", "\"05:15\""),
    ("care", "0.01"),
    ("history", "(hours: [13, 13, 13])"),
    ("parking", "false"),
    ("retrieval", "RestOut"),
    ("drivers_word", "NotAsked"),
    ("override_gates", "Never"),
    ("additions", "TakeAll"),
    ("plants", "NearestFirst(late_min: 10)"),
    ("yard", "()"),
];

/// The text with every value of a field between two places written otherwise.
fn written_otherwise(text: &str, field: &str, by: &str, (from, to): (usize, usize)) -> String {
    let mut changed = text[..from].to_owned();
    let mut at = from;
    while let Some(found) = text[at..to].find(&format!("{field}: ")) {
        let key = at + found;
        let value = key + field.len() + 2;
        let mut depth = 0;
        let ends = text[value..].find(|sign: char| {
            depth += i32::from("([{".contains(sign)) - i32::from(")]}".contains(sign));
            depth < 0 || depth == 0 && sign == ','
        });
        let end = value + ends.expect("a value ends");
        let whole = text[..key].ends_with([' ', '(', '\n']);
        changed += &text[at..value];
        changed += if whole { by } else { &text[value..end] };
        at = end;
    }
    changed + &text[at..]
}

/// Days with what random worlds hardly ever lack: hours without a limit, no helper, orders that are all known, prices without their
/// occasion.
fn by_hand() -> [String; 2] {
    [
        "short_load: 80, unloading_min_per_yd3: 7",
        "short_load_under_yd3: 9",
    ]
    .map(|revenue| {
        format!(
            r#"(
    name: "by hand", period: (first_day: Friday, days: 2), rule_book: "none",
    company: (latest_report_h: 3, least_week_h: 2, stranded_drive_car: false),
    changes: (not_ready: 0.5, phones_ahead_min: 30, rain_slows: 1.5),
    money: (revenue: (per_yd3: 165, {revenue}), miles_at_mph: 28, stranded: 350, lodging: 120, helper_per_h: 60, workweek: Sunday),
    plants: [(name: "P0", hours: [(open: "05:00", close: "12:00")])],
    sites: [(name: "S0")],
    roads: (minutes: {{ "P0": {{ "S0": (25, 20) }} }}, luck: Lognormal(mean: 1, cv: 0.3)),
    trucks: [(name: "T0", count: 3, home: "P0")],
    drivers: [(name: "D0", trucks: "T0", report: "06:00", shift_h: 9, history: (hours: [4, 6])),],
    orders: [(name: "O0", site: "S0", first: "07:00", volume_yd3: 84, spacing_min: 12, outlets: [(rate_yd3_min: 1)]),
        (name: "O1", site: "S0", day: 2, first: "08:00", volume_yd3: 6, spacing_min: 12, outlets: [(rate_yd3_min: 1)])],
    rules: [(name: "R0", override_gates: IfLate(minutes: 25), gates: [], additions: OnlyIfHolds),],
)"#
        )
    })
}

#[test]
fn what_is_said_to_make_no_difference_makes_none() {
    let mut runner = TestRunner::deterministic();
    let mut said: BTreeMap<&str, u32> = BTreeMap::new();
    let mut wrong: BTreeSet<String> = BTreeSet::new();
    let random = (0..500).map(|_| {
        let text = wide_scenario::any_fields().new_tree(&mut runner);
        text.expect("a scenario").current()
    });
    let texts: Vec<String> = random.chain(by_hand()).collect();
    for text in texts {
        let scenario = parse("random", &text).unwrap_or_else(|faults| panic!("{faults}\n{text}"));
        let answer = summary::answer(&scenario).json();
        let doubts = answer["doubts"].as_array().expect("a list of doubts");
        let mut before = None;
        for doubt in doubts.iter().filter_map(|doubt| doubt.as_str()) {
            // The field stands in the first backticks: a block's, or a decision's of a rule.
            let Some(field) = doubt.split('`').nth(1) else {
                continue;
            };
            let rule = doubt.split(' ').next().filter(|name| name.starts_with('R'));
            let Some((field, by)) = OTHERWISE.iter().find(|(name, _)| *name == field) else {
                continue;
            };
            let whole = match rule {
                Some(rule) => {
                    let from = text.find(&format!("(name: \"{rule}\""));
                    from.map(|from| (from, end_of(&text, from)))
                }
                None if doubt.contains("makes no difference") => Some((0, text.len())),
                None => None,
            };
            let Some(whole) = whole else { continue };
            let changed = written_otherwise(&text, field, by, whole);
            if changed == text {
                continue;
            }
            let other = parse("random", &changed);
            let other = other.unwrap_or_else(|faults| panic!("{doubt}\n{faults}\n{changed}"));
            let before = before.get_or_insert_with(|| all_rules::figures(&scenario, 17, 2));
            if *before != all_rules::figures(&other, 17, 2) {
                wrong.insert(doubt.to_owned());
            }
            *said.entry(field).or_default() += 1;
        }
    }
    println!("{said:?}");
    assert!(wrong.is_empty(), "these make a difference: {wrong:#?}");
    let never: Vec<&str> = OTHERWISE
        .iter()
        .map(|(field, _)| *field)
        .filter(|field| !said.contains_key(field))
        .collect();
    assert_eq!(never, [""; 0], "these are never said: {said:?}");
}
