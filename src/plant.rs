//! The simulated world: commands in the calendar, state, one handler file per actor, and events to an observer.
//!
//! A [`Plan`] is a scenario made ready to run; a [`World`] is the state of one replication, kept warm from one to the next.
//! [`World::run`] plays one replication under one rule and tells an [`Observer`] what happens. The world keeps no
//! statistics and reads nothing back from the observer.

mod additions;
mod away;
mod breakdown;
mod call_in;
mod changes;
mod clocks;
mod command;
mod day;
mod day_state;
mod days_off;
mod dispatcher;
mod drawn_orders;
mod drum;
mod event;
mod force;
mod fork;
mod from_state;
mod ideal;
mod journey;
mod known_leads;
mod leg;
mod load_alone;
mod material;
mod plan;
mod plant_hours;
mod plants_left;
mod redirect;
mod rescue;
mod retrieval;
mod returned;
mod road_plan;
mod send_home;
mod shift;
mod site;
mod spacing;
mod standing;
mod state;
mod stranding;
mod stream;
mod way_round;
mod weighing;
mod work_ahead;
mod world;
mod yard;

pub use event::{
    BrokenDrum, Errand, Event, FullDrum, Lateness, LoadPlan, Observer, Reject, StrandCause,
};
pub use fork::Moment;
pub use load_alone::{LoadAlone, Ready};
pub use material::{Components, MaterialStep};
pub use plan::{OrderPlan, PayBasis, Plan, PlantPlan, SpotPlan, TruckPlan};
pub use standing::{DriverNow, NextLoad};
pub use state::Rescue;
pub use world::World;
