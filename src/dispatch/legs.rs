//! Drives that have just been reckoned with for the same load.
//!
//! Trucks that stand at one plant would leave it at the same moment with the same load: the way out, the way to parking and the way
//! home are the same for all of them, and are asked for once. On a week of three plants this spares half of what a load's
//! candidates ask of the roads.

use super::View;
use crate::roads::{Believed, Haul};
use crate::units::{Millis, PlaceId};
use std::cell::Cell;

/// What was asked last, and the answer.
#[derive(Clone, Copy, Debug)]
struct Known {
    ends: (PlaceId, PlaceId),
    depart: Millis,
    takes: Millis,
}

/// A drive of one kind, always with the same belief and haul, as it was last reckoned with.
#[derive(Clone, Debug)]
pub(super) struct Leg(Cell<Known>);

impl Default for Leg {
    fn default() -> Self {
        Self(Cell::new(Known {
            ends: (PlaceId(0), PlaceId(0)),
            depart: Millis::NEVER,
            takes: Millis::ZERO,
        }))
    }
}

/// The drives that candidates for one load are judged by, at one moment.
#[derive(Clone, Debug, Default)]
pub struct Legs {
    /// Empty to the plant, as the desk believes.
    pub(super) to_plant: Leg,
    /// Out, as the desk believes.
    pub(super) out: Leg,
    /// Out, as the driver does.
    pub(super) driven_out: Leg,
    /// From the site to lawful parking, as the driver does.
    pub(super) away: Leg,
    /// From the site home, as the driver does.
    pub(super) home: Leg,
    /// The same as the desk does.
    pub(super) back: Leg,
}

impl Leg {
    /// How long the drive is believed to take.
    #[inline]
    pub(super) fn takes(
        &self,
        view: &View<'_>,
        belief: Believed,
        ends: (PlaceId, PlaceId),
        haul: Haul,
        depart: Millis,
    ) -> Millis {
        let known = self.0.get();
        if known.depart == depart && known.ends == ends {
            return known.takes;
        }
        let takes = match ends {
            (from, to) if from == to => Millis::ZERO,
            (from, to) => view.roads.believed(belief, from, to, haul, depart),
        };
        self.0.set(Known {
            ends,
            depart,
            takes,
        });
        takes
    }
}
