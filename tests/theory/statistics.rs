//! Statistics against published examples and tables.
//!
//! Figures marked "from memory" are printed in the source named but were recalled, not looked up; those marked "computed"
//! were computed to nine digits with independent software (SciPy). Where both exist the test holds the code to the
//! computed digits and the comment gives the printed ones.

use plantday::statistics::{
    Elimination, Interval, KimNelson, KimNelsonConstants, Paired, Ranks, Selection, Summary,
    Verdict, mcb_intervals, normal_quantile, quantile, replications_for_error, share_at_least,
    share_at_most, t_critical, t_quantile, trials_without_event, wilson,
};
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, Exp, StandardNormal};

#[track_caller]
fn close(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-8 * expected.abs().max(1e-3),
        "got {got}, expected {expected}"
    );
}

#[track_caller]
fn close_interval(got: Interval, low: f64, high: f64) {
    close(got.low, low);
    close(got.high, high);
}

// Law & Kelton, Simulation Modeling and Analysis, ch. 10: two inventory policies, five replications. From memory.
const POLICY_1: [f64; 5] = [126.97, 124.31, 126.68, 122.66, 127.23];
const POLICY_2: [f64; 5] = [118.21, 120.22, 122.45, 122.68, 119.40];

/// Law & Kelton ch. 10 (from memory): 4.98, variance 2.44, 90 % interval 1.65 to 8.31. Digits computed.
#[test]
fn paired_t_interval_of_two_inventory_policies() {
    let paired = Paired::of(&POLICY_1, &POLICY_2);
    close(paired.difference.mean().unwrap(), 4.978);
    close(paired.difference.standard_error().powi(2), 2.438274);
    close(paired.difference.half_width(0.90), 3.32887313);
    close_interval(paired.interval(0.90), 1.64912687, 8.30687313);
}

/// By definition (var a + var b) / var(a − b); the variances were computed with Python's `statistics.variance`.
#[test]
fn pairing_can_also_cost_precision() {
    let factor = Paired::of(&POLICY_1, &POLICY_2)
        .variance_reduction()
        .unwrap();
    let (a, b, difference) = (4.00085, 3.76127, 12.19137);
    close(factor, (a + b) / difference);
}

/// Law & Kelton ch. 9, bank, ten replications (from memory): 2.03, 0.31, ±0.32; 16 for ±0.25. Digits computed.
#[test]
fn mean_and_run_length_of_the_bank() {
    let bank = Summary::of([1.53, 1.66, 1.24, 2.34, 2.0, 1.69, 2.69, 2.86, 1.7, 2.6]);
    close(bank.mean().unwrap(), 2.031);
    close(bank.variance().unwrap(), 0.309098889);
    close(bank.half_width(0.90), 0.322283405);
    assert_eq!((bank.min(), bank.max()), (Some(1.24), Some(2.86)));
    assert_eq!(replications_for_error(&bank, 0.25, 0.90), Some(16));
    assert_eq!(replications_for_error(&bank, 0.0, 0.90), None);
}

/// Law & Kelton ch. 9 (from memory): M/M/1 with load 0.9, mean delay of the first 25 customers from empty, true value 2.124;
/// 500 experiments covered 0.880, 0.864, 0.886, 0.914 of the time with 5, 10, 20, 40 replications at a nominal 0.90.
#[test]
fn coverage_of_the_t_interval_for_skewed_delays() {
    let mut luck = ChaCha8Rng::seed_from_u64(4);
    let (arrivals, service) = (Exp::new(1.0).unwrap(), Exp::new(1.0 / 0.9).unwrap());
    let mut mean_delay = || {
        let (mut delay, mut total) = (0.0_f64, 0.0);
        for _ in 0..25 {
            total += delay;
            delay = (delay + service.sample(&mut luck) - arrivals.sample(&mut luck)).max(0.0);
        }
        total / 25.0
    };
    for replications in [5, 10, 20, 40] {
        let covered = (0..500)
            .filter(|_| {
                Summary::of((0..replications).map(|_| mean_delay()))
                    .interval(0.90)
                    .contains(2.12448935)
            })
            .count();
        let share = covered as f64 / 500.0;
        assert!(
            (0.83..=0.94).contains(&share),
            "{share} with {replications}"
        );
    }
}

