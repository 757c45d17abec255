//! Against SciPy 1.17.1 (scipy.stats: densities summed and `fit` with the location at zero; the equations of the maximum solved by
//! scipy.optimize to 1e-14; truncated normal and triangular by its Nelder and Mead from several starts; `kstest`).

use super::*;

const VALUES: [f64; 20] = [
    3.1, 4.2, 4.4, 4.9, 5.0, 5.3, 5.8, 6.0, 6.1, 6.6, 6.9, 7.2, 7.7, 8.1, 8.8, 9.5, 10.2, 11.9,
    13.4, 17.0,
];

fn near(value: f64, expected: f64, within: f64) {
    let off = (value - expected).abs();
    assert!(off <= within * expected.abs(), "{value} {expected}");
}

#[test]
fn the_likeliest_parameters_and_likelihoods_are_those_of_a_reference_library() {
    let fit = |family| fit_of(family, &VALUES).expect("a fit");
    let lognormal = fit(Family::Lognormal);
    near(lognormal.ln_likelihood, -49.357696570851104, 1e-10);
    let Spread::Lognormal { mean, cv } = lognormal.spread else {
        panic!("{lognormal:?}");
    };
    near(mean, 7.585870140947995, 1e-10);
    near(cv, 0.4269048573312673, 1e-10);

    let gamma = fit(Family::Gamma);
    near(gamma.ln_likelihood, -49.93731953924797, 1e-10);
    let Spread::Gamma { mean, cv } = gamma.spread else {
        panic!("{gamma:?}");
    };
    near(mean, 7.605, 1e-12);
    near(cv, 0.40960500742277905, 1e-9);

    let weibull = fit(Family::Weibull);
    near(weibull.ln_likelihood, -51.3904589628911, 1e-10);
    let Spread::Weibull { mean, shape } = weibull.spread else {
        panic!("{weibull:?}");
    };
    near(mean, 7.627760298172075, 1e-9);
    near(shape, 2.4039550321069845, 1e-9);

    let normal = fit(Family::Normal);
    near(normal.ln_likelihood, -52.246337996943055, 1e-9);
    let Spread::Normal { mean, sd } = normal.spread else {
        panic!("{normal:?}");
    };
    near(mean, 7.4559338579942604, 1e-6);
    near(sd, 3.509433502652677, 1e-6);

    let triangular = fit(Family::Triangular);
    near(triangular.ln_likelihood, -49.8418962988368, 1e-8);
    let Spread::Triangular { low, mode, high } = triangular.spread else {
        panic!("{triangular:?}");
    };
    near(low, 2.5284641842403786, 1e-4);
    near(mode, 4.4, 1e-9);
    near(high, 18.162226184260952, 1e-4);

    near(
        fit(Family::Exponential).ln_likelihood,
        -60.57611851422512,
        1e-10,
    );
    near(
        fit(Family::Uniform).ln_likelihood,
        -52.63777680273292,
        1e-10,
    );
}

#[test]
fn distances_are_those_of_a_reference_library() {
    let gamma = fit_of(Family::Gamma, &VALUES).expect("a fit").spread;
    near(largest_gap(&gamma, &VALUES), 0.09798742622209144, 1e-7);
    near(anderson_darling(&gamma, &VALUES), 0.24388581096127027, 1e-7);
}

/// 2k − 2 ln L + 2k(k + 1)/(n − k − 1) by hand from the likelihood above: 4 + 98.71539314 + 12/17.
#[test]
fn the_smallest_criterion_comes_first() {
    let all = fits(&VALUES);
    assert_eq!(all[0].family, Family::Lognormal);
    near(all[0].criterion, 103.42127549464338, 1e-10);
    assert!(
        all.windows(2)
            .all(|pair| pair[0].criterion <= pair[1].criterion)
    );
}

/// Values of zero have no logarithm, values that are all the same no spread, and more varied ones than an exponential's no cut normal.
#[test]
fn what_a_family_cannot_have_it_is_not_fitted_to() {
    let zero = [0.0, 1.0, 2.0, 4.0, 5.0, 7.0];
    for family in [Family::Lognormal, Family::Gamma, Family::Weibull] {
        assert_eq!(fit_of(family, &zero), None);
    }
    assert!(fits(&[4.0; 9]).is_empty());
    let wild = [0.01, 0.02, 0.05, 0.1, 0.1, 30.0];
    assert_eq!(fit_of(Family::Normal, &wild), None);
    assert!(fits(&[]).is_empty());
}
