//! What holds a truck up on a way over a network, beside the traffic.

use crate::units::Millis;

/// What holds it up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Delay {
    /// A lifted bridge, or a road that is closed to it for the hour.
    Closed,
    /// A weigh station.
    Weighed,
    /// An incident: what a stretch takes beyond what it takes without.
    Incident,
}

/// How long each holds up a trip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Delays {
    /// Standing before lifted bridges, and before roads that open at an hour.
    pub closed: Millis,
    /// In weigh stations.
    pub weighed: Millis,
    /// Longer through incidents.
    pub incidents: Millis,
}

impl Delays {
    #[inline]
    pub(super) fn add(&mut self, delay: Delay, time: Millis) {
        match delay {
            Delay::Closed => self.closed += time,
            Delay::Weighed => self.weighed += time,
            Delay::Incident => self.incidents += time,
        }
    }
}