/// Theory: for normal values the t interval covers exactly as often as it says. 4,000 experiments, ±4 standard errors.
#[test]
fn coverage_of_the_t_interval_for_normal_values() {
    let mut luck = ChaCha8Rng::seed_from_u64(5);
    let covered = (0..4000)
        .filter(|_| {
            let values = (0..6).map(|_| StandardNormal.sample(&mut luck));
            Summary::of(values).interval(0.95).contains(0.0)
        })
        .count();
    let error = (0.95_f64 * 0.05 / 4000.0).sqrt();
    assert!((covered as f64 / 4000.0 - 0.95).abs() < 4.0 * error);
}

/// NIST Statistical Reference Datasets, NumAcc4 (from memory): 10,000,000.2, then 10,000,000.1 and .3 in turn, 1,001 values;
/// certified mean 10,000,000.2 and standard deviation 0.1.
#[test]
fn small_spread_around_a_large_mean_survives() {
    let values = std::iter::once(10_000_000.2)
        .chain((0..1000).map(|i| 10_000_000.1 + 0.2 * f64::from(i % 2)));
    let summary = Summary::of(values);
    close(summary.mean().unwrap(), 10_000_000.2);
    assert!((summary.sd().unwrap() - 0.1).abs() < 1e-8);
}

#[test]
fn too_few_values_give_no_interval_but_no_nan_either() {
    for values in [vec![], vec![3.0], vec![f64::NAN, 3.0]] {
        let summary = Summary::of(values.iter().copied());
        assert_eq!(summary.interval(0.95), Interval::UNBOUNDED);
        assert!(!summary.interval(0.95).is_bounded());
        assert_eq!(summary.sd(), None);
        assert_eq!(summary.at_most(0.95), f64::INFINITY);
    }
    let blanks = Summary::of([1.0, f64::NAN, 3.0]);
    assert_eq!(
        (blanks.n(), blanks.blanks(), blanks.mean()),
        (2, 1, Some(2.0))
    );
}

/// One-sided bounds by the t table: t(0.95, 9) = 1.833 (standard table, from memory).
#[test]
fn one_sided_bounds_of_a_mean() {
    let summary = Summary::of((1..=10).map(f64::from));
    let reach = 1.83311293 * summary.standard_error();
    close(summary.at_most(0.95), 5.5 + reach);
    close(summary.at_least(0.95), 5.5 - reach);
}

/// Binomial sums; a textbook's table of median intervals prints 97.9, 89.1, 96.5, 95.9, 98.8, 88.5 % for the first six
/// (text found). Digits computed.
#[test]
fn order_statistics_enclose_a_quantile() {
    for (n, p, low, high, coverage) in [
        (10, 0.5, 2, 9, 0.978515625),
        (10, 0.5, 3, 8, 0.890625),
        (15, 0.5, 4, 12, 0.96484375),
        (20, 0.5, 6, 15, 0.958610535),
        (20, 0.5, 5, 16, 0.988182068),
        (20, 0.5, 7, 14, 0.884681702),
        (100, 0.5, 40, 61, 0.9647998),
        (100, 0.9, 85, 96, 0.93639839),
        (200, 0.95, 184, 197, 0.967152164),
        (500, 0.95, 465, 485, 0.960498736),
    ] {
        close(Ranks { low, high }.coverage(n, p), coverage);
    }
    // The table's own choice at 95 %.
    for (n, low, high) in [(10, 2, 9), (15, 4, 12), (20, 6, 15)] {
        assert_eq!(Ranks::enclosing(n, 0.5, 0.95), Some(Ranks { low, high }));
    }
    // Ten values say nothing about the upper end of the 95th percentile.
    assert_eq!(Ranks::enclosing(10, 0.95, 0.95), None);
    for (n, p) in [(100, 0.9), (200, 0.95), (1000, 0.99)] {
        let ranks = Ranks::enclosing(n, p, 0.95).unwrap();
        assert!(ranks.coverage(n, p) >= 0.95);
    }
}

