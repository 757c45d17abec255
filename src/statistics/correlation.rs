//! Whether two columns of values go together.

use super::student::t_critical;

/// How two values of the same things go together in a straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correlation {
    /// Pearson's coefficient, −1 to 1.
    pub coefficient: f64,
    /// Whether it is told apart from none.
    pub told: bool,
}

impl Correlation {
    /// Of pairs, told at confidence `level` for `comparisons` of them at once (Bonferroni): Student's t with n − 2 degrees of freedom, exact
    /// where one of the two is normal. None with fewer than three pairs or where one of the two is always the same.
    pub fn of(pairs: &[(f64, f64)], level: f64, comparisons: usize) -> Option<Self> {
        let n = pairs.len() as f64;
        if pairs.len() < 3 {
            return None;
        }
        let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
        let (first, second) = (mean(|pair| pair.0), mean(|pair| pair.1));
        let [mut both, mut firsts, mut seconds] = [0.0; 3];
        for pair in pairs {
            let (a, b) = (pair.0 - first, pair.1 - second);
            both += a * b;
            firsts += a * a;
            seconds += b * b;
        }
        if !(firsts > 0.0 && seconds > 0.0) {
            return None;
        }
        let coefficient = (both / (firsts * seconds).sqrt()).clamp(-1.0, 1.0);
        let level = 1.0 - (1.0 - level) / comparisons.max(1) as f64;
        let freedom = n - 2.0;
        let t = coefficient * (freedom / (1.0 - coefficient * coefficient)).sqrt();
        Some(Self {
            coefficient,
            told: t.abs() > t_critical(level, freedom),
        })
    }
}
