//! Waiting on site as an account of its own: what the minutes go to that trucks stand on site before they get a place.
//!
//! A wait ends with a place. Of it, what passes before the load is due is earliness; from then until the moment at which the
//! site could have taken the load in the ideal timeline ([`Event::SiteReached`]'s `ready`) the site keeps it waiting; what comes
//! after goes to trucks that came together. The three add up to the wait exactly.

use crate::plant::Event;
use crate::units::{Millis, TruckId};

/// Why a truck waits on site.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaitCause {
    /// It came before its load was due.
    Early,
    /// The site was not ready for it, however the loads before had come: not set up, on hold, or slower with the loads before
    /// than they were ordered apart.
    Site,
    /// The place was taken by a load that had come later than it should have.
    Bunched,
}

impl WaitCause {
    /// All, in the order of their positions.
    pub const ALL: [Self; 3] = [Self::Early, Self::Site, Self::Bunched];

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Early => "early",
            Self::Site => "site",
            Self::Bunched => "bunched",
        }
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Early => "came before it was due",
            Self::Site => "site not ready, or slower than ordered",
            Self::Bunched => "place taken by a load that came late",
        }
    }
}

/// Milliseconds waited, by [`WaitCause`].
pub(super) type Waits = [u64; WaitCause::ALL.len()];

/// By truck: when its load is due, and when the site could take it.
#[derive(Clone, Debug)]
pub(super) struct SiteWait {
    loads: Vec<(Millis, Millis)>,
}

impl SiteWait {
    pub(super) fn new(trucks: usize) -> Self {
        Self {
            loads: vec![(Millis::ZERO, Millis::ZERO); trucks],
        }
    }

    pub(super) fn event(&mut self, at: Millis, event: &Event, waits: &mut Waits) {
        match *event {
            Event::SiteReached {
                truck, due, ready, ..
            } => self.loads[truck.at()] = (due, ready.max(due)),
            Event::PlaceTaken { truck, waited, .. } => self.book(truck, at, waited, waits),
            _ => {}
        }
    }

    fn book(&self, truck: TruckId, at: Millis, waited: Millis, waits: &mut Waits) {
        let (due, ready) = self.loads[truck.at()];
        let mut from = at - waited;
        for (cause, until) in [
            (WaitCause::Early, due),
            (WaitCause::Site, ready),
            (WaitCause::Bunched, at),
        ] {
            let until = until.clamp(from, at);
            waits[cause as usize] += (until - from).0 as u64;
            from = until;
        }
    }
}
