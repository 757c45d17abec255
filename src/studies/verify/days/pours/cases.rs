//! The pours, a disturbed one beside its undisturbed twin.

use super::super::Change;
use super::super::pour_figures::Figure::*;
use super::Pour;
use crate::observe::CostPart;
use crate::studies::FleetQuestion;
use crate::units::{Millis, PlantId};

const VOLUME: &str = "first: \"05:00\", volume_yd3: 600";
const VOLUME_AND_SPACING: &str = "first: \"05:00\", volume_yd3: 600, spacing_min: 15";
const STAY: &str = "outlets: [(rate_yd3_min: 1, places: 1)], position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)";
const LOADING: &str = "loading: Constant(6)";
const NO_LIMIT: &str = "rule_book: \"none\"";
const ROADS: &str = "\"Tower\": (20, 20)";
const TWENTY_LOADS: Change = (VOLUME, "first: \"05:00\", volume_yd3: 200");
const THIRTY_LOADS: Change = (VOLUME, "first: \"05:00\", volume_yd3: 300");
const TWO_DAYS: Change = (NO_LIMIT, "rule_book: \"none\", period: (days: 2)");
const SLOW_BAY: Change = (LOADING, "loading: Constant(24)");
const FINISH_AT_21: Change = ("spacing_min: 15", "finish_by: \"21:00\", spacing_min: 15");
const EVERY_11: Change = (
    VOLUME_AND_SPACING,
    "first: \"05:00\", volume_yd3: 300, spacing_min: 11",
);
const PUMP_OF: [Change; 3] = [
    THIRTY_LOADS,
    ("discharge: Constant(10)", "discharge_luck: Constant(1)"),
    (
        NO_LIMIT,
        "rule_book: \"none\", concrete: (age_limit_min: None)",
    ),
];
const OUTAGE: Change = (
    "bays: 1, loading",
    "planned_outages: [(day: 1, from: \"06:59\", to: \"08:00\")], bays: 1, loading",
);
const FAR: [Change; 3] = [
    (
        "plants: [(name: \"Yard\", bays: 1, loading: Constant(6), rack: Constant(4))]",
        "plants: [(name: \"Yard\", bays: 1, loading: Constant(20), rack: Constant(4)), (name: \"Second\", bays: 1, loading: Constant(20), rack: Constant(4))]",
    ),
    (
        "\"Tower\": (20, 20) }",
        "\"Tower\": (40, 40), \"Second\": 10 }, \"Second\": { \"Tower\": (40, 40) }",
    ),
    TWENTY_LOADS,
];

fn from_five(question: &mut FleetQuestion) {
    question.trucks = 5..=16;
}

fn from_yard(question: &mut FleetQuestion) {
    question.plant = Some(PlantId(0));
    question.trucks = 1..=20;
}

