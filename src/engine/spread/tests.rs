use super::*;

mod oracles;

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
    for (alpha, beta) in [
        (2.0, 3.0),
        (0.5, 4.0),
        (1.0, 1.0),
        (30.0, 5.0),
        (400.0, 900.0),
    ] {
        spreads.push(Spread::Beta {
            low: 0.0,
            high: 20.0,
            alpha,
            beta,
        });
    }
    for (low, mode, high) in [(2.0, 4.0, 12.0), (0.0, 0.0, 9.0), (5.0, 8.0, 8.0)] {
        spreads.push(Spread::Pert { low, mode, high });
    }
    for shape in [0.5, 1.0, 1.5, 3.6, 40.0] {
        spreads.push(Spread::Weibull { mean: 8.0, shape });
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

/// Mean and variance of what is drawn, by numerical integration over all luck. The heaviest tails (cv above 2) keep
/// part of their variance beyond what one draw can reach, so they are left out of the second comparison.
#[test]
fn samplers_keep_mean_and_variance() {
    for spread in tabulated() {
        let sampler = spread.sampler();
        let (mean, variance) = moments(|u| sampler.at(u));
        assert_near(mean, spread.mean(), 1e-6, &format!("mean of {spread:?}"));
        let cv = spread.variance().sqrt() / spread.mean();
        if cv <= 2.01 {
            let what = format!("variance of {spread:?}");
            assert_near(variance, spread.variance(), 1e-6, &what);
        }
    }
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
        Spread::Pert {
            low: 7.0,
            mode: 7.0,
            high: 7.0,
        },
        Spread::Beta {
            low: 7.0,
            high: 7.0,
            alpha: 2.0,
            beta: 3.0,
        },
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
        Spread::Weibull {
            mean: 0.0,
            shape: 1.5,
        },
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
            Spread::Pert {
                low: 6.0,
                mode: 5.0,
                high: 9.0,
            },
            "low 6 is above mode 5",
        ),
        (
            Spread::Pert {
                low: 6.0,
                mode: 7.0,
                high: 5.0,
            },
            "low 6 is above high 5",
        ),
        (
            Spread::Pert {
                low: 6.0,
                mode: 7.0,
                high: 6.0,
            },
            "mode 7 is above high 6",
        ),
        (
            Spread::Beta {
                low: 3.0,
                high: 2.0,
                alpha: 2.0,
                beta: 2.0,
            },
            "low 3 is above high 2",
        ),
        (
            Spread::Beta {
                low: 1.0,
                high: 2.0,
                alpha: 2.0,
                beta: 0.0,
            },
            "beta is 0, expected 0.1 to 1000",
        ),
        (
            Spread::Weibull {
                mean: 2.0,
                shape: f64::NAN,
            },
            "shape is NaN, expected 0.3 to 100",
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

/// An exponential time under way has its whole length before it; a uniform one is uniform over what is left.
#[test]
fn what_is_under_way_exceeds_the_time_elapsed() {
    let exponential = Spread::Exponential { mean: 8.0 }.sampler();
    let uniform = Spread::Uniform {
        low: 2.0,
        high: 6.0,
    }
    .sampler();
    let lognormal = Spread::Lognormal {
        mean: 25.0,
        cv: 0.3,
    };
    let values = Spread::Empirical(vec![1.0, 2.0, 2.0, 5.0, 9.0]).sampler();
    for u in [SMALLEST, 0.2, 0.4, 0.6, 0.999] {
        assert_near(
            exponential.beyond(20.0, u),
            20.0 + exponential.at(u),
            1e-9,
            "no memory",
        );
        assert_near(uniform.beyond(3.0, u), 3.0 + 3.0 * u, 1e-12, "uniform");
        let below = lognormal.cdf(30.0);
        let expected = lognormal.quantile(below + (1.0 - below) * u);
        assert_near(
            lognormal.sampler().beyond(30.0, u),
            expected,
            2e-6,
            "lognormal",
        );
        assert_eq!(values.beyond(2.0, u), if u < 0.5 { 5.0 } else { 9.0 });
        assert_eq!(values.beyond(9.0, u), 9.0);
        assert_eq!(Spread::Constant(7.0).sampler().beyond(8.0, u), 8.0);
        assert_eq!(Spread::Constant(7.0).sampler().beyond(0.0, u), 7.0);
    }
}
