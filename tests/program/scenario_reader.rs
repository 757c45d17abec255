//! Scenario files: a good one is read in full; of a bad one every problem is shown at its line and column, with what was
//! expected and the nearest valid name.

use plantday::engine::Spread;
use plantday::hours::RuleSet;
use plantday::report::problems;
use plantday::scenario::{Batcher, BayQueue, ReadError, Scenario, parse, read};
use plantday::units::{Millis, PlantId, TruckId, Volume, Weekday};
use proptest::prelude::*;

const GOOD: &str = r#"// A day at two plants of an estuary.
(
    name: "Estuary",
    period: (first_day: Monday, days: 2),
    plants: [
        (name: "North", at: (0.0, 4.5), bays: 2, hours: [(open: "05:30", close: "17:00")],
         rack_places: 3, mixes: ["standard", "pump"]),
        (name: "Quay", batcher: Shared, loading: PerYard(fixed_min: 1.5, min_per_yd3: 0.4)),
    ],
    sites: [(name: "Tower"), (name: "Lock", at: (3, 1), parking: false)],
    roads: (
        minutes: {
            "North": { "Tower": 18, "Lock": (18, 22), "Quay": 25 },
            "Quay": { "Tower": 12.5, "Lock": 30 },
        },
        luck: Lognormal(mean: 1, cv: 0.2),
        traffic: [(days: [Monday, Tuesday], factors: [("06:30", 1.4), ("09:00", 1.0)])],
    ),
    trucks: [
        (name: "N", count: 3, home: "North"),
        (name: "Q", home: "Quay", capacity_yd3: 8),
    ],
    drivers: [
        (name: "ND", trucks: "N", report: "06:00", stagger_min: 15),
        (name: "QD", trucks: "Q", report: "06:30", shift_h: 8),
    ],
    orders: [
        (name: "A1", site: "Tower", first: "07:00", volume_yd3: 60, spacing_min: 15, mix: "pump"),
        (name: "A2", site: "Lock", day: 2, first: "08:00", volume_yd3: 24, load_yd3: 8, pour_rate_yd3_h: 40),
    ],
    rules: [
        (name: "As today", today: true, belief: FreeFlow, gates: [LastLoadBy(hours: 11)]),
        (name: "Paced", send: Paced, lend: IfSaves(10), belief: TimeOfDay(quantile: 0.8)),
    ],
)
"#;

const DAY: &str = include_str!("../../scenarios/estuary_day.ron");

/// The problems of a text, one in a line: `file:line:column: what is wrong (what was expected)`.
fn faults(text: &str) -> String {
    match parse("day.ron", text) {
        Ok(_) => panic!("nothing was wrong"),
        Err(faults) => faults.to_string(),
    }
}

/// The good scenario with one thing changed has exactly this problem.
fn wrong(from: &str, to: &str, expected: &str) {
    assert!(GOOD.contains(from), "the good scenario has {from:?}");
    assert_eq!(
        faults(&GOOD.replacen(from, to, 1)),
        expected,
        "{from} -> {to}"
    );
}