pub(super) const POURS: [Pour; 27] = [
    Pour {
        about: "A tower",
        arithmetic: "65 ÷ 15 = 4.33: five trucks, done 59 × 15 + 12 min after 05:00; four trucks: 14 × 65 min after the fourth's first at 05:45, + 12",
        changes: &[],
        asked: |_| {},
        figures: &[
            Cheapest(5),
            Fewest(Some(4)),
            ByHand(5),
            EveryMin(15.0),
            Loads(60),
            Done(5, "19:57"),
            Behind(5, 0.0),
            Done(4, "21:07"),
            Behind(4, 70.0),
            Calls("5 from 04:30 to 05:30"),
        ],
    },
    Pour {
        about: "Its twin with a round trip of 60 min, a pause of 8 min tolerated",
        arithmetic: "60 ÷ 15 = 4: four trucks hold the spacing",
        changes: &[("(20, 20)", "(20, 15)"), ("gap_min: 20", "gap_min: 8")],
        asked: |_| {},
        figures: &[
            Cheapest(4),
            Fewest(Some(4)),
            Done(4, "19:57"),
            Behind(4, 0.0),
        ],
    },
    Pour {
        about: "Two outlets, discharge 20",
        arithmetic: "22 ÷ 2 = 11, 75 ÷ 11: 7 trucks, 29 × 11 + 22 min; six: 4 × 75 + 5 × 11 + 22",
        changes: &[
            EVERY_11,
            (
                STAY,
                "outlets: [(rate_yd3_min: 0.5, places: 1), (rate_yd3_min: 0.5, places: 1)], position: Constant(2), discharge: Constant(20), chute_wash: Constant(3)",
            ),
        ],
        asked: |_| {},
        figures: &[
            EveryMin(11.0),
            ByHand(7),
            Done(7, "10:41"),
            Behind(7, 0.0),
            Done(6, "11:17"),
            Behind(6, 36.0),
        ],
    },
    Pour {
        about: "Its twin with one outlet",
        arithmetic: "A load every 22 min, 75 ÷ 22: 4 trucks, 29 × 22 + 22 min; three: 9 × 75 + 2 × 22 + 22",
        changes: &[
            EVERY_11,
            (
                STAY,
                "outlets: [(rate_yd3_min: 0.5, places: 1)], position: Constant(2), discharge: Constant(20), chute_wash: Constant(3)",
            ),
        ],
        asked: |_| {},
        figures: &[
            EveryMin(22.0),
            ByHand(4),
            Done(4, "16:00"),
            Behind(4, 0.0),
            Done(3, "17:21"),
            Behind(3, 81.0),
        ],
    },
    Pour {
        about: "One bay of 24 min",
        arithmetic: "A load every 24 min, 83 ÷ 24: 4 trucks, 19 × 24 + 12 min, however many trucks",
        changes: &[TWENTY_LOADS, SLOW_BAY],
        asked: |_| {},
        figures: &[
            EveryMin(24.0),
            ByHand(4),
            Done(4, "12:48"),
            Behind(4, 171.0),
            Done(9, "12:48"),
        ],
    },
    Pour {
        about: "Its twin with two bays",
        arithmetic: "A load every 15 min, 83 ÷ 15: 6 trucks, 19 × 15 + 12 min; five: 3 × 83 + 4 × 15 + 12",
        changes: &[TWENTY_LOADS, SLOW_BAY],
        asked: |question| question.bays = Some(2),
        figures: &[
            EveryMin(15.0),
            ByHand(6),
            Done(6, "09:57"),
            Behind(6, 0.0),
            Done(5, "10:21"),
            Behind(5, 24.0),
        ],
    },
    Pour {
        about: "A pour over midnight",
        arithmetic: "40 loads from 20:00: the last is due 39 × 15 = 585 min later and empty after 12 more",
        changes: &[TWO_DAYS, (VOLUME, "first: \"20:00\", volume_yd3: 400")],
        asked: |_| {},
        figures: &[
            Cheapest(5),
            Done(5, "05:57 +1"),
            Behind(5, 0.0),
            Calls("5 from 19:30 to 20:30"),
            Needed("00:00 +1", 5),
        ],
    },
    Pour {
        about: "Its twin by day",
        arithmetic: "40 loads from 05:00",
        changes: &[TWO_DAYS, (VOLUME, "first: \"05:00\", volume_yd3: 400")],
        asked: |_| {},
        figures: &[Done(5, "14:57"), Behind(5, 0.0)],
    },
    Pour {
        about: "A tower that must be done by 21:00",
        arithmetic: "Four trucks are done at 21:07: five",
        changes: &[FINISH_AT_21],
        asked: |_| {},
        figures: &[Fewest(Some(5))],
    },
    Pour {
        about: "The same, asked for 21:10",
        arithmetic: "Four trucks are done at 21:07: four",
        changes: &[FINISH_AT_21],
        asked: |question| question.finish_by = Some(Millis::MINUTE * (21 * 60 + 10)),
        figures: &[Fewest(Some(4))],
    },
    Pour {
        about: "The same, asked for 19:50",
        arithmetic: "The last load is empty at 19:57 with any fleet",
        changes: &[FINISH_AT_21],
        asked: |question| question.finish_by = Some(Millis::MINUTE * (19 * 60 + 50)),
        figures: &[Fewest(None)],
    },
    Pour {
        about: "A plant that stands from 06:59 to 08:00, a pause of 64 min tolerated",
        arithmetic: "The 10th load is empty at 07:27, the 11th begins at 08:32: 65 min, whatever the fleet",
        changes: &[TWENTY_LOADS, OUTAGE],
        asked: |question| {
            from_five(question);
            question.gap = Some(Millis::MINUTE * 64);
        },
        figures: &[
            Fewest(None),
            Pause(5, 65.0),
            Pause(8, 65.0),
            Pause(16, 65.0),
        ],
    },
    Pour {
        about: "The same, a pause of 65 min tolerated",
        arithmetic: "65 min just hold",
        changes: &[TWENTY_LOADS, OUTAGE],
        asked: |question| {
            from_five(question);
            question.gap = Some(Millis::MINUTE * 65);
        },
        figures: &[Fewest(Some(5))],
    },
    Pour {
        about: "Its twin that does not stand",
        arithmetic: "The longest pause is the 5 min between two loads",
        changes: &[TWENTY_LOADS],
        asked: |question| {
            from_five(question);
            question.gap = Some(Millis::MINUTE * 64);
        },
        figures: &[Pause(5, 5.0)],
    },
    Pour {
        about: "30 min out and 10 back",
        arithmetic: "The same trucks, done at the same minute, each called 10 min sooner",
        changes: &[(ROADS, "\"Tower\": (30, 10)")],
        asked: |_| {},
        figures: &[
            EveryMin(15.0),
            ByHand(5),
            Done(5, "19:57"),
            Calls("5 from 04:20 to 05:20"),
        ],
    },
    Pour {
        about: "10 min out and 30 back",
        arithmetic: "The same trucks, done at the same minute, each called 10 min later",
        changes: &[(ROADS, "\"Tower\": (10, 30)")],
        asked: |_| {},
        figures: &[
            EveryMin(15.0),
            ByHand(5),
            Done(5, "19:57"),
            Calls("5 from 04:40 to 05:40"),
        ],
    },
    Pour {
        about: "A plant 40 min away with a bay of 20 min",
        arithmetic: "A round of 119 min, a load every 20: 6 trucks; 20 loads are 19 × 20 + 12 = 392 min, 95 behind 19 × 15 + 12",
        changes: &FAR,
        asked: from_yard,
        figures: &[EveryMin(20.0), ByHand(6), Behind(6, 95.0), Behind(20, 95.0)],
    },
    Pour {
        about: "The same with a backup plant",
        arithmetic: "A load every 15, not 20 ÷ 2: 119 ÷ 15, 8 trucks",
        changes: &FAR,
        asked: |question| {
            from_yard(question);
            question.backup = Some(PlantId(1));
        },
        figures: &[EveryMin(15.0), ByHand(8)],
    },
    Pour {
        about: "Trucks of 8 yd³ for loads of 10",
        arithmetic: "600 ÷ 8 = 75 loads, every 12 min, 65 ÷ 12: six trucks, 74 × 12 + 12 min; five: 14 × 65 + 4 × 12 + 12",
        changes: &[
            ("capacity_yd3: 10", "capacity_yd3: 8"),
            ("spacing_min: 15", "load_yd3: 10, spacing_min: 15"),
        ],
        asked: |_| {},
        figures: &[
            Loads(75),
            EveryMin(12.0),
            ByHand(6),
            Done(6, "20:00"),
            Behind(6, 0.0),
            Done(5, "21:10"),
            Behind(5, 70.0),
        ],
    },
    Pour {
        about: "A pump of ½ yd³ a minute",
        arithmetic: "20 min a load and 2 for position, 75 ÷ 22: 4 trucks, 29 × 22 + 22 min",
        changes: &PUMP_OF,
        asked: |question| question.rate_yd3_min = Some(0.5),
        figures: &[
            EveryMin(22.0),
            ByHand(4),
            Done(4, "16:00"),
            Done(7, "16:00"),
            Needed("10:00", 4),
        ],
    },
    Pour {
        about: "Its twin with a pump of 1 yd³ a minute",
        arithmetic: "As ordered, every 15: 5 trucks, 29 × 15 + 12 min",
        changes: &PUMP_OF,
        asked: |question| question.rate_yd3_min = Some(1.0),
        figures: &[EveryMin(15.0), ByHand(5), Done(5, "12:27"), Behind(5, 0.0)],
    },
    Pour {
        about: "96 loads and a window of 14 hours",
        arithmetic: "49 CFR 395.3(a)(2): 14 h less 30 min hold ten rounds of 75; two drivers share 1,490 min on each truck",
        changes: &[
            (
                NO_LIMIT,
                "rule_book: DutyWindow(hours: 14, rest_hours: 10), period: (days: 2)",
            ),
            (VOLUME, "first: \"06:00\", volume_yd3: 960"),
        ],
        asked: |_| {},
        figures: &[
            Cheapest(5),
            Drivers(5, 10),
            Done(5, "05:57 +1"),
            Calls("5 from 05:30 to 06:30, 5 from 18:00 to 19:00"),
            RoundTrip("12:00", 65.0),
        ],
    },
    Pour {
        about: "Its twin without a limit",
        arithmetic: "One driver each",
        changes: &[TWO_DAYS, (VOLUME, "first: \"06:00\", volume_yd3: 960")],
        asked: |_| {},
        figures: &[Cheapest(5), Drivers(5, 5)],
    },
    Pour {
        about: "Rush from 07:00 to 10:00, a pause of 9 min tolerated",
        arithmetic: "35 min each way in place of 20: a round of 95, 95 ÷ 15 = 6.33: seven, five before and after",
        changes: &[
            (
                "\"Yard\": { \"Tower\": (20, 20) }",
                "\"Yard\": { \"Tower\": [(\"00:00\", 20), (\"07:00\", 35), (\"10:00\", 20)] }",
            ),
            ("belief: FreeFlow", "belief: TimeOfDay"),
        ],
        asked: |question| question.gap = Some(Millis::MINUTE * 9),
        figures: &[
            Needed("05:00", 5),
            RoundTrip("05:00", 65.0),
            Needed("07:00", 7),
            RoundTrip("07:00", 95.0),
            Needed("08:00", 7),
            Needed("13:00", 5),
            RoundTrip("13:00", 65.0),
            Fewest(Some(7)),
        ],
    },
    Pour {
        about: "What the tower costs",
        arithmetic: "5 drivers × 14 h 50 min, 10 h at $30, the rest at $45, 10% taxes; 74 h 10 min × $12; 40 h × $40; crew 15 h 50 min × $110; 600 × $105",
        changes: &[(
            NO_LIMIT,
            "rule_book: \"none\", money: (pay_per_h: 30, overtime_after_h: 10, payroll_tax: 0.1, truck_per_duty_h: 12, truck_per_driven_h: 40, crew_per_open_h: 110, material_per_yd3: 105)",
        )],
        asked: |_| {},
        figures: &[
            Cheapest(5),
            Dollars(CostPart::Pay, 1_500.0),
            Dollars(CostPart::Overtime, 1_087.5),
            Dollars(CostPart::PayrollTax, 258.75),
            Dollars(CostPart::TruckHours, 890.0),
            Dollars(CostPart::Driving, 1_600.0),
            Dollars(CostPart::Crews, 1_741.67),
            Dollars(CostPart::Material, 63_000.0),
            PerYd3(116.796_53),
        ],
    },
    Pour {
        about: "A pause of 9 min tolerated, and loads late by more than 15",
        arithmetic: "Four trucks: every fourth load comes 20 min after the one before, 10 of pause; late by more from the fifth round on, 44 of 60",
        changes: &[],
        asked: |question| question.gap = Some(Millis::MINUTE * 9),
        figures: &[
            Fewest(Some(5)),
            Pause(4, 10.0),
            Pause(5, 5.0),
            Late(4, 44.0 / 60.0),
        ],
    },
    Pour {
        about: "A pre-trip of 25 min, loads sent 8 min early",
        arithmetic: "The first driver comes 33 min sooner than 04:30, the others 15 min apart",
        changes: &[
            ("pre_trip: Constant(0)", "pre_trip: Constant(25)"),
            ("early_min: 0", "early_min: 8"),
        ],
        asked: |_| {},
        figures: &[Calls("5 from 03:57 to 04:57")],
    },
];
