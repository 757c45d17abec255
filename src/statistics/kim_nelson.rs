//! Sequential selection of the best of several systems that meet the same luck: the procedure of Kim & Nelson (ACM
//! Transactions on Modeling and Computer Simulation 11, 2001, 251–273) with c = 1. Smaller values are better.
//!
//! With confidence `level` the system chosen is the best, provided that the best is better than every other by at least
//! the indifference; without that provision it is within the indifference of the best (the usual reading of
//! "probability of good selection"; proved for normal values). The variances are those of differences, so common luck
//! is allowed and helps.

/// The constants of the procedure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KimNelsonConstants {
    /// η = ((2α/(k−1))^(−2/(n₀−1)) − 1)/2.
    pub eta: f64,
    /// h² = 2η(n₀−1).
    pub h2: f64,
}

impl KimNelsonConstants {
    /// For `systems` ≥ 2, a first stage of `first_stage` ≥ 2 replications and confidence `level` between 0 and 1.
    pub fn new(systems: usize, first_stage: u64, level: f64) -> Self {
        let df = (first_stage.max(2) - 1) as f64;
        let others = systems.max(2) as f64 - 1.0;
        let eta = (libm::pow(2.0 * (1.0 - level) / others, -2.0 / df) - 1.0) / 2.0;
        Self {
            eta,
            h2: 2.0 * eta * df,
        }
    }
}

/// When a system was left behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Elimination {
    /// Which.
    pub system: usize,
    /// After how many replications.
    pub after: u64,
}

/// The state of a selection: replications go in one by one, systems are left behind.
#[derive(Clone, Debug)]
pub struct KimNelson {
    constants: KimNelsonConstants,
    indifference: f64,
    first_stage: u64,
    systems: usize,
    /// Values of the first stage, replication by replication; emptied after it.
    first: Vec<f64>,
    /// Variance of the difference of each pair in the first stage.
    variances: Vec<f64>,
    sums: Vec<f64>,
    replications: u64,
    survivors: Vec<usize>,
    eliminated: Vec<Elimination>,
}

impl KimNelson {
    /// A selection among `systems` ≥ 1 whose differences below `indifference` (> 0, in the unit of the values) do not
    /// matter. No system is left behind during the first stage (at least two replications).
    ///
    /// # Panics
    /// Without a system, or if the indifference is not above zero.
    pub fn new(systems: usize, first_stage: u64, level: f64, indifference: f64) -> Self {
        assert!(systems > 0, "a selection has systems");
        assert!(indifference > 0.0, "an indifference is above zero");
        let first_stage = first_stage.max(2);
        Self {
            constants: KimNelsonConstants::new(systems, first_stage, level),
            indifference,
            first_stage,
            systems,
            first: Vec::new(),
            variances: vec![0.0; systems * systems],
            sums: vec![0.0; systems],
            replications: 0,
            survivors: (0..systems).collect(),
            eliminated: Vec::new(),
        }
    }

    /// Takes the next replication: a value for every system. Those of systems left behind are not looked at. Does nothing
    /// once one system is left.
    ///
    /// # Panics
    /// If there are not as many values as systems.
    pub fn add(&mut self, values: &[f64]) {
        assert_eq!(values.len(), self.systems, "a value for every system");
        if self.best().is_some() {
            return;
        }
        for &system in &self.survivors {
            self.sums[system] += values[system];
        }
        self.replications += 1;
        if self.replications <= self.first_stage {
            self.first.extend_from_slice(values);
        }
        if self.replications == self.first_stage {
            self.take_variances();
        }
        if self.replications >= self.first_stage {
            self.screen();
        }
    }

    fn take_variances(&mut self) {
        let rows = || self.first.chunks_exact(self.systems);
        let mut variances = vec![0.0; self.systems * self.systems];
        for i in 0..self.systems {
            for l in 0..self.systems {
                let differences = rows().map(|row| row[i] - row[l]);
                let all = super::Summary::of(differences);
                variances[i * self.systems + l] = all.variance().unwrap_or(0.0);
            }
        }
        self.variances = variances;
        self.first = Vec::new();
    }

    fn screen(&mut self) {
        let (r, delta) = (self.replications as f64, self.indifference);
        let slack = |i: usize, l: usize| {
            let variance = self.variances[i * self.systems + l];
            (self.constants.h2 * variance / (2.0 * delta) - delta * r / 2.0).max(0.0)
        };
        let behind = |i: usize| {
            let others = self.survivors.iter();
            others
                .filter(|l| **l != i)
                .any(|&l| self.sums[i] > self.sums[l] + slack(i, l))
        };
        let mut kept: Vec<usize> = self.survivors.clone();
        kept.retain(|i| !behind(*i));
        // Without slack only the smallest sum is left; equal sums are equally good, and the first is taken.
        if kept
            .iter()
            .all(|&i| kept.iter().all(|&l| i == l || slack(i, l) == 0.0))
        {
            let smallest = |a: &usize, b: &usize| self.sums[*a].total_cmp(&self.sums[*b]);
            kept = kept.iter().copied().min_by(smallest).into_iter().collect();
        }
        let gone = self.survivors.iter().filter(|i| !kept.contains(i));
        self.eliminated.extend(gone.map(|&system| Elimination {
            system,
            after: self.replications,
        }));
        self.survivors = kept;
    }

    /// The system chosen; none while several are left.
    pub fn best(&self) -> Option<usize> {
        match self.survivors[..] {
            [best] => Some(best),
            _ => None,
        }
    }

    /// The systems that are left, in their order.
    pub fn survivors(&self) -> &[usize] {
        &self.survivors
    }

    /// Those left behind, in the order in which they were.
    pub fn eliminated(&self) -> &[Elimination] {
        &self.eliminated
    }

    /// Replications taken.
    pub fn replications(&self) -> u64 {
        self.replications
    }

    /// Variance of the difference of two systems in the first stage; 0 before its end.
    ///
    /// # Panics
    /// If a system is out of range.
    pub fn variance(&self, i: usize, l: usize) -> f64 {
        assert!(i < self.systems && l < self.systems, "no such system");
        self.variances[i * self.systems + l]
    }

    /// The constants in use.
    pub fn constants(&self) -> KimNelsonConstants {
        self.constants
    }

    /// How many replications the selection takes at most in all: what is needed until no pair that is left has any slack.
    /// None before the end of the first stage.
    pub fn at_most(&self) -> Option<u64> {
        if self.best().is_some() {
            return Some(self.replications);
        }
        if self.replications < self.first_stage {
            return None;
        }
        let left = || self.survivors.iter();
        let widest = left()
            .flat_map(|&i| left().map(move |&l| (i, l)))
            .map(|(i, l)| self.variance(i, l))
            .fold(0.0, f64::max);
        let needed = self.constants.h2 * widest / (self.indifference * self.indifference);
        Some((needed.floor() as u64 + 1).max(self.first_stage))
    }
}
