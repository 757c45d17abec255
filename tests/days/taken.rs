//! Loads that come and are not taken, worked out on paper: whoever counts late loads counts the same ones, once each.

use crate::changed;
use crate::day::{figures, loads, scenario};

use plantday::Watch;
use plantday::engine::Luck;
use plantday::observe::{DayWatch, LATE_BIN, LateLoads, Ledger, Profiler, TripWatch, figure};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::Scenario;
use plantday::studies::replay::{Question, Replay, Which, replay};
use plantday::units::{DriverId, Millis, OrderId, TruckId};

/// What a replay tells of the day.
fn replayed(scenario: &Scenario) -> Replay {
    let question = Question {
        rule: 0,
        which: Which::Number(0),
        replications: 1,
        refusals: None,
        seed: 1,
        threads: None,
    };
    replay(scenario, &question, Watch::default()).expect("it was not stopped")
}

/// One plant, one bay, two trucks, one site, everything constant. Loading 6, rack 4, out 20, discharge 10, chute wash 3, back 18,
/// emptying 15. Two loads at once, due at 07:00; the first is ready to be taken then, the second when the first is out of the way,
/// at 07:10. The order is called in at 06:45 only. Where a discharge would end more than 43 min after the loading began, the site
/// does not take the load.
const DAY: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    concrete: (age_limit_min: 43, empty: Constant(15)),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 20, spacing_min: 0, late_min: 0, called: "06:45",
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(3))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, early_min: 0, bay_wait_min: 0)],
)"#;

const T1: TruckId = TruckId(0);

fn at(hours: i64, minutes: i64) -> Millis {
    Millis::HOUR * hours + Millis::MINUTE * minutes
}

/// What is told of the loads of a day: which came, were taken and did not come: a line for each.
#[derive(Default)]
struct Told(Vec<String>);

impl Observer for Told {
    fn event(&mut self, at: Millis, event: &Event) {
        let load = |order: OrderId, number: u32| format!("{at} {}.{}", order.0, number + 1);
        match *event {
            Event::SiteReached {
                order,
                number,
                lateness,
                ..
            } => {
                let late = lateness.map(|lateness| lateness.late().minutes());
                self.0
                    .push(format!("{} on site {late:?}", load(order, number)));
            }
            Event::Taken {
                order,
                number,
                came,
                lateness,
                ..
            } => self.0.push(format!(
                "{} taken, came {came}, {} late, {} beyond",
                load(order, number),
                lateness.late().minutes(),
                lateness.beyond().minutes()
            )),
            Event::Undelivered { order, late, .. } => {
                self.0
                    .push(format!("{at} {}.- never, {}", order.0, late.minutes()));
            }
            Event::Rejected { .. } => self.0.push(format!("{at} turned away")),
            _ => {}
        }
    }
}

fn played<O: Observer>(text: &str, mut observer: impl FnMut(&Plan) -> O) -> O {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut observer = observer(&plan);
    World::new(&plan).run(0, Luck::new(1, 0), &mut observer);
    observer
}

fn told(text: &str) -> Vec<String> {
    played(text, |_| Told::default()).0
}

/// T1 is loaded from 06:45, on site at 07:15 and empty at 07:25. T2 is loaded from 06:51 and on site at 07:21, 11 min late; at 07:25,
/// when its turn comes, it would be empty at 44 min: turned away. T1, back at 07:46, brings what replaces it at 08:16, 66 min late.
/// So two loads came late, by 81 min together, and three trucks came: every count is of the two.
#[test]
fn a_load_that_is_turned_away_has_not_come() {
    assert_eq!(
        loads(DAY),
        "\
W 1 T1 06:45 06:51 06:55 07:15 +15 07:15 07:25 07:28
W 2 T1 07:46 07:52 07:56 08:16 +66 08:16 08:26 08:29
"
    );
    assert_eq!(
        told(DAY),
        [
            "07:15 0.1 on site Some(15.0)",
            "07:15 0.1 taken, came 07:15, 15 late, 15 beyond",
            "07:21 0.2 on site Some(11.0)",
            "07:25 turned away",
            "08:16 0.2 on site Some(66.0)",
            "08:16 0.2 taken, came 08:16, 66 late, 66 beyond",
        ]
    );
    let places = [
        figure::LATE_LOADS,
        figure::LATE_MIN,
        figure::LATE_SHARE,
        figure::FIRST_LATE,
        figure::REJECTED,
        figure::OLD,
        figure::WET_ON_SITE,
    ];
    assert_eq!(figures(DAY, &places), [2.0, 40.5, 1.0, 1.0, 1.0, 1.0, 0.0]);

    let scenario = scenario(DAY);
    let plan = Plan::new(&scenario);
    let mut ledger = Ledger::new(&plan);
    ledger.begin();
    let mut profiler = Profiler::new(&plan);
    profiler.begin();
    let mut list = LateLoads::new(&plan);
    let mut watch = DayWatch::default();
    watch.begin(Some(OrderId(0)), at(0, 0));
    let mut rest = DayWatch::default();
    rest.begin(None, at(7, 16));
    let mut all = (
        (&mut ledger, &mut profiler),
        (&mut list, (&mut watch, &mut rest)),
    );
    World::new(&plan).run(0, Luck::new(1, 0), &mut all);
    assert_eq!(ledger.causes.loads, 2);
    assert_eq!(Millis(ledger.causes.late.iter().sum()), at(0, 81));
    let bins: Vec<(usize, u64)> = (0..)
        .zip(profiler.profile.late)
        .filter(|(_, n)| *n > 0)
        .collect();
    assert_eq!(LATE_BIN, at(0, 5));
    assert_eq!(bins, [(3, 1), (14, 1)]);
    let came: Vec<_> = list.late.iter().map(|l| (l.at, l.number, l.late)).collect();
    assert_eq!(came, [(at(7, 15), 0, at(0, 15)), (at(8, 16), 1, at(0, 66))]);
    let replay = replayed(&scenario);
    let came: Vec<_> = replay.late.iter().map(|l| (l.at, l.truck)).collect();
    assert_eq!(came, [(at(7, 15), T1), (at(8, 16), T1)]);
    assert_eq!((replay.worst_day(), replay.trouble_on(0)), (0, (2, 0)));
    assert_eq!(watch.seen().late, 2);
    // From 07:16 on: the load that had come before is not of the rest of the day.
    assert_eq!(rest.seen().others_late, 1);
}

