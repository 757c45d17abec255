//! Closed networks: bay, rack, road and pump as stations of a product-form network (Gordon and Newell 1967; delays of any spread by
//! Baskett, Chandy, Muntz and Palacios 1975). The road delays everybody and nobody waits for it. And one open queue.

use super::super::check::Basis;
use super::{Fleet, Queue, figure};

const PER_MINUTE: f64 = 1.0 / 60.0;
const LOADED: &str = "P bays: throughput_per_h";
const AT_BAYS: &str = "P bays: mean_present";
const AT_SITE: &str = "E at Site 1: mean_present";
const SERVED: &str = "served per unit of time";

pub(super) fn queues() -> Vec<Queue> {
    let mut all = vec![
        two_queues(),
        three_queues(),
        two_bays_two_sites(),
        two_bays_one_pump(),
        open_queue(),
    ];
    all.extend(
        (1..)
            .zip(BY_FLEET_SIZE)
            .map(|(trucks, served)| fleet_size(trucks, served)),
    );
    all
}

fn two_queues() -> Queue {
    Queue {
        about: "Two queues and a delay, two customers".into(),
        basis: Basis::Printed,
        source: "Lecture notes of a university on performance engineering: R = 2, which is (.4 + .9333) ÷ X; digits by mean value analysis",
        fleet: Fleet {
            trucks: 2,
            bays: 1,
            loading: "Exponential(0.5)",
            rack: None,
            road: (1.0, 0.0),
            luck: "Exponential(1)",
            sites: &[("Exponential(1)", 1)],
            days: 14,
        },
        instead: None,
        replications: 60,
        figures: vec![
            figure(LOADED, SERVED, PER_MINUTE, 0.666_666_667),
            figure(AT_BAYS, "at the bay, on average", 1.0, 0.4),
            figure(AT_SITE, "at the site, on average", 1.0, 0.933_333_333),
        ],
    }
}

/// The rack is the second queue.
fn three_queues() -> Queue {
    Queue {
        about: "Three queues and a delay of 15, three customers".into(),
        basis: Basis::Computed,
        source: "Lazowska, Zahorjan, Graham, Sevcik, Quantitative System Performance (1984), p. 117 (prints an approximation, X = .1510); exact by mean value analysis",
        fleet: Fleet {
            trucks: 3,
            bays: 1,
            loading: "Exponential(0.605)",
            rack: Some("Exponential(2.1)"),
            road: (10.0, 5.0),
            luck: "Lognormal(mean: 1, cv: 0.4)",
            sites: &[("Exponential(1.35)", 1)],
            days: 28,
        },
        instead: None,
        replications: 120,
        figures: vec![
            figure(LOADED, SERVED, PER_MINUTE, 0.151_516_492),
            figure(AT_BAYS, "at the bay, on average", 1.0, 0.097_566_019_4),
            figure(
                "P rack: mean_present",
                "at the rack, on average",
                1.0,
                0.394_656_555,
            ),
            figure(AT_SITE, "at the site, on average", 1.0, 0.235_030_041),
        ],
    }
}

fn two_bays_two_sites() -> Queue {
    Queue {
        about: "Two bays, two sites with equal chances, a delay, three customers".into(),
        basis: Basis::Printed,
        source: "Bolch, Greiner, de Meer, Trivedi, Queueing Networks and Markov Chains (1998), example 8.4: X = 1.218, Q = .624, .473, .686",
        fleet: Fleet {
            trucks: 3,
            bays: 2,
            loading: "Exponential(0.5)",
            rack: None,
            road: (1.0, 0.0),
            luck: "Exponential(1)",
            sites: &[("Exponential(0.6)", 1), ("Exponential(0.8)", 1)],
            days: 14,
        },
        instead: None,
        replications: 60,
        figures: vec![
            figure(LOADED, SERVED, PER_MINUTE, 1.217_460_63),
            figure(AT_BAYS, "at the bays, on average", 1.0, 0.623_679_49),
            figure(AT_SITE, "at the first site, on average", 1.0, 0.472_872_234),
            figure(
                "E at Site 2: mean_present",
                "at the second site, on average",
                1.0,
                0.685_987_642,
            ),
        ],
    }
}

