//! The ground that all rooms stand on: time, volume, money and identities. Nothing here knows a plant.

mod ids;
pub mod measure;
mod money;
mod purpose;
mod time;
mod volume;

pub use ids::{DriverId, OrderId, PlaceId, PlantId, SpotId, TruckId};
pub use money::{Cents, Rate};
pub use purpose::Purpose;
pub use time::{Millis, Weekday};
pub use volume::Volume;
