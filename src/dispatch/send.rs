//! When a load is sent.
//!
//! Ready times are luck of the future. A desk that sends `AsOrdered` aims at the due time; one that is `Paced` aims at the due
//! time or, if later, at the moment at which the loads ahead will be out of the way as far as is known. Neither sees the ready
//! time, which holds the site's draws to come.

use super::{PlantView, Policy, Send};
use crate::units::{Millis, Volume};

/// How the site is doing, as the dispatcher hears it.
#[derive(Clone, Copy, Debug)]
pub struct Pace {
    /// Loads promised and not yet discharged.
    pub ahead: u32,
    /// Outlets on site.
    pub outlets: u32,
    /// When the site opened or opens for its first load.
    pub opens: Millis,
    /// Mean time of one load at an outlet.
    pub discharge: Millis,
}

/// When a load due at `due` should be on site: as ordered, or not before the loads ahead of it are out of the way. Nothing
/// but what is known at `now` goes in: the true ready time holds luck that lies in the future.
pub fn target(send: Send, now: Millis, due: Millis, pace: &Pace) -> Millis {
    match send {
        Send::AsOrdered => due,
        Send::Paced => {
            let begins = now.max(pace.opens);
            let clear = begins
                + Millis(pace.discharge.0 * i64::from(pace.ahead) / i64::from(pace.outlets.max(1)));
            if pace.ahead == 0 {
                due.max(pace.opens)
            } else {
                due.max(clear)
            }
        }
    }
}

/// A time since an order's first load, at so many times the ordered spacing; to the whole ms.
pub fn spaced(since_first: Millis, factor: f64) -> Millis {
    // Below 2^53 ms and a factor of at most 2: the product is as exact on every machine.
    Millis(libm::round(since_first.0 as f64 * factor) as i64)
}

/// Loading and rack.
#[inline]
pub fn at_plant(policy: &Policy, plant: &PlantView, volume: Volume) -> Millis {
    plant.loading.mean(volume) + at_rack(policy, plant, volume)
}

/// At the rack: check and rinse, or until the slump is read, whichever lasts longer.
#[inline]
pub fn at_rack(policy: &Policy, plant: &PlantView, volume: Volume) -> Millis {
    plant.rack.mean(volume).max(policy.reads_after)
}
