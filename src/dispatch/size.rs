//! How much a load gets.

use super::{Policy, Refusal, TruckView};
use crate::concrete::volume_of_lb;
use crate::units::Volume;

/// The volume that a load gets on this truck: at most what it asks with, the rated capacity less the room kept, the legal
/// weight less the rule's margin, and what is left of the order (already in `asked`).
///
/// # Errors
/// [`Refusal::Weight`] if that is nothing.
#[inline]
pub fn load_size(policy: &Policy, truck: &TruckView, asked: Volume) -> Result<Volume, Refusal> {
    let mut most = truck.capacity - policy.room_kept;
    if truck.payload_lb < f64::INFINITY {
        most = most.min(volume_of_lb(truck.payload_lb - policy.weight_margin_lb));
    }
    let volume = asked.min(most);
    if volume > Volume::ZERO {
        Ok(volume)
    } else {
        Err(Refusal::Weight)
    }
}