/// Newcombe, Statistics in Medicine 17 (1998), method 3 (from memory): .2553–.3662, .0624–.1605, 0–.1611, .0061–.1718.
/// Digits computed.
#[test]
fn wilson_score_intervals() {
    for (events, trials, low, high) in [
        (81, 263, 0.25528852, 0.366209577),
        (15, 148, 0.0623863995, 0.160487242),
        (0, 20, 0.0, 0.161125158),
        (1, 29, 0.00611321429, 0.171755219),
        (682, 925, 0.707995988, 0.764635801),
    ] {
        close_interval(wilson(events, trials, 0.95), low, high);
    }
    assert_eq!(wilson(20, 20, 0.95).high, 1.0);
    assert_eq!(
        wilson(0, 0, 0.95),
        Interval {
            low: 0.0,
            high: 1.0
        }
    );
}

/// Clopper and Pearson (Biometrika 26, 1934), 2.5 % on each side: Conover (1971) by the documentation of R's `binom.test` (from memory): 682 of 925, .7076683–.7654066. Others computed.
#[test]
fn exact_bounds_of_a_share() {
    for (events, trials, low, high) in [
        (81, 263, 0.252736746, 0.367621923),
        (15, 148, 0.0578440101, 0.16165049),
        (0, 20, 0.0, 0.168433471),
        (1, 29, 0.000872646884, 0.177644295),
        (682, 925, 0.707668264, 0.765406558),
    ] {
        close(share_at_least(events, trials, 0.975), low);
        close(share_at_most(events, trials, 0.975), high);
    }
}

/// How many trials without an event show a share: the rule of three asks for 3/share, exactly 299 for 1 % with 95 % confidence
/// (attribute sampling tables of zero-failure plans, from memory: 59 for 5 %, 299 for 1 %, 230 for 1 % with 90 %).
#[test]
fn trials_without_an_event_show_a_share() {
    for (share, level, trials) in [
        (0.05, 0.95, 59),
        (0.01, 0.95, 299),
        (0.01, 0.9, 230),
        (0.5, 0.75, 2),
    ] {
        assert_eq!(trials_without_event(share, level), Some(trials));
        assert!(share_at_most(0, trials, level) <= share + 1e-12);
        assert!(share_at_most(0, trials - 1, level) > share);
    }
    assert_eq!(trials_without_event(0.0, 0.95), None);
    assert_eq!(trials_without_event(1.0, 0.95), Some(0));
}

/// The "rule of three" (Hanley & Lippman-Hand, JAMA 249, 1983, from memory): no event in n trials means at most about 3/n
/// at 95 %; exactly, a share x with (1 − x)^n = 0.05.
#[test]
fn no_event_still_says_at_most() {
    for trials in [30_u64, 100, 1000, 1_000_000] {
        let bound = share_at_most(0, trials, 0.95);
        close((trials as f64 * (-bound).ln_1p()).exp(), 0.05);
        assert!((bound * trials as f64 - 3.0).abs() < 0.15);
    }
    assert_eq!(share_at_most(0, 0, 0.95), 1.0);
    assert_eq!(share_at_most(7, 7, 0.95), 1.0);
    close(share_at_least(7, 7, 0.95), 1.0 - share_at_most(0, 7, 0.95));
}

/// Standard t table (from memory): 2.132, 2.776, 4.604; 1.833, 2.262, 3.250. Digits computed.
#[test]
fn critical_values_of_t_and_normal() {
    for (df, expected) in [
        (4.0, [2.13184679, 2.77644511, 4.60409487]),
        (9.0, [1.83311293, 2.26215716, 3.24983554]),
        (19.0, [1.72913281, 2.09302405, 2.86093461]),
        (39.0, [1.68487512, 2.02269092, 2.70791318]),
        (99.0, [1.66039116, 1.98421695, 2.62640546]),
    ] {
        for (level, expected) in [0.90, 0.95, 0.99].into_iter().zip(expected) {
            close(t_critical(level, df), expected);
        }
    }
    for (level, expected) in [(0.90, 1.64485363), (0.95, 1.95996398), (0.99, 2.5758293)] {
        close(normal_quantile(0.5 + level / 2.0), expected);
    }
}

