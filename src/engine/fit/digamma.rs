//! The derivatives of ln Γ: recurrence up to where the asymptotic series holds (Abramowitz and Stegun 6.3.5, 6.3.18, 6.4.12).

/// ψ(x), x > 0.
pub(super) fn digamma(x: f64) -> f64 {
    let (mut x, mut sum) = (x, 0.0);
    while x < 12.0 {
        sum -= 1.0 / x;
        x += 1.0;
    }
    let r = 1.0 / (x * x);
    let series =
        r * (1.0 / 12.0 - r * (1.0 / 120.0 - r * (1.0 / 252.0 - r * (1.0 / 240.0 - r / 132.0))));
    sum + libm::log(x) - 0.5 / x - series
}

/// ψ′(x), x > 0.
pub(super) fn trigamma(x: f64) -> f64 {
    let (mut x, mut sum) = (x, 0.0);
    while x < 12.0 {
        sum += 1.0 / (x * x);
        x += 1.0;
    }
    let r = 1.0 / (x * x);
    let series =
        r * (1.0 / 6.0 - r * (1.0 / 30.0 - r * (1.0 / 42.0 - r * (1.0 / 30.0 - r * 5.0 / 66.0))));
    sum + 1.0 / x + 0.5 * r + series / x
}

#[cfg(test)]
mod tests {
    use super::{digamma, trigamma};

    /// ψ(1) = −γ, ψ(1/2) = −γ − 2 ln 2, ψ′(1) = π²/6, ψ′(1/2) = π²/2 (Abramowitz and Stegun 6.3.2, 6.3.3, 6.4.2, 6.4.4).
    #[test]
    fn known_values() {
        let euler: f64 = "0.5772156649015329".parse().expect("a number");
        let ln2 = std::f64::consts::LN_2;
        let pi2 = std::f64::consts::PI * std::f64::consts::PI;
        for (value, expected) in [
            (digamma(1.0), -euler),
            (digamma(0.5), -euler - 2.0 * ln2),
            (trigamma(1.0), pi2 / 6.0),
            (trigamma(0.5), pi2 / 2.0),
        ] {
            assert!((value - expected).abs() < 1e-13, "{value} {expected}");
        }
    }
}
