//! Queueing theory against the whole program: textbook queues written as ordinary scenario files, read, run and judged by
//! the figures that `compare` writes.
//!
//! The world is switched down: no legal clock, rosters of the whole period, plants always open, loads made on demand, first
//! come first served, every stage a spread of its own. Every expected value is exact (a formula or the product form);
//! where a textbook prints it, that source is named, "from memory" where the book was not at hand. Numbers Q26 … are only
//! labels of the list. `SHOW_AGREEMENT=1 cargo test --test theory_scenarios -- --nocapture` prints every comparison.

#[path = "support/agreement.rs"]
mod agreement;
#[path = "theory_scenarios/fleet_on_paper.rs"]
mod fleet_on_paper;
#[path = "theory_scenarios/little.rs"]
mod little;

use agreement::Check;
use plantday::montecarlo::Trial;
use plantday::observe::columns;
use plantday::scenario::{Scenario, parse};
use plantday::studies::RuleTrial;
use std::cell::RefCell;

const SEED: u64 = 20_261_125;

/// A closed fleet: trucks go round between a plant and one or more sites. All times in minutes.
pub(crate) struct Fleet {
    pub(crate) trucks: u32,
    pub(crate) bays: u32,
    pub(crate) loading: &'static str,
    /// The rack as a station of one place; none: no time at the rack.
    pub(crate) rack: Option<&'static str>,
    /// Mean minutes out and back.
    pub(crate) road: (f64, f64),
    /// Spread of the factor on a trip.
    pub(crate) luck: &'static str,
    /// Discharge and outlets of each site, to which loads go with equal chances.
    pub(crate) sites: &'static [(&'static str, u32)],
    pub(crate) days: u32,
}

impl Fleet {
    pub(crate) fn text(&self) -> String {
        let Self {
            trucks,
            bays,
            loading,
            road: (out, back),
            luck,
            days,
            ..
        } = self;
        let rack = match self.rack {
            Some(spread) => format!("rack: {spread}, rack_places: 1"),
            None => "rack: Constant(0)".into(),
        };
        let names: Vec<String> = (1..=self.sites.len())
            .map(|n| format!("Site {n}"))
            .collect();
        let sites: String = names
            .iter()
            .map(|name| format!("(name: \"{name}\"), "))
            .collect();
        let roads: String = names
            .iter()
            .map(|name| format!("\"{name}\": ({out}, {back}), "))
            .collect();
        let destinations: String = names
            .iter()
            .zip(self.sites)
            .map(|(name, (discharge, outlets))| {
                let outlets = "(rate_yd3_min: 1), ".repeat(*outlets as usize);
                format!(
                    "(site: \"{name}\", outlets: [{outlets}], position: Constant(0), discharge: {discharge}, \
                     chute_wash: Constant(0)), "
                )
            })
            .collect();
        let hours = days * 24;
        // The first tenth is left out: the fleet starts at the plant all at once.
        let from = f64::from(hours) / 10.0;
        format!(
            r#"(
    name: "closed fleet",
    period: (days: {days}, measure: (from_h: {from}, to_h: {hours})),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", bays: {bays}, bay_queue: FirstCome, loading: {loading}, {rack})],
    sites: [{sites}],
    roads: (minutes: {{ "P": {{ {roads} }} }}, luck: {luck}),
    trucks: [(name: "T", count: {trucks}, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "00:00", shift_h: {hours}, days: [Monday])],
    endless: [(name: "E", to: Drawn, destinations: [{destinations}])],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, margin_min: 0, bay_wait_min: 0)],
)"#
        )
    }

    pub(crate) fn scenario(&self) -> Scenario {
        read(&self.text())
    }

    /// Checks figures by their names in `figures.csv`, times a factor.
    fn agrees(&self, name: &str, replications: u64, precision: f64, expected: &[(&str, f64, f64)]) {
        let scenario = self.scenario();
        let trial = RuleTrial::new(&scenario, vec![0], SEED);
        let trial = &trial;
        let columns = columns(&scenario);
        let places: Vec<(usize, f64)> = expected
            .iter()
            .map(|(key, factor, _)| {
                let place = columns.iter().position(|column| column.key == *key);
                (place.unwrap_or_else(|| panic!("no figure {key}")), *factor)
            })
            .collect();
        let worker = RefCell::new(trial.worker());
        let pairs: Vec<(&str, f64)> = expected
            .iter()
            .map(|(key, _, value)| (*key, *value))
            .collect();
        Check::new(name, replications, &pairs)
            .precision(precision)
            .run(|replication| {
                let mut row = vec![0.0; trial.width()];
                trial.run(&mut worker.borrow_mut(), 0, replication, &mut row);
                places
                    .iter()
                    .map(|(place, factor)| f64::from(row[*place]) * factor)
                    .collect()
            });
    }
}

