use super::*;
use crate::engine::{Entity, Luck, Purpose};
use rand_distr::Distribution;
use statrs::distribution::ContinuousCDF;

const SMALLEST: f64 = 1.0 / 8_589_934_592.0;

fn tabulated() -> Vec<Spread> {
    let mut spreads = Vec::new();
    for cv in [0.01, 0.1, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0] {
        spreads.push(Spread::Lognormal { mean: 25.0, cv });
        spreads.push(Spread::Gamma { mean: 12.0, cv });
    }
    for (mean, sd) in [(0.0, 2.0), (1.0, 2.0), (6.0, 2.0), (12.0, 2.0), (40.0, 2.0)] {
        spreads.push(Spread::Normal { mean, sd });
    }
    spreads
}

fn every_kind() -> Vec<Spread> {
    let mut spreads = tabulated();
    spreads.extend([
        Spread::Constant(4.0),
        Spread::Uniform {
            low: 0.1,
            high: 1.9,
        },
        Spread::Triangular {
            low: 0.1,
            mode: 0.4,
            high: 1.9,
        },
        Spread::Exponential { mean: 8.0 },
        Spread::Empirical(vec![3.0, 1.0, 2.0, 2.0, 10.0]),
    ]);
    spreads
}

/// Probabilities from 2^-33 to 1 − 2^-33, dense in both tails and off the borders of cells.
fn probabilities() -> impl Iterator<Item = f64> {
    (0..4000).flat_map(|step| {
        let t = (SMALLEST * (f64::from(step) * 0.005_717_3).exp()).min(0.5);
        [t, 1.0 - t]
    })
}

fn assert_near(found: f64, expected: f64, relative: f64, what: &str) {
    let error = (found - expected).abs();
    assert!(
        error <= relative * expected.abs(),
        "{what}: {found} for {expected}"
    );
}

/// The promise of the tables: a relative error of at most 1e-6 at every draw of 32 bits.
#[test]
fn samplers_follow_the_exact_quantiles() {
    for spread in every_kind() {
        let sampler = spread.sampler();
        for u in probabilities() {
            let exact = spread.quantile(u);
            assert_near(sampler.at(u), exact, 1e-6, &format!("{spread:?} at {u:e}"));
        }
        for u in [1e-15, 0.5, 1.0 - 1e-15] {
            assert_near(sampler.at(u), spread.quantile(u), 1e-6, "beyond the table");
        }
    }
}

#[test]
fn larger_luck_never_gives_a_smaller_value() {
    for spread in every_kind() {
        let sampler = spread.sampler();
        let mut sorted: Vec<f64> = probabilities().collect();
        sorted.sort_by(f64::total_cmp);
        for pair in sorted.windows(2) {
            let (low, high) = (sampler.at(pair[0]), sampler.at(pair[1]));
            assert!(low <= high * (1.0 + 1e-15), "{spread:?} at {}", pair[1]);
            assert!(low >= 0.0);
        }
    }
}

#[test]
fn exact_quantile_and_cdf_undo_each_other() {
    for spread in every_kind() {
        if matches!(spread, Spread::Constant(_) | Spread::Empirical(_)) {
            continue;
        }
        for u in probabilities() {
            // Compared as probabilities of the nearer tail as far as a probability near 1 can tell.
            let reached = spread.cdf(spread.quantile(u));
            assert!(
                (reached - u).abs() <= 1e-10 * u + 1e-13,
                "{spread:?} {u:e}: {reached:e}"
            );
        }
    }
}