fn two_bays_one_pump() -> Queue {
    Queue {
        about: "Ten trucks, two bays, one pump".into(),
        basis: Basis::Computed,
        source: "Gordon, Newell, Operations Research 15 (1967): product form, by convolution",
        fleet: Fleet {
            trucks: 10,
            bays: 2,
            loading: "Exponential(8)",
            rack: None,
            road: (25.0, 20.0),
            luck: "Gamma(mean: 1, cv: 0.5)",
            sites: &[("Exponential(12)", 1)],
            days: 28,
        },
        instead: None,
        replications: 170,
        figures: vec![
            figure(LOADED, "loads a minute", PER_MINUTE, 0.082_375_627),
            figure(AT_BAYS, "at the bays, on average", 1.0, 0.733_106_065),
            figure(AT_SITE, "at the pump, on average", 1.0, 5.559_990_72),
            figure(
                "E at Site 1: busy_share",
                "share of time the pump is busy",
                1.0,
                0.988_507_524,
            ),
        ],
    }
}

/// A stream of single loads, and so many trucks that none ever waits for one: more than 60 are present once in 2^60.
fn open_queue() -> Queue {
    Queue {
        about: "A stream of loads at a bay that is busy half the time".into(),
        basis: Basis::Computed,
        source: "M/M/1 in every textbook of queueing: L = ρ ÷ (1 − ρ), Wq = ρ ÷ (μ − λ)",
        fleet: Fleet {
            trucks: 60,
            bays: 1,
            loading: "Exponential(1)",
            rack: None,
            road: (0.0, 0.0),
            luck: "Constant(1)",
            sites: &[("Constant(0)", 1)],
            days: 28,
        },
        instead: Some((
            "(name: \"E\", to: Drawn,",
            "(name: \"E\", arrivals: Exponential(2),",
        )),
        replications: 340,
        figures: vec![
            figure(LOADED, "loads an hour", 1.0, 30.0),
            figure(AT_BAYS, "present, on average", 1.0, 1.0),
            figure("P bays: mean_waiting", "waiting, on average", 1.0, 0.5),
            figure("P bays: mean_wait_min", "mean wait in minutes", 1.0, 1.0),
            figure("P bays: busy_share", "share of time busy", 1.0, 0.5),
        ],
    }
}

/// Loads a minute with one to fifteen trucks. The knee lies at (6 + 9 + 50) ÷ 9 = 7.2 trucks.
pub const BY_FLEET_SIZE: [f64; 15] = [
    0.015_384_615_4,
    0.029_940_119_8,
    0.043_517_188_4,
    0.055_959_511_3,
    0.067_117_391_2,
    0.076_867_166_7,
    0.085_133_843_3,
    0.091_911_141_6,
    0.097_271_375_3,
    0.101_359_434,
    0.104_371_037,
    0.106_522_212,
    0.108_020_165,
    0.109_043_348,
    0.109_733_064,
];

fn fleet_size(trucks: u32, served: f64) -> Queue {
    let several = if trucks == 1 { "" } else { "s" };
    Queue {
        about: format!("Bay, road, pump: {trucks} truck{several}").into(),
        basis: Basis::Computed,
        source: "Reiser, Lavenberg, J. ACM 27 (1980): mean value analysis",
        fleet: Fleet {
            trucks,
            bays: 1,
            loading: "Exponential(6)",
            rack: None,
            road: (28.0, 22.0),
            luck: "Lognormal(mean: 1, cv: 0.25)",
            sites: &[("Exponential(9)", 1)],
            days: 28,
        },
        instead: None,
        replications: 60,
        figures: vec![figure(LOADED, "loads a minute", PER_MINUTE, served)],
    }
}
