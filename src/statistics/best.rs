//! Which of several systems is best, said only where the replications show it. Smaller values are better.

use super::interval::Interval;
use super::statement::Contrast;
use std::cmp::Ordering;

/// What may be said about the best of several systems.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// This system is better than each of the others.
    Best(usize),
    /// The best is among these, in the order they were given; more replications may tell them apart.
    NotToldApart(Vec<usize>),
}

/// All systems compared with each other on the same replications.
#[derive(Clone, Debug, PartialEq)]
pub struct Selection {
    /// Whether one is best, or which ones may be.
    pub verdict: Verdict,
    /// For each system, the interval of its mean less the smallest mean of the others ([`mcb_intervals`]): how much worse
    /// it may be than the best of the others (upper end), or how much better (lower end).
    pub against_best_other: Vec<Interval>,
    systems: usize,
    differences: Vec<Contrast>,
}

impl Selection {
    /// Compares systems by their values in the same replications. All intervals hold at once with confidence `level`
    /// (Bonferroni over all pairs). Replications in which a system has a blank are left out for all.
    ///
    /// What is said of a pair is a [`Contrast`]: too few replications that differ are told by the chance of any, if at all. Systems
    /// with identical values are not told apart; a constant difference is. With fewer than two replications nothing is told
    /// apart.
    ///
    /// # Panics
    /// If the systems have different numbers of replications.
    pub fn of(systems: &[&[f64]], level: f64) -> Self {
        let complete = without_blanks(systems);
        let k = systems.len();
        let pairs = k * k.saturating_sub(1) / 2;
        let mut differences = vec![Contrast::Blank; k * k];
        for i in 0..k {
            for l in i + 1..k {
                let said = Contrast::simultaneous(&complete[i], &complete[l], level, pairs);
                differences[i * k + l] = said;
                differences[l * k + i] = said.turned();
            }
        }
        let difference = |i: usize, l: usize| differences[i * k + l];
        Self {
            verdict: verdict(k, |i, l| difference(i, l).told()),
            against_best_other: mcb_intervals(k, |i, l| difference(i, l).reach()),
            systems: k,
            differences,
        }
    }

    /// What is said of system i less system l, with confidence for all pairs at once.
    ///
    /// # Panics
    /// If a system is out of range.
    pub fn difference(&self, i: usize, l: usize) -> Contrast {
        assert!(i < self.systems && l < self.systems, "no such system");
        self.differences[i * self.systems + l]
    }
}

fn without_blanks(systems: &[&[f64]]) -> Vec<Vec<f64>> {
    let replications = systems.first().map_or(0, |values| values.len());
    assert!(
        systems.iter().all(|values| values.len() == replications),
        "systems are compared on the same replications"
    );
    let kept: Vec<usize> = (0..replications)
        .filter(|&r| systems.iter().all(|values| !values[r].is_nan()))
        .collect();
    systems
        .iter()
        .map(|values| kept.iter().map(|&r| values[r]).collect())
        .collect()
}

fn verdict(systems: usize, told: impl Fn(usize, usize) -> Option<Ordering>) -> Verdict {
    let others = |i: usize| (0..systems).filter(move |&l| l != i);
    let shown_worse = |i: usize| others(i).any(|l| told(i, l) == Some(Ordering::Greater));
    let shown_best = |i: usize| others(i).all(|l| told(i, l) == Some(Ordering::Less));
    if let Some(best) = (0..systems).find(|&i| shown_best(i)) {
        return Verdict::Best(best);
    }
    let mut contenders: Vec<usize> = (0..systems).filter(|&i| !shown_worse(i)).collect();
    // "Shown worse" does not carry over from pair to pair: the last contender may be unable to beat one that a third
    // system beats. It is not told apart from that one, and we say so.
    if let [leader] = contenders[..] {
        contenders = (0..systems)
            .filter(|&i| i == leader || told(i, leader).is_none())
            .collect();
    }
    Verdict::NotToldApart(contenders)
}

/// Constrained multiple comparisons with the best (Hsu, Annals of Statistics 12, 1984; Nelson & Matejcik, Management
/// Science 41, 1995), smaller being better: for each system the interval of its mean less the smallest mean of the others.
///
/// `difference(i, l)` is the simultaneous interval of mean(i) − mean(l). A system whose interval ends at zero below cannot
/// be the best alone; one whose interval ends at zero above is at least as good as all others. A single system has the
/// interval 0 to 0.
pub fn mcb_intervals(
    systems: usize,
    difference: impl Fn(usize, usize) -> Interval,
) -> Vec<Interval> {
    (0..systems)
        .map(|i| {
            let worst = (0..systems)
                .filter(|&l| l != i)
                .map(|l| difference(i, l))
                .reduce(|a, b| Interval {
                    low: a.low.max(b.low),
                    high: a.high.max(b.high),
                })
                .unwrap_or(Interval {
                    low: 0.0,
                    high: 0.0,
                });
            Interval {
                low: worst.low.min(0.0),
                high: worst.high.max(0.0),
            }
        })
        .collect()
}