fn good() -> Scenario {
    parse("day.ron", GOOD).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Every kind of spread, with its names and, as they stand in order, without.
#[test]
fn spreads_are_read_by_name_or_by_place() {
    let kinds = [
        ("1.5", "Constant(value: 1.5)", Spread::Constant(1.5)),
        (
            "Pert(0.5, 1, 3)",
            "Pert(low: 0.5, mode: 1, high: 3)",
            Spread::Pert {
                low: 0.5,
                mode: 1.0,
                high: 3.0,
            },
        ),
        (
            "Beta(0.5, 3, 2, 4)",
            "Beta(low: 0.5, high: 3, alpha: 2, beta: 4)",
            Spread::Beta {
                low: 0.5,
                high: 3.0,
                alpha: 2.0,
                beta: 4.0,
            },
        ),
        (
            "Weibull(1, 1.5)",
            "Weibull(mean: 1, shape: 1.5)",
            Spread::Weibull {
                mean: 1.0,
                shape: 1.5,
            },
        ),
        (
            "Empirical([1, 0.5, 2])",
            "Empirical([1, 0.5, 2])",
            Spread::Empirical(vec![1.0, 0.5, 2.0]),
        ),
    ];
    for (short, long, spread) in kinds {
        for written in [short, long] {
            let text = GOOD.replacen("Lognormal(mean: 1, cv: 0.2)", written, 1);
            let read = parse("day.ron", &text).unwrap_or_else(|faults| panic!("{faults}"));
            assert_eq!(read.roads.luck, spread, "{written}");
        }
    }
}

#[test]
fn a_good_scenario_is_read_in_full() {
    let scenario = good();
    assert_eq!(scenario.name, "Estuary");
    assert_eq!(
        (scenario.period.first_day, scenario.period.days),
        (Weekday::Monday, 2)
    );
    let north = &scenario.plants[0];
    assert_eq!(
        (north.at, north.bays, north.rack_places),
        ((0.0, 4.5), 2, Some(3))
    );
    assert_eq!(north.hours[0].open, Millis::from_minutes(330.0));
    assert_eq!(north.hours[0].days, Weekday::ALL);
    assert_eq!(scenario.plants[1].batcher, Batcher::Shared);
    assert!(!scenario.sites[1].parking);
    // Places are North, Quay, Tower, Lock; minutes out and back.
    assert_eq!(scenario.roads.minutes[0][3], Some(18.0));
    assert_eq!(scenario.roads.minutes[3][0], Some(22.0));
    assert_eq!(scenario.roads.minutes[2][1], Some(12.5));
    let names: Vec<&str> = scenario
        .trucks
        .iter()
        .map(|truck| truck.name.as_str())
        .collect();
    assert_eq!(names, ["N1", "N2", "N3", "Q"]);
    assert_eq!(scenario.trucks[3].home, PlantId(1));
    assert_eq!(scenario.drivers[1].name, "ND2");
    assert_eq!(scenario.drivers[1].truck, TruckId(1));
    assert_eq!(scenario.drivers[1].report, Millis::from_minutes(375.0));
    let second = &scenario.orders[1];
    assert_eq!(second.first, Millis::DAY + Millis::HOUR * 8);
    assert_eq!(
        (second.volume, second.load),
        (Volume::from_yd3(24.0), Volume::from_yd3(8.0))
    );
    assert_eq!(
        second.spacing,
        Millis::from_minutes(12.0),
        "8 yd³ at 40 yd³ an hour"
    );
    assert_eq!(scenario.todays_rule(), 0);
}

/// What nothing is written for, as the documents say.
#[test]
fn defaults() {
    let scenario = good();
    let hours = Millis::from_hours;
    assert_eq!(
        scenario.rule_book.of(&scenario.rule_sets),
        Some(&RuleSet::lone_window(hours(14.0), hours(10.0)))
    );
    assert_eq!(scenario.company.no_load_after, None);
    assert_eq!(scenario.company.driver_caution, 0.8);
    assert_eq!(scenario.plants[1].pull_in_min, 0.0);
    assert_eq!(
        (scenario.plants[1].bays, scenario.plants[1].at),
        (1, (0.0, 0.0))
    );
    assert_eq!(scenario.trucks[0].capacity, Volume::from_yd3(10.0));
    assert_eq!(
        (
            scenario.trucks[0].empty_lb,
            scenario.trucks[0].legal_gross_lb
        ),
        (28_000.0, Some(69_000.0))
    );
    assert_eq!(scenario.drivers[0].shift, hours(10.0));
    assert_eq!(scenario.drivers[0].days, Weekday::ALL);
    assert_eq!(scenario.roads.straight_line_mph, 35.0);
    assert_eq!(scenario.period.measure, None);
    assert!(scenario.endless.is_empty());
    assert_eq!(scenario.company.promise_horizon, Millis::from_minutes(20.0));
    assert_eq!(scenario.company.latest_report, hours(4.0));
    assert_eq!(scenario.plants[1].bay_queue, BayQueue::ByRule);
    assert_eq!(scenario.plants[1].rack_places, None);
    assert!(scenario.plants[1].hours.is_empty());
    let first = &scenario.orders[0];
    assert_eq!(
        (first.load, first.late),
        (Volume::from_yd3(10.0), Millis::from_minutes(15.0))
    );
    assert_eq!(first.gap, Millis::from_minutes(20.0));
    assert_eq!(first.finish_by, None);
}

#[test]
fn problems_say_where_and_what_was_expected() {
    wrong(
        "bays: 2",
        "bay: 2",
        "day.ron:6:41: unknown field `bay` in a plant (expected a field of a plant)",
    );
    wrong(
        "Shared",
        "Shard",
        "day.ron:8:33: unknown batcher `Shard` (expected one of PerBay, Shared)",
    );
    wrong(
        "bays: 2",
        "bays: \"two\"",
        "day.ron:6:47: expected a whole number, found \"two\" (expected bays, 1 to 20)",
    );
    wrong(
        "volume_yd3: 60, ",
        "",
        "day.ron:28:9: field `volume_yd3` is missing in an order (expected `volume_yd3` in the block that begins here)",
    );
    wrong(
        "volume_yd3: 60,",
        "volume_yd3: 60",
        "day.ron:28:68: expected a comma or the end of the list, found `spacing_min` (expected a comma or the end of the list)",
    );
    wrong(
        "    ],\n    sites",
        "    sites",
        "day.ron:9:10: expected a comma or the end of the list, found `:` (expected a comma or the end of the list)",
    );
    wrong(
        "name: \"A1\",",
        "name: \"A1\", name: \"B\",",
        "day.ron:28:22: field `name` stands twice in an order (expected each field once: remove one of the two)",
    );
    wrong(
        "\"A2\"",
        "\"A1\"",
        "day.ron:29:16: the order \"A1\" exists already (expected a name of its own)",
    );
    wrong(
        "bays: 2",
        "bays: 999",
        "day.ron:6:47: 999 is out of range (expected bays, 1 to 20)",
    );
    wrong(
        "bays: 2",
        "bays: inf",
        "day.ron:6:47: the number is infinite or too large to hold (expected bays, 1 to 20)",
    );
    wrong(
        "bays: 2",
        "bays: 1e400",
        "day.ron:6:47: the number is infinite or too large to hold (expected bays, 1 to 20)",
    );
    wrong(
        "bays: 2",
        "bays: 2.5",
        "day.ron:6:47: 2.5 is not a whole number (expected bays, 1 to 20)",
    );
    wrong(
        "\"Estuary\"",
        "\"Estuary",
        "day.ron:6:17: expected a comma or the end of the list, found `North` (expected a comma or the end of the list)",
    );
    wrong(
        "\"Tower\", first",
        "\"Towr\", first",
        "day.ron:28:28: there is no site \"Towr\" (expected the name of a site)",
    );
    wrong(
        "home: \"North\"",
        "home: \"Nroth\"",
        "day.ron:20:37: there is no plant \"Nroth\" (expected the name of a plant)",
    );
    wrong(
        "\"17:00\"",
        "\"04:00\"",
        "day.ron:6:81: closes at 04:00 and opens at 05:30 (expected a time after 05:30, at most 24:00)",
    );
    wrong(
        "\"17:00\"",
        "\"27:00\"",
        "day.ron:6:81: \"27:00\" is not such a time (expected a time of day \"HH:MM\", 00:00 to 24:00)",
    );
    wrong(
        "count: 3",
        "count: 1000000000",
        "day.ron:20:28: 1000000000 is out of range (expected trucks of a group, 1 to 5,000)",
    );
    wrong(
        "count: 3",
        "count: 0",
        "day.ron:20:28: 0 is out of range (expected trucks of a group, 1 to 5,000)",
    );
    wrong(
        "day: 2",
        "day: 3",
        "day.ron:29:41: day 3 is after the end of the period (expected 1 to 2, the days of the period)",
    );
    wrong(
        "send: Paced",
        "today: true",
        "day.ron:33:32: two rules are today's (expected `today: true` in one rule at most)",
    );
    wrong(
        "belief: FreeFlow",
        "belief: StraightLine",
        "day.ron:32:49: the rule measures on the map, and not every place lies on it (expected `at: (miles east, miles north)` for every plant and site, or another belief)",
    );
    wrong(
        "\"Tower\": 12.5, ",
        "",
        "day.ron:14:14: there are no minutes between \"Quay\" and \"Tower\" (expected \"Tower\": minutes, or (out, back), among those of \"Quay\")",
    );
    wrong(
        ", \"Quay\": 25",
        "",
        "day.ron:13:14: there are no minutes between \"North\" and \"Quay\" (expected \"Quay\": minutes, or (out, back), among those of \"North\")",
    );
    wrong(
        "trucks: \"Q\"",
        "trucks: \"N2\"",
        "day.ron:25:30: \"QD\" reports at 06:30 for the truck \"N2\", which \"ND2\" has until 16:15 (expected the drivers of one truck one after the other)",
    );
    wrong(
        "(mean: 1, cv: 0.2)",
        "(mean: 1, cv: 20)",
        "day.ron:16:38: 20 is out of range (expected coefficient of variation, 0 to 10)",
    );
    wrong(
        "(mean: 1, cv: 0.2)",
        "(1)",
        "day.ron:16:15: field `cv` is missing in a Lognormal (expected `cv` in the block that begins here)",
    );
    wrong(
        "Lognormal(mean: 1, cv: 0.2)",
        "Uniform(2,1)",
        "day.ron:16:15: low 2 is above high 1 (expected a spread that can be drawn from)",
    );
    wrong(
        "Lognormal(mean: 1, cv: 0.2)",
        "Pert(2, 1, 3)",
        "day.ron:16:15: low 2 is above mode 1 (expected a spread that can be drawn from)",
    );
    wrong(
        "Lognormal(mean: 1, cv: 0.2)",
        "Beta(low: 0, high: 2, alpha: 0, beta: 2)",
        "day.ron:16:44: 0 is out of range (expected shape, 0.1 to 1,000)",
    );
    wrong(
        "Lognormal(mean: 1, cv: 0.2)",
        "Weibul(mean: 1, shape: 2)",
        "day.ron:16:15: unknown spread of a factor `Weibul` (expected one of Constant, Uniform, Triangular, Normal, Lognormal, Gamma, Exponential, Pert, Beta, Weibull, Empirical)",
    );
    wrong(
        "send: Paced",
        "send: \"Paced\"",
        "day.ron:33:31: \"Paced\" in quotes (expected the name without quotes)",
    );
    wrong(
        "send: Paced",
        "send: Paced(1)",
        "day.ron:33:36: `Paced` takes no values (expected `Paced` alone)",
    );
    wrong(
        "spacing_min: 15, ",
        "",
        "day.ron:28:9: field `spacing_min` or `pour_rate_yd3_h` is missing in an order (expected `spacing_min` or `pour_rate_yd3_h` in the block that begins here)",
    );
    wrong(
        "spacing_min: 15",
        "spacing_min: 15, pour_rate_yd3_h: 1",
        "day.ron:28:103: both a spacing and a pour rate (expected one of the two: the other follows from the load size)",
    );
    wrong(
        "name: \"Estuary\"",
        "name: Estuary",
        "day.ron:3:11: expected a name in quotes, found `Estuary` (expected a name in quotes)",
    );
    wrong(
        "name: \"Estuary\",",
        "name: /* open",
        "day.ron:3:11: a comment does not end (expected `*/`)",
    );
    wrong(
        "bays: 2",
        "bays: 1..2",
        "day.ron:6:47: expected a whole number, found a range (expected bays, 1 to 20)",
    );
    wrong(
        "days: 2)",
        "days: 0)",
        "day.ron:4:39: 0 is out of range (expected days, 1 to 28)",
    );
    wrong(
        "days: 2)",
        "days: 29)",
        "day.ron:4:39: 29 is out of range (expected days, 1 to 28)",
    );
    wrong(
        "quantile: 0.8",
        "quantile: 1.8",
        "day.ron:33:85: 1.8 is out of range (expected share of trips, 0.05 to 0.99)",
    );
    wrong(
        "LastLoadBy(hours: 11)",
        "LastLoadBy(hours: -1)",
        "day.ron:32:85: -1 is out of range (expected hours since report, more than 0, at most 672)",
    );
    wrong(
        "LastLoadBy(hours: 11)",
        "HomeWithin(probability: 1)",
        "day.ron:32:91: 1 is out of range (expected probability, 0.5 to 0.999)",
    );
    wrong(
        "first: \"07:00\"",
        "first: \"7 o'clock\"",
        "day.ron:28:44: \"7 o'clock\" is not such a time (expected a time of day \"HH:MM\", 00:00 to 24:00)",
    );
    wrong(
        "[Monday, Tuesday]",
        "[Monday, Monday]",
        "day.ron:17:35: Monday is listed twice (expected each weekday once)",
    );
    wrong(
        "(\"09:00\", 1.0)",
        "(\"06:00\", 1.0)",
        "day.ron:17:71: 06:00 does not come after 06:30 (expected times that increase)",
    );
    wrong(
        "name: \"Tower\"",
        "name: \"North\"",
        "day.ron:10:20: the plant or site \"North\" exists already (expected a name of its own)\nday.ron:13:25: there is no plant or site \"Tower\" (expected the name of a plant or site)\nday.ron:14:24: there is no plant or site \"Tower\" (expected the name of a plant or site)\nday.ron:28:28: there is no site \"Tower\" (expected the name of a site)",
    );
    wrong(
        "bays: 2",
        "bays: NaN",
        "day.ron:6:47: `NaN` is not a number (expected bays, 1 to 20)",
    );
    wrong(
        "send: Paced",
        "send: 3",
        "day.ron:33:31: expected a way to send, found 3 (expected one of AsOrdered, Paced)",
    );
    wrong(
        "rules: [",
        "rules: [], rule: [",
        "day.ron:31:12: there is no rule (expected at least 1 rule)\nday.ron:31:16: unknown field `rule` in a scenario (expected a field of a scenario)",
    );
    wrong(
        "orders: [",
        "orders: [], endless: [], order: [",
        "day.ron:27:13: there are no orders (expected at least one in `orders`, `drawn` or `endless`)\nday.ron:27:30: unknown field `order` in a scenario (expected a field of a scenario)",
    );
    wrong(
        "[(open: \"05:30\", close: \"17:00\")]",
        "[(open: \"05:30\", close: \"17:00\"), (days: [Friday], open: \"16:00\", close: \"24:00\")]",
        "day.ron:6:91: opening hours overlap on Friday (expected hours apart from the others of the day)",
    );
    wrong(
        "name: \"Quay\"",
        "name: \"North\"",
        "day.ron:8:16: the plant or site \"North\" exists already (expected a name of its own)\nday.ron:13:56: there is no plant or site \"Quay\" (expected the name of a plant or site)\nday.ron:14:14: there is no plant \"Quay\" (expected the name of a plant)\nday.ron:21:27: there is no plant \"Quay\" (expected the name of a plant)",
    );
    wrong(
        "trucks: \"N\"",
        "trucks: \"M\"",
        "day.ron:24:30: there is no truck or group \"M\" (expected the name of a truck or group)",
    );
    wrong(
        "capacity_yd3: 8",
        "empty_lb: 70000",
        "day.ron:21:45: the truck may weigh 69000 lb and weighs 70000 lb empty (expected a legal gross weight above the empty weight)",
    );
    wrong(
        "spacing_min: 15",
        "spacing_min: 15, finish_by: \"06:30\"",
        "day.ron:28:97: the pour ends at 06:30 and begins at 07:00 (expected a time after 07:00; on the next day with \" +1\")",
    );
    wrong(
        "report: \"06:30\"",
        "report: \"06:30\", days: [Sunday]), (name: \"ND2\", trucks: \"N1\", report: \"20:00\"",
        "day.ron:25:76: the driver \"ND2\" exists already (expected a name of its own)",
    );
    wrong(
        "\"North\": { \"Tower\": 18",
        "\"North\": { \"North\": 1, \"Tower\": 18",
        "day.ron:13:25: minutes from \"North\" to itself (expected another plant or a site)",
    );
    wrong(
        "\"Lock\": 30",
        "\"Lock\": 30, \"North\": 25",
        "day.ron:14:51: the minutes between \"Quay\" and \"North\" are written already (expected each pair once, as (out, back) if they differ)",
    );
    wrong(
        "name: \"As today\"",
        "name: \"Paced\"",
        "day.ron:33:16: the rule \"Paced\" exists already (expected a name of its own)",
    );
}

/// The same for plants, sites, trucks and drivers.
#[test]
fn problems_of_places_and_fleet() {
    wrong(
        "(name: \"Lock\", at: (3, 1)",
        "(name: \"Lock\"), (name: \"Lock\", at: (3, 1)",
        "day.ron:10:53: the plant or site \"Lock\" exists already (expected a name of its own)",
    );
    wrong(
        "name: \"Q\", home",
        "name: \"N2\", home",
        "day.ron:21:16: the truck \"N2\" exists already (expected a name of its own)\nday.ron:25:30: there is no truck or group \"Q\" (expected the name of a truck or group)",
    );
    wrong(
        "mix: \"pump\"",
        "mix: \"chalk\", load_yd3: inf",
        "day.ron:28:110: the number is infinite or too large to hold (expected yd³, 0.5 to 20)",
    );
    wrong(
        "bays: 2",
        "pull_in_min: 61",
        "day.ron:6:54: 61 is out of range (expected minutes, 0 to 60)",
    );
    wrong(
        "bays: 2",
        "planned_outages: [(day: 3, from: \"11:00\", to: \"12:00\")]",
        "day.ron:6:65: day 3 is after the end of the period (expected 1 to 2, the days of the period)",
    );
    wrong(
        "name: \"QD\", trucks",
        "name: \"QD\", count: 0, trucks",
        "day.ron:25:29: 0 is out of range (expected drivers of a group, 1 to 10,000)",
    );
    wrong(
        "report: \"06:00\"",
        "days: [Sunday], report: \"06:00\"), (name: \"Z\", days: [Saturday], trucks: \"Q\", report: \"06:00\"), (name: \"Y\", trucks: \"N\", report: \"24:30\"",
        "day.ron:24:163: \"24:30\" is not such a time (expected a time of day \"HH:MM\", 00:00 to 24:00)",
    );
    let nobody = GOOD.replace("report:", "days: [Sunday], report:");
    assert_eq!(
        faults(&nobody),
        "day.ron:23:14: no driver works on any day of the period (expected a driver whose days are days of the period)"
    );
    for (list, what) in [
        ("plants: [", "plant"),
        ("sites: [", "site"),
        ("trucks: [", "truck"),
        ("drivers: [", "driver"),
    ] {
        let text = GOOD.replacen(list, &format!("{list}], left: ["), 1);
        let expected = format!("there is no {what} (expected at least 1 {what})");
        assert!(faults(&text).contains(&expected), "{}", faults(&text));
    }
}

/// A mix must be made somewhere: neither a misspelt one nor, where all plants list theirs, one that nobody wrote.
#[test]
fn mixes_that_no_plant_makes() {
    let listed = GOOD.replacen("(name: \"Quay\",", "(name: \"Quay\", mixes: [\"pump\"],", 1);
    assert!(parse("day.ron", &listed).is_ok());
    assert_eq!(
        faults(&listed.replacen("mix: \"pump\"", "mix: \"pumps\"", 1)),
        "day.ron:28:91: no plant lists the mix \"pumps\", and one lists \"pump\" (expected \"pump\", or a name less like it)"
    );
    assert_eq!(
        faults(&listed.replacen("mix: \"pump\"", "mix: \"marine\"", 1)),
        "day.ron:28:91: there is no mix that a plant makes \"marine\" (expected the name of a mix that a plant makes)"
    );
    assert_eq!(
        faults(&listed.replacen("\"standard\", ", "", 1)),
        "day.ron:29:9: no plant makes the usual mix \"standard\" (expected a `mix` in the block that begins here)"
    );
    assert!(
        parse(
            "day.ron",
            &GOOD.replacen("mix: \"pump\"", "mix: \"any\"", 1)
        )
        .is_ok(),
        "Quay lists no mixes and so makes all"
    );
}

/// Where a plant makes every mix, a misspelt name would move the answer in silence: two names that are nearly the same, one of
/// which only plants or only orders use, are one name. The rarer is shown.
#[test]
fn mixes_that_are_nearly_the_same() {
    let order = |mix: &str| {
        DAY.replacen(
            "(name: \"Mill floor\", site",
            &format!("(name: \"Mill floor\", mix: \"{mix}\", site"),
            1,
        )
    };
    let at = DAY
        .lines()
        .position(|line| line.contains("\"Mill floor\", site"));
    let line = at.unwrap() + 1;
    for misspelt in ["standrad", "Standard", "stan dard"] {
        assert_eq!(
            faults(&order(misspelt)),
            format!(
                "day.ron:{line}:35: no plant lists the mix \"{misspelt}\", and one lists \"standard\" (expected \"standard\", or a name \
                 less like it)"
            )
        );
    }
    for another in ["standard 2", "mortar"] {
        assert!(parse("day.ron", &order(another)).is_ok(), "{another}");
    }
    let list = "mixes: [\"standard\"]";
    let line = DAY.lines().position(|line| line.contains(list)).unwrap() + 1;
    assert_eq!(
        faults(&DAY.replacen(list, "mixes: [\"standart\"]", 1)),
        format!(
            "day.ron:{line}:21: no order asks for the mix \"standart\", and one asks for \"standard\" (expected \"standard\", or a name \
             less like it)"
        )
    );
    for made in ["\"standard 2\"", "\"mortar\"", "\"standard\", \"standart\""] {
        let text = DAY.replacen(list, &format!("mixes: [{made}]"), 1);
        assert!(parse("day.ron", &text).is_ok(), "{made}");
    }
    // Where no plant makes every mix, the plant's slip makes all orders wrong: it is shown once, at the plant.
    let all = GOOD.replacen("(name: \"Quay\",", "(name: \"Quay\", mixes: [\"pump\"],", 1);
    assert_eq!(
        faults(&all.replacen("[\"standard\", \"pump\"]", "[\"standrad\", \"pump\"]", 1)),
        "day.ron:7:34: no order asks for the mix \"standrad\", and one asks for \"standard\" (expected \"standard\", or a name less like it)"
    );
}

/// The same for the period, the company, the roads, endless orders and rules.
#[test]
fn problems_of_setting_and_rules() {
    for (span, expected) in [
        (
            "from_h: 5, to_h: 5",
            "4:51: the measured span ends before it begins (expected from_h below to_h)",
        ),
        (
            "from_h: 0, to_h: 49",
            "4:69: 49 is out of range (expected hours since the first midnight, 0 to 48)",
        ),
        (
            "from_h: -1, to_h: 4",
            "4:60: -1 is out of range (expected hours since the first midnight, 0 to 48)",
        ),
        (
            "to_h: 4",
            "4:51: field `from_h` is missing in a measured span (expected `from_h` in the block that begins here)",
        ),
    ] {
        wrong(
            "days: 2)",
            &format!("days: 2, measure: ({span}))"),
            &format!("day.ron:{expected}"),
        );
    }
    for (company, expected) in [
        (
            "no_load_after_h: 0",
            "5:32: 0 is out of range (expected hours, more than 0, at most 672)",
        ),
        (
            "latest_report_h: 25",
            "5:32: 25 is out of range (expected hours, 0 to 24)",
        ),
        (
            "latest_report_h: -1",
            "5:32: -1 is out of range (expected hours, 0 to 24)",
        ),
        (
            "driver_caution: 0.49",
            "5:31: 0.49 is out of range (expected share, 0.5 to 0.999)",
        ),
        (
            "promise_horizon_min: NaN",
            "5:36: `NaN` is not a number (expected minutes, 0 to 240)",
        ),
    ] {
        wrong(
            "    plants: [",
            &format!("    company: ({company}),\n    plants: ["),
            &format!("day.ron:{expected}"),
        );
    }
    wrong(
        "traffic: [",
        "traffic: [(factors: [(\"05:00\", 1.1)]), ",
        "day.ron:17:48: Monday stands in two traffic profiles (expected each weekday in one profile at most)",
    );
    wrong(
        "(\"06:30\", 1.4)",
        "(\"06:30\", 0)",
        "day.ron:17:65: 0 is out of range (expected times the minutes of the empty road, 0.2 to 20)",
    );
    wrong(
        "orders: [",
        "endless: [(name: \"E\", destinations: [(site: \"Tower\", share: 0)])],\n    orders: [",
        "day.ron:27:65: 0 is out of range (expected share, more than 0, at most 1,000,000)",
    );
    wrong(
        "orders: [",
        "endless: [(name: \"A1\", destinations: [])],\n    orders: [",
        "day.ron:27:22: the order \"A1\" exists already (expected a name of its own)\nday.ron:27:42: there is no destination (expected at least 1 destination)",
    );
    wrong(
        "LastLoadBy(hours: 11)",
        "HomeWithin(probability: 0.4)",
        "day.ron:32:91: 0.4 is out of range (expected probability, 0.5 to 0.999)",
    );
    wrong(
        "LastLoadBy(hours: 11)",
        "LastLaodBy(hours: 11)",
        "day.ron:32:67: unknown gate `LastLaodBy` (expected one of LastLoadBy, HomeWithin, KeepMinutes, Reserve)",
    );
    let start = GOOD.find("    rules: [").expect("there are rules");
    assert_eq!(
        faults(&format!("{})", &GOOD[..start])),
        "day.ron:2:1: field `rules` is missing in a scenario (expected `rules` in the block that begins here)"
    );
    let start = GOOD.find("    orders: [").expect("there are orders");
    let end = GOOD.find("    rules: [").expect("there are rules");
    assert_eq!(
        faults(&format!("{}{}", &GOOD[..start], &GOOD[end..])),
        "day.ron:2:1: there are no orders (expected at least one in `orders`, `drawn` or `endless`)"
    );
}

/// A name stays on its line: no control characters and no separators of lines. Marks that turn the direction of writing
/// (Unicode Standard Annex #9) are allowed, as some languages need them, and made visible in a message.
#[test]
fn names_stay_on_their_line() {
    for (written, shown) in [
        ("\\u{7}", "\\u{7}"),
        ("\\n", "\\n"),
        ("\\u{2028}", "\\u{2028}"),
        ("\u{2029}", "\\u{2029}"),
    ] {
        let text = GOOD.replacen("\"Estuary\"", &format!("\"Est{written}uary\""), 1);
        let title = format!("in \"Est{shown}uary\"");
        assert!(faults(&text).contains(&title), "{}", faults(&text));
        assert!(faults(&text).starts_with("day.ron:3:11: the control character \\u{"));
        let unseen = |c: char| c.is_control() || "\u{2028}\u{2029}".contains(c);
        assert!(!faults(&text).contains(unseen), "{:?}", faults(&text));
    }
    let turned = "To\u{202e}wer\u{2066}";
    let refused = faults(&GOOD.replace("Tower", turned));
    assert!(
        refused.contains(
            "a mark that turns the direction of writing, \\u{202e}, in \"To\\u{202e}wer\\u{2066}\""
        ),
        "{refused}"
    );
    assert!(
        parse(
            "day.ron",
            &GOOD.replace("Tower", "\u{5de}\u{5d2}\u{5d3}\u{5dc}")
        )
        .is_ok()
    );
    assert_eq!(
        faults(&GOOD.replacen("site: \"Tower\"", &format!("site: \"{turned}\""), 1)),
        "day.ron:28:28: there is no site \"To\\u{202e}wer\\u{2066}\" (expected the name of a site)"
    );
    wrong(
        "\"Estuary\"",
        "\"  \"",
        "day.ron:3:11: the name is empty (expected a name)",
    );
    let long = "é".repeat(201);
    wrong(
        "Estuary\"",
        &format!("{long}\""),
        "day.ron:3:11: a text of 201 characters is too long (expected at most 200 characters)",
    );
}

/// A load gets what its truck holds: one that is larger than every truck is no problem, unless trucks can carry nothing.
#[test]
fn loads_larger_than_every_truck_are_cut() {
    let text = GOOD.replacen("load_yd3: 8", "load_yd3: 12", 1);
    let scenario = parse("day.ron", &text).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(scenario.orders[1].load, Volume::from_yd3(12.0));
    assert_eq!(scenario.orders[1].spacing, Millis::from_minutes(18.0));
    wrong(
        "load_yd3: 8",
        "load_yd3: 21",
        "day.ron:29:86: 21 is out of range (expected yd³, 0.5 to 20)",
    );

    let small = |mix: &str| {
        GOOD.replace("home: \"North\"", "home: \"North\", capacity_yd3: 2")
            .replace("capacity_yd3: 8", "capacity_yd3: 2.5")
            .replacen("send: Paced", mix, 1)
    };
    assert!(parse("day.ron", &small("room_kept_yd3: 2.4")).is_ok());
    assert_eq!(
        faults(&small("room_kept_yd3: 2.5")),
        "day.ron:33:40: with 2.5 yd³ of room and 0 lb of weight kept no truck can carry anything (expected less than some truck's capacity and legal payload)"
    );
    let heavy = GOOD
        .replace("home: \"North\"", "home: \"North\", legal_gross_lb: 40000")
        .replace("capacity_yd3: 8", "legal_gross_lb: 40000, empty_lb: 30000");
    assert!(
        parse(
            "day.ron",
            &heavy.replacen("send: Paced", "weight_margin_lb: 11000", 1)
        )
        .is_ok()
    );
    assert_eq!(
        faults(&heavy.replacen("send: Paced", "weight_margin_lb: 12000", 1)),
        "day.ron:33:43: with 0 yd³ of room and 12000 lb of weight kept no truck can carry anything (expected less than some truck's capacity and legal payload)"
    );
}

/// What is said about the company, and how a limit is left out.
#[test]
fn the_company_is_read() {
    let company = |written: &str| {
        let text = GOOD.replacen(
            "    plants: [",
            &format!("    company: ({written}),\n    plants: ["),
            1,
        );
        parse("day.ron", &text)
            .unwrap_or_else(|faults| panic!("{faults}"))
            .company
    };
    let hours = Millis::from_hours;
    assert_eq!(company("").no_load_after, None);
    assert_eq!(company("no_load_after_h: None").no_load_after, None);
    let said = company(
        "no_load_after_h: 12, driver_caution: 0.9, promise_horizon_min: 0, latest_report_h: 2.5",
    );
    assert_eq!(said.no_load_after, Some(hours(12.0)));
    assert_eq!(said.driver_caution, 0.9);
    assert_eq!(said.promise_horizon, Millis::ZERO);
    assert_eq!(said.latest_report, hours(2.5));
}

/// Two drivers share a truck on different weekdays or one after the other, not at the same time.
#[test]
fn drivers_of_one_truck() {
    let with = |other: &str| {
        GOOD.replacen(
            "(name: \"QD\"",
            &format!("(name: \"QE\", trucks: \"Q\", {other}),\n        (name: \"QD\""),
            1,
        )
    };
    // QD has the truck from 06:30 for 8 hours on every day.
    assert!(parse("day.ron", &with("report: \"14:30\", shift_h: 16")).is_ok());
    assert_eq!(
        faults(&with("report: \"14:29\"")),
        "day.ron:25:30: \"QE\" reports at 14:29 for the truck \"Q\", which \"QD\" has until 14:30 (expected the drivers of one truck one after the other)"
    );
    let until_morning = faults(&with("report: \"14:30\", shift_h: 16.5"));
    assert!(
        until_morning.contains("\"QD\" reports at 06:30 +1")
            && until_morning.contains("until 07:00 +1"),
        "{until_morning}"
    );
    // The period is Monday and Tuesday.
    let apart = with("report: \"06:30\", days: [Tuesday]").replacen(
        "shift_h: 8",
        "shift_h: 8, days: [Monday, Sunday]",
        1,
    );
    assert!(parse("day.ron", &apart).is_ok());
}

/// Three misspelt fields are three problems: not also missing, and what they hold is not also wrong.
#[test]
fn all_problems_come_at_once() {
    let text = GOOD
        .replacen("bays: 2", "bay: 2", 1)
        .replacen("home: \"Quay\"", "hom: \"Quay\"", 1)
        .replacen("spacing_min: 15", "spacing_mins: 15", 1);
    assert_eq!(
        faults(&text),
        "day.ron:6:41: unknown field `bay` in a plant (expected a field of a plant)\n\
         day.ron:21:21: unknown field `hom` in a truck (expected a field of a truck)\n\
         day.ron:28:69: unknown field `spacing_mins` in an order (expected a field of an order)"
    );
}

/// A definition that cannot be read is one problem; that its uses find nothing is no other.
#[test]
fn what_follows_from_a_problem_is_no_other() {
    wrong(
        "plants: [",
        "plnats: [",
        "day.ron:5:5: unknown field `plnats` in a scenario (expected a field of a scenario)",
    );
    wrong(
        "sites: [",
        "site: [",
        "day.ron:10:5: unknown field `site` in a scenario (expected a field of a scenario)",
    );
    wrong(
        "trucks: [",
        "truks: [",
        "day.ron:19:5: unknown field `truks` in a scenario (expected a field of a scenario)",
    );
    wrong(
        "(name: \"Tower\")",
        "(nmae: \"Tower\")",
        "day.ron:10:14: unknown field `nmae` in a site (expected a field of a site)",
    );
    wrong(
        "name: \"N\", count",
        "count",
        "day.ron:20:9: field `name` is missing in a truck (expected `name` in the block that begins here)",
    );
    wrong(
        "(name: \"N\", count: 3, home: \"North\"),",
        "\"N\",",
        "day.ron:20:9: expected a truck: `( … )`, found \"N\" (expected a truck: `( … )`)",
    );
}

#[test]
fn so_many_trucks_and_no_more() {
    let groups = "(name: \"B\", count: 4000, home: \"North\"),\n        (name: \"N\", count: 3, home: \"North\")";
    let text = GOOD.replacen("(name: \"N\", count: 3, home: \"North\")", groups, 1);
    assert!(parse("day.ron", &text).is_ok());
    assert_eq!(
        faults(&text.replacen("count: 3", "count: 1001", 1)),
        "day.ron:21:28: with these there are 5001 trucks (expected at most 5000 trucks in all)"
    );
}

/// Tabs, carriage returns and accents before the place: columns count characters.
#[test]
fn columns_count_characters() {
    let text = GOOD.replace("    ", "\t").replace('\n', "\r\n").replacen(
        "(name: \"Tower\")",
        "(name: \"Töwér\", park: 1)",
        1,
    );
    assert!(
        faults(&text).starts_with("day.ron:10:26: unknown field `park` in a site"),
        "{}",
        faults(&text)
    );
}

#[test]
fn a_mark_of_encoding_is_no_character() {
    let text = format!("\u{feff}{}", GOOD.replacen("bays: 2", "bay: 2", 1));
    assert!(faults(&text).starts_with("day.ron:6:41: unknown field `bay`"));
    assert!(parse("day.ron", &format!("\u{feff}{GOOD}")).is_ok());
}

#[test]
fn files_that_are_not_text() {
    let folder = tempfile::TempDir::new().expect("a folder");
    let path = folder.path().join("x.ron");
    std::fs::write(&path, b"(name: \"\xff\")").expect("a file");
    let error = read(&path).expect_err("it is not UTF-8").to_string();
    assert!(
        error.contains(":1:9: byte 9 of the file, 0xFF, is not UTF-8"),
        "{error}"
    );
    assert_eq!(
        faults(&"[".repeat(100_000)),
        "day.ron:1:25: brackets stand inside each other too deeply (expected at most 24 levels)"
    );
    let nested = |levels| faults(&format!("{}{}", "[".repeat(levels), "]".repeat(levels)));
    assert!(nested(24).contains("expected a scenario"));
    assert!(nested(25).contains("too deeply"));
    assert_eq!(
        faults(""),
        "day.ron:1:1: the file is empty (expected a scenario: `( … )`)"
    );
    assert_eq!(
        faults("\0\u{1}garbage"),
        "day.ron:1:1: expected a value, found `\\0` (expected a value)"
    );
    let half = &GOOD[..GOOD.len() / 2];
    assert!(faults(half).contains("found the end of the file"));
}

/// A quote that is missing is noticed lines later, at the next one; the drawing shows where the text began.
#[test]
fn a_missing_quote_is_traced_to_its_line() {
    let Err(faults) = parse("day.ron", &GOOD.replacen("\"Estuary\"", "\"Estuary", 1)) else {
        panic!("a text does not end")
    };
    let drawn = problems::plain(&faults);
    assert!(drawn.contains("3 |     name: \"Estuary,"), "{drawn}");
    assert!(drawn.contains("is its closing `\"` missing?"), "{drawn}");
    let Err(faults) = parse("day.ron", "(name: \"Estuary)\n") else {
        panic!("a text does not end")
    };
    assert_eq!(
        faults.to_string(),
        "day.ron:1:8: a text does not end (expected a closing `\"`)"
    );
}

/// The column stays right where a line is too long to be drawn, and many problems are cut short.
#[test]
fn long_lines_and_many_problems_are_drawn_in_short() {
    let one_line = GOOD.lines().skip(1).collect::<Vec<_>>().join(" ");
    let text = one_line.replacen("bays: 2", "bay: 2", 1);
    let column = text.find("bay: 2").expect("it is there") + 1;
    let Err(faults) = parse("day.ron", &text) else {
        panic!("there is no such field")
    };
    let drawn = problems::plain(&faults);
    assert!(
        drawn.contains(&format!("--> day.ron:1:{column}\n")),
        "{drawn}"
    );
    assert!(
        drawn.lines().all(|line| line.chars().count() < 300),
        "{drawn}"
    );

    let far = format!("/*{}*/ {text}", " ".repeat(50_000));
    let Err(faults) = parse("day.ron", &far) else {
        panic!("there is no such field")
    };
    let drawn = problems::plain(&faults);
    assert!(
        drawn.contains(&format!("--> day.ron:1:{}\n", column + 50_005)),
        "{drawn}"
    );
    assert!(drawn.contains("^^^ expected a field of a plant"), "{drawn}");

    let fields: String = (0..2_000).map(|n| format!("x{n}: 1,\n")).collect();
    let Err(faults) = parse(
        "day.ron",
        &GOOD.replacen("    rules:", &format!("{fields}    rules:"), 1),
    ) else {
        panic!("there are no such fields")
    };
    let drawn = problems::plain(&faults);
    assert_eq!(drawn.matches("error: ").count(), 20);
    assert!(drawn.ends_with("and 1980 more\n"), "{drawn}");
}

#[test]
fn files_that_cannot_be_read() {
    let folder = tempfile::TempDir::new().expect("a folder");
    let missing = folder.path().join("missing.ron");
    assert!(matches!(read(&missing), Err(ReadError::File { .. })));
    let utf16 = folder.path().join("utf16.ron");
    let units: Vec<u8> = "\u{feff}(name: \"x\")"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    std::fs::write(&utf16, units).expect("a file");
    let Err(ReadError::Faults(faults)) = read(&utf16) else {
        panic!("it is not UTF-8")
    };
    assert!(problems::plain(&faults).contains("save it as UTF-8"));
    let large = folder.path().join("large.ron");
    std::fs::File::create(&large)
        .and_then(|file| file.set_len(65 << 20))
        .expect("a sparse file");
    let refused = read(&large).expect_err("it is too large");
    let ReadError::File { source, .. } = refused else {
        panic!("{refused}")
    };
    assert_eq!(source.kind(), std::io::ErrorKind::FileTooLarge);
}

/// A drawn problem shows the line and the nearest valid name; a name in a key is replaced inside its quotes.
#[test]
fn a_drawn_problem_shows_the_way_out() {
    let text = GOOD.replacen("\"Lock\": 30", "\"Lokc\": 30", 1);
    let Err(faults) = parse("day.ron", &text) else {
        panic!("the site does not exist")
    };
    let drawn = problems::plain(&faults);
    for words in [
        "--> day.ron:14:39",
        "there is no plant or site \"Lokc\"",
        "the names are North, Quay, Tower, Lock",
        "\"Lock\": 30",
    ] {
        assert!(drawn.contains(words), "{words:?} is missing in\n{drawn}");
    }
    assert!(!drawn.contains("\"\""), "{drawn}");
}

/// What is suggested can be written as it stands: done so, the file is fine.
#[test]
fn suggestions_put_the_file_right() {
    let lock = GOOD.replace("\"Lock\"", "\"Löck \\\"2\\\" O'\"");
    assert!(parse("day.ron", &lock).is_ok());
    for (text, from, to) in [
        (GOOD, "\"Lock\": 30", "\"Lokc\": 30"),
        (GOOD, "\"Lock\": 30", "\"Lok\\u{63}\" : 30"),
        (GOOD, "\"Quay\": {", "\"Quya\": {"),
        (GOOD, "site: \"Lock\"", "site: \"Lokc\""),
        (GOOD, "bays: 2", "bay: 2"),
        (GOOD, "Shared", "\"Shared\""),
        (GOOD, "belief: FreeFlow", "belief: FreFlow"),
        (
            lock.as_str(),
            "site: \"Löck \\\"2\\\"",
            "site: \"Löck \\\"3\\\"",
        ),
        (lock.as_str(), "O'\": 30", "\\\"\": 30"),
    ] {
        assert!(text.contains(from), "{from}");
        let wrong = text.replacen(from, to, 1);
        let Err(faults) = parse("day.ron", &wrong) else {
            panic!("{to} is wrong")
        };
        let change = faults.problems[0].suggestion.as_ref();
        let change = change.unwrap_or_else(|| panic!("nothing is suggested: {faults}"));
        let mut right = wrong.clone();
        right.replace_range(change.span.clone(), &change.text);
        parse("day.ron", &right)
            .unwrap_or_else(|faults| panic!("{to}: {faults}\n{}", problems::plain(&faults)));
    }
    // Where the key cannot be found behind a comment, nothing is suggested that would overwrite its value.
    let hidden = GOOD.replacen("\"Lock\": 30", "\"Lok\\u{63}\": /* \"a\": */ 30", 1);
    let Err(faults) = parse("day.ron", &hidden) else {
        panic!("the site does not exist")
    };
    assert_eq!(faults.problems[0].suggestion, None);
    assert!(problems::plain(&faults).contains("this plant or site exists"));
}

/// Thousands of unknown names beside hundreds of known ones: each is counted, and the answer does not take minutes.
#[test]
fn many_unknown_names_are_said_at_once() {
    let sites: String = (0..900)
        .map(|n| format!("(name: \"A place {n}\"), "))
        .collect();
    let orders: String = (0..20_000)
        .map(|n| format!("(name: \"B{n}\", site: \"Place{n}\", first: \"07:00\", volume_yd3: 9, spacing_min: 9),\n"))
        .collect();
    let text = GOOD
        .replacen("sites: [", &format!("sites: [{sites}"), 1)
        .replacen("orders: [", &format!("orders: [{orders}"), 1);
    let Err(faults) = parse("day.ron", &text) else {
        panic!("the sites do not exist")
    };
    assert_eq!(faults.problems.len() + faults.more, 20_000);
    assert!(faults.problems[0].suggestion.is_some());
    assert!(problems::plain(&faults).ends_with("and 19980 more\n"));
}

#[test]
fn many_orders_are_read() {
    let line = "        (name: \"A2\"";
    let order = GOOD
        .lines()
        .find(|l| l.starts_with(line))
        .expect("an order");
    let orders: String = (0..5_000)
        .map(|n| order.replacen("A2", &format!("B{n}"), 1) + "\n")
        .collect();
    let scenario = parse("day.ron", &GOOD.replacen(order, &orders, 1))
        .unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(scenario.orders.len(), 5_001);
}

/// Deletes, inserts, replaces or doubles bytes, wherever in a character they lie.
fn mutated_bytes(bytes: &mut Vec<u8>, at: usize, length: usize, kind: u8, piece: &[u8]) {
    let at = at % (bytes.len() + 1);
    let end = (at + length).min(bytes.len());
    let put = match kind % 4 {
        0 => Vec::new(),
        1 => [piece, &bytes[at..end]].concat(),
        2 => piece.to_vec(),
        _ => bytes[at..end].repeat(2),
    };
    bytes.splice(at..end, put);
}

/// Deletes, inserts, replaces or doubles a piece of a text.
fn mutated(text: &str, at: usize, length: usize, kind: u8, piece: &str) -> String {
    let at = text.floor_char_boundary(at % text.len());
    let end = text.floor_char_boundary((at + length).min(text.len()));
    let inside = &text[at..end];
    let middle = match kind % 4 {
        0 => String::new(),
        1 => format!("{piece}{inside}"),
        2 => piece.to_owned(),
        _ => format!("{inside}{inside}"),
    };
    format!("{}{middle}{}", &text[..at], &text[end..])
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is written, reading and drawing its problems end without a panic.
    #[test]
    fn nothing_written_panics(
        day in any::<bool>(),
        changes in prop::collection::vec((any::<usize>(), 0_usize..30, any::<u8>(), "[a-zA-Z0-9(){}\\[\\]:,.\"'/*#é\u{7f}\n\t -]{0,6}"), 1..4),
    ) {
        let mut text = if day { DAY } else { GOOD }.to_owned();
        for (at, length, kind, piece) in changes {
            if !text.is_empty() {
                text = mutated(&text, at, length, kind, &piece);
            }
        }
        if let Err(faults) = parse("day.ron", &text) {
            prop_assert!(!problems::plain(&faults).is_empty());
            prop_assert!(!faults.to_string().is_empty());
        }
    }
    /// The same for the bytes of a file, of which many are then no text.
    #[test]
    fn no_file_panics(
        day in any::<bool>(),
        changes in prop::collection::vec((any::<usize>(), 0_usize..30, any::<u8>(), prop::collection::vec(any::<u8>(), 0..6)), 1..4),
    ) {
        let mut bytes = if day { DAY } else { GOOD }.as_bytes().to_vec();
        for (at, length, kind, piece) in changes {
            mutated_bytes(&mut bytes, at, length, kind, &piece);
        }
        let mut file = tempfile::NamedTempFile::new().expect("a file");
        std::io::Write::write_all(&mut file, &bytes).expect("it can be written");
        if let Err(ReadError::Faults(faults)) = read(file.path()) {
            prop_assert!(!problems::plain(&faults).is_empty());
            prop_assert!(!faults.to_string().is_empty());
        }
    }
}