/// SciPy (computed): t(0.975, 999) = 1.9623414611334493; towards infinity t is the normal quantile 1.959963984540054.
#[test]
fn t_of_many_degrees_of_freedom() {
    let exact = |df, expected: f64| {
        let got = t_quantile(0.975, df);
        assert!((got - expected).abs() < 1e-9, "{got} at {df}");
    };
    exact(999.0, 1.9623414611334493);
    exact(1e7, 1.959963984540054 + 2.3723e-7);
    exact(1e12, 1.959963984540054);
    // No step where the expansion takes over, in the middle or in the far tail of a Bonferroni correction.
    for p in [0.6, 0.975, 0.9999, 1.0 - 1e-6] {
        let step = t_quantile(p, 1000.0) - t_quantile(p, 1000.001);
        assert!((0.0..1e-7).contains(&step), "{step} at {p}");
    }
}

/// Bonferroni with five systems, twenty replications, 90 %: t at 1 − 0.1/4 against a control, 1 − 0.1/10 for all pairs. Computed.
#[test]
fn bonferroni_levels() {
    let values: Vec<f64> = (0..20).map(f64::from).collect();
    let paired = Paired::of(&values, &[0.0; 20]);
    let reach = |m| paired.simultaneous(0.90, m).half_width() / paired.difference.standard_error();
    close(reach(4), 2.43344021);
    close(reach(10), 2.86093461);
}

/// Hyndman & Fan, American Statistician 50 (1996), definition 7 (from memory); digits computed.
#[test]
fn sample_quantiles_are_definition_seven() {
    let values = [
        13.0,
        3.0,
        21.0,
        7.0,
        8.0,
        9.0,
        f64::NAN,
        11.0,
        5.0,
        15.0,
        18.0,
    ];
    for (p, expected) in [
        (0.5, 10.0),
        (0.9, 18.3),
        (0.95, 19.65),
        (0.0, 3.0),
        (1.0, 21.0),
    ] {
        close(quantile(values, p).unwrap(), expected);
    }
    assert_eq!(quantile([], 0.5), None);
}

/// Nelson & Matejcik, Management Science 41 (1995); Hsu 1984 (from memory): constrained intervals with a common half-width of 1.
#[test]
fn comparisons_with_the_best() {
    let means = [112.7, 114.2, 130.5, 130.7, 147.4];
    let got = mcb_intervals(5, |i, l| Interval::around(means[i] - means[l], 1.0));
    let expected = [
        (-2.5, 0.0),
        (0.0, 2.5),
        (0.0, 18.8),
        (0.0, 19.0),
        (0.0, 35.7),
    ];
    for (got, (low, high)) in got.into_iter().zip(expected) {
        close_interval(got, low, high);
    }
}

/// A common wave that all systems share, as common random numbers do, and a little of their own.
fn shared_luck(level: f64, own: f64, phase: f64) -> Vec<f64> {
    (0..40)
        .map(f64::from)
        .map(|r| level + 10.0 * (0.7 * r).sin() + own * (r * (1.3 + phase)).cos())
        .collect()
}

#[test]
fn best_is_said_only_where_it_is_shown() {
    let (low, near, high) = (
        shared_luck(5.0, 1.0, 0.0),
        shared_luck(5.1, 1.0, 0.5),
        shared_luck(8.0, 1.0, 0.9),
    );
    let clear = Selection::of(&[&high, &low], 0.95);
    assert_eq!(clear.verdict, Verdict::Best(1));
    assert_eq!(clear.against_best_other[1].high, 0.0);
    assert_eq!(clear.against_best_other[0].low, 0.0);
    assert!(clear.difference(0, 1).reach().contains(3.0));

    let three = Selection::of(&[&near, &high, &low], 0.95);
    assert_eq!(three.verdict, Verdict::NotToldApart(vec![0, 2]));
    assert!(three.against_best_other[0].low < 0.0 && three.against_best_other[0].high > 0.0);
    assert_eq!(three.against_best_other[1].low, 0.0);
}

#[test]
fn identical_systems_are_not_told_apart_and_constant_differences_are() {
    let a = shared_luck(5.0, 1.0, 0.0);
    let shifted: Vec<f64> = a.iter().map(|value| value + 0.5).collect();
    let same = Selection::of(&[&a, &a], 0.95);
    assert_eq!(same.verdict, Verdict::NotToldApart(vec![0, 1]));
    // Nothing seen is not nothing: how much the two may differ in replications not made is not known.
    assert!(same.difference(0, 1).never());
    assert_eq!(same.difference(0, 1).reach(), Interval::UNBOUNDED);
    assert_eq!(
        Selection::of(&[&shifted, &a], 0.95).verdict,
        Verdict::Best(1)
    );
    assert_eq!(
        Selection::of(&[&shifted, &a, &a], 0.95).verdict,
        Verdict::NotToldApart(vec![1, 2])
    );
}

