//! Every case of the data file. Sources stand in the file, case by case; so does which answers are published.

use plantday::hours::review::{
    drivable_at, left_at, log_required, may_drive_from, off_duty_in_day, restarts, rests,
    violations,
};
use plantday::hours::{
    Adverse, Allowance, Clock, Clocks, DelayCause, DutyLog, DutyStatus, Entry, RuleSet,
    ShortHaulDay, TourRecord, air_miles, built_in, is_short_haul, window_of_tour,
};
use plantday::units::Millis;
use serde_json::Value;

const CASES: &str = include_str!("../../data/hours_cases.json");

/// How many cases of each kind the file holds, so that none is passed over.
const KINDS: [(&str, usize); 6] = [
    ("timeline", 59),
    ("cycle_table", 6),
    ("restart", 8),
    ("short_haul", 6),
    ("eligibility_16h", 6),
    ("canada_day", 1),
];

fn cases(kind: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(CASES).expect("the data file is JSON");
    let all = file["cases"].as_array().expect("a list").clone();
    let known: usize = KINDS.iter().map(|(_, count)| count).sum();
    assert_eq!(all.len(), known);
    let of_kind: Vec<Value> = all
        .into_iter()
        .filter(|case| case["kind"] == kind)
        .collect();
    let expected = KINDS.iter().find(|known| known.0 == kind).expect("a kind");
    assert_eq!(of_kind.len(), expected.1, "{kind}");
    of_kind
}

pub(crate) fn minutes(minutes: i64) -> Millis {
    Millis::MINUTE * minutes
}

fn at(value: &Value) -> Millis {
    minutes(value.as_i64().unwrap_or_else(|| panic!("minutes: {value}")))
}

fn status(word: &str) -> DutyStatus {
    match word {
        "off" => DutyStatus::OffDuty,
        "sleeper" => DutyStatus::Sleeper,
        "on" => DutyStatus::OnDuty,
        "drive" => DutyStatus::Driving,
        _ => panic!("status {word}"),
    }
}

/// The rule book of a case: weekly hours only where the case tests them.
fn rules(case: &Value) -> RuleSet {
    let name = case["rule_set"].as_str().expect("a name");
    let mut rules = built_in(name).unwrap_or_else(|| panic!("no rule book {name}"));
    match case["options"]["cycle"].as_str() {
        Some(cycle) => rules = rules.with_cycle(cycle).expect("weekly hours of that name"),
        None if case["kind"] == "timeline" => rules.cycle = None,
        None => {}
    }
    rules.day_start = case["carrier_day_start_min"]
        .as_i64()
        .map_or(Millis::ZERO, minutes);
    rules.construction_materials = case["options"]["construction_24h_restart"] == true;
    rules
}

/// The log of a case: a full rest before it, and no more.
fn log(case: &Value, rules: &RuleSet) -> DutyLog {
    let mut entries = Vec::new();
    let waiting: Vec<(Millis, Millis)> = case["options"]["ready_mix_waiting"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|pair| (at(&pair[0]), at(&pair[1])))
        .collect();
    for entry in case["timeline"].as_array().expect("a timeline") {
        let (from, to) = (at(&entry[1]), at(&entry[2]));
        let status = status(entry[0].as_str().expect("a word"));
        // Waiting lies inside an entry; it is cut out of it.
        let mut cuts = vec![from, to];
        cuts.extend(waiting.iter().flat_map(|wait| [wait.0, wait.1]));
        cuts.retain(|cut| (from..=to).contains(cut));
        cuts.sort();
        cuts.dedup();
        for piece in cuts.windows(2) {
            let waits = waiting
                .iter()
                .any(|wait| wait.0 <= piece[0] && piece[1] <= wait.1);
            entries.push(Entry {
                status: if waits { DutyStatus::Waiting } else { status },
                from: piece[0],
                to: piece[1],
            });
        }
    }
    let options = &case["options"];
    let adverse = (options["adverse_conditions"] == true)
        .then(|| Adverse::claim(DelayCause::Weather, false, true).expect("weather is a claim"));
    let allowance = Allowance {
        adverse,
        long_day: options["sixteen_hour_exception_valid"] == true,
        outside_short_haul: false,
        break_excused_until: options["q33_break_taken_at"].as_i64().map(minutes),
    };
    let daily = case["prior"]["daily_on_duty_hours"].as_array();
    let days = daily.map_or(0, Vec::len) as i64;
    let prior = daily.into_iter().flatten().enumerate();
    DutyLog {
        rested_since: entries[0].from - rules.reset_rest,
        entries,
        prior: prior
            .map(|(day, hours)| {
                let hours = hours.as_f64().expect("hours");
                (day as i64 - days, Millis::from_hours(hours))
            })
            .collect(),
        allowances: vec![(Millis::ZERO, allowance)],
        ..DutyLog::default()
    }
}

