//! What is good, to be spoiled.

use plantday::hours::{NAMES, built_in};
use plantday::scenario::{Scenario, parse, rule_book};
use plantday::studies::TripQuestion;
use plantday::studies::trip::state_of;
use plantday::units::Millis;

/// The shipped scenarios and those of other tests that stand in one text.
pub(super) const SCENARIOS: [(&str, &str); 14] = [
    (
        "estuary_day",
        include_str!("../../../scenarios/estuary_day.ron"),
    ),
    (
        "estuary_week",
        include_str!("../../../scenarios/estuary_week.ron"),
    ),
    (
        "growing_book",
        include_str!("../../../scenarios/growing_book.ron"),
    ),
    (
        "hill_town",
        include_str!("../../../scenarios/hill_town.ron"),
    ),
    ("hot_week", include_str!("../../../scenarios/hot_week.ron")),
    (
        "metric_day",
        include_str!("../../../scenarios/metric_day.ron"),
    ),
    (
        "night_mat",
        include_str!("../../../scenarios/night_mat.ron"),
    ),
    (
        "shuttle_day",
        include_str!("../../../scenarios/shuttle_day.ron"),
    ),
    ("starter", include_str!("../../../scenarios/starter.ron")),
    (
        "yard_study",
        include_str!("../../../scenarios/yard_study.ron"),
    ),
    ("seldom", include_str!("../../data/seldom.ron")),
    ("a drum", include_str!("../../concrete/drum/day.ron")),
    (
        "a usual drum",
        include_str!("../../concrete/drum/usual.ron"),
    ),
    (
        "what comes back",
        include_str!("../../concrete/returned_concrete/day.ron"),
    ),
];

/// A scenario with its lists in tables: the files of its folder, the scenario first.
pub(super) const IN_TABLES: [(&str, &str); 4] = [
    (
        "nine_trucks.ron",
        include_str!("../../../scenarios/nine_trucks/nine_trucks.ron"),
    ),
    (
        "orders.csv",
        include_str!("../../../scenarios/nine_trucks/orders.csv"),
    ),
    (
        "roster.csv",
        include_str!("../../../scenarios/nine_trucks/roster.csv"),
    ),
    (
        "minutes.csv",
        include_str!("../../../scenarios/nine_trucks/minutes.csv"),
    ),
];

/// A log of several drivers, and the days before it.
pub(super) const LOG: &str = include_str!("../../../scenarios/duty_log.csv");
pub(super) const HISTORY: &str = include_str!("../../../scenarios/duty_history.csv");

/// Logs with every column.
pub(super) const LOGS: [&str; 3] = [
    LOG,
    "driver;status;start;end;zone\nI. Heron;on;2026-10-31T20:00;2026-11-01T01:30-04:00;America/New_York\n\
     I. Heron;drive;2026-11-01T01:30-04:00;2026-11-01T01:30-05:00;America/New_York\n",
    "driver,status,start,end,exception\nB. Tern,on,2026-03-02T05:00,2026-03-02T19:30,long_day\nB. Tern,waiting,2026-03-02 19:30,2026-03-02 20:00,\n\
     B. Tern,relieved,2026-03-02T20:00,2026-03-02T24:00,adverse\nB. Tern,riding,2026-03-03T00:00,,\n",
];

/// Tickets with every kind of time.
pub(super) const TICKETS: [&str; 2] = [
    "Date,Ticket,Order,Plant,Truck,Driver,Customer,Yd3,Loading start,Loading end,Left plant,On site,Discharge start,Discharge end,Left site,Back\n\
     2026-06-08,1,Deck,North,N1,Anna,Estuary Homes,10,06:00,06:06,06:12,06:30,06:35,06:50,06:55,07:12\n\
     2026-06-08,2,Deck,North,N2,Bert,Estuary Homes,10,23:50,23:56,00:02,00:20,00:25,00:40,00:45,01:02\n",
    "Order;Load;m3;Batched;Left plant;On site;Discharge start;Discharge end;Back\nDeck;1;7,5;08.06.2026 06:00;06:12;06:30;06:35;06:50;07:12\n\
     Deck;2;7,5;08.06.2026 06:20;06:32;06:50;06:55;n/a;07:32\n",
];

/// Seasons of a year.
pub(super) const SEASONS: [&str; 2] = [
    "weeks,orders_per_cent,name\n12,70,winter\n26,100,\n14,115,summer\n",
    "orders_per_cent;weeks\n70;12\n100;40\n",
];

/// Built-in rule books written out.
pub(super) fn rule_books() -> Vec<String> {
    let books = NAMES
        .into_iter()
        .map(|name| built_in(name).expect("it is one of the names"));
    books.map(|book| rule_book::write(&book)).collect()
}

/// A day, and how it stands at some moments, as files.
pub(super) fn states() -> (Scenario, Vec<String>) {
    let scenario = parse("day.ron", SCENARIOS[0].1).unwrap_or_else(|faults| panic!("{faults}"));
    let at = [6.0, 8.5, 11.0, 14.25, 18.0].map(|hours| {
        let question = TripQuestion {
            at: Millis::from_hours(hours),
            ..TripQuestion::default()
        };
        let state = state_of(&scenario, &question);
        state.to_text(&scenario).expect("it has no endless order")
    });
    let mut states = at.to_vec();
    states.push("driver,doing,truck,at,since,reported,order,load,yd3,plant,batched,driven_h,since_break_h,week_h\n".to_owned());
    (scenario, states)
}
