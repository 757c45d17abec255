//! Which statement a figure gets, and how often what is said of seldom things is true: computed, not simulated.

use plantday::statistics::{
    AFFECTED_FOR_A_MEAN, Contrast, Interval, PairTally, Statement, Tally, chance_difference,
    share_between,
};
use proptest::prelude::*;
use std::cmp::Ordering;

/// Clopper & Pearson's 95 % limits for ten trials, as tables of exact binomial limits print them (from memory): none 0 to 0.3085,
/// one 0.0025 to 0.4450, five 0.1871 to 0.8129.
#[test]
fn exact_limits_of_a_share() {
    for (events, low, high) in [(0, 0.0, 0.3085), (1, 0.0025, 0.4450), (5, 0.1871, 0.8129)] {
        let limits = share_between(events, 10, 0.95);
        assert!((limits.low - low).abs() < 5e-5, "{limits:?}");
        assert!((limits.high - high).abs() < 5e-5, "{limits:?}");
    }
    let nothing_tried = share_between(0, 0, 0.95);
    assert_eq!((nothing_tried.low, nothing_tried.high), (0.0, 1.0));
}

/// By hand: none apart in 30, at 95 %: ± (1 − 0.0125^(1/30)) = ± 0.1359. Nine apart, all the one way: McNemar's exact test has
/// 2/2⁹ = 0.004, and the difference is told; three all the one way are not (2/2³ = 0.25).
#[test]
fn a_difference_of_chances_by_hand() {
    let none = chance_difference(0, 0, 30, 0.95);
    assert!((none.high - 0.1359).abs() < 5e-5, "{none:?}");
    assert_eq!(none.low, -none.high);
    assert!(chance_difference(9, 0, 1_000, 0.95).low > 0.0);
    assert!(chance_difference(0, 9, 1_000, 0.95).high < 0.0);
    assert!(chance_difference(3, 0, 1_000, 0.95).contains(0.0));
    let all = chance_difference(20, 0, 20, 0.95);
    assert!(all.low > 0.45 && all.high == 1.0, "{all:?}");
}

/// Of `n` trials `more` have only the first, `less` only the second: every outcome with its chance.
fn coverage(n: u64, (p, q): (f64, f64), level: f64) -> f64 {
    let log_factorial = |n: u64| (1..=n).map(|k| (k as f64).ln()).sum::<f64>();
    let times = |count: u64, chance: f64| match count {
        0 => 0.0,
        _ => count as f64 * chance.ln(),
    };
    let mut held = 0.0;
    for more in 0..=n {
        for less in 0..=n - more {
            let rest = n - more - less;
            let ways =
                log_factorial(n) - log_factorial(more) - log_factorial(less) - log_factorial(rest);
            let log = ways + times(more, p) + times(less, q) + times(rest, 1.0 - p - q);
            if chance_difference(more, less, n, level).contains(p - q) {
                held += log.exp();
            }
        }
    }
    held
}

/// Whatever the two chances, the interval of their difference holds as often as it says: all outcomes of 14 periods are gone
/// through.
#[test]
fn a_difference_of_chances_holds_at_least_as_often_as_it_says() {
    let chances = [1e-6, 0.005, 0.02, 0.05, 0.1, 0.2, 0.35, 0.6];
    for level in [0.8, 0.95] {
        for p in chances {
            for q in chances.into_iter().filter(|q| p + q < 1.0) {
                let held = coverage(14, (p, q), level);
                assert!(held >= level, "{p} and {q} at {level}: {held}");
            }
        }
    }
}

fn with(affected: u64, of: u64, value: f64) -> Vec<f64> {
    (0..of)
        .map(|n| if n < affected { value + n as f64 } else { 0.0 })
        .collect()
}

/// Nine of a hundred days with stranded drivers make a chance, ten a mean; all of four days make a mean too.
#[test]
fn a_mean_takes_ten_days_that_are_affected() {
    assert_eq!(AFFECTED_FOR_A_MEAN, 10);
    let nine = Statement::of(&with(9, 100, 1.0), 0.95);
    let Statement::Chance {
        times,
        of,
        interval,
    } = nine
    else {
        panic!("{nine:?}");
    };
    assert_eq!((times, of), (9, 100));
    assert_eq!(interval, share_between(9, 100, 0.95));
    let ten = Statement::of(&with(10, 100, 1.0), 0.95);
    let (mean, interval) = ten.mean().expect("a mean");
    assert!((mean - 0.55).abs() < 1e-12, "{mean}");
    assert!(interval.contains(mean), "{interval:?}");
    assert!(Statement::of(&[3.0, 4.0, 5.0, 9.0], 0.95).mean().is_some());
    assert_eq!(Statement::of(&[f64::NAN; 3], 0.95), Statement::Blank);
}

