//! What changes on the day, on days without other luck worked out on paper.

use crate::day;

use day::{figures, lines, loads};
use plantday::observe::figure;

/// One plant, two trucks, one site, everything constant. Loading 6, rack 4, out 20, discharge 10 (10 yd³ at 1 yd³ a minute), chute
/// wash 5, back 18. Two loads are due at 07:00 and 07:30 and are sent 30 min before.
const PLAIN: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    changes: (),
    plants: [(name: "P", loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 20, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn with_changes(changes: &str) -> String {
    PLAIN.replace("changes: ()", &format!("changes: ({changes})"))
}

/// It rains every day, and every trip takes half as long again: 30 min out instead of 20, both loads 10 min late.
#[test]
fn rain_slows_the_roads() {
    assert_eq!(
        loads(&with_changes("rain: 1, rain_slows: 1.5")),
        "\
W 1 T1 06:30 06:36 06:40 07:10 +10 07:10 07:20 07:25
W 2 T2 07:00 07:06 07:10 07:40 +10 07:40 07:50 07:55
"
    );
}

/// Without rain the factor changes nothing.
#[test]
fn a_dry_day_is_as_fast_as_ever() {
    let dry = with_changes("rain: 0, rain_slows: 1.5");
    assert_eq!(loads(&dry), loads(PLAIN));
}

/// A crew half as fast as its rate says: 20 min a load. The second load comes when the first is gone, and is in time by what
/// this site could take.
#[test]
fn a_slow_crew_takes_longer_and_is_waited_for() {
    let text = with_changes("pace: Constant(2)").replace("spacing_min: 30", "spacing_min: 15");
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:20 07:25
W 2 T2 06:45 06:51 06:55 07:15 +0 07:20 07:40 07:45
"
    );
}

/// The pour stops for 45 min after the first of its two loads, at 07:10. T2 comes at 07:30 and waits until 07:55; the second
/// load could not have been taken sooner by any rule.
#[test]
fn a_held_pour_takes_no_truck_for_a_while() {
    let text = with_changes("hold: 1, hold_min: Constant(45)");
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:55 08:05 08:10
"
    );
}

/// More was ordered than the form takes: 2 yd³ of the last load go back. Ordered 20 = placed 18 + not needed 2; batched 20 =
/// placed 18 + returned 2.
#[test]
fn what_is_not_needed_comes_back() {
    let text = with_changes("returned: 1, returned_yd3: Constant(2)").replace(
        "rules: [",
        "money: (pay_per_h: 0, truck_per_duty_h: 0, truck_per_driven_h: 0, crew_per_open_h: 0, material_per_yd3: 100, \
         returned_per_yd3: 30), rules: [",
    );
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:38 07:43
"
    );
    assert_eq!(
        figures(
            &text,
            &[
                figure::ORDERED_YD3,
                figure::BATCHED_YD3,
                figure::PLACED_YD3,
                figure::RETURNED_YD3,
                figure::CANCELLED_YD3,
                figure::LEFT_YD3,
                figure::SERVED_SHARE,
                figure::COST,
            ]
        ),
        [20.0, 20.0, 18.0, 2.0, 2.0, 0.0, 1.0, 2060.0]
    );
}

/// Trucks that break down on every drive, for ten minutes: on site ten minutes late, and back ten minutes later.
#[test]
fn a_truck_that_breaks_down_is_late_and_its_load_older() {
    let often = "breakdowns: (mean_h_between: 0.00000001, minutes: Constant(10))";
    let text = PLAIN.replace("home: \"P\"", &format!("home: \"P\", {often}"));
    assert_eq!(
        loads(&text),
        "\
W 1 T1 06:30 06:36 06:40 07:10 +10 07:10 07:20 07:25
W 2 T2 07:00 07:06 07:10 07:40 +10 07:40 07:50 07:55
"
    );
    assert_eq!(
        lines(&text, &["breaks down", "repaired"]),
        "\
06:40 T1 breaks down 0 min out with W load 1
06:50 T1 repaired after 10 min
07:10 T2 breaks down 0 min out with W load 2
07:20 T2 repaired after 10 min
07:25 T1 breaks down after 0 min on the road, empty
07:35 T1 repaired after 10 min
07:55 T2 breaks down after 0 min on the road, empty
08:05 T2 repaired after 10 min
"
    );
    assert_eq!(figures(&text, &[figure::BREAKDOWNS]), [4.0]);
    // Every truck for itself: another truck's breakdowns move nobody's.
    let one = PLAIN.replace(
        "(name: \"T\", count: 2, home: \"P\")",
        &format!("(name: \"T1\", home: \"P\"), (name: \"T2\", home: \"P\", {often})"),
    );
    let one = one.replace(
        "(name: \"D\", trucks: \"T\", report: \"05:30\")",
        "(name: \"D1\", trucks: \"T1\", report: \"05:30\"), (name: \"D2\", trucks: \"T2\", report: \"05:30\")",
    );
    assert!(loads(&one).starts_with("W 1 T1 06:30 06:36 06:40 07:00 +0"));
}

