//! Scales from values to pixels, and round numbers to label them with.

/// Maps values to pixels along a line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// The values `low` < `high` lie at the pixels `from` and `to`.
    pub(super) fn new((low, high): (f64, f64), (from, to): (f64, f64)) -> Self {
        debug_assert!(low < high, "a scale has a length: {low} to {high}");
        Self {
            low,
            high,
            from,
            to,
        }
    }

    pub(super) fn at(self, value: f64) -> f64 {
        self.from + (value - self.low) / (self.high - self.low) * (self.to - self.from)
    }

    /// Round values within the scale, about `wanted` of them, and the decimals that tell them apart.
    pub(super) fn ticks(self, wanted: f64) -> (Vec<f64>, usize) {
        let rough = (self.high - self.low) / wanted;
        let power = libm::floor(libm::log10(rough));
        let unit = libm::pow(10.0, power);
        let step = [1.0, 2.0, 5.0]
            .into_iter()
            .map(|times| times * unit)
            .find(|step| *step >= rough * 0.999)
            .unwrap_or(10.0 * unit);
        let first = libm::ceil(self.low / step - 1e-9) as i64;
        let last = libm::floor(self.high / step + 1e-9) as i64;
        let decimals = (-libm::floor(libm::log10(step) + 1e-9)).clamp(0.0, 12.0) as usize;
        ((first..=last).map(|k| k as f64 * step).collect(), decimals)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        for (range, expected, decimals) in [
            ((-4.2, 2.1), vec![-4.0, -2.0, 0.0, 2.0], 0),
            ((-0.03, 0.07), vec![-0.02, 0.0, 0.02, 0.04, 0.06], 2),
            (
                (0.0, 1000.0),
                vec![0.0, 200.0, 400.0, 600.0, 800.0, 1000.0],
                0,
            ),
        ] {
            let (ticks, got_decimals) = Scale::new(range, (0.0, 100.0)).ticks(5.0);
            assert_eq!(ticks.len(), expected.len(), "{ticks:?}");
            assert!(
                ticks
                    .iter()
                    .zip(expected)
                    .all(|(a, b)| (a - b).abs() < 1e-12)
            );
            assert_eq!(got_decimals, decimals);
        }
    }

    #[test]
    fn a_scale_may_run_backwards() {
        let scale = Scale::new((0.0, 10.0), (100.0, 0.0));
        assert_eq!(
            (scale.at(0.0), scale.at(10.0), scale.at(2.5)),
            (100.0, 0.0, 75.0)
        );
    }
}
