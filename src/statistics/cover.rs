//! How many it takes so that enough of them come.

use statrs::distribution::{Binomial, DiscreteCDF};

/// The fewest of whom at least `wanted` come with probability `sure`, where each comes with probability `comes` whatever the others do
/// (binomial). None if it takes more than ten times as many.
pub fn fewest_for(wanted: u32, comes: f64, sure: f64) -> Option<u32> {
    let Some(less) = wanted.checked_sub(1) else {
        return Some(0);
    };
    (wanted..=wanted.saturating_mul(10)).find(|all| {
        let comers = Binomial::new(comes, u64::from(*all));
        // A probability that is met exactly may be computed a hair below.
        comers.is_ok_and(|comers| comers.sf(less.into()) >= sure - 1e-12)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: of two who each come on half of the days one comes on 3 of 4, of three on 7 of 8, of four on 15 of 16 (0.9375, less than
    /// 19 of 20), of five on 31 of 32. Two come of n with 1 − (n + 1) ÷ 2ⁿ: of seven 0.9375, of eight 0.965.
    #[test]
    fn cover_by_the_binomial() {
        assert_eq!(fewest_for(1, 0.5, 0.75), Some(2));
        assert_eq!(fewest_for(1, 0.5, 0.95), Some(5));
        assert_eq!(fewest_for(2, 0.5, 0.95), Some(8));
        assert_eq!(fewest_for(10, 1.0, 0.95), Some(10), "everybody comes");
        assert_eq!(fewest_for(1, 0.0, 0.95), None);
        assert_eq!(fewest_for(0, 0.5, 0.95), Some(0));
    }
}
