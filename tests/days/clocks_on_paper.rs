//! Breaks, the longer window and every kind of retrieval, each on a day without luck that can be worked out on paper. Common
//! arithmetic, no source: the limits are the scenario's own.

use crate::changed;
use crate::day;

use day::{figures, lines, loads};
use plantday::observe::figure;

/// One plant, one truck, one site. Loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18: a round takes 63 min, of
/// which 38 are driven. Report 05:30, pre-trip 15, washout 12, post-trip 8. The first load leaves the bay queue at 06:30.
const PLAIN: &str = r#"(
    name: "clocks on paper",
    rule_books: [
        (name: "breaks", like: "none", rest_h: 10, break_after_h: 1.2, break_min: 30),
        (name: "window", like: "none", rest_h: 8, window_h: 4, long_day_h: 5),
    ],
    rule_book: "breaks",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 1, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, early_min: 0, bay_wait_min: 0)],
)"#;

fn changed(changes: &[(&str, &str)]) -> String {
    changed::changed(PLAIN, changes)
}

/// No more than 72 min may be driven without a break of 30, and waiting is none. After two loads 58 are driven when the truck
/// is empty at 08:18, and 18 more do not fit: the break is forced on site, until 08:48. Back at 09:06 with 18; the third load
/// takes it to 56 at 10:09. The fourth does not fit (20 more); the driver stands free and has the break there, until 10:39.
#[test]
fn a_break_is_forced_on_site_and_taken_where_it_costs_least() {
    assert_eq!(
        loads(PLAIN),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T 07:33 07:39 07:43 08:03 +33 08:03 08:13 08:18
W 3 T 09:06 09:12 09:16 09:36 +96 09:36 09:46 09:51
W 4 T 10:39 10:45 10:49 11:09 +159 11:09 11:19 11:24
"
    );
    assert_eq!(
        lines(PLAIN, &["refused"]),
        "10:09 T refused for W: break due\n"
    );
}

/// Where waiting with the truck is a break, half an hour in front of a site that is not ready does: 40 min of set-up, and no
/// load is sent later than in a world without breaks.
#[test]
fn a_wait_on_site_is_a_break_where_the_book_says_so() {
    let waits = changed(&[
        ("break_min: 30", "break_min: 30, waiting_is_break: true"),
        ("spacing_min: 30", "spacing_min: 63, setup_min: 40"),
        ("volume_yd3: 40", "volume_yd3: 20"),
    ]);
    let free = waits.replace("rule_book: \"breaks\"", "rule_book: \"none\"");
    assert_eq!(loads(&waits), loads(&free));
}

/// Waiting is a break here, and the desk reckons with 3 min for the bay. Three loads, and from 10:09 on the driver waits with 56 min
/// driven of the 72. The load of V asks at 11:10 less 20 out, 10 at the plant and 3 for the bay: 10:37, after 28 min of waiting. The
/// minutes for the bay would make the break whole, but the bay is free and they do not come: the driver is refused until 10:39, and is on
/// site at 11:09.
#[test]
fn a_wait_for_the_bay_that_does_not_come_is_no_break() {
    let text = changed(&[
        ("break_min: 30", "break_min: 30, waiting_is_break: true"),
        ("volume_yd3: 40", "volume_yd3: 30"),
        (
            "chute_wash: Constant(5))",
            "chute_wash: Constant(5)), (name: \"V\", site: \"A\", first: \"11:10\", volume_yd3: 10, spacing_min: 30, \
             position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))",
        ),
        ("bay_wait_min: 0", "bay_wait_min: 3"),
    ]);
    let loads = loads(&text);
    let of_v = loads.lines().last();
    assert_eq!(
        of_v,
        Some("V 1 T 10:39 10:45 10:49 11:09 +0 11:10 11:20 11:25")
    );
    assert_eq!(
        lines(&text, &["refused"]),
        "10:37 T refused for V: break due\n"
    );
}

