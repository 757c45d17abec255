//! `plantday causes`: the same bytes whatever the threads, JSON against CSV, wrong arguments, changes whose effect is known on
//! paper, and changes that cannot matter.

use crate::changed;
use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::engine::Luck;
use plantday::observe::{LateCause, Loss, figure};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::{self, Scenario, WhatIf};
use plantday::studies::{
    self, Counterfactual, Counterfactuals, CounterfactualsQuestion, Every, Payment, Price,
};
use plantday::units::{Millis, Volume};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// One plant, one bay, one site, no luck. Loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18.
const PAPER: &str = r#"(
    name: "paper day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 3, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 30, spacing_min: 30, late_min: 0,
        outlets: [(rate_yd3_min: 1, places: 3)], position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, choose: Nearest, early_min: 0, bay_wait_min: 0)],
)"#;

const NO_SCALE: (&str, &str) = ("(name: \"P\"", "(name: \"P\", truck_scale: false");

fn scenario(text: &str, changes: &[(&str, &str)]) -> Scenario {
    let text = changed::changed(text, changes);
    match scenario::parse("test", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn changed(scenario: &Scenario, change: WhatIf) -> Counterfactuals {
    let question = CounterfactualsQuestion {
        rule: 0,
        changes: vec![change],
        prices: Vec::new(),
        replications: 4,
        seed: 1,
        threads: None,
        level: 0.95,
    };
    studies::counterfactuals(scenario, &question, Watch::default()).expect("an answer")
}

/// Three loads due at once, sent at 06:30: at one bay the second waits 6 min and the third 12, at two bays only the third
/// waits, 6 min.
#[test]
fn a_bay_more_removes_one_late_load_of_two() {
    let at_once = scenario(PAPER, &[("spacing_min: 30", "spacing_min: 0")]);
    let answer = changed(&at_once, WhatIf::BayMore);
    assert_eq!(answer.as_it_is.late_loads, 2.0);
    let late = answer.changes[0].late_loads;
    assert_eq!((late.mean, late.share), (1.0, Some(0.5)));
    assert_eq!((late.interval.low, late.interval.high), (1.0, 1.0));
    assert!(answer.changes[0].worth.mean > 0.0);
}

/// Of the two loads that wait for the bay the second still does at two bays: half of what is put down to the queue is avoided, and
/// nothing else.
#[test]
fn what_is_put_down_to_the_bay_and_what_a_bay_avoids() {
    let at_once = scenario(PAPER, &[("spacing_min: 30", "spacing_min: 0")]);
    let answer = changed(&at_once, WhatIf::BayMore);
    let change = &answer.changes[0];
    let beside = change.beside_ledger.expect("a bay eases the bay queue");
    assert_eq!(beside.causes, [LateCause::BayQueue]);
    assert_eq!((beside.there, beside.own.mean), (2.0, 1.0));
    assert!(beside.differs(change.late_loads.mean));
    assert_parts_add_up(&answer);
}

/// One truck is back at its bay 63 min after loading began (6 loading, 4 rack, 20 out, 10 discharge, 5 chute, 18 back), for loads 80 min
/// apart: 17 min in hand. The plant stands from 06:25 to 07:05: the first load is 35 min late by the outage, and the second, whose truck
/// the outage held up, 18. Without it no load is late, and both are put down to it.
#[test]
fn an_outage_that_holds_up_two_loads_is_put_down_to_the_outage_alone() {
    let standing = scenario(
        PAPER,
        &[
            ("count: 3", "count: 1"),
            (
                "volume_yd3: 30, spacing_min: 30",
                "volume_yd3: 20, spacing_min: 80",
            ),
            (
                "loading: Constant(6)",
                "planned_outages: [(day: 1, from: \"06:25\", to: \"07:05\")], loading: Constant(6)",
            ),
        ],
    );
    let answer = changed(&standing, WhatIf::NoOutages);
    let change = &answer.changes[0];
    let beside = change.beside_ledger.expect("an outage closes a plant");
    assert_eq!(answer.as_it_is.late_loads, 2.0);
    assert_eq!((beside.there, beside.own.mean), (2.0, 2.0));
    assert_eq!(change.late_loads.mean, 2.0);
    assert!(!beside.differs(change.late_loads.mean));
    assert_parts_add_up(&answer);
}

/// On the week the causes of what each change avoids add up to all that it avoids.
#[test]
fn what_a_change_avoids_is_the_sum_over_its_causes() {
    let week = scenario(include_str!("../../scenarios/estuary_week.ron"), &[]);
    for change in [WhatIf::TruckMore, WhatIf::NoLends] {
        assert_parts_add_up(&changed(&week, change));
    }
}

fn assert_parts_add_up(answer: &Counterfactuals) {
    for change in &answer.changes {
        let sum: f64 = change.by_cause.iter().map(|gone| gone.mean).sum();
        // Parts of a load are kept in four bytes.
        assert!((sum - change.late_loads.mean).abs() < 1e-3, "{change:?}");
    }
}

/// A price turns a worth into what is left of it, or into the time after which it has come back; both by hand. A truck at $700 a week in
/// a day's scenario is $100 a day, a bay is bought once, and one truck less saves what one more costs.
#[test]
fn prices_are_taken_off_or_paid_back() {
    let at_once = scenario(
        PAPER,
        &[
            ("spacing_min: 30", "spacing_min: 0"),
            ("rules: [", "money: (late_per_load: 500), rules: ["),
        ],
    );
    let price = |of: &str, amount: f64, every: Every| Price {
        of: of.into(),
        amount,
        every,
    };
    let question = CounterfactualsQuestion {
        changes: vec![WhatIf::BayMore, WhatIf::TruckMore, WhatIf::TruckLess],
        prices: vec![
            price("truck", 700.0, Every::Week),
            price("bay", 100_000.0, Every::Once),
        ],
        replications: 4,
        ..CounterfactualsQuestion::default()
    };
    let answer = studies::counterfactuals(&at_once, &question, Watch::default());
    let answer = answer.expect("an answer");
    let of = |change: WhatIf| {
        let mut changes = answer.changes.iter();
        changes.find(|c| c.change == change).expect("it applies")
    };
    let bay = of(WhatIf::BayMore);
    let (after, sure) = bay.pays_back_after().expect("it saves something");
    assert!(bay.worth.mean > 500.0 && bay.left_over().is_none());
    assert!((after - 100_000.0 / bay.worth.mean).abs() < 1e-9);
    assert!((sure.high - sure.low).abs() < 1e-9, "no luck on this day");
    let more = of(WhatIf::TruckMore);
    let less = of(WhatIf::TruckLess);
    let left = |c: &Counterfactual| c.left_over().expect("a running price").mean;
    assert!((left(more) - (more.worth.mean - 100.0)).abs() < 1e-9);
    assert!((left(less) - (less.worth.mean + 100.0)).abs() < 1e-9);
    // Two trucks for three loads at once: the third waits for one to come back.
    assert_eq!(less.late_loads.mean, 0.0);
    assert!(less.worth.mean < 0.0);
}

/// Years, months and weeks of a week's scenario: a calendar year has 52.18 weeks.
#[test]
fn a_price_is_reckoned_by_the_calendar() {
    let of = |every: Every, amount: f64, days: u32| {
        let price = Price {
            of: "truck".into(),
            amount,
            every,
        };
        match price.payment(1.0, days) {
            Payment::Running(paid) => paid,
            Payment::Once(paid) => panic!("once {paid}"),
        }
    };
    assert_eq!(of(Every::Week, 1400.0, 6), 1400.0);
    assert_eq!(of(Every::Week, 1400.0, 1), 200.0);
    assert_eq!(of(Every::Week, 1400.0, 14), 2800.0);
    assert_eq!(of(Every::Day, 100.0, 6), 600.0);
    assert!((of(Every::Year, 52.1775, 7) - 1.0).abs() < 1e-4);
    assert!((of(Every::Month, 1000.0, 7) * 52.1775 - 12_000.0).abs() < 0.1);
}

/// Loads are sent at 06:30, 07:00 and 07:30; the plant closes at 06:40, two hours later at 08:40.
#[test]
fn two_hours_longer_deliver_what_was_undelivered() {
    let short = scenario(PAPER, &[("close: \"17:00\"", "close: \"06:40\"")]);
    let answer = changed(&short, WhatIf::OpenLonger);
    assert_eq!(answer.as_it_is.undelivered, 2.0);
    let undelivered = answer.changes[0].undelivered;
    assert_eq!((undelivered.mean, undelivered.share), (2.0, Some(1.0)));
    assert_eq!(answer.changes[0].late_loads.mean, 2.0);
}

/// What cannot matter changes no figure: a bay where no truck ever waits for one, incidents where nobody drives.
#[test]
fn what_cannot_matter_changes_not_one_byte() {
    let rare = scenario(
        PAPER,
        &[("rack: Constant(4)", "rack: Triangular(2, 5, 10)")],
    );
    let far = scenario(
        PAPER,
        &[(
            "roads: (minutes: { \"P\": { \"A\": (20, 18) } })",
            "roads: Network(junctions: [\"Far\"], luck: Lognormal(mean: 1, cv: 0.3), links: [
                (from: \"P\", to: \"A\", miles: 10, mph: 30),
                (from: \"A\", to: \"Far\", miles: 5, mph: 30, incidents: (per_day: 9, minutes: Constant(30), factor: 3))])",
        )],
    );
    // Nobody comes near the end of a window of 14 hours; a table of minutes has no weigh stations.
    let long = scenario(
        PAPER,
        &[("rule_book: \"none\"", "rule_book: DutyWindow(hours: 14)")],
    );
    let unseen = scenario(PAPER, &[NO_SCALE, ("rules: [", "weighing: (), rules: [")]);
    for (scenario, change) in [
        (rare, WhatIf::BayMore),
        (far, WhatIf::NoIncidents),
        (long, WhatIf::DriversWord),
        (unseen, WhatIf::TruckScale),
    ] {
        let answer = changed(&scenario, change);
        assert_eq!(answer.cases, [change]);
        for replication in answer.rows.replications() {
            let bits = |case| -> Vec<u32> {
                // Without the queues: a bay more is there and stands empty.
                let row = &answer.rows.row(case, replication)[..figure::COUNT];
                row.iter().map(|value| value.to_bits()).collect()
            };
            assert_eq!(bits(0), bits(1), "{change:?}");
        }
        assert!(!answer.changes[0].worth.told_apart());
    }
}

/// One load of 10 yd³, 40,500 lb at 4,050 lb a yd³, on a truck that may carry 41,000 by the books and weighs 1,000 lb more than
/// they say: held for 45 min at the weigh station on the way. A scale at the plant makes the load legal, and in time.
#[test]
fn a_truck_scale_removes_the_load_found_heavy() {
    let heavy = scenario(
        PAPER,
        &[
            NO_SCALE,
            (
                "roads: (minutes: { \"P\": { \"A\": (20, 18) } })",
                "roads: Network(links: [(from: \"P\", to: \"A\", miles: 10, mph: 30, \
                 weigh_station: (hours: [(from: \"06:00\", to: \"12:00\")], minutes: 0))])",
            ),
            (
                "rules: [",
                "weighing: (empty_over_lb: 1000, empty_sd_lb: 0, held: Constant(45)), rules: [",
            ),
            ("volume_yd3: 30", "volume_yd3: 10"),
        ],
    );
    let answer = changed(&heavy, WhatIf::TruckScale);
    assert_eq!(answer.as_it_is.late_loads, 1.0);
    assert_eq!(answer.changes[0].late_loads.mean, 1.0);
}

/// What luck has given, by whom it was given to.
#[derive(Default)]
struct Given {
    carries: BTreeMap<u32, (u32, u32)>,
    discharge: BTreeMap<(u32, u32), (Volume, Millis)>,
    /// Orders with a load that was tried again.
    again: BTreeSet<u32>,
    absent: BTreeSet<u32>,
    cancelled: BTreeSet<u32>,
}

impl Observer for Given {
    fn event(&mut self, _: Millis, event: &Event) {
        match *event {
            Event::SiteReached {
                truck,
                order,
                number,
                ..
            } => {
                self.carries.insert(truck.0, (order.0, number));
            }
            Event::DischargeEnded {
                truck,
                took,
                volume,
                ..
            } => {
                self.discharge
                    .insert(self.carries[&truck.0], (volume, took));
            }
            Event::PromiseBroken { order, .. }
            | Event::Rejected { order, .. }
            | Event::LoadLost { order, .. } => {
                self.again.insert(order.0);
            }
            Event::NoShow { driver, .. } => {
                self.absent.insert(driver.0);
            }
            Event::Cancelled { order, .. } => {
                self.cancelled.insert(order.0);
            }
            _ => {}
        }
    }
}

/// One truck more takes loads of the others, and every load still discharges in the same time, the same drivers stay at home
/// and the same orders are cancelled.
#[test]
fn one_truck_more_shakes_no_other_draw() {
    let mut day = scenario(include_str!("../../scenarios/estuary_day.ron"), &[]);
    (day.changes.no_show, day.changes.cancelled) = (0.1, 0.1);
    let more = WhatIf::TruckMore.apply(&day, 0).expect("trucks");
    assert_eq!(more.trucks.len(), day.trucks.len() + day.plants.len());
    let run = |scenario: &Scenario| {
        let mut given = Given::default();
        World::new(&Plan::new(scenario)).run(0, Luck::new(1, 3), &mut given);
        given
    };
    let (before, mut after) = (run(&day), run(&more));
    let drivers = day.drivers.len() as u32;
    after.absent.retain(|driver| *driver < drivers);
    assert!(!before.absent.is_empty());
    assert_eq!(
        (before.absent, before.cancelled),
        (after.absent, after.cancelled)
    );
    let mut same = 0;
    for (load, (volume, took)) in &before.discharge {
        let tried = before.again.contains(&load.0) || after.again.contains(&load.0);
        let then = after.discharge.get(load);
        if let Some((other, then)) = then.filter(|(other, _)| !tried && other == volume) {
            assert_eq!((volume, took), (other, then), "load {load:?}");
            same += 1;
        }
    }
    assert!(same > 20, "{same} loads");
}

#[test]
fn changes_that_do_not_apply_say_why() {
    let paper = scenario(PAPER, &[]);
    let refused: Vec<&str> = WhatIf::ALL
        .into_iter()
        .filter_map(|change| change.apply(&paper, 0).err().map(|_| change.key()))
        .collect();
    assert_eq!(
        refused,
        [
            "no_incidents",
            "every_ticket_read",
            "warning_on_ticket",
            "one_bay_less",
            "desk_knows_the_day",
            "no_lends",
            "no_outages",
            "no_no_shows",
            "no_site_late_ready",
            "moisture_probe",
            "truck_scale",
            "drivers_word_heard"
        ]
    );
}

/// The ledger beside the counterfactuals is that of the same replications: the late loads are those of the figures, and strandings
/// and waste by cause add up to what the figures count.
#[test]
fn the_ledger_adds_up_to_the_figures() {
    let text = include_str!("../../scenarios/estuary_week.ron");
    let answer = changed(&scenario(text, &[]), WhatIf::BayMore);
    let sum = |figure: usize| answer.rows.values(0, figure).sum::<f64>();
    assert_eq!(answer.ledger.replications(), answer.replications());
    let late = answer.ledger.rules[0].causes.loads as f64;
    assert_eq!(late, sum(figure::LATE_LOADS));
    let counted = |stranded: bool| {
        let of_kind = |loss: &Loss| !loss.is_place() && loss.is_stranding() == stranded;
        let losses = Loss::ALL.into_iter().filter(of_kind);
        // What is known only of computed concrete is blank in a scenario that describes no mixes.
        let known = losses
            .flat_map(|loss| answer.ledger.loss_counts(0, loss))
            .filter(|count| !count.is_nan());
        known.sum::<f64>()
    };
    assert!(counted(true) > 0.0 && counted(false) > 0.0);
    assert_eq!(counted(true), sum(figure::STRANDED));
    let wasted = sum(figure::REBATCHED) + sum(figure::LOADS_LOST) + sum(figure::GIVEN_UP);
    assert_eq!(counted(false), wasted);
}

fn causes(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .arg("causes")
        .args(arguments)
        .output()
        .expect("the program runs");
    (
        output.status.code(),
        String::from_utf8(output.stdout).expect("output is UTF-8"),
        String::from_utf8(output.stderr).expect("output is UTF-8"),
    )
}

#[test]
fn the_same_bytes_on_one_and_two_threads() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let run = |threads: &str| {
        let arguments = ["-n", "7", "--threads", threads, "--out", threads];
        let (code, text, errors) = causes(path, &arguments);
        assert_eq!(code, Some(0), "{errors}");
        text
    };
    let text = run("1");
    assert_eq!(text, run("2"));
    for name in ["causes.html", "worth.csv", "figures.csv", "worth.svg"] {
        let read = |out: &str| fs::read(path.join(out).join(name)).expect("a file");
        assert_eq!(read("1"), read("2"), "{name}");
    }
    assert!(text.lines().count() <= 36, "one screen:\n{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
}

#[test]
fn json_says_what_the_table_says() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, _) = causes(folder.path(), &["-n", "6", "--json", "--out", "o"]);
    assert_eq!(code, Some(0));
    let json: Value = serde_json::from_str(&text).expect("JSON");
    let changes = json["changes"].as_array().expect("changes");
    assert_eq!(
        changes.len(),
        17,
        "all but the probe and a second batcher apply to the built-in week"
    );
    let worth = |change: &Value| change["worth"]["gone"].as_f64().expect("a number");
    let decided = |change: &Value| change["can_be_decided"] == true;
    let in_order = |a: &Value, b: &Value| {
        decided(a) && !decided(b) || decided(a) == decided(b) && worth(a) >= worth(b)
    };
    assert!(changes.is_sorted_by(in_order));
    let mut table = csv::Reader::from_path(folder.path().join("o/worth.csv")).expect("worth.csv");
    let mut rows = 0;
    for row in table.records() {
        let row = row.expect("a row");
        let change = changes.iter().find(|change| change["change"] == row[0]);
        let figure = &change.expect("the change")[&row[2]];
        for (column, key) in ["gone", "low", "high", "share"].iter().enumerate() {
            let (a, b) = (figure[key].as_f64(), row[column + 3].parse::<f64>().ok());
            let same = match (a, b) {
                (Some(a), Some(b)) => (a - b).abs() <= 1e-12 * a.abs().max(1.0),
                (a, b) => a == b,
            };
            assert!(same, "{} {} {key}: {a:?} {b:?}", &row[0], &row[2]);
        }
        rows += 1;
    }
    assert_eq!(rows, 17 * 5);
}

#[test]
fn wrong_arguments_are_named() {
    let folder = TempDir::new().expect("a folder");
    let (code, _, errors) = causes(folder.path(), &["--rule", "Empty road, lend on cal"]);
    assert_eq!(code, Some(2));
    assert!(
        errors.contains("did you mean \"Empty road, lend on call\"?"),
        "{errors}"
    );
    let (code, _, errors) = causes(folder.path(), &["-n", "0"]);
    assert_eq!(code, Some(2), "{errors}");
    for (price, expected) in [
        ("lorry=3", "there is no thing with a price \"lorry\""),
        ("truck", "names no amount"),
        ("truck=-3", "has no amount above zero"),
        ("truck=3/fortnight", "is paid how often?"),
    ] {
        let (code, _, errors) = causes(folder.path(), &["--price", price]);
        assert_eq!(code, Some(2), "{errors}");
        assert!(errors.contains(expected), "{errors}");
    }
    let (code, _, errors) = causes(folder.path(), &["nowhere.ron"]);
    assert_eq!(code, Some(2));
    assert!(errors.contains("nowhere.ron"), "{errors}");
    assert!(
        fs::read_dir(folder.path())
            .expect("folder")
            .next()
            .is_none(),
        "nothing half written"
    );
}

/// Every reading is wrong, and none on a ticket with a warning: with one, nothing is wasted.
#[test]
fn a_warning_that_is_always_heeded_saves_all_that_was_misread() {
    struct Wasted(Volume);
    impl Observer for Wasted {
        fn event(&mut self, _: Millis, event: &Event) {
            if let Event::Rejected { volume, .. } = event {
                self.0 += *volume;
            }
        }
    }
    let wasted = |scenario: &Scenario| {
        let plan = Plan::new(scenario);
        let mut wasted = Wasted(Volume::ZERO);
        World::new(&plan).run(0, Luck::new(1, 0), &mut wasted);
        wasted.0
    };
    let misread = scenario(
        PAPER,
        &[(
            "plants: [",
            "concrete: (rack: (misread: 1, misread_if_warned: 0, found: 1)), plants: [",
        )],
    );
    assert!(wasted(&misread) > Volume::ZERO);
    let warned = WhatIf::Warning.apply(&misread, 0).expect("it applies");
    assert_eq!(wasted(&warned), Volume::ZERO);
}