/// Violations as (name of the rule, from, to) in minutes, in one order.
fn found(log: &DutyLog, rules: &RuleSet) -> Vec<(String, i64, i64)> {
    let mut found: Vec<_> = violations(log, rules)
        .into_iter()
        .map(|violation| {
            let law = rules.law(violation.rule).expect("the rule exists");
            let minute = |moment: Millis| {
                assert_eq!(moment.0 % Millis::MINUTE.0, 0);
                moment.0 / Millis::MINUTE.0
            };
            (
                law.rule.to_string(),
                minute(violation.from),
                minute(violation.to),
            )
        })
        .collect();
    found.sort();
    found
}

fn expected(list: &Value) -> Vec<(String, i64, i64)> {
    let mut expected: Vec<_> = list
        .as_array()
        .expect("violations")
        .iter()
        .map(|violation| {
            let number = |key: &str| violation[key].as_i64().expect("minutes");
            let rule = violation["rule"].as_str().expect("a rule").to_owned();
            (rule, number("from"), number("to"))
        })
        .collect();
    expected.sort();
    expected
}

/// The clocks carried along to a moment.
pub(crate) fn carried(log: &DutyLog, rules: &RuleSet, at: Millis) -> Clocks {
    let mut clocks = Clocks::new(
        rules,
        log.begins(),
        log.rested_since,
        log.prior.iter().copied(),
    );
    let mut allowances = log.allowances.iter().peekable();
    for entry in log.entries.iter().filter(|entry| entry.from <= at) {
        while let Some((from, allowance)) = allowances.next_if(|(from, _)| *from <= entry.from) {
            clocks.allow(rules, *from, *allowance);
        }
        if entry.from < at {
            clocks.change(rules, entry.from, entry.status);
        }
    }
    if log.ends() < at {
        clocks.change(rules, log.ends(), DutyStatus::OffDuty);
    }
    clocks.advance(rules, at);
    clocks
}

#[test]
fn timelines() {
    for case in cases("timeline") {
        let (id, rules) = (&case["id"], rules(&case));
        let log = log(&case, &rules);
        let wanted = &case["expected"];
        assert_eq!(found(&log, &rules), expected(&wanted["violations"]), "{id}");
        for clock in wanted["clocks"].as_array().into_iter().flatten() {
            let moment = at(&clock["at"]);
            let left = left_at(&log, &rules, moment);
            for (key, left) in [
                ("drive_left", left.driving),
                ("window_left", left.window),
                ("onduty_left", left.on_duty),
                ("break_left", left.break_in),
                ("cycle_left", left.cycle),
            ] {
                if let Some(minutes) = clock.get(key) {
                    assert_eq!(left, Some(at(minutes)), "{id} {key} at {}", clock["at"]);
                }
            }
            assert_eq!(
                carried(&log, &rules, moment).left(&rules),
                left,
                "{id} carried"
            );
        }
        if let Some(minute) = wanted.get("may_drive_again_at") {
            let duty = log
                .entries
                .iter()
                .rfind(|entry| rules.is_duty(entry.status));
            let released = duty.expect("some duty").to;
            assert_eq!(may_drive_from(&log, &rules, released), at(minute), "{id}");
        }
        for (key, minute) in wanted["no_drive_from"].as_object().into_iter().flatten() {
            let rule = Clock::ALL
                .into_iter()
                .find(|rule| rules.law(*rule).is_some_and(|law| law.rule == key.as_str()))
                .expect("a rule of the book");
            let left = |at: Millis| left_at(&log, &rules, at).of(rule).expect("a clock");
            assert_eq!(left(at(minute)), Millis::ZERO, "{id} {key}");
            assert_eq!(left(at(minute) - minutes(1)), minutes(1), "{id} {key}");
        }
        if let Some(totals) = wanted.get("totals") {
            for (word, minutes) in totals.as_object().expect("totals") {
                let entries = log
                    .entries
                    .iter()
                    .filter(|entry| entry.status == status(word));
                let sum: Millis = entries.map(|entry| entry.to - entry.from).sum();
                assert_eq!(sum, at(minutes), "{id} {word}");
            }
        }
        if let Some(strict) = wanted.get("violations_strict_reading") {
            let mut log = log.clone();
            log.allowances.clear();
            assert_eq!(found(&log, &rules), expected(strict), "{id} strict");
        }
        if let Some(required) = wanted.get("record_of_duty_status_required") {
            // The day was to be short-haul: judged under that book.
            let short_haul = built_in("us_short_haul_2020").expect("a name");
            let mut log = log.clone();
            log.allowances[0].1.outside_short_haul = case["options"].get("q33_aware_at").is_some();
            let needed = log_required(&log, &short_haul, log.ends());
            assert_eq!(needed, required.as_bool().expect("yes or no"), "{id}");
        }
    }
}

