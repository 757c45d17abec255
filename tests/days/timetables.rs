//! Days without luck, worked out on paper: each test holds the timetable as a table and expects exactly that.

use crate::changed;
use crate::day;

use day::{figures, lines, loads};
use plantday::observe::figure;

/// One plant, one bay, two trucks, one site, everything constant. Loading 6, rack 4, out 20, position 0, discharge 10 (10 yd³
/// at 1 yd³ a minute), chute wash 5, back 18: a round trip takes 63 min. Reports 05:30, pre-trip 15.
const PLAIN: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, early_min: 0, bay_wait_min: 0)],
)"#;

/// Load k is due at 07:00 + 30 k and asks 30 min before (6 + 4 + 20). Both trucks are ready from 05:45; T1 takes loads 1 and
/// 3, T2 loads 2 and 4. A round trip is 63 min and two trucks must keep a spacing of 30: three minutes are lost each turn.
#[test]
fn two_trucks_and_a_round_trip_of_63_minutes_lose_3_at_a_spacing_of_30() {
    assert_eq!(
        loads(PLAIN),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
W 3 T1 07:33 07:39 07:43 08:03 +3 08:03 08:13 08:18
W 4 T2 08:03 08:09 08:13 08:33 +3 08:33 08:43 08:48
"
    );
    // After load 4 is promised at 08:03 nothing is left to send. T1 is back at 08:36, T2 at 09:06; washout and post-trip 20.
    assert_eq!(
        lines(PLAIN, &["reports", "off duty"]),
        "\
05:30 D1 reports, T1
05:30 D2 reports, T2
08:56 D1 off duty after 3 h 26 min
09:26 D2 off duty after 3 h 56 min
"
    );
}

/// Trucks = round trip ÷ spacing: at a spacing of 31.5 min two trucks of a 63-minute round trip are exactly enough.
#[test]
fn round_trip_over_spacing_is_the_number_of_trucks() {
    let text = PLAIN
        .replace("spacing_min: 30", "spacing_min: 31.5")
        .replace("volume_yd3: 40", "volume_yd3: 100");
    assert!(
        loads(&text).lines().all(|line| line.contains(" +0 ")),
        "{}",
        loads(&text)
    );
    let text = PLAIN
        .replace("spacing_min: 30", "spacing_min: 31")
        .replace("volume_yd3: 40", "volume_yd3: 100");
    assert!(
        loads(&text)
            .lines()
            .skip(2)
            .all(|line| !line.contains(" +0 ")),
        "{}",
        loads(&text)
    );
}

/// The paper day with changes, all of which must be there.
fn changed(changes: &[(&str, &str)]) -> String {
    changed::changed(PLAIN, changes)
}

