//! How much a load gets.

use super::{Policy, Refusal, TruckView};
use crate::units::Volume;

/// Weight of a cubic yard of normal concrete, lb: 150 lb/ft³, the handbook unit weight of normal-weight concrete.
const CONCRETE_LB_PER_YD3: f64 = 4050.0;

/// The volume that a load gets on this truck: at most what it asks with, the rated capacity less the room kept, the legal
/// weight less the rule's margin, and what is left of the order (already in `asked`).
///
/// # Errors
/// [`Refusal::Weight`] if that is nothing.
#[inline]
pub fn load_size(policy: &Policy, truck: &TruckView, asked: Volume) -> Result<Volume, Refusal> {
    let mut most = truck.capacity - policy.room_kept;
    if truck.payload_lb < f64::INFINITY {
        // Rounded down: the last thousandth of a yard must not be the pound too many.
        let legal = (truck.payload_lb - policy.weight_margin_lb) / CONCRETE_LB_PER_YD3;
        most = most.min(Volume((legal * 1000.0).floor() as i64));
    }
    let volume = asked.min(most);
    if volume > Volume::ZERO {
        Ok(volume)
    } else {
        Err(Refusal::Weight)
    }
}
