//! Times that are written in whole minutes: a stage of T minutes is then told as T and the difference of two parts of a minute, which adds
//! 2/12 min² to its variance and makes heaps of its values (Sheppard, Proceedings of the London Mathematical Society 29, 1898).
//!
//! Each value is put back somewhere into its minutes by chance, and drawn towards its usual length by as much as takes out again what
//! rounding and this have added: mean and variance are then those of the stage.

use super::legs::Leg;
use super::model::{Observation, Usual};
use crate::engine::{Entity, Luck};
use crate::units::Purpose;

/// What two roundings to a minute add to a variance, min².
const ADDED: f64 = 2.0 / 12.0;
/// No stage is put back below this, minutes.
const SHORTEST: f64 = 0.1;

/// The observations as they may have been before they were rounded; `usual` is what they lie around.
pub(super) fn put_back(
    leg: Leg,
    told: &[Observation],
    usual: &Usual,
    seed: u64,
) -> Vec<Observation> {
    let mean = told.iter().map(|one| usual.luck(one)).sum::<f64>() / told.len() as f64;
    let around = |one: &Observation| usual.minutes(one, mean);
    // The standard deviation goes with the usual length: what is left of all squares without what rounding added.
    let (mut off, mut usual) = (0.0, 0.0);
    for one in told {
        let middle = around(one);
        off += (one.minutes - middle) * (one.minutes - middle) - ADDED;
        usual += middle * middle;
    }
    let cv2 = (off / usual).max(0.0);
    let (luck, entity) = (
        Luck::new(seed, 0),
        Entity::named(&format!("{leg:?} rounded")),
    );
    let each = told.iter().enumerate().map(|(i, one)| {
        let block = luck.block(Purpose::TicketsAgain, entity, i as u32, 0);
        let within = block.uniform(0) - block.uniform(1);
        let middle = around(one);
        let variance = cv2 * middle * middle;
        // The rounding, and that each is put back by chance.
        let kept = (variance / (variance + 2.0 * ADDED)).sqrt();
        let minutes = middle + kept * (one.minutes + within - middle);
        Observation {
            minutes: minutes.max(SHORTEST),
            ..*one
        }
    });
    each.collect()
}