/// A site 100 min away. Within 150 air miles of the plant (172.6 miles) and released within fourteen hours, a short-haul driver needs
/// no break (49 CFR 395.1(e)(1), 395.3(a)(3)(ii)). Where the site lies beyond, that is lost with the first load: back from the second
/// at 13:15 with 400 min driven, the third would make it 500 of the eight hours allowed, and a half hour is taken first.
#[test]
fn who_leaves_the_radius_needs_a_break() {
    let day = |miles: &str| {
        changed(&[
            (
                "rule_book: \"breaks\"",
                "rule_book: \"us_short_haul_2020\", concrete: (age_limit_min: None)",
            ),
            ("(name: \"P\",", "(name: \"P\", at: (0, 0),"),
            ("(name: \"A\")", &format!("(name: \"A\", at: ({miles}, 0))")),
            ("(20, 18)", "(100, 100)"),
            ("volume_yd3: 40", "volume_yd3: 30"),
        ])
    };
    let third = |miles: &str| {
        let loads = loads(&day(miles));
        loads.lines().last().map(str::to_owned)
    };
    let within = "W 3 T 13:15 13:21 13:25 15:05 +425 15:05 15:15 15:20";
    assert_eq!(third("172").as_deref(), Some(within));
    let beyond = "W 3 T 13:45 13:51 13:55 15:35 +455 15:35 15:45 15:50";
    assert_eq!(third("173").as_deref(), Some(beyond));
    assert_eq!(
        lines(&day("173"), &["refused"]),
        "13:15 T refused for W: break due\n"
    );
}

/// The window of 4 h ends at 09:30; the longer one, at 10:30. A desk that wants drivers home in time gives two loads within
/// the first (home at 08:36), three within the second (09:39). It may be used on the first day, and not on the six after it.
#[test]
fn the_longer_window_once_in_seven_days() {
    let text = changed(&[
        (
            "rule_book: \"breaks\"",
            "period: (days: 2), rule_book: \"window\"",
        ),
        (
            "orders: [(name: \"W\", site: \"A\", ",
            "orders: [(name: \"V\", day: 2, site: \"A\", first: \"07:00\", volume_yd3: 40, spacing_min: 30, position: Constant(0), \
             discharge_luck: Constant(1), chute_wash: Constant(5)), (name: \"W\", site: \"A\", ",
        ),
        (
            "belief: FreeFlow",
            "belief: FreeFlow, gates: [HomeWithin(probability: 0.9)], long_day: true",
        ),
    ]);
    let count = |text: &str| figures(text, &[figure::LOADS, figure::LONG_DAYS, figure::STRANDED]);
    assert_eq!(count(&text), [5.0, 1.0, 0.0]);
    assert_eq!(
        count(&text.replace(", long_day: true", "")),
        [4.0, 0.0, 0.0]
    );
    // A tour that did not end at home among the last five: not on the first day either.
    let away = text.replace(
        "report: \"05:30\"",
        "report: \"05:30\", history: (tours_ended_home: [true, true, false])",
    );
    assert_eq!(count(&away), [4.0, 0.0, 0.0]);
    // Last used six days before the first: on the second day.
    let used = text.replace(
        "report: \"05:30\"",
        "report: \"05:30\", history: (last_long_day: 6)",
    );
    assert_eq!(count(&used), [5.0, 1.0, 0.0]);
}

/// The same drivers under a desk without gates: the fourth load would leave at 09:39 and be empty at 10:24, after the ordinary window's
/// end at 09:30 and within the longer one's at 10:30. But home at 10:42 and released at 11:02 the longer window would not be the
/// driver's to use (49 CFR 395.1(o)(2): home and released within it), so the load is refused, and the third, home at 09:39, is not.
#[test]
fn the_longer_window_is_for_who_gets_home_in_it() {
    let text = changed(&[
        ("rule_book: \"breaks\"", "rule_book: \"window\""),
        ("belief: FreeFlow", "belief: FreeFlow, long_day: true"),
    ]);
    assert_eq!(
        figures(
            &text,
            &[
                figure::LOADS,
                figure::LONG_DAYS,
                figure::VIOLATION_MIN,
                figure::STRANDED
            ]
        ),
        [3.0, 1.0, 0.0, 0.0]
    );
    assert_eq!(
        lines(&text, &["refused"]),
        "09:39 T refused for W: duty window\n"
    );
}

/// Every drive takes a breakdown of 25 min that nobody reckons with. The second load leaves at 08:33; back at 09:51 and released at 10:11
/// D would be within the longer window. The way back takes until 10:16, the release comes at 10:36, and so the longer window was not
/// D's to use: the 43 min from 09:33 on were driven past the ordinary one.
#[test]
fn who_is_late_for_the_longer_window_has_broken_the_usual_one() {
    let text = changed(&[
        ("rule_book: \"breaks\"", "rule_book: \"window\""),
        ("belief: FreeFlow", "belief: FreeFlow, long_day: true"),
        (
            "home: \"P\"",
            "home: \"P\", breakdowns: (mean_h_between: 0.000001, minutes: Constant(25))",
        ),
    ]);
    assert_eq!(
        lines(&text, &["longer"]),
        "10:36 D was not home within the longer window and drove 43 min past the usual one\n"
    );
    let told = [
        figure::LONG_DAYS,
        figure::VIOLATION_MIN,
        figure::VIOLATION_WINDOW_MIN,
    ];
    assert_eq!(figures(&text, &told), [0.0, 43.0, 43.0]);
}

