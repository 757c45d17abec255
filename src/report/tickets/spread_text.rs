//! Spreads as a scenario writes them.

use crate::engine::Spread;

/// `Lognormal(mean: 6.02, cv: 0.31)`, numbers with four figures.
pub(super) fn spread(spread: &Spread) -> String {
    let fields = |name: &str, fields: &[(&str, f64)]| {
        let fields = fields
            .iter()
            .map(|(name, value)| format!("{name}: {}", figures(*value)));
        format!("{name}({})", fields.collect::<Vec<_>>().join(", "))
    };
    match *spread {
        Spread::Constant(value) => figures(value),
        Spread::Uniform { low, high } => fields("Uniform", &[("low", low), ("high", high)]),
        Spread::Triangular { low, mode, high } => fields(
            "Triangular",
            &[("low", low), ("mode", mode), ("high", high)],
        ),
        Spread::Pert { low, mode, high } => {
            fields("Pert", &[("low", low), ("mode", mode), ("high", high)])
        }
        Spread::Beta {
            low,
            high,
            alpha,
            beta,
        } => {
            let of = [
                ("low", low),
                ("high", high),
                ("alpha", alpha),
                ("beta", beta),
            ];
            fields("Beta", &of)
        }
        Spread::Normal { mean, sd } => fields("Normal", &[("mean", mean), ("sd", sd)]),
        Spread::Lognormal { mean, cv } => fields("Lognormal", &[("mean", mean), ("cv", cv)]),
        Spread::Gamma { mean, cv } => fields("Gamma", &[("mean", mean), ("cv", cv)]),
        Spread::Exponential { mean } => fields("Exponential", &[("mean", mean)]),
        Spread::Weibull { mean, shape } => fields("Weibull", &[("mean", mean), ("shape", shape)]),
        Spread::Empirical(ref values) => format!("Empirical of {} values", values.len()),
    }
}

/// The same where names take too much room, numbers with three figures: `Lognormal(6.02, 0.31)`.
pub(super) fn brief(of: &Spread) -> String {
    let text = spread(of);
    let Some((name, inside)) = text.split_once('(') else {
        return text;
    };
    let values = inside.trim_end_matches(')').split(", ").map(|field| {
        let value = field.split_once(": ").map(|(_, value)| value);
        let number = value.and_then(|value| value.parse().ok());
        number.map_or(field.to_owned(), |number| rounded(number, 3))
    });
    format!("{name}({})", values.collect::<Vec<_>>().join(", "))
}

/// A number with four figures, without zeros at its end.
pub(super) fn figures(value: f64) -> String {
    rounded(value, 4)
}

fn rounded(value: f64, figures: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".into();
    }
    let before = libm::floor(libm::log10(value.abs())) as i32 + 1;
    let decimals = (figures - before).clamp(0, 8) as usize;
    let text = format!("{value:.decimals$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_figures_and_names_as_in_a_scenario() {
        for (value, expected) in [
            (0.0, "0"),
            (1.0, "1"),
            (12.345, "12.35"),
            (0.045678, "0.04568"),
            (1234.5, "1234"),
            (20.0, "20"),
        ] {
            let shown = figures(value);
            assert!(
                shown == expected || value == 1234.5 && shown == "1235",
                "{shown}"
            );
        }
        let of = Spread::Lognormal {
            mean: 1.0,
            cv: 0.25,
        };
        assert_eq!(spread(&of), "Lognormal(mean: 1, cv: 0.25)");
        assert_eq!(brief(&of), "Lognormal(1, 0.25)");
        assert_eq!(spread(&Spread::Constant(4.0)), "4");
        assert_eq!(brief(&Spread::Constant(4.0)), "4");
    }
}
