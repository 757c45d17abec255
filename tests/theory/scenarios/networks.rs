//! Closed networks: bay, rack, road and pump as stations of a product-form network (Gordon and Newell 1967; delays of any
//! spread by Baskett, Chandy, Muntz and Palacios 1975). The road delays everybody and nobody waits for it.

use super::fleet::{Fleet, agree};

const PER_MINUTE: f64 = 1.0 / 60.0;

/// Lecture notes of a university on performance engineering, two queues and a delay, two customers: R = 2 (text found), which
/// is (.4 + .9333) ÷ X. Computed by mean value analysis.
#[test]
fn q34_two_queues_and_a_delay() {
    let fleet = Fleet {
        trucks: 2,
        bays: 1,
        loading: "Exponential(0.5)",
        rack: None,
        road: (1.0, 0.0),
        luck: "Exponential(1)",
        sites: &[("Exponential(1)", 1)],
        days: 14,
    };
    let expected = [
        ("P bays: throughput_per_h", PER_MINUTE, 0.666_666_667),
        ("P bays: mean_present", 1.0, 0.4),
        ("E at Site 1: mean_present", 1.0, 0.933_333_333),
    ];
    agree("Q34", &fleet.text(), 60, &expected);
}

/// Lazowska, Zahorjan, Graham, Sevcik, Quantitative System Performance (1984), p. 117, three queues and a delay of 15, three
/// customers, as quoted in the test suite of the Octave "queueing" package (text found): printed there is X = .1510 of an
/// approximation; here the exact values, computed by mean value analysis. The rack is the second queue.
#[test]
fn q35_three_queues_and_a_delay() {
    let fleet = Fleet {
        trucks: 3,
        bays: 1,
        loading: "Exponential(0.605)",
        rack: Some("Exponential(2.1)"),
        road: (10.0, 5.0),
        luck: "Lognormal(mean: 1, cv: 0.4)",
        sites: &[("Exponential(1.35)", 1)],
        days: 28,
    };
    let expected = [
        ("P bays: throughput_per_h", PER_MINUTE, 0.151_516_492),
        ("P bays: mean_present", 1.0, 0.097_566_019_4),
        ("P rack: mean_present", 1.0, 0.394_656_555),
        ("E at Site 1: mean_present", 1.0, 0.235_030_041),
    ];
    agree("Q35", &fleet.text(), 120, &expected);
}

/// Bolch, Greiner, de Meer, Trivedi, Queueing Networks and Markov Chains (1998), example 8.4, p. 333, as quoted in the same
/// test suite (text found): X = 1.218, Q = .624, .473, .686. Two bays, two sites drawn with equal chances, a delay, three
/// customers.
#[test]
fn q38_two_bays_two_sites_and_a_delay() {
    let fleet = Fleet {
        trucks: 3,
        bays: 2,
        loading: "Exponential(0.5)",
        rack: None,
        road: (1.0, 0.0),
        luck: "Exponential(1)",
        sites: &[("Exponential(0.6)", 1), ("Exponential(0.8)", 1)],
        days: 14,
    };
    let expected = [
        ("P bays: throughput_per_h", PER_MINUTE, 1.217_460_63),
        ("P bays: mean_present", 1.0, 0.623_679_49),
        ("E at Site 1: mean_present", 1.0, 0.472_872_234),
        ("E at Site 2: mean_present", 1.0, 0.685_987_642),
    ];
    agree("Q38", &fleet.text(), 60, &expected);
}

/// Bay, road, pump: throughput for one to fifteen trucks, computed by mean value analysis. The knee lies at
/// (6 + 9 + 50) ÷ 9 = 7.2 trucks.
#[test]
fn q41_throughput_by_fleet_size() {
    let throughput = [
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
    for (trucks, expected) in (1..).zip(throughput) {
        let fleet = Fleet {
            trucks,
            bays: 1,
            loading: "Exponential(6)",
            rack: None,
            road: (28.0, 22.0),
            luck: "Lognormal(mean: 1, cv: 0.25)",
            sites: &[("Exponential(9)", 1)],
            days: 28,
        };
        let expected = [("P bays: throughput_per_h", PER_MINUTE, expected)];
        let name = format!("Q41, {trucks} trucks");
        agree(&name, &fleet.text(), 40, &expected);
    }
}

/// Two bays, one pump, ten trucks: computed by convolution.
#[test]
fn q42_two_bays_one_pump() {
    let fleet = Fleet {
        trucks: 10,
        bays: 2,
        loading: "Exponential(8)",
        rack: None,
        road: (25.0, 20.0),
        luck: "Gamma(mean: 1, cv: 0.5)",
        sites: &[("Exponential(12)", 1)],
        days: 28,
    };
    let expected = [
        ("P bays: throughput_per_h", PER_MINUTE, 0.082_375_627),
        ("P bays: mean_present", 1.0, 0.733_106_065),
        ("E at Site 1: mean_present", 1.0, 5.559_990_72),
        ("E at Site 1: busy_share", 1.0, 0.988_507_524),
    ];
    agree("Q42", &fleet.text(), 170, &expected);
}