/// Under the window of 4 h a desk without gates sends a third load at 08:36. It is empty at 09:16 and leaves the site at 09:21;
/// the way back would end at 09:39, and the driver may not drive after 09:30: stranded.
fn stranded(retrieval: &str, more: &[(&str, &str)]) -> String {
    let retrieval = format!("belief: FreeFlow, retrieval: {retrieval}");
    let mut changes = vec![
        ("rule_book: \"breaks\"", "rule_book: \"window\""),
        ("spacing_min: 30", "spacing_min: 63"),
        ("volume_yd3: 40", "volume_yd3: 30"),
        ("belief: FreeFlow", retrieval.as_str()),
        (
            "yard: (",
            "helpers: [(name: \"H\", at: \"P\", from: \"06:00\", to: \"20:00\")], yard: (",
        ),
    ];
    changes.extend(more);
    changed(&changes)
}

const WORDS: [&str; 6] = [
    "stranded",
    "sets out",
    "on the way",
    "help sent early",
    "home after",
    "off duty",
];

/// At once: 20 min out, 18 back.
#[test]
fn fetched_at_once() {
    assert_eq!(
        lines(&stranded("Fetch", &[]), &WORDS),
        "\
09:21 D stranded at A
09:21 a helper sets out for D
09:59 D home after 38 min
10:19 D off duty after 4 h 49 min
"
    );
}

/// Seen on arrival at 09:06 (15 min of stay, then 18 back): the helper sets out 15 min earlier and is there at 09:26.
#[test]
fn foreseen_on_arrival() {
    assert_eq!(
        lines(&stranded("Fetch(foreseen: true)", &[]), &WORDS),
        "\
09:21 D stranded at A
09:21 a helper is on the way since 09:06 for D
09:21 T: help sent early, 15 min saved
09:44 D home after 23 min
10:04 D off duty after 4 h 34 min
"
    );
}

/// Nobody sets out from 09:00 to 10:00.
#[test]
fn fetched_after_the_rush() {
    assert_eq!(
        lines(
            &stranded("Fetch(not_between: (\"09:00\", \"10:00\"))", &[]),
            &WORDS
        ),
        "\
09:21 D stranded at A
10:00 a helper sets out for D
10:38 D home after 77 min
10:58 D off duty after 5 h 28 min
"
    );
}

/// The driver rests 8 h beside the truck, and drives home from 17:21 to 17:39.
#[test]
fn rested_out() {
    assert_eq!(
        lines(&stranded("RestOut", &[]), &WORDS),
        "\
09:21 D stranded at A
09:21 D off duty after 3 h 51 min
17:39 D home after 498 min
17:59 D off duty after 38 min
"
    );
}

/// A bed costs what is written, once, and only who rests out needs one.
#[test]
fn lodging_is_paid_for_who_rests_out() {
    let cost = |retrieval: &str, price: &str| {
        let money = format!("money: (lodging: {price}), yard: (pre_trip");
        let text = stranded(retrieval, &[("yard: (pre_trip", &money)]);
        let found = figures(&text, &[figure::COST, figure::RESTED_OUT]);
        (found[0], found[1])
    };
    let (free, paid) = (cost("RestOut", "0"), cost("RestOut", "110"));
    assert!((paid.0 - free.0 - 110.0).abs() < 0.01, "{paid:?} {free:?}");
    assert_eq!(paid.1, 1.0);
    assert_eq!(cost("Fetch", "110"), cost("Fetch", "0"));
    assert_eq!(cost("Fetch", "110").1, 0.0);
}

/// The driver is home at 09:59 and released there; the truck stays. On the next day the driver is driven out, 20 min, and
/// brings it back, 18: ready at 06:08 without a pre-trip of its own, for a load that was to leave at 06:00.
#[test]
fn the_truck_stays_till_morning() {
    let text = stranded(
        "FetchDriver",
        &[
            (
                "rule_book: \"window\"",
                "period: (days: 2), rule_book: \"window\"",
            ),
            (
                "orders: [",
                "orders: [(name: \"V\", day: 2, site: \"A\", first: \"06:30\", volume_yd3: 10, spacing_min: 30, position: Constant(0), \
                 discharge_luck: Constant(1), chute_wash: Constant(5)), ",
            ),
        ],
    );
    assert_eq!(
        lines(&text, &WORDS),
        "\
09:21 D stranded at A
09:21 a helper sets out for D
09:59 D home after 38 min
09:59 D off duty after 4 h 29 min
07:31 +1 D off duty after 2 h 1 min
"
    );
    let last = loads(&text);
    let last = last.lines().last();
    assert_eq!(
        last,
        Some("V 1 T 06:08 +1 06:14 +1 06:18 +1 06:38 +1 +8 06:38 +1 06:48 +1 06:53 +1")
    );
}

