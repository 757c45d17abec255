//! What a playback holds: spans of doing one thing, happenings in words, strandings.

use super::Doing;
use crate::units::{DriverId, Millis, OrderId, PlaceId, TruckId};

/// A span in which a truck does one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stint {
    /// Which truck.
    pub truck: TruckId,
    /// What it does.
    pub doing: Doing,
    /// From when.
    pub from: Millis,
    /// Until when.
    pub to: Millis,
    /// Where it stands or sets out.
    pub place: PlaceId,
    /// Where it drives; the same place if it stands.
    pub heading: PlaceId,
    /// The load it is about: order and number, from 0.
    pub load: Option<(OrderId, u32)>,
}

/// Something that happened, for a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Happening {
    /// When.
    pub at: Millis,
    /// In words, names included.
    pub what: String,
    /// The truck concerned.
    pub truck: Option<TruckId>,
    /// The driver concerned.
    pub driver: Option<DriverId>,
    /// Where.
    pub place: Option<PlaceId>,
}

/// A driver who could not legally drive home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stranding {
    /// Who.
    pub driver: DriverId,
    /// With which truck.
    pub truck: TruckId,
    /// Where.
    pub place: PlaceId,
    /// When.
    pub at: Millis,
    /// Whether a helper was sent.
    pub fetched: bool,
    /// When the truck was home. None: not within the replication.
    pub home: Option<Millis>,
}