/// Five-point Gauss–Legendre over pieces of the tails, down to the smallest number that 1 − t can tell from 1.
fn moments(value: impl Fn(f64) -> f64) -> (f64, f64) {
    const NODES: [(f64, f64); 5] = [
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
        (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
        (0.906_179_845_938_664, 0.236_926_885_056_189_08),
        (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
    ];
    let (mut first, mut second) = (0.0, 0.0);
    for octave in 1..50 {
        let start = 0.5_f64.powi(octave + 1);
        for piece in 0..16 {
            let half = start / 32.0;
            let middle = start + (2.0 * f64::from(piece) + 1.0) * half;
            for (node, weight) in NODES {
                let t = middle + half * node;
                for x in [value(t), value(1.0 - t)] {
                    first += weight * half * x;
                    second += weight * half * x * x;
                }
            }
        }
    }
    (first, second - first * first)
}

/// Mean and variance of what is drawn, by numerical integration over all luck. The heaviest tails (cv above 1) keep
/// part of their variance beyond what one draw can reach, so they are left out of the second comparison.
#[test]
fn samplers_keep_mean_and_variance() {
    for spread in tabulated() {
        let sampler = spread.sampler();
        let (mean, variance) = moments(|u| sampler.at(u));
        assert_near(mean, spread.mean(), 1e-6, &format!("mean of {spread:?}"));
        let cv = spread.variance().sqrt() / spread.mean();
        if cv <= 1.01 {
            let what = format!("variance of {spread:?}");
            assert_near(variance, spread.variance(), 2e-6, &what);
        }
    }
}

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

#[test]
fn no_spread_is_a_constant() {
    let constants = [
        Spread::Constant(7.0),
        Spread::Uniform {
            low: 7.0,
            high: 7.0,
        },
        Spread::Triangular {
            low: 7.0,
            mode: 7.0,
            high: 7.0,
        },
        Spread::Normal { mean: 7.0, sd: 0.0 },
        Spread::Lognormal { mean: 7.0, cv: 0.0 },
        Spread::Gamma { mean: 7.0, cv: 0.0 },
        Spread::Empirical(vec![7.0]),
    ];
    for spread in constants {
        assert_eq!(spread.problem(), None);
        assert_eq!((spread.mean(), spread.variance()), (7.0, 0.0));
        for u in [SMALLEST, 0.3, 1.0 - SMALLEST] {
            assert_eq!((spread.sampler().at(u), spread.quantile(u)), (7.0, 7.0));
        }
        assert_eq!((spread.cdf(6.9), spread.cdf(7.0)), (0.0, 1.0));
    }
    for spread in [
        Spread::Exponential { mean: 0.0 },
        Spread::Gamma { mean: 0.0, cv: 1.0 },
    ] {
        assert_eq!(
            (
                spread.sampler().at(0.9),
                spread.quantile(0.9),
                spread.cdf(0.0)
            ),
            (0.0, 0.0, 1.0)
        );
    }
}

#[test]
fn empirical_draws_every_value_equally_often() {
    let sampler = Spread::Empirical(vec![3.0, 1.0, 2.0, 9.0]).sampler();
    let drawn: Vec<f64> = (0..8)
        .map(|i| sampler.at((f64::from(i) + 0.5) / 8.0))
        .collect();
    assert_eq!(drawn, [1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 9.0, 9.0]);
}

#[test]
fn says_what_is_wrong() {
    let wrong = [
        (Spread::Constant(-1.0), "value is -1"),
        (Spread::Constant(f64::NAN), "value is NaN"),
        (
            Spread::Uniform {
                low: 3.0,
                high: 2.0,
            },
            "low 3 is above high 2",
        ),
        (
            Spread::Triangular {
                low: 1.0,
                mode: 5.0,
                high: 4.0,
            },
            "mode 5 is above high 4",
        ),
        (
            Spread::Triangular {
                low: 6.0,
                mode: 5.0,
                high: 9.0,
            },
            "low 6 is above mode 5",
        ),
        (
            Spread::Normal {
                mean: -2.0,
                sd: 1.0,
            },
            "mean is -2",
        ),
        (
            Spread::Normal {
                mean: 2.0,
                sd: f64::INFINITY,
            },
            "sd is inf",
        ),
        (
            Spread::Lognormal {
                mean: 2.0,
                cv: -0.1,
            },
            "cv is -0.1",
        ),
        (
            Spread::Gamma {
                mean: 2.0,
                cv: 11.0,
            },
            "cv is 11, expected at most 10",
        ),
        (
            Spread::Exponential {
                mean: f64::NEG_INFINITY,
            },
            "mean is -inf",
        ),
        (Spread::Empirical(vec![]), "the list is empty"),
        (Spread::Empirical(vec![1.0, -3.0]), "value 2 is -3"),
    ];
    for (spread, expected) in wrong {
        let problem = spread.problem().expect("a problem");
        assert!(problem.contains(expected), "{problem}");
    }
    for spread in every_kind() {
        assert_eq!(spread.problem(), None, "{spread:?}");
    }
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

/// Kolmogorov–Smirnov: our draws, and those of rand_distr as an independent maker, against our distribution functions.
/// √n D above 2.7 has a probability of 2 exp(−2 × 2.7²) = 9e-7 for each of the comparisons.
#[test]
fn draws_follow_the_distribution() {
    use rand::SeedableRng;
    let luck = Luck::new(4, 2);
    let mut rng = rand::rngs::ChaCha8Rng::seed_from_u64(4);
    type Other = Box<dyn Fn(&mut rand::rngs::ChaCha8Rng) -> f64>;
    let others: [(Spread, Other); 4] = [
        (
            Spread::Lognormal {
                mean: 25.0,
                cv: 0.3,
            },
            {
                let law = rand_distr::LogNormal::from_mean_cv(25.0, 0.3).unwrap();
                Box::new(move |rng| law.sample(rng))
            },
        ),
        (
            Spread::Gamma {
                mean: 12.0,
                cv: 0.5,
            },
            {
                let law = rand_distr::Gamma::new(4.0, 3.0).unwrap();
                Box::new(move |rng| law.sample(rng))
            },
        ),
        (Spread::Exponential { mean: 8.0 }, {
            let law = rand_distr::Exp::new(0.125).unwrap();
            Box::new(move |rng| law.sample(rng))
        }),
        (Spread::Normal { mean: 2.0, sd: 2.0 }, {
            let law = rand_distr::Normal::new(2.0, 2.0).unwrap();
            Box::new(move |rng| {
                std::iter::repeat_with(|| law.sample(rng))
                    .find(|&x| x >= 0.0)
                    .unwrap()
            })
        }),
    ];
    for (spread, other) in &others {
        let sampler = spread.sampler();
        let block = |index| luck.block(Purpose(0), Entity::named("x"), index, 0);
        let ours = (0..50_000)
            .map(|index| sampler.at(block(index).uniform(0)))
            .collect();
        let theirs = (0..50_000).map(|_| other(&mut rng)).collect();
        for sample in [ours, theirs] {
            let statistic = kolmogorov(sample, |x| spread.cdf(x));
            assert!(statistic < 2.7, "{spread:?}: {statistic}");
        }
    }
}