pub(crate) fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

/// Figures of a machine-repair queue: throughput a minute, mean present, mean waiting, busy share, mean wait.
fn repair(throughput: f64, l: f64, lq: f64, busy: f64, wq: f64) -> [(&'static str, f64, f64); 5] {
    [
        ("P bays: throughput_per_h", 1.0 / 60.0, throughput),
        ("P bays: mean_present", 1.0, l),
        ("P bays: mean_waiting", 1.0, lq),
        ("P bays: busy_share", 1.0, busy),
        ("P bays: mean_wait_min", 1.0, wq),
    ]
}

/// Trucks that are away for a time and come back to one queue: bays are the repairers, trips out the time away, and the
/// discharge takes none.
fn finite_source(
    trucks: u32,
    bays: u32,
    loading: &'static str,
    away: f64,
    luck: &'static str,
) -> Fleet {
    Fleet {
        trucks,
        bays,
        loading,
        rack: None,
        road: (away, 0.0),
        luck,
        sites: &[("Constant(0)", 1)],
        days: 28,
    }
}

/// Q26: six machines, one repairer (printed P0 .4845, Lq .3297, L .8451, Wq 1.279 h; textbook of operations research, text
/// found). An hour of the book is a minute here.
#[test]
fn q26_six_machines_one_repairer() {
    finite_source(6, 1, "Exponential(2)", 20.0, "Exponential(1)").agrees(
        "Q26 M/M/1//6",
        120,
        0.003,
        &repair(
            0.257_742_548,
            0.845_149_037,
            0.329_663_94,
            0.515_485_096,
            1.279_043_54,
        ),
    );
}

/// Q27: the same with two repairers (printed Wq .0834 h, text found). Waits are rare: 1 % for them.
#[test]
fn q27_six_machines_two_repairers() {
    let expected = repair(
        0.271_697_463,
        0.566_050_737,
        0.022_655_811_2,
        0.271_697_463,
        0.083_386_171_4,
    );
    let fleet = finite_source(6, 2, "Exponential(2)", 20.0, "Exponential(1)");
    fleet.agrees(
        "Q27 M/M/2//6",
        60,
        0.003,
        &[expected[0], expected[1], expected[3]],
    );
    fleet.agrees(
        "Q27 M/M/2//6, waits",
        120,
        0.01,
        &[expected[2], expected[4]],
    );
}

/// Q28: eight machines, one repairer (computed by the finite-source formula).
#[test]
fn q28_eight_machines_one_repairer() {
    finite_source(8, 1, "Exponential(2)", 20.0, "Exponential(1)").agrees(
        "Q28 M/M/1//8",
        120,
        0.003,
        &repair(
            0.330_840_784,
            1.383_184_33,
            0.721_502_762,
            0.661_681_567,
            2.180_815_66,
        ),
    );
}

/// Q29: five machines, two repairers (computed by the finite-source formula). A day of the book is a minute here.
#[test]
fn q29_five_machines_two_repairers() {
    // The book's utilisation .22676 is per repairer.
    let expected = repair(
        0.151_173_52,
        0.464_794_396,
        0.011_273_835_1,
        0.226_760_28,
        0.074_575_462,
    );
    let fleet = finite_source(5, 2, "Exponential(3)", 30.0, "Exponential(1)");
    fleet.agrees(
        "Q29 M/M/2//5",
        120,
        0.003,
        &[expected[0], expected[1], expected[3]],
    );
    fleet.agrees(
        "Q29 M/M/2//5, waits",
        200,
        0.015,
        &[expected[2], expected[4]],
    );
}

/// Q30: fifteen paving trucks, two loaders, 27 min away (computed by the finite-source formula).
#[test]
fn q30_fifteen_paving_trucks() {
    finite_source(15, 2, "Exponential(4)", 27.0, "Exponential(1)").agrees(
        "Q30 M/M/2//15",
        80,
        0.003,
        &repair(
            0.425_601_698,
            3.508_754_16,
            1.806_347_37,
            0.851_203_395,
            4.244_220_32,
        ),
    );
}

/// Q31: a lognormal time away gives the same as an exponential one (insensitivity of the delay station, Baskett, Chandy,
/// Muntz and Palacios 1975; values by the finite-source formula).
#[test]
fn q31_only_the_mean_of_the_time_away_matters() {
    finite_source(8, 1, "Exponential(6)", 40.0, "Lognormal(mean: 1, cv: 0.3)").agrees(
        "Q31 G/M/1//8",
        150,
        0.003,
        &repair(
            0.140_058_152,
            2.397_673_93,
            1.557_325_02,
            0.840_348_91,
            11.119_131_6,
        ),
    );
}

/// Q32: constant loading (Ashcroft, J. Royal Stat. Soc. B 12, 1950; Takács; values computed).
#[test]
fn q32_constant_loading() {
    finite_source(8, 1, "Constant(6)", 40.0, "Exponential(1)").agrees(
        "Q32 M/D/1//8",
        100,
        0.003,
        &repair(
            0.147_402_776,
            2.103_888_97,
            1.219_472_315,
            0.884_416_655,
            8.273_062_06,
        ),
    );
}

/// Q33: lognormal loading (Takács; values computed by a 200-point Gauss–Hermite transform).
#[test]
fn q33_lognormal_loading() {
    finite_source(8, 1, "Lognormal(mean: 6, cv: 0.5)", 40.0, "Exponential(1)").agrees(
        "Q33 M/LN/1//8",
        100,
        0.003,
        &repair(
            0.145_245_676,
            2.190_172_95,
            1.318_698_892,
            0.871_474_058,
            9.079_092_2,
        ),
    );
}

/// Q34: two queues and a delay, two customers (X = 2/3 and Q = .4, .9333: lecture on mean value analysis, text found).
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
        ("P bays: throughput_per_h", 1.0 / 60.0, 0.666_666_667),
        ("P bays: mean_present", 1.0, 0.4),
        ("E at Site 1: mean_present", 1.0, 0.933_333_333),
    ];
    fleet.agrees("Q34", 60, 0.003, &expected);
}

