//! What there is in the world and what it is doing, as plain data: what handlers read and change. Nothing here knows a handler.

mod driver;
mod forced;
mod in_drum;
mod leg;
mod load;
mod order;
mod plant;
mod renewed;
mod site;
mod truck;

pub use forced::Rescue;

pub(super) use driver::DriverNow;
pub(super) use forced::{Forced, Which};
pub(super) use in_drum::{InDrum, READABLE_IN, Seen, Verdict};
pub(super) use leg::{Leg, OnScale};
pub(super) use load::{Cargo, Hold, PromisedLoad, Returned};
pub(super) use order::{Again, OrderNow};
pub(super) use plant::{NOT_SEEN, PlantNow};
pub(super) use renewed::Renewed;
pub(super) use site::{OutletNow, SpotNow};
pub(super) use truck::{AfterBreak, Fetcher, Fetching, NOT_OFFERED, Phase, TruckNow};