/// On the map the site is 10 min away at 60 miles an hour; the road takes 20. Whoever believes the map sends every load 10
/// min too late; a truck back at 07:43 costs the third load 3 more.
#[test]
fn a_desk_that_measures_on_the_map_is_late_by_what_the_map_hides() {
    let text = changed(&[
        ("(name: \"A\")", "(name: \"A\", at: (6, 8))"),
        ("roads: (", "roads: (straight_line_mph: 60, "),
        ("belief: FreeFlow", "belief: StraightLine"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:40 06:46 06:50 07:10 +10 07:10 07:20 07:25
W 2 T2 07:10 07:16 07:20 07:40 +10 07:40 07:50 07:55
W 3 T1 07:43 07:49 07:53 08:13 +13 08:13 08:23 08:28
W 4 T2 08:13 08:19 08:23 08:43 +13 08:43 08:53 08:58
"
    );
}

/// From 06:50 on a minute of the road takes one and a half. The truck leaves at 06:40: ten minutes are driven freely, the
/// other ten take fifteen. A desk that knows the hour reckons with 25 min and sends at 06:25; leaving at 06:35 the truck then
/// meets less of it: fifteen free minutes and five that take 7.5. The site takes nothing before 07:00.
#[test]
fn traffic_stretches_the_part_of_the_trip_that_meets_it() {
    let text = changed(&[
        (
            "roads: (",
            "roads: (traffic: [(factors: [(\"06:50\", 1.5)])], ",
        ),
        ("volume_yd3: 40", "volume_yd3: 10"),
    ]);
    assert_eq!(
        loads(&text),
        "W 1 T1 06:30 06:36 06:40 07:05 +5 07:05 07:15 07:20\n"
    );
    let knowing = text.replace("belief: FreeFlow", "belief: TimeOfDay");
    assert_eq!(
        loads(&knowing),
        "W 1 T1 06:25 06:31 06:35 06:57:30 +0 07:00 07:10 07:15\n"
    );
}

/// Three loads at once, three minutes to position. At one place the next truck positions when the last is empty; a second
/// place lets it position meanwhile: six minutes are saved over three loads, the flow is the same. The ready times follow:
/// with one place the second load could be taken at 07:13, with two at 07:00.
#[test]
fn a_second_place_saves_the_changeover_not_the_flow() {
    let text = changed(&[
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 30, spacing_min: 0",
        ),
        ("position: Constant(0)", "position: Constant(3)"),
        ("count: 2", "count: 3"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:03 07:13 07:18
W 2 T2 06:36 06:42 06:46 07:06 +0 07:16 07:26 07:31
W 3 T3 06:42 06:48 06:52 07:12 +0 07:29 07:39 07:44
"
    );
    let two = text.replace(
        "position:",
        "outlets: [(rate_yd3_min: 1, places: 2)], position:",
    );
    assert_eq!(
        loads(&two),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:03 07:13 07:18
W 2 T2 06:36 06:42 06:46 07:06 +6 07:13 07:23 07:28
W 3 T3 06:42 06:48 06:52 07:12 +0 07:23 07:33 07:38
"
    );
}

/// Two bays share a batcher; pulling in takes two minutes. Both trucks pull in at once, the second then waits for the
/// batcher. With one bay it would pull in two minutes after the first is loaded.
#[test]
fn a_second_bay_at_one_batcher_saves_pulling_in() {
    let text = changed(&[
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 20, spacing_min: 0",
        ),
        (
            "name: \"P\",",
            "name: \"P\", bays: 2, batcher: Shared, pull_in_min: 2,",
        ),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:28 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 06:28 06:42 06:46 07:06 +0 07:10 07:20 07:25
"
    );
    let one = text.replace("bays: 2", "bays: 1");
    assert!(loads(&one).ends_with("W 2 T2 06:36 06:44 06:48 07:08 +0 07:10 07:20 07:25\n"));
}

/// T1 carries 10 yd³, T2 only 7. What T2 cannot take goes back to the order: a fourth load of 3 yd³. Loads are due by the
/// volume before them: 17 yd³ at 07:51, 27 yd³ at 08:21.
#[test]
fn what_a_truck_cannot_take_goes_back_to_the_order() {
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 30"),
        (
            "(name: \"T\", count: 2, home: \"P\")",
            "(name: \"T1\", home: \"P\"), (name: \"T2\", home: \"P\", capacity_yd3: 7)",
        ),
        (
            "(name: \"D\", trucks: \"T\", report: \"05:30\")",
            "(name: \"D1\", trucks: \"T1\", report: \"05:30\"), (name: \"D2\", trucks: \"T2\", report: \"05:30\")",
        ),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:37 07:42
W 3 T1 07:33 07:39 07:43 08:03 +12 08:03 08:13 08:18
W 4 T2 08:00 08:06 08:10 08:30 +9 08:30 08:33 08:38
"
    );
}

/// Weight: 66,500 lb legal less 28,000 lb empty leave 38,500 lb, at 4,050 lb a yd³ 9.506 yd³. Room kept and the rule's margin
/// take their part: 10 − 1 = 9 yd³; (38,500 − 4,050) ÷ 4,050 = 8.506 yd³.
#[test]
fn a_load_is_what_drum_and_scale_allow() {
    let text = changed(&[(
        "home: \"P\")",
        "home: \"P\", empty_lb: 28000, legal_gross_lb: 66500)",
    )]);
    let first = |text: &str| lines(text, &["promised to W load 1,"]);
    assert_eq!(
        first(&text),
        "06:30 T1 promised to W load 1, 9.506 yd³ from P, due 07:00\n"
    );
    let room = text.replace("early_min: 0", "early_min: 0, room_kept_yd3: 1");
    assert_eq!(
        first(&room),
        "06:30 T1 promised to W load 1, 9 yd³ from P, due 07:00\n"
    );
    let margin = text.replace("early_min: 0", "early_min: 0, weight_margin_lb: 4050");
    assert_eq!(
        first(&margin),
        "06:30 T1 promised to W load 1, 8.506 yd³ from P, due 07:00\n"
    );
}

/// 25 yd³ at 10 yd³ a load: three loads either way, 10 + 10 + 5 or three of 8.334 and what is left.
#[test]
fn equal_loads_are_the_same_number_of_loads() {
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 25"),
        ("early_min: 0", "early_min: 0, load_size: Equal"),
    ]);
    let volumes: Vec<String> = lines(&text, &["promised"])
        .lines()
        .map(|line| line.split(' ').nth(7).expect("a volume").to_owned())
        .collect();
    assert_eq!(volumes, ["8.334", "8.334", "8.332"]);
}

/// The plant shuts at 07:05: loads 3 and 4, ready at 08:00 and 08:30, are late until midnight, 960 and 930 min.
#[test]
fn what_is_not_on_site_by_midnight_is_undelivered() {
    let text = changed(&[("close: \"17:00\"", "close: \"07:05\"")]);
    assert_eq!(
        lines(&text, &["not delivered", "never sent"]),
        "\
00:00 +1 10 yd³ of W not delivered, 960 min late
00:00 +1 10 yd³ of W not delivered, 930 min late
00:00 +1 20 yd³ of W never sent
"
    );
    let counted = figures(
        &text,
        &[
            figure::UNDELIVERED,
            figure::LATE_LOADS,
            figure::SERVED_SHARE,
            figure::LEFT_YD3,
        ],
    );
    assert_eq!(counted, [2.0, 2.0, 0.0, 20.0]);
}

/// Two loads at once, one bay, closing at 06:33: the second truck is in the queue by then and is loaded. The crew stays three
/// minutes for the first truck and six for the second.
#[test]
fn a_queue_is_served_to_its_end_after_closing() {
    let text = changed(&[
        ("close: \"17:00\"", "close: \"06:33\""),
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 20, spacing_min: 0",
        ),
    ]);
    assert_eq!(
        lines(&text, &["loaded", "stayed"]),
        "\
06:36 T1 loaded, 10 yd³
06:36 crew of P stayed 3 min
06:42 T2 loaded, 10 yd³
06:42 crew of P stayed 6 min
"
    );
}

/// T1 leaves the site at 07:15 and is believed back at 07:33: within the promise horizon it is promised when load 3 asks,
/// at 07:30. From 07:20 on the road takes twice as long: 5 + 13 × 2 = 31 min, back at 07:46. The plant has closed at 07:35,
/// so the promise is broken.
#[test]
fn a_promise_made_on_the_road_breaks_at_a_closed_gate() {
    let near = [("promise_horizon_min: 0", "promise_horizon_min: 20")];
    let text = changed(&near);
    assert_eq!(
        lines(&text, &["promised to W load 3,"]),
        "07:30 T1 promised to W load 3, 10 yd³ from P, due 08:00\n"
    );
    let text = changed(&[
        near[0],
        (
            "roads: (",
            "roads: (traffic: [(factors: [(\"07:20\", 2)])], ",
        ),
        ("close: \"17:00\"", "close: \"07:35\""),
    ]);
    assert_eq!(
        lines(&text, &["cannot"]),
        "07:46 T1 cannot take its load of W: plant closed\n"
    );
}

