//! Statistics: the published examples and tables of `plantday verify`, and properties of what is beside them.

use crate::agree::all_agree;
use plantday::statistics::{
    Interval, KimNelson, Paired, Ranks, Selection, Summary, Verdict, quantile,
    replications_for_error, share_at_least, share_at_most, t_quantile, trials_without_event,
    wilson,
};
use plantday::studies::verify::statistics;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, Exp, StandardNormal};

/// Sources and expected values stand with each check of the list.
#[test]
fn published_examples_and_tables_agree() {
    all_agree(&statistics::checks());
}

/// Where there is nothing to say of, or nothing more; no source.
#[test]
fn ends_of_what_can_be_said() {
    let two = Summary::of([1.0, 2.0]);
    assert_eq!(replications_for_error(&two, 0.0, 0.90), None);
    // Ten values say nothing about the upper end of the 95th percentile.
    assert_eq!(Ranks::enclosing(10, 0.95, 0.95), None);
    for (n, p) in [(100, 0.9), (200, 0.95), (1000, 0.99)] {
        let ranks = Ranks::enclosing(n, p, 0.95).unwrap();
        assert!(ranks.coverage(n, p) >= 0.95);
    }
    let all = Interval {
        low: 0.0,
        high: 1.0,
    };
    assert_eq!(wilson(20, 20, 0.95).high, 1.0);
    assert_eq!(wilson(0, 0, 0.95), all);
    assert_eq!(share_at_most(0, 0, 0.95), 1.0);
    assert_eq!(share_at_most(7, 7, 0.95), 1.0);
    let mirrored = 1.0 - share_at_most(0, 7, 0.95);
    assert!((share_at_least(7, 7, 0.95) - mirrored).abs() < 1e-12);
    for (share, level) in [(0.05, 0.95), (0.01, 0.95), (0.01, 0.9), (0.5, 0.75)] {
        let trials = trials_without_event(share, level).unwrap();
        assert!(share_at_most(0, trials, level) <= share + 1e-12);
        assert!(share_at_most(0, trials - 1, level) > share);
    }
    assert_eq!(trials_without_event(0.0, 0.95), None);
    assert_eq!(trials_without_event(1.0, 0.95), Some(0));
    assert_eq!(quantile([], 0.5), None);
    assert_eq!(quantile([3.0, f64::NAN, 1.0], 0.5), Some(2.0));
}

/// No step where the expansion for many degrees of freedom takes over, in the middle or in the far tail of a Bonferroni correction.
#[test]
fn t_of_many_degrees_of_freedom_has_no_step() {
    for p in [0.6, 0.975, 0.9999, 1.0 - 1e-6] {
        let step = t_quantile(p, 1000.0) - t_quantile(p, 1000.001);
        assert!((0.0..1e-7).contains(&step), "{step} at {p}");
    }
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