#[test]
fn weekly_hours_day_by_day() {
    for case in cases("cycle_table") {
        let (id, mut rules) = (&case["id"], rules(&case));
        // Only the weekly hours are looked at.
        rules.driving = None;
        rules.window = None;
        let hours: Vec<Millis> = case["prior"]["daily_on_duty_hours"]
            .as_array()
            .expect("hours")
            .iter()
            .map(|hours| Millis::from_hours(hours.as_f64().expect("hours")))
            .collect();
        let limit = rules.cycle.as_ref().expect("weekly hours").limit;
        let restart = case["restart_before_index"].as_i64();
        // On duty for the last hours of a day, so that a morning off never makes a restart with the evening before; a
        // restart of the case is a rest of its own length before the day that it precedes.
        let mut clocks = Clocks::new(&rules, Millis::ZERO, Millis::ZERO, []);
        let mut available = Vec::new();
        let mut at_end = Vec::new();
        for (day, worked) in hours.iter().enumerate() {
            let begins = rules.day_begins(day as i64);
            clocks.advance(&rules, begins);
            if restart == Some(day as i64) {
                // The day's table has no room for 34 h off, so the rest is told apart from it.
                clocks = Clocks::new(
                    &rules,
                    begins,
                    begins - rules.restart().expect("one").length,
                    [],
                );
            }
            available.push(clocks.left(&rules).cycle);
            let ends = rules.day_begins(day as i64 + 1);
            // Up to the end of the day, or from its start after a day off: so a single day off is no restart.
            let from = match day.checked_sub(1) {
                Some(before) if hours[before] == Millis::ZERO => begins,
                _ => ends - *worked,
            };
            if *worked > Millis::ZERO {
                clocks.change(&rules, from, DutyStatus::OnDuty);
                if from + *worked < ends {
                    clocks.change(&rules, from + *worked, DutyStatus::OffDuty);
                }
            }
            // The last moment of the day, before the oldest day drops.
            clocks.advance(&rules, ends - Millis(1));
            at_end.push(clocks.left(&rules).cycle);
            clocks.change(&rules, ends, DutyStatus::OffDuty);
        }
        let after = rules.day_begins(hours.len() as i64);
        clocks.advance(&rules, after);
        if restart == Some(hours.len() as i64) {
            let rest = clocks.last_restart_began();
            assert!(rest.is_some(), "{id}: the days off are a restart");
        }
        available.push(clocks.left(&rules).cycle);
        for check in case["expected"]["checks"].as_array().expect("checks") {
            let day = check["day_index"].as_u64().expect("a day") as usize;
            if let Some(hours) = check["available_at_start_hours"].as_f64() {
                assert_eq!(
                    available[day],
                    Some(Millis::from_hours(hours)),
                    "{id} day {day}"
                );
                // The same from the table as history alone.
                if restart.is_none() {
                    let prior = (0..day).map(|d| (d as i64, self::hours(&case, d)));
                    let begins = rules.day_begins(day as i64);
                    let log = DutyLog {
                        entries: vec![Entry {
                            status: DutyStatus::OffDuty,
                            from: begins,
                            to: begins + minutes(1),
                        }],
                        rested_since: begins - rules.reset_rest,
                        prior: prior.collect(),
                        ..DutyLog::default()
                    };
                    let left = left_at(&log, &rules, begins).cycle;
                    assert_eq!(
                        left,
                        Some(Millis::from_hours(hours)),
                        "{id} day {day} as history"
                    );
                }
            }
            if let Some(hours) = check["window_total_at_end_hours"].as_f64() {
                let left = (limit - Millis::from_hours(hours)).max(Millis::ZERO);
                let found = at_end[day].expect("a clock");
                assert!((left..=left + Millis(1)).contains(&found), "{id} day {day}");
            }
        }
    }
}

