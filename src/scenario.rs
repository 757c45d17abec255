//! What users write, turned into checked, typed input.
//!
//! ```text
//! text ─ tree      syntax, by the `ron` crate: values, keys and tags, each with its place in the text
//!        decode    small readers for one block, list, number, time, spread or name
//!        read      one file per block of a scenario, each made of those readers
//!        outline   what the readers of a scenario take, told by themselves; meaning: what its names say
//!        defaults  what stands where a field is left out, and whose value holds
//!        problem   what is wrong, where, and what would be right; all of them at once
//!        licence   who may drive what, and the days before the period
//!        assume    spreads of inputs that a user doubts, as options give them
//!        model     the result, one file per block: names resolved, every number in range
//!        origin    which file it was, and the checksum of its text
//! CSV ─ csv_table   rows with the place of every cell
//!       duty_log    logs of duty status and histories of drivers
//!       local_time  times as people write them, in a time zone if one is named
//!       season      the seasons of a year, as an option or a table gives them
//! table ─ past_tickets  tickets of days that were
//! model ─ on_paper  means of the stages and the round trip, as one reckons by hand
//! model ─ needed    trucks that the order book needs on paper, by half hour
//! tables            lists in tables, or a whole scenario in a workbook, put into the tree
//! workbook          a scenario written as a workbook
//! made              a scenario made of the tables that somebody has
//! rule_book         a rule book in a file of its own, written out and read
//! model ─ edit     the same days with one thing changed
//! ```

pub mod assume;
mod built_in;
mod csv_table;
pub mod day_state;
pub mod decode;
pub mod defaults;
pub mod duty_log;
pub mod edit;
pub mod input_file;
mod known_age;
mod known_mix;
mod licence;
mod loads;
pub mod local_time;
mod made;
mod material;
mod meaning;
mod model;
mod needed;
mod on_paper;
mod origin;
mod outline;
pub mod past_tickets;
pub mod problem;
mod read;
pub mod rule_book;
pub mod season;
mod tables;
pub mod tree;
mod weight;
mod workbook;

pub use built_in::built_in_week;
pub use edit::{DayChange, Down, Input, InputKind, Otherwise, Surprise, WhatIf};
pub use licence::{Class, History, Licence, Need};
pub use made::{Assumed, Made, made_of};
pub use material::{AggregateWater, Corrections, Material, NamedMix, OnSite, Tickets};
pub use meaning::{choice_meaning, meaning};
pub use model::{
    Batcher, BayQueue, Breakdowns, Changes, Company, Concrete, Destination, DrawnOrders, Driver,
    Endless, Hauler, Helper, MinutesByHour, Money, NamedProfile, Night, OpenHours, Order, Outages,
    Outlet, OwnWorld, Period, Plant, Revenue, RoadHours, RoadIncidents, RoadLink, RoadNetwork,
    RoadTable, Routing, Scenario, ShowUp, Site, Slot, Stage, StayTimes, TrafficProfile, Truck,
    Weekend, WeighStation, Weighing, Yard,
};
pub use needed::Needed;
pub use on_paper::LoadOnPaper;
pub use origin::Origin;
pub use outline::{Choice, Field, LeftOut, Takes};
pub use read::{ReadError, WorkbookFile, as_workbook, decided, outline, parse, read, rule_text};
