//! A load on paper: without luck every chance is 0 or 1 and every time can be worked out by hand.

use plantday::Watch;
use plantday::hours::Clock;
use plantday::scenario::{self, Scenario};
use plantday::studies::trip::{
    Change, LoadVerdict, NewOrder, OrderQuestion, TripQuestion, may_load_go, take_order,
};
use plantday::units::{DriverId, Millis, OrderId, Volume};

/// Loading 6, rack 4, out 30, position and discharge 15, chute wash 5, back 30. Two drivers report at 05:00 with 12 h to drive in.
const PAPER: &str = r#"(
    name: "a load on paper",
    rule_book: DutyWindow(hours: 12, rest_hours: 10),
    plants: [(name: "P", loading: Constant(6), rack: Constant(4), hours: [(open: "05:00", close: "23:00")])],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (30, 30) } }),
    trucks: [(name: "T1", home: "P"), (name: "T2", home: "P")],
    drivers: [(name: "D", trucks: "T1", report: "05:00", shift_h: 14), (name: "E", trucks: "T2", report: "09:00", shift_h: 14)],
    orders: [(name: "Pour", site: "A", first: "AT", volume_yd3: 10, spacing_min: 20, position: Constant(0),
        discharge: Constant(15), chute_wash: Constant(5))],
    company: (promise_horizon_min: 0),
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, early_min: 0, bay_wait_min: 0)],
)"#;

fn paper(first: &str) -> Scenario {
    match scenario::parse("test", &PAPER.replace("AT", first)) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn question(at: &str) -> TripQuestion {
    TripQuestion {
        rule: 0,
        at: scenario::decode::moment_of(at).expect("a time"),
        trials: 60,
        ..TripQuestion::default()
    }
}

fn minutes(hour: f64, minute: f64) -> f64 {
    60.0 * hour + minute
}

/// Due at 15:00, sent at 14:20 whoever takes it: loading 14:20, on site 15:00, discharged 15:15, back at 15:50. D's window ends
/// at 17:00: 70 min are left; E's ends at 21:00: 310.
#[test]
fn a_load_that_may_go() {
    let scenario = paper("15:00");
    for (driver, left) in [(0, 70.0), (1, 310.0)] {
        let pair = (DriverId::new(driver), OrderId::new(0));
        let answer = may_load_go(&scenario, &question("14:00"), pair, Watch::default());
        let answer = answer.expect("it can be asked").expect("it is answered");
        assert_eq!(answer.verdict, LoadVerdict::Yes);
        let fate = &answer.asked.fate;
        let at = |span: Option<plantday::studies::trip::Spanning>| {
            let span = span.expect("it happens");
            assert_eq!((span.low, span.high), (span.middle, span.middle), "no luck");
            span.middle
        };
        assert_eq!(at(fate.loading), minutes(14.0, 20.0));
        assert_eq!(at(fate.on_site), minutes(15.0, 0.0));
        assert_eq!(at(fate.age), 55.0);
        assert_eq!(at(fate.back_at), minutes(15.0, 50.0));
        assert_eq!(at(fate.margin), left);
        assert_eq!(answer.clock, Some(Clock::Window));
        assert_eq!(answer.others.len(), 1, "the other driver");
        // The other one takes it if this one does not, at the same cost but for who drives.
        assert_eq!(answer.without.delivered_in_time.share(), 1.0);
        assert_eq!(answer.without.taken.times, 0);
    }
}

/// Due at 17:00 the load would leave at 16:30 and be on site at 17:00, the end of D's window: legal, but D cannot drive home.
/// Due at 17:10 D may not begin. E can both times.
#[test]
fn a_load_that_may_not_go() {
    for (first, refused) in [("17:00", false), ("17:10", true)] {
        let scenario = paper(first);
        let pair = (DriverId::new(0), OrderId::new(0));
        let answer = may_load_go(&scenario, &question("16:00"), pair, Watch::default());
        let answer = answer.expect("it can be asked").expect("it is answered");
        if refused {
            let LoadVerdict::Refused(why) = answer.verdict else {
                panic!("{:?}", answer.verdict);
            };
            assert_eq!(why.clock(), Some(Clock::Window));
        } else {
            assert_eq!(answer.verdict, LoadVerdict::TooRisky);
            assert_eq!(answer.asked.fate.in_time.share(), 1.0);
            assert_eq!(answer.asked.fate.stranded.share(), 1.0);
        }
        assert_eq!(answer.clock, Some(Clock::Window));
        assert_eq!(answer.asked.fate.back.share(), 0.0);
        let other = &answer.others[0];
        assert_eq!(other.driver, DriverId::new(1));
        assert_eq!(other.fate.all.share(), 1.0);
    }
}

/// Two trucks, both on the way with nothing else to do: a further order of two loads 20 min apart holds at once. One that would
/// be due before a truck can be there does not: from the plant it takes 40 min.
#[test]
fn a_new_order_holds_when_trucks_can_be_there() {
    let scenario = paper("15:00");
    let asked = |first: &str| OrderQuestion {
        new: NewOrder {
            site: 0,
            volume: Volume::from_yd3(20.0),
            mix: "standard".into(),
            spacing: Millis::from_minutes(20.0),
            load: Volume::from_yd3(10.0),
            rate_yd3_min: 1.0,
            plants: Vec::new(),
        },
        first: scenario::decode::moment_of(first).expect("a time"),
        accepted: 0,
    };
    let mut question = question("10:00");
    question.trials = 100;
    let take = |first: &str| {
        let answer = take_order(&scenario, &question, &asked(first), Watch::default());
        answer.expect("it can be asked").expect("it is answered")
    };
    let answer = take("11:00");
    assert_eq!(answer.first_that_holds, Some(0), "{:?}", answer.times[0]);
    // Due at 10:05 the first load is on site at 10:40 at the earliest: 35 min late, of which 15 are tolerated.
    let answer = take("10:05");
    assert_eq!(answer.times[0].holds.times, 0);
    let first = answer.first_that_holds.expect("later it holds");
    assert_eq!(
        answer.times[first].first,
        scenario::decode::moment_of("10:35").expect("a time")
    );
}

/// Two trucks that are back 90 min after each load began: a load every 24 min beyond the first two would wait for them. Two loads
/// do, one does; a load every 36 min brings each truck's next 72 min after its last, 18 too few of 15 tolerated, and every 48 min
/// brings it 96 after.
#[test]
fn what_would_do_instead_is_told() {
    let scenario = paper("15:00");
    let mut question = question("10:00");
    question.trials = 100;
    let new = NewOrder {
        site: 0,
        volume: Volume::from_yd3(40.0),
        mix: "standard".into(),
        spacing: Millis::from_minutes(24.0),
        load: Volume::from_yd3(10.0),
        rate_yd3_min: 1.0,
        plants: Vec::new(),
    };
    let take = |first: &str| {
        let asked = OrderQuestion {
            new: new.clone(),
            first: scenario::decode::moment_of(first).expect("a time"),
            accepted: 0,
        };
        let answer = take_order(&scenario, &question, &asked, Watch::default());
        answer.expect("it can be asked").expect("it is answered")
    };
    let answer = take("11:00");
    assert_ne!(answer.first_that_holds, Some(0));
    let does: Vec<Change> = answer
        .instead
        .iter()
        .filter(|(_, found)| found.both.at_least >= 0.9)
        .map(|(change, _)| *change)
        .collect();
    assert_eq!(
        does,
        [
            Change::Volume(Volume::from_yd3(20.0)),
            Change::Volume(Volume::from_yd3(10.0)),
            Change::Spacing(Millis::from_minutes(48.0)),
        ]
    );
}