/// The same with twelve minutes tolerated: T2 has come in time at 07:21, and is turned away. What replaces its load is late by 66 min,
/// 54 of them more than tolerated, and nobody has brought it in time.
#[test]
fn who_comes_in_time_and_is_turned_away_has_brought_nothing() {
    let text = changed::changed(DAY, &[("late_min: 0", "late_min: 12")]);
    let taken: Vec<String> = told(&text)
        .into_iter()
        .filter(|line| line.contains("taken"))
        .collect();
    assert_eq!(
        taken,
        [
            "07:15 0.1 taken, came 07:15, 15 late, 3 beyond",
            "08:16 0.2 taken, came 08:16, 66 late, 54 beyond",
        ]
    );
    let watch = played(&text, |plan| {
        let mut watch = TripWatch::new(plan);
        watch.begin((OrderId(0), 1), DriverId(1), [None, None].into_iter());
        watch
    });
    let seen = watch.seen();
    assert_eq!(seen.on_site, Some(at(7, 21)));
    assert_eq!((seen.late, seen.in_time, seen.age), (None, false, None));
    assert!(!seen.delivered_in_time);
}

/// With the plant closed from 07:30 on nothing can replace the load: it is turned away at 07:25, and counted at the end of its order's
/// day, at midnight: 16 h 50 min after 07:10, and never as what came.
#[test]
fn what_is_not_replaced_is_told_as_undelivered_alone() {
    let text = changed::changed(DAY, &[("close: \"17:00\"", "close: \"07:30\"")]);
    assert_eq!(
        told(&text),
        [
            "07:15 0.1 on site Some(15.0)",
            "07:15 0.1 taken, came 07:15, 15 late, 15 beyond",
            "07:21 0.2 on site Some(11.0)",
            "07:25 turned away",
            "00:00 +1 0.- never, 1010",
        ]
    );
    let places = [figure::LATE_LOADS, figure::UNDELIVERED, figure::LATE_MIN];
    assert_eq!(figures(&text, &places), [2.0, 1.0, 15.0]);
    let scenario = scenario(&text);
    let plan = Plan::new(&scenario);
    let mut list = LateLoads::new(&plan);
    World::new(&plan).run(0, Luck::new(1, 0), &mut list);
    assert_eq!((list.late.len(), list.never.len()), (1, 1));
}

/// Loads of an order whose day is over when they come are counted by then, and told by nobody as taken: called in at 23:35, the first
/// is on site five minutes after midnight, by which they are 17 h and 16 h 50 min late.
#[test]
fn what_comes_after_its_day_is_not_counted_again() {
    let text = changed::changed(
        DAY,
        &[
            ("called: \"06:45\"", "called: \"23:35\""),
            ("close: \"17:00\"", "close: \"24:00\""),
            ("report: \"05:30\"", "report: \"20:00\""),
            (
                "name: \"paper day\",",
                "name: \"paper day\", period: (days: 2),",
            ),
        ],
    );
    let told = told(&text);
    assert_eq!(
        told[..3],
        [
            "00:00 +1 0.- never, 1020",
            "00:00 +1 0.- never, 1010",
            "00:05 +1 0.1 on site None",
        ]
    );
    assert!(!told.iter().any(|line| line.contains("taken")), "{told:?}");
    assert_eq!(figures(&text, &[figure::LATE_LOADS]), [2.0]);
}