/// Without a helper a driver of the own fleet who stands free at the plant goes, if licence and hours allow it: E came at 07:30
/// and may drive until 11:30. With the licence of a small truck E may not; with a report at 05:45 there is no time left.
#[test]
fn drivers_of_the_own_fleet_fetch() {
    let own = [
        (
            "helpers: [(name: \"H\", at: \"P\", from: \"06:00\", to: \"20:00\")], ",
            "",
        ),
        (
            "trucks: [(name: \"T\", count: 1, home: \"P\")]",
            "trucks: [(name: \"T\", home: \"P\", needs: (class: B)), (name: \"U\", home: \"P\")]",
        ),
        (
            "drivers: [",
            "drivers: [(name: \"E\", trucks: \"U\", report: \"07:30\", class: A), ",
        ),
        (
            "orders: [",
            "orders: [(name: \"Z\", site: \"A\", first: \"15:00\", volume_yd3: 10, spacing_min: 0), ",
        ),
    ];
    let text = stranded("Fetch(own_drivers: true)", &own);
    let words = ["stranded", "sets out", "home after"];
    assert_eq!(
        lines(&text, &words),
        "\
09:21 D stranded at A
09:21 E sets out for D and T
09:59 D home after 38 min
"
    );
    let rests = "09:21 D stranded at A\n17:39 D home after 498 min\n";
    let light = text.replace("class: A", "class: C");
    assert_eq!(lines(&light, &words), rests);
    let early = text.replace("report: \"07:30\"", "report: \"05:45\", shift_h: 12");
    assert_eq!(lines(&early, &words), rests);
}

/// The company wants drivers released within 4.5 h of report, at 10:00. Washout and post-trip take 20: home by 09:40. The
/// third load is back at 09:39 and goes, the fourth does not.
#[test]
fn the_company_wants_everybody_done() {
    let text = changed(&[
        ("rule_book: \"breaks\"", "rule_book: \"none\""),
        (
            "promise_horizon_min: 0",
            "promise_horizon_min: 0, finish_within_h: 4.5",
        ),
    ]);
    assert_eq!(figures(&text, &[figure::LOADS]), [3.0]);
    assert_eq!(
        lines(&text, &["refused"]),
        "09:39 T refused for W: company's finish\n"
    );
}

/// Of two drivers who stand free one is kept for who may be stranded.
#[test]
fn one_driver_is_kept_in_reserve() {
    let text = changed(&[
        ("rule_book: \"breaks\"", "rule_book: \"window\""),
        ("count: 1", "count: 2"),
        ("volume_yd3: 40", "volume_yd3: 20"),
        (
            "belief: FreeFlow",
            "belief: FreeFlow, gates: [Reserve(hours: 1)]",
        ),
    ]);
    // T1 leaves at 06:30. T2 is the last at 07:00 and stays; T1 is back at 07:33 and can take the load then.
    assert_eq!(
        lines(&text, &["refused", "promised"]),
        "\
06:30 T1 promised to W load 1, 10 yd³ from P, due 07:00
07:00 T2 refused for W: kept in reserve, nobody else stands free there
07:33 T1 promised to W load 2, 10 yd³ from P, due 07:30
"
    );
}

/// 23 hours on duty yesterday end at 23:00 at the earliest; ten hours off (49 CFR 395.3(a)(1)) are over at 09:00, not at the report that
/// is planned for 05:30. After 15 min of pre-trip the first load begins at 09:15. With 12 hours yesterday nothing changes.
#[test]
fn who_had_no_full_rest_reports_later() {
    let past = |hours: &str| {
        let report = format!("report: \"05:30\", history: (hours: [{hours}])");
        changed(&[
            ("rule_book: \"breaks\"", "rule_book: \"us_property_2020\""),
            ("report: \"05:30\"", &report),
        ])
    };
    let first = |hours: &str| loads(&past(hours)).lines().next().map(str::to_owned);
    let begins = |hours: &str, words: &str| {
        let line = first(hours).unwrap_or_default();
        assert!(line.starts_with(words), "{hours} h: {line}");
    };
    begins("12", "W 1 T 06:30 ");
    begins("23", "W 1 T 09:15 ");
}