/// A window of three hours from 05:30 ends at 08:30. T1 can be on site with load 3 at 08:03, but the way home from 08:18
/// would end at 08:36: the driver is stranded, rests ten hours beside the truck and drives home at 18:18. T2 could be on site
/// with load 4 at 08:33 only: refused, and nobody is left to take it.
#[test]
fn a_driver_who_may_not_drive_home_is_stranded() {
    let text = changed(&[("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)")]);
    assert_eq!(
        lines(
            &text,
            &[
                "stranded",
                "reports",
                "off duty",
                "T2 refused",
                "not delivered"
            ]
        ),
        "\
05:30 D1 reports, T1
05:30 D2 reports, T2
08:03 T2 refused for W: duty window
08:18 D1 stranded at A
08:18 D1 off duty after 2 h 48 min
15:50 D2 off duty after 10 h 20 min
18:18 D1 reports, T1
18:56 D1 off duty after 38 min
00:00 +1 10 yd³ of W not delivered, 930 min late
"
    );
    let counted = figures(
        &text,
        &[figure::STRANDED, figure::VIOLATION_MIN, figure::MARGIN_MIN],
    );
    // The smallest clock left at the end of a last drive: T1 on site at 08:03, T2 back at 08:03, both 27 min before 08:30.
    assert_eq!(counted, [1.0, 0.0, 27.0]);
}

/// The same where no truck may stand on site: trip, discharge, wash and the way to the plant must fit, 08:36 does not. Load 3
/// is not begun.
#[test]
fn without_lawful_parking_the_load_is_not_begun() {
    let text = changed(&[
        ("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)"),
        ("(name: \"A\")", "(name: \"A\", parking: false)"),
    ]);
    assert_eq!(
        lines(&text, &["stranded", "T1 refused"]),
        "07:33 T1 refused for W: duty window\n"
    );
}

/// Rest of eleven hours: stranded at 08:18, home and released at 19:56, the next report at 06:56 instead of 05:30. If the
/// company does not wait longer than an hour, the day is lost.
#[test]
fn a_late_rest_is_a_late_report_or_a_lost_day() {
    let text = changed(&[
        (
            "rule_book: \"none\"",
            "rule_book: DutyWindow(hours: 3, rest_hours: 11)",
        ),
        (
            "name: \"paper day\",",
            "name: \"paper day\", period: (days: 2),",
        ),
    ]);
    assert_eq!(
        lines(&text, &["D1 reports, T1"]),
        "05:30 D1 reports, T1\n19:18 D1 reports, T1\n06:56 +1 D1 reports, T1\n"
    );
    let text = text.replace(
        "promise_horizon_min: 0",
        "promise_horizon_min: 0, latest_report_h: 1",
    );
    assert_eq!(
        lines(&text, &["D1 is not called"]),
        "05:30 +1 D1 is not called: no hours\n"
    );
}

/// Nobody starts a load later than two hours after reporting, 07:30: the truck back at 07:33 is refused, by the rule's gate
/// or by the company's limit. Home by 08:36 at the latest: refused by a gate on the way home where the window ends at 08:30.
#[test]
fn gates_refuse_with_their_reason() {
    let refused = |text: &str| lines(text, &["07:33 T1 refused"]);
    let gate = changed(&[(
        "early_min: 0",
        "early_min: 0, gates: [LastLoadBy(hours: 2)]",
    )]);
    assert_eq!(refused(&gate), "07:33 T1 refused for W: last-load check\n");
    let company = changed(&[(
        "promise_horizon_min: 0",
        "promise_horizon_min: 0, no_load_after_h: 2",
    )]);
    assert_eq!(
        refused(&company),
        "07:33 T1 refused for W: company's last load\n"
    );
    let home = changed(&[
        ("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)"),
        (
            "early_min: 0",
            "early_min: 0, gates: [HomeWithin(probability: 0.9)]",
        ),
    ]);
    assert_eq!(
        refused(&home),
        "07:33 T1 refused for W: get-home check, duty window could end before home\n"
    );
    assert_eq!(lines(&home, &["stranded"]), "");
}

/// Only Q makes the mix, 8 min from the site, 12 min from P. The load asks at 06:42 (8 + 6 + 4 before 07:00); the truck
/// drives over, loads at 06:54 and is 12 min late. Without lending nobody goes.
#[test]
fn a_truck_is_lent_to_the_plant_that_makes_the_mix() {
    let text = changed(&[
        (
            "plants: [",
            "plants: [(name: \"Q\", mixes: [\"marine\"], loading: Constant(6), rack: Constant(4)), ",
        ),
        ("name: \"P\",", "name: \"P\", mixes: [\"standard\"],"),
        ("(20, 18) }", "(20, 18), \"Q\": 12 }, \"Q\": { \"A\": 8 }"),
        ("volume_yd3: 40", "mix: \"marine\", volume_yd3: 10"),
        ("early_min: 0", "early_min: 0, lend: Always"),
    ]);
    assert_eq!(
        loads(&text),
        "W 1 T1 06:54 07:00 07:04 07:12 +12 07:12 07:22 07:27\n"
    );
    let own = text.replace("lend: Always", "lend: Never");
    assert_eq!(loads(&own), "");
    assert_eq!(
        lines(&own, &["T1 refused"]),
        "06:42 T1 refused for W: truck not loaned out\n"
    );
}

