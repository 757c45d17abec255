//! When a simulated figure agrees with theory.
//!
//! The standard error over replications must be small (0.3 % of the expected value unless a check says otherwise), and
//! the difference at most 3.5 standard errors. If not, four times the replications decide, the first ones included:
//! never another seed.

/// Largest difference in standard errors: a false alarm once in 2,000 figures before the second chance.
const LARGEST_DIFFERENCE: f64 = 3.5;
const USUAL_PRECISION: f64 = 0.003;

/// The figures of one check and what they should be.
pub(crate) struct Check<'a> {
    pub(crate) name: &'a str,
    pub(crate) expected: &'a [(&'a str, f64)],
    pub(crate) replications: u64,
    /// Largest standard error, as a share of the expected value.
    pub(crate) precision: f64,
}

impl<'a> Check<'a> {
    pub(crate) fn new(name: &'a str, replications: u64, expected: &'a [(&'a str, f64)]) -> Self {
        Self {
            name,
            expected,
            replications,
            precision: USUAL_PRECISION,
        }
    }

    /// For figures that would need far more runs.
    pub(crate) fn precision(mut self, precision: f64) -> Self {
        self.precision = precision;
        self
    }

    /// Runs the replications; `run` gives the figures of one, in the order of the expected ones.
    pub(crate) fn run(&self, run: impl Fn(u64) -> Vec<f64>) {
        let mut rows: Vec<Vec<f64>> = (0..self.replications).map(&run).collect();
        if self.disagreements(&rows).is_empty() {
            return;
        }
        rows.extend((self.replications..4 * self.replications).map(&run));
        let left = self.disagreements(&rows);
        assert!(left.is_empty(), "{}: {}", self.name, left.join("; "));
    }

    fn disagreements(&self, rows: &[Vec<f64>]) -> Vec<String> {
        let mut found = Vec::new();
        for (place, &(figure, expected)) in self.expected.iter().enumerate() {
            let count = rows.len() as f64;
            let mean = rows.iter().map(|row| row[place]).sum::<f64>() / count;
            let squares = rows.iter().map(|row| (row[place] - mean).powi(2));
            let error = (squares.sum::<f64>() / (count - 1.0) / count).sqrt();
            let (relative, difference) = (error / expected.abs(), (mean - expected) / error);
            if std::env::var_os("SHOW_AGREEMENT").is_some() {
                println!(
                    "{} {figure}: expected {expected}, found {mean:.6} ± {:.3} %, {difference:+.2} standard errors",
                    self.name,
                    100.0 * relative
                );
            }
            let exact = error == 0.0 && (mean - expected).abs() <= 1e-9 * expected.abs();
            let precise = relative <= self.precision && difference.abs() <= LARGEST_DIFFERENCE;
            if !exact && !precise {
                found.push(format!(
                    "{figure} is {mean} for {expected}, standard error {:.3} %, off by {difference:.2} of them",
                    100.0 * relative
                ));
            }
        }
        found
    }
}
