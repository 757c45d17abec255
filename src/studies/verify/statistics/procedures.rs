//! Procedures on published samples: means, differences, comparisons with the best, fair shares.

use super::super::check::{Basis, Sheet};
use super::{digits, ends};
use crate::statistics::{
    Interval, KimNelson, KimNelsonConstants, Paired, Parts, Shapley, Summary, mcb_intervals,
    replications_for_error,
};

pub(super) fn check(sheet: &mut Sheet) {
    means(sheet);
    differences(sheet);
    comparisons_with_the_best(sheet);
    kim_and_nelson(sheet);
    fair_shares(sheet);
}

fn means(sheet: &mut Sheet) {
    sheet.about(
        "A bank, ten runs",
        Basis::Memory,
        "Law, Kelton, Simulation Modeling and Analysis, ch. 9: 2.03, 0.31, ±0.32; 16 runs for ±0.25; digits with SciPy",
    );
    let bank = Summary::of([1.53, 1.66, 1.24, 2.34, 2.0, 1.69, 2.69, 2.86, 1.7, 2.6]);
    digits(sheet, "mean", bank.mean().unwrap_or(f64::NAN), 2.031);
    digits(
        sheet,
        "variance",
        bank.variance().unwrap_or(f64::NAN),
        0.309_098_889,
    );
    digits(
        sheet,
        "half width at 90%",
        bank.half_width(0.90),
        0.322_283_405,
    );
    let runs = replications_for_error(&bank, 0.25, 0.90).map_or(f64::NAN, |runs| runs as f64);
    sheet.near("runs for ±0.25", runs, 16.0, 0.0);

    sheet.about(
        "A small spread around a large mean",
        Basis::Memory,
        "NIST Statistical Reference Datasets, NumAcc4: certified mean 10,000,000.2, standard deviation 0.1",
    );
    let values = (0..1000).map(|i| 10_000_000.1 + 0.2 * f64::from(i % 2));
    let summary = Summary::of(std::iter::once(10_000_000.2).chain(values));
    digits(
        sheet,
        "mean",
        summary.mean().unwrap_or(f64::NAN),
        10_000_000.2,
    );
    sheet.near(
        "standard deviation",
        summary.sd().unwrap_or(f64::NAN),
        0.1,
        1e-8,
    );

    sheet.about(
        "One-sided bounds of the mean of 1 to 10",
        Basis::Memory,
        "Standard t table: t(95%, 9) = 1.833; digits with SciPy",
    );
    let summary = Summary::of((1..=10).map(f64::from));
    let reach = 1.833_112_93 * (55.0_f64 / 6.0 / 10.0).sqrt();
    digits(sheet, "at most", summary.at_most(0.95), 5.5 + reach);
    digits(sheet, "at least", summary.at_least(0.95), 5.5 - reach);
}

/// Two inventory policies, five replications.
const POLICIES: [[f64; 5]; 2] = [
    [126.97, 124.31, 126.68, 122.66, 127.23],
    [118.21, 120.22, 122.45, 122.68, 119.40],
];

fn differences(sheet: &mut Sheet) {
    sheet.about(
        "Two inventory policies, five paired runs",
        Basis::Memory,
        "Law, Kelton, Simulation Modeling and Analysis, ch. 10: 4.98, variance 2.44, 1.65 to 8.31 at 90%; digits with SciPy",
    );
    let paired = Paired::of(&POLICIES[0], &POLICIES[1]);
    let difference = &paired.difference;
    digits(
        sheet,
        "mean difference",
        difference.mean().unwrap_or(f64::NAN),
        4.978,
    );
    let variance = difference.standard_error().powi(2);
    digits(sheet, "variance of the mean", variance, 2.438_274);
    digits(
        sheet,
        "half width at 90%",
        difference.half_width(0.90),
        3.328_873_13,
    );
    let at_90 = (1.649_126_87, 8.306_873_13);
    ends(sheet, "interval at 90%", paired.interval(0.90), at_90);

    sheet.about(
        "What pairing brings these policies",
        Basis::Computed,
        "By definition, (var a + var b) ÷ var (a − b), with Python's statistics.variance",
    );
    let factor = paired.variance_reduction().unwrap_or(f64::NAN);
    digits(
        sheet,
        "reduction of variance",
        factor,
        (4.000_85 + 3.761_27) / 12.191_37,
    );

    sheet.about(
        "Several comparisons at once, 20 runs, 90%",
        Basis::Computed,
        "Bonferroni: t at 1 − 0.1/8 with 4 comparisons, at 1 − 0.1/20 with 10; SciPy",
    );
    let values: Vec<f64> = (0..20).map(f64::from).collect();
    let paired = Paired::of(&values, &[0.0; 20]);
    let error = paired.difference.standard_error();
    for (comparisons, expected) in [(4, 2.433_440_21), (10, 2.860_934_61)] {
        let found = paired.simultaneous(0.90, comparisons).half_width() / error;
        digits(
            sheet,
            format!("reach in standard errors, {comparisons}"),
            found,
            expected,
        );
    }
}

