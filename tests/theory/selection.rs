//! Selection end to end on a test bed whose truth is known exactly: five (s, S) inventory policies of Koenig & Law,
//! Communications in Statistics: Simulation and Computation 14 (1985), 719–734.
//!
//! Thirty periods, beginning with S in stock. Each period: if the stock is below s, order up to S (32 and 3 a unit, there
//! at once); then a demand, Poisson with mean 25, what is short being owed; then 1 a unit in stock or 5 a unit owed. The
//! figure is the mean cost of a period. The exact means are computed here by enumeration; the paper prints 114.176,
//! 112.742, 130.55, 130.699 and 147.382 (recalled from memory).

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use plantday::Watch;
use plantday::engine::{Entity, Luck};
use plantday::montecarlo::{Selecting, Trial, run, select};
use plantday::statistics::{Summary, t_critical};
use plantday::units::Purpose;

const POLICIES: [(i32, i32); 5] = [(20, 40), (20, 80), (40, 60), (40, 100), (60, 100)];
const PERIODS: usize = 30;
const PUBLISHED: [f64; 5] = [114.176, 112.742, 130.55, 130.699, 147.382];
/// (20, 80), by 1.43 a period.
const BEST: usize = 1;

/// Stock after ordering, and what ordering cost.
fn order(stock: i32, (s, up_to): (i32, i32)) -> (i32, i32) {
    if stock < s {
        (up_to, 32 + 3 * (up_to - stock))
    } else {
        (stock, 0)
    }
}

/// What the stock at the end of a period costs.
fn keeping(stock: i32) -> i32 {
    if stock >= 0 { stock } else { -5 * stock }
}

/// Poisson probabilities with mean 25, from 0 to where they no longer matter.
fn demand_chances() -> Vec<f64> {
    let mut chances = vec![(-25.0_f64).exp()];
    for demand in 1..90 {
        chances.push(chances[demand - 1] * 25.0 / demand as f64);
    }
    chances
}

/// All policies meet the same demands.
struct Inventory {
    seed: u64,
    cumulative: Vec<f64>,
    rows_made: AtomicU64,
}

impl Inventory {
    fn new(seed: u64) -> Self {
        let mut sum = 0.0;
        let chances = demand_chances().into_iter();
        let cumulative = chances.map(|chance| {
            sum += chance;
            sum
        });
        Self {
            seed,
            cumulative: cumulative.collect(),
            rows_made: AtomicU64::new(0),
        }
    }

    fn demands(&self, replication: u64) -> [i32; PERIODS] {
        let luck = Luck::new(self.seed, replication);
        std::array::from_fn(|period| {
            let block = luck.block(
                Purpose::Load,
                Entity::named("demand"),
                (period / 4) as u32,
                0,
            );
            let u = block.wide(period % 4);
            self.cumulative.partition_point(|sum| *sum < u) as i32
        })
    }
}

impl Trial for Inventory {
    type Worker = Option<(u64, [i32; PERIODS])>;

    fn worker(&self) -> Self::Worker {
        None
    }

    fn cases(&self) -> usize {
        POLICIES.len()
    }

    fn width(&self) -> usize {
        1
    }

    fn run(&self, known: &mut Self::Worker, case: usize, replication: u64, row: &mut [f32]) {
        self.rows_made.fetch_add(1, Ordering::Relaxed);
        let demands = match known {
            Some((of, demands)) if *of == replication => *demands,
            _ => self.demands(replication),
        };
        *known = Some((replication, demands));
        let (mut stock, mut cost) = (POLICIES[case].1, 0);
        for demand in demands {
            let (filled, ordering) = order(stock, POLICIES[case]);
            stock = filled - demand;
            cost += ordering + keeping(stock);
        }
        row[0] = cost as f32 / PERIODS as f32;
    }
}