/// A load is 6 + 4 + 20 + 10 + 5 + 18 = 63 productive minutes, four of them 252 of the 206 + 236 paid ones, whatever the desk
/// believes of the way: on this map every place is the same point, and a margin of 20 min stands for the trip. The way over to
/// another plant is none of it: 6 + 4 + 8 + 10 + 5 + 18 = 51.
#[test]
fn productive_minutes_are_those_with_and_for_a_load() {
    let productive = |text: &str| {
        let figures = figures(text, &[figure::TRUCK_USE, figure::PAID_H]);
        (figures[0] * figures[1] * 60.0).round()
    };
    assert_eq!(figures(PLAIN, &[figure::TRUCK_USE]), [252.0 / 442.0]);
    let map = changed(&[
        ("belief: FreeFlow", "belief: StraightLine"),
        (
            "sites: [(name: \"A\")]",
            "sites: [(name: \"A\", at: (0, 0))]",
        ),
        ("early_min: 0", "early_min: 20"),
    ]);
    assert_eq!(loads(&map), loads(PLAIN));
    assert_eq!(productive(&map), 252.0);
    let lent = changed(&[
        (
            "plants: [",
            "plants: [(name: \"Q\", mixes: [\"marine\"], loading: Constant(6), rack: Constant(4)), ",
        ),
        ("name: \"P\",", "name: \"P\", mixes: [\"standard\"],"),
        ("(20, 18) }", "(20, 18), \"Q\": 12 }, \"Q\": { \"A\": 8 }"),
        ("volume_yd3: 40", "mix: \"marine\", volume_yd3: 10"),
        ("early_min: 0", "early_min: 0, lend: Always"),
    ]);
    assert_eq!(productive(&lent), 51.0);
}

/// Spacing 5 min at a site that takes 10 min for a load: sent as ordered, trucks wait 4 and 8 min for the outlet; paced, each
/// comes when the one before is empty.
#[test]
fn paced_sending_follows_the_site() {
    let text = changed(&[
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 30, spacing_min: 5",
        ),
        ("count: 2", "count: 3"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 06:36 06:42 06:46 07:06 +0 07:10 07:20 07:25
W 3 T3 06:42 06:48 06:52 07:12 +0 07:20 07:30 07:35
"
    );
    let paced = text.replace("early_min: 0", "early_min: 0, send: Paced");
    assert_eq!(
        loads(&paced),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 06:40 06:46 06:50 07:10 +0 07:10 07:20 07:25
W 3 T3 06:50 06:56 07:00 07:20 +0 07:20 07:30 07:35
"
    );
}

/// Discharge stands from 07:10 to 07:30, to 08:03 and to 08:33: pauses of 20, 23 and 20 min. Beyond a tolerance of 21 min
/// there is one gap of 2 min, beyond 5 min three of 15 + 18 + 15.
#[test]
fn gaps_are_pauses_beyond_the_tolerance() {
    let places = [figure::GAPS, figure::GAP_MIN, figure::CREW_WAIT_MIN];
    assert_eq!(
        figures(
            &changed(&[("spacing_min: 30", "spacing_min: 30, gap_min: 21")]),
            &places
        ),
        [1.0, 2.0, 63.0]
    );
    assert_eq!(
        figures(
            &changed(&[("spacing_min: 30", "spacing_min: 30, gap_min: 5")]),
            &places
        ),
        [3.0, 48.0, 63.0]
    );
}

/// Set-up takes until 07:20: nothing is taken before, and that is no lateness of the truck. As ordered the truck stands from
/// 07:00; load 2 comes at 07:30, when the outlet is free.
#[test]
fn a_site_that_is_not_set_up_lets_the_truck_wait() {
    let text = changed(&[("volume_yd3: 40", "setup_min: 20, volume_yd3: 20")]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:20 07:30 07:35
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
"
    );
}

/// L shares T1 and reports at 07:00, while D1 is out with it until 07:33. D1 washes out until 07:53; L checks the truck for 15
/// min, finds no work left and goes home.
#[test]
fn a_second_driver_waits_for_the_truck() {
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 10"),
        (
            "report: \"05:30\")",
            "report: \"05:30\", shift_h: 1.5), (name: \"L\", trucks: \"T1\", report: \"07:00\", shift_h: 8)",
        ),
    ]);
    assert_eq!(
        lines(&text, &["D1", "L re", "L off"]),
        "\
05:30 D1 reports, T1
07:00 L reports, T1
07:53 D1 off duty after 2 h 23 min
08:28 L off duty after 1 h 28 min
"
    );
}

/// Money by hand. Two drivers: 206 and 236 min of duty, no overtime. Driven: T1 20 + 18 + 20 + 18, T2 the same: 152 min. The
/// crew is paid for twelve open hours. 40 yd³ of material. Loads 3 and 4 are 3 min late: within tolerance.
#[test]
fn money_by_hand() {
    let text = changed(&[(
        "rules: [",
        "money: (pay_per_h: 30, overtime_after_h: 3, overtime_factor: 1.5, truck_per_duty_h: 12, truck_per_driven_h: 60, \
         crew_per_open_h: 100, material_per_yd3: 90), rules: [",
    )]);
    // Beyond three hours: 26 and 56 min at half a rate more: 82 ÷ 60 × 15 = 20.50.
    let pay = (206.0 + 236.0) / 60.0 * 30.0 + 82.0 / 60.0 * 15.0;
    // The employer's taxes on it: 26 USC 3111.
    let pay = pay * (1.0 + 0.0765);
    let truck_hours = (206.0 + 236.0) / 60.0 * 12.0;
    let cost = pay + 152.0 / 60.0 * 60.0 + 12.0 * 100.0 + 40.0 * 90.0;
    let counted = figures(
        &text,
        &[
            figure::COST,
            figure::COST_PER_YD3,
            figure::LATE_LOADS,
            figure::LATE_MIN,
        ],
    );
    assert!(
        (f64::from(counted[0]) - cost).abs() < 0.02,
        "{} for {cost}",
        counted[0]
    );
    assert!((f64::from(counted[1]) - (cost + truck_hours) / 40.0).abs() < 0.001);
    assert_eq!(&counted[2..], [0.0, 1.5]);
}

