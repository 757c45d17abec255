//! Finite sources: trucks that are away for a time and come back to one queue, as machines come to their repairers.

use super::fleet::{Expected, Fleet, agree};

/// The bays are the repairers, the trip out is the whole time away, and the discharge takes none.
fn away(trucks: u32, bays: u32, loading: &'static str, minutes: f64, luck: &'static str) -> String {
    Fleet {
        trucks,
        bays,
        loading,
        rack: None,
        road: (minutes, 0.0),
        luck,
        sites: &[("Constant(0)", 1)],
        days: 28,
    }
    .text()
}

/// Throughput, mean present, mean waiting, busy share of a bay and mean wait, in a unit of time that is `unit` minutes of the
/// scenario.
fn figures(unit: f64, throughput: f64, l: f64, lq: f64, busy: f64, wq: f64) -> [Expected; 5] {
    [
        ("P bays: throughput_per_h", unit / 60.0, throughput),
        ("P bays: mean_present", 1.0, l),
        ("P bays: mean_waiting", 1.0, lq),
        ("P bays: busy_share", 1.0, busy),
        ("P bays: mean_wait_min", 1.0 / unit, wq),
    ]
}

/// Anderson, Sweeney, Williams and others, An Introduction to Management Science, chapter 11, six machines and one repairer:
/// P0 = .4845 (1 − busy), Lq = .3297, L = .8451, Wq = 1.279 h (text found). An hour of the book is a minute here.
#[test]
fn q26_six_machines_one_repairer() {
    let text = away(6, 1, "Exponential(2)", 20.0, "Exponential(1)");
    let expected = figures(
        1.0,
        0.257_742_548,
        0.845_149_037,
        0.329_663_94,
        0.515_485_096,
        1.279_043_54,
    );
    agree("Q26 M/M/1//6", &text, 190, &expected);
}

/// The same with two repairers: Wq = .0834 h (text found). An hour of the book is a quarter of a minute here: waits are so
/// rare that many round trips are needed.
#[test]
fn q27_six_machines_two_repairers() {
    let text = away(6, 2, "Exponential(0.5)", 5.0, "Exponential(1)");
    let expected = figures(
        0.25,
        0.271_697_463,
        0.566_050_737,
        0.022_655_811_2,
        0.271_697_463,
        0.083_386_171_4,
    );
    agree("Q27 M/M/2//6", &text, 190, &expected);
}

/// The same book, follow-up problem with eight machines and one repairer (statement found; computed by the finite-source
/// formula). An hour of the book is a minute here.
#[test]
fn q28_eight_machines_one_repairer() {
    let text = away(8, 1, "Exponential(2)", 20.0, "Exponential(1)");
    let expected = figures(
        1.0,
        0.330_840_784,
        1.383_184_33,
        0.721_502_762,
        0.661_681_567,
        2.180_815_66,
    );
    agree("Q28 M/M/1//8", &text, 150, &expected);
}

/// Winston, Operations Research, machine interference, five patrol cars and two repairers: L = .465, throughput .151 a day
/// (from memory; computed by the finite-source formula). A day of the book is a quarter of a minute here.
#[test]
fn q29_five_machines_two_repairers() {
    let text = away(5, 2, "Exponential(0.75)", 7.5, "Exponential(1)");
    let expected = figures(
        0.25,
        0.151_173_52,
        0.464_794_396,
        0.011_273_835_1,
        0.226_760_28,
        0.074_575_462,
    );
    agree("Q29 M/M/2//5", &text, 480, &expected);
}

/// Fifteen paving trucks, two loaders, 27 min away: a course example of transport engineering (inputs found; computed by the
/// finite-source formula).
#[test]
fn q30_fifteen_paving_trucks() {
    let text = away(15, 2, "Exponential(4)", 27.0, "Exponential(1)");
    let expected = figures(
        1.0,
        0.425_601_698,
        3.508_754_16,
        1.806_347_37,
        0.851_203_395,
        4.244_220_32,
    );
    agree("Q30 M/M/2//15", &text, 150, &expected);
}

/// A lognormal time away gives the same as an exponential one: insensitivity of the delay station, Baskett, Chandy, Muntz
/// and Palacios (1975); computed by the finite-source formula.
#[test]
fn q31_only_the_mean_of_the_time_away_matters() {
    let luck = "Lognormal(mean: 1, cv: 0.3)";
    let text = away(8, 1, "Exponential(6)", 40.0, luck);
    let expected = figures(
        1.0,
        0.140_058_152,
        2.397_673_93,
        1.557_325_02,
        0.840_348_91,
        11.119_131_6,
    );
    agree("Q31 G/M/1//8", &text, 180, &expected);
}

/// Constant loading: Ashcroft, J. Royal Statistical Society B 12 (1950), and Takács (1957) (formula from memory; computed).
#[test]
fn q32_constant_loading() {
    let text = away(8, 1, "Constant(6)", 40.0, "Exponential(1)");
    let expected = figures(
        1.0,
        0.147_402_776,
        2.103_888_97,
        1.219_472_315,
        0.884_416_655,
        8.273_062_06,
    );
    agree("Q32 M/D/1//8", &text, 170, &expected);
}

/// Lognormal loading: the same formula with a 200-point Gauss–Hermite transform of the lognormal (computed).
#[test]
fn q33_lognormal_loading() {
    let loading = "Lognormal(mean: 6, cv: 0.5)";
    let text = away(8, 1, loading, 40.0, "Exponential(1)");
    let expected = figures(
        1.0,
        0.145_245_676,
        2.190_172_95,
        1.318_698_892,
        0.871_474_058,
        9.079_092_2,
    );
    agree("Q33 M/LN/1//8", &text, 190, &expected);
}
