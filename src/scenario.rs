//! What users write, turned into checked, typed input.

mod model;

pub use model::{
    Batcher, BayQueue, Company, Destination, Driver, Endless, Money, OpenHours, Order, Outlet,
    Period, Plant, RoadTable, Routing, Scenario, Site, Stage, StayTimes, TrafficProfile, Truck,
    Yard,
};