fn hours(case: &Value, day: usize) -> Millis {
    let hours = &case["prior"]["daily_on_duty_hours"][day];
    Millis::from_hours(hours.as_f64().expect("hours"))
}

#[test]
fn restarts_of_weekly_hours() {
    for case in cases("restart") {
        let (id, rules) = (&case["id"], rules(&case));
        let mut log = log(&case, &rules);
        log.rested_since = log.begins();
        let ends = log.ends();
        let longest = rests(&log, &rules, ends)
            .into_iter()
            .map(|(from, to)| to - from)
            .max();
        assert_eq!(
            longest,
            Some(at(&case["expected"]["longest_off_min"])),
            "{id}"
        );
        let valid = !restarts(&log, &rules, ends).is_empty();
        assert_eq!(valid, case["expected"]["restart_valid"] == true, "{id}");
        let carried = carried(&log, &rules, ends).last_restart_began();
        assert_eq!(carried.is_some(), valid, "{id} carried");
    }
}

#[test]
fn short_haul_days() {
    for case in cases("short_haul") {
        let (id, rules, inputs) = (&case["id"], rules(&case), &case["inputs"]);
        let day = ShortHaulDay {
            on_duty: at(&inputs["on_duty_min"]),
            released: at(&inputs["release_min"]),
            driving: at(&inputs["driving_min"]),
            farthest_statute_miles: inputs["max_distance_statute_miles"]
                .as_f64()
                .expect("miles"),
            returned: inputs["returned"] == true,
            rest_before: at(&inputs["rest_before_min"]),
            ready_mix_vehicle: inputs["ready_mix_vehicle"] == true,
        };
        let exception = rules.short_haul.as_ref().expect("a short-haul book");
        let qualifies = is_short_haul(&rules, exception, &day);
        assert_eq!(qualifies, case["expected"]["qualifies"] == true, "{id}");
        let required = case["expected"]["record_of_duty_status_required"] == true;
        assert_eq!(!qualifies, required, "{id}");
        if let Some(miles) = case["expected"]["max_distance_air_miles"].as_f64() {
            assert!(
                (air_miles(day.farthest_statute_miles) - miles).abs() < 0.01,
                "{id}"
            );
        }
    }
}

#[test]
fn the_sixteen_hour_day() {
    for case in cases("eligibility_16h") {
        let (id, rules, inputs) = (&case["id"], rules(&case), &case["inputs"]);
        let homes = inputs["last_five_tours_released_at_normal_location"]
            .as_array()
            .expect("five tours");
        let mut record = TourRecord::default();
        let today = 30;
        let used = inputs["days_since_last_use"]
            .as_i64()
            .map(|ago| today - ago);
        for home in homes {
            record.released(*home == true, used);
        }
        if inputs["restart_34h_since_last_use"] == true {
            record.restarted();
        }
        let window = window_of_tour(
            &rules,
            record.may_use_long_day(today),
            inputs["returned_to_normal_location_today"] == true,
            at(&inputs["on_duty_min"]),
            at(&inputs["release_min"]),
        )
        .expect("a window");
        let eligible = window > rules.window.as_ref().expect("a window").length;
        assert_eq!(eligible, case["expected"]["eligible"] == true, "{id}");
        let last = at(&inputs["on_duty_min"]) + window;
        assert_eq!(last, at(&case["expected"]["last_drive_min"]), "{id}");
    }
}

#[test]
fn off_duty_within_a_day() {
    for case in cases("canada_day") {
        let (id, rules) = (&case["id"], rules(&case));
        let off = off_duty_in_day(&log(&case, &rules), &rules, 0);
        assert_eq!(off, at(&case["expected"]["off_duty_min"]), "{id}");
        let met = off >= rules.daily_off_duty.expect("a daily minimum").length;
        assert_eq!(met, case["expected"]["ten_hours_met"] == true, "{id}");
    }
}

/// No published source: by hand from the guide's case P01, whose window ends at 20:00.
#[test]
fn driving_on_is_barred_at_the_end_of_the_first_clock() {
    let rules = built_in("us_property_2020").expect("a name");
    let first = cases("timeline").remove(0);
    let log = log(&first, &rules);
    let drivable = drivable_at(&log, &rules, minutes(360));
    assert_eq!(
        (drivable.until, drivable.by),
        (minutes(360 + 480), Some(Clock::Break))
    );
    let drivable = drivable_at(&log, &rules, minutes(1000));
    assert_eq!(
        (drivable.until, drivable.by),
        (minutes(1200), Some(Clock::Window))
    );
}
