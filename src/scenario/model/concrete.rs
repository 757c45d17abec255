//! The concrete in the drum: its age, the check at the rack, what is got rid of or reused.

use crate::concrete::{RackPractice, Reuse};
use crate::engine::Spread;
use crate::scenario::Material;
use crate::units::Millis;

/// ```text
/// (age_limit_min?: 90,
///  rack?: (misread?: 0.04, misread_if_warned?: 0.01, found?: 0.8, dry_up_room_yd3?: 0.4, dry_up?: Triangular(6, 9, 15)),
///  empty?: Constant(15), reuse?: (age_limit_min?: 45, share?: 0.5))
/// ```
/// Fields left out: no age limit (with `mixes`, that of the table `age`, 90 minutes unless written), no load misread, nothing reused. In `rack` the values shown are the usual ones (common practice, no source).
/// With `mixes` in place of `rack` the concrete in the drum is computed: see [`Material`].
///
/// `reuse`: what a site did not need of a load (`returned` of [`Changes`]) stays in the drum if the truck's next load is of the same
/// mix, if it is at most `age_limit_min` old when that load is begun, and at most `share` of it. So much less is batched, and the
/// age of the load counts from the older concrete. Else it is got rid of at [`Money::returned_per_yd3`], in no time. ASTM C1798
/// rules such use and gives no permission: the purchaser does. Minutes and share: common practice, no source. A load that was
/// turned away is never reused.
///
/// [`Changes`]: super::Changes
/// [`Money::returned_per_yd3`]: super::Money::returned_per_yd3
#[derive(Clone, Debug, PartialEq)]
pub struct Concrete {
    /// From the start of batching to the end of discharge, at most 24 h. None: no limit, with `mixes` that of their table.
    pub age_limit: Option<Millis>,
    /// Reading the slump meter. None: every load is as ordered.
    pub rack: Option<RackPractice>,
    /// Minutes in the bay for a dry-up, remixing included.
    pub dry_up: Spread,
    /// Minutes at the plant to get rid of a load.
    pub empty: Spread,
    /// The concrete in the drum, computed. None: a load is fine or too wet, as `rack` says.
    pub material: Option<Material>,
    /// Returned concrete under the next load. None: never.
    pub reuse: Option<Reuse>,
}
