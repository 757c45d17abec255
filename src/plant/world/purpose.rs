//! The purposes of draws that are shared in the world, and the lanes of the block of a load.

use crate::engine::Purpose;

/// Draws that belong to an attempt at a load.
pub(in crate::plant) const LOAD: Purpose = Purpose(1);
/// Draws that belong to the reading at the rack of an attempt at a load.
pub(in crate::plant) const READING: Purpose = Purpose(5);
/// Draws that belong to an order: whether it takes place, whether its site is ready.
pub(in crate::plant) const ORDER: Purpose = Purpose(6);
/// Draws that belong to a day: its weather.
pub(in crate::plant) const DAY: Purpose = Purpose(7);
/// Draws on whether the rule's gates are overridden for an attempt at a load.
pub(in crate::plant) const OVERRIDE: Purpose = Purpose(30);
/// Draws that belong to the way of a load from a site to another.
pub(in crate::plant) const REDIRECT: Purpose = Purpose(31);
/// Draws that belong to an outage of a plant.
pub(in crate::plant) const OUTAGE: Purpose = Purpose(8);
/// Draws that belong to a driver's day.
pub(in crate::plant) const DRIVER_DAY: Purpose = Purpose(2);
/// Draws that belong to the arrival of a load of a stream.
pub(in crate::plant) const ARRIVAL: Purpose = Purpose(4);
/// Draws that belong to the car that fetches a driver or drives one out.
pub(in crate::plant) const CAR: Purpose = Purpose(60);
/// Draws that belong to an empty trip of a truck.
pub(in crate::plant) const MOVE: Purpose = Purpose(3);

/// Lanes of the block of draws that belongs to an attempt at a load.
pub(in crate::plant) mod lane {
    pub(in crate::plant) const LOADING: usize = 0;
    pub(in crate::plant) const RACK: usize = 1;
    pub(in crate::plant) const OUT: usize = 2;
    pub(in crate::plant) const POSITION: usize = 3;
    pub(in crate::plant) const DISCHARGE: usize = 4;
    pub(in crate::plant) const CHUTE_WASH: usize = 5;
    pub(in crate::plant) const BACK: usize = 6;
    pub(in crate::plant) const DESTINATION: usize = 7;
}
