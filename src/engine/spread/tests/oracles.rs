//! Against other makers of the same numbers: statrs, rand_distr, printed tables.

use super::super::*;
use super::assert_near;
use crate::engine::{Entity, Luck, Stream};
use crate::units::Purpose;
use rand_distr::Distribution;
use statrs::distribution::ContinuousCDF;

/// Quantiles and moments against the statrs library.
#[test]
fn agrees_with_statrs() {
    use statrs::distribution::{Exp, Gamma, LogNormal, Normal, Triangular};
    use statrs::statistics::Distribution;
    for cv in [0.1_f64, 0.3, 1.0, 2.0, 3.0] {
        let shape = 1.0 / (cv * cv);
        let gamma = Gamma::new(shape, shape / 12.0).unwrap();
        let ours = Spread::Gamma { mean: 12.0, cv };
        assert_near(
            ours.variance(),
            gamma.variance().unwrap(),
            1e-12,
            "gamma variance",
        );
        for u in [1e-6, 0.01, 0.1, 0.5, 0.9, 0.99, 0.999_999] {
            let x = ours.quantile(u);
            assert_near(gamma.cdf(x), u, 1e-9, &format!("gamma cv {cv} at {u}"));
            assert_near(ours.cdf(x), gamma.cdf(x), 1e-11, "gamma cdf");
        }
        let sigma = (1.0 + cv * cv).ln().sqrt();
        let lognormal = LogNormal::new(25_f64.ln() - sigma * sigma / 2.0, sigma).unwrap();
        let ours = Spread::Lognormal { mean: 25.0, cv };
        assert_near(
            ours.mean(),
            lognormal.mean().unwrap(),
            1e-12,
            "lognormal mean",
        );
        assert_near(
            ours.variance(),
            lognormal.variance().unwrap(),
            1e-12,
            "lognormal variance",
        );
        for u in [1e-9, 0.01, 0.3, 0.5, 0.9, 0.999_999] {
            assert_near(
                ours.quantile(u),
                lognormal.inverse_cdf(u),
                1e-8,
                "lognormal quantile",
            );
        }
    }
    let standard = Normal::new(0.0, 1.0).unwrap();
    for u in [1e-15, 1e-9, 1e-3, 0.05, 0.2, 0.499, 0.5, 0.7, 0.95, 0.999_9] {
        let z = normal::quantile(Tail::from_below(u));
        assert_near(normal::below(z), u, 1e-13, "own normal cdf");
        assert_near(standard.cdf(z), u, 1e-9, "normal");
    }
    let triangular = Triangular::new(1.0, 9.0, 3.0).unwrap();
    let ours = Spread::Triangular {
        low: 1.0,
        mode: 3.0,
        high: 9.0,
    };
    assert_near(
        ours.variance(),
        triangular.variance().unwrap(),
        1e-12,
        "triangular variance",
    );
    let exponential = Exp::new(0.125).unwrap();
    for u in [0.001, 0.2, 0.25, 0.6, 0.99] {
        assert_near(
            ours.quantile(u),
            triangular.inverse_cdf(u),
            1e-9,
            "triangular",
        );
        let ours = Spread::Exponential { mean: 8.0 };
        assert_near(
            ours.quantile(u),
            exponential.inverse_cdf(u),
            1e-12,
            "exponential",
        );
    }
}

/// Beta, PERT and Weibull against the statrs library.
#[test]
fn agrees_with_statrs_on_bounded_and_failure_times() {
    use statrs::distribution::{Beta, Weibull};
    use statrs::statistics::Distribution;
    for (alpha, beta) in [(2.0, 3.0), (0.4, 0.6), (5.0, 1.0), (40.0, 90.0)] {
        let theirs = Beta::new(alpha, beta).unwrap();
        let ours = Spread::Beta {
            low: 0.0,
            high: 4.0,
            alpha,
            beta,
        };
        let mean = 4.0 * theirs.mean().unwrap();
        assert_near(ours.mean(), mean, 1e-14, "beta mean");
        let variance = 16.0 * theirs.variance().unwrap();
        assert_near(ours.variance(), variance, 1e-13, "beta variance");
        for u in [1e-6, 0.01, 0.3, 0.5, 0.77, 0.99, 0.999_999] {
            let x = ours.quantile(u);
            let what = format!("beta {alpha} {beta} at {u}");
            assert_near(theirs.cdf(x / 4.0), u, 1e-8, &what);
            assert_near(ours.cdf(x), u, 1e-8, &what);
        }
    }
    for shape in [0.6_f64, 1.0, 1.5, 3.6] {
        let scale = 8.0 / statrs::function::gamma::gamma(1.0 + 1.0 / shape);
        let theirs = Weibull::new(shape, scale).unwrap();
        let ours = Spread::Weibull { mean: 8.0, shape };
        assert_near(theirs.mean().unwrap(), 8.0, 1e-12, "Weibull mean");
        let variance = theirs.variance().unwrap();
        assert_near(ours.variance(), variance, 1e-11, "Weibull variance");
        for u in [1e-6, 0.01, 0.3, 0.5, 0.77, 0.99, 0.999_999] {
            let x = ours.quantile(u);
            assert_near(x, theirs.inverse_cdf(u), 1e-9, "Weibull quantile");
        }
    }
}