/// Q35: three queues and a delay of 15, three customers; the rack is the second queue. Exact; the printed X = .1510 of
/// Lazowska et al. 1984, p. 117 (text found) is that of an approximation.
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
        ("P bays: throughput_per_h", 1.0 / 60.0, 0.151_516_492),
        ("P bays: mean_present", 1.0, 0.097_566_019_4),
        ("P rack: mean_present", 1.0, 0.394_656_555),
        ("E at Site 1: mean_present", 1.0, 0.235_030_041),
    ];
    fleet.agrees("Q35", 120, 0.003, &expected);
}

/// Q38: a plant with two bays, two sites drawn with equal chances, a delay, three customers (Bolch et al., example 8.3, text
/// found).
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
        ("P bays: throughput_per_h", 1.0 / 60.0, 1.217_460_63),
        ("P bays: mean_present", 1.0, 0.623_679_49),
        ("E at Site 1: mean_present", 1.0, 0.472_872_234),
        ("E at Site 2: mean_present", 1.0, 0.685_987_642),
    ];
    fleet.agrees("Q38", 60, 0.003, &expected);
}

/// Q41: bay, road, pump: throughput for one to fifteen trucks (product form, computed). The knee lies at 7.2 trucks.
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
        let name = format!("Q41, {trucks} trucks");
        fleet.agrees(
            &name,
            40,
            0.003,
            &[("P bays: throughput_per_h", 1.0 / 60.0, expected)],
        );
    }
}

/// Q42: two bays, one pump, ten trucks (convolution, computed).
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
        ("P bays: throughput_per_h", 1.0 / 60.0, 0.082_375_627),
        ("P bays: mean_present", 1.0, 0.733_106_065),
        ("E at Site 1: mean_present", 1.0, 5.559_990_72),
        ("E at Site 1: busy_share", 1.0, 0.988_507_524),
    ];
    fleet.agrees("Q42", 150, 0.003, &expected);
}

/// An open stream at one bay with trucks to spare is M/M/1: ρ = .75, L = 3, Lq = 2.25 and Wq three service times (any
/// textbook; formula).
#[test]
fn a_stream_of_loads_is_an_open_queue() {
    let text = finite_source(150, 1, "Exponential(7.5)", 0.0, "Constant(1)")
        .text()
        .replace(
            "(name: \"E\", to: Drawn,",
            "(name: \"E\", arrivals: Exponential(10),",
        );
    let scenario = read(&text);
    let trial = RuleTrial::new(&scenario, vec![0], SEED);
    let trial = &trial;
    let columns = columns(&scenario);
    let place = |key: &str| {
        columns
            .iter()
            .position(|column| column.key == key)
            .expect("a figure")
    };
    let worker = RefCell::new(trial.worker());
    let keys = [
        "P bays: mean_present",
        "P bays: mean_waiting",
        "P bays: mean_wait_min",
        "P bays: busy_share",
    ];
    let expected: Vec<(&str, f64)> = keys.into_iter().zip([3.0, 2.25, 22.5, 0.75]).collect();
    Check::new("M/M/1", 400, &expected)
        .precision(0.006)
        .run(|replication| {
            let mut row = vec![0.0; trial.width()];
            trial.run(&mut worker.borrow_mut(), 0, replication, &mut row);
            keys.iter().map(|key| f64::from(row[place(key)])).collect()
        });
}
