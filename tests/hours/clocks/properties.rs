//! The clocks that are carried along give the same answers as the definitions, on random logs of 14 days. No published
//! source: the two forms share the rule books and nothing else that counts.

use plantday::hours::review::{
    drivable_at, left_at, may_drive_from, restarts, shift_start, violations_as_known,
};
use plantday::hours::{
    Adverse, Allowance, Clocks, DelayCause, DutyLog, DutyStatus, Entry, Law, Limit, NAMES, RuleSet,
    built_in, clocks_of,
};
use plantday::units::Millis;
use proptest::prelude::*;

use super::cases::minutes;

fn any_status() -> impl Strategy<Value = DutyStatus> {
    prop_oneof![
        3 => Just(DutyStatus::OffDuty),
        1 => Just(DutyStatus::Sleeper),
        4 => Just(DutyStatus::OnDuty),
        6 => Just(DutyStatus::Driving),
        1 => Just(DutyStatus::Waiting),
        1 => Just(DutyStatus::RelievedWaiting),
        1 => Just(DutyStatus::Riding),
    ]
}

/// Short and long stretches, and the very lengths at which rests and breaks begin to count.
fn any_length() -> impl Strategy<Value = i64> {
    prop_oneof![
        6 => 1..180i64,
        3 => prop::sample::select(vec![29, 30, 31, 479, 480, 481, 599, 600, 601, 840]),
        1 => prop::sample::select(vec![1439, 1440, 2039, 2040, 2041, 2160, 2900]),
    ]
}

/// A window and nothing else, for which the clocks have a short way.
fn lone_window() -> impl Strategy<Value = RuleSet> {
    let lengths = prop::sample::select(vec![30, 120, 480, 840, 1440]);
    let rests = prop::sample::select(vec![0, 30, 480, 600, 1440]);
    (lengths, rests).prop_map(|(window, rest)| RuleSet::lone_window(minutes(window), minutes(rest)))
}

fn any_rules() -> impl Strategy<Value = RuleSet> {
    let lone = lone_window().prop_filter("the definitions need a rest", |rules| {
        rules.reset_rest > Millis::ZERO
    });
    let books = prop::sample::select(NAMES.to_vec())
        .prop_map(|name| built_in(name).expect("a built-in name"));
    (
        prop_oneof![3 => books, 1 => lone],
        any::<bool>(),
        any::<bool>(),
        prop::sample::select(vec![0, 240, 1000]),
        any::<bool>(),
    )
        .prop_map(
            |(mut rules, other_cycle, construction, day_start, relieved)| {
                if other_cycle {
                    rules.cycle = rules.cycles.last().cloned();
                }
                rules.construction_materials = construction;
                rules.day_start = minutes(day_start);
                rules.relieved_waiting_is_duty = relieved;
                rules.riding_is_duty = !relieved;
                rules
            },
        )
}

fn any_log() -> impl Strategy<Value = DutyLog> {
    let prior = prop::collection::vec(0..14i64, 0..8);
    let stretches = prop::collection::vec((any_status(), any_length()), 1..150);
    let claim = (0..60usize, 0..7u8, 0..900i64);
    (stretches, prior, prop::collection::vec(claim, 0..4)).prop_map(|(stretches, prior, claims)| {
        let mut at = 0;
        let mut entries = Vec::new();
        for (status, length) in stretches {
            let end = (at + length).min(14 * 1440);
            if end > at {
                entries.push(Entry {
                    status,
                    from: minutes(at),
                    to: minutes(end),
                });
            }
            at = end;
        }
        let mut allowances: Vec<(Millis, Allowance)> = claims
            .into_iter()
            .filter_map(|(at, kind, excused)| {
                let from = entries.get(at)?.from;
                let adverse = Adverse::claim(DelayCause::Weather, false, true);
                Some((
                    from,
                    Allowance {
                        adverse: adverse.filter(|_| kind % 2 == 1),
                        long_day: kind == 2,
                        outside_short_haul: kind == 4,
                        break_excused_until: (kind == 6).then(|| from + minutes(excused)),
                    },
                ))
            })
            .collect();
        allowances.sort_by_key(|(from, _)| *from);
        allowances.dedup_by_key(|(from, _)| *from);
        DutyLog {
            entries,
            rested_since: -minutes(600),
            prior: (1..)
                .map(|ago| -ago)
                .zip(prior.into_iter().map(|h| Millis::HOUR * h))
                .collect(),
            allowances,
            ..DutyLog::default()
        }
    })
}

/// No source: the world calls the clocks at every event.
#[test]
fn the_clocks_allocate_nothing() {
    for rules in [
        built_in("us_short_haul_2020").expect("a built-in name"),
        RuleSet::lone_window(minutes(840), minutes(600)),
    ] {
        allocates_nothing(&rules);
    }
}