/// The estimate of a duration from the least, the usual and the longest as PERT made it known (Malcolm, Roseboom, Clark and
/// Fazar, Operations Research 7 (1959) 646-669): mean (a + 4m + b)/6. With m in the middle the standard deviation of this beta
/// distribution is (b − a)/√28, near the (b − a)/6 which the paper takes.
#[test]
fn pert_has_the_mean_of_a_three_point_estimate() {
    for (low, mode, high) in [(2.0, 4.0, 12.0), (10.0, 10.0, 40.0), (3.0, 9.0, 15.0)] {
        let spread = Spread::Pert { low, mode, high };
        let sampler = spread.sampler();
        let drawn: f64 = (0..20_000)
            .map(|i| sampler.at((f64::from(i) + 0.5) / 20_000.0))
            .sum();
        let mean = (low + 4.0 * mode + high) / 6.0;
        assert_near(spread.mean(), mean, 1e-15, "mean");
        assert_near(drawn / 20_000.0, mean, 1e-5, "mean of what is drawn");
        assert!(spread.quantile(0.0) == low && spread.quantile(1.0) == high);
    }
    let middle = Spread::Pert {
        low: 3.0,
        mode: 9.0,
        high: 15.0,
    };
    assert_near(middle.variance(), 144.0 / 28.0, 1e-14, "variance");
}

/// A Weibull distribution of shape 1 is exponential; of shape 2, Rayleigh's, whose median is √(π⁻¹ 4 ln 2) times its mean; and at
/// its scale 1 − 1/e lies below whatever the shape (NIST/SEMATECH e-Handbook 8.1.6.2, the characteristic life).
#[test]
fn weibull_special_cases() {
    let weibull = |shape| Spread::Weibull { mean: 8.0, shape };
    let exponential = Spread::Exponential { mean: 8.0 };
    for u in [1e-9, 0.1, 0.5, 0.999] {
        assert_near(
            weibull(1.0).quantile(u),
            exponential.quantile(u),
            1e-14,
            "shape 1",
        );
    }
    let median = 8.0 * (4.0 * std::f64::consts::LN_2 / std::f64::consts::PI).sqrt();
    assert_near(weibull(2.0).quantile(0.5), median, 1e-14, "shape 2");
    for shape in [0.5, 3.0] {
        let life = super::super::weibull::scale(8.0, shape);
        let below = 1.0 - (-1.0_f64).exp();
        assert_near(
            weibull(shape).cdf(life),
            below,
            1e-14,
            "characteristic life",
        );
    }
}

/// Normal quantiles as printed in statistical tables (Biometrika Tables; NIST/SEMATECH e-Handbook 1.3.6.7.1).
#[test]
fn normal_quantiles_of_the_tables() {
    for (u, z) in [
        (0.9, 1.281_551_6),
        (0.975, 1.959_964_0),
        (0.995, 2.575_829_3),
        (0.999, 3.090_232_3),
    ] {
        assert!((normal::quantile(Tail::Lower(u)) - z).abs() < 1e-7);
        assert!((normal::quantile(Tail::Upper(u)) + z).abs() < 1e-7);
    }
}

/// Chi-square quantiles of printed tables (a gamma of shape ν/2 and scale 2), NIST/SEMATECH e-Handbook 1.3.6.7.4.
#[test]
fn gamma_quantiles_of_the_chi_square_table() {
    for (degrees, u, x) in [
        (1.0_f64, 0.95, 3.841),
        (4.0, 0.95, 9.488),
        (10.0, 0.99, 23.209),
        (10.0, 0.05, 3.940),
        (100.0, 0.975, 129.561),
    ] {
        let spread = Spread::Gamma {
            mean: degrees,
            cv: (2.0 / degrees).sqrt(),
        };
        assert!((spread.quantile(u) - x).abs() < 6e-4, "{degrees} {u}");
    }
}

