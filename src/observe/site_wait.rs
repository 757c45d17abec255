//! Waiting on site as an account of its own: what the minutes go to that trucks stand on site before they get a place.
//!
//! A wait ends with a place. Of it, what passes before the load is due is earliness; then the site is not set up, or its pour is on
//! hold; else, until the moment at which the site could have taken the load in the ideal timeline ([`Event::SiteReached`]'s `ready`),
//! it is slower than it has ordered; what comes after goes to trucks that came together. The parts add up to the wait exactly.

use crate::plant::Event;
use crate::units::{Millis, TruckId};

/// Why a truck waits on site.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaitCause {
    /// It came before its load was due.
    Early,
    /// The site was not set up for its first load.
    NotReady,
    /// The pour was on hold.
    OnHold,
    /// The site was slower with the loads before than they were ordered apart, however they had come.
    Slow,
    /// The place was taken by a load that had come later than it should have.
    Bunched,
}

impl WaitCause {
    /// All, in the order of their positions.
    pub const ALL: [Self; 5] = [
        Self::Early,
        Self::NotReady,
        Self::OnHold,
        Self::Slow,
        Self::Bunched,
    ];

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Early => "early",
            Self::NotReady => "not_ready",
            Self::OnHold => "on_hold",
            Self::Slow => "slow",
            Self::Bunched => "bunched",
        }
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Early => "truck came before its load was due",
            Self::NotReady => "site not set up",
            Self::OnHold => "pour on hold",
            Self::Slow => "site slower than ordered",
            Self::Bunched => "a load that came late was unloading",
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

    #[inline(always)]
    pub(super) fn event(&mut self, at: Millis, event: &Event, waits: &mut Waits) {
        match *event {
            Event::SiteReached {
                truck, due, ready, ..
            } => self.loads[truck.at()] = (due, ready.max(due)),
            Event::PlaceTaken {
                truck,
                waited,
                opened,
                hold,
                ..
            } if waited > Millis::ZERO => {
                self.book(truck, (at - waited, at), (opened, hold), waits)
            }
            _ => {}
        }
    }

    /// A wait between two moments, on a site that was set up then and had that hold.
    fn book(
        &self,
        truck: TruckId,
        (from, at): (Millis, Millis),
        (opened, hold): (Millis, (Millis, Millis)),
        waits: &mut Waits,
    ) {
        let (due, ready) = self.loads[truck.at()];
        let mut from = from;
        for (cause, until) in [
            (WaitCause::Early, due),
            (WaitCause::NotReady, opened),
            (WaitCause::Slow, ready.min(hold.0)),
            (WaitCause::Bunched, hold.0),
            (WaitCause::OnHold, hold.1),
            (WaitCause::Slow, ready),
            (WaitCause::Bunched, at),
        ] {
            let until = until.clamp(from, at);
            waits[cause as usize] += (until - from).0 as u64;
            from = until;
        }
    }
}