/// The site is ready at 07:10 only: T1, batched from 06:30 on, is on site at 07:00, waits, and would be empty at 07:20, fifty
/// minutes old. The limit is 45: rejected, back at 07:28, fifteen minutes to empty. Load 1 is made again before anything else
/// and keeps its ready time, 07:10: 63 min late. Load 2 is 40 min old when it is empty.
#[test]
fn a_load_that_would_be_too_old_is_made_again() {
    let text = changed(&[
        (
            "plants: [",
            "concrete: (age_limit_min: 45, empty: Constant(15)), plants: [",
        ),
        (
            "sites: [",
            "changes: (not_ready: 1, not_ready_min: Constant(10)), sites: [",
        ),
        ("volume_yd3: 40", "volume_yd3: 20"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
W 1 T1 07:43 07:49 07:53 08:13 +63 08:13 08:23 08:28
"
    );
    assert_eq!(
        lines(&text, &["rejected", "emptied"]),
        "07:10 T1 rejected, 10 yd³ too old\n07:43 T1 emptied\n"
    );
    let places = [
        figure::LATE_LOADS,
        figure::REJECTED,
        figure::REBATCHED,
        figure::BATCHED_YD3,
        figure::DUMPED_YD3,
    ];
    assert_eq!(figures(&text, &places), [1.0, 1.0, 1.0, 30.0, 10.0]);
}

/// The meter is misread and the mistake is found at the rack. Half a yard was kept free: the truck goes back into the bay for
/// nine minutes and through the rack again. It leaves 13 min later than it should.
#[test]
fn a_wet_load_is_dried_up_where_the_drum_has_room() {
    let text = changed(&[
        (
            "plants: [",
            "concrete: (rack: (misread: 1, found: 1, dry_up_room_yd3: 0.4, dry_up: Constant(9))), plants: [",
        ),
        ("volume_yd3: 40", "volume_yd3: 9.5"),
        ("early_min: 0", "early_min: 0, room_kept_yd3: 0.5"),
    ]);
    assert_eq!(
        loads(&text),
        "W 1 T1 06:30 06:36 06:40 06:40 06:49 06:53 07:13 +13 07:13 07:22:30 07:27:30\n"
    );
    let places = [
        figure::DRY_UPS,
        figure::REBATCHED,
        figure::BATCHED_YD3,
        figure::DUMPED_YD3,
    ];
    assert_eq!(figures(&text, &places), [1.0, 0.0, 9.5, 0.0]);
}

/// As above, D1 is stranded at 08:18; but a helper is on call at the plant. The car is there at 08:38, the truck home at 08:56,
/// washed out at 09:16: the driver, who rides along, is on duty until then. Nobody reports a second time.
#[test]
fn a_helper_fetches_driver_and_truck() {
    let text = changed(&[
        ("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)"),
        (
            "rules: [",
            "helpers: [(name: \"H\", at: \"P\", from: \"06:00\", to: \"09:30\")], rules: [",
        ),
        ("early_min: 0", "early_min: 0, retrieval: Fetch"),
    ]);
    assert_eq!(
        lines(&text, &["stranded", "helper", "D1 re", "D1 off"]),
        "\
05:30 D1 reports, T1
08:18 D1 stranded at A
08:18 a helper sets out for D1
09:16 D1 off duty after 3 h 46 min
"
    );
    assert_eq!(
        figures(
            &text,
            &[figure::STRANDED, figure::FETCHED, figure::VIOLATION_MIN]
        ),
        [1.0, 1.0, 0.0]
    );
    // On call until 08:50 only, the helper would not be back in time: the driver rests out.
    let short = text.replace("09:30", "08:50");
    assert_eq!(
        figures(&short, &[figure::STRANDED, figure::FETCHED]),
        [1.0, 0.0]
    );
    assert!(lines(&short, &["D1 reports"]).ends_with("18:18 D1 reports, T1\n"));
}

/// The plant stands still from 06:20 to 06:50, as planned: load 1 is loaded at 06:50, twenty minutes late.
#[test]
fn a_plant_that_stands_still_loads_nobody() {
    let text = changed(&[(
        "name: \"P\",",
        "name: \"P\", planned_outages: [(from: \"06:20\", to: \"06:50\")],",
    )]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:50 06:56 07:00 07:20 +20 07:20 07:30 07:35
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
W 3 T1 07:53 07:59 08:03 08:23 +23 08:23 08:33 08:38
W 4 T2 08:03 08:09 08:13 08:33 +3 08:33 08:43 08:48
"
    );
}

/// The site is ready 25 min later than agreed: the truck waits, and is not late. The desk hears of it at 07:00.
#[test]
fn a_site_that_is_not_ready_makes_no_load_late() {
    let text = changed(&[
        (
            "plants: [",
            "changes: (not_ready: 1, not_ready_min: Constant(25)), plants: [",
        ),
        ("volume_yd3: 40", "volume_yd3: 20"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:25 07:35 07:40
W 2 T2 07:00 07:06 07:10 07:30 +0 07:35 07:45 07:50
"
    );
}

/// The same site telephones an hour ahead, at 06:00: its order is moved to 07:25, nobody waits, nobody is late. Twenty minutes ahead, at
/// 06:40, the first load is on its way: it comes at 07:00 and waits, the second is due at 07:55 and sent half an hour before. An order
/// that is called in after that time has nothing to telephone: its site is late without a word.
#[test]
fn a_site_that_telephones_ahead_moves_its_order() {
    let with = |phones: &str, order: &str| {
        changed(&[
            (
                "plants: [",
                &format!(
                    "changes: (not_ready: 1, not_ready_min: Constant(25), {phones}), plants: ["
                ),
            ),
            ("volume_yd3: 40", &format!("{order}volume_yd3: 20")),
        ])
    };
    let in_time = with("phones_ahead: 1", "");
    assert_eq!(
        loads(&in_time),
        "\
W 1 T1 06:55 07:01 07:05 07:25 +0 07:25 07:35 07:40
W 2 T2 07:25 07:31 07:35 07:55 +0 07:55 08:05 08:10
"
    );
    assert_eq!(
        lines(&in_time, &["telephones"]),
        "06:00 W telephones: not ready, all of it 25 min later\n"
    );
    assert_eq!(
        loads(&with("phones_ahead: 1, phones_ahead_min: 20", "")),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:25 07:35 07:40
W 2 T2 07:25 07:31 07:35 07:55 +0 07:55 08:05 08:10
"
    );
    let silent = [
        with("phones_ahead: 0", ""),
        with("phones_ahead: 1", "called: \"06:15\", "),
    ];
    for text in silent {
        assert_eq!(
            loads(&text),
            "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:25 07:35 07:40
W 2 T2 07:00 07:06 07:10 07:30 +0 07:35 07:45 07:50
"
        );
    }
}

/// Called in at 06:45 for 07:00: fifteen minutes late, whatever anybody does.
#[test]
fn an_order_called_in_late_comes_late() {
    let text = changed(&[("volume_yd3: 40", "called: \"06:45\", volume_yd3: 10")]);
    assert_eq!(
        loads(&text),
        "W 1 T1 06:45 06:51 06:55 07:15 +15 07:15 07:25 07:30\n"
    );
}

/// What is cancelled, or not ordered, is outside of every base; who does not come drives nothing.
#[test]
fn cancelled_orders_and_drivers_who_do_not_come() {
    let places = [
        figure::LATE_LOADS,
        figure::ORDERED_YD3,
        figure::CANCELLED_YD3,
        figure::LEFT_YD3,
        figure::NO_SHOWS,
    ];
    let with =
        |changes: &str| changed(&[("plants: [", &format!("changes: ({changes}), plants: ["))]);
    assert_eq!(
        figures(&with("cancelled: 1"), &places),
        [0.0, 40.0, 40.0, 0.0, 0.0]
    );
    assert_eq!(
        figures(&with("rain: 1"), &places),
        [0.0, 40.0, 0.0, 0.0, 0.0]
    );
    let outdoor = with("rain: 1").replace("volume_yd3: 40", "outdoor: true, volume_yd3: 40");
    assert_eq!(figures(&outdoor, &places), [0.0, 40.0, 40.0, 0.0, 0.0]);
    assert_eq!(
        figures(&with("no_show: 1"), &places),
        [4.0, 40.0, 0.0, 40.0, 2.0]
    );
}

/// Loads are due when the plant is closed: nobody is promised overnight to a plant that opens in the morning. The truck loads
/// when it opens, at 06:45, fifteen minutes late.
#[test]
fn nobody_is_promised_to_a_plant_that_is_closed_by_then() {
    let text = changed(&[
        ("open: \"05:00\"", "open: \"06:45\""),
        ("volume_yd3: 40", "volume_yd3: 10"),
    ]);
    assert_eq!(
        lines(&text, &["06:30 T1"]),
        "06:30 T1 refused for W: plant closed\n"
    );
    assert_eq!(
        loads(&text),
        "W 1 T1 06:45 06:51 06:55 07:15 +15 07:15 07:25 07:30\n"
    );
}

/// Load 1 is turned away at 07:10, as above. T2 and T3 stand idle: T2 loads it again at once, at 07:10, and is on site at 07:40,
/// 30 min late. Load 2, an hour later, has its own ask at 07:30 and T3. Nobody waits for T1 to be emptied.
#[test]
fn a_load_that_is_made_again_takes_a_truck_that_stands_idle() {
    let text = changed(&[
        (
            "plants: [",
            "concrete: (age_limit_min: 45, empty: Constant(15)), plants: [",
        ),
        (
            "sites: [",
            "changes: (not_ready: 1, not_ready_min: Constant(10)), sites: [",
        ),
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 20, spacing_min: 60",
        ),
        ("count: 2", "count: 3"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T2 07:10 07:16 07:20 07:40 +30 07:40 07:50 07:55
W 2 T3 07:30 07:36 07:40 08:00 +0 08:00 08:10 08:15
"
    );
}

/// Three drivers share T. D is stranded with it at 08:18 and rests until 18:18. E waits for the truck from 09:00 to 13:00, F from
/// 13:00 to 17:00: each is released when the planned tour ends, and paid for it.
#[test]
fn of_two_who_wait_for_a_truck_the_earlier_goes_home() {
    let text = changed(&[
        ("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)"),
        ("count: 2", "count: 1"),
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("spacing_min: 30", "spacing_min: 60"),
        (
            "report: \"05:30\")",
            "report: \"05:30\", shift_h: 3), (name: \"E\", trucks: \"T\", report: \"09:00\", shift_h: 4), \
             (name: \"F\", trucks: \"T\", report: \"13:00\", shift_h: 4)",
        ),
    ]);
    assert_eq!(
        lines(&text, &["reports", "off duty"]),
        "\
05:30 D reports, T
08:18 D off duty after 2 h 48 min
09:00 E reports, T
13:00 F reports, T
13:00 E off duty after 4 h 0 min
17:00 F off duty after 4 h 0 min
18:18 D reports, T
18:56 D off duty after 38 min
"
    );
}

/// The same day begun at 20:30 with fifteen hours of rest: D is stranded at 23:18, drives home at 14:18 and is released at
/// 14:56, so the report of 20:30 on the second day moves to 05:56. The period is over by then: nobody is called.
#[test]
fn nobody_is_called_after_the_period() {
    let text = changed(&[
        (
            "rule_book: \"none\"",
            "rule_book: DutyWindow(hours: 3, rest_hours: 15)",
        ),
        (
            "name: \"paper day\",",
            "name: \"paper day\", period: (days: 2),",
        ),
        (
            "promise_horizon_min: 0",
            "promise_horizon_min: 0, latest_report_h: 10",
        ),
        ("count: 2", "count: 1"),
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("spacing_min: 30", "spacing_min: 60"),
        ("first: \"07:00\"", "first: \"22:00\""),
        ("report: \"05:30\"", "report: \"20:30\""),
        ("close: \"17:00\"", "close: \"24:00\""),
    ]);
    assert_eq!(
        lines(&text, &["reports", "off duty", "not called"]),
        "\
20:30 D reports, T
23:18 D off duty after 2 h 48 min
14:18 +1 D reports, T
14:56 +1 D off duty after 38 min
"
    );
}

/// No truck may stand on site, and the plant is the nearest place where it may. On site at 07:10, T2 is believed home by 07:58
/// (25 min of discharge, 5 of wash, 18 of road), within a window that ends at 08:06. But it waits for T1 until 07:25 and is done
/// at 07:55: nowhere to stop before 08:13. Whoever knows that does not drive: T2 stays on site for ten hours, and drives home then,
/// 18 minutes. The least left at the end of a drive is T1's, home at 07:48.
#[test]
fn who_cannot_reach_lawful_parking_in_time_stays() {
    let text = changed(&[
        (
            "rule_book: \"none\"",
            "rule_book: DutyWindow(hours: 2.6, rest_hours: 10)",
        ),
        ("(name: \"A\")", "(name: \"A\", parking: false)"),
        ("spacing_min: 30", "spacing_min: 10"),
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("discharge_luck: Constant(1)", "discharge: Constant(25)"),
    ]);
    assert_eq!(
        lines(&text, &["stranded", "reports", "off duty", "past"]),
        "\
05:30 D1 reports, T1
05:30 D2 reports, T2
07:55 D2 stranded at A
07:55 D2 off duty after 2 h 25 min
08:08 D1 off duty after 2 h 38 min
17:55 D2 reports, T2
18:33 D2 off duty after 38 min
"
    );
    assert_eq!(
        figures(
            &text,
            &[figure::STRANDED, figure::VIOLATION_MIN, figure::MARGIN_MIN]
        ),
        [1.0, 0.0, 18.0]
    );
}

/// The same with a yard Y six minutes from the site: there the truck may stand. It leaves the site at 07:55, is at Y at 08:01,
/// five minutes before the window ends; after ten hours it drives home from there, half an hour.
#[test]
fn who_may_not_drive_home_stops_at_the_nearest_lawful_parking() {
    let text = changed(&[
        (
            "rule_book: \"none\"",
            "rule_book: DutyWindow(hours: 2.6, rest_hours: 10)",
        ),
        ("(name: \"A\")", "(name: \"A\", parking: false)"),
        ("spacing_min: 30", "spacing_min: 10"),
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("discharge_luck: Constant(1)", "discharge: Constant(25)"),
        (
            "rack: Constant(4))],",
            "rack: Constant(4)), (name: \"Y\", mixes: [\"none\"])],",
        ),
        (
            "\"P\": { \"A\": (20, 18) }",
            "\"P\": { \"A\": (20, 18), \"Y\": 30 }, \"Y\": { \"A\": 6 }",
        ),
    ]);
    assert_eq!(
        lines(&text, &["D2", "T2 leaves the site", "past"]),
        "\
05:30 D2 reports, T2
07:55 T2 leaves the site
08:01 D2 stranded at Y
08:01 D2 off duty after 2 h 31 min
08:01 D2 stays overnight with the truck
18:01 D2 reports, T2
18:31 D2 home after 630 min
18:51 D2 off duty after 50 min
"
    );
}

/// Two loads of 45 min discharge, five minutes apart at 23:20: the second is on site at 23:26 and on time, but its turn comes at
/// 00:05 only, when it would be too old at the end. What would replace it does not come any more: undelivered, and late by the
/// day's end like all that is. It could have been taken at 00:05, after the day, so no minute of that is the trucks'.
#[test]
fn a_load_turned_away_after_its_day_is_undelivered() {
    let text = changed(&[
        (
            "plants: [",
            "concrete: (age_limit_min: 80, empty: Constant(15)), plants: [",
        ),
        (
            "first: \"07:00\", volume_yd3: 40, spacing_min: 30",
            "first: \"23:20\", volume_yd3: 20, spacing_min: 5",
        ),
        (
            "name: \"paper day\",",
            "name: \"paper day\", period: (days: 2),",
        ),
        ("report: \"05:30\"", "report: \"20:00\""),
        ("close: \"17:00\"", "close: \"24:00\""),
        ("discharge_luck: Constant(1)", "discharge: Constant(45)"),
        // its day ends at midnight sharp
        ("horizon_min: 0", "horizon_min: 0, order_open_h: 0"),
    ]);
    assert_eq!(
        lines(&text, &["rejected", "not delivered", "never sent"]),
        "\
00:05 +1 T2 rejected, 10 yd³ too old
00:05 +1 10 yd³ of W not delivered, 0 min late
00:05 +1 10 yd³ of W never sent
"
    );
    let places = [
        figure::UNDELIVERED,
        figure::LATE_LOADS,
        figure::LATE_SHARE,
        figure::LEFT_YD3,
        figure::SERVED_SHARE,
    ];
    assert_eq!(figures(&text, &places), [1.0, 1.0, 0.5, 10.0, 0.0]);
}

/// One load, 20 min late for want of a truck whose driver reports at 22:50 or 23:05: pre-trip 15, bay 6, rack 4, out 20. Due at 23:15
/// it is there at 23:35; due at 23:30, ten minutes before midnight; due at 23:45, five minutes after it. Nothing else changes: midnight
/// is no cliff. An order whose day is to end at midnight loses the load.
#[test]
fn midnight_is_no_cliff() {
    let day = |due: &str, report: &str, open: &str| {
        changed(&[
            (
                "first: \"07:00\", volume_yd3: 40, spacing_min: 30",
                &format!("first: \"{due}\", volume_yd3: 10, spacing_min: 0"),
            ),
            ("count: 2", "count: 1"),
            ("hours: [(open: \"05:00\", close: \"17:00\")], ", ""),
            ("report: \"05:30\"", &format!("report: \"{report}\"")),
            ("horizon_min: 0", &format!("horizon_min: 0{open}")),
        ])
    };
    let places = [
        figure::LATE_LOADS,
        figure::LATE_MIN,
        figure::UNDELIVERED,
        figure::PLACED_YD3,
        figure::LOST_SALES,
        figure::TROUBLE,
    ];
    let told = |due, report| figures(&day(due, report, ""), &places);
    let evening = told("23:15", "22:50");
    // 5 min beyond the tolerance of an order's first load, at $4, and $50 for the load.
    assert_eq!(evening, [1.0, 20.0, 0.0, 10.0, 0.0, 70.0]);
    assert_eq!(told("23:30", "23:05"), evening);
    assert_eq!(told("23:45", "23:20"), evening);
    let cliff = figures(&day("23:45", "23:20", ", order_open_h: 0"), &places);
    assert_eq!(&cliff[2..4], [1.0, 10.0], "it is placed all the same");
}

/// The rack takes one truck at a time, for twelve minutes; two bays load both trucks at once. T2 is loaded at 06:28 and stands
/// until the rack is free at 06:40: 12 min late. With two places both are on site at 07:00, and T2 waits there.
#[test]
fn a_rack_with_one_place_serves_one_after_the_other() {
    let text = changed(&[
        (
            "volume_yd3: 40, spacing_min: 30",
            "volume_yd3: 20, spacing_min: 0, outlets: [(rate_yd3_min: 1), (rate_yd3_min: 1)]",
        ),
        ("name: \"P\",", "name: \"P\", bays: 2, rack_places: 1,"),
        ("rack: Constant(4)", "rack: Constant(12)"),
    ]);
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:22 06:28 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 06:22 06:28 06:52 07:12 +12 07:12 07:22 07:27
"
    );
    let two = text.replace("rack_places: 1", "rack_places: 2");
    assert!(loads(&two).ends_with("W 2 T2 06:22 06:28 06:40 07:00 +0 07:00 07:10 07:15\n"));
}

/// All at one moment. 06:36: T1 leaves the bay (finish), and T2, whose send time it is, pulls in without a wait (arrive, ask).
/// 07:33: T1 is back (arrive) at the very moment at which load 3 asks: it is promised, though nobody looks ahead.
#[test]
fn finish_before_arrive_before_ask() {
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("spacing_min: 30", "spacing_min: 6"),
        ("discharge_luck: Constant(1)", "discharge: Constant(6)"),
    ]);
    assert_eq!(
        lines(&text, &["06:36"]),
        "\
06:36 T1 loaded, 10 yd³
06:36 T1 at the slump rack
06:36 W: next load needed
06:36 T2 promised to W load 2, 10 yd³ from P, due 07:06
06:36 T2 in the queue at P
06:36 T2 in the bay at P
"
    );
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 20"),
        ("spacing_min: 30", "spacing_min: 63"),
        ("count: 2", "count: 1"),
    ]);
    assert_eq!(
        lines(&text, &["07:33"]),
        "\
07:33 W: next load needed
07:33 T promised to W load 2, 10 yd³ from P, due 08:03
07:33 T in the queue at P
07:33 T in the bay at P
"
    );
}

