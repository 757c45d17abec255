//! Finite sources: trucks that are away for a time and come back to one queue, as machines come to their repairers.

use super::super::check::Basis;
use super::{Figure, Fleet, Queue, figure};

/// The bays are the repairers, the trip out is the whole time away, and the discharge takes none.
struct Repair {
    about: &'static str,
    basis: Basis,
    source: &'static str,
    trucks: u32,
    bays: u32,
    loading: &'static str,
    away_min: f64,
    luck: &'static str,
    replications: u64,
    /// What the source calls a unit of time, and how many minutes it is in the scenario.
    time: (&'static str, f64),
    /// Throughput, mean present, mean waiting, busy share of a bay, mean wait.
    expected: [f64; 5],
}

const CASES: [Repair; 8] = [
    Repair {
        about: "Six machines and one repairer, as trucks and a bay",
        basis: Basis::Printed,
        source: "Anderson, Sweeney, Williams and others, An Introduction to Management Science, ch. 11: P0 .4845, Lq .3297, L .8451, Wq 1.279 h",
        trucks: 6,
        bays: 1,
        loading: "Exponential(2)",
        away_min: 20.0,
        luck: "Exponential(1)",
        replications: 190,
        time: ("hour", 1.0),
        expected: [
            0.257_742_548,
            0.845_149_037,
            0.329_663_94,
            0.515_485_096,
            1.279_043_54,
        ],
    },
    // Waits are so rare that many round trips are needed.
    Repair {
        about: "Six machines and two repairers",
        basis: Basis::Printed,
        source: "Anderson, Sweeney, Williams and others, An Introduction to Management Science, ch. 11: Wq .0834 h",
        trucks: 6,
        bays: 2,
        loading: "Exponential(0.5)",
        away_min: 5.0,
        luck: "Exponential(1)",
        replications: 260,
        time: ("hour", 0.25),
        expected: [
            0.271_697_463,
            0.566_050_737,
            0.022_655_811_2,
            0.271_697_463,
            0.083_386_171_4,
        ],
    },
    Repair {
        about: "Eight machines and one repairer",
        basis: Basis::Computed,
        source: "Anderson, Sweeney, Williams and others, An Introduction to Management Science, ch. 11, problem; finite-source formula",
        trucks: 8,
        bays: 1,
        loading: "Exponential(2)",
        away_min: 20.0,
        luck: "Exponential(1)",
        replications: 190,
        time: ("hour", 1.0),
        expected: [
            0.330_840_784,
            1.383_184_33,
            0.721_502_762,
            0.661_681_567,
            2.180_815_66,
        ],
    },
    Repair {
        about: "Five patrol cars and two repairers",
        basis: Basis::Memory,
        source: "Winston, Operations Research, machine interference: L .465, throughput .151 a day; digits by the finite-source formula",
        trucks: 5,
        bays: 2,
        loading: "Exponential(0.75)",
        away_min: 7.5,
        luck: "Exponential(1)",
        replications: 560,
        time: ("day", 0.25),
        expected: [
            0.151_173_52,
            0.464_794_396,
            0.011_273_835_1,
            0.226_760_28,
            0.074_575_462,
        ],
    },
    Repair {
        about: "Fifteen paving trucks, two loaders, 27 min away",
        basis: Basis::Computed,
        source: "A course example of transport engineering; finite-source formula",
        trucks: 15,
        bays: 2,
        loading: "Exponential(4)",
        away_min: 27.0,
        luck: "Exponential(1)",
        replications: 240,
        time: ("minute", 1.0),
        expected: [
            0.425_601_698,
            3.508_754_16,
            1.806_347_37,
            0.851_203_395,
            4.244_220_32,
        ],
    },
    Repair {
        about: "Eight trucks, lognormal time away: only its mean matters",
        basis: Basis::Computed,
        source: "Baskett, Chandy, Muntz, Palacios, J. ACM 22 (1975), insensitivity of a delay; finite-source formula",
        trucks: 8,
        bays: 1,
        loading: "Exponential(6)",
        away_min: 40.0,
        luck: "Lognormal(mean: 1, cv: 0.3)",
        replications: 220,
        time: ("minute", 1.0),
        expected: [
            0.140_058_152,
            2.397_673_93,
            1.557_325_02,
            0.840_348_91,
            11.119_131_6,
        ],
    },
    Repair {
        about: "Eight trucks, constant loading",
        basis: Basis::Computed,
        source: "Ashcroft, J. Royal Statistical Society B 12 (1950); Takács (1957): formula from memory",
        trucks: 8,
        bays: 1,
        loading: "Constant(6)",
        away_min: 40.0,
        luck: "Exponential(1)",
        replications: 170,
        time: ("minute", 1.0),
        expected: [
            0.147_402_776,
            2.103_888_97,
            1.219_472_315,
            0.884_416_655,
            8.273_062_06,
        ],
    },
    Repair {
        about: "Eight trucks, lognormal loading",
        basis: Basis::Computed,
        source: "The formula of Takács (1957), from memory, with a 200-point Gauss–Hermite transform of the lognormal",
        trucks: 8,
        bays: 1,
        loading: "Lognormal(mean: 6, cv: 0.5)",
        away_min: 40.0,
        luck: "Exponential(1)",
        replications: 190,
        time: ("minute", 1.0),
        expected: [
            0.145_245_676,
            2.190_172_95,
            1.318_698_892,
            0.871_474_058,
            9.079_092_2,
        ],
    },
];

impl Repair {
    fn figures(&self) -> Vec<Figure> {
        let (name, unit) = self.time;
        let [throughput, present, waiting, busy, wait] = self.expected;
        let article = if name == "hour" { "an" } else { "a" };
        vec![
            figure(
                "P bays: throughput_per_h",
                format!("served {article} {name}"),
                unit / 60.0,
                throughput,
            ),
            figure("P bays: mean_present", "present, on average", 1.0, present),
            figure("P bays: mean_waiting", "waiting, on average", 1.0, waiting),
            figure("P bays: busy_share", "share of time busy", 1.0, busy),
            figure(
                "P bays: mean_wait_min",
                format!("mean wait in {name}s"),
                1.0 / unit,
                wait,
            ),
        ]
    }
}

pub(super) fn queues() -> Vec<Queue> {
    let queue = |case: &Repair| Queue {
        about: case.about.into(),
        basis: case.basis,
        source: case.source,
        fleet: Fleet {
            trucks: case.trucks,
            bays: case.bays,
            loading: case.loading,
            rack: None,
            road: (case.away_min, 0.0),
            luck: case.luck,
            sites: &[("Constant(0)", 1)],
            days: 28,
        },
        instead: None,
        replications: case.replications,
        figures: case.figures(),
    };
    CASES.iter().map(queue).collect()
}