/// The exact distribution of a policy's total cost: the chance of every whole number.
fn exact(policy: (i32, i32)) -> Vec<f64> {
    const COSTS: usize = 9000;
    const LOWEST: i32 = -80;
    let chances: Vec<(i32, f64)> = (0..)
        .zip(demand_chances())
        .filter(|(_, p)| *p > 1e-13)
        .collect();
    let states = (policy.1 - LOWEST + 1) as usize;
    let mut now = vec![Vec::new(); states];
    now[states - 1] = vec![1.0];
    for _ in 0..PERIODS {
        let mut next = vec![vec![0.0; COSTS]; states];
        for (state, by_cost) in now.iter().enumerate() {
            let (filled, ordering) = order(state as i32 + LOWEST, policy);
            for (demand, chance) in &chances {
                let stock = filled - demand;
                let added = (ordering + keeping(stock)) as usize;
                let to = &mut next[(stock - LOWEST) as usize];
                for (to, from) in to[added..].iter_mut().zip(by_cost) {
                    *to += from * chance;
                }
            }
        }
        for by_cost in &mut next {
            while by_cost.last().is_some_and(|p| *p < 1e-15) {
                by_cost.pop();
            }
        }
        now = next;
    }
    let longest = now.iter().map(Vec::len).max().expect("states");
    (0..longest)
        .map(|cost| now.iter().filter_map(|by_cost| by_cost.get(cost)).sum())
        .collect()
}

fn mean(distribution: &[f64]) -> f64 {
    let sum: f64 = (0..)
        .zip(distribution)
        .map(|(cost, p)| f64::from(cost) * p)
        .sum();
    sum / distribution.iter().sum::<f64>()
}

fn plan(from: u64, most: u64, threads: usize) -> Selecting {
    Selecting {
        level: 0.9,
        indifference: 1.4,
        first_stage: 20,
        from,
        most,
        threads: NonZeroUsize::new(threads),
    }
}

#[test]
fn the_test_bed_is_the_published_one() {
    // Two of the five: those that nearly tie.
    for policy in [0, BEST] {
        let exact = mean(&exact(POLICIES[policy])) / PERIODS as f64;
        assert!((exact - PUBLISHED[policy]).abs() < 6e-4, "{exact}");
    }
    let rows = run(&Inventory::new(1), 0..4000, None, Watch::default());
    for (policy, published) in PUBLISHED.iter().enumerate() {
        let all = Summary::of(rows.values(policy, 0));
        let off = (all.mean().expect("values") - published).abs();
        assert!(off < 3.5 * all.standard_error(), "{policy}: {off}");
    }
}

/// Of 500 selections with P* = 0.9 and an indifference just below the true difference, at least 460 choose (20, 80).
#[test]
fn the_best_policy_is_selected_as_often_as_promised() {
    let (mut right, mut made) = (0, 0);
    for seed in 0..500 {
        let inventory = Inventory::new(1000 + seed);
        let chosen = select(
            &inventory,
            |row| f64::from(row[0]),
            &plan(0, 1_000_000, 1),
            Watch::default(),
        );
        right += u32::from(chosen.best() == Some(BEST));
        made += inventory.rows_made.into_inner();
    }
    println!("{right} of 500 right, {made} rows");
    assert!(right >= 460, "{right} of 500");
}

/// Cases that are plainly worse are not run to the end, and what is chosen depends neither on threads nor on chunks.
#[test]
fn a_selection_is_the_same_on_any_number_of_threads() {
    let value = |row: &[f32]| f64::from(row[0]);
    let finer = |threads| Selecting {
        indifference: 0.1,
        ..plan(50, 100_000, threads)
    };
    let inventory = Inventory::new(7);
    let one = select(&inventory, value, &finer(1), Watch::default());
    for threads in [2, 5] {
        let again = Inventory::new(7);
        let again = select(&again, value, &finer(threads), Watch::default());
        assert_eq!(again, one);
    }
    assert_eq!(one.best(), Some(BEST));
    let rows = inventory.rows_made.into_inner();
    assert!(
        rows < one.replications * 4,
        "{rows} rows in {} replications of five policies",
        one.replications
    );
}

/// One that stops early says what it would take, and that bound holds for the one that goes on.
#[test]
fn a_selection_that_stops_early_says_what_it_would_take() {
    let value = |row: &[f32]| f64::from(row[0]);
    let short = select(&Inventory::new(3), value, &plan(0, 24, 2), Watch::default());
    assert_eq!((short.best(), short.replications), (None, 24));
    assert!(short.survivors.contains(&BEST));
    let bound = short.at_most.expect("the first stage is over");
    let long = select(
        &Inventory::new(3),
        value,
        &plan(0, 100_000, 2),
        Watch::default(),
    );
    assert_eq!(long.best(), Some(BEST));
    assert!(
        24 < long.replications && long.replications <= bound,
        "{long:?} within {bound}"
    );
    let stopped = AtomicBool::new(true);
    let none = select(
        &Inventory::new(3),
        value,
        &plan(0, 24, 2),
        Watch::new(&|_| {}, &stopped),
    );
    assert_eq!(
        (none.replications, none.at_most, none.survivors.len()),
        (0, None, 5)
    );
}

