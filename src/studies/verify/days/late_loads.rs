//! How many minutes of lateness go to which cause.

use super::super::check::{Basis, Sheet};
use super::{Change, TWO_TRUCKS, day, told};
use crate::engine::Luck;
use crate::observe::LateCause::{self, *};
use crate::observe::Ledger;
use crate::plant::{Plan, World};

struct Day {
    about: &'static str,
    arithmetic: &'static str,
    changes: &'static [Change],
    loads: u64,
    causes: &'static [(LateCause, f64)],
}

const ONE_LOAD: Change = ("volume_yd3: 40", "volume_yd3: 10");
const CALLED_0645: Change = ("late_min: 0", "late_min: 0, called: \"06:45\"");
const TABLE: &str = "roads: (minutes: { \"P\": { \"A\": (20, 18) } })";
const MAP_10_MIN: Change = ("(name: \"A\")", "(name: \"A\", at: (6, 8))");
const BY_THE_MAP: Change = ("belief: FreeFlow", "belief: StraightLine");
const MILE_A_MINUTE: Change = ("roads: (", "roads: (straight_line_mph: 60, ");
const RUSH: Change = (
    "roads: (",
    "roads: (traffic: [(factors: [(\"06:50\", 2)])], ",
);
const NO_BOOK: &str = "rule_book: \"none\"";
const NO_LEND: Change = ("belief: FreeFlow", "belief: FreeFlow, lend: Never");
const PLANTS: &str = "plants: [";
const AND_Q: &str = "plants: [(name: \"Q\", loading: Constant(6), rack: Constant(4)), ";
const MINUTES: Change = ("minutes: {", "minutes: { \"Q\": { \"A\": 60, \"P\": 50 },");

/// Two drivers, the second from 08:00, and two loads.
const TWO_DRIVERS: [Change; 3] = [
    ("volume_yd3: 40", "volume_yd3: 20"),
    (
        "(name: \"D\", trucks: \"T\", report: \"05:30\")",
        "(name: \"D1\", trucks: \"T1\", report: \"05:30\"), (name: \"D2\", trucks: \"T2\", report: \"08:00\")",
    ),
    (
        "(name: \"T\", count: 2, home: \"P\")",
        "(name: \"T1\", home: \"P\"), (name: \"T2\", home: \"P\")",
    ),
];

/// Of the 75 min that the second load of [`TWO_DRIVERS`] is late.
const OUT_OF_HOURS: &[(LateCause, f64)] = &[(NoTruck, 33.0), (NoHours, 42.0)];
const UNTIL_0815: &str = "Load 2 leaves at 07:00 on paper, with the second driver at 08:15; until 07:33 no truck is there (33 min), then its driver's hours refuse it (42)";

