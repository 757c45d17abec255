//! Lanes of the block of draws that belongs to an attempt at a load.

pub(in crate::plant) const LOADING: usize = 0;
pub(in crate::plant) const RACK: usize = 1;
pub(in crate::plant) const OUT: usize = 2;
pub(in crate::plant) const POSITION: usize = 3;
pub(in crate::plant) const DISCHARGE: usize = 4;
pub(in crate::plant) const CHUTE_WASH: usize = 5;
pub(in crate::plant) const BACK: usize = 6;
pub(in crate::plant) const DESTINATION: usize = 7;
