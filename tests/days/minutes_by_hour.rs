//! Minutes between places by time of day: what is true, and what is believed, worked out by hand.

use crate::day::{loads, scenario};
use plantday::engine::Luck;
use plantday::observe::Figures;
use plantday::plant::{Plan, World};
use plantday::roads::{Belief, Haul, RoadState, Roads};
use plantday::units::{Millis, PlaceId};

/// One truck, one load due at 07:10. Loading 6, rack 4, discharge 10, chute wash 5; 20 minutes on the empty road, 40 from 07:00 to 09:00.
const PAPER: &str = r#"(
    name: "by hour",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": [("05:00", 20), ("07:00", 40), ("09:00", 20)] } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:10", volume_yd3: 20, spacing_min: 100,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn roads(text: &str) -> Roads {
    Plan::new(&scenario(text)).roads().clone()
}

fn trip(roads: &Roads, hour: i64, minute: i64, back: bool) -> f64 {
    let state = RoadState::default();
    let depart = Millis::HOUR * hour + Millis::MINUTE * minute;
    let (from, to) = match back {
        false => (PlaceId(0), PlaceId(1)),
        true => (PlaceId(1), PlaceId(0)),
    };
    let now = roads.at(&state, depart);
    now.trip(from, to, Haul::Loaded, depart, 0.5).minutes()
}

/// Within a band its minutes; across its end the rest at the pace of the next: at 06:50 half the way is done by 07:00, the other half
/// takes 20 min; at 08:40 half is done by 09:00, the other takes 10.
#[test]
fn a_trip_takes_the_minutes_of_its_hour() {
    let roads = roads(PAPER);
    for (hour, minute, expected) in [
        (4, 0, 20.0),
        (6, 40, 20.0),
        (6, 50, 30.0),
        (7, 0, 40.0),
        (8, 20, 40.0),
        (8, 40, 30.0),
        (9, 0, 20.0),
        (23, 50, 20.0),
    ] {
        for back in [false, true] {
            let found = trip(&roads, hour, minute, back);
            assert!((found - expected).abs() < 1e-4, "{hour}:{minute} {found}");
        }
    }
}

/// Out by time of day, back always the same.
#[test]
fn out_and_back_may_differ() {
    let both = "([(\"05:00\", 20), (\"07:00\", 40), (\"09:00\", 20)], 25)";
    let text = PAPER.replace("[(\"05:00\", 20), (\"07:00\", 40), (\"09:00\", 20)]", both);
    let roads = roads(&text);
    assert_eq!(trip(&roads, 7, 30, false), 40.0);
    assert_eq!(trip(&roads, 7, 30, true), 25.0);
}

/// Who reckons with empty roads takes the quickest minutes, leaves at 06:50 and is 10 min late. Who knows the hour reckons 30 min for
/// that trip, leaves at 06:40 and is there at 07:00, before the site is ready. Without it, the second load, due at 08:50, leaves at 08:30: three quarters of the
/// way at 40 minutes' pace are done at 09:00, the last at 20 minutes' takes 5.
#[test]
fn beliefs_take_the_quickest_or_those_of_the_hour() {
    assert_eq!(
        loads(PAPER),
        "\
W 1 T 06:40 06:46 06:50 07:20 +10 07:20 07:30 07:35
W 2 T 08:20 08:26 08:30 09:05 +15 09:05 09:15 09:20
"
    );
    let text = PAPER.replace("FreeFlow", "TimeOfDay");
    let first = "W 1 T 06:30 06:36 06:40 07:00 +0 07:10 07:20 07:25";
    assert!(loads(&text).starts_with(first), "{}", loads(&text));
    let roads = roads(PAPER);
    let state = RoadState::default();
    let now = roads.at(&state, Millis::ZERO);
    let believed = |belief, depart| {
        let belief = roads.believe(belief);
        now.believed(belief, PlaceId(0), PlaceId(1), Haul::Loaded, depart)
    };
    let half_past_seven = Millis::MINUTE * 450;
    assert_eq!(believed(Belief::FreeFlow, half_past_seven).minutes(), 20.0);
    for hour in [Belief::TimeOfDay { quantile: None }, Belief::Live] {
        assert_eq!(believed(hour, half_past_seven).minutes(), 40.0);
    }
    let ends = (PlaceId(0), PlaceId(1));
    let least = |belief| now.believed_at_least(roads.believe(belief), ends.0, ends.1, Haul::Loaded);
    assert_eq!(least(Belief::FreeFlow).minutes(), 20.0);
    let usual = least(Belief::TimeOfDay { quantile: None }).minutes();
    assert!((18.0..=20.0).contains(&usual), "{usual}");
}

/// Minutes by time of day that are those of the empty road times the factors of a traffic profile make the same day to the last
/// figure, whatever the luck; a way of its own is not slowed by `traffic` besides.
#[test]
fn minutes_of_the_hour_are_those_of_traffic() {
    let by_hour = PAPER.replace(" } }),", " } }, luck: Lognormal(mean: 1, cv: 0.3)),");
    let with_factors = |minutes: &str| {
        let traffic = ", traffic: [(factors: [(\"07:00\", 2), (\"09:00\", 1)])], luck:";
        by_hour
            .replace(
                "[(\"05:00\", 20), (\"07:00\", 40), (\"09:00\", 20)]",
                minutes,
            )
            .replace(", luck:", traffic)
    };
    let figures = |text: &str| {
        let text = text.replace("FreeFlow", "TimeOfDay(quantile: 0.8)");
        let scenario = scenario(&text);
        let plan = Plan::new(&scenario);
        let mut world = World::new(&plan);
        let mut rows = Vec::new();
        for replication in 0..20 {
            let mut figures = Figures::new(&plan, &scenario.money);
            figures.begin();
            world.run(0, Luck::new(7, replication), &mut figures);
            let mut row = vec![0.0; figures.width()];
            figures.row(&mut row);
            rows.push(row);
        }
        format!("{rows:?}")
    };
    let expected = figures(&by_hour);
    for other in [
        with_factors("20"),
        with_factors("[(\"05:00\", 20), (\"07:00\", 40), (\"09:00\", 20)]"),
    ] {
        assert_eq!(figures(&other), expected);
    }
}
