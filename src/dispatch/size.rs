//! How much a load gets.

use super::{Policy, Refusal, TruckView};
use crate::concrete::volume_of_lb;
use crate::units::Volume;

/// The volume that a load gets on this truck: at most what it asks with, the rated capacity less the room kept, the legal
/// weight less the rule's margin at so many lb a yd³, and what is left of the order (already in `asked`).
///
/// # Errors
/// [`Refusal::Weight`] if that is nothing.
#[inline]
pub fn load_size(
    policy: &Policy,
    truck: &TruckView,
    asked: Volume,
    lb_per_yd3: f64,
) -> Result<Volume, Refusal> {
    let mut most = truck.capacity - policy.room_kept;
    if truck.payload_lb < f64::INFINITY {
        let payload_lb = truck.payload_lb - policy.weight_margin_lb;
        most = most.min(volume_of_lb(payload_lb, lb_per_yd3));
    }
    let volume = asked.min(most);
    if volume > Volume::ZERO {
        Ok(volume)
    } else {
        Err(Refusal::Weight)
    }
}