/// Hanley & Lippman-Hand, JAMA 249, 1983 (from memory): none in a hundred, at most 3 in a hundred at 95 %.
#[test]
fn none_seen_is_at_most_three_in_a_hundred() {
    let none = Statement::of(&[0.0; 100], 0.95);
    let most = none.at_most_if_never().expect("none seen");
    assert!((most - 0.0295).abs() < 5e-5, "{most}");
    let difference = Contrast::of(&[0.0; 100], &[0.0; 100], 0.95);
    let Contrast::Chance { interval, .. } = difference else {
        panic!("{difference:?}");
    };
    assert!(interval.low < -0.03 && interval.high > 0.03, "{interval:?}");
    assert!(difference.never());
    assert_eq!(difference.told(), None);
}

/// One rule strands drivers on 3 of 100 days, another on 9 others: days that have some under one alone are counted.
#[test]
fn days_that_only_one_rule_spoils_are_counted() {
    let (three, mut nine) = (with(3, 100, 1.0), with(12, 100, 2.0));
    nine[..3].fill(0.0);
    let said = Contrast::of(&three, &nine, 0.95);
    let Contrast::Mean { .. } = said else {
        panic!("twelve days differ: {said:?}");
    };
    nine[8..].fill(0.0);
    let said = Contrast::of(&three, &nine, 0.95);
    let Contrast::Chance {
        more: 3,
        less: 5,
        of: 100,
        any: true,
        interval,
    } = said
    else {
        panic!("{said:?}");
    };
    assert_eq!(interval, chance_difference(3, 5, 100, 0.95));
    let Contrast::Chance {
        more: 5, less: 3, ..
    } = said.turned()
    else {
        panic!("{:?}", said.turned());
    };
}

/// Two rules that cost the same on all but four days: in how many the one costs more says nothing of how much, and tells neither
/// apart.
#[test]
fn costs_that_differ_on_four_days_tell_no_rule_apart() {
    let cost: Vec<f64> = (0..200).map(|n| 1_000.0 + f64::from(n % 7)).collect();
    let mut dearer = cost.clone();
    dearer[..4].iter_mut().for_each(|cost| *cost += 50.0);
    let said = Contrast::of(&dearer, &cost, 0.95);
    let Contrast::Chance {
        more: 4,
        less: 0,
        any: false,
        ..
    } = said
    else {
        panic!("{said:?}");
    };
    assert_eq!(said.told(), None);
    assert_eq!(said.reach(), Interval::UNBOUNDED);
}

/// Nine days stranded against none tells the rules apart, by the chance.
#[test]
fn nine_days_against_none_are_told() {
    let said = Contrast::of(&with(9, 1_000, 1.0), &[0.0; 1_000], 0.95);
    assert_eq!(said.told(), Some(Ordering::Greater));
    assert_eq!(said.turned().told(), Some(Ordering::Less));
    assert_eq!(said.reach().low, 0.0);
}

proptest! {
    /// Running sums of whole numbers say what the list of them says, in whatever two parts they are added.
    #[test]
    fn sums_say_what_lists_say(
        pairs in prop::collection::vec((prop_oneof![5 => Just(0_i64), 1 => -9..9_i64, 1 => 0..900_000_000_i64],
                                        prop_oneof![5 => Just(0_i64), 1 => 0..9_i64, 1 => 0..900_000_000_i64]), 1..60),
        cut in 0..60_usize,
    ) {
        let (mut one, mut pair) = (Tally::default(), PairTally::default());
        for part in [&pairs[cut.min(pairs.len())..], &pairs[..cut.min(pairs.len())]] {
            let (mut more, mut more_pairs) = (Tally::default(), PairTally::default());
            for (a, b) in part {
                more.add(*a);
                more_pairs.add(*a, *b);
            }
            one.merge(&more);
            pair.merge(&more_pairs);
        }
        let list = |value: fn(&(i64, i64)) -> i64| -> Vec<f64> { pairs.iter().map(|pair| value(pair) as f64).collect() };
        let (first, second) = (list(|pair| pair.0), list(|pair| pair.1));
        let n = pairs.len() as u64;
        // One part in 10^9 of the values themselves: the list's mean is rounded at every step.
        let scale = first.iter().chain(&second).fold(1.0, |most: f64, value| most.max(value.abs()));
        let near = |(a, ends): (f64, Interval), (b, others): (f64, Interval)| {
            [(a, b), (ends.low, others.low), (ends.high, others.high)]
                .iter()
                .all(|(a, b)| a == b || (a - b).abs() < 1e-9 * scale)
        };
        match (one.statement(n, 1.0, 0.95), Statement::of(&first, 0.95)) {
            (Statement::Mean { mean, interval }, Statement::Mean { mean: other, interval: ends }) => {
                prop_assert!(near((mean, interval), (other, ends)), "{mean} {interval:?} {other} {ends:?}");
            }
            (said, other) => prop_assert_eq!(said, other),
        }
        match (pair.contrast(n, 1.0, 0.95, 3), Contrast::simultaneous(&first, &second, 0.95, 3)) {
            (Contrast::Mean { mean, interval }, Contrast::Mean { mean: other, interval: ends }) => {
                prop_assert!(near((mean, interval), (other, ends)), "{mean} {interval:?} {other} {ends:?}");
            }
            (said, other) => prop_assert_eq!(said, other),
        }
    }
}