/// A load of 10 yd³ weighs 40,500 lb (4,050 lb a yd³); the truck may carry 41,000 by the books and weighs 1,000 lb more than they
/// say. The weigh station on the way is open: held for 45 min. With a truck scale at the plant, or if the rule keeps 1,000 lb,
/// or while the station is closed, it is not.
#[test]
fn a_truck_found_heavy_is_held() {
    let text = PLAIN
        .replace(
            "roads: (minutes: { \"P\": { \"A\": (20, 18) } })",
            "roads: Network(links: [(from: \"P\", to: \"A\", miles: 10, mph: 30, \
             weigh_station: (hours: [(from: \"06:00\", to: \"12:00\")], minutes: 0))])",
        )
        .replace(
            "changes: ()",
            "changes: (), weighing: (empty_over_lb: 1000, empty_sd_lb: 0, held: Constant(45))",
        )
        .replace(
            "name: \"P\", loading",
            "name: \"P\", truck_scale: false, loading",
        )
        .replace("volume_yd3: 20", "volume_yd3: 10");
    assert_eq!(
        loads(&text),
        "W 1 T1 06:30 06:36 06:40 07:45 +45 07:45 07:55 08:00\n"
    );
    assert_eq!(
        lines(&text, &["overweight"]),
        "07:45 T1 was overweight at the scale and held for 45 min\n"
    );
    assert_eq!(figures(&text, &[figure::FOUND_HEAVY]), [1.0]);
    for lawful in [
        text.replace("truck_scale: false", "truck_scale: true"),
        text.replace(
            "belief: FreeFlow",
            "belief: FreeFlow, weight_margin_lb: 1000",
        ),
        text.replace(
            "from: \"06:00\", to: \"12:00\"",
            "from: \"08:00\", to: \"12:00\"",
        ),
    ] {
        assert_eq!(figures(&lawful, &[figure::FOUND_HEAVY]), [0.0], "{lawful}");
    }
}

/// The day with a load of 10 yd³ from a plant without a truck scale, a weigh station on the way out and a longer way round it over
/// the junction J: 16 miles at 30 mph, 32 min instead of 20.
fn with_a_way_round(goes_round: &str) -> String {
    PLAIN
        .replace(
            "roads: (minutes: { \"P\": { \"A\": (20, 18) } })",
            "roads: Network(junctions: [\"J\"], links: [(from: \"P\", to: \"J\", miles: 6, mph: 30), \
             (from: \"J\", to: \"A\", miles: 10, mph: 30), (from: \"P\", to: \"A\", miles: 10, mph: 30, \
             weigh_station: (hours: [(from: \"06:00\", to: \"12:00\")], minutes: 0))])",
        )
        .replace(
            "changes: ()",
            &format!(
                "changes: (), weighing: (empty_over_lb: 1000, empty_sd_lb: 0, held: Constant(45), goes_round: {goes_round}), \
                 money: (pay_per_h: 0, truck_per_duty_h: 0, truck_per_driven_h: 0, crew_per_open_h: 0, material_per_yd3: 0, late_per_load: 0, \
                 late_per_min: 0, truck_per_mile: 1)"
            ),
        )
        .replace(
            "name: \"P\", loading",
            "name: \"P\", truck_scale: false, loading",
        )
        .replace("volume_yd3: 20", "volume_yd3: 10")
}

/// A load that goes round the weigh station is 12 min late for it and is not found heavy; 16 miles out and 10 back. One that does not
/// is held for 45 min, 10 miles out and 10 back. A plant with a truck scale has nothing to go round for, nor has a load that comes
/// when the station is closed: the same bytes as without the habit.
#[test]
fn the_long_way_round_a_weigh_station() {
    let round = with_a_way_round("1");
    assert_eq!(
        loads(&round),
        "W 1 T1 06:30 06:36 06:40 07:12 +12 07:12 07:22 07:27\n"
    );
    assert_eq!(
        lines(&round, &["weigh station", "overweight"]),
        "07:12 T1 took a detour around a weigh station: 12 min more\n"
    );
    let told = [figure::FOUND_HEAVY, figure::COST];
    assert_eq!(figures(&round, &told), [0.0, 26.0]);
    assert_eq!(figures(&with_a_way_round("0"), &told), [1.0, 20.0]);
    for nothing_to_go_round in [
        ("truck_scale: false", "truck_scale: true"),
        (
            "from: \"06:00\", to: \"12:00\"",
            "from: \"08:00\", to: \"12:00\"",
        ),
    ] {
        let (from, to) = nothing_to_go_round;
        let [habit, none] = ["1", "0"].map(|share| with_a_way_round(share).replace(from, to));
        assert_eq!(lines(&habit, &[""]), lines(&none, &[""]));
        assert_eq!(figures(&habit, &told), figures(&none, &told));
    }
}