/// A lognormal of mean m and cv c has σ² = ln(1 + c²), μ = ln m − σ²/2 (Johnson, Kotz and Balakrishnan, Continuous
/// Univariate Distributions, ch. 14); values computed by these formulas.
#[test]
fn lognormal_by_mean_and_cv() {
    for (mean, cv, mu, sigma, median, p95) in [
        (
            35.0,
            0.3,
            3.512_259_21,
            0.293_560_379,
            33.523_92,
            54.332_526_8,
        ),
        (
            6.0,
            0.5,
            1.680_187_69,
            0.472_380_727,
            5.366_563_15,
            11.671_907,
        ),
        (
            25.0,
            0.8,
            2.971_527_7,
            0.703_346_459,
            19.521_720_2,
            62.080_360_2,
        ),
    ] {
        let law = Lognormal::new(mean, cv);
        assert_near(law.mu, mu, 1e-8, "mu");
        assert_near(law.sigma, sigma, 1e-8, "sigma");
        let spread = Spread::Lognormal { mean, cv };
        assert_near(spread.quantile(0.5), median, 1e-8, "median");
        assert_near(spread.quantile(0.95), p95, 1e-8, "95 %");
    }
    let trip = Spread::Lognormal {
        mean: 60.0,
        cv: 0.35,
    };
    assert_near(
        1.0 - trip.cdf(90.0),
        0.086_484_008_2,
        1e-8,
        "longer than 90",
    );
}

/// A normal cut at zero with mean 0 is the half-normal: mean σ√(2/π), variance σ²(1 − 2/π).
#[test]
fn normal_cut_at_its_mean_is_half_normal() {
    let spread = Spread::Normal { mean: 0.0, sd: 3.0 };
    let two_over_pi = std::f64::consts::FRAC_2_PI;
    assert_near(spread.mean(), 3.0 * two_over_pi.sqrt(), 1e-14, "mean");
    assert_near(
        spread.variance(),
        9.0 * (1.0 - two_over_pi),
        1e-14,
        "variance",
    );
    assert_near(
        spread.quantile(0.5),
        3.0 * 0.674_489_750_196_081_7,
        1e-14,
        "median",
    );
}

/// Largest distance between the sample's and the exact distribution function, times √n.
fn kolmogorov(mut sample: Vec<f64>, cdf: impl Fn(f64) -> f64) -> f64 {
    sample.sort_by(f64::total_cmp);
    let count = sample.len() as f64;
    let distance = |(place, &x): (usize, &f64)| {
        let (below, exact) = (place as f64 / count, cdf(x));
        (exact - below)
            .abs()
            .max((below + 1.0 / count - exact).abs())
    };
    let farthest = sample.iter().enumerate().map(distance).fold(0.0, f64::max);
    farthest * count.sqrt()
}

/// Kolmogorov–Smirnov: our draws, and those of rand_distr as an independent maker on our numbers, against our distribution
/// functions.
/// √n D above 2.7 has a probability of 2 exp(−2 × 2.7²) = 9e-7 for each of the comparisons.
#[test]
fn draws_follow_the_distribution() {
    let luck = Luck::new(4, 2);
    let mut numbers = luck.stream(Purpose::Order, Entity::named("y"), 0);
    type Other = Box<dyn Fn(&mut Stream) -> f64>;
    fn other(law: impl Distribution<f64> + 'static) -> Other {
        Box::new(move |numbers| law.sample(numbers))
    }
    let others: [(Spread, Other); 9] = [
        (
            Spread::Lognormal {
                mean: 25.0,
                cv: 0.3,
            },
            other(rand_distr::LogNormal::from_mean_cv(25.0, 0.3).unwrap()),
        ),
        (
            Spread::Gamma {
                mean: 12.0,
                cv: 0.5,
            },
            other(rand_distr::Gamma::new(4.0, 3.0).unwrap()),
        ),
        (
            Spread::Exponential { mean: 8.0 },
            other(rand_distr::Exp::new(0.125).unwrap()),
        ),
        (
            Spread::Triangular {
                low: 1.0,
                mode: 3.0,
                high: 9.0,
            },
            other(rand_distr::Triangular::new(1.0, 9.0, 3.0).unwrap()),
        ),
        (
            Spread::Uniform {
                low: 2.0,
                high: 5.0,
            },
            other(rand_distr::Uniform::new(2.0, 5.0).unwrap()),
        ),
        (
            Spread::Pert {
                low: 2.0,
                mode: 4.0,
                high: 12.0,
            },
            other(rand_distr::Pert::new(2.0, 12.0).with_mode(4.0).unwrap()),
        ),
        (
            Spread::Beta {
                low: 0.0,
                high: 1.0,
                alpha: 0.5,
                beta: 2.5,
            },
            other(rand_distr::Beta::new(0.5, 2.5).unwrap()),
        ),
        (
            Spread::Weibull {
                mean: std::f64::consts::PI.sqrt() / 2.0,
                shape: 2.0,
            },
            other(rand_distr::Weibull::new(1.0, 2.0).unwrap()),
        ),
        (Spread::Normal { mean: 2.0, sd: 2.0 }, {
            let law = rand_distr::Normal::new(2.0, 2.0).unwrap();
            Box::new(move |numbers| {
                std::iter::repeat_with(|| law.sample(numbers))
                    .find(|&x| x >= 0.0)
                    .unwrap()
            })
        }),
    ];
    for (spread, other) in &others {
        let sampler = spread.sampler();
        let block = |index| luck.block(Purpose::Load, Entity::named("x"), index, 0);
        let ours = (0..50_000)
            .map(|index| sampler.at(block(index).uniform(0)))
            .collect();
        let theirs = (0..50_000).map(|_| other(&mut numbers)).collect();
        for sample in [ours, theirs] {
            let statistic = kolmogorov(sample, |x| spread.cdf(x));
            assert!(statistic < 2.7, "{spread:?}: {statistic}");
        }
    }
}

