//! The way between places: what is true at the hour, with the luck of the day, and what a dispatcher believes.
//!
//! ```text
//! now       the roads as a whole: a table, or a network and its state in a replication
//! table     minutes between places, with traffic and luck over them
//! network   links; find, search: the quickest legal ways, by hour of the week, found once; ways: where they are kept;
//!           cross: a way walked link by link; drive: what is true of it, believe: what is believed
//! round     ways that pass no weigh station, in network
//! delays    what of a trip goes to bridges, weigh stations and incidents
//! state     the factor of each day in each area, the incidents of each link
//! traffic   factors by weekday and hour; weekly: spans of the week; grade: what weight and hills do
//! ```

mod belief;
mod delays;
mod grade;
mod memo;
mod network;
mod now;
mod state;
mod table;
mod traffic;
mod weekly;

pub use belief::{Belief, Believed};
pub use delays::Delays;
pub use grade::{Haul, RoadTruck, bpr_factor, crawl_mph};
pub use network::{IncidentData, LinkData, Network, NetworkData, WeighStationData};
pub use now::{Roads, RoadsNow};
pub use state::RoadState;
pub use table::{Table, TableData};
pub use traffic::Traffic;
pub use weekly::Weekly;
