//! Which times of the day have a factor of their own: half hours to begin with, made one as long as they are not told apart.

use super::legs::LegPart;
use super::model::{Shape, Usual};
use crate::engine::Entity;
use crate::statistics::Summary;
use crate::units::Millis;

/// A half hour with fewer trips has no factor of its own: it goes with its neighbors.
const TRIPS_OF_A_PIECE: usize = 40;
/// Of more trips so many decide which half hours go together.
const TRIPS_TO_MERGE_BY: usize = 10_000;
const PIECE: Millis = Millis(Millis::HOUR.0 / 2);

/// Whether minutes go with the hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hours {
    /// Whether the hours have factors.
    pub kept: bool,
    /// How much smaller the criterion is with them than without.
    pub gain: f64,
}

/// The pieces of the day that have a factor of their own, if that says more than it costs.
pub(super) fn hours(part: &LegPart) -> (Vec<Millis>, Option<Hours>) {
    if part.shape != Shape::Travel {
        return (Vec::new(), None);
    }
    let mut trips = [0; 48];
    for told in &part.told {
        trips[(told.depart.0.rem_euclid(Millis::DAY.0) / PIECE.0) as usize] += 1;
    }
    let mut pieces = vec![Millis::ZERO];
    let (mut here, mut left) = (0, part.told.len());
    for (piece, trips) in trips.iter().enumerate() {
        if here >= TRIPS_OF_A_PIECE && left >= TRIPS_OF_A_PIECE {
            pieces.push(PIECE * piece as i64);
            here = 0;
        }
        here += trips;
        left -= trips;
    }
    let groups = part.groups.len();
    // Of many trips a part tells as well which hours are alike: which, is left to chance.
    let n = part.told.len();
    let any = |nth: usize| (Entity::named(&nth.to_string()).0 % n as u64) as usize;
    let some = LegPart {
        told: match n > TRIPS_TO_MERGE_BY {
            true => (0..TRIPS_TO_MERGE_BY)
                .map(|nth| part.told[any(nth)])
                .collect(),
            false => part.told.clone(),
        },
        ..part.clone()
    };
    together(&mut pieces, &some);
    let criterion = |pieces: &[Millis]| {
        let usual = Usual::of(Shape::Travel, &part.told, groups, pieces);
        let lucks = || part.told.iter().map(|told| libm::log(usual.luck(told)));
        let n = part.told.len() as f64;
        let mean = lucks().sum::<f64>() / n;
        let variance = lucks().map(|ln| (ln - mean) * (ln - mean)).sum::<f64>() / n;
        let stretch: f64 = part.told.iter().map(|told| usual.ln_stretch(told)).sum();
        // −2 ln of the likelihood with lognormal luck, but for what is the same in both, and two for each factor.
        n * libm::log(variance) + 2.0 * (n * mean + stretch) + 2.0 * (pieces.len() as f64 - 1.0)
    };
    if pieces.len() < 2 || part.told.len() < 2 * TRIPS_OF_A_PIECE {
        let hours = Hours {
            kept: false,
            gain: 0.0,
        };
        return (Vec::new(), Some(hours));
    }
    let gain = criterion(&[]) - criterion(&pieces);
    let kept = gain > 0.0;
    let hours = Hours { kept, gain };
    (if kept { pieces } else { Vec::new() }, Some(hours))
}

/// Makes one of neighbors that are not told apart: the least different two first, as long as one factor more says less than it costs by
/// Schwarz's criterion (Annals of Statistics 6, 1978): the square of their difference in standard errors is below ln n.
fn together(pieces: &mut Vec<Millis>, part: &LegPart) {
    let n = part.told.len() as f64;
    let mut trips = trips_from(pieces, part);
    while pieces.len() > 1 {
        let usual = Usual::of(Shape::Travel, &part.told, part.groups.len(), pieces);
        let lucks = Summary::of(part.told.iter().map(|told| usual.luck(told)));
        let variance = lucks.variance().unwrap_or_default();
        let apart = |at: usize| {
            let (before, after) = (usual.factors[at - 1].1, usual.factors[at].1);
            let off = libm::log(after / before);
            let error = 1.0 / trips[at - 1].max(1) as f64 + 1.0 / trips[at].max(1) as f64;
            off * off / (variance * error).max(1e-12)
        };
        let least = (1..pieces.len()).min_by(|a, b| apart(*a).total_cmp(&apart(*b)));
        match least {
            Some(least) if apart(least) < libm::log(n) => {
                pieces.remove(least);
                trips = trips_from(pieces, part);
            }
            _ => return,
        }
    }
}

/// Trips that begin in each piece.
fn trips_from(pieces: &[Millis], part: &LegPart) -> Vec<usize> {
    let mut trips = vec![0; pieces.len()];
    for told in &part.told {
        let since = Millis(told.depart.0.rem_euclid(Millis::DAY.0));
        trips[pieces
            .partition_point(|from| *from <= since)
            .saturating_sub(1)] += 1;
    }
    trips
}