/// The mean of what is longer than what has passed, against textbook formulas: an exponential time has no memory; a uniform one is
/// half way to its end; of a lognormal one the mean is shared out by the normal distribution shifted by its sigma (Johnson, Kotz and
/// Balakrishnan, Continuous Univariate Distributions 1, ch. 14, from memory); of a gamma one by that of a shape larger by one.
#[test]
fn what_has_not_ended_lasts_as_long_as_those_that_do_not() {
    use statrs::distribution::{Gamma, Normal};
    let after = |spread: &Spread, elapsed: f64| MeanBeyond::new(spread).after(elapsed);
    for elapsed in [0.0, 0.5, 3.0, 20.0, 90.0] {
        let exponential = Spread::Exponential { mean: 8.0 };
        assert_near(
            after(&exponential, elapsed),
            elapsed + 8.0,
            1e-4,
            "exponential",
        );
        for cv in [0.3_f64, 0.6, 1.0, 2.0] {
            let sigma = (1.0 + cv * cv).ln().sqrt();
            let mu = 25_f64.ln() - sigma * sigma / 2.0;
            let normal = Normal::standard();
            let above = |shift: f64| normal.sf((elapsed.ln() - mu) / sigma - shift);
            let expected = 25.0 * above(sigma) / above(0.0);
            let lognormal = Spread::Lognormal { mean: 25.0, cv };
            let what = format!("lognormal cv {cv} after {elapsed}");
            assert_near(after(&lognormal, elapsed), expected, 1e-4, &what);
            let shape = 1.0 / (cv * cv);
            let longer = |shape: f64| {
                Gamma::new(shape, 1.0 / (25.0 * cv * cv))
                    .unwrap()
                    .sf(elapsed)
            };
            let expected = 25.0 * longer(shape + 1.0) / longer(shape);
            let gamma = Spread::Gamma { mean: 25.0, cv };
            let what = format!("gamma cv {cv} after {elapsed}");
            assert_near(after(&gamma, elapsed), expected, 1e-4, &what);
        }
    }
    let uniform = Spread::Uniform {
        low: 4.0,
        high: 12.0,
    };
    for (elapsed, expected) in [
        (0.0, 8.0),
        (4.0, 8.0),
        (6.0, 9.0),
        (11.0, 11.5),
        (12.0, 12.0),
        (15.0, 15.0),
    ] {
        assert_near(after(&uniform, elapsed), expected, 1e-9, "uniform");
    }
    let constant = Spread::Constant(40.0);
    assert_eq!(
        [0.0, 39.0, 40.0, 50.0].map(|elapsed| after(&constant, elapsed)),
        [40.0, 40.0, 40.0, 50.0]
    );
    let listed = Spread::Empirical(vec![70.0, 10.0, 10.0, 30.0]);
    assert_eq!(
        [0.0, 9.0, 10.0, 30.0, 70.0].map(|elapsed| after(&listed, elapsed)),
        [30.0, 30.0, 50.0, 70.0, 70.0]
    );
}