fn allocates_nothing(rules: &RuleSet) {
    let plan = [
        (DutyStatus::OnDuty, minutes(20)),
        (DutyStatus::Driving, minutes(40)),
    ];
    let mut clocks = Clocks::new(rules, Millis::ZERO, -minutes(600), []);
    let info = allocation_counter::measure(|| {
        for event in 1..2000i64 {
            let status = if event % 2 == 0 {
                DutyStatus::Driving
            } else {
                DutyStatus::OffDuty
            };
            clocks.change(rules, minutes(event * 17), status);
            std::hint::black_box(clocks.fits(rules, clocks.now() + minutes(5), &plan));
            std::hint::black_box(clocks.may_drive_from(rules));
        }
    });
    assert_eq!(info.count_total, 0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn both_forms_agree(log in any_log(), rules in any_rules(), more in prop::collection::vec(0..14 * 1440i64, 6)) {
        let mut moments: Vec<Millis> = log.entries.iter().map(|entry| entry.to).collect();
        moments.extend(more.into_iter().map(minutes));
        for at in moments {
            let clocks = clocks_of(&log, &rules, at);
            prop_assert_eq!(clocks.left(&rules), left_at(&log, &rules, at), "left at {}", at);
            prop_assert_eq!(clocks.shift_start(), shift_start(&log, &rules, at));
            let restarted = restarts(&log, &rules, at).last().map(|rest| rest.0);
            prop_assert_eq!(clocks.last_restart_began(), restarted);
        }
    }

    #[test]
    fn both_forms_agree_on_what_may_be_driven(log in any_log(), rules in any_rules(), share in 0.0..1.0f64) {
        let at = minutes((log.ends().minutes() * share) as i64);
        // What is claimed later is not known yet.
        let mut known = log.clone();
        known.allowances.retain(|(from, _)| *from < at);
        let clocks = clocks_of(&known, &rules, at);
        prop_assert_eq!(clocks.drivable(&rules), drivable_at(&known, &rules, at), "at {}", at);
        prop_assert_eq!(clocks.may_drive_from(&rules), may_drive_from(&known, &rules, at), "at {}", at);
    }

    /// A limit that nobody reaches changes no answer, and sends the clocks of a lone window the long way.
    #[test]
    fn the_short_way_of_a_lone_window_is_the_long_way(
        log in any_log(),
        rules in lone_window(),
        share in 0.0..1.0f64,
        later in 0..900i64,
        plan in prop::collection::vec((any_status(), 0..400i64), 0..8),
    ) {
        let mut long = rules.clone();
        long.driving = Some(Limit { length: Millis::HOUR * 10_000, law: Law { rule: "none".into(), citation: "none".into() } });
        let at = minutes((log.ends().minutes() * share) as i64);
        let (short_way, long_way) = (clocks_of(&log, &rules, at), clocks_of(&log, &long, at));
        let plan: Vec<_> = plan.into_iter().map(|(status, length)| (status, minutes(length))).collect();
        let from = at + minutes(later);
        prop_assert_eq!(short_way.drivable(&rules), long_way.drivable(&long));
        prop_assert_eq!(short_way.drivable_at(&rules, from), long_way.drivable_at(&long, from));
        prop_assert_eq!(short_way.follow(&rules, from, &plan, true), long_way.follow(&long, from, &plan, true));
        prop_assert_eq!(short_way.may_drive_from(&rules), long_way.may_drive_from(&long));
        prop_assert_eq!(short_way.left(&rules).window, long_way.left(&long).window);
    }

    /// What is plain at a glance is so: whatever is driven of the time until then, no clock bars it, and at its end as much is left as
    /// was plain.
    #[test]
    fn what_is_plain_at_a_glance_is_so(
        log in any_log(),
        rules in any_rules(),
        share in 0.0..1.0f64,
        later in 0..120i64,
        plan in prop::collection::vec((any::<bool>(), 0..400i64), 1..8),
    ) {
        let at = minutes((log.ends().minutes() * share) as i64);
        let clocks = clocks_of(&log, &rules, at);
        if let Some(plain) = clocks.surely_until(&rules) {
            let from = (at + minutes(later)).min(plain.max(at));
            let mut end = from;
            let plan: Vec<_> = plan.into_iter().map(|(drives, length)| {
                let length = minutes(length).min((plain - end).max(Millis::ZERO));
                end += length;
                (if drives { DutyStatus::Driving } else { DutyStatus::OnDuty }, length)
            }).collect();
            let (fit, then) = clocks.follow(&rules, from, &plan, true);
            prop_assert!(fit.fits() && fit.slack >= plain - end, "{fit:?}, plain until {plain}");
            prop_assert!(then.until >= plain, "{then:?}, plain until {plain}");
        }
    }

    /// A driver who at every drive stops when the clocks say so never violates; one minute more does.
    #[test]
    fn who_stops_when_told_breaks_no_limit(log in any_log(), rules in any_rules()) {
        // A log begins with an entry, here with a minute off.
        let first = Entry { status: DutyStatus::OffDuty, from: -minutes(1), to: Millis::ZERO };
        let mut obeyed = DutyLog { entries: vec![first], ..log.clone() };
        obeyed.allowances.clear();
        for entry in &log.entries {
            if entry.status != DutyStatus::Driving {
                obeyed.entries.push(*entry);
                continue;
            }
            let clocks = clocks_of(&obeyed, &rules, entry.from);
            let until = clocks.drivable(&rules).until.clamp(entry.from, entry.to);
            let plan = [(DutyStatus::Driving, entry.to - entry.from)];
            prop_assert_eq!(clocks.fits(&rules, entry.from, &plan).fits(), until == entry.to);
            if entry.from < until {
                obeyed.entries.push(Entry { to: until, ..*entry });
            }
            if until < entry.to {
                let beyond = obeyed.continued(until, DutyStatus::Driving, until + minutes(1));
                prop_assert!(!violations_as_known(&beyond, &rules).is_empty());
                obeyed.entries.push(Entry { status: DutyStatus::OnDuty, from: until, to: entry.to });
            }
        }
        prop_assert_eq!(violations_as_known(&obeyed, &rules), vec![]);
    }
}