/// The driver's window ends at 07:06. The quick way is driven by 07:00, the way round not before 07:12, so that nobody goes it.
#[test]
fn nobody_goes_round_whose_hours_do_not_hold_it() {
    let with_window = |hours: &str| {
        with_a_way_round("1").replace(
            "rule_book: \"none\"",
            &format!("rule_book: DutyWindow(hours: {hours})"),
        )
    };
    assert_eq!(lines(&with_window("1.6"), &["took a detour"]), "");
    assert_eq!(
        lines(&with_window("4"), &["took a detour"]),
        "07:12 T1 took a detour around a weigh station: 12 min more\n"
    );
}

/// Of 400 loads that could, about three in ten go round: 120 ± 28 is three standard deviations of a binomial count.
#[test]
fn as_many_go_round_as_is_said() {
    let went = |share: &str| -> u32 {
        let scenario = day::scenario(&with_a_way_round(share));
        let plan = plantday::plant::Plan::new(&scenario);
        (0..400)
            .map(|replication| {
                let mut log = plantday::observe::Log::with_desk(&scenario);
                let luck = plantday::engine::Luck::new(1, replication);
                plantday::plant::World::new(&plan).run(0, luck, &mut log);
                u32::from(log.text().contains("took a detour"))
            })
            .sum()
    };
    let some = went("0.3");
    assert!(some.abs_diff(120) <= 28, "{some} of 400");
    assert_eq!((went("0"), went("1")), (0, 400));
}

/// 20 yd³ are ordered. When all but the last load are on site, at 07:00, the site calls in 5 more: due at the spacing behind the
/// second load, at 08:00. Five yards would be sent at 07:30 like any other load, but T1 is back at 07:33 only: 3 min late.
/// Ordered 25 = placed 25.
#[test]
fn the_balance_is_called_in_when_all_but_the_last_load_are_there() {
    let balance = PLAIN.replace("volume_yd3: 20,", "volume_yd3: 20, balance_yd3: 5.2,");
    assert_eq!(
        loads(&balance),
        "\
W 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
W 3 T1 07:33 07:39 07:43 08:03 +3 08:03 08:08 08:13
"
    );
    assert_eq!(
        lines(&balance, &["calls in"]),
        "07:00 W calls in 5 yd³ more\n"
    );
    assert_eq!(
        figures(
            &balance,
            &[
                figure::ORDERED_YD3,
                figure::PLACED_YD3,
                figure::LEFT_YD3,
                figure::SERVED_SHARE
            ]
        ),
        [25.0, 25.0, 0.0, 1.0]
    );
    // The same by chance, for every order; and nothing of an order that calls a balance is returned.
    let by_chance = with_changes("balance: 1, balance_yd3: 5, returned: 1, returned_yd3: 2");
    assert_eq!(loads(&by_chance), loads(&balance));
    assert_eq!(
        loads(&with_changes("balance: 0, balance_yd3: 5")),
        loads(PLAIN)
    );
}

/// A balance that no truck is left for stays with the order: ordered 25 = placed 20 + left over 5, and its load is undelivered.
#[test]
fn a_balance_that_nobody_brings_is_left_over() {
    let text = PLAIN
        .replace("volume_yd3: 20,", "volume_yd3: 20, balance_yd3: 5,")
        .replace(
            "(name: \"P\",",
            "(name: \"P\", hours: [(open: \"05:30\", close: \"07:10\")],",
        );
    assert_eq!(
        figures(
            &text,
            &[
                figure::ORDERED_YD3,
                figure::PLACED_YD3,
                figure::LEFT_YD3,
                figure::UNDELIVERED,
                figure::SERVED_SHARE
            ]
        ),
        [25.0, 20.0, 5.0, 1.0, 0.0]
    );
}

/// Called in at 06:45 (a will-call order): the first load loads then, not at 06:30, and is 15 min late.
#[test]
fn nobody_loads_for_an_order_that_is_not_called_in() {
    let text = PLAIN.replace("volume_yd3: 20,", "volume_yd3: 10, called: \"06:45\",");
    assert_eq!(
        loads(&text),
        "W 1 T1 06:45 06:51 06:55 07:15 +15 07:15 07:25 07:30\n"
    );
}