#[test]
fn one_replication_tells_nothing_apart_and_blanks_are_left_out() {
    assert_eq!(
        Selection::of(&[&[1.0], &[9.0]], 0.95).verdict,
        Verdict::NotToldApart(vec![0, 1])
    );
    assert_eq!(Selection::of(&[&[1.0]], 0.95).verdict, Verdict::Best(0));
    let (mut a, b) = (shared_luck(5.0, 1.0, 0.0), shared_luck(8.0, 1.0, 0.9));
    a[3] = f64::NAN;
    assert_eq!(Selection::of(&[&a, &b], 0.95).verdict, Verdict::Best(0));
    assert_eq!(Paired::of(&a, &b).difference.n(), 39);
}

/// "Best" of two equal systems, or the wrong one of ten, at most as often as 1 − level says (a property of Bonferroni).
#[test]
fn wrong_verdicts_are_as_rare_as_promised() {
    let mut luck = ChaCha8Rng::seed_from_u64(6);
    let experiments = 1000;
    let told_apart = (0..experiments)
        .filter(|_| {
            let systems: Vec<Vec<f64>> = (0..4)
                .map(|_| (0..8).map(|_| StandardNormal.sample(&mut luck)).collect())
                .collect();
            let slices: Vec<&[f64]> = systems.iter().map(Vec::as_slice).collect();
            matches!(Selection::of(&slices, 0.90).verdict, Verdict::Best(_))
        })
        .count();
    assert!(told_apart <= 100, "{told_apart} of {experiments}");
}

/// Kim & Nelson, ACM Transactions on Modeling and Computer Simulation 11 (2001): η and h² with c = 1; a tutorial of theirs prints
/// 0.635 and 11.43 for k = 5, α = 0.05, n₀ = 10 (from memory). Digits computed.
#[test]
fn constants_of_kim_and_nelson() {
    for (systems, alpha, first_stage, eta, h2) in [
        (5, 0.05, 10, 0.634967265, 11.4294108),
        (10, 0.05, 10, 0.85908343, 15.4635017),
        (4, 0.1, 20, 0.164919522, 6.26694185),
        (3, 0.05, 20, 0.185362803, 7.04378652),
    ] {
        let got = KimNelsonConstants::new(systems, first_stage, 1.0 - alpha);
        close(got.eta, eta);
        close(got.h2, h2);
    }
}

/// The procedure's published steps followed on twelve made-up replications with independent software (computed).
#[test]
fn steps_of_kim_and_nelson() {
    const X: [[f64; 12]; 3] = [
        [
            10.2, 9.1, 11.0, 8.7, 10.6, 9.9, 10.8, 9.5, 10.1, 10.4, 9.8, 10.0,
        ],
        [
            12.9, 11.8, 13.6, 11.9, 13.1, 12.2, 13.5, 12.6, 12.4, 13.2, 12.7, 12.5,
        ],
        [
            10.9, 10.2, 11.2, 9.9, 11.6, 10.3, 11.9, 10.4, 10.7, 11.3, 10.6, 10.9,
        ],
    ];
    let mut state = KimNelson::new(3, 5, 0.95, 0.2);
    for ((a, b), c) in X[0].iter().zip(X[1]).zip(X[2]) {
        state.add(&[*a, b, c]);
    }
    close(state.constants().h2, 13.8885438);
    close(state.variance(0, 1), 0.073);
    close(state.variance(0, 2), 0.163);
    close(state.variance(2, 1), 0.13);
    let gone = |system, after| Elimination { system, after };
    assert_eq!(state.eliminated(), [gone(1, 5), gone(2, 7)]);
    assert_eq!((state.best(), state.replications()), (Some(0), 7));
}

/// Systems that are the same are equally good: the first is taken, and the procedure ends.
#[test]
fn kim_and_nelson_end_with_systems_that_tie() {
    let mut state = KimNelson::new(3, 5, 0.95, 0.2);
    for r in 0..5 {
        let x = f64::from(r);
        state.add(&[x + 1.0, x, x]);
    }
    assert_eq!(state.best(), Some(1));
}