fn comparisons_with_the_best(sheet: &mut Sheet) {
    sheet.about(
        "Five systems with a common half width of 1, against the best other",
        Basis::Memory,
        "Hsu (1984); Nelson, Matejcik, Management Science 41 (1995): constrained intervals",
    );
    let means = [112.7, 114.2, 130.5, 130.7, 147.4];
    let found = mcb_intervals(5, |i, l| Interval::around(means[i] - means[l], 1.0));
    let expected = [
        (-2.5, 0.0),
        (0.0, 2.5),
        (0.0, 18.8),
        (0.0, 19.0),
        (0.0, 35.7),
    ];
    for ((found, expected), mean) in found.into_iter().zip(expected).zip(means) {
        ends(sheet, &format!("mean {mean}"), found, expected);
    }
}

fn kim_and_nelson(sheet: &mut Sheet) {
    sheet.about(
        "Constants of the sequential selection of the best",
        Basis::Memory,
        "Kim, Nelson, ACM TOMACS 11 (2001); a tutorial of theirs prints 0.635 and 11.43 for 5 systems, 95%, 10 first runs; digits with SciPy",
    );
    for (systems, alpha, first_stage, eta, h2) in [
        (5, 0.05, 10, 0.634_967_265, 11.429_410_8),
        (10, 0.05, 10, 0.859_083_43, 15.463_501_7),
        (4, 0.1, 20, 0.164_919_522, 6.266_941_85),
        (3, 0.05, 20, 0.185_362_803, 7.043_786_52),
    ] {
        let found = KimNelsonConstants::new(systems, first_stage, 1.0 - alpha);
        let of = format!("{systems} systems, {first_stage} first runs");
        digits(sheet, format!("η of {of}"), found.eta, eta);
        digits(sheet, format!("h² of {of}"), found.h2, h2);
    }
    sheet.about(
        "Its steps on twelve made-up runs of three systems",
        Basis::Computed,
        "Kim, Nelson, ACM TOMACS 11 (2001): the published steps with independent software",
    );
    let mut state = KimNelson::new(3, 5, 0.95, 0.2);
    for run in MADE_UP {
        state.add(&run);
    }
    digits(sheet, "h²", state.constants().h2, 13.888_543_8);
    for (a, b, variance) in [(0, 1, 0.073), (0, 2, 0.163), (2, 1, 0.13)] {
        let figure = format!("variance of {} − {}", a + 1, b + 1);
        digits(sheet, figure, state.variance(a, b), variance);
    }
    let gone = state.eliminated().iter();
    let gone: Vec<String> = gone
        .map(|gone| format!("{} after {}", gone.system + 1, gone.after))
        .collect();
    sheet.words("left out", gone.join(", "), "2 after 5, 3 after 7");
    let best = state
        .best()
        .map_or("none".into(), |best| (best + 1).to_string());
    sheet.words("the best", best, "1");
    sheet.near("runs looked at", state.replications() as f64, 7.0, 0.0);
}

const MADE_UP: [[f64; 3]; 12] = [
    [10.2, 12.9, 10.9],
    [9.1, 11.8, 10.2],
    [11.0, 13.6, 11.2],
    [8.7, 11.9, 9.9],
    [10.6, 13.1, 11.6],
    [9.9, 12.2, 10.3],
    [10.8, 13.5, 11.9],
    [9.5, 12.6, 10.4],
    [10.1, 12.4, 10.7],
    [10.4, 13.2, 11.3],
    [9.8, 12.7, 10.6],
    [10.0, 12.5, 10.9],
];

/// A set of airplanes costs the longest runway that one of them needs.
fn airport(set: Parts) -> f64 {
    let needed = [1.0, 2.0, 4.0, 7.0].into_iter().enumerate();
    let needed = needed.filter(|(plane, _)| set & (1 << plane) != 0);
    needed.map(|(_, cost)| cost).fold(0.0, f64::max)
}

fn fair_shares(sheet: &mut Sheet) {
    sheet.about(
        "Fair shares of a runway for airplanes that need 1, 2, 4 and 7",
        Basis::Memory,
        "Littlechild, Owen, Management Science 20 (1973): each further stretch in equal parts by those who need it",
    );
    let paid = [0.25, 0.25 + 1.0 / 3.0, 1.25 + 1.0 / 3.0, 4.25 + 1.0 / 3.0];
    let found = Shapley::exact(4).shares(airport);
    for ((found, paid), needs) in found.into_iter().zip(paid).zip([1, 2, 4, 7]) {
        sheet.near(
            format!("share of the one that needs {needs}"),
            found,
            paid,
            1e-12,
        );
    }
    sheet.about(
        "Fair shares of a pair of gloves: two left ones, one right one",
        Basis::Memory,
        "A standard example of the theory of games: 1/6, 1/6, 2/3",
    );
    let pair = |set: Parts| f64::from(u8::from(set & 0b100 != 0 && set & 0b011 != 0));
    let found = Shapley::exact(3).shares(pair);
    let names = ["first left one", "second left one", "right one"];
    for ((found, expected), name) in found.into_iter().zip([1.0, 1.0, 4.0]).zip(names) {
        sheet.near(name, found, expected / 6.0, 1e-12);
    }
}
