//! The interval of a sum of independent means.

use super::interval::Interval;
use super::summary::Estimate;

impl Estimate {
    /// The sum of independent means, each so many times (weight, mean); none where one of them is.
    ///
    /// Variances add with the squares of the weights, so the distance of each end is the root of the sum of squares of the weighted
    /// distances of the ends (G. Y. Zou and A. Donner, Statistics in Medicine 27, 2008, pp. 1693-1702, who call it recovery of variance
    /// estimates). One mean so many times is that many times its interval.
    pub fn sum_of(parts: &[(f64, Self)]) -> Self {
        let mean = parts.iter().map(|(weight, one)| Some(weight * one.mean?));
        let Some(mean) = mean.sum::<Option<f64>>() else {
            return Self {
                mean: None,
                interval: Interval::UNBOUNDED,
            };
        };
        let bounded = parts.iter().all(|(_, one)| one.interval.is_bounded());
        if !bounded {
            return Self {
                mean: Some(mean),
                interval: Interval::UNBOUNDED,
            };
        }
        let (mut below, mut above) = (0.0, 0.0);
        for (weight, one) in parts {
            let middle = one.mean.unwrap_or_default();
            let ends = [one.interval.low, one.interval.high].map(|end| weight * (end - middle));
            below += ends[0].min(ends[1]).powi(2);
            above += ends[0].max(ends[1]).powi(2);
        }
        Self {
            mean: Some(mean),
            interval: Interval {
                low: mean - below.sqrt(),
                high: mean + above.sqrt(),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn estimate(mean: f64, below: f64, above: f64) -> Estimate {
        Estimate {
            mean: Some(mean),
            interval: Interval {
                low: mean - below,
                high: mean + above,
            },
        }
    }

    /// By hand: 2 × 10 + 3 × 20 = 80; below √((2 × 3)² + (3 × 4)²) = √180, above √((2 × 1)² + (3 × 2)²) = √40. A difference, weight −1,
    /// turns the ends of what is taken away.
    #[test]
    fn variances_add_with_weights_squared() {
        let (one, other) = (estimate(10.0, 3.0, 1.0), estimate(20.0, 4.0, 2.0));
        let sum = Estimate::sum_of(&[(2.0, one), (3.0, other)]);
        assert_eq!(sum.mean, Some(80.0));
        assert!((sum.interval.low - (80.0 - 180_f64.sqrt())).abs() < 1e-12);
        assert!((sum.interval.high - (80.0 + 40_f64.sqrt())).abs() < 1e-12);
        let less = Estimate::sum_of(&[(1.0, other), (-1.0, one)]);
        assert!((less.interval.low - (10.0 - 17_f64.sqrt())).abs() < 1e-12);
        assert!((less.interval.high - (10.0 + 13_f64.sqrt())).abs() < 1e-12);
    }

    #[test]
    fn one_mean_keeps_its_interval_and_an_unknown_one_gives_none() {
        let one = Estimate::sum_of(&[(52.0, estimate(10.0, 3.0, 1.0))]);
        assert_eq!((one.mean, one.interval.low), (Some(520.0), 364.0));
        let unknown = Estimate {
            mean: None,
            interval: Interval::UNBOUNDED,
        };
        assert_eq!(Estimate::sum_of(&[(1.0, unknown)]).mean, None);
    }
}
