//! How long something still lasts on average that has not ended yet, compiled for the event loop.
//!
//! The mean of the values above a point is the integral of the quantile function over the share above it, divided by that share.
//! The integral is kept from the borders of cells that are halved towards both ends; within the first cell it is evaluated anew.

use super::{Sampler, Spread};

/// Cells of each octave of the probability of the nearer tail.
const PIECES: u32 = 4;
/// Octaves of either tail: below 2^-33 no draw of 32 bits comes.
const OCTAVES: u32 = 32;

/// Gauss–Legendre nodes and weights on (-1, 1).
const NODES: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_08),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
];

/// The mean of a [`Spread`] given that its value exceeds what has passed: what somebody can reckon with who knows that it has not
/// ended, and not when it will.
#[derive(Clone, Debug)]
pub struct MeanBeyond {
    mean: f64,
    form: Form,
}

#[derive(Clone, Debug)]
enum Form {
    /// The values in order, and of each the sum of it and all larger ones.
    Listed(Vec<(f64, f64)>),
    /// Borders of cells in the share below, each with the integral of the quantile function from there to 1.
    Curve {
        sampler: Sampler,
        borders: Vec<(f64, f64)>,
    },
}

impl MeanBeyond {
    /// Compiles it: about a thousand draws.
    ///
    /// # Panics
    /// May panic where [`Spread::problem`] has something to say.
    pub fn new(spread: &Spread) -> Self {
        let form = match spread {
            Spread::Empirical(values) => {
                let mut sorted = values.clone();
                sorted.sort_by(f64::total_cmp);
                Form::Listed(with_sums(sorted.into_iter().map(|value| (value, value))))
            }
            _ => {
                let sampler = spread.sampler();
                let borders = borders();
                let ends = borders.iter().skip(1).copied().chain([1.0]);
                let cells = borders.iter().zip(ends);
                let cells = cells.map(|(from, to)| (*from, integral(&sampler, *from, to)));
                let borders = with_sums(cells.collect::<Vec<_>>().into_iter());
                Form::Curve { sampler, borders }
            }
        };
        Self {
            mean: spread.mean(),
            form,
        }
    }

    /// The mean of the values above `elapsed`, in the spread's unit; `elapsed` itself where there are none. Allocates nothing; about
    /// sixty draws.
    pub fn after(&self, elapsed: f64) -> f64 {
        match &self.form {
            Form::Listed(values) => {
                let first = values.partition_point(|(value, _)| *value <= elapsed);
                match values.get(first) {
                    Some((_, sum)) => sum / (values.len() - first) as f64,
                    None => elapsed,
                }
            }
            Form::Curve { sampler, borders } => {
                let below = sampler.share_up_to(elapsed);
                if below <= 0.0 {
                    return self.mean;
                }
                let next = borders.partition_point(|(border, _)| *border <= below);
                let (end, rest) = borders.get(next).copied().unwrap_or((1.0, 0.0));
                if below >= 1.0 {
                    return elapsed;
                }
                let above = integral(sampler, below, end) + rest;
                (above / (1.0 - below)).max(elapsed)
            }
        }
    }
}

/// Borders from 0 upwards, those of the upper tail mirrored.
fn borders() -> Vec<f64> {
    let steps = OCTAVES * PIECES;
    let tail = |step: u32| 0.5 * libm::exp2(-f64::from(step) / f64::from(PIECES));
    let lower = (0..=steps).rev().map(tail);
    let upper = (1..=steps).map(|step| 1.0 - tail(step));
    [0.0].into_iter().chain(lower).chain(upper).collect()
}

/// Each place with the sum of its own part and of all that follow.
fn with_sums(parts: impl DoubleEndedIterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    let mut sum = 0.0;
    let mut sums: Vec<(f64, f64)> = parts
        .rev()
        .map(|(place, part)| {
            sum += part;
            (place, sum)
        })
        .collect();
    sums.reverse();
    sums
}

fn integral(sampler: &Sampler, from: f64, to: f64) -> f64 {
    let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
    let at = |(node, weight): &(f64, f64)| weight * sampler.at(middle + half * node);
    half * NODES.iter().map(at).sum::<f64>()
}
