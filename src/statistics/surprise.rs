//! How far a count lies from what runs of a forecast make of it, exactly, where events are seldom.

use super::student::normal_quantile;
use statrs::function::gamma::ln_gamma;

/// The standard normal value that is as rare as `came` events (0 to `of`) where `times` of `runs` runs of the forecast had one, `runs`
/// above 0: above zero where more came. What the runs leave open of the chance is its beta distribution by Jeffreys' prior (Harold
/// Jeffreys, "Theory of Probability", 1961; from memory), so that the count is beta-binomial; half of the chance of the count itself
/// goes to either side (mid-P).
pub fn surprise(came: u64, of: u64, times: f64, runs: f64) -> f64 {
    let (a, b) = (times + 0.5, (runs - times).max(0.0) + 0.5);
    let ln_beta = |a: f64, b: f64| ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b);
    let n = of as f64;
    let at = |k: u64| {
        let k = k as f64;
        let ln_choose = ln_gamma(n + 1.0) - ln_gamma(k + 1.0) - ln_gamma(n - k + 1.0);
        (ln_choose + ln_beta(k + a, n - k + b) - ln_beta(a, b)).exp()
    };
    let half = at(came) / 2.0;
    // The smaller tail is summed, so that it keeps its digits.
    if came as f64 > n * a / (a + b) {
        -quantile(half + (came + 1..=of).map(at).sum::<f64>())
    } else {
        quantile(half + (0..came).map(at).sum::<f64>())
    }
}

fn quantile(tail: f64) -> f64 {
    normal_quantile(tail.clamp(f64::MIN_POSITIVE, 0.5))
}

#[cfg(test)]
mod tests {
    use super::surprise;
    use crate::statistics::normal_quantile;

    /// One event of one, of 0 in 9 runs: the mean of a beta(0.5, 9.5) is 0.05, half of it is the tail: 1.96. None of one: half of 0.95
    /// is 0.475.
    #[test]
    fn one_moment_by_hand() {
        assert!((surprise(1, 1, 0.0, 9.0) - 1.959_964).abs() < 1e-5);
        assert!((surprise(0, 1, 0.0, 9.0) - normal_quantile(0.475)).abs() < 1e-9);
        // The same mirrored.
        assert!((surprise(0, 1, 9.0, 9.0) + 1.959_964).abs() < 1e-5);
    }

    /// With a chance that is as good as known the count is binomial: of 4 at one half, 4 come with 1/16, half of which is 1/32.
    #[test]
    fn a_chance_that_is_known_is_binomial() {
        let known = surprise(4, 4, 5e7, 1e8);
        assert!(
            (known + normal_quantile(1.0 / 32.0)).abs() < 1e-6,
            "{known}"
        );
        assert!(surprise(2, 4, 5e7, 1e8).abs() < 1e-6);
    }
}
