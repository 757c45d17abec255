//! A standard normal value from one uniform, for readings and tolerances.

/// The standard normal value that a share `u` in (0, 1) lies below: Algorithm AS 241, PPND7, of M. J. Wichura, Applied
/// Statistics 37 (1988) 477-484; about seven digits, which is more than any reading of concrete has.
pub(super) fn normal(u: f64) -> f64 {
    let q = u - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180625 - q * q;
        return q * cubic([3.387_132_7, 50.434_27, 159.291_13, 59.109_374], r)
            / cubic([1.0, 17.895_17, 78.757_76, 67.187_56], r);
    }
    let tail = if q < 0.0 { u } else { 1.0 - u };
    let r = libm::sqrt(-libm::log(tail));
    let z = if r <= 5.0 {
        cubic(
            [1.423_437_3, 2.756_815_4, 1.306_728_5, 0.170_238_21],
            r - 1.6,
        ) / cubic([1.0, 0.737_001_63, 0.120_211_33, 0.0], r - 1.6)
    } else {
        cubic(
            [6.657_905, 3.081_226_4, 0.428_682_94, 0.017_337_203],
            r - 5.0,
        ) / cubic([1.0, 0.241_978_95, 0.012_258_203, 0.0], r - 5.0)
    };
    z.copysign(q)
}

/// Coefficients from the constant upwards.
fn cubic(c: [f64; 4], x: f64) -> f64 {
    c[0] + x * (c[1] + x * (c[2] + x * c[3]))
}

#[cfg(test)]
mod tests {
    use super::normal;
    use statrs::distribution::{ContinuousCDF, Normal};

    /// Against the `statrs` library.
    #[test]
    fn quantiles_agree_with_a_library() {
        let library = Normal::standard();
        for u in [
            1e-14, 1e-9, 1e-4, 0.02, 0.0749, 0.0751, 0.3, 0.5, 0.9, 0.975, 0.9999,
        ] {
            let (found, expected) = (normal(u), library.inverse_cdf(u));
            assert!(
                (found - expected).abs() < 2e-6 * expected.abs().max(1.0),
                "{u}: {found} for {expected}"
            );
        }
    }
}