/// The driver reports at 06:30, ready at once, when load 1 asks: report before ask, and the load is on time.
#[test]
fn report_before_ask() {
    let text = changed(&[
        ("volume_yd3: 40", "volume_yd3: 10"),
        ("report: \"05:30\"", "report: \"06:30\""),
        ("pre_trip: Constant(15)", "pre_trip: Constant(0)"),
        ("count: 2", "count: 1"),
    ]);
    assert_eq!(
        lines(&text, &["06:30"]),
        "\
06:30 D reports, T
06:30 W: next load needed
06:30 T promised to W load 1, 10 yd³ from P, due 07:00
06:30 T in the queue at P
06:30 T in the bay at P
"
    );
}

/// Loads on demand, in turn to B, five minutes away, and to A, an hour away with no place to stand. A window of three hours: T1 is
/// back from B at 06:20 and cannot take the load for A (back at 08:45 of 08:30), so it stands. D2 reports at 07:00; at 07:15 T2
/// takes the load for A. The one that follows goes to B, and nobody has been refused for it: T1 takes it at once.
#[test]
fn the_following_load_is_offered_to_who_was_refused_for_the_one_before() {
    let text = changed(&[
        ("rule_book: \"none\"", "rule_book: DutyWindow(hours: 3)"),
        (
            "(name: \"A\")",
            "(name: \"A\", parking: false), (name: \"B\")",
        ),
        ("\"A\": (20, 18)", "\"A\": 60, \"B\": 5"),
        (
            "(name: \"D\", trucks: \"T\", report: \"05:30\")",
            "(name: \"D1\", trucks: \"T1\", report: \"05:30\"), (name: \"D2\", trucks: \"T2\", report: \"07:00\")",
        ),
        (
            "orders: [(name: \"W\", site: \"A\", first: \"07:00\", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))]",
            "endless: [(name: \"E\", destinations: [
        (site: \"B\", position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)),
        (site: \"A\", position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))])]",
        ),
    ]);
    assert_eq!(
        lines(&text, &["promised"]),
        "\
05:45 T1 promised to E load 1, 10 yd³ from P, due 05:45
07:15 T2 promised to E load 2, 10 yd³ from P, due 07:15
07:15 T1 promised to E load 3, 10 yd³ from P, due 07:15
"
    );
}
