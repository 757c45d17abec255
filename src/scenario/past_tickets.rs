//! Tickets of days that were: who brought which load where, and when. A table like any other, in which any column may be missing.
//!
//! ```text
//! ticket,date,plant,order,load,site,mix,yd3,truck,driver,ticketed,loaded,left plant,on site,start unloading,end unloading,left site,back at plant,…
//! 1,2026-06-08,Saltmarsh,Floor,1,Warehouse,standard,10,R1,dr1,06:31:05,06:37:12,06:42:00,06:58:31,07:02:10,07:11:00,07:16:40,07:31:02,…
//! ```
//!
//! The ticket is printed when loading begins. Times are of the day of `date`, or of `day` where days are counted; a time that lies far
//! before the one before it is of the next day, as is one with `+1` after it. A time may bring its own date.

mod read;

pub use read::{parse, read};

use crate::hours::Date;
use crate::units::Millis;
use crate::units::measure::Measures;

/// A moment that a ticket tells, in the order in which they come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stamp {
    /// The ticket is printed: loading begins.
    Ticketed,
    /// Loading is done.
    Loaded,
    /// The truck leaves the plant.
    LeftPlant,
    /// It comes on site.
    OnSite,
    /// Unloading begins.
    UnloadStart,
    /// Unloading is done.
    UnloadEnd,
    /// The truck leaves the site.
    LeftSite,
    /// It is back at a plant.
    BackAtPlant,
}

impl Stamp {
    /// All, in their order.
    pub const ALL: [Self; 8] = [
        Self::Ticketed,
        Self::Loaded,
        Self::LeftPlant,
        Self::OnSite,
        Self::UnloadStart,
        Self::UnloadEnd,
        Self::LeftSite,
        Self::BackAtPlant,
    ];

    /// The name of its column.
    pub fn key(self) -> &'static str {
        match self {
            Self::Ticketed => "ticketed",
            Self::Loaded => "loaded",
            Self::LeftPlant => "left_plant",
            Self::OnSite => "on_site",
            Self::UnloadStart => "unload_start",
            Self::UnloadEnd => "unload_end",
            Self::LeftSite => "left_site",
            Self::BackAtPlant => "back_at_plant",
        }
    }

    /// The heading of its column as people read it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Ticketed => "ticketed",
            Self::Loaded => "loaded",
            Self::LeftPlant => "left plant",
            Self::OnSite => "on site",
            Self::UnloadStart => "start unloading",
            Self::UnloadEnd => "end unloading",
            Self::LeftSite => "left site",
            Self::BackAtPlant => "back at plant",
        }
    }
}

/// One load's ticket; what it does not tell is none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ticket {
    /// What is printed on it.
    pub number: Option<String>,
    /// Where it was loaded.
    pub plant: Option<String>,
    /// The truck.
    pub truck: Option<String>,
    /// Who drove.
    pub driver: Option<String>,
    /// Where it went.
    pub site: Option<String>,
    /// For which order.
    pub order: Option<String>,
    /// Which load of its order, from 1.
    pub load: Option<u32>,
    /// The mix.
    pub mix: Option<String>,
    /// What was batched, yd³.
    pub yd3: Option<f64>,
    /// What was placed, if that was less, yd³.
    pub placed_yd3: Option<f64>,
    /// The plant to which it came back.
    pub back_at: Option<String>,
    /// Its moments, since midnight before the first day of all tickets.
    pub times: [Option<Millis>; 8],
}

impl Ticket {
    /// A moment.
    pub fn at(&self, stamp: Stamp) -> Option<Millis> {
        self.times[stamp as usize]
    }

    /// The first moment that it tells.
    pub fn first(&self) -> Option<Millis> {
        self.times.iter().flatten().next().copied()
    }

    /// The yd³ that were placed on site.
    pub fn placed(&self) -> Option<f64> {
        self.placed_yd3.or(self.yd3)
    }

    /// The same ticket so many days later.
    pub fn later(mut self, days: i64) -> Self {
        for at in self.times.iter_mut().flatten() {
            *at += Millis::midnight(days);
        }
        self
    }
}

/// The tickets of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct PastTickets {
    /// The file's name without its folder.
    pub file: String,
    /// The date of the first day, if days are told by date.
    pub first_date: Option<Date>,
    /// Whether the tickets tell on which day they were: else all stand as if on one.
    pub days_told: bool,
    /// In the order of the file.
    pub tickets: Vec<Ticket>,
    /// Columns that nothing is read from, by their headings.
    pub ignored: Vec<String>,
    /// Whether every time is a whole minute.
    pub whole_minutes: bool,
    /// What their volumes are written in.
    pub measures: Measures,
}
