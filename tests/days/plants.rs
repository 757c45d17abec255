//! Which plant serves a load, on days without luck worked out on paper.

use crate::day;

use day::{figures, lines, loads};
use plantday::observe::figure;

/// Two plants with a truck each: N with T, 20 min from the site, and F with U, 50 min from it. Loading 6, rack 4, discharge 10,
/// chute wash 5, so a load of N is sent 30 min before it is due and one of F 60. Three loads are due from 07:00 on, ten minutes
/// apart.
const TWO_PLANTS: &str = r#"(
    name: "two plants",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [
        (name: "N", loading: Constant(6), rack: Constant(4)),
        (name: "F", loading: Constant(6), rack: Constant(4)),
    ],
    sites: [(name: "A")],
    roads: (minutes: { "N": { "A": (20, 18), "F": 40 }, "F": { "A": (50, 45) } }),
    trucks: [(name: "T", home: "N"), (name: "U", home: "F")],
    drivers: [(name: "D", trucks: "T", report: "05:30"), (name: "E", trucks: "U", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 30, spacing_min: 10,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn changed(from: &str, to: &str) -> String {
    assert!(TWO_PLANTS.contains(from), "{from}");
    TWO_PLANTS.replace(from, to)
}

/// Any plant may serve: load 1 asks at 06:00, when F would have to send it, and gets T, which is nearer. Load 2 asks at 06:10;
/// only U can be promised, and it is in time. Load 3 waits for T, back at 07:33.
#[test]
fn from_any_plant_the_far_truck_goes_early() {
    assert_eq!(
        loads(TWO_PLANTS),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 U 06:10 06:16 06:20 07:10 +0 07:10 07:20 07:25
W 3 T 07:33 07:39 07:43 08:03 +43 08:03 08:13 08:18
"
    );
}

/// The nearest plant first, others once it would be 20 min late: load 2 asks at 06:40, finds no truck at N, and may have one of F
/// from 07:00 on, when even a truck that came free at N would be on site at 07:30. U is there at 08:00, 50 min late.
#[test]
fn from_the_nearest_plant_first_the_far_truck_waits_until_the_near_one_would_be_late() {
    let text = changed(
        "belief: FreeFlow",
        "belief: FreeFlow, plants: NearestFirst(late_min: 20)",
    );
    assert_eq!(
        loads(&text),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 U 07:00 07:06 07:10 08:00 +50 08:00 08:10 08:15
W 3 T 07:33 07:39 07:43 08:03 +43 08:10 08:20 08:25
"
    );
    assert_eq!(
        lines(&text, &["usual plant"]),
        "\
06:30 T refused for W: held for the nearest or usual plant
06:30 U refused for W: held for the nearest or usual plant
06:40 U refused for W: held for the nearest or usual plant
"
    );
}

/// T is back at 07:33: with 60 min of patience load 2 waits for it, on site at 08:03. U goes for nothing.
#[test]
fn with_more_patience_the_near_truck_comes_first() {
    let text = changed(
        "belief: FreeFlow",
        "belief: FreeFlow, plants: NearestFirst(late_min: 60)",
    )
    .replace("volume_yd3: 30", "volume_yd3: 20");
    assert_eq!(
        loads(&text),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T 07:33 07:39 07:43 08:03 +53 08:03 08:13 08:18
"
    );
}

/// N opens at 08:00 only: until then F is the nearest open plant, and sends load 1 at 06:00.
#[test]
fn a_closed_plant_is_not_the_nearest() {
    let text = changed(
        "name: \"N\", loading",
        "name: \"N\", hours: [(open: \"08:00\", close: \"17:00\")], loading",
    )
    .replace(
        "belief: FreeFlow",
        "belief: FreeFlow, plants: NearestFirst(late_min: 20)",
    )
    .replace("volume_yd3: 30", "volume_yd3: 10");
    assert_eq!(
        loads(&text),
        "W 1 U 06:00 06:06 06:10 07:00 +0 07:00 07:10 07:15\n"
    );
}

/// From F a load is 75 min old when the truck leaves the site. With a limit of 70 it is never sent, whoever is free, and nothing
/// is rejected: loads 2 and 3 wait for T.
#[test]
fn a_load_that_would_be_too_old_on_site_is_not_sent() {
    let text = changed("sites: [", "concrete: (age_limit_min: 70), sites: [");
    assert_eq!(
        loads(&text),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W 2 T 07:33 07:39 07:43 08:03 +53 08:03 08:13 08:18
W 3 T 08:36 08:42 08:46 09:06 +106 09:06 09:16 09:21
"
    );
    assert!(lines(&text, &["refused"]).contains("U refused for W: too old on site"));
    assert_eq!(figures(&text, &[figure::REJECTED]), [0.0]);
}

/// The order's usual plant is the far one: its load is sent an hour before it is due. Its one truck is out when load 2 asks at 06:10; from
/// 06:30 on, when even a truck that came free there would be 20 min late, the near plant may have it, and sends it in time. Load 3 gets
/// the near truck, back at 07:25 + 18. An order that names no usual plant goes by the nearest, as under `NearestFirst`.
#[test]
fn from_the_usual_plant_first_the_near_one_helps_out() {
    let rule = "belief: FreeFlow, plants: UsualFirst(late_min: 20)";
    let without = changed("belief: FreeFlow", rule);
    let usual = without.replace("name: \"W\",", "name: \"W\", plant: \"F\",");
    assert_eq!(
        loads(&usual),
        "\
W 1 U 06:00 06:06 06:10 07:00 +0 07:00 07:10 07:15
W 2 T 06:40 06:46 06:50 07:10 +0 07:10 07:20 07:25
W 3 T 07:43 07:49 07:53 08:13 +53 08:13 08:23 08:28
"
    );
    let nearest = changed(
        "belief: FreeFlow",
        "belief: FreeFlow, plants: NearestFirst(late_min: 20)",
    );
    assert_eq!(loads(&without), loads(&nearest));
}