/// The coverage of the 90 % t interval of n replications, computed from the exact distribution: which of n costs (the last
/// by the roots of a quadratic) give an interval that holds the true mean.
fn exact_coverage(distribution: &[f64], n: usize) -> f64 {
    let total: f64 = distribution.iter().sum();
    let mean = mean(distribution);
    let first = distribution.iter().position(|p| *p > 1e-9).expect("a cost");
    let last = distribution
        .iter()
        .rposition(|p| *p > 1e-9)
        .expect("a cost");
    let mut below = vec![0.0];
    for p in distribution {
        below.push(below[below.len() - 1] + p / total);
    }
    // P(low < cost − mean < high).
    let between = |low: f64, high: f64| {
        let top = distribution.len() as f64;
        let from = (low + mean).floor() + 1.0;
        let to = (high + mean).ceil();
        let at = |x: f64| below[x.clamp(0.0, top) as usize];
        (at(to) - at(from)).max(0.0)
    };
    let t = t_critical(0.9, n as f64 - 1.0);
    let n = n as f64;
    let missed = |p: f64, q: f64| -> f64 {
        // With p, q the sum and the sum of squares of n − 1 deviations and d the last, sum = p + d and Q = q + d²; covered:
        // |sum|/n ≤ t·sqrt(s²/n), s² = (Q − sum²/n)/(n − 1)  ⇔  sum²·(1/n² + t²/(n²(n−1))) ≤ t²·Q/(n(n−1)).
        // The factor of d² is below zero for t > 1, so what is missed lies between the two roots.
        let left = (1.0 + t * t / (n - 1.0)) / (n * n);
        let right = t * t / (n * (n - 1.0));
        let (qa, qb, qc) = (left - right, 2.0 * left * p, left * p * p - right * q);
        let root = qb * qb - 4.0 * qa * qc;
        if root <= 0.0 {
            return 0.0;
        }
        let (x, y) = (
            (-qb - root.sqrt()) / (2.0 * qa),
            (-qb + root.sqrt()) / (2.0 * qa),
        );
        between(x.min(y), x.max(y))
    };
    let deviations = || (first..=last).map(|cost| (cost as f64 - mean, distribution[cost] / total));
    let outside: f64 = if n == 2.0 {
        deviations().map(|(d, p)| p * missed(d, d * d)).sum()
    } else {
        deviations()
            .flat_map(|(d, p)| deviations().map(move |(e, r)| (d, p, e, r)))
            .map(|(d, p, e, r)| p * r * missed(d + e, d * d + e * e))
            .sum()
    };
    1.0 - outside
}

/// Intervals hold the true mean as often as the exact distribution says for so many replications: neither more nor less.
#[test]
fn intervals_cover_as_often_as_computed_exactly() {
    const EXPERIMENTS: u64 = 20_000;
    let distribution = exact(POLICIES[0]);
    let truth = mean(&distribution) / PERIODS as f64;
    for n in [2, 3] {
        let rows = run(
            &Inventory::new(99),
            0..EXPERIMENTS * n,
            None,
            Watch::default(),
        );
        let values: Vec<f64> = rows.values(0, 0).collect();
        let covered = values
            .chunks_exact(n as usize)
            .filter(|values| {
                Summary::of(values.iter().copied())
                    .interval(0.9)
                    .contains(truth)
            })
            .count();
        let share = covered as f64 / EXPERIMENTS as f64;
        let exact = exact_coverage(&distribution, n as usize);
        let error = (exact * (1.0 - exact) / EXPERIMENTS as f64).sqrt();
        println!("{n} replications: {share} covered, exactly {exact}");
        assert!(
            (share - exact).abs() < 3.0 * error,
            "{n}: {share}, exactly {exact}"
        );
    }
}
