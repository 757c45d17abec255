//! What was foretold against what came, in bins.

use super::super::TripQuestion;
use super::{EACH, FORETOLD, HOURS, Known};
use crate::montecarlo::Rows;
use crate::statistics::{Interval, surprise, wilson};

/// Where the bins of what befalls a load begin: of equal width.
const TENTHS: [f64; 10] = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9];
/// Where those of the hours begin: fine where a chance is small or nearly 1.
const SELDOM: [f64; 9] = [0.0, 0.001, 0.01, 0.05, 0.2, 0.8, 0.95, 0.99, 0.999];

/// One thing foretold, over all moments.
#[derive(Clone, Debug, PartialEq)]
pub struct Reliability {
    /// What is foretold.
    pub what: &'static str,
    /// What the forks knew of the moments.
    pub known: Known,
    /// Moments.
    pub of: u64,
    /// Bins by what the first half of the trials foretold, those without a moment left out.
    pub bins: Vec<Bin>,
    /// Mean squared difference of what was foretold and what came.
    pub brier: f64,
    /// Its parts (A. H. Murphy, "A new vector partition of the probability score", 1973; from memory): the squared distance of
    /// the bins from what came true in them, how far the bins lie apart, and the spread of what comes at all. The score of the
    /// bins' means is reliability − resolution + uncertainty.
    pub reliability: f64,
    /// See above.
    pub resolution: f64,
    /// See above.
    pub uncertainty: f64,
    /// The sum of all differences between what came and what was foretold, over its standard deviation if the forks are right.
    pub z: f64,
}

/// Moments of which about the same was foretold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// Where the bin begins and ends.
    pub ends: (f64, f64),
    /// Moments.
    pub of: u64,
    /// Times that it came true.
    pub came: u64,
    /// Mean of what the second half of the trials foretold, which had no part in the binning.
    pub foretold: f64,
    /// Standard deviation of the number of times that it comes true, less the number foretold, if the forks are right.
    pub sd: f64,
    /// How far what came is from what was foretold, in standard deviations; 0 where nothing can differ. Of the hours, whose bins hold
    /// next to no event or next to nothing else: as rare as so many would be.
    pub z: f64,
    /// Interval of the share that came true.
    pub interval: Interval,
}

impl Bin {
    /// Share that came true.
    pub fn share(&self) -> f64 {
        self.came as f64 / self.of as f64
    }
}

/// What the halves of the trials foretold of a moment, and what came.
type Triple = [f64; EACH];

/// Of one thing foretold; none without a moment.
pub(super) fn reliability(
    rows: &Rows,
    (known, at): (Known, usize),
    question: &TripQuestion,
) -> Option<Reliability> {
    let first = EACH * (known as usize * FORETOLD.len() + at);
    let triples: Vec<Triple> = rows
        .values(0, first)
        .zip(rows.values(0, first + 1))
        .zip(rows.values(0, first + 2))
        .map(|((first, second), came)| [first, second, came])
        .filter(|triple| !triple[0].is_nan())
        .collect();
    if triples.is_empty() {
        return None;
    }
    let n = triples.len() as f64;
    let half = question.trials.max(2) as f64 / 2.0;
    let of_hours = HOURS.contains(&at);
    let from: &[f64] = if of_hours { &SELDOM } else { &TENTHS };
    let mut bins = Vec::new();
    for (place, low) in from.iter().enumerate() {
        let end = from.get(place + 1).copied();
        let high = end.unwrap_or(f64::INFINITY);
        // Shares come as numbers of 4 bytes: 7 of 10 are at least 0.7.
        let inside = |triple: &&Triple| (*low as f32..high as f32).contains(&(triple[0] as f32));
        let members: Vec<&Triple> = triples.iter().filter(inside).collect();
        if members.is_empty() {
            continue;
        }
        let ends = (*low, end.unwrap_or(1.0));
        bins.push(match of_hours {
            true => seldom(&members, half, ends, question.level),
            false => usual(&members, half, ends, question.level),
        });
    }
    let base_rate = triples.iter().map(|triple| triple[2]).sum::<f64>() / n;
    let weighted = |of: fn(&Bin, f64) -> f64| {
        bins.iter()
            .map(|bin| bin.of as f64 * of(bin, base_rate))
            .sum::<f64>()
            / n
    };
    let off: f64 = triples.iter().map(|triple| triple[2] - triple[1]).sum();
    let sd = bins.iter().map(|bin| bin.sd * bin.sd).sum::<f64>().sqrt();
    Some(Reliability {
        what: FORETOLD[at],
        known,
        of: triples.len() as u64,
        brier: triples
            .iter()
            .map(|triple| (triple[2] - triple[1]) * (triple[2] - triple[1]))
            .sum::<f64>()
            / n,
        reliability: weighted(|bin, _| (bin.foretold - bin.share()) * (bin.foretold - bin.share())),
        resolution: weighted(|bin, rate| (bin.share() - rate) * (bin.share() - rate)),
        uncertainty: base_rate * (1.0 - base_rate),
        z: off / sd,
        bins,
    })
}

/// A chance of exactly 0 or 1 in the trials is not certain: by the rule of succession (Laplace).
fn variance(times: f64, runs: f64) -> f64 {
    let p = (times + 1.0) / (runs + 2.0);
    p * (1.0 - p)
}

/// A bin in which it comes and does not come: each moment with its own variance.
fn usual(members: &[&Triple], half: f64, ends: (f64, f64), level: f64) -> Bin {
    let of_each = |triple: &&Triple| variance(triple[1] * half, half) * (1.0 + 1.0 / half);
    let sd = members.iter().map(of_each).sum::<f64>().sqrt();
    let bin = bin(members, ends, sd, level);
    let off = bin.came as f64 - bin.foretold * bin.of as f64;
    Bin {
        z: if sd > 0.0 { off / sd } else { 0.0 },
        ..bin
    }
}

/// A bin that may hold no event at all, or nothing else: all its trials together say how many come.
fn seldom(members: &[&Triple], half: f64, ends: (f64, f64), level: f64) -> Bin {
    let of = members.len() as f64;
    let runs = of * half;
    let times: f64 = members.iter().map(|triple| triple[1] * half).sum();
    let sd = (of * variance(times, runs) * (1.0 + 1.0 / half)).sqrt();
    let bin = bin(members, ends, sd, level);
    Bin {
        z: surprise(bin.came, bin.of, times, runs),
        ..bin
    }
}

fn bin(members: &[&Triple], ends: (f64, f64), sd: f64, level: f64) -> Bin {
    let of = members.len() as u64;
    let came = members.iter().filter(|triple| triple[2] > 0.5).count() as u64;
    Bin {
        ends,
        of,
        came,
        foretold: members.iter().map(|triple| triple[1]).sum::<f64>() / of as f64,
        sd,
        z: 0.0,
        interval: wilson(came, of, level),
    }
}