const DAYS: [Day; 24] = [
    Day {
        about: "A fleet too small",
        arithmetic: "Two trucks, a round trip of 63 min, a spacing of 30: loads 3 and 4 wait 3 min each",
        changes: &[],
        loads: 2,
        causes: &[(NoTruck, 6.0)],
    },
    Day {
        about: "A dispatcher who measures on the map",
        arithmetic: "The map says 10 min for a road of 20: every load is 10 min late for it, loads 3 and 4 wait 3 min for a truck",
        changes: &[MAP_10_MIN, MILE_A_MINUTE, BY_THE_MAP],
        loads: 4,
        causes: &[(NoTruck, 6.0), (Belief, 40.0)],
    },
    Day {
        about: "Three loads at once at one bay",
        arithmetic: "One truck each; the second waits 6 min for the bay, the third 12",
        changes: &[
            (
                "volume_yd3: 40, spacing_min: 30",
                "volume_yd3: 30, spacing_min: 0",
            ),
            ("count: 2", "count: 3"),
            (
                "position:",
                "outlets: [(rate_yd3_min: 1, places: 3)], position:",
            ),
        ],
        loads: 2,
        causes: &[(BayQueue, 18.0)],
    },
    Day {
        about: "A plant that opens late",
        arithmetic: "It opens at 06:40, ten minutes after the send time of the one load",
        changes: &[ONE_LOAD, ("open: \"05:00\"", "open: \"06:40\"")],
        loads: 1,
        causes: &[(PlantClosed, 10.0)],
    },
    Day {
        about: "An order called in late",
        arithmetic: "At 06:45, fifteen minutes after its send time",
        changes: &[ONE_LOAD, CALLED_0645],
        loads: 1,
        causes: &[(CalledLate, 15.0)],
    },
    Day {
        about: "A driver who may load for an hour only",
        arithmetic: UNTIL_0815,
        changes: &[
            TWO_DRIVERS[0],
            TWO_DRIVERS[1],
            TWO_DRIVERS[2],
            ("horizon_min: 0", "horizon_min: 0, no_load_after_h: 1"),
        ],
        loads: 1,
        causes: OUT_OF_HOURS,
    },
    Day {
        about: "A driver who may drive for 54 min, of which 38 are gone",
        arithmetic: UNTIL_0815,
        changes: &[
            TWO_DRIVERS[0],
            TWO_DRIVERS[1],
            TWO_DRIVERS[2],
            (
                NO_BOOK,
                "rule_book: \"short\", rule_books: [(name: \"short\", like: \"none\", rest_h: 10, driving_h: 0.9)]",
            ),
        ],
        loads: 1,
        causes: OUT_OF_HOURS,
    },
    Day {
        about: "A week that holds three hours, and no parking on site",
        arithmetic: UNTIL_0815,
        changes: &[
            TWO_DRIVERS[0],
            TWO_DRIVERS[1],
            TWO_DRIVERS[2],
            (
                NO_BOOK,
                "rule_book: \"short\", rule_books: [(name: \"short\", like: \"none\", rest_h: 10, cycle: \"3/7\")]",
            ),
            ("(name: \"A\")", "(name: \"A\", parking: false)"),
        ],
        loads: 1,
        causes: OUT_OF_HOURS,
    },
    Day {
        about: "A window of four hours of which the rule keeps one",
        arithmetic: UNTIL_0815,
        changes: &[
            TWO_DRIVERS[0],
            TWO_DRIVERS[1],
            TWO_DRIVERS[2],
            (
                NO_BOOK,
                "rule_book: \"short\", rule_books: [(name: \"short\", like: \"none\", rest_h: 10, window_h: 4)]",
            ),
            (
                "belief: FreeFlow",
                "belief: FreeFlow, gates: [KeepMinutes(minutes: 60)]",
            ),
        ],
        loads: 1,
        causes: OUT_OF_HOURS,
    },
    Day {
        about: "Traffic that is usual at the hour",
        arithmetic: "From 06:50 a minute of road takes two; sent at 06:30 for the empty road the truck drives ten minutes freely and ten that take twenty",
        changes: &[ONE_LOAD, RUSH],
        loads: 1,
        causes: &[(Belief, 10.0)],
    },
    Day {
        about: "The same, called in at 06:35: what is sent later meets more traffic",
        arithmetic: "5 + 30 = 35 min in place of the 30 usual at the send time: 5 for the call, 10 for the belief, 5 for the hour",
        changes: &[
            ONE_LOAD,
            RUSH,
            ("late_min: 0", "late_min: 0, called: \"06:35\""),
        ],
        loads: 1,
        causes: &[(CalledLate, 5.0), (Belief, 10.0), (Traffic, 5.0)],
    },
    Day {
        about: "Time recovered cancels the oldest excess",
        arithmetic: "Sent 18 min late and 5 of belief; the 8 min allowed for the bay are not needed: they cancel the 5 and 3 of the call",
        changes: &[
            ONE_LOAD,
            CALLED_0645,
            ("bay_wait_min: 0", "bay_wait_min: 8"),
            ("(name: \"A\")", "(name: \"A\", at: (9, 12))"),
            MILE_A_MINUTE,
            BY_THE_MAP,
        ],
        loads: 1,
        causes: &[(CalledLate, 15.0)],
    },
    Day {
        about: "Loads that never come are late until midnight",
        arithmetic: "The plant shuts at 07:05; loads 3 and 4, ready at 08:00 and 08:30, wait from 07:33 on: 960 + 930 min",
        changes: &[("close: \"17:00\"", "close: \"07:05\"")],
        loads: 2,
        causes: &[(PlantClosed, 1890.0)],
    },
    Day {
        about: "An age limit of 45 min",
        arithmetic: "From the bay to the end of the stay 6 + 4 + 20 + 15 = 45 min: nothing is late",
        changes: &[
            ONE_LOAD,
            (
                NO_BOOK,
                "rule_book: \"none\", concrete: (age_limit_min: 45)",
            ),
        ],
        loads: 0,
        causes: &[],
    },
    Day {
        about: "Its twin with an age limit of 44 min",
        arithmetic: "45 min are one too many: no truck may take the load, 17 h until midnight",
        changes: &[
            ONE_LOAD,
            (
                NO_BOOK,
                "rule_book: \"none\", concrete: (age_limit_min: 44)",
            ),
        ],
        loads: 1,
        causes: &[(TooOld, 1020.0)],
    },
    Day {
        about: "Trucks a pound lighter empty than the law allows in all",
        arithmetic: "Nothing fits into a pound: 17 h until midnight",
        changes: &[
            ONE_LOAD,
            (
                "count: 2, home: \"P\"",
                "home: \"P\", empty_lb: 68999, legal_gross_lb: 69000), (name: \"U\", home: \"P\", empty_lb: 68999, legal_gross_lb: 69000",
            ),
        ],
        loads: 1,
        causes: &[(TooHeavy, 1020.0)],
    },
    Day {
        about: "Trucks of another plant that are not lent",
        arithmetic: "Their own plant lies too far away for an age limit of 45 min: 17 h until midnight",
        changes: &[
            ONE_LOAD,
            (
                NO_BOOK,
                "rule_book: \"none\", concrete: (age_limit_min: 45)",
            ),
            (PLANTS, AND_Q),
            ("count: 2, home: \"P\"", "count: 2, home: \"Q\""),
            MINUTES,
            NO_LEND,
        ],
        loads: 1,
        causes: &[(Refused, 1020.0)],
    },
    Day {
        about: "A load left to the nearer plant",
        arithmetic: "The farther plant's trucks are refused until 07:30, when the nearer one's driver is ready, an hour after the send time",
        changes: &[
            ONE_LOAD,
            (PLANTS, AND_Q),
            (
                "(name: \"T\", count: 2, home: \"P\")",
                "(name: \"T\", home: \"P\"), (name: \"U\", home: \"Q\")",
            ),
            (
                "(name: \"D\", trucks: \"T\", report: \"05:30\")",
                "(name: \"D\", trucks: \"T\", report: \"07:15\"), (name: \"E\", trucks: \"U\", report: \"05:30\")",
            ),
            MINUTES,
            (
                "belief: FreeFlow",
                "belief: FreeFlow, lend: Never, plants: NearestFirst(late_min: 120)",
            ),
        ],
        loads: 1,
        causes: &[(NearerPlant, 60.0)],
    },
    Day {
        about: "A bridge lift",
        arithmetic: "Sent at 06:30 for 20 min of road, the truck comes to the bridge at 06:40 and waits until 06:50",
        changes: &[
            ONE_LOAD,
            (
                TABLE,
                "roads: Network(links: [(from: \"P\", to: \"A\", miles: 20, mph: 60, lifts: [(from: \"06:35\", to: \"06:50\")])])",
            ),
        ],
        loads: 1,
        causes: &[(LiftBridge, 10.0)],
    },
    Day {
        about: "Its twin with a desk that knows the lifts",
        arithmetic: "It sends ten minutes before: nothing is late",
        changes: &[
            ONE_LOAD,
            (
                TABLE,
                "roads: Network(links: [(from: \"P\", to: \"A\", miles: 20, mph: 60, lifts: [(from: \"06:35\", to: \"06:50\")])])",
            ),
            ("belief: FreeFlow", "belief: TimeOfDay"),
        ],
        loads: 0,
        causes: &[],
    },
    Day {
        about: "A bridge lift, and a dispatcher who measures on the map",
        arithmetic: "Sent at 06:40 for 10 min by the map, the truck stands from 06:50 to 06:55 and is on site at 07:15: 10 for the map, 5 for the bridge",
        changes: &[
            ONE_LOAD,
            (
                TABLE,
                "roads: Network(straight_line_mph: 60, links: [(from: \"P\", to: \"A\", miles: 20, mph: 60, lifts: [(from: \"06:35\", to: \"06:55\")])])",
            ),
            MAP_10_MIN,
            BY_THE_MAP,
        ],
        loads: 1,
        causes: &[(Belief, 10.0), (LiftBridge, 5.0)],
    },
    Day {
        about: "A weigh station",
        arithmetic: "Three minutes that the desk does not reckon with",
        changes: &[
            ONE_LOAD,
            (
                TABLE,
                "roads: Network(links: [(from: \"P\", to: \"A\", miles: 20, mph: 60, weigh_station: (hours: [(from: \"06:00\", to: \"09:00\")], minutes: 3))])",
            ),
        ],
        loads: 1,
        causes: &[(WeighStation, 3.0)],
    },
    Day {
        about: "The way round a weigh station",
        arithmetic: "20 miles at 40 miles an hour in place of 60: 30 min for 20; what is saved at the station is no cause",
        changes: &[
            ONE_LOAD,
            (
                TABLE,
                "roads: Network(junctions: [\"J\"], links: [(from: \"P\", to: \"J\", miles: 10, mph: 40), (from: \"J\", to: \"A\", miles: 10, mph: 40), (from: \"P\", to: \"A\", miles: 20, mph: 60, weigh_station: (hours: [(from: \"06:00\", to: \"09:00\")], minutes: 3))])",
            ),
            ("rules: [", "weighing: (goes_round: 1), rules: ["),
            (
                "loading: Constant(6)",
                "truck_scale: false, loading: Constant(6)",
            ),
        ],
        loads: 1,
        causes: &[(WayRound, 10.0)],
    },
    Day {
        about: "A breakdown on the way",
        arithmetic: "A truck that breaks down on every drive, for ten minutes",
        changes: &[
            ONE_LOAD,
            (
                "home: \"P\"",
                "home: \"P\", breakdowns: (mean_h_between: 0.000001, minutes: Constant(10))",
            ),
        ],
        loads: 1,
        causes: &[(Breakdown, 10.0)],
    },
];

pub(super) fn check(sheet: &mut Sheet) {
    for paper in DAYS {
        let scenario = day(TWO_TRUCKS, paper.changes);
        let plan = Plan::new(&scenario);
        let mut ledger = Ledger::new(&plan);
        ledger.begin();
        World::new(&plan).run(0, Luck::new(1, 0), &mut ledger);
        let minutes = |cause: LateCause| ledger.causes.late[cause as usize] as f64 / 60_000.0;
        let found = LateCause::ALL.into_iter();
        let found = told(found.map(|cause| (cause.words(), minutes(cause))));
        let expected = paper.causes.iter();
        let expected = told(expected.map(|(cause, minutes)| (cause.words(), *minutes)));
        sheet.about(paper.about, Basis::Paper, paper.arithmetic);
        let loads = ledger.causes.loads as f64;
        sheet.near("late loads", loads, paper.loads as f64, 0.0);
        sheet.words("late for", found, expected);
    }
}
